package drawing

import (
	"fmt"

	"trenchwright/view/scene"
)

// branchLabels say on which sheet a leg is found that meets a node of this window, the one with the number own, and is not
// on it. Where the run goes on at a match line, that says so already.
func (p *plot) branchLabels(windows []window, own int) {
	if p.whole {
		return
	}
	for _, n := range p.plan.Nodes {
		if !p.here(n) {
			continue
		}
		for _, e := range p.endsAt(n) {
			unit := p.draft.units[e.unit.Mark]
			i := p.windowOf[unit]
			if i == own || p.matched(windows[i], unit, own-i) {
				continue
			}
			text := fmt.Sprintf("leg %s: plan %d", e.unit.Leg, i+2)
			p.keep(text, p.fromEdges(e.unit, text, scene.Bold)...)
		}
	}
}

// matched reports whether a unit of another window stands at the match line between the two: after ours its first, before
// ours its last. ahead is how many windows ours lies ahead of it.
func (p *plot) matched(w window, unit, ahead int) bool {
	if w.chain != p.chain {
		return false
	}
	first, last := w.ends()
	return ahead == -1 && unit == first || ahead == 1 && unit == last
}
