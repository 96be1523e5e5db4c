package planner

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/ground"
	"trenchwright/place/route"
	"trenchwright/solve/levelling"
)

// pegs writes what the run is set out from: benchmarks, control points, and a peg beside every place that asks for one.
func (b *build) pegs() {
	s := &b.job.SetOut
	for _, m := range s.Benchmarks {
		b.plan.Benchmarks = append(b.plan.Benchmarks, b.surveyPoint(m.ID, m.At, m.Where, &m.Level, m.From))
	}
	for _, c := range s.Control {
		b.plan.Control = append(b.plan.Control, b.surveyPoint(c.ID, &c.At, c.Where, c.Level, c.From))
	}
	b.strayPoints()
	var where []pegPlace
	rows := b.rowsByLeg()
	for leg := range b.net.Legs {
		for _, g := range b.pegsOf(leg) {
			where = append(where, b.pegPlaces(leg, g, rows[leg])...)
		}
	}
	for i := range where {
		b.plan.Pegs = append(b.plan.Pegs, b.peg(&where[i]))
	}
	b.holdPegs(where)
}

func (b *build) surveyPoint(id string, at *[2]float64, where string, level *float64, from string) SurveyPoint {
	out := SurveyPoint{ID: id, Where: where, Source: b.docText(cmp.Or(from, b.job.SetOut.From))}
	if at != nil {
		out.E, out.N = metresOf(new(measure.FromMetres(at[0]*b.net.unit))), metresOf(new(measure.FromMetres(at[1]*b.net.unit)))
	}
	if level != nil {
		out.Level = metresOf(new(measure.FromMetres(*level * b.net.unit)))
	}
	return out
}

// pegsOf are the pegs that a leg asks for: its own, else those of every leg.
func (b *build) pegsOf(leg int) []job.Pegs {
	var own, all []job.Pegs
	for _, g := range b.job.SetOut.Pegs {
		switch g.Leg {
		case b.leg(leg).ID:
			own = append(own, g)
		case "":
			all = append(all, g)
		}
	}
	if len(own) > 0 {
		return own
	}
	return all
}

// rowsByLeg are the places of the set-out, leg by leg.
func (b *build) rowsByLeg() [][]SetOut {
	out := make([][]SetOut, len(b.net.Legs))
	for i := 0; i < len(b.plan.SetOut); {
		k := i
		for k < len(b.plan.SetOut) && b.plan.SetOut[k].Leg == b.plan.SetOut[i].Leg {
			k++
		}
		out[b.legAt[b.plan.SetOut[i].Leg]] = b.plan.SetOut[i:k]
		i = k
	}
	return out
}

// pegPlace is where one peg stands.
type pegPlace struct {
	leg             int
	at              measure.Length
	offset          measure.Length // right above nought
	place           string         // of the set-out; empty: none
	formation, wall *float64
	source          string
	on              route.Point
}

// pegPlaces are the places of one group of pegs along a leg; at each the left one first.
func (b *build) pegPlaces(leg int, g job.Pegs, rows []SetOut) []pegPlace {
	var out []pegPlace
	source := b.docText(cmp.Or(g.From, b.job.SetOut.From))
	add := func(p pegPlace) {
		p.leg, p.source = leg, source
		for _, side := range []struct {
			name string
			sign measure.Length
		}{{"left", -1}, {"right", 1}} {
			if g.Side == side.name || g.Side == "both" {
				p.offset = side.sign * g.Offset
				p.on = b.axes[leg].line.Beside(p.at, p.offset)
				out = append(out, p)
			}
		}
	}
	if len(g.At) == 0 {
		for i := range rows {
			p := pegPlace{at: measure.Length(rows[i].Chainage), place: rows[i].Place}
			if l := rows[i].Levels; l != nil {
				p.formation, p.wall = l.Formation, l.Wall
			} else {
				p.wall = rows[i].Level
			}
			add(p)
		}
		return out
	}
	stated := slices.Clone(g.At)
	slices.Sort(stated)
	for _, at := range slices.Compact(stated) {
		if at > b.axes[leg].line.Length() {
			b.pegOffLeg(leg, at)
			continue
		}
		p := pegPlace{at: at}
		p.formation = levelBetween(rows, at, func(l *Levels) *float64 { return l.Formation }, func(v *Before) *float64 { return v.Formation })
		p.wall = levelBetween(rows, at, func(l *Levels) *float64 { return l.Wall }, func(v *Before) *float64 { return v.Wall })
		add(p)
	}
	return out
}

// levelBetween is a level at a chainage: between two places of the set-out a unit lies, and it is straight.
func levelBetween(rows []SetOut, at measure.Length, behind func(*Levels) *float64, before func(*Before) *float64) *float64 {
	for k := 0; k+1 < len(rows); k++ {
		from, to := measure.Length(rows[k].Chainage), measure.Length(rows[k+1].Chainage)
		if at < from || at > to || rows[k].Levels == nil || rows[k+1].Levels == nil {
			continue
		}
		z0, z1 := behind(rows[k].Levels), behind(rows[k+1].Levels)
		if v := rows[k+1].Levels.Before; v != nil {
			z1 = before(v)
		}
		if z0 == nil || z1 == nil || to == from {
			return z0
		}
		u := (at - from).Metres() / (to - from).Metres()
		return metresOf(new(measure.FromMetres(*z0 + float64((*z1-*z0)*u))))
	}
	return nil
}

// peg is one peg: where it stands, the ground there, and what is dug or filled from that ground.
func (b *build) peg(p *pegPlace) Peg {
	c, side := b.net.origin.Coordinates(p.on), levelling.SideOf(p.offset)
	out := Peg{Leg: b.leg(p.leg).ID, Place: p.place, Chainage: measure.MM(p.at), Side: string(side.Way), Arrow: side.Way.Arrow(), Offset: measure.MM(side.Amount),
		E: c.E.Metres(), N: c.N.Metres(), Formation: p.formation, Wall: p.wall, Source: p.source}
	if g := b.ground.Of(ground.Existing); g != nil {
		if z, ok := g.At(p.on); ok {
			level := ground.Record(z.Z)
			out.Ground = metresOf(&level)
		}
	}
	out.ToFormation, out.ToWall = pegFigure(out.Ground, p.formation), pegFigure(out.Ground, p.wall)
	return out
}

func pegFigure(from, wanted *float64) *PegFigure {
	if from == nil || wanted == nil {
		return nil
	}
	m := levelling.FromPeg(measure.FromMetres(*from), measure.FromMetres(*wanted))
	return &PegFigure{Way: string(m.Way), Arrow: m.Way.Arrow(), Amount: measure.MM(m.Amount)}
}
