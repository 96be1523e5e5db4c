package main

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/drift"
)

// driftCommand says how far a run wanders while it is laid, and what to hold now.
type driftCommand struct {
	Job       string `arg:"" optional:"" help:"A job, as YAML or JSON: what creeps is read from its records. Without it, from what the command line says."`
	Records   string `help:"The file of the job's records." placeholder:"FILE"`
	Units     *int   `help:"Units still to be laid up to the next fixed place: a bend, a tee, a wall, the closer." placeholder:"N"`
	Ahead     string `help:"The last joint lies this much too far along." placeholder:"LENGTH" xor:"off"`
	Behind    string `help:"The last joint lies this much short of its place." placeholder:"LENGTH" xor:"off"`
	Tolerance string `help:"A unit may be this much longer or shorter than its length: the supplier's tolerance." placeholder:"LENGTH"`
	Gap       string `help:"The gap as drawn." placeholder:"LENGTH"`
	GapFrom   string `help:"The narrowest that a gap may be held." placeholder:"LENGTH"`
	GapTo     string `help:"The widest that a gap may be held." placeholder:"LENGTH"`
	GapBy     string `help:"Standard deviation of one gap about what is held." placeholder:"LENGTH"`
	Length    string `help:"A unit's length on paper." placeholder:"LENGTH"`
	Measured  string `help:"Units of one lot as measured, parted by commas." placeholder:"LENGTH,…"`
	Most      string `help:"A joint may lie this far off its place." placeholder:"LENGTH"`
	Margin    string `help:"The last joint may lie this far off for the closing piece to go in." placeholder:"LENGTH"`
	Unit      string `help:"What bare numbers are in: mm, m, ft, in." placeholder:"UNIT" default:"mm"`
	JSON      bool   `name:"json" help:"Answer as JSON."`
}

// driftAnswer is what `trenchwright drift --json` prints; lengths in mm.
type driftAnswer struct {
	OffMM      measure.MM   `json:"off_mm"` // ahead above 0, behind below
	Band       *driftBand   `json:"band"`
	Lot        *driftLot    `json:"lot"`
	Hold       *driftHold   `json:"hold"`
	Rest       *driftRest   `json:"rest"`
	Over       bool         `json:"over"` // the last joint lies further off than may be
	SetAhead   *driftAhead  `json:"set_ahead"`
	Closing    *driftCut    `json:"closing"`
	Assumed    []string     `json:"assumed"`
	NotChecked []string     `json:"not_checked"`
	show       driftFigures // how lengths are written
}

type driftBand struct {
	Units     int        `json:"units"`
	ScatterMM measure.MM `json:"scatter_mm"` // standard deviation
	EachWayMM measure.MM `json:"each_way_mm"`
}

type driftLot struct {
	Units     int        `json:"units"`
	MeanMM    measure.MM `json:"mean_mm"`
	ScatterMM measure.MM `json:"scatter_mm"`
	Verdict   string     `json:"verdict"`
	Why       string     `json:"why"`
}

type driftHold struct {
	GapMM  measure.MM `json:"gap_mm"`
	Joints int        `json:"joints"` // this one with them
	LastMM measure.MM `json:"last_mm"`
	ThenMM measure.MM `json:"then_mm"` // from there on, against what the lot adds
	LeftMM measure.MM `json:"left_mm"`
}

type driftRest struct {
	Never  bool       `json:"never"`
	Free   bool       `json:"free"` // gaps take up too little beside what units vary
	LowMM  measure.MM `json:"low_mm"`
	HighMM measure.MM `json:"high_mm"`
}

type driftAhead struct {
	Units   int  `json:"units"`
	Forever bool `json:"forever"`
}

type driftCut struct {
	UnitsToGo int        `json:"units_to_go"` // the cut may be made with so many, or fewer
	NeedMM    measure.MM `json:"need_mm"`     // what the units to go ask for now
	MarginMM  measure.MM `json:"margin_mm"`
}

