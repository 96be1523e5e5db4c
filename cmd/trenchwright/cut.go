package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/solve/cutstock"
	"trenchwright/view/table"
)

// cutCommand cuts a list of pieces from stock.
type cutCommand struct {
	List       string `arg:"" type:"existingfile" help:"CSV with the columns length,count and, where there are mitres, hand,angle."`
	Stock      string `help:"Length of a unit, as many as are needed; several parted by commas." placeholder:"LENGTH,…" xor:"stock"`
	StockFile  string `type:"existingfile" help:"CSV with the columns length,count,price: several stocks, limited in number (an empty count: as many as are needed)." placeholder:"FILE" xor:"stock"`
	Kerf       string `required:"" help:"What the saw takes." placeholder:"LENGTH"`
	LeastSlice string `help:"Least slice that the saw can take off an end; the kerf where left out." placeholder:"LENGTH"`
	Ends       string `required:"" enum:"factory,any" help:"factory: every placed piece keeps one end as cast; any: it need not."`
	Width      string `help:"Outer width of the section; needed where pieces are mitred." placeholder:"LENGTH"`
	JSON       bool   `name:"json" help:"Answer as JSON."`
}

// cutAnswer is what `trenchwright cut --json` prints.
type cutAnswer struct {
	Verdict  string       `json:"verdict"`
	Why      string       `json:"why,omitempty"`
	Bought   int          `json:"bought"`
	Bound    int64        `json:"bound"` // proven: nothing costs less
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

type cutPiece struct {
	ID     string     `json:"id,omitempty"`
	At     measure.MM `json:"at_mm"`
	Length measure.MM `json:"length_mm"`
	Turned bool       `json:"turned,omitempty"`
}

func (c *cutCommand) Run(p program) error {
	q, assumed, err := c.problem()
	if err != nil {
		var o outcome
		if errors.As(err, &o) {
			return err
		}
		return outcome{exitUsage, "trenchwright cut: " + err.Error()}
	}
	sol, err := cutstock.Solve(q, cutstock.Limits{})
	if err != nil {
		return outcome{exitFaults, "trenchwright cut: " + err.Error()}
	}
	if bad := cutstock.Check(q, sol); len(bad) > 0 {
		return outcome{exitBroken, "trenchwright cut: the answer did not pass its own check, please report it: " + bad[0].Text}
	}
	a := answerOf(q, sol, assumed)
	if c.JSON {
		if err := p.json(a); err != nil {
			return err
		}
	} else {
		p.showCut(a)
	}
	switch sol.Verdict {
	case cutstock.Found:
		return nil
	case cutstock.Impossible:
		return outcome{code: exitImpossible}
	}
	return outcome{code: exitUndecided}
}

func answerOf(q cutstock.Problem, sol cutstock.Solution, assumed []string) cutAnswer {
	a := cutAnswer{Verdict: string(sol.Verdict), Why: sol.Why, Bought: sol.Bought, Bound: sol.Bound, Proven: sol.Proven, Cost: sol.Cost,
		WasteMM: measure.MM(sol.Waste), Patterns: []cutPattern{}, Assumed: append([]string{}, assumed...)}
	for _, t := range sol.Patterns {
		o := cutPattern{Stock: measure.MM(q.Stocks[t.Stock].Length), Times: t.Times, Waste: measure.MM(t.Waste), Pieces: []cutPiece{}}
		for _, k := range t.Cuts {
			o.Pieces = append(o.Pieces, cutPiece{q.Pieces[k.Piece].ID, measure.MM(k.At), measure.MM(q.Pieces[k.Piece].Length), k.Turned})
		}
		a.Patterns = append(a.Patterns, o)
	}
	return a
}

func (c *cutCommand) problem() (cutstock.Problem, []string, error) {
	q := cutstock.Problem{FactoryEnd: c.Ends == "factory", MayTurn: true}
	assumed := []string{"units may be turned end for end: assumed, no supplier's word"}
	k, err := length("--kerf", c.Kerf)
	if err != nil {
		return q, nil, err
	}
	q.Kerf, q.LeastSlice = k.Length, k.Length
	if c.LeastSlice == "" {
		assumed = append(assumed, fmt.Sprintf("least slice %s, the kerf: assumed, no supplier's figure", k.Length))
	} else {
		r, err := length("--least-slice", c.LeastSlice)
		if err != nil {
			return q, nil, err
		}
		q.LeastSlice = r.Length
	}
	if c.Width != "" {
		r, err := length("--width", c.Width)
		if err != nil {
			return q, nil, err
		}
		q.Width = r.Length
	}
	if q.Stocks, err = c.stocks(); err != nil {
		return q, nil, err
	}
	f, err := os.Open(c.List)
	if err != nil {
		return q, nil, err
	}
	defer f.Close()
	list, faults := table.ReadCutting(c.List, f, measure.UnitMillimetre)
	if len(faults) > 0 {
		return q, nil, outcome{exitFaults, faultText(faults)}
	}
	for _, r := range list {
		if r.Skew() != 0 && q.Width == 0 {
			return q, nil, fmt.Errorf("%s, line %d: a mitred piece needs the outer width of the section: give --width", c.List, r.Line)
		}
		q.Pieces = append(q.Pieces, cutstock.Piece{ID: r.ID, Length: r.Length, Count: r.Count, End: cutstock.End{Skew: r.Skew()}})
	}
	return q, assumed, nil
}

func (c *cutCommand) stocks() ([]cutstock.Stock, error) {
	if c.StockFile != "" {
		f, err := os.Open(c.StockFile)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		return readStocks(c.StockFile, f)
	}
	var out []cutstock.Stock
	for _, t := range strings.FieldsFunc(c.Stock, func(r rune) bool { return r == ',' }) {
		r, err := length("--stock", strings.TrimSpace(t))
		if err != nil {
			return nil, err
		}
		out = append(out, cutstock.Unit(r.Length.MMString(), r.Length))
	}
	if len(out) == 0 {
		return nil, errors.New("nothing says what the pieces are cut from: give --stock or --stock-file")
	}
	return out, nil
}

// readStocks reads the columns length, count and price; without a price every unit costs 1.
func readStocks(name string, r io.Reader) ([]cutstock.Stock, error) {
	rows, err := csv.NewReader(io.LimitReader(r, 1<<20)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(rows) < 2 {
		return nil, fmt.Errorf("%s: no stock in it; the columns are length,count,price", name)
	}
	col := map[string]int{}
	for i, h := range rows[0] {
		col[strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff")))] = i
	}
	at, ok := col["length"]
	if !ok {
		return nil, fmt.Errorf("%s: line 1: no column length; the columns are length,count,price", name)
	}
	cell := func(row []string, what string) string {
		if i, ok := col[what]; ok {
			return strings.TrimSpace(row[i])
		}
		return ""
	}
	var out []cutstock.Stock
	for i, row := range rows[1:] {
		l, err := length("length", row[at])
		if err != nil {
			return nil, fmt.Errorf("%s: line %d: %w", name, i+2, err)
		}
		s := cutstock.Unit(l.Length.MMString(), l.Length)
		for what, into := range map[string]func(int64){"count": func(n int64) { s.Count = int(n) }, "price": func(n int64) { s.Price = n }} {
			t := cell(row, what)
			if t == "" {
				continue
			}
			n, err := strconv.ParseInt(t, 10, 32)
			if err != nil || n < 0 {
				return nil, fmt.Errorf("%s: line %d: %s %q is not a whole number", name, i+2, what, t)
			}
			into(n)
		}
		out = append(out, s)
	}
	return out, nil
}
