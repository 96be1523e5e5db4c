package planner

import (
	"cmp"
	"slices"
	"strconv"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/check"
	"trenchwright/solve/check/compaction"
	"trenchwright/solve/check/flotation"
	"trenchwright/solve/check/load"
)

// checks are those of a plan in the making.
type checks struct {
	*build
	unitAt map[string]int // of plan.Units, by mark; nil: nobody asked yet
}

// check holds the run, and how it is lifted and filled, against what was entered for it. Where nothing was, nothing is held, and
// job.Missing says so.
func (b *build) check() {
	if !b.job.Checks.None() {
		(&checks{build: b}).all()
	}
}

func (b *checks) all() {
	b.holdWater(b.rowsOfLegs())
	b.holdCrossings()
	b.holdEarth()
	b.holdBed()
	b.holdLifts()
	b.holdCables()
	b.holdFill()
}

// held writes what came of a check, and says what it lacks once for all places.
func (b *checks) held(answers []check.Answer, found finding.List) {
	for i := range answers {
		for k := range answers[i].Given {
			if g := &answers[i].Given[k]; g.From == "" {
				g.From = "this job and its plan"
			}
		}
		b.plan.Checks = append(b.plan.Checks, answers[i].Said(b.speech()))
	}
	for _, f := range found {
		f.Text, f.Try = b.speech().Reworded(f.Text), b.speech().Reworded(f.Try)
		same := func(g finding.Finding) bool {
			return g.ID == f.ID && g.Text == f.Text && (f.Kind == finding.NotChecked || g.Where == f.Where)
		}
		if !slices.ContainsFunc(b.found, same) {
			b.add(f)
		}
	}
}

// rowsOfLegs are the set-out rows of each leg, along it.
func (b *checks) rowsOfLegs() map[string][]*SetOut {
	rows := map[string][]*SetOut{}
	for i := range b.plan.SetOut {
		r := &b.plan.SetOut[i]
		rows[r.Leg] = append(rows[r.Leg], r)
	}
	return rows
}

// from is where a figure of the checks came from.
func from[T any](b *checks, document string, e job.Entry[T]) string {
	if !e.Known {
		return ""
	}
	return job.SourceFrom(b.job, cmp.Or(document, b.job.Checks.From), e)
}

// plainNumber is an entered number without a unit; nil: nobody entered it.
func plainNumber(e job.Entry[string]) *float64 {
	x, err := strconv.ParseFloat(e.Value, 64)
	if !e.Known || err != nil {
		return nil
	}
	return &x
}

// percent is an entered share in a hundred.
func percent(e job.Entry[string]) *check.Quantity {
	x := plainNumber(e)
	if x == nil {
		return nil
	}
	return new(check.Percent.Of(*x / 100))
}

// floating is the worst place of a supply: where water stands highest above its underside, or where nobody can say.
type floating struct {
	leg   string
	at    measure.MM
	above *measure.Length
}

// holdWater holds every supply against the water where it stands highest above its underside, and where it is not known how high.
func (b *checks) holdWater(rows map[string][]*SetOut) {
	worst := b.worstWater(rows)
	for k := range b.sup {
		for _, one := range worst[k] {
			if one != nil && b.sup[k].Unit.Outer.Known {
				b.floats(&b.sup[k], *one)
			}
		}
	}
}

// floats holds a supply at a place against the water there.
func (b *checks) floats(s *supply, one floating) {
	w := &b.job.Checks.Water
	outer, inner := s.Unit.Outer.Value, s.Unit.Inner.Value
	q := flotation.Problem{Where: at(one.leg, measure.Length(one.at)), Words: b.speech(), Width: outer.Width, Height: outer.Height, Inside: inner.Width, Deep: inner.Height, Mass: entered(s.Unit.Mass),
		From: job.Source(b.job, s.Supply, s.Unit.Outer), Factor: plainNumber(w.Factor), FactorFrom: from(b, "", w.Factor), WaterPlus: w.Plus.Value}
	if s.Cover != nil {
		q.Covers = entered(s.Cover.Mass)
	}
	if d := plainNumber(w.Density); d != nil {
		q.Density = *d
	}
	if one.above != nil {
		q.Water, q.WaterFrom = new(max(0, *one.above)), "the ground water as surveyed, against the level of the underside"
		if w.Level.Known {
			q.WaterFrom = from(b, "", w.Level) + ", against the level of the underside"
		}
	}
	sol := flotation.Check(&q)
	place := "where water stands highest"
	if one.above == nil {
		place = "where the level of water is not known"
	}
	for n := range sol.Answers {
		sol.Answers[n].What = "supply " + s.ID + " " + place + ": " + sol.Answers[n].What
	}
	b.held(sol.Answers, sol.Findings)
}

