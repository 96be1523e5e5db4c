package main

import (
	"fmt"
	"strconv"
	"text/tabwriter"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/levelling"
)

// netAnswer is what `trenchwright levelbook --network --json` prints. Levels and rises are in the unit, "" where nobody said it.
type netAnswer struct {
	Verdict    string       `json:"verdict"`
	Why        string       `json:"why"`
	Unit       string       `json:"unit"`
	Weight     string       `json:"weight"`
	Levels     []netLevel   `json:"levels"` // adjusted; empty where the network is refused
	Residuals  []netLine    `json:"residuals"`
	M0         *figure      `json:"m0"` // in m0_of; null where nothing is redundant
	M0Of       string       `json:"m0_of"`
	Redundant  int          `json:"redundant"`
	Parts      []netPart    `json:"parts"`
	Loops      []netLoop    `json:"loops"`
	Suspects   []netSuspect `json:"suspects"`
	NotChecked []string     `json:"not_checked"`
	Findings   finding.List `json:"findings"`
}

type netLevel struct {
	Point string  `json:"point"`
	Level figure  `json:"level"`
	SD    *figure `json:"sd"`
	Held  bool    `json:"held"`
}

type netLine struct {
	Line       int     `json:"line"`
	From       string  `json:"from"`
	To         string  `json:"to"`
	V          figure  `json:"v"`
	Share      float64 `json:"share"`
	Normalised float64 `json:"normalised"`
}

type netPart struct {
	Points []string `json:"points"`
	Tied   bool     `json:"tied"`
}

type netLoop struct {
	Points     []string `json:"points"`
	Between    bool     `json:"between_benchmarks"`
	Misclosure figure   `json:"misclosure"`
	Allowed    *figure  `json:"allowed"`
	Verdict    string   `json:"verdict"`
}

type netSuspect struct {
	Line       int     `json:"line"`
	From       string  `json:"from"`
	To         string  `json:"to"`
	Off        figure  `json:"off"`
	Normalised float64 `json:"normalised"`
}

func (c *levelbookCommand) adjust(p program, a *asked, n levelling.Network, t levelling.Tolerance, notes finding.List) error {
	n.Close, n.Free, n.Suspect = t, c.Free, c.Suspect
	if w := map[string]levelling.Weigh{"distance": levelling.ByDistance, "setups": levelling.BySetup, "sd": levelling.BySD}[c.Weigh]; w != "" {
		n.Weigh = w
	}
	for _, text := range c.Fix {
		point, level := a.pointLevel("--fix", text, n.Figures)
		n.Fixed = append(n.Fixed, levelling.Fixed{Point: point, Level: level})
	}
	if err := a.ends(); err != nil {
		return err
	}
	unitless := t.Rule != "" && n.Figures.Unit == measure.NoUnit
	if unitless {
		n.Close = levelling.Tolerance{}
	}
	got, said := levelling.Adjust(n)
	if len(said) > 0 {
		return p.refuse(c.JSON, inFile(said, c.Book))
	}
	if bad := levelling.CheckNetwork(n, got); len(bad) > 0 {
		return outcome{exitBroken, "trenchwright levelbook: the answer did not pass its own check, please report it: " + bad[0]}
	}
	if unitless {
		got.Said = append(got.Said, finding.NoneOnFile("unit of the figures", "whoever kept the book, and give --unit", finding.Where{File: c.Book}))
	}
	got.Said = inFile(append(got.Said, notes...), c.Book)
	ans := netAnswerOf(n, got)
	if c.JSON {
		if err := p.json(ans); err != nil {
			return err
		}
	} else {
		p.showNet(n, got, ans)
	}
	if got.Refused() {
		return outcome{code: exitFaults}
	}
	return nil
}

// short is a number of the adjustment with the decimals that it deserves.
func short(x float64, places int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'f', places, 64), 64)
	if err != nil {
		return x
	}
	return y
}

