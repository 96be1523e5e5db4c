package levelling

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
)

// mostSuspects is how many lines are looked for one after the other. A network with more is not one with blunders.
const mostSuspects = 100

// suspects looks for blunders one at a time: the line with the greatest normalised residual is set aside where that reaches
// the stated level, the rest is adjusted again, and so on. Of lines that are equally bad the first one is taken.
func (n *net) suspects(s *solved) []Suspect {
	if n.Suspect == 0 {
		return nil
	}
	var found []Suspect
	out := make([]bool, len(n.Lines))
	for len(found) < mostSuspects && s.redundant > 0 {
		worst := Residual{Line: -1}
		for l, r := range s.residuals() {
			if !out[l] && r.Normalised > worst.Normalised {
				worst = r
			}
		}
		if worst.Line < 0 || worst.Normalised < n.Suspect {
			break
		}
		off := -s.v(worst.Line) / worst.Share // levelled less what the others make of it: a line's residual is its share of that
		found = append(found, Suspect{Line: worst.Line, Normalised: worst.Normalised, Off: settle(0, off)})
		out[worst.Line] = true
		next, bad := n.solve(out)
		if bad >= 0 {
			break
		}
		s = next
	}
	return found
}

// judgeLoops holds every loop against the tolerance.
func (n *net) judgeLoops(a *Adjusted) {
	var verdicts []Verdict
	said := map[string]bool{}
	for i := range a.Loops {
		l := &a.Loops[i]
		where := n.at(l.Lines[len(l.Lines)-1])
		l.Closed = n.Close.Close(l.Misclosure, l.Distance, l.Setups, where)
		verdicts = append(verdicts, l.Verdict)
		if l.Missing != nil && !said[l.Missing.Text] { // once for all loops
			said[l.Missing.Text] = true
			l.Missing.Where = finding.Where{Path: "network"}
			a.Said = append(a.Said, *l.Missing)
		}
		if l.Verdict == DoesNot {
			a.Said = append(a.Said, n.loopFinding(*l, where))
		}
	}
	a.Verdict = worst(verdicts...)
	if len(a.Loops) == 0 {
		a.Said = append(a.Said, finding.NoneOnFile("line beyond the ones that are needed, so that nothing closes", "whoever levels, for a line that closes a loop", finding.Where{Path: "network"}))
	}
}

func (n *net) loopFinding(l Loop, where finding.Where) finding.Finding {
	kind := "the loop"
	if l.Between {
		kind = "the way between two benchmarks"
	}
	f := finding.Finding{ID: "levelling.loop-does-not-close", Kind: finding.Fault, Where: where,
		Text:  fmt.Sprintf("%s %s does not close. The network is refused, not adjusted", kind, way(l.Points)),
		Limit: n.Figures.AtLeast(4).Say(*l.Allowed), Value: n.Figures.Signed(l.Misclosure), Rule: n.Close.String(), Try: "level the lines of this loop again, the one that other bad loops share first"}
	if n.Close.Source != "" {
		f.Rule += " (" + n.Close.Source + ")"
	}
	return f
}

// way is the points of a loop in words; of a long one its beginning and its end.
func way(points []string) string {
	const most = 12
	if len(points) > most {
		left := len(points) - most
		return strings.Join(points[:most/2], "-") + fmt.Sprintf("-… %d more …-", left) + strings.Join(points[len(points)-most/2:], "-")
	}
	return strings.Join(points, "-")
}

func (n *net) judgeSuspects(a *Adjusted) {
	if n.Suspect == 0 {
		a.Said = append(a.Said, finding.NoneOnFile("level for suspecting a line of a blunder", "the surveyor", finding.Where{Path: "network"}))
		return
	}
	for _, s := range a.Suspects {
		l := n.Lines[s.Line]
		a.Said = append(a.Said, finding.Finding{ID: "levelling.suspect", Kind: finding.Fault, Where: n.at(s.Line),
			Text:  fmt.Sprintf("the line %q to %q is suspected: it is off by %s from what the other lines make of it. The network is refused, not adjusted", l.From, l.To, n.Figures.AtLeast(4).Signed(s.Off)),
			Limit: fmt.Sprintf("normalised residual below %g", n.Suspect), Value: fmt.Sprintf("%.2f", s.Normalised),
			Try: "look it up in the book, level it again, or leave the line out"})
		a.Verdict = DoesNot
	}
}

// sayParts names what hangs on no benchmark.
func (n *net) sayParts(a *Adjusted) {
	if len(a.Parts) > 1 {
		for i, p := range a.Parts {
			if n.Free {
				a.Said = append(a.Said, finding.Finding{ID: "levelling.apart", Kind: finding.Attention, Where: finding.Where{Path: "network"},
					Text: fmt.Sprintf("part %d of %d, %s, is tied to none of the others: its levels are its own", i+1, len(a.Parts), names(p.Points)), Try: "a line to another part"})
			}
		}
	}
	for _, p := range a.Parts {
		if !p.Tied {
			a.Said = append(a.Said, finding.Finding{ID: "levelling.untied", Kind: finding.Attention, Where: finding.Where{Path: "network"},
				Text: fmt.Sprintf("no line ties %s to a benchmark: no levels there", names(p.Points)), Try: "a line to a benchmark, or the level of one of these"})
		}
	}
}

// names is points in words; of many the first few.
func names(points []string) string {
	const most = 8
	if len(points) > most {
		return strings.Join(points[:most], ", ") + fmt.Sprintf(" and %d more", len(points)-most)
	}
	return strings.Join(points, ", ")
}
