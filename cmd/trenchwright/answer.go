package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// showCheck prints one check: the sentence, what went in, how it was worked out, by which rule.
func (p program) showCheck(a check.Said) {
	fmt.Fprintln(p.out, a.Sentence)
	t := p.lines()
	for _, g := range a.Given {
		from := ""
		if g.From != "" {
			from = "\tfrom " + g.From
		}
		t.row(g.Name, g.Is+from)
	}
	t.w.Flush()
	t = p.lines()
	for _, s := range a.Working {
		t.row(s.Name+"\t= "+s.How, "= "+s.Is)
	}
	t.w.Flush()
	fmt.Fprintln(p.out, "  rule: "+a.Rule)
}

// showChecks prints checks, each caution once, and what is not on file.
func (p program) showChecks(list []check.Said, notChecked []string) {
	said := map[string]bool{}
	for i, c := range list {
		if i > 0 {
			fmt.Fprintln(p.out)
		}
		p.showCheck(c)
		for _, m := range c.Missing {
			said[m] = true
		}
	}
	if len(list) > 0 {
		fmt.Fprintln(p.out)
	}
	for _, c := range list {
		for _, caution := range c.Cautions {
			if !said[caution] {
				said[caution] = true
				fmt.Fprintln(p.out, "Caution: "+caution+".")
			}
		}
	}
	for _, line := range notChecked {
		if !said[line] {
			fmt.Fprintln(p.out, line)
		}
	}
}

// notOnFile are the findings that say that something is not on file, or that a hard stop stands.
func notOnFile(list finding.List) []string {
	out := []string{}
	for _, f := range list {
		if f.Kind == finding.NotChecked || f.ID == "lifting.stop" {
			out = append(out, f.Text)
		}
	}
	return out
}

// endsOf is the outcome of checks: one that does not meet its figure is a fault.
func endsOf(list []check.Answer) error {
	for _, a := range list {
		if a.Verdict == finding.DoesNot {
			return outcome{code: exitFaults}
		}
	}
	return nil
}

// share reads a plain number.
func (a *asked) share(name, text string) *float64 {
	if text == "" {
		return nil
	}
	x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		a.fault(name, "%q is not a number; write for example 1.1", text)
		return nil
	}
	return &x
}

// lineMass reads a mass per length; nil where there is none.
func (a *asked) lineMass(name, text string) *measure.LinearMass {
	if text == "" {
		return nil
	}
	said, err := measure.ParseLinearMass(text)
	if err != nil {
		a.fault(name, "%v", err)
		return nil
	}
	return &said.Value
}
