package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/levelling"
)

// figure is an exact decimal number: in JSON a number, with all its decimals.
type figure string

func (f figure) MarshalJSON() ([]byte, error) { return []byte(f), nil }

// bookAnswer is what `trenchwright levelbook --json` prints. All figures are in the unit, "" where nobody said it.
type bookAnswer struct {
	Verdict     string           `json:"verdict"`
	Why         string           `json:"why"`
	Unit        string           `json:"unit"`
	Levels      []bookLevel      `json:"levels"` // as reduced, before any adjustment
	SumBS       figure           `json:"sum_bs"`
	SumFS       figure           `json:"sum_fs"`
	SumRise     figure           `json:"sum_rise"`
	SumFall     figure           `json:"sum_fall"`
	Misclosure  *figure          `json:"misclosure"` // where the book ends: found less known; null where that is not known
	Allowed     *figure          `json:"allowed"`
	Checks      []bookCheck      `json:"checks"`
	Judged      []bookJudged     `json:"judged"`
	Adjusted    []bookLevel      `json:"adjusted,omitempty"`
	Corrections []bookCorrection `json:"corrections,omitempty"`
	NotChecked  []string         `json:"not_checked"`
	Notes       []string         `json:"notes,omitempty"`
}

type bookLevel struct {
	Point string `json:"point"`
	Level figure `json:"level"`
	Line  int    `json:"line"`
}

type bookCheck struct {
	Name  string     `json:"name"`
	Sides []bookSide `json:"sides"`
	Holds bool       `json:"holds"`
}

type bookSide struct {
	Name  string `json:"name"`
	Value figure `json:"value"`
}

type bookJudged struct {
	What    string  `json:"what"`
	Point   string  `json:"point"`
	Line    int     `json:"line"`
	Off     figure  `json:"off"`
	Allowed *figure `json:"allowed"`
	Verdict string  `json:"verdict"`
}

type bookCorrection struct {
	Point string      `json:"point"`
	Was   figure      `json:"was"`
	Is    figure      `json:"is"`
	Moved []bookLevel `json:"moved"`
	Flips []bookFlip  `json:"flips"`
}

type bookFlip struct {
	What   string `json:"what"`
	Point  string `json:"point"`
	Line   int    `json:"line"`
	Before string `json:"before"`
	After  string `json:"after"`
}

// bookWork is a book and all that was made of it.
type bookWork struct {
	file        string
	book        levelling.Book
	reduced     levelling.Reduced
	tolerance   levelling.Tolerance
	unitless    *finding.Finding // why no tolerance could be held against figures without a unit
	spread      *levelling.Spread
	spreadSaid  finding.List
	corrections []levelling.Correction
	notes       finding.List
}

// places are the decimals of JSON: those of the book, three at least.
func (w bookWork) figure(l measure.Length) figure { return figure(w.book.Figures.AtLeast(3).Bare(l)) }

// finer is a figure that may have more decimals than the book.
func (w bookWork) finer(l *measure.Length) *figure {
	if l == nil {
		return nil
	}
	return new(figure(w.book.Figures.AtLeast(5).Bare(*l)))
}

func (w bookWork) answer() bookAnswer {
	r := w.reduced
	a := bookAnswer{Unit: w.book.Figures.Unit.String(), SumBS: w.figure(r.SumBack), SumFS: w.figure(r.SumFore), SumRise: w.figure(r.SumRise), SumFall: w.figure(r.SumFall),
		Judged: []bookJudged{}, NotChecked: []string{}, Checks: []bookCheck{}}
	for _, at := range r.Rows {
		a.Levels = append(a.Levels, bookLevel{at.Point, w.figure(at.Level), at.Line})
	}
	for _, c := range r.Checks {
		k := bookCheck{Name: c.Name, Holds: c.Holds()}
		for _, s := range c.Sides {
			k.Sides = append(k.Sides, bookSide{s.Name, w.figure(s.Value)})
		}
		a.Checks = append(a.Checks, k)
	}
	w.judge(&a)
	if w.spread != nil && len(w.spread.Levels) > 0 {
		for i, l := range w.spread.Levels {
			a.Adjusted = append(a.Adjusted, bookLevel{r.Rows[i].Point, w.figure(l), r.Rows[i].Line})
		}
	}
	for _, c := range w.corrections {
		a.Corrections = append(a.Corrections, w.correction(c))
	}
	for _, f := range w.notes {
		a.Notes = append(a.Notes, whyText(f))
	}
	return a
}

