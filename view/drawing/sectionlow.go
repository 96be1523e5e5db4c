package drawing

import "trenchwright/job/planner"

// low is a place where the invert is lower than on all sides: water stays there.
type low struct{ leg, k int }

func (v *section) lowAt(p sectionPlace) bool { return v.isLow[low{p.leg, p.k}] }

// lowPoints are the lows of the invert: on a leg where it falls to a place and rises, or stays level, behind it; at a node
// where no leg leads on down.
func (v *section) lowPoints() []low {
	var out []low
	for leg, rows := range v.rowsOf {
		for k := 1; k+1 < len(rows); k++ {
			if falls, ok := v.downTo(rows, k, -1); ok && falls {
				if rises, ok := v.downTo(rows, k, 1); ok && rises {
					out = append(out, low{leg, k})
				}
			}
		}
	}
	for _, n := range v.plan.Nodes {
		if l, ok := v.lowNode(n); ok {
			out = append(out, l)
		}
	}
	return out
}

// downTo tells whether the invert comes down to row k from one side: over level stretches it is looked at farther off.
func (v *section) downTo(rows []planner.SetOut, k, way int) (down, ok bool) {
	const level = 1e-6 // m
	here := invertOf(rows[k])
	for i := k + way; here != nil && i >= 0 && i < len(rows); i += way {
		there := invertOf(rows[i])
		if there == nil {
			return false, false
		}
		if *there > *here+level {
			return true, true
		}
		if *there < *here-level || way < 0 { // of a level stretch the first place counts
			return false, true
		}
	}
	return false, false
}

func invertOf(r planner.SetOut) *float64 {
	if r.Levels == nil {
		return nil
	}
	if r.Levels.Invert != nil {
		return r.Levels.Invert
	}
	return r.Levels.Wall // a supply without its inside on file: the walls run as the invert does
}

// lowNode is the place at a node to which every leg there falls.
func (v *section) lowNode(n planner.Node) (low, bool) {
	var at low
	for i, name := range n.Legs {
		leg, ok := v.legs[name]
		if !ok || len(v.rowsOf[leg]) < 2 {
			return low{}, false
		}
		k, way := 0, 1
		if v.plan.Legs[leg].To == n.ID {
			k, way = len(v.rowsOf[leg])-1, -1
		}
		rows := v.rowsOf[leg]
		here, there := invertOf(rows[k]), invertOf(rows[k+way])
		if here == nil || there == nil || *there <= *here {
			return low{}, false
		}
		if i == 0 {
			at = low{leg, k}
		}
	}
	return at, len(n.Legs) > 0
}
