package earthwork

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/place/route"
)

// meets is what the dig comes upon: services by record, water, and what is set beside a deeper dig.
func (out *Solution) meets(p *Problem, ws []*walker) {
	served := false
	for l, w := range ws {
		if w == nil {
			continue
		}
		leg := &p.Legs[l]
		for i := range leg.Services {
			met := w.service(leg, &leg.Services[i])
			met.Leg, met.Service = l, i
			out.Services, out.Findings = append(out.Services, met), append(out.Findings, met.Finding)
			served = true
		}
		out.Findings = append(out.Findings, w.water(leg)...)
		out.Findings = append(out.Findings, p.undermined(leg)...)
	}
	if served && p.Tolerance == nil {
		out.Findings = append(out.Findings, finding.NoneOnFile("tolerance zone round recorded services", "their owners", where("tolerance")))
	}
	if p.Water == nil && len(p.Legs) > 0 {
		out.Findings = append(out.Findings, finding.NoneOnFile("level of ground water", "the engineer who looked at the ground", where("water")))
	}
	out.Findings = append(out.Findings, p.steppedNodes()...)
}

// service says where a recorded service lies against the dig. What is not recorded is never said to be absent.
func (w *walker) service(leg *Leg, s *Service) ServiceMet {
	p := w.p
	x := min(max(s.At.Metres(), w.spans[0].from), w.spans[len(w.spans)-1].to)
	f := finding.Finding{Where: at(leg, s.At.Metres()), Ask: "its owner", Rule: "position as recorded: " + quality(s)}
	name := p.say("%s %q", wording.Service, s.Name)
	w.span = w.spanAt(x)
	w.reach = max(w.reach, w.reachOf(w.span))
	sh := w.shape(w.axis.part(x), x)
	bottom := math.Inf(1)
	for _, k := range sh.lines[fDig] {
		bottom = min(bottom, k.z)
	}
	met := ServiceMet{Bottom: measure.FromMetres(bottom)}
	top, known := w.topOf(s, sh)
	if !known {
		f.ID, f.Kind = "earthwork.service-depth-unknown", finding.Attention
		f.Text = name + ": depth unknown. It counts as lying where the " + p.say("%s", wording.Unit) + " is to stand"
		f.Try = "have its depth proved by a trial hole before the dig reaches it"
		met.Finding = f
		return met
	}
	zone := 0.0
	if p.Tolerance != nil {
		zone = p.Tolerance.Metres()
	}
	f.Limit, f.Value = p.say("bottom of the dig at level %s", far(bottom)), p.say("its top at level %s, its zone %s each way", far(top), tape(zone))
	f.Kind = finding.Attention
	p.class(&f, sh, lies{name: name, top: top, low: top - s.Width.Metres(), zone: zone, bottom: bottom})
	met.Top, met.Finding = new(measure.FromMetres(top)), f
	return met
}

// lies is how a service lies by its record, as levels in metres: its top, its own underside, and its zone each way.
type lies struct {
	name                   string
	top, low, zone, bottom float64
}

// class words the highest class that a service reaches with its zone: where the unit stands, before bed and pads, before
// the ground below.
func (p *Problem) class(f *finding.Finding, sh *shape, s lies) {
	say := func(m float64) string { return p.say("%s", tape(m)) }
	high := s.top + s.zone
	below := s.name + " is recorded " + say(s.bottom-s.top) + " below the bottom of the dig"
	switch {
	case high <= s.bottom:
		f.ID, f.Kind, f.Ask = "earthwork.service-deeper", finding.Note, ""
		f.Text = below + ", its zone of " + say(s.zone) + " taken off " + say(s.bottom-high) + ". Nothing nearer is recorded here"
	case high > sh.under && s.low-s.zone < sh.top:
		f.ID, f.Try = "earthwork.service-in-unit", "stop, and ask its owner first. Then raise the run, a shallower section, or divert the service"
		f.Limit += p.say(", underside of the %s at %s, top of the cover at %s", wording.Unit, far(sh.under), far(sh.top))
		f.Text = p.reaches(sh, s)
	case s.top <= s.bottom:
		f.ID, f.Try = "earthwork.service-below-bed", "dig by hand over it and let nothing load it, as its owner says"
		f.Text = below + ", within its zone of " + say(s.zone)
	case high <= sh.under:
		f.ID, f.Try = "earthwork.service-in-bed", p.say("no %s and no joint over it, and its owner's word on how near the %s may come", wording.Pad, wording.Bed)
		f.Text = s.name + " is recorded " + say(s.top-s.bottom) + " above the bottom of the dig: in the " + p.say("%s or a %s", wording.Bed, wording.Pad)
	default:
		f.ID, f.Try = "earthwork.service-above", "dig by hand, hold it while the dig is open"
		f.Text = s.name + " is recorded above the cover, and the dig cuts through the ground that carries it"
	}
}

