package main

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/solve/cutstock"
	"trenchwright/view/table"
)

// cutCommand cuts a list of pieces from stock.
type cutCommand struct {
	List       string `arg:"" help:"CSV with the columns length,count and, where there are mitres, hand,angle."`
	Stock      string `help:"Length of a unit, as many as are needed; several parted by commas." placeholder:"LENGTH,…" xor:"stock"`
	StockFile  string `help:"CSV with the columns length,count,price: stocks limited in number (an empty count: as many as are needed)." placeholder:"FILE" xor:"stock"`
	Kerf       string `required:"" help:"What the saw takes." placeholder:"LENGTH"`
	LeastSlice string `help:"Least slice that the saw can take off an end; the kerf where left out." placeholder:"LENGTH"`
	Ends       string `required:"" enum:"factory,any" placeholder:"factory|any" help:"factory: every placed piece keeps one end as cast; any: it need not."`
	Width      string `help:"Outer width of the section; needed where pieces are mitred." placeholder:"LENGTH"`
	Words      string `enum:",uk,us" default:"" help:"Words of the United Kingdom or of the United States; where left out, those of the side whose unit the kerf has." placeholder:"uk|us"`
	JSON       bool   `name:"json" help:"Answer as JSON."`
}

// speech is how the answer is worded: in feet and inches where the kerf is stated so.
func (c *cutCommand) speech() wording.Speech {
	r, err := measure.Parse(c.Kerf)
	inches := err == nil && (r.Unit == measure.UnitFoot || r.Unit == measure.UnitInch)
	return wording.Speech{US: c.Words == "us" || c.Words == "" && inches, Imperial: inches}
}

// cutAnswer is what `trenchwright cut --json` prints.
type cutAnswer struct {
	Verdict  string       `json:"verdict"`
	Why      string       `json:"why,omitempty"`
	Bought   int          `json:"bought"`
	Bound    int64        `json:"bound"` // proven: nothing costs less; without prices, in units
	Proven   bool         `json:"proven"`
	Cost     int64        `json:"cost"`
	WasteMM  measure.MM   `json:"waste_mm"`
	Patterns []cutPattern `json:"patterns"`
	Assumed  []string     `json:"assumed"`
}

type cutPattern struct {
	Stock  measure.MM `json:"stock_mm"`
	Times  int        `json:"times"`
	Pieces []cutPiece `json:"pieces"`
	Waste  measure.MM `json:"waste_mm"`
}

// cutPiece is a piece on its unit. Hand and angle are those of the list; turned: its mitred end is towards end A.
type cutPiece struct {
	ID     string     `json:"id,omitempty"`
	Line   int        `json:"line"` // of the list
	At     measure.MM `json:"at_mm"`
	Length measure.MM `json:"length_mm"`
	Hand   string     `json:"hand,omitempty"`
	Angle  float64    `json:"angle_deg,omitempty"`
	Turned bool       `json:"turned,omitempty"`
}

func (c *cutCommand) Run(p program) error {
	t, err := c.task(p)
	if err != nil {
		return err
	}
	sol, err := cutstock.Solve(t.problem, cutstock.Limits{})
	if err != nil {
		return outcome{exitBroken, "trenchwright cut: " + err.Error()}
	}
	if bad := cutstock.Check(t.problem, sol); len(bad) > 0 {
		return outcome{exitBroken, "trenchwright cut: the answer did not pass its own check, please report it: " + bad[0].Text}
	}
	a := answerOf(t, sol)
	if c.JSON {
		if err := p.json(a); err != nil {
			return err
		}
	} else {
		p.showCut(a, c.speech())
	}
	return verdictEnds(a.Verdict)
}

func answerOf(t cutTask, sol cutstock.Solution) cutAnswer {
	a := cutAnswer{Verdict: string(sol.Verdict), Why: sol.Why, Bought: sol.Bought, Bound: sol.Bound, Proven: sol.Proven, Cost: sol.Cost,
		WasteMM: measure.MM(sol.Waste), Patterns: []cutPattern{}, Assumed: t.assumed}
	for _, u := range sol.Patterns {
		o := cutPattern{Stock: measure.MM(t.problem.Stocks[u.Stock].Length), Times: u.Times, Waste: measure.MM(u.Waste), Pieces: []cutPiece{}}
		for _, k := range u.Cuts {
			r := t.list[k.Piece]
			o.Pieces = append(o.Pieces, cutPiece{ID: r.ID, Line: r.Line, At: measure.MM(k.At), Length: measure.MM(r.Length), Hand: string(r.Hand), Angle: r.Angle.Degrees(), Turned: k.Turned})
		}
		a.Patterns = append(a.Patterns, o)
	}
	return a
}

