package earthwork

import (
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Place is a chainage on a leg.
type Place struct {
	Leg int
	At  measure.Length
}

// Sections are the sections at places, as SectionAt gives each, found in one go over the run. Lines of the ground reach at
// least wide to either side. Where a figure that sets the sides is not on file a Sheet is Bare: it has the lines of the
// ground and nothing else. A place without levels has none: nil.
func Sections(p *Problem, places []Place, wide measure.Length) ([]*Sheet, finding.List) {
	said := Faults(p)
	if said.Any(finding.Fault) {
		return make([]*Sheet, len(places)), said
	}
	ws, more := walkers(p)
	out := make([]*Sheet, len(places))
	for i, q := range places {
		l := &p.Legs[q.Leg]
		if len(l.Spans) == 0 || q.At < l.Spans[0].From || q.At > l.Spans[len(l.Spans)-1].To {
			continue
		}
		w := ws[q.Leg]
		if w == nil {
			w = &walker{p: p, axis: newAxis(l.Line)}
			s := Sheet{At: q.At, Bare: true}
			w.reach = wide.Metres()
			w.surround(&s)
			out[i] = &s
			continue
		}
		s := w.section(l, q.At, wide.Metres())
		out[i] = &s
	}
	return out, append(said, more...)
}

// section is the section at a chainage that lies on the leg's spans.
func (w *walker) section(l *Leg, at measure.Length, wide float64) Sheet {
	x := at.Metres()
	w.span = w.spanAt(x)
	w.reach = max(w.reachOf(w.span), wide)
	sh := w.alone(x)
	s := w.sheet(sh)
	s.At = at
	s.pads(l, at, w.span, sh)
	w.surround(&s)
	if w.p.Ground != nil && s.Areas.Dug() > 0 {
		for i, side := range [2]Side{Left, Right} {
			need, _ := w.needOf(sh, x, i, side)
			need.Side, need.Land = side, [2]*measure.Length{w.p.Strip.Left, w.p.Strip.Right}[i]
			s.Beside = append(s.Beside, need)
		}
	}
	w.told = told{}
	return s
}

// surround draws the lines of all surfaces as far as the section is looked at.
func (w *walker) surround(s *Sheet) {
	x := s.At.Metres()
	pose := w.axis.pose(w.axis.part(x), x)
	wide := float64(w.reach * w.axis.scale)
	left, right := pose.Beside(-wide), pose.Beside(wide)
	for _, one := range []struct {
		of   Ground
		into *[][]Corner
	}{{w.p.Ground, &s.Ground}, {w.p.Finished, &s.Finished}, {w.p.Rock, &s.RockHead}, {w.p.Water, &s.WaterHead}} {
		if one.of != nil {
			*one.into = corners(knots(one.of.Section(left, right), w.axis.scale, w.reach))
		}
	}
}

// Depth is how far the lowest of the dig lies below the higher of its two edges.
func (s *Sheet) Depth() measure.Length {
	low := measure.Length(math.MaxInt64)
	for _, o := range s.Dig {
		for _, c := range o {
			low = min(low, c.Level)
		}
	}
	return max(0, max(s.Left.Level, s.Right.Level)-low)
}

// noSection says that a chainage has none.
func noSection(p *Problem, l *Leg, at measure.Length) finding.Finding {
	return finding.Finding{ID: "earthwork.no-section", Kind: finding.Fault, Where: finding.Where{Leg: l.Name, Chainage: &at},
		Text: p.say("there are no levels at this %s", wording.Chainage), Try: p.say("a %s from %s to %s", wording.Chainage, l.Spans[0].From, l.Spans[len(l.Spans)-1].To)}
}