// reaches words a service that itself, or whose zone alone, comes to where the unit is to stand.
func (p *Problem) reaches(sh *shape, s lies) string {
	switch {
	case s.top > sh.under && s.low < sh.top:
		return s.name + p.say(" is recorded where the %s is to stand: its top lies %s above the underside", wording.Unit, tape(s.top-sh.under))
	case s.low >= sh.top:
		return s.name + p.say(" is recorded %s above the cover, and its zone of %s reaches %s below the top of it: to where the %s is to stand",
			tape(s.low-sh.top), tape(s.zone), tape(sh.top-s.low+s.zone), wording.Unit)
	}
	recorded := p.say(" is recorded %s below the bottom of the dig", tape(s.bottom-s.top))
	if s.top > s.bottom {
		recorded = p.say(" is recorded %s above the bottom of the dig, in the %s or a %s", tape(s.top-s.bottom), wording.Bed, wording.Pad)
	}
	return s.name + recorded + p.say(", and its zone of %s reaches %s above the underside of the %s: to where that is to stand",
		tape(s.zone), tape(s.top+s.zone-sh.under), wording.Unit)
}

func quality(s *Service) string {
	if s.Quality == "" {
		return "how it is known is not on file"
	}
	return s.Quality
}

func (w *walker) spanAt(x float64) *template {
	for _, t := range w.spans {
		if x < t.to {
			return t
		}
	}
	return w.spans[len(w.spans)-1]
}

// topOf is the level of a service's top, from its record or from its depth below the ground on the centreline.
func (w *walker) topOf(s *Service, sh *shape) (float64, bool) {
	if s.Top != nil {
		return s.Top.Metres(), true
	}
	if s.Depth == nil {
		return 0, false
	}
	g, ok := levelAt(sh.lines[fGround], 0)
	return g - s.Depth.Metres(), ok
}

// levelAt is the level of a line at an offset.
func levelAt(line []knot, y float64) (float64, bool) {
	for i := 1; i < len(line); i++ {
		if a, b := line[i-1], line[i]; !b.gap && a.y <= y && y <= b.y && b.y > a.y {
			return onLine(a, b, y), true
		}
	}
	return 0, false
}

// water looks at the ends and the middle of every span.
func (w *walker) water(leg *Leg) finding.List {
	if w.p.Water == nil {
		return nil
	}
	most, at0 := 0.0, 0.0
	var wet []stretch
	for _, t := range w.spans {
		hit := false
		for _, u := range [3]float64{0, 0.5, 1} {
			x := mix(t.from, t.to, u)
			pose := w.axis.pose(w.axis.part(x), x)
			wide := float64(t.half * w.axis.scale)
			if d := highest(w.p.Water, pose, wide) - t.level(lFormation, x); d > 0 {
				hit = true
				if d > most {
					most, at0 = d, x
				}
			}
		}
		if hit {
			note(&wet, t.from, t.to)
		}
	}
	if most == 0 {
		return nil
	}
	total := 0.0
	for _, s := range wet {
		total += s.to - s.from
	}
	return finding.List{{ID: "earthwork.water", Kind: finding.Attention, Where: at(leg, at0), Ask: "the engineer",
		Text: w.p.say("water is recorded up to %s above the %s, over %s in all", far(most), wording.Formation, far(total)), Try: "drawdown or pumping, and sides for wet ground"}}
}

