package main

import (
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/edge/folder"
	"trenchwright/job"
	"trenchwright/job/planner"
)

func system(j job.Job) measure.System {
	if j.System == job.Imperial {
		return measure.Imperial
	}
	return measure.Metric
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func faultText(l finding.List) string { return strings.TrimRight(l.Render(measure.Metric), "\n") }

func (p program) json(v any) error {
	e := json.NewEncoder(p.out)
	e.SetIndent("", " ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// exactly writes a length with nothing rounded away: in millimetres, or in feet and inches to 1/64 with the millimetres
// beside them where that does not hit it.
func exactly(l measure.Length, s measure.System) string {
	if s == measure.Metric {
		return l.String()
	}
	f := measure.Format{System: measure.Imperial, Fraction: 64}
	if f.Exact(l) {
		return f.Length(l)
	}
	return f.Length(l) + " (" + l.String() + ")"
}

// roughly writes the length of a run, which nobody cuts by: metres, or decimal feet.
func roughly(m measure.MM, s measure.System) string {
	places := map[measure.System]int{measure.Metric: 3, measure.Imperial: 2}
	return measure.Format{System: s, Survey: true, Places: places[s]}.Length(measure.Length(m))
}

// heavily writes the mass of a run: tonnes, or pounds.
func heavily(kg float64, s measure.System) string {
	if s == measure.Imperial {
		return measure.Format{System: s}.Mass(measure.Mass(math.Round(kg * 1000)))
	}
	return fmt.Sprintf("%.1f t", kg/1000)
}

func (p program) showPlan(pl packed, j job.Job) {
	t, dir := pl.Totals, pl.dir
	fmt.Fprintf(p.out, "%s: %s, %s from face to face, %s from node to node\n", pl.Job.Name, plural(t.Legs, "leg", "legs"), roughly(t.ClearLength, system(j)), roughly(fromNodes(pl.Plan), system(j)))
	w := tabwriter.NewWriter(p.out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "  %s\t%d, of them %d cut; bought %d\n", j.Speech().Word(wording.Units), t.Units, t.Cuts, t.Bought)
	fmt.Fprintf(w, "  covers\t%d, of them %d cut; bought %d\n", t.Covers, t.CutCovers, t.CoversBuy)
	mass := "NOT CHECKED: no mass of everything laid on file. Ask: the supplier"
	if t.Units == 0 {
		mass = "nothing is laid"
	}
	if t.MassKG != nil {
		mass = heavily(*t.MassKG, system(j))
	}
	fmt.Fprintf(w, "  mass\t%s\n", mass)
	showDown(w, pl.Plan, j)
	for _, c := range pl.Proof.Cutting {
		fmt.Fprintf(w, "  cutting\t%s\n", c)
	}
	w.Flush()
	p.showFindings(pl.Findings, j)
	fmt.Fprintf(p.out, "Pack: %s (%s)\n", dir, plural(len(pl.files), "file", "files"))
	for _, f := range []struct{ what, name string }{{"sheets", "sheets-A3.pdf"}, {"cards", "cut-cards-A4.pdf"}, {"data", "plan.json"}} {
		if slices.ContainsFunc(pl.files, func(o folder.File) bool { return o.Name == f.name }) {
			fmt.Fprintf(p.out, "  %-7s %s\n", f.what, filepath.Join(dir, f.name))
		}
	}
}

// fromNodes is how long the legs of a plan are from node to node, as chainages count: what is set back at bends, tees and ends is
// in it, and in the length from face to face, which units and gaps fill, it is not.
func fromNodes(pl planner.Plan) (sum measure.MM) {
	for _, l := range pl.Legs {
		sum += l.NodeLength
	}
	return sum
}

// showFindings shows what needs somebody whole, and counts the rest.
func (p program) showFindings(l finding.List, j job.Job) {
	n := map[finding.Kind]int{}
	for _, f := range l {
		n[f.Kind]++
		if f.Kind == finding.Impossible || f.Kind == finding.Attention {
			fmt.Fprintln(p.out, "  "+strings.ReplaceAll(f.Say(j.Speech()), "\n", "\n  "))
		}
	}
	var parts []string
	for _, k := range []finding.Kind{finding.Impossible, finding.Attention, finding.NotChecked, finding.Assumed, finding.Note} {
		if n[k] > 0 {
			word := string(k)
			if k == finding.Note && n[k] > 1 {
				word = "notes"
			}
			parts = append(parts, fmt.Sprintf("%d %s", n[k], word))
		}
	}
	if len(parts) > 0 {
		fmt.Fprintf(p.out, "Findings: %s (all in findings.txt)\n", strings.Join(parts, ", "))
	}
}

func (p program) showLeg(a legAnswer, s measure.System) {
	fmt.Fprintf(p.out, "understood: %s\n", a.Understood)
	for _, e := range a.Ends {
		fmt.Fprintln(p.out, e)
	}
	fmt.Fprintln(p.out, a.Verdict)
	if a.Why != "" {
		fmt.Fprintln(p.out, a.Why)
	}
	for _, t := range a.Try {
		fmt.Fprintln(p.out, "  try: "+t)
	}
	if len(a.Units) > 0 {
		p.showUnits(a, s)
	}
	for _, list := range [][]string{a.Bound, a.NotChecked, a.Assumed} {
		for _, line := range list {
			fmt.Fprintln(p.out, line)
		}
	}
}

func (p program) showUnits(a legAnswer, s measure.System) {
	n := a.Count
	fmt.Fprintf(p.out, "%s, %s, %s; %s to buy\n", plural(n.Units, "unit", "units"), plural(n.Cuts, "cut", "cuts"), plural(n.CutCovers, "cut cover", "cut covers"), plural(n.Bought, "unit", "units"))
	say := func(m measure.MM) string { return exactly(measure.Length(m), s) }
	w := tabwriter.NewWriter(p.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "unit\tstarts at\tlength\tgap after\t\tcovers\t")
	for i, u := range a.Units {
		cut, gap := "", "-"
		switch {
		case u.Hold:
			cut = "hold"
		case u.Cut:
			cut = "cut"
		}
		if i < len(a.Units)-1 {
			gap = say(u.GapAfter)
		}
		fmt.Fprintf(w, "%d\t%s\t%s\t%s\t%s\t%s\t\n", i+1, say(u.Start), say(u.Length), gap, cut, coversText(u.Covers, s))
	}
	w.Flush()
}

// coversText names the covers of one unit in order, those that follow each other alike together.
func coversText(cs []planner.OneLegCover, s measure.System) string {
	var out []string
	for i := 0; i < len(cs); {
		k := i
		for k < len(cs) && cs[k].Length == cs[i].Length && cs[k].Cut == cs[i].Cut {
			k++
		}
		t := exactly(measure.Length(cs[i].Length), s)
		if k-i > 1 {
			t = fmt.Sprintf("%d × %s", k-i, t)
		}
		if cs[i].Cut {
			t += " cut"
		}
		out = append(out, t)
		i = k
	}
	if len(out) == 0 {
		return "-"
	}
	return strings.Join(out, ", ")
}

func (p program) showCut(a cutAnswer, words wording.Speech) {
	if a.Verdict != "found" {
		fmt.Fprintf(p.out, "%s\n%s\n", a.Verdict, a.Why)
	} else {
		fmt.Fprintln(p.out, boughtText(a, words))
		for _, t := range a.Patterns {
			var ps []string
			for _, k := range t.Pieces {
				ps = append(ps, pieceText(k, words))
			}
			fmt.Fprintf(p.out, "  %d × %s: %s; %s lost\n", t.Times, inWords(measure.Length(t.Stock), words), strings.Join(ps, " + "), inWords(measure.Length(t.Waste), words))
		}
	}
	for _, t := range a.Assumed {
		fmt.Fprintln(p.out, t)
	}
}

// inWords is a length in full, in the system of the words.
func inWords(l measure.Length, words wording.Speech) string {
	if words.Imperial {
		return exactly(l, measure.Imperial)
	}
	return exactly(l, measure.Metric)
}

// boughtText is what is bought, and what is proven of it.
func boughtText(a cutAnswer, words wording.Speech) string {
	text := plural(a.Bought, words.Word(wording.Unit), words.Word(wording.Units)) + " to buy"
	so := "proven"
	if !a.Proven {
		so = "proven so far"
	}
	if a.Cost == int64(a.Bought) {
		return fmt.Sprintf("%s; %s: no cutting of these pieces buys fewer than %d", text, so, a.Bound)
	}
	return fmt.Sprintf("%s, cost %d; %s: no cutting of these pieces costs less than %d", text, a.Cost, so, a.Bound)
}

// pieceText is the length of a piece and, where it is mitred, its hand and angle.
func pieceText(k cutPiece, words wording.Speech) string {
	text := measure.Length(k.Length).MMString()
	if words.Imperial {
		text = inWords(measure.Length(k.Length), words)
	}
	if k.Hand != "" {
		text += fmt.Sprintf(" (%s %g°)", k.Hand, k.Angle)
	}
	return text
}
