package planner

import (
	"strconv"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/ground"
	"trenchwright/place/route"
	"trenchwright/solve/earthwork"
	"trenchwright/solve/profile"
)

// dig computes what is dug, filled and carried off, where levels were solved and a survey says what the ground is.
func (b *build) dig(legs []laid) {
	if b.heights == nil || b.ground.Of(ground.Existing) == nil {
		return
	}
	p := b.askDig(legs)
	s := earthwork.Solve(&p)
	b.add(s.Findings...)
	if s.Findings.Any(finding.Fault) {
		return
	}
	if err := earthwork.Check(&p, &s); err != nil {
		b.add(finding.Finding{ID: "planner.dig-check", Kind: finding.Fault, Text: "the dig does not add up, please report it: " + err.Error(), Where: finding.Where{Path: "dig"}})
		return
	}
	b.asked, b.dug = &p, &s
	b.plan.Dig = b.writeDig(&p, &s, legs)
	b.compact()
	b.excavate(&p, &s)
}

// askDig puts the dig's problem together: one span from each place of the profile to the next.
func (b *build) askDig(legs []laid) earthwork.Problem {
	d := &b.job.Dig
	p := earthwork.Problem{
		Ground: earthwork.Of(b.ground.Of(ground.Existing)), Finished: earthwork.Of(b.ground.Of(ground.Finished)),
		Rock: earthwork.Of(b.ground.Of(ground.Rock)), Water: earthwork.Of(b.ground.Of(ground.Water)),
		Topsoil: entered(d.Topsoil), Layer: entered(d.Layer), Reuse: entered(d.Reuse), Influence: entered(d.Influence), Tolerance: entered(d.Tolerance),
		Surcharge: entered(d.Surcharge),
		Strip:     earthwork.Strip{Left: entered(d.Strip.Left), Right: entered(d.Strip.Right), Setback: entered(d.Strip.Setback), Heap: entered(d.Strip.Heap)},
		Words:     b.speech(),
	}
	if f := d.Fabric; f != nil {
		p.Fabric = &earthwork.Fabric{Lap: f.Lap, Sheet: f.Sheet, Up: f.Up}
	}
	load, err := job.ReadLoad(d.Load.Value)
	if p.Weighed = load.Mass > 0; err == nil && !p.Weighed {
		p.Load = &load.Volume
	}
	for _, u := range d.Strip.Uses {
		p.Strip.Uses = append(p.Strip.Uses, earthwork.Use{What: earthwork.Thing(u.What), Side: earthwork.Side(u.Side), Width: u.Width})
	}
	for _, f := range d.Bulking {
		loose, err1 := strconv.ParseFloat(f.Loose, 64)
		compacted, err2 := strconv.ParseFloat(f.Compacted, 64)
		if err1 == nil && err2 == nil {
			one := earthwork.Factor{Of: earthwork.Material(f.Of), Loose: loose, Compacted: compacted, Source: b.docText(f.From)}
			if density, err := job.ReadDensity(f.Density.Value); f.Density.Known && err == nil && p.Weighed {
				one.Load = new(float64(load.Mass) / 1000 / density)
			}
			p.Factors = append(p.Factors, one)
		}
	}
	for i := range legs {
		p.Legs = append(p.Legs, b.askDigLeg(i, &legs[i]))
	}
	for i := range b.net.Nodes {
		n := &b.net.Nodes[i]
		if n.Kind == route.Branch || len(n.Arms) < 2 {
			continue
		}
		at := earthwork.Node{Name: n.ID}
		for _, a := range n.Arms {
			at.Arms = append(at.Arms, earthwork.Arm{Leg: a.Leg, End: !a.Away})
		}
		p.Nodes = append(p.Nodes, at)
	}
	return p
}

func (b *build) askDigLeg(i int, l *laid) earthwork.Leg {
	way, q := b.heights.legs[i], &b.heights.problem.Legs[i]
	out := earthwork.Leg{Name: b.leg(i).ID, Line: b.axes[i].line}
	out.Start, out.End = b.digEnd(b.axes[i].start, i, 0), b.digEnd(b.axes[i].end, i, b.axes[i].line.Length())
	for k := range way.supply {
		s := &b.sup[way.supply[k]]
		from, okFrom := b.digLevels(i, k, k, s)
		to, okTo := b.digLevels(i, k, k+1, s)
		if !okFrom || !okTo {
			continue
		}
		from.Drain, to.Drain = b.pipe.level(i, k), b.pipe.level(i, k+1)
		span := earthwork.Span{From: q.Joints[k].At, To: q.Joints[k+1].At, Start: from, End: to, Cross: q.Units[k].Cross, Section: b.digSection(s)}
		out.Spans = append(out.Spans, b.pipe.parted(i, k, span)...)
	}
	out.Spans = b.stretched(i, b.castSpans(i, out.Spans))
	if w := l.supply; len(w) > 0 && b.sup[w[0]].Bearing.On.Value == "pads" {
		for k, of := range way.joint {
			s := &b.sup[way.supply[min(k, len(way.supply)-1)]]
			if g := &s.Bearing; of >= 0 && g.PadAlong.Known && g.PadAcross.Known && g.PadThick.Known {
				out.Pads = append(out.Pads, earthwork.Pad{At: q.Joints[k].At, Along: g.PadAlong.Value, Across: g.PadAcross.Value, Thick: g.PadThick.Value})
			}
		}
	}
	for _, s := range b.leg(i).Services {
		one := earthwork.Service{ID: s.ID, Name: s.Name, At: s.At, Width: s.Width, Depth: s.Depth, Quality: s.Quality}
		if s.Level != nil {
			one.Top = new(measure.FromMetres(*s.Level * b.net.unit))
		}
		out.Services = append(out.Services, one)
	}
	return out
}

