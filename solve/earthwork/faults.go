package earthwork

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// longest keeps sums far from the edge of what a Length holds.
const longest = 100_000 * measure.Kilometre

// What is thinner is a slip of the pen; no source.
const (
	leastBench = 100 * measure.Millimetre
	leastLayer = 50 * measure.Millimetre
)

// faults collects what is wrong with a Problem.
type faults struct{ list finding.List }

func (f *faults) say(id, text, try string, w finding.Where) {
	f.list = append(f.list, finding.Finding{ID: "earthwork." + id, Kind: finding.Fault, Text: text, Where: w, Try: try})
}

// Faults is everything that keeps p from being solved.
func Faults(p *Problem) finding.List {
	f := &faults{}
	if p.Ground == nil {
		f.say("no-survey", "there is no ground to dig in", "a survey of the ground as it is", where("ground"))
	}
	for i := range p.Legs {
		f.leg(p, &p.Legs[i])
	}
	f.nodes(p)
	for i, one := range p.Factors {
		if w := where(fmt.Sprintf("factors[%d]", i)); !(one.Loose > 0 && one.Loose < 10 && one.Compacted > 0 && one.Compacted < 10) {
			f.say("factor", fmt.Sprintf("the bulking of %s is none: %v loose and %v compacted from 1 in the ground", one.Of, one.Loose, one.Compacted), "both above 0 and below 10", w)
		}
	}
	for _, one := range []struct {
		what string
		l    *measure.Length
	}{{"topsoil", p.Topsoil}, {"layer", p.Layer}, {"tolerance", p.Tolerance}} {
		if one.l != nil && (*one.l < leastLayer && one.what == "layer" || *one.l < 0 || *one.l > 100*measure.Metre) {
			f.say("thickness", fmt.Sprintf("%s of %s cannot be", one.what, one.l), "a length of some millimetres to some metres", where(one.what))
		}
	}
	for _, one := range p.Factors {
		if one.Load != nil && !(*one.Load > 0 && *one.Load < 1e6) {
			f.say("load", fmt.Sprintf("a load of %v m³ of %s cannot be", *one.Load, one.Of), "the mass of a load, and the loose density", where("load"))
		}
	}
	if p.Load != nil && !(*p.Load > 0 && *p.Load < 1e6) {
		f.say("load", fmt.Sprintf("a load of %v m³ cannot be", *p.Load), "loose cubic metres in one load", where("load"))
	}
	if b := p.Fabric; b != nil && (b.Lap < 0 || b.Sheet <= b.Lap || b.Up < 0 || b.Up > 100*measure.Metre) {
		f.say("fabric", fmt.Sprintf("sheets of %s with a lap of %s cover nothing", b.Sheet, b.Lap), "a sheet longer than its lap", where("fabric"))
	}
	f.grades(p)
	return f.list
}

func (f *faults) grades(p *Problem) {
	for _, g := range []struct {
		what string
		g    *measure.Grade
	}{{"influence", p.Influence}, {"surcharge", p.Surcharge}, {"strip.heap", p.Strip.Heap}} {
		if g.g != nil && (g.g.Rise <= 0 || g.g.Run <= 0) {
			f.say("grade", fmt.Sprintf("%s is no slope for %s", g.g, g.what), "rise to run, both above 0", where(g.what))
		}
	}
}

func (f *faults) leg(p *Problem, l *Leg) {
	w := finding.Where{Leg: l.Name}
	if len(l.Spans) == 0 || l.Line.Length() == 0 {
		f.say("no-spans", "the leg has no length or no levels", "levels at its joints", w)
		return
	}
	for i, s := range l.Spans {
		w.Chainage = new(s.From)
		f.span(p, s, w)
		if i > 0 && l.Spans[i-1].To != s.From {
			f.say("gap", p.say("a span ends at %s and the next begins at %s", l.Spans[i-1].To, s.From), "spans that follow each other", w)
		}
	}
	w.Chainage = nil
	for _, e := range []End{l.Start, l.End} {
		if e.Beyond < 0 || e.Beyond > measure.Kilometre {
			f.say("end", p.say("the dig cannot go on for %s past an end", e.Beyond), "the working room past the last unit", w)
		}
	}
	for _, pad := range l.Pads {
		w.Chainage = new(pad.At)
		room := measure.Length(math.MaxInt64)
		for _, s := range l.Spans {
			if pad.At >= s.From && pad.At <= s.To {
				room = min(room, max(s.Start.Underside-s.Start.Formation, s.End.Underside-s.End.Formation))
			}
		}
		if pad.Along < 0 || pad.Across < 0 || pad.Thick < 0 || pad.Thick > room || pad.Along > measure.Kilometre || pad.Across > measure.Kilometre {
			f.say("pad", p.say("a %s of %s by %s by %s does not fit into the %s here", wording.Pad, pad.Along, pad.Across, pad.Thick, wording.Bed), p.say("the %s below the %s", wording.Formation, wording.Pad), w)
		}
	}
	for _, s := range l.Services {
		if s.Width < 0 || s.Width > measure.Kilometre {
			w.Chainage = new(s.At)
			f.say("service", p.say("%q cannot be %s wide", s.Name, s.Width), "its outer width", w)
		}
	}
}