// driftTask is what the command line says.
type driftTask struct {
	units              int
	off                measure.Length
	spread             drift.Spread
	gap                *drift.Gap // nil: no window was given
	length             measure.Length
	measured           []measure.Length
	most, margin       *measure.Length
	tolerance, scatter bool // they were given
	show               driftFigures
}

// driftFigures writes lengths as the command line did: in millimetres, or in inches and sixteenths.
type driftFigures struct{ measure.Format }

func (c *driftCommand) task() (driftTask, error) {
	a := &asked{command: "drift"}
	t := driftTask{show: driftFigures{measure.Format{Places: 1}}}
	unit := a.unit(c.Unit)
	if unit == measure.UnitInch || unit == measure.UnitFoot {
		t.show.Format = measure.Format{System: measure.Imperial}
	}
	length := func(name, text string) measure.Length {
		r, _ := a.readingIn(name, text, unit)
		return r.Length
	}
	given := func(name, text string, to *measure.Length) bool {
		if text != "" {
			*to = length(name, text)
		}
		return text != ""
	}
	if t.units = *c.Units; t.units < 1 || t.units > 100_000 {
		a.fault("--units", "%d cannot stand here; a number from 1 to 100000", t.units)
	}
	given("--ahead", c.Ahead, &t.off)
	if given("--behind", c.Behind, &t.off) {
		t.off = -t.off
	}
	t.tolerance = given("--tolerance", c.Tolerance, &t.spread.Unit)
	t.scatter = given("--gap-by", c.GapBy, &t.spread.Gap)
	var g drift.Gap
	drawn, from, to := given("--gap", c.Gap, &g.Drawn), given("--gap-from", c.GapFrom, &g.May.Min), given("--gap-to", c.GapTo, &g.May.Max)
	switch {
	case drawn && from && to && g.May.Min <= g.Drawn && g.Drawn <= g.May.Max:
		t.gap = &g
	case drawn && from && to:
		a.fault("--gap", "%s does not lie between %s and %s", c.Gap, c.GapFrom, c.GapTo)
	case drawn || from || to:
		a.fault("--gap", "a gap that may be held otherwise needs all of --gap, --gap-from and --gap-to")
	}
	given("--length", c.Length, &t.length)
	if c.Measured != "" {
		if c.Length == "" {
			a.fault("--length", "measured units need their length on paper beside them")
		}
		for part := range strings.SplitSeq(c.Measured, ",") {
			t.measured = append(t.measured, length("--measured", part)-t.length)
		}
	}
	for _, m := range []struct {
		name, text string
		to         **measure.Length
	}{{"--most", c.Most, &t.most}, {"--margin", c.Margin, &t.margin}} {
		if m.text != "" {
			*m.to = new(length(m.name, m.text))
		}
	}
	return t, a.ends()
}

func (c *driftCommand) Run(p program) error {
	if c.Job != "" || c.Records != "" {
		return c.fromRecords(p)
	}
	if c.Units == nil {
		return outcome{exitUsage, "trenchwright drift: missing: --units=N, or a job with --records FILE."}
	}
	t, err := c.task()
	if err != nil {
		return err
	}
	ans := t.answer()
	if c.JSON {
		return p.json(ans)
	}
	p.showDrift(ans, t)
	return nil
}

// missing says what could not be reckoned, and whom to ask.
func (a *driftAnswer) missing(what, ask string) {
	a.NotChecked = append(a.NotChecked, finding.NoneOnFile(what, ask, finding.Where{}).Sentence())
}

