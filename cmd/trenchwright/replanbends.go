package main

import (
	"fmt"
	"strings"

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
	or := ""
	if len(b.Swing) > 0 && len(b.Mitres) > 0 {
		or = "or "
	}
	for _, m := range b.Mitres {
		now := fmt.Sprintf("saw set to %+.3f°, was %+.3f°; left wall %s, right wall %s, from %s", m.Angle, m.Was, say(m.Left), say(m.Right), say(m.Stock))
		if m.Cut {
			now = fmt.Sprintf("is cut already, to %+.3f°: it stays", m.Was)
		}
		rows.row(or+m.Place, now)
	}
	for _, w := range b.Ways {
		text := w.Name + "; what lies beyond turns with it: " + strings.Join(w.Moves, ", ")
		if w.Off > 0 {
			text += "; the bend comes to lie " + say(w.Off) + " beside the line as drawn"
		}
		rows.row(fmt.Sprintf("answer %s=%d", b.Node, w.Number), text)
	}
	rows.w.Flush()
	for _, f := range b.Findings {
		fmt.Fprintln(p.out, f.Say(t.job.Speech()))
	}
}
