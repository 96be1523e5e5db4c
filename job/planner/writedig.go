package planner

import (
	"trenchwright/base/measure"
	"trenchwright/solve/earthwork"
)

// writeDig puts the dig into the plan.
func (b *build) writeDig(p *earthwork.Problem, s *earthwork.Solution) *Dig {
	out := &Dig{Total: volumes(s.Total), Legs: []LegDig{}, Balances: []DigBalance{}, Strip: []StripNeed{}}
	for _, l := range s.Legs {
		leg := LegDig{Leg: l.Name, Volumes: volumes(l.Total), Exact: float64(l.Approx.Exact), EndArea: float64(l.Approx.EndArea), Prismoidal: float64(l.Approx.Prismoidal),
			DeepestAt: measure.MM(l.Deepest.At), Deepest: measure.MM(l.Deepest.Depth), Running: []DigRunning{}}
		for k, r := range l.Running {
			row := DigRunning{At: measure.MM(r.At), Dug: float64(r.Dug), Fill: float64(r.Fill)}
			if k < len(l.Deep) {
				depth := measure.MM(l.Deep[k].Depth)
				row.Deepest = &depth
			}
			leg.Running = append(leg.Running, row)
		}
		out.Legs = append(out.Legs, leg)
	}
	for _, x := range s.Balances {
		out.Balances = append(out.Balances, DigBalance{Of: string(x.Of), Dug: state(x.Dug), Back: state(x.Back), In: state(x.In), Leaves: state(x.Leaves), Loads: x.Loads, Source: x.Source})
	}
	if f := s.Fabric; f != nil {
		out.Fabric = &DigFabric{Covered: f.Covered, Order: f.Order, Sheets: f.Sheets, Laps: f.Laps}
	}
	for _, n := range s.Strip {
		need := StripNeed{Leg: p.Legs[n.Leg].Name, Side: string(n.Side), At: measure.MM(n.At), Edge: measure.MM(n.Edge), Need: measure.MM(n.Need), Land: mmOf(n.Land), Whole: n.Whole, Uses: []StripPlace{}}
		for _, u := range n.Uses {
			need.Uses = append(need.Uses, StripPlace{What: string(u.What), From: measure.MM(u.From), Width: measure.MM(u.Width)})
		}
		out.Strip = append(out.Strip, need)
	}
	return out
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
