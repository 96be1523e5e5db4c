package main

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/levelling"
	"trenchwright/view/levelbook"
)

// levelbookCommand reduces a level book, or adjusts a network of levels.
type levelbookCommand struct {
	Book    string `arg:"" help:"CSV of a level book: point,bs,is,fs,known; with --network from,to,rise and length, setups or sd."`
	Network bool   `help:"The file is a network of levels, to be adjusted by least squares."`
	Unit    string `help:"What bare numbers in the file are in: m, ft, usft, mm. Without it, and without one in the file, figures stay as they are written." placeholder:"UNIT"`

	closingFlags

	Distance string   `help:"How long the line is, where the book has no distances." placeholder:"LENGTH"`
	Spread   string   `enum:",setups,distance" default:"" help:"Adjust: share what the book closes by over set-ups, or over distance." placeholder:"setups|distance"`
	Correct  []string `sep:"none" help:"A benchmark's level on file was wrong, and is this: what moves, and which verdicts flip. May be repeated." placeholder:"POINT=LEVEL"`

	Fix     []string `sep:"none" help:"Network: a benchmark that is held, besides those in the file. May be repeated." placeholder:"POINT=LEVEL"`
	Free    bool     `help:"Network: hold no benchmark; levels stand about those on file, on average."`
	Weigh   string   `enum:",distance,setups,sd" default:"" help:"Network: weight lines by this; else by sd where all have one, else length, else set-ups." placeholder:"distance|setups|sd"`
	Suspect float64  `help:"Network: suspect a line of a blunder from this normalised residual on." placeholder:"NUMBER"`

	Out  string `short:"o" help:"Write the reduced book out as pages on A4, with the check of each page at its foot: a file .pdf, or a folder of their own." placeholder:"FILE.pdf|DIR"`
	JSON bool   `name:"json" help:"Answer as JSON."`
}

// closingFlags are the tolerance that somebody states; none of them is a default.
type closingFlags struct {
	PerRootKm    string `help:"Allow this times √K, K the length in km." placeholder:"LENGTH" xor:"close"`
	PerRootMile  string `help:"Allow this times √M, M the length in miles." placeholder:"LENGTH" xor:"close"`
	PerSetup     string `help:"Allow this for each set-up." placeholder:"LENGTH" xor:"close"`
	PerRootSetup string `help:"Allow this times √n, n the set-ups." placeholder:"LENGTH" xor:"close"`
	Within       string `help:"Allow this, however long the line." placeholder:"LENGTH" xor:"close"`
}

func (c closingFlags) tolerance(a *asked) levelling.Tolerance {
	var t levelling.Tolerance
	for _, f := range []struct {
		name, text string
		rule       levelling.Rule
	}{
		{"--per-root-km", c.PerRootKm, levelling.RootKm}, {"--per-root-mile", c.PerRootMile, levelling.RootMile}, {"--per-setup", c.PerSetup, levelling.PerSetup},
		{"--per-root-setup", c.PerRootSetup, levelling.RootSetup}, {"--within", c.Within, levelling.Outright},
	} {
		if f.text != "" {
			t = levelling.Tolerance{Rule: f.rule, K: a.positive(f.name, f.text, "a tolerance"), Source: "as stated on the command line"}
			if err := t.Fault(); err != nil && t.K > 0 {
				a.fault(f.name, "%v", err)
			}
		}
	}
	return t
}

// unit is the unit of bare numbers that was asked for.
func (a *asked) unit(text string) measure.Unit {
	if text == "" {
		return measure.NoUnit
	}
	u, err := measure.ParseUnit(text)
	if err != nil {
		a.fault("--unit", "%q is no unit of length; write m, ft, usft or mm", text)
	}
	return u
}

// pointLevel is POINT=LEVEL; a bare level is in the figures of the file.
func (a *asked) pointLevel(name, text string, f levelling.Figures) (string, measure.Length) {
	i := strings.LastIndex(text, "=")
	if i <= 0 {
		a.fault(name, "%q is not of the form POINT=LEVEL; write for example BM2=101.345", text)
		return "", 0
	}
	unit := f.Unit
	if unit == measure.NoUnit {
		unit = measure.UnitMetre // stands for no unit, as in the file
	}
	r, err := measure.ParseIn(text[i+1:], unit)
	switch _, bare := measure.Parse(text[i+1:]); {
	case err != nil:
		a.fault(name, "%v", err)
	case bare == nil && f.Unit == measure.NoUnit:
		a.fault(name, "%s has a unit, and nothing says what the figures of the file are in; give --unit", text[i+1:])
	}
	return strings.TrimSpace(text[:i]), r.Length
}

func (c *levelbookCommand) Run(p program) error {
	a := &asked{command: "levelbook"}
	o := levelbook.Options{File: c.Book, Unit: a.unit(c.Unit)}
	t := c.tolerance(a)
	c.misplaced(a)
	if err := a.ends(); err != nil {
		return err
	}
	f, err := p.open("levelbook", c.Book)
	if err != nil {
		return err
	}
	defer f.Close()
	if c.Network {
		n, said := levelbook.ReadNetwork(f, o)
		if said.Any(finding.Fault) {
			return p.refuse(c.JSON, said)
		}
		return c.adjust(p, a, n, t, said)
	}
	b, said := levelbook.ReadBook(f, o)
	if said.Any(finding.Fault) {
		return p.refuse(c.JSON, said)
	}
	return c.reduce(p, a, b, t, said)
}