func (f *faults) span(p *Problem, s Span, w finding.Where) {
	if s.To <= s.From {
		f.say("span", "a span ends where it begins or before", "spans that follow each other up the leg", w)
	}
	if rise := max((s.End.Formation - s.Start.Formation).Abs(), (s.End.Underside - s.Start.Underside).Abs(), (s.End.Top - s.Start.Top).Abs()); rise > s.To-s.From {
		f.say("steep", p.say("from %s to %s the levels rise or fall by %s, more steeply than 1:1", s.From, s.To, rise), "two spans with a step between them", w)
	}
	for _, l := range []Levels{s.Start, s.End} {
		if max(l.Top.Abs(), l.Underside.Abs(), l.Formation.Abs(), s.From.Abs(), s.To.Abs()) > longest || l.Drain != nil && l.Drain.Abs() > longest {
			f.say("out-of-reach", "a level or a place along the leg lies out of reach", "its decimal point and its unit", w)
		}
		if l.Top <= l.Underside || l.Underside < l.Formation {
			f.say("levels", p.say("cover %s, underside %s and %s %s are not above each other", l.Top, l.Underside, wording.Formation, l.Formation), "the three levels of this place", w)
		}
	}
	c, h := s.Section, s.Section.Sides
	if c.Unit <= 0 || c.Unit > measure.Kilometre || c.OverDig < 0 || c.OverDig > measure.Kilometre || c.Room != nil && (*c.Room < 0 || *c.Room > measure.Kilometre) {
		f.say("width", "the width of the dig cannot be", "outer width of the unit above 0, room and over-dig not below", w)
	}
	if h.Plumb < 0 || h.Plumb > measure.Kilometre || h.Slope != nil && (h.Slope.Rise <= 0 || h.Slope.Run < 0 || h.Slope.Run/50 > h.Slope.Rise) {
		f.say("slope", "the slope of the sides is none", "rise to run, 1:50 or steeper", w)
	}
	if b := h.Bench; b != nil && (min(b.Height, b.Width) < leastBench || max(b.Height, b.Width) > measure.Kilometre) {
		f.say("bench", "a bench has no height or no width: less than 100 mm is none", "height and width of one step", w)
	}
	if ratio(s.Cross) < -1 || ratio(s.Cross) > 1 {
		f.say("cross", "the crossfall is steeper than 1:1", "the fall across the unit", w)
	}
	if pipe := c.Pipe; pipe != nil && (pipe.Diameter <= 0 || pipe.Bedding < 0 || pipe.Trench != nil && *pipe.Trench <= 0 || max(pipe.Diameter, pipe.Bedding, pipe.Offset.Abs()) > measure.Kilometre) {
		f.say("pipe", "the pipe in the bed has no diameter, or its trench no width", "outside diameter, bedding and width of its trench", w)
	}
}

// nodes checks that arms are ends that exist, each at one node, and that spans reach the nodes.
func (f *faults) nodes(p *Problem) {
	seen := map[Arm]bool{}
	for _, n := range p.Nodes {
		w := finding.Where{Path: "route.nodes." + n.Name}
		for _, a := range n.Arms {
			if a.Leg < 0 || a.Leg >= len(p.Legs) || seen[a] {
				f.say("arm", fmt.Sprintf("node %s has an arm that is no end of a leg, or lies at two nodes", n.Name), "one node for each end of a leg", w)
				continue
			}
			seen[a] = true
			l := &p.Legs[a.Leg]
			if len(l.Spans) == 0 || len(n.Arms) < 2 {
				continue
			}
			if !a.End && l.Spans[0].From != 0 || a.End && l.Spans[len(l.Spans)-1].To != l.Line.Length() {
				f.say("short-of-node", fmt.Sprintf("leg %s does not reach node %s", l.Name, n.Name), "spans from node to node", w)
			}
		}
	}
}

// unknown is what is not on file and keeps a leg from being dug.
func unknown(p *Problem, leg int) finding.List {
	var out finding.List
	told := map[string]bool{}
	l := &p.Legs[leg]
	say := func(what, ask string) {
		if !told[what] {
			told[what] = true
			out = append(out, finding.NoneOnFile(what, ask, finding.Where{Leg: l.Name}))
		}
	}
	for _, s := range l.Spans {
		c := s.Section
		if c.Room == nil {
			say("working room beside the unit", "whoever compacts beside it")
		}
		switch {
		case c.Sides.Form == Vertical || c.Sides.Form == Supported:
		case c.Sides.Form == Sloped && c.Sides.Slope == nil:
			say("slope of the sides", "the competent person")
		case c.Sides.Form == Benched && c.Sides.Bench == nil:
			say("height and width of a bench", "the competent person")
		case c.Sides.Form != Sloped && c.Sides.Form != Benched:
			say("form of the sides of the dig", "the competent person")
		}
	}
	return out
}
