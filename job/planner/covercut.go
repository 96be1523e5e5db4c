package planner

import (
	"fmt"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/solve/cutstock"
)

// cutCovers decides from which covers the cut ones are sawn, for each supply. A cover has no factory end to keep.
func (b *build) cutCovers() {
	for i := range b.sup {
		s := &b.sup[i]
		if s.Cover == nil {
			continue
		}
		if at := b.coversToCut(s); len(at) > 0 {
			b.cutCoverLots(s, at)
		}
	}
}

func (b *build) cutCoverLots(s *supply, at []int) {
	c := Cutting{Supply: s.ID, Of: "covers"}
	var t lots
	for lot := range slices.Chunk(at, lotSize) {
		p := b.coverCutting(s, lot)
		p.Words = b.speech()
		sol, ok := b.solveCutting(s.ID, "covers", p)
		if !ok {
			return
		}
		b.takeCoverCutting(s, &c, lot, p, sol)
		t.add(p, sol)
	}
	b.keepCutting(c, t, "cover", "covers")
}

// coversToCut are the cut covers of a supply, in the order of the plan.
func (b *build) coversToCut(s *supply) []int {
	of := b.supplyOfUnits()
	var at []int
	for i, c := range b.plan.Covers {
		if c.Cut && of[c.Unit] == s.ID {
			at = append(at, i)
		}
	}
	return at
}

func (b *build) coverCutting(s *supply, at []int) cutstock.Problem {
	p := cutstock.Problem{
		Width: s.Cover.Width.Value, Kerf: s.Saw.Kerf.Value, LeastSlice: s.leastSlice(), KeepFrom: s.Cover.Shortest.Value,
		MayTurn: true,
	}
	for _, i := range at {
		c := b.plan.Covers[i]
		p.Pieces = append(p.Pieces, cutstock.Piece{
			ID: c.Mark, Class: s.ID, Length: measure.Length(c.Length), Count: 1,
			Start: cutstock.End{Skew: measure.FromDegrees(c.StartAngle)},
			End:   cutstock.End{Skew: measure.FromDegrees(c.EndAngle)},
		})
	}
	for _, l := range s.Cover.Lengths.Value {
		st := cutstock.Unit(l.MMString(), l)
		st.Class = s.ID
		p.Stocks = append(p.Stocks, st)
	}
	return p
}

func (b *build) supplyOfUnits() map[string]string {
	of := make(map[string]string, len(b.plan.Units))
	for _, u := range b.plan.Units {
		of[u.Mark] = u.Supply
	}
	return of
}

func (b *build) takeCoverCutting(s *supply, c *Cutting, at []int, p cutstock.Problem, sol cutstock.Solution) {
	for _, n := range oneByOne(sol) {
		st := p.Stocks[n.stock]
		c.Bought++
		pt := CutPattern{Name: fmt.Sprintf("%s-C%d", s.ID, c.Bought), Stock: measure.MM(st.Length), SawLoss: measure.MM(n.waste), Left: []LeftOver{}}
		for _, cut := range n.cuts {
			cover := &b.plan.Covers[at[cut.Piece]]
			cover.CutFrom, cover.Stock = pt.Name, measure.MM(st.Length)
			pc := p.Pieces[cut.Piece]
			pt.Pieces = append(pt.Pieces, cutPlace(cover.Mark, cut, pc, slope(pc.Start.Skew), slope(pc.End.Skew)))
		}
		for j, o := range n.offcuts {
			pt.Left = append(pt.Left, LeftOver{Mark: offcutMark(pt.Pieces[0].Mark, j), From: measure.MM(o.From), To: measure.MM(o.To), Usable: true})
		}
		pt.Saws = saws(p, st, n.cuts)
		c.Patterns = append(c.Patterns, pt)
	}
}
