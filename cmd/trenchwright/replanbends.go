package main

import (
	"fmt"

	"trenchwright/job/planner"
)

// showBend shows a bend that was measured, and what may be done about it.
func (p program) showBend(t trench, b planner.BendNow) {
	say := t.millimetres
	fmt.Fprintf(p.out, "bend %s: turns by %.3f°, drawn with %.3f°: %s\n", b.Node, b.Measured, b.Drawn, b.Answer)
	rows := p.lines()
	for _, j := range b.Swing {
		rows.row(j.Joint, fmt.Sprintf("turns by %+.3f°, opens by %s at one wall and closes by as much at the other; %s of its budget are left", j.Turn, say(j.Opens), say(j.Left)))
	}
	for _, m := range b.Mitres {
		now := fmt.Sprintf("saw set to %+.3f°, was %+.3f°; left wall %s, right wall %s, from %s", m.Angle, m.Was, say(m.Left), say(m.Right), say(m.Stock))
		if m.Cut {
			now = fmt.Sprintf("is cut already, to %+.3f°: it stays", m.Was)
		}
		rows.row("or "+m.Place, now)
	}
	rows.w.Flush()
	for _, f := range b.Findings {
		fmt.Fprintln(p.out, f.Say(t.job.Speech()))
	}
}