func netAnswerOf(n levelling.Network, got levelling.Adjusted) netAnswer {
	f := n.Figures.AtLeast(5)
	fig := func(l measure.Length) figure { return figure(f.Bare(l)) }
	a := netAnswer{Verdict: string(got.Verdict), Unit: f.Unit.String(), Weight: string(n.Weigh), Levels: []netLevel{}, Residuals: []netLine{}, Parts: []netPart{}, Loops: []netLoop{}, Suspects: []netSuspect{},
		NotChecked: []string{}, Findings: got.Said, Redundant: got.Redundant, M0Of: m0Of(n)}
	if got.Redundant > 0 {
		m0 := figure(strconv.FormatFloat(got.M0, 'f', 6, 64))
		if n.Weigh != levelling.BySD {
			m0 = fig(measure.FromMetres(got.M0))
		}
		a.M0 = &m0
	}
	for _, pt := range got.Points {
		if pt.Level == nil {
			continue
		}
		l := netLevel{Point: pt.Name, Level: fig(*pt.Level), Held: pt.Held}
		if pt.SD != nil {
			l.SD = new(fig(measure.FromMetres(*pt.SD)))
		}
		a.Levels = append(a.Levels, l)
	}
	for _, r := range got.Residuals {
		l := n.Lines[r.Line]
		a.Residuals = append(a.Residuals, netLine{l.Row, l.From, l.To, fig(r.V), short(r.Share, 4), short(r.Normalised, 3)})
	}
	for _, pt := range got.Parts {
		a.Parts = append(a.Parts, netPart(pt))
	}
	for _, l := range got.Loops {
		o := netLoop{Points: l.Points, Between: l.Between, Misclosure: fig(l.Misclosure), Verdict: string(l.Verdict)}
		if l.Allowed != nil {
			o.Allowed = new(fig(*l.Allowed))
		}
		a.Loops = append(a.Loops, o)
	}
	for _, s := range got.Suspects {
		l := n.Lines[s.Line]
		a.Suspects = append(a.Suspects, netSuspect{l.Row, l.From, l.To, fig(s.Off), short(s.Normalised, 3)})
	}
	for _, s := range got.Said {
		if s.Kind == finding.NotChecked {
			a.NotChecked = append(a.NotChecked, s.Sentence())
		}
		if a.Why == "" && s.ID != noSuspectLevel && (s.Kind == finding.Fault || got.Verdict == levelling.CannotSay && s.Kind == finding.NotChecked) {
			a.Why = whyText(s)
		}
	}
	if got.Verdict == levelling.Meets {
		a.Why = plural(len(got.Loops), "loop closes", "loops close") + " within the tolerance"
	}
	return a
}

// noSuspectLevel is the finding that nobody said from where on a line is suspected: it leaves the loops' verdict as it is.
const noSuspectLevel = "none-on-file.level-for-suspecting-a-line-of-a-blunder"

// m0Of is what the standard deviation of unit weight is of.
func m0Of(n levelling.Network) string {
	switch n.Weigh {
	case levelling.ByDistance:
		if n.Figures.Unit == measure.NoUnit {
			return "a line of 1000, in the figures' unit"
		}
		return "a line of 1 km"
	case levelling.BySetup:
		return "one set-up"
	}
	return "the stated deviations, 1 where they are right"
}

func (p program) showNet(n levelling.Network, got levelling.Adjusted, a netAnswer) {
	if len(a.Levels) > 0 {
		w := tabwriter.NewWriter(p.out, 0, 0, 2, ' ', tabwriter.AlignRight)
		fmt.Fprintln(w, "point\tlevel\tsd\t\t")
		for _, l := range a.Levels {
			sd, held := "-", ""
			if l.SD != nil {
				sd = string(*l.SD)
			}
			if l.Held {
				held = "held"
			}
			fmt.Fprintf(w, "%s\t%s\t%s\t%s\t\n", l.Point, l.Level, sd, held)
		}
		w.Flush()
	}
	w := tabwriter.NewWriter(p.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "line\tfrom\tto\trise\tresidual\tnormalised\tcontrolled\t")
	for i, r := range a.Residuals {
		fmt.Fprintf(w, "%d\t%s\t%s\t%s\t%s\t%.2f\t%.0f %%\t\n", r.Line, r.From, r.To, n.Figures.Bare(n.Lines[i].Rise), r.V, r.Normalised, 100*r.Share)
	}
	w.Flush()
	if a.M0 != nil {
		fmt.Fprintf(p.out, "m0 %s, of %s, from %s beyond the needed ones\n", *a.M0, a.M0Of, plural(a.Redundant, "line", "lines"))
	}
	for _, l := range a.Loops {
		allowed := ""
		if l.Allowed != nil {
			allowed = ", allowed " + string(*l.Allowed)
		}
		fmt.Fprintf(p.out, "loop %s: %s%s: %s\n", joined(l.Points), l.Misclosure, allowed, l.Verdict)
	}
	fmt.Fprintln(p.out, a.Verdict)
	fmt.Fprint(p.out, got.Said.Render(measure.Metric))
}

// joined is a way from point to point; of a long one its ends.
func joined(points []string) string {
	text := ""
	for i, x := range points {
		if len(points) > 14 && i == 6 {
			text += fmt.Sprintf("-… %d more …", len(points)-12)
		}
		if len(points) > 14 && i >= 6 && i < len(points)-6 {
			continue
		}
		if i > 0 {
			text += "-"
		}
		text += x
	}
	return text
}
