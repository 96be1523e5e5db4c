package planner

import (
	"slices"

	"trenchwright/base/measure"
	"trenchwright/solve/earthwork"
)

// writeDig puts the dig into the plan.
func (b *build) writeDig(p *earthwork.Problem, s *earthwork.Solution, legs []laid) *Dig {
	out := &Dig{Total: volumes(s.Total), Legs: []LegDig{}, Balances: []DigBalance{}, Strip: []StripNeed{}, Sections: []DigSection{}}
	for i := range s.Legs {
		out.Legs = append(out.Legs, legDig(p, &s.Legs[i]))
	}
	for _, x := range s.Balances {
		out.Balances = append(out.Balances, balance(x))
	}
	if f := s.Fabric; f != nil {
		out.Fabric = &DigFabric{Covered: f.Covered, Order: f.Order, Sheets: f.Sheets, Laps: f.Laps}
	}
	for i := range s.Strip {
		out.Strip = append(out.Strip, stripNeed(p.Legs[s.Strip[i].Leg].Name, &s.Strip[i]))
	}
	out.Pits = b.digPits(p)
	b.writeSections(p, s, legs, out)
	return out
}

func legDig(p *earthwork.Problem, l *earthwork.LegDig) LegDig {
	leg := LegDig{Leg: l.Name, Volumes: volumes(l.Total), Exact: float64(l.Approx.Exact), EndArea: float64(l.Approx.EndArea), Prismoidal: float64(l.Approx.Prismoidal),
		DeepestAt: measure.MM(l.Deepest.At), Deepest: measure.MM(l.Deepest.Depth), Running: []DigRunning{}, Marks: []DigMark{}}
	var q, none earthwork.Quantities
	for k, r := range l.Running {
		add := none
		if k > 0 {
			add = l.Spans[k-1]
		}
		q.Topsoil, q.Soil, q.Rock, q.Stone = q.Topsoil+add.Topsoil, q.Soil+add.Soil, q.Rock+add.Rock, q.Stone+add.Stone
		q.Fill, q.TopsoilBack = q.Fill+add.Fill, q.TopsoilBack+add.TopsoilBack
		row := DigRunning{At: measure.MM(r.At), Dug: float64(r.Dug), Fill: float64(r.Fill), Stone: float64(q.Stone), Leaves: leaves(p, &q)}
		if r.Mass != nil {
			mass := float64(*r.Mass)
			row.Mass = &mass
		}
		if k < len(l.Deep) {
			depth := measure.MM(l.Deep[k].Depth)
			row.Deepest = &depth
		}
		leg.Running = append(leg.Running, row)
	}
	return leg
}

// leaves is what leaves of quantities less what is brought in, in the ground: all rock, soil and topsoil but for what goes
// back. Where soil may not be filled in again all of it leaves, and the fill comes from elsewhere. nil: what goes back
// cannot be told without a factor.
func leaves(p *earthwork.Problem, q *earthwork.Quantities) *float64 {
	out := float64(q.Topsoil) + float64(q.Soil) + float64(q.Rock)
	for _, m := range []struct {
		of   earthwork.Material
		back measure.Volume
	}{{earthwork.Topsoil, q.TopsoilBack}, {earthwork.Soil, q.Fill}} {
		if m.back == 0 || m.of == earthwork.Soil && (p.Reuse == nil || !*p.Reuse) {
			continue
		}
		k := slices.IndexFunc(p.Factors, func(f earthwork.Factor) bool { return f.Of == m.of })
		if k < 0 {
			return nil
		}
		out -= float64(m.back) / p.Factors[k].Compacted
	}
	return &out
}

func stripNeed(leg string, n *earthwork.StripNeed) StripNeed {
	need := StripNeed{Leg: leg, Side: string(n.Side), At: measure.MM(n.At), Edge: measure.MM(n.Edge), Need: measure.MM(n.Need), Land: mmOf(n.Land), Whole: n.Whole, Uses: []StripPlace{}}
	for _, u := range n.Uses {
		need.Uses = append(need.Uses, StripPlace{What: string(u.What), From: measure.MM(u.From), Width: measure.MM(u.Width)})
	}
	return need
}

func volumes(q earthwork.Quantities) DigVolumes {
	v := DigVolumes{Run: q.Run, Dug: float64(q.Dug()), Topsoil: float64(q.Topsoil), Soil: float64(q.Soil), Rock: float64(q.Rock), Stone: float64(q.Stone), Pads: float64(q.Pads),
		Pipe: float64(q.Pipe), Unit: float64(q.Unit), Fill: float64(q.Fill), TopsoilBack: float64(q.TopsoilBack), Opened: q.Width, Layers: [][2]float64{}}
	layers := q.Layers
	for n := len(layers); n > 0 && layers[n-1] == (earthwork.LayerFill{}); n-- {
		layers = layers[:n-1]
	}
	for _, l := range layers {
		v.Layers = append(v.Layers, [2]float64{float64(l.Left), float64(l.Right)})
	}
	return v
}

// balance is what becomes of one material; what nobody can tell without a factor stays null.
func balance(x earthwork.Balance) DigBalance {
	out := DigBalance{Of: string(x.Of), Dug: state(x.Dug), Back: state(x.Back), Loads: x.Loads, Load: x.Load, Source: x.Source}
	if !x.Open {
		out.In, out.Leaves = state(x.In), state(x.Leaves)
	}
	return out
}

// state is a heap in its three forms; null: no factor is on file.
func state(s earthwork.State) DigState {
	bank := float64(s.Bank)
	out := DigState{Bank: &bank}
	if s.Known {
		loose, compacted := float64(s.Loose), float64(s.Compacted)
		out.Loose, out.Compacted = &loose, &compacted
	} else if s.Bank == 0 && s.Compacted != 0 {
		compacted := float64(s.Compacted)
		out.Bank, out.Compacted = nil, &compacted
	}
	return out
}