// misplaced says which flags belong to the other kind of file.
func (c *levelbookCommand) misplaced(a *asked) {
	for _, f := range []struct {
		name    string
		given   bool
		network bool
	}{
		{"--distance", c.Distance != "", false}, {"--spread", c.Spread != "", false}, {"--correct", len(c.Correct) > 0, false}, {"-o", c.Out != "", false},
		{"--fix", len(c.Fix) > 0, true}, {"--free", c.Free, true}, {"--weigh", c.Weigh != "", true}, {"--suspect", c.Suspect != 0, true},
	} {
		switch {
		case f.given && f.network && !c.Network:
			a.fault(f.name, "it is for a network of levels; give --network with it")
		case f.given && !f.network && c.Network:
			a.fault(f.name, "it is for a level book, not for a network")
		}
	}
}

// refusal is what --json prints where there is no answer.
type refusal struct {
	Verdict string       `json:"verdict"`
	Why     string       `json:"why"`
	Levels  []struct{}   `json:"levels"`
	Faults  finding.List `json:"faults"`
}

const refused = "refused"

// refuse ends a command on faults: as text for people, and besides as JSON where that was asked for.
func (p program) refuse(asJSON bool, said finding.List) error {
	if asJSON {
		r := refusal{Verdict: refused, Levels: []struct{}{}}
		for _, f := range said {
			if f.Kind == finding.Fault {
				r.Faults = append(r.Faults, f)
			}
		}
		r.Why = whyText(r.Faults[0])
		if err := p.json(r); err != nil {
			return err
		}
	}
	return outcome{exitFaults, faultText(said)}
}

// whyText is one finding in one sentence, with its line and its limit.
func whyText(f finding.Finding) string {
	text := f.Sentence()
	if f.Where.Line > 0 {
		text = fmt.Sprintf("line %d: %s", f.Where.Line, text)
	}
	if f.Limit != "" {
		text += fmt.Sprintf("; %s against %s", f.Value, f.Limit)
	}
	return text
}

// inFile gives findings the name of the file that their lines are of.
func inFile(l finding.List, file string) finding.List {
	for i := range l {
		l[i].Where.File = file
		if l[i].Where.Line == 0 {
			l[i].Where.Path = ""
		}
	}
	return l
}

func (c *levelbookCommand) reduce(p program, a *asked, b levelling.Book, t levelling.Tolerance, notes finding.List) error {
	if c.Distance != "" {
		b.Whole = new(a.positive("--distance", c.Distance, "a line of levels"))
	}
	w := bookWork{file: c.Book, book: b, tolerance: t, notes: notes}
	if t.Rule != "" && b.Figures.Unit == measure.NoUnit {
		w.tolerance = levelling.Tolerance{}
		w.unitless = new(finding.NoneOnFile("unit of the figures", "whoever kept the book, and give --unit", finding.Where{File: c.Book}))
	}
	var said finding.List
	if w.reduced, said = levelling.Reduce(b); len(said) > 0 {
		return p.refuse(c.JSON, inFile(said, c.Book))
	}
	for _, text := range c.Correct {
		point, level := a.pointLevel("--correct", text, b.Figures)
		if len(a.faults) > 0 {
			break
		}
		k, said := levelling.Correct(b, point, level, w.tolerance)
		if len(said) > 0 {
			a.fault("--correct", "%s", said[0].Text)
			break
		}
		w.corrections = append(w.corrections, k)
	}
	if err := a.ends(); err != nil {
		return err
	}
	if c.Spread != "" {
		share := levelling.BySetups
		if c.Spread == "distance" {
			share = levelling.ByDistances
		}
		s, said := levelling.SpreadOut(b, w.reduced, share, w.tolerance)
		w.spread, w.spreadSaid = &s, said
	}
	ans := w.answer()
	if c.Out != "" {
		if err := p.writePages(c.Out, w, ans); err != nil {
			return err
		}
	}
	if c.JSON {
		if err := p.json(ans); err != nil {
			return err
		}
	} else {
		p.showBook(w, ans)
	}
	if ans.Verdict == string(levelling.DoesNot) {
		return outcome{code: exitFaults}
	}
	if w.spreadSaid.Any(finding.Fault) {
		return outcome{exitFaults, faultText(inFile(w.spreadSaid, c.Book))}
	}
	return nil
}

// Help is shown below the flags.
func (levelbookCommand) Help() string {
	return `Examples, with book.csv holding one set-up and its closing on a known benchmark:

    point,bs,is,fs,known
    BM1,1.350,,,100.000
    P1,,0.800,,
    BM2,,,1.652,99.700

    trenchwright levelbook book.csv --unit m --per-setup 3mm
    trenchwright levelbook book.csv --unit m --per-setup 3mm --spread setups
    trenchwright levelbook book.csv --unit m --correct BM1=100.040
    trenchwright levelbook book.csv --unit m -o pages.pdf

A book may also have distance (levelled up to each foresight), rise, fall, level and hi as booked, a last line sum, and
design with tolerance. A book that contradicts itself is refused with the line at fault. Levels are as read; adjusted ones
stand beside them. A line with a backsight, a known level and no foresight begins afresh from that benchmark.

A network has from,to,rise and length (or distance), setups, sd; a line with from and known alone is a benchmark:

    from,to,rise,length,known
    A,,,,100.000
    A,B,1.500,400,
    B,C,0.498,300,
    C,A,-2.001,500,

    trenchwright levelbook --network net.csv --unit m --per-root-km 12mm --suspect 3.3

Without a tolerance nothing is held against one: NOT CHECKED. What does not close is refused, not spread.`
}