// beyondEnd is how far beyond a unit's end the middle of its joint may lie.
const beyondEnd = measure.MM(100 * measure.Millimetre)

// worstWater is, by supply, the place where water stands highest, and the first place of which nobody knows; nil: there is none.
func (b *checks) worstWater(rows map[string][]*SetOut) [][2]*floating {
	out := make([][2]*floating, len(b.sup))
	next := map[string]int{}
	for i := range b.plan.Units {
		u := &b.plan.Units[i]
		worst, along, known := &out[b.supplyNamed(u.Supply).index], rows[u.Leg], false
		k := next[u.Leg]
		for k < len(along) && along[k].At < u.Start-beyondEnd {
			k++
		}
		next[u.Leg] = k
		for ; k < len(along) && along[k].At <= u.Start+u.Length+beyondEnd; k++ {
			if above := b.waterAt(along[k]); above != nil {
				known = true
				if worst[0] == nil || *above > *worst[0].above {
					worst[0] = &floating{u.Leg, along[k].Chainage, above}
				}
			}
		}
		if !known && worst[1] == nil {
			worst[1] = &floating{u.Leg, u.Chainage, nil}
		}
	}
	return out
}

// waterAt is the water above the underside at a place; nil: one of the two is not known.
func (b *checks) waterAt(r *SetOut) *measure.Length {
	if r.Levels == nil || r.Levels.Underside == nil {
		return nil
	}
	level := r.Levels.Water
	if w := b.job.Checks.Water.Level; w.Known {
		level = new(w.Value * b.net.unit)
	}
	if level == nil {
		return nil
	}
	return new(measure.FromMetres(*level) - measure.FromMetres(*r.Levels.Underside))
}

// supplyWhere is a supply as the place of an answer.
func supplyWhere(s *supply) finding.Where { return finding.Where{Path: "supplies." + s.ID} }

// holdEarth holds the walls of each supply against the earth beside them.
func (b *checks) holdEarth() {
	e := &b.job.Checks.Earth
	if !e.Weight.Known && !e.Surcharge.Known && e.Beside == nil && !e.Traffic {
		return
	}
	for i := range b.sup {
		s := &b.sup[i]
		if !b.laidAnywhere(s) || !s.Unit.Outer.Known {
			continue
		}
		w := &load.Wall{Height: &s.Unit.Outer.Value.Height, Weight: job.Quantity(e.Weight, check.UnitWeight), Phi: entered(e.Phi), SoilFrom: from(b, "", e.Weight), K: plainNumber(e.K), KFrom: from(b, "", e.K),
			Surcharge: job.Quantity(e.Surcharge, check.Pressure), Traffic: e.Traffic, StandsUnder: from(b, "", e.Surcharge), Bears: job.Quantity(s.WallBears, check.Pressure), BearsFrom: job.Source(b.job, s.Supply, s.WallBears)}
		if strip := e.Beside; strip != nil {
			if q := job.Quantity(job.Known(strip.Pressure), check.Pressure); q != nil {
				w.Strip = &load.Beam{Pressure: *q, Near: strip.Near, Far: strip.Far}
				w.StandsUnder = cmp.Or(w.StandsUnder, b.docText(b.job.Checks.From))
			}
		}
		q := load.Problem{Where: supplyWhere(s), Words: b.speech(), Wall: w}
		sol := load.Check(&q)
		b.held(sol.Answers, sol.Findings)
	}
}

// laidAnywhere tells whether a unit of a supply is laid.
func (b *checks) laidAnywhere(s *supply) bool {
	return slices.ContainsFunc(b.plan.Units, func(u Unit) bool { return u.Supply == s.ID })
}