// digEnd is how the dig ends where nothing follows: against what stands there, else with room to work and a slope.
func (b *build) digEnd(f face, leg int, at measure.Length) earthwork.End {
	if f.made == "building" || f.made == "existing" {
		return earthwork.End{}
	}
	d := b.job.Dig.At(b.leg(leg).ID, at)
	return earthwork.End{Beyond: d.Room.Value, Sloped: d.Sides == "sloped" || d.Sides == "benched"}
}

// castSpans lengthens a leg's dig to the middle of the castings at its ends: they are dug as the unit beside
// them is, at the fall that they lie on.
func (b *build) castSpans(i int, spans []earthwork.Span) []earthwork.Span {
	if len(spans) == 0 {
		return spans
	}
	a := &b.axes[i]
	if first := spans[0]; a.start.made == "casting" && first.From > 0 {
		cast := first
		cast.From, cast.To, cast.End = 0, first.From, first.Start
		cast.Start = lowered(first.Start, b.heights.rise(i, false))
		cast.Start.Drain = b.pipe.atNode(profile.Arm{Leg: i})
		cast.End.Drain = first.Start.Drain
		spans = append([]earthwork.Span{cast}, spans...)
	}
	if last := spans[len(spans)-1]; a.end.made == "casting" && last.To < a.line.Length() {
		cast := last
		cast.From, cast.To, cast.Start = last.To, a.line.Length(), last.End
		cast.End = lowered(last.End, b.heights.rise(i, true))
		cast.End.Drain = b.pipe.atNode(profile.Arm{Leg: i, End: true})
		spans = append(spans, cast)
	}
	return spans
}

// lowered are levels so far below others.
func lowered(l earthwork.Levels, by measure.Length) earthwork.Levels {
	l.Top, l.Underside, l.Formation = l.Top-by, l.Underside-by, l.Formation-by
	return l
}

// digLevels are the levels under unit k of the profile at one of its ends; false where a thickness is not on file.
func (b *build) digLevels(leg, unit, joint int, s *supply) (earthwork.Levels, bool) {
	before, behind := b.profile.Faces(b.heights.problem, leg, joint, nil)
	face := behind
	if joint > unit {
		face = before
	}
	c := b.section(s).At(face, face)
	top, under, bottom := middle(c.LeftBehind.Top, c.RightBehind.Top), middle(c.LeftBehind.Underside, c.RightBehind.Underside), middle(c.LeftBehind.Between, c.RightBehind.Between)
	if top == nil || under == nil || bottom == nil || s.Cover == nil || !s.Cover.Thickness.Known {
		return earthwork.Levels{}, false
	}
	out := earthwork.Levels{Top: *top + s.Cover.Thickness.Value, Underside: *under, Formation: *bottom}
	return out, true
}

func middle(a, c *measure.Length) *measure.Length {
	if a == nil || c == nil {
		return nil
	}
	m := *a + (*c-*a)/2
	return &m
}

func (b *build) digSection(s *supply) earthwork.Section {
	d := &b.job.Dig
	out := earthwork.Section{Unit: s.width, Room: entered(d.Room), OverDig: d.OverDig.Value, Sides: digSides(d)}
	if p := b.job.Levels.Drain; p != nil {
		out.Pipe = &earthwork.Pipe{Diameter: p.Diameter, Bedding: p.Bedding, Trench: entered(p.Trench), Offset: p.Offset}
		if out.Pipe.Trench == nil && p.Surround.Known {
			out.Pipe.Trench = new(p.Diameter + 2*p.Surround.Value)
		}
	}
	return out
}

func digSides(d *job.Dig) earthwork.Sides {
	out := earthwork.Sides{Form: earthwork.Form(d.Sides), Slope: entered(d.Slope), Plumb: d.Upright.Value}
	if d.Bench != nil {
		out.Bench = &earthwork.Bench{Height: d.Bench.Height, Width: d.Bench.Width}
	}
	return out
}

// entered is a figure that somebody entered, or nil.
func entered[T any](e job.Entry[T]) *T {
	if !e.Known {
		return nil
	}
	return &e.Value
}
