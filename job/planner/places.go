package planner

import (
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// Places are what records of the site are about: the units of the plan in laying order, leg by leg, with their covers.
func (p Plan) Places() *field.Run {
	run := &field.Run{Legs: make([]field.Leg, len(p.Legs))}
	legs := map[string]int{}
	for i, l := range p.Legs {
		run.Legs[i].ID = l.Name
		legs[l.Name] = i
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
		if n := len(l.Units); n > 1 {
			l.Units[n-2].End = start
		}
	}
	for _, j := range p.Joints {
		before, _, _ := strings.Cut(j.Name, "/")
		if at, ok := units[before]; ok {
			u := &run.Legs[at.leg].Units[at.unit]
			u.Gap, u.End = measure.Length(j.Gap), measure.Length(j.At-j.Gap)
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
	return run
}

func lyingAs(supply, what, mark string, stock measure.MM, cut bool) field.Piece {
	if cut {
		return field.Piece{Supply: supply, What: what, Mark: mark}
	}
	return field.Piece{Supply: supply, What: what, Length: measure.Length(stock)}
}