// judge fills in the verdict of the whole book, and what it rests on. What could not be checked is said once.
func (w bookWork) judge(a *bookAnswer) {
	missing := func(f finding.Finding) {
		for _, t := range a.NotChecked {
			if t == f.Sentence() {
				return
			}
		}
		a.NotChecked = append(a.NotChecked, f.Sentence())
	}
	a.Verdict = string(levelling.Meets)
	for _, j := range levelling.Judge(w.book, w.reduced, w.tolerance) {
		a.Judged = append(a.Judged, bookJudged{j.What, j.Point, j.Line, w.figure(j.Off), w.finer(j.Allowed), string(j.Verdict)})
		text := fmt.Sprintf("line %d: %s of %s is off by %s", j.Line, j.What, j.Point, w.book.Figures.Signed(j.Off))
		if j.What == "closing" {
			text = fmt.Sprintf("line %d: the levels close on %s by %s", j.Line, j.Point, w.book.Figures.Signed(j.Off))
		}
		if j.Allowed != nil {
			text += "; allowed " + w.book.Figures.AtLeast(4).Say(*j.Allowed)
		}
		switch {
		case j.Missing != nil && w.unitless != nil && j.What == "closing":
			missing(*w.unitless)
		case j.Missing != nil:
			missing(*j.Missing)
		}
		if j.Verdict == levelling.DoesNot && a.Verdict != string(levelling.DoesNot) || a.Verdict == string(levelling.Meets) {
			a.Verdict, a.Why = string(j.Verdict), text
			if j.Missing != nil {
				a.Why += ". " + a.NotChecked[len(a.NotChecked)-1]
			}
		}
	}
	tie, closes := w.reduced.Closing()
	if closes {
		m := w.figure(tie.Misclosure)
		a.Misclosure = &m
		a.Allowed = w.allowed(tie)
		return
	}
	f := finding.NoneOnFile(fmt.Sprintf("level of %s, the end of the book,", w.reduced.Last().Point), "whoever keeps the benchmarks", finding.Where{File: w.file})
	missing(f)
	if a.Verdict == string(levelling.Meets) {
		a.Verdict, a.Why = string(levelling.CannotSay), "every page check holds, and nothing shows whether the levels close. "+f.Sentence()
	}
}

func (w bookWork) allowed(t levelling.Tie) *figure {
	l, ok := w.tolerance.Allowed(t.Distance, t.Setups)
	if !ok {
		return nil
	}
	return w.finer(&l)
}

func (w bookWork) correction(c levelling.Correction) bookCorrection {
	out := bookCorrection{Point: c.Point, Was: w.figure(c.Was), Is: w.figure(c.Is), Moved: []bookLevel{}, Flips: []bookFlip{}}
	for _, i := range c.Moved {
		out.Moved = append(out.Moved, bookLevel{c.After.Rows[i].Point, w.figure(c.After.Rows[i].Level), c.After.Rows[i].Line})
	}
	for _, f := range c.Flips {
		out.Flips = append(out.Flips, bookFlip{f.Before.What, f.Before.Point, f.Before.Line, string(f.Before.Verdict), string(f.After.Verdict)})
	}
	return out
}

// showBook prints the page as it is kept, its sums and checks, and what comes of it.
func (p program) showBook(w bookWork, a bookAnswer) {
	f := w.book.Figures
	t := tabwriter.NewWriter(p.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	head := "line\tpoint\tbs\tis\tfs\trise\tfall\tlevel\t"
	if len(a.Adjusted) > 0 {
		head += "adjusted\t"
	}
	fmt.Fprintln(t, head)
	cell := func(l *measure.Length) string {
		if l == nil {
			return ""
		}
		return f.Bare(*l)
	}
	for i, r := range w.book.Rows {
		at, rise, fall := w.reduced.Rows[i], "", ""
		switch {
		case r.Fore == nil && r.Inter == nil:
		case at.Rise >= 0:
			rise = f.Bare(at.Rise)
		default:
			fall = f.Bare(-at.Rise)
		}
		fmt.Fprintf(t, "%d\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t", r.Line, r.Point, cell(r.Back), cell(r.Inter), cell(r.Fore), rise, fall, f.Bare(at.Level))
		if len(a.Adjusted) > 0 {
			fmt.Fprintf(t, "%s\t", f.Bare(w.spread.Levels[i]))
		}
		fmt.Fprintln(t)
	}
	fmt.Fprintf(t, "\tsum\t%s\t\t%s\t%s\t%s\t\t\n", f.Bare(w.reduced.SumBack), f.Bare(w.reduced.SumFore), f.Bare(w.reduced.SumRise), f.Bare(w.reduced.SumFall))
	t.Flush()
	for _, c := range w.reduced.Checks {
		fmt.Fprintf(p.out, "check, %s:", c.Name)
		for i, s := range c.Sides {
			sep := " "
			if i > 0 {
				sep = " = "
			}
			fmt.Fprintf(p.out, "%s%s %s", sep, s.Name, f.Say(s.Value))
		}
		fmt.Fprintln(p.out)
	}
	p.showBookEnd(w, a)
}

func (p program) showBookEnd(w bookWork, a bookAnswer) {
	f := w.book.Figures
	for _, j := range a.Judged {
		fmt.Fprintln(p.out, judgedText(j))
	}
	for _, c := range w.corrections {
		fmt.Fprintf(p.out, "%s at %s, not %s: %s\n", c.Point, f.Say(c.Is), f.Say(c.Was), plural(len(c.Moved), "line moves", "lines move"))
		for _, i := range c.Moved {
			fmt.Fprintf(p.out, "  line %d, %s: %s, was %s\n", c.After.Rows[i].Line, c.After.Rows[i].Point, f.Say(c.After.Rows[i].Level), f.Say(c.Before.Rows[i].Level))
		}
		for _, x := range c.Flips {
			fmt.Fprintf(p.out, "  flips: %s, %s in line %d: %s, was: %s\n", x.Before.What, x.Before.Point, x.Before.Line, x.After.Verdict, x.Before.Verdict)
		}
	}
	fmt.Fprintln(p.out, a.Verdict)
	if a.Why != "" {
		fmt.Fprintln(p.out, a.Why)
	}
	for _, t := range a.NotChecked {
		if !strings.HasSuffix(a.Why, t) {
			fmt.Fprintln(p.out, t)
		}
	}
	for _, t := range a.Notes {
		fmt.Fprintln(p.out, "note: "+t)
	}
	if a.Unit == "" {
		fmt.Fprintln(p.out, "figures as they are written: no unit is on file; give --unit m or --unit ft")
	}
}
