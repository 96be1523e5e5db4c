// Package check is the frame of a check: what was held against what, by which rule, from which figures, worked out step by step, and
// who decides. The checks themselves stand in folders below it, one each.
//
// The map of the package:
//
//	check.go     Answer: one check, whole          rule.go   Rule: what says so, and how far it can be trusted
//	quantity.go  quantities in both unit systems   hold.go   a value and its uncertainty against a limit
//	speak.go     an answer in sentences and as findings
//	said.go      an answer in words, whole
//
// A check never makes a rating, a capacity or a factor up. What it needs and nobody entered is Missing, and with anything missing
// there is no verdict: the answer reads NOT CHECKED, with whom to ask. What can be worked out without it is worked out all the same.
package check

import "trenchwright/base/finding"

// Answer is one check. Verdict is empty where Missing is not.
type Answer struct {
	ID       string // stable, dotted: flotation.empty
	For      string // id of what of the job it is about, by whoever asked; empty: its place says so
	What     string // what is held: "the weight against the uplift, empty, without covers"
	Where    finding.Where
	Verdict  finding.Verdict
	Value    Quantity
	Limit    Quantity
	From     string // where the limit comes from: who stated it, in which document
	Given    []Given
	Working  []Step
	Rule     Rule
	Missing  []Missing
	Cautions []string
	Decides  string // who decides; never this program
	Try      string // what to try where the figure is not met
	Stop     bool   // a hard stop: what it holds back is not handed out
}

// Given is one figure that went in.
type Given struct {
	Name string
	Is   Quantity
	From string // document, person, drawing; "" only for constants, which say so in Name
}

// Step is one line of the working: what it is, how it comes about, and what it comes to.
type Step struct {
	Name string
	How  string // "buoyancy = density of water x g x area under water"
	Is   Quantity
}

// Missing is a figure that nobody entered.
type Missing struct{ What, Ask string }

// Need takes a figure in, or notes that it is missing.
func (a *Answer) Need(name string, is *Quantity, from, ask string) (Quantity, bool) {
	if is == nil {
		a.Missing = append(a.Missing, Missing{name, ask})
		return Quantity{}, false
	}
	a.Give(name, *is, from)
	return *is, true
}

// Give takes a figure in.
func (a *Answer) Give(name string, is Quantity, from string) {
	a.Given = append(a.Given, Given{name, is, from})
}

// Work adds a line to the working, and hands its figure on.
func (a *Answer) Work(name, how string, is Quantity) Quantity {
	a.Working = append(a.Working, Step{name, how, is})
	return is
}
