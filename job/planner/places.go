package planner

import (
	"math"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// Places are what records of the site are about: the units of the plan in laying order, leg by leg, with their covers.
func (p Plan) Places() *field.Run {
	run := &field.Run{Legs: make([]field.Leg, len(p.Legs)), Bends: map[string]measure.Angle{}}
	for _, n := range p.Nodes {
		if n.Deflection != 0 {
			run.Bends[n.ID] = measure.FromDegrees(math.Abs(n.Deflection))
		}
	}
	legs := map[string]int{}
	for i, l := range p.Legs {
		run.Legs[i] = field.Leg{ID: l.Name, Back: l.LaidFrom == l.To && l.From != l.To, Setback: measure.Length(l.StartSetback), Withdrawn: l.Withdrawn}
		legs[l.Name] = i
	}
	sources := map[string]string{}
	for _, h := range p.Supplies {
		sources[h.ID] = "joint of supply " + h.ID + ", " + h.Source
	}
	type place struct{ leg, unit int }
	units := map[string]place{}
	for _, u := range p.Units {
		i := legs[u.Leg]
		l := &run.Legs[i]
		units[u.Mark] = place{i, len(l.Units)}
		start := measure.Length(u.Start)
		l.Units = append(l.Units, field.Unit{
			Place: u.Mark, Start: start, End: measure.Length(p.Legs[i].ClearLength),
			Piece: lyingAs(u.Supply, "unit", u.Mark, u.Stock, u.Cut), Stock: lyingAs(u.Supply, "unit", "", u.Stock, false),
		})
		if !u.Hold { // a closer is cut from what is measured there, and not as planned
			l.Units[len(l.Units)-1].Long, l.Units[len(l.Units)-1].Walls = measure.Length(u.Length), walls(&u)
		}
		if n := len(l.Units); n > 1 {
			l.Units[n-2].End = start
		}
	}
	for _, j := range p.Joints {
		before, _, _ := strings.Cut(j.Name, "/")
		if at, ok := units[before]; ok {
			u := &run.Legs[at.leg].Units[at.unit]
			u.Gap, u.End = measure.Length(j.Gap), measure.Length(j.At-j.Gap)
			u.GapLeast, u.GapMost, u.GapFrom = measure.Length(j.GapMin), measure.Length(j.GapMax), sources[u.Piece.Supply]
		}
	}
	for _, c := range p.Covers {
		at, ok := units[c.Unit]
		if !ok {
			continue
		}
		u := &run.Legs[at.leg].Units[at.unit]
		u.Covers = append(u.Covers, c.Mark)
		u.Lids = append(u.Lids, lyingAs(u.Piece.Supply, "cover", c.Mark, c.Stock, c.Cut))
	}
	p.levelled(run)
	return run
}

// walls are the lengths of a unit on its left and its right side.
func walls(u *Unit) [2]measure.Length {
	if u.Piece != nil {
		return [2]measure.Length{measure.Length(u.Piece.LeftSide), measure.Length(u.Piece.RightSide)}
	}
	return [2]measure.Length{measure.Length(u.Length), measure.Length(u.Length)}
}

// point is a place of the set-out in the job's coordinates.
func (p Plan) point(r *SetOut) field.Point {
	return field.Point{Easting: measure.FromMetres(p.Job.Origin[0] + r.E), Northing: measure.FromMetres(p.Job.Origin[1] + r.N)}
}

// levelled puts where the units lie and the planned levels at their corners, where both ends have them.
func (p Plan) levelled(run *field.Run) {
	rows := map[string][]*SetOut{}
	for i := range p.SetOut {
		rows[p.SetOut[i].Leg] = append(rows[p.SetOut[i].Leg], &p.SetOut[i])
	}
	names := map[string]string{"formation": "formation", "bed": "bed", "pad": "pad", "invert": "invert", "wall": "top"}
	for l := range run.Legs {
		leg := &run.Legs[l]
		of := rows[leg.ID]
		if len(of) != len(leg.Units)+1 {
			continue
		}
		for i := range leg.Units {
			u := &leg.Units[i]
			u.Points = [2]field.Point{p.point(of[i]), p.point(of[i+1])}
			for _, name := range []string{"formation", "bed", "pad", "wall", "invert"} {
				a, b, start := rodLevel(of[i], names[name])
				c, d, end := rodLevel(of[i+1], names[name])
				if !start || !end {
					continue
				}
				if before := of[i+1].before(names[name]); before != nil {
					d += *before - c
					c = *before
				}
				u.Levels = append(u.Levels, field.Planned{Of: name, Four: [4]measure.Length{a, b, c, d}})
			}
		}
	}
}

func lyingAs(supply, what, mark string, stock measure.MM, cut bool) field.Piece {
	if cut {
		return field.Piece{Supply: supply, What: what, Mark: mark}
	}
	return field.Piece{Supply: supply, What: what, Length: measure.Length(stock)}
}