// cutTask is what is to be cut, from which lists, and what was assumed for it.
type cutTask struct {
	problem cutstock.Problem
	list    []table.Piece
	stocks  []table.Stock // of --stock-file
	assumed []string
}

// task reads the figures of the command line, then both lists; the faults of each are said at once.
func (c *cutCommand) task(p program) (cutTask, error) {
	a := &asked{command: "cut"}
	words := c.speech()
	q := cutstock.Problem{FactoryEnd: c.Ends == "factory", MayTurn: true, Words: words}
	assumed := []string{words.Say("%s may be turned end for end: assumed, no supplier's word", wording.Units)}
	q.Kerf = a.length("--kerf", c.Kerf)
	q.LeastSlice = q.Kerf
	if c.LeastSlice == "" {
		assumed = append(assumed, fmt.Sprintf("least slice %s, the kerf: assumed, no supplier's figure", inWords(q.Kerf, words)))
	} else {
		q.LeastSlice = a.length("--least-slice", c.LeastSlice)
	}
	if c.Width != "" {
		q.Width = a.positive("--width", c.Width, "a unit")
	}
	for _, l := range a.lengths("--stock", c.Stock, "a unit") {
		q.Stocks = append(q.Stocks, cutstock.Unit(l.MMString(), l))
	}
	if c.Stock == "" && c.StockFile == "" {
		a.fault("--stock", "nothing says what the pieces are cut from; give --stock 3000mm, or a list with --stock-file")
	}
	t := cutTask{assumed: assumed}
	if err := a.ends(); err != nil {
		return t, err
	}
	if err := t.readLists(p, c, &q); err != nil {
		return t, err
	}
	t.problem = q
	return t, t.faults(c)
}

// readLists reads the cutting list and, where there is one, the list of stock. The hand of a piece is that of its end.
func (t *cutTask) readLists(p program, c *cutCommand, q *cutstock.Problem) error {
	f, err := p.open("cut", c.List)
	if err != nil {
		return err
	}
	defer f.Close()
	var faults finding.List
	t.list, faults = table.ReadCutting(c.List, f, measure.UnitMillimetre)
	for _, r := range t.list {
		q.Pieces = append(q.Pieces, cutstock.Piece{ID: r.ID, Length: r.Length, Count: r.Count, End: cutstock.End{Skew: r.Skew()}})
	}
	if c.StockFile != "" {
		g, err := p.open("cut", c.StockFile)
		if err != nil {
			return err
		}
		defer g.Close()
		more := finding.List{}
		t.stocks, more = table.ReadStock(c.StockFile, g, measure.UnitMillimetre)
		faults = append(faults, more...)
	}
	for _, s := range t.stocks {
		u := cutstock.Unit(fmt.Sprintf("line %d", s.Line), s.Length)
		u.Count, u.Price = s.Count, s.Price
		q.Stocks = append(q.Stocks, u)
	}
	if len(faults) > 0 {
		return outcome{exitFaults, faultText(faults)}
	}
	return nil
}

// faults is what is wrong with figures and lists taken together, each with the line or the flag that it came from.
func (t *cutTask) faults(c *cutCommand) error {
	for _, r := range t.list {
		if r.Skew() != 0 && t.problem.Width == 0 {
			return outcome{exitUsage, c.speech().Say("trenchwright cut: the piece in line %d of %s is %s, and how far its sides differ depends on the outer width of the section: give --width", r.Line, c.List, wording.Mitred)}
		}
	}
	found := cutstock.Faults(t.problem)
	code := exitUsage
	for i := range found {
		at, n := &found[i].Where, 0
		kind, _, _ := strings.Cut(at.Path, "[")
		_, _ = fmt.Sscanf(at.Path[len(kind):], "[%d]", &n) // without one: 0, the first
		switch {
		case kind == "pieces":
			at.File, at.Line, code = c.List, t.list[n].Line, exitFaults
		case kind == "stocks" && len(t.stocks) > 0:
			at.File, at.Line, code = c.StockFile, t.stocks[n].Line, exitFaults
		case kind == "stocks":
			at.Path = "--stock"
		default:
			at.Path = "--" + strings.ReplaceAll(kind, "_", "-")
		}
	}
	if len(found) > 0 {
		return outcome{code, faultText(found)}
	}
	return nil
}