func (t driftTask) answer() driftAnswer {
	a := driftAnswer{OffMM: measure.MM(t.off), Assumed: []string{}, NotChecked: []string{}, show: t.show}
	bias := measure.Length(0)
	if len(t.measured) > 0 {
		var worth measure.Length
		if t.gap != nil {
			worth = t.room()
		}
		l := drift.LotOf(t.measured, worth)
		a.Lot = t.lot(l, worth)
		bias = l.Mean
	} else {
		a.Assumed = append(a.Assumed, "the lot is as long as on paper; measure some ten units of it: --measured")
	}
	if t.tolerance || t.scatter {
		a.Band = &driftBand{t.units, measure.MM(t.spread.After(t.units)), measure.MM(t.spread.Band(t.units))}
	}
	if !t.tolerance {
		a.missing("tolerance of a unit's length", "the supplier (--tolerance)")
	}
	if !t.scatter {
		a.Assumed = append(a.Assumed, "every gap comes out as it is held (--gap-by)")
	}
	if t.gap == nil {
		a.missing("gap and how narrow and wide it may be", "the supplier (--gap, --gap-from, --gap-to)")
	} else {
		t.atGaps(&a, bias)
	}
	switch {
	case t.margin == nil:
		a.missing("margin of the closing piece", "whoever makes it (--margin)")
	case t.tolerance:
		k := t.spread.Cut(*t.margin, bias, t.units)
		a.Closing = &driftCut{min(k.Most, t.units), measure.MM(k.Need), measure.MM(*t.margin)}
	}
	return a
}

// room is what one gap takes up on the side where it takes up less.
func (t driftTask) room() measure.Length {
	return min(t.gap.Drawn-t.gap.May.Min, t.gap.May.Max-t.gap.Drawn)
}

func (t driftTask) atGaps(a *driftAnswer, bias measure.Length) {
	gaps := make([]drift.Gap, t.units)
	for i := range gaps {
		gaps[i] = *t.gap
	}
	h := drift.Hold(t.off, bias, gaps)
	a.Hold = &driftHold{measure.MM(h.Hold), h.Until, measure.MM(h.Last), measure.MM(h.Then), measure.MM(h.Left)}
	if t.tolerance {
		l := t.spread.Rest(bias, t.room())
		a.Rest = &driftRest{l.Never, l.Free, measure.MM(l.Low), measure.MM(l.High)}
	}
	if t.most == nil {
		a.missing("limit for how far a joint may lie off its place", "the contract (--most)")
		return
	}
	if a.Over = t.off.Abs() > *t.most; a.Over {
		return
	}
	units, forever := drift.Ahead(t.off, bias, t.room(), *t.most)
	a.SetAhead = &driftAhead{units, forever}
}

func (t driftTask) lot(b drift.Bias, worth measure.Length) *driftLot {
	l := &driftLot{Units: b.Units, MeanMM: measure.MM(b.Mean), ScatterMM: measure.MM(b.Scatter), Verdict: string(b.Verdict)}
	mean := strung(" ", t.show.Length(b.Mean.Abs()), map[bool]string{true: "longer", false: "shorter"}[b.Mean >= 0])
	switch {
	case b.Verdict == drift.Biased:
		l.Why = fmt.Sprintf("the units of this lot are %s than on paper on average; chance alone makes that in fewer than 5 of 100 lots", mean)
	case b.Verdict == drift.Scatters:
		l.Why = fmt.Sprintf("the lot is %s at the most on average, and a gap takes up %s", t.show.Length(b.Possible), t.show.Length(worth))
	case b.Units < 2:
		l.Why = "one unit says nothing of its lot; measure some ten"
	case b.MoreFor > b.Units:
		l.Why = fmt.Sprintf("%s on average, which chance may have made; about %d units in all would tell", mean, b.MoreFor)
	default:
		l.Why = mean + " on average, which chance may have made"
	}
	return l
}

// bias is what a unit of the lot adds on average, as it was measured.
func (a driftAnswer) bias() measure.Length {
	if a.Lot == nil {
		return 0
	}
	return measure.Length(a.Lot.MeanMM)
}

