package planner

import (
	"cmp"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
	"trenchwright/solve/earthwork"
)

// Cross sections are drawn at all places that the job states, at most statedSections of the whole run, and on each leg
// where it is dug deepest, at its two ends, at crossings and services, and where the section changes in kind, the greatest
// changes first, at most unaskedSections of them. Marks for the driver stand at even chainages and at all of these.
const (
	statedSections  = 500
	unaskedSections = 24
	mostMarks       = 200 // of one leg; where there would be more they stand further apart
)

// deepestPlace is why the deepest place of a leg is shown.
const deepestPlace = "deepest"

// digPlace is a place of a leg with why something is shown there.
type digPlace struct {
	leg     int
	at      measure.Length
	why     []string
	rank    measure.Length // of two places that nobody asked for the greater is drawn first
	section bool
}

// digPlaces are all places of sections and marks along a leg, in order; left is how many sections are not drawn.
func (b *build) digPlaces(leg int, p *earthwork.Problem, s *earthwork.LegDig, stated []digPlace) (out []digPlace, left int) {
	spans := p.Legs[leg].Spans
	if len(spans) == 0 {
		return nil, 0
	}
	joints := b.heights.problem.Legs[leg].Joints
	first, last := joints[0].At, joints[len(joints)-1].At
	const always = measure.Length(1 << 60)
	add := func(at, rank measure.Length, section bool, why string) {
		if at >= spans[0].From && at <= spans[len(spans)-1].To {
			out = append(out, digPlace{leg: leg, at: at, rank: rank, section: section, why: []string{why}})
		}
	}
	if s.Deepest.Depth > 0 {
		add(s.Deepest.At, always, true, deepestPlace)
	}
	add(first, always-1, true, "start of the leg")
	add(last, always-1, true, "end of the leg")
	for _, c := range b.leg(leg).Crossings {
		name := c.Name
		if name == "" {
			name = c.ID
		}
		add(c.At, always-2, true, "crossing: "+name)
	}
	for _, v := range b.leg(leg).Services {
		add(v.At, always-2, true, b.tell("%s: ", wording.Service)+v.Name)
	}
	for i := 1; i < len(spans); i++ {
		if why, size := b.change(&spans[i-1], &spans[i]); why != "" && spans[i].From > first && spans[i].From < last {
			if s := b.digStretchAt(leg, spans[i].From); s != "" {
				why += ": " + s
			}
			add(spans[i].From, size, true, why)
		}
	}
	sorting.By(out, func(a, b digPlace) int { return cmp.Compare(b.rank, a.rank) })
	for i := unaskedSections; i < len(out); i++ {
		out[i].section, left = false, left+1
	}
	for _, q := range stated {
		if q.leg == leg {
			out = append(out, q)
		}
	}
	for step, k := b.markStep(last-first), measure.Length(0); k*step <= last; k++ {
		if k*step > first {
			add(k*step, 0, false, "")
		}
	}
	return together(out), left
}

// markStep is the distance of the regular marks on a leg of that length: 5 m or 20 ft, doubled where there would be too many.
func (b *build) markStep(long measure.Length) measure.Length {
	step := 5 * measure.Metre
	if b.system() == measure.Imperial {
		step = 20 * 12 * measure.Inch
	}
	for long/step > mostMarks {
		step *= 2
	}
	return step
}

// together sorts places and makes one of those that lie within a millimetre.
func together(all []digPlace) []digPlace {
	sorting.By(all, func(a, b digPlace) int { return cmp.Compare(a.at, b.at) })
	var out []digPlace
	for _, q := range all {
		n := len(out) - 1
		if n < 0 || q.at-out[n].at >= measure.Millimetre {
			out = append(out, q)
			continue
		}
		out[n].section = out[n].section || q.section
		for _, w := range q.why {
			if w != "" && !slices.Contains(out[n].why, w) {
				out[n].why = append(out[n].why, w)
			}
		}
	}
	for i := range out {
		out[i].why = slices.DeleteFunc(out[i].why, func(w string) bool { return w == "" })
	}
	return out
}

// change says how the section changes from one span to the next, and how much that counts: nothing and 0 where only levels
// go on.
func (b *build) change(a, c *earthwork.Span) (string, measure.Length) {
	x, y := a.Section, c.Section
	kind := func(text string) (string, measure.Length) { return text, measure.Metre }
	switch step := c.Start.Formation - a.End.Formation; {
	case x.Unit != y.Unit:
		return kind(b.tell("another %s", wording.Body))
	case !equal(x.Room, y.Room) || x.OverDig != y.OverDig:
		return kind("another width of the dig")
	case x.Sides.Form != y.Sides.Form || x.Sides.Plumb != y.Sides.Plumb || !equal(x.Sides.Slope, y.Sides.Slope) || !equal(x.Sides.Bench, y.Sides.Bench):
		return kind("other sides")
	case (a.End.Drain == nil) != (c.Start.Drain == nil):
		return kind("the drain begins or ends")
	case a.Cross.Cmp(c.Cross) != 0:
		return kind("another crossfall")
	case step > 0:
		return b.tell("the %s steps up by %s", wording.Formation, step), step
	case step < 0:
		return b.tell("the %s steps down by %s", wording.Formation, -step), -step
	}
	return "", 0
}

func equal[T comparable](a, b *T) bool { return a == b || a != nil && b != nil && *a == *b }

// statedPlaces are the cross sections that the job asks for, as many as are drawn.
func (b *build) statedPlaces(p *earthwork.Problem) (out []digPlace, left int) {
	asked := b.job.Dig.Sections
	add := func(leg int, at measure.Length, why string) {
		if len(out) >= statedSections {
			left++
			return
		}
		out = append(out, digPlace{leg: leg, at: at, why: []string{why}, section: true})
	}
	for _, a := range asked.At {
		leg, ok := b.legAt[a.Leg]
		if !ok {
			continue // a fault of the job, told as one
		}
		spans := p.Legs[leg].Spans
		if len(spans) == 0 || a.At < spans[0].From || a.At > spans[len(spans)-1].To {
			b.add(finding.Finding{ID: "planner.section-beyond", Kind: finding.Attention, Where: at(a.Leg, a.At), Text: "a cross section is asked for where the leg has no levels",
				Try: b.tell("a %s on the leg", wording.Chainage)})
			continue
		}
		why := "asked for"
		if a.Why != "" {
			why += ": " + a.Why
		}
		add(leg, a.At, why)
	}
	if asked.Every > 0 {
		for leg := range p.Legs {
			spans := p.Legs[leg].Spans
			for k := measure.Length(0); len(spans) > 0 && k <= spans[len(spans)-1].To; k += asked.Every {
				if k >= spans[0].From {
					add(leg, k, b.tell("every %s", wording.Far(asked.Every)))
				}
			}
		}
	}
	return out, left
}