// holdBed holds the ground below the bed, or below the pads, against what it is allowed.
func (b *checks) holdBed() {
	f := &b.job.Checks.Footing
	for i := range b.sup {
		s := &b.sup[i]
		if !b.laidAnywhere(s) {
			continue
		}
		bed := &load.Bed{Allows: job.Quantity(f.Allows, check.Pressure), AllowsFrom: from(b, "", f.Allows), Factor: plainNumber(f.Factor), FactorFrom: from(b, "", f.Factor)}
		bed.Stands, bed.StandsFrom = b.standsOn(s)
		if pad := s.Bearing; pad.On.Value == "pads" {
			bed.Pad = load.Patch{Across: pad.PadAcross.Value, Along: pad.PadAlong.Value}
			if lengths := s.Unit.Lengths.Value; len(lengths) > 0 {
				bed.Apart = new(slices.Max(lengths) + s.Joint.Gap.Value.Nominal)
			}
		} else if bed.Width = entered(f.Width); bed.Width == nil && s.Unit.Outer.Known {
			bed.Width = &s.Unit.Outer.Value.Width
		}
		if f.Weight.Known && f.Cohesion.Known && f.Phi.Known && s.Unit.Outer.Known {
			bed.Soil = &load.Soil{Cohesion: *job.Quantity(f.Cohesion, check.Pressure), Phi: f.Phi.Value, Weight: *job.Quantity(f.Weight, check.UnitWeight), Deep: s.Unit.Outer.Value.Height, From: from(b, "", f.Weight)}
		}
		q := load.Problem{Where: supplyWhere(s), Words: b.speech(), Bed: bed}
		sol := load.Check(&q)
		b.held(sol.Answers, sol.Findings)
	}
}

// standsOn is everything that stands on the bed of a supply, on a length of run: unit, covers, cables of the fullest leg.
func (b *checks) standsOn(s *supply) (*measure.LinearMass, string) {
	if !s.Unit.Mass.Known || s.Cover != nil && !s.Cover.Mass.Known {
		return nil, ""
	}
	sum, source := s.Unit.Mass.Value, b.speech().Word(wording.Unit)+" ("+job.Source(b.job, s.Supply, s.Unit.Mass)+")"
	if s.Cover != nil {
		sum, source = sum+s.Cover.Mass.Value, source+", covers"
	}
	if cables, known := b.cablesMass(); known && cables > 0 {
		sum, source = sum+cables, source+", all cables of the schedule"
	}
	return &sum, source
}

// holdFill holds layers against the method, and says how many tests each leg wants.
func (b *checks) holdFill() {
	d, t := &b.job.Dig, &b.job.Checks.Tests
	if d.Method != nil && d.Layer.Known {
		q := compaction.Problem{Where: finding.Where{Path: "dig.method"}, Words: b.speech(), Layers: &compaction.Layers{Layer: &d.Layer.Value, Fill: compaction.Fill(d.Method.Fill), Wholly: d.Method.Cohesive,
			Machine: compaction.Machine{Class: compaction.ByWord(d.Method.Class)}, From: job.SourceFrom(b.job, d.From, d.Layer)}}
		sol := compaction.Check(&q)
		b.held(sol.Answers, sol.Findings)
	}
	if !t.Every.Known {
		return
	}
	for i, leg := range b.plan.Legs {
		run := measure.Length(leg.ClearLength)
		q := compaction.Problem{Where: finding.Where{Leg: b.leg(i).ID}, Words: b.speech(), Tests: &compaction.Tests{Run: &run, Every: &t.Every.Value, EachLayers: entered(t.EachLayers), Least: entered(t.Least), Layers: b.layersOn(leg.Supply), From: from(b, "", t.Every)}}
		sol := compaction.Check(&q)
		b.held(sol.Answers, sol.Findings)
	}
}

// layersOn is how many layers of fill lie beside a supply, from its underside to its wall tops; nil: a thickness is not on file.
func (b *checks) layersOn(id string) *int {
	s, layer := b.supplyNamed(id), b.job.Dig.Layer
	if !layer.Known || !s.Unit.Outer.Known {
		return nil
	}
	return new(int((s.Unit.Outer.Value.Height + layer.Value - 1) / layer.Value))
}