func (p program) showDrift(a driftAnswer, t driftTask) {
	say := func(l measure.MM) string { return t.show.Length(measure.Length(l).Abs()) }
	side := func(l measure.MM) string {
		switch {
		case l > 0:
			return say(l) + " ahead"
		case l < 0:
			return say(l) + " behind"
		}
		return "at its place"
	}
	l := p.lines()
	l.row("last joint", side(a.OffMM))
	if b := a.Band; b != nil {
		of := "where it is drawn"
		if added := measure.Length(a.OffMM) + a.bias()*measure.Length(b.Units); added != 0 {
			of = "a place " + side(measure.MM(added))
		}
		l.row("joint after "+plural(b.Units, "unit", "units"), fmt.Sprintf("within %s each way of %s, in 999 of 1000 runs, if every gap is held as drawn", say(b.EachWayMM), of))
	}
	if b := a.Lot; b != nil {
		l.row("lot, "+plural(b.Units, "unit", "units")+" measured", b.Verdict+": "+b.Why)
	}
	if h := a.Hold; h != nil {
		l.row("hold now", h.said(say, side, t.gap.Drawn, a.bias()))
	}
	if r := a.Rest; r != nil {
		if r.Free {
			l.row("in the long run", "gaps take up too little beside what units vary: joints wander nearly as if every gap were held as drawn")
		} else if r.Never {
			l.row("in the long run", "this lot never comes right: a unit adds as much as a gap can take up, or more")
		} else {
			l.row("in the long run", fmt.Sprintf("joints lie from %s to %s, in 999 of 1000, if each gap takes up what it can", side(r.LowMM), side(r.HighMM)))
		}
	}
	if a.Over {
		l.row("pads", fmt.Sprintf("the last joint lies %s, and the limit is %s: move the pads to the joints as they come, and tell whoever decides", side(a.OffMM), t.show.Length(*t.most)))
	}
	if s := a.SetAhead; s != nil {
		if s.Forever {
			l.row("pads", "may be set as drawn: the gaps take up what this lot adds")
		} else {
			l.row("pads", fmt.Sprintf("set no more than %s ahead, then measure and move them", plural(s.Units, "unit", "units")))
		}
	}
	if c := a.Closing; c != nil {
		switch {
		case c.UnitsToGo == 0:
			l.row("closing cut", fmt.Sprintf("only when the last unit before it lies: one more asks for more than the margin of %s", say(c.MarginMM)))
		default:
			l.row("closing cut", fmt.Sprintf("with no more than %s to go; the %d to go now ask for %s, the margin is %s", plural(c.UnitsToGo, "unit", "units"), t.units, say(c.NeedMM), say(c.MarginMM)))
		}
	}
	_ = l.w.Flush()
	for _, s := range a.Assumed {
		fmt.Fprintln(p.out, "Assumed: "+s+".")
	}
	for _, s := range a.NotChecked {
		fmt.Fprintln(p.out, s)
	}
}

// said is the gap to hold now, until where, and what after that.
func (h driftHold) said(say, side func(measure.MM) string, drawn, bias measure.Length) string {
	text := say(h.GapMM)
	switch {
	case h.Joints == 0 && h.LeftMM == 0:
		text += ", as drawn"
	case h.LeftMM != 0:
		return text + fmt.Sprintf(" at every joint from here; the last one is still %s: the closer or the pads have to take that", side(h.LeftMM))
	case h.Joints == 1:
		text += " at this joint; then the run is back at its place"
	case h.LastMM == h.GapMM:
		text += fmt.Sprintf(" at the next %d joints; then the run is back at its place", h.Joints)
	default:
		text += fmt.Sprintf(" at the next %s, then %s at one; then the run is back at its place", plural(h.Joints-1, "joint", "joints"), say(h.LastMM))
	}
	switch steady := measure.MM(drawn - bias); {
	case bias == 0:
	case h.ThenMM == steady:
		text += fmt.Sprintf(", and %s keeps it there with this lot", say(h.ThenMM))
	default:
		text += fmt.Sprintf("; this lot then moves on by %s a unit even at %s", say(h.ThenMM-steady), say(h.ThenMM))
	}
	return text
}

// Help is shown below the flags.
func (driftCommand) Help() string {
	return `Examples:

    trenchwright drift yard/job.yaml --records site.jsonl
    trenchwright drift --units 14 --ahead 11 --length 3000 --measured 3002,3001,3003,3002,3001,3002 --tolerance 5 --gap 10 --gap-from 6 --gap-to 14 --most 25 --margin 20

What to hold at the next joint and until when; whether the lot is off or merely scatters; how far ahead pads may be set; by when
the closing cut has to be made. The closing cut is made last, from a measurement.`
}
