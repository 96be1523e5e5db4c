package main

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/solve/layout"
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

// both writes a length in both systems, millimetres first.
func both(m measure.MM) string {
	return measure.Pair{First: measure.Format{Places: 1}, Second: measure.Format{System: measure.Imperial}}.Length(measure.Length(m))
}

func (p program) showPlan(pl planner.Plan, j job.Job, dir string, files int, dataOnly bool) {
	t := pl.Totals
	fmt.Fprintf(p.out, "%s: %s, %s of run\n", pl.Job.Name, plural(t.Legs, "leg", "legs"), both(t.ClearLength))
	w := tabwriter.NewWriter(p.out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "  units\t%d, of them %d cut; bought %d\n", t.Units, t.Cuts, t.Bought)
	fmt.Fprintf(w, "  covers\t%d, of them %d cut; bought %d\n", t.Covers, t.CutCovers, t.CoversBuy)
	mass := "NOT CHECKED: a mass is missing. Ask: the supplier"
	if t.MassKG != nil {
		mass = fmt.Sprintf("%.1f t", *t.MassKG/1000)
	}
	fmt.Fprintf(w, "  mass\t%s\n", mass)
	for _, c := range pl.Proof.Cutting {
		fmt.Fprintf(w, "  cutting\t%s\n", c)
	}
	w.Flush()
	p.showFindings(pl.Findings, j)
	fmt.Fprintf(p.out, "Pack: %s (%s)\n", dir, plural(files, "file", "files"))
	if dataOnly {
		fmt.Fprintf(p.out, "  data %s\n", filepath.Join(dir, "plan.json"))
		return
	}
	fmt.Fprintf(p.out, "  sheets %s · cards %s · data %s\n", filepath.Join(dir, "sheets-A3.pdf"), filepath.Join(dir, "cut-cards-A4.pdf"), filepath.Join(dir, "plan.json"))
}

// showFindings shows what needs somebody whole, and counts the rest.
func (p program) showFindings(l finding.List, j job.Job) {
	n := map[finding.Kind]int{}
	for _, f := range l {
		n[f.Kind]++
		if f.Kind == finding.Impossible || f.Kind == finding.Attention {
			fmt.Fprintln(p.out, "  "+strings.ReplaceAll(f.Render(system(j)), "\n", "\n  "))
		}
	}
	var parts []string
	for _, k := range []finding.Kind{finding.Impossible, finding.Attention, finding.NotChecked, finding.Assumed, finding.Note} {
		if n[k] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n[k], k))
		}
	}
	if len(parts) > 0 {
		fmt.Fprintf(p.out, "Findings: %s (all in findings.txt)\n", strings.Join(parts, ", "))
	}
}

func (p program) showLeg(a planner.OneLegAnswer, q layout.Problem, s spot) {
	fmt.Fprintf(p.out, "%s: %s\n", both(measure.MM(q.Length)), a.Verdict)
	if a.Why != "" {
		fmt.Fprintln(p.out, a.Why)
	}
	for _, t := range a.Try {
		fmt.Fprintln(p.out, "  try: "+t)
	}
	if len(a.Units) > 0 {
		fmt.Fprintf(p.out, "%s, %s, %s; %s to buy\n", plural(a.Count.Units, "unit", "units"), plural(a.Count.Cuts, "cut", "cuts"), plural(a.Count.CutCovers, "cut cover", "cut covers"), plural(a.Count.Bought, "unit", "units"))
		w := tabwriter.NewWriter(p.out, 0, 0, 2, ' ', tabwriter.AlignRight)
		fmt.Fprintln(w, "unit\tstarts at\tlength\tgap after\t\tcovers\t")
		for i, u := range a.Units {
			cut := ""
			switch {
			case u.Hold:
				cut = "hold"
			case u.Cut:
				cut = "cut"
			}
			fmt.Fprintf(w, "%d\t%s\t%s\t%s\t%s\t%s\t\n", i+1, both(u.Start), both(u.Length), both(u.GapAfter), cut, coversText(u.Covers))
		}
		w.Flush()
	}
	for _, b := range a.Bound {
		fmt.Fprintln(p.out, b)
	}
	for _, t := range a.Assumed {
		fmt.Fprintln(p.out, t)
	}
}

func coversText(cs []planner.OneLegCover) string {
	var out []string
	for i := 0; i < len(cs); {
		k := i
		for k < len(cs) && cs[k].Length == cs[i].Length && cs[k].Cut == cs[i].Cut {
			k++
		}
		t := measure.Length(cs[i].Length).MMString()
		if k-i > 1 {
			t = fmt.Sprintf("%d × %s", k-i, t)
		}
		if cs[i].Cut {
			t += " cut"
		}
		out = append(out, t)
		i = k
	}
	return strings.Join(out, ", ")
}

func (p program) showCut(a cutAnswer) {
	if a.Why != "" {
		fmt.Fprintln(p.out, a.Why)
	}
	if a.Verdict == "found" {
		word := "proven: nothing costs less than"
		if !a.Proven {
			word = "proven so far: nothing costs less than"
		}
		fmt.Fprintf(p.out, "%s to buy, cost %d; %s %d\n", plural(a.Bought, "unit", "units"), a.Cost, word, a.Bound)
		for _, t := range a.Patterns {
			var ps []string
			for _, k := range t.Pieces {
				ps = append(ps, measure.Length(k.Length).MMString())
			}
			fmt.Fprintf(p.out, "  %d × %s: %s; left %s\n", t.Times, measure.Length(t.Stock), strings.Join(ps, " + "), measure.Length(t.Waste))
		}
	}
	for _, t := range a.Assumed {
		fmt.Fprintln(p.out, t)
	}
}
