package planner

import (
	"fmt"
	"math"

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
		p, at := b.coverCutting(s)
		if len(at) == 0 {
			continue
		}
		if sol, ok := b.solveCutting(s.ID, "covers", p); ok {
			b.takeCoverCutting(s, at, p, sol)
		}
	}
}

func (b *build) coverCutting(s *supply) (cutstock.Problem, []int) {
	p := cutstock.Problem{
		Width: s.Cover.Width.Value, Kerf: s.Saw.Kerf.Value, LeastSlice: s.leastSlice(), KeepFrom: s.Cover.Shortest.Value,
		MayTurn: true,
	}
	of := b.supplyOfUnits()
	var at []int
	for i, c := range b.plan.Covers {
		if !c.Cut || of[c.Unit] != s.ID {
			continue
		}
		at = append(at, i)
		p.Pieces = append(p.Pieces, cutstock.Piece{
			ID: c.Mark, Class: s.ID, Length: measure.Length(c.Length), Count: 1,
			Start: cutstock.End{Skew: sawSetting(measure.FromDegrees(c.StartAngle))},
			End:   cutstock.End{Skew: sawSetting(measure.FromDegrees(c.EndAngle))},
		})
	}
	for _, l := range s.Cover.Lengths.Value {
		st := cutstock.Unit(l.MMString(), l)
		st.Class = s.ID
		p.Stocks = append(p.Stocks, st)
	}
	return p, at
}

func (b *build) supplyOfUnits() map[string]string {
	of := make(map[string]string, len(b.plan.Units))
	for _, u := range b.plan.Units {
		of[u.Mark] = u.Supply
	}
	return of
}

func (b *build) takeCoverCutting(s *supply, at []int, p cutstock.Problem, sol cutstock.Solution) {
	c := Cutting{Supply: s.ID, Of: "covers", Bought: sol.Bought, Bound: int(sol.Bound), Proven: sol.Proven}
	c.Text = cuttingText(sol, "cover", "covers")
	for k, n := range oneByOne(sol) {
		st := p.Stocks[n.stock]
		pt := CutPattern{Name: fmt.Sprintf("%s-C%d", s.ID, k+1), Stock: measure.MM(st.Length), SawLoss: measure.MM(n.waste)}
		for _, cut := range n.cuts {
			cover := &b.plan.Covers[at[cut.Piece]]
			cover.CutFrom, cover.Stock = pt.Name, measure.MM(st.Length)
			pc := p.Pieces[cut.Piece]
			pt.Pieces = append(pt.Pieces, cutPlace(cover.Mark, cut, pc, math.Tan(pc.Start.Skew.Radians()), math.Tan(pc.End.Skew.Radians())))
		}
		for j, o := range n.offcuts {
			pt.Left = append(pt.Left, LeftOver{Mark: offcutMark(pt.Pieces[0].Mark, j), From: measure.MM(o.From), To: measure.MM(o.To), Usable: true})
		}
		pt.Saws = saws(p, st, n.cuts)
		c.Patterns = append(c.Patterns, pt)
	}
	b.plan.Cutting = append(b.plan.Cutting, c)
	b.plan.Proof.Cutting = append(b.plan.Proof.Cutting, fmt.Sprintf("supply %s: %s", s.ID, c.Text))
}