// highest is the highest level of a surface across the bottom of the dig.
func highest(g Ground, pose route.Pose, wide float64) float64 {
	high := math.Inf(-1)
	for _, st := range g.Section(pose.Beside(-wide), pose.Beside(wide)) {
		for _, c := range st {
			high = max(high, c.Level)
		}
	}
	return high
}

// undermined says where a leg steps down beside what is set, or falls more steeply than the line down from its foot.
func (p *Problem) undermined(leg *Leg) finding.List {
	var worst measure.Length
	var where finding.Where
	lower := ""
	n, steep := 0, 0
	for i, s := range leg.Spans {
		if i > 0 {
			if d := leg.Spans[i-1].End.Formation - s.Start.Formation; d != 0 {
				n++
				if d.Abs() > worst {
					worst, where, lower = d.Abs(), finding.Where{Leg: leg.Name, Chainage: new(s.From)}, "end"
					if d < 0 {
						lower = "start"
					}
				}
			}
		}
		fall := measure.Grade{Rise: (s.End.Formation - s.Start.Formation).Abs(), Run: s.To - s.From}
		if p.Influence != nil && fall.Cmp(*p.Influence) > 0 {
			if steep == 0 && n == 0 {
				where = finding.Where{Leg: leg.Name, Chainage: new(s.From)}
			}
			steep++
		}
	}
	var out finding.List
	if n > 0 {
		out = append(out, p.step(worst, n, "lower towards the "+lower+" of leg "+leg.Name, where))
	}
	if steep > 0 {
		out = append(out, finding.Finding{ID: "earthwork.steeper-than-line", Kind: finding.Attention, Where: where,
			Text: p.say("the %s falls more steeply than %s (up to out), the line down from the foot of what is set, in %d places", wording.Formation, p.Influence.Ratio(), steep),
			Ask:  "the engineer", Try: "dig and set from the low end"})
	}
	return out
}

// step words a step of the formation by d, the greatest of n; lower says on which side of it the dig is the deeper one.
func (p *Problem) step(d measure.Length, n int, lower string, w finding.Where) finding.Finding {
	if p.Influence == nil {
		return finding.NoneOnFile("line down from the foot of what is set, that a deeper dig may not cut", "the engineer", w)
	}
	text := p.say("the %s steps by %s here, %s: the lower part is dug right beside the higher one. What is set on the higher part presses down and out at %s (up to out) from its foot, and no dig may cut that line",
		wording.Formation, d, lower, p.Influence.Ratio())
	limit, value := "line down at "+p.Influence.Ratio()+", cut by nothing", p.say("%s deeper beside it", d)
	if away, err := measure.MulDiv(d, int64(p.Influence.Run), int64(p.Influence.Rise)); err == nil {
		text += p.say(": a dig that is %s deeper stays %s away from what is set", d, away)
		limit, value = p.say("%s away from what is set", away), p.say("%s away, the two parts meet here", measure.Length(0))
	}
	if n > 1 {
		text += fmt.Sprintf(". There are %d such steps on this leg, this is the greatest", n)
	}
	return finding.Finding{ID: "earthwork.undermines", Kind: finding.Attention, Text: text, Where: w,
		Limit: limit, Value: value, Rule: "line down from the foot of what is set at " + p.Influence.Ratio() + " (up to out), as entered", Ask: "the engineer",
		Try: p.say("dig, set and fill the lower part before anything is set on the higher one, or bring the %s to one level at the step", wording.Formation)}
}

// steppedNodes says where legs meet on formations that differ.
func (p *Problem) steppedNodes() finding.List {
	var out finding.List
	for _, n := range p.Nodes {
		low, high := measure.Length(math.MaxInt64), measure.Length(math.MinInt64)
		var at finding.Where
		for _, a := range n.Arms {
			l := &p.Legs[a.Leg]
			level, ch := l.Spans[0].Start.Formation, l.Spans[0].From
			if a.End {
				level, ch = l.Spans[len(l.Spans)-1].End.Formation, l.Spans[len(l.Spans)-1].To
			}
			if level < low {
				at = finding.Where{Leg: l.Name, Chainage: new(ch)}
			}
			low, high = min(low, level), max(high, level)
		}
		if high > low {
			out = append(out, p.step(high-low, 1, "lowest on leg "+at.Leg, at))
		}
	}
	return out
}
