package planner

import (
	"cmp"
	"fmt"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/place/route"
	"trenchwright/solve/cutstock"
	"trenchwright/solve/layout"
)

// wanted is one cut unit that has to come from somewhere.
type wanted struct {
	unit  int // index in the plan
	laid  layout.Unit
	piece cutstock.Piece // as the cutting sees it: along the way it is laid
	back  bool           // the leg is laid from its to end: piece runs against the leg
}

// cutUnits decides, for each supply, which units are bought to be cut and how, and completes the cut cards.
func (b *build) cutUnits(legs []laid) {
	for i := range b.sup {
		s := &b.sup[i]
		want := b.wantedOf(s, legs)
		if len(want) == 0 {
			continue
		}
		b.cutLots(s, want)
	}
}

// cutLots cuts the pieces of one supply lot by lot, in the order of the plan; what one lot takes from the yard is gone
// for the next.
func (b *build) cutLots(s *supply, want []wanted) {
	c := Cutting{Supply: s.ID, Of: "units"}
	var t lots
	yard := slices.Clone(b.job.Yard)
	for _, lot := range b.cutTogether(want) {
		p := unitCutting(s, lot.want, b.yardFor(lot, yard))
		if lot.held() {
			p = lot.from(p)
		}
		p.Words = b.speech()
		sol, ok := b.solveCutting(s.ID, "units", p)
		if !ok {
			return
		}
		b.takeCutting(s, &c, lot.want, p, sol)
		t.add(p, sol)
		for _, pt := range sol.Patterns {
			if st := p.Stocks[pt.Stock]; st.Offcut {
				yard = without(yard, st.ID, pt.Times)
			}
		}
	}
	b.keepCutting(c, t, b.speech().Word(wording.Unit), b.speech().Word(wording.Units))
}

// sawLot are pieces that are cut together; what a job says of where they come from holds.
type sawLot struct {
	want  []wanted
	of    string         // mark of the offcut that they come from
	whole measure.Length // length of the whole unit that they come from
}

func (l sawLot) held() bool { return l.of != "" || l.whole != 0 }

// from is a cutting from that alone; where it is not there any more, from whatever is.
func (l sawLot) from(p cutstock.Problem) cutstock.Problem {
	q := p
	q.Stocks = slices.DeleteFunc(slices.Clone(p.Stocks), func(s cutstock.Stock) bool {
		return l.of != "" && s.ID != l.of || l.of == "" && (s.Offcut || s.Length != l.whole)
	})
	if sol, err := cutstock.Solve(q, cutstock.Limits{}); err != nil || sol.Verdict != cutstock.Found {
		return p
	}
	return q
}

// yardFor is the yard without the offcuts that pieces of other lots are held to.
func (b *build) yardFor(lot sawLot, yard []job.YardItem) []job.YardItem {
	if lot.of != "" {
		return yard
	}
	held := map[string]bool{}
	for i := range b.job.Route.Legs {
		if made := b.job.Route.Legs[i].Built; made != nil {
			for _, c := range made.Courses {
				held[c.Of] = c.Of != ""
			}
		}
	}
	return slices.DeleteFunc(slices.Clone(yard), func(y job.YardItem) bool { return held[y.Mark] })
}

// cutTogether parts pieces into lots. What lies was sawn with what it was sawn with, from what it was sawn from: its unit is a lot of
// its own, with the pieces that are still to come from it. A piece that a person chose an offcut for is cut from that.
func (b *build) cutTogether(want []wanted) []sawLot {
	begun := map[string]job.Course{}
	for i := range b.job.Route.Legs {
		if made := b.job.Route.Legs[i].Built; made != nil {
			for _, c := range made.Courses {
				begun[c.From] = c
			}
		}
	}
	var lots []sawLot
	done := make([]bool, len(want))
	for i, w := range want {
		u := &b.plan.Units[w.unit]
		c := begun[u.Mark]
		if done[i] || !u.Lies && c.Of == "" {
			continue
		}
		one := sawLot{want: []wanted{w}, of: c.Of}
		if c.Of == "" {
			one.whole = c.Stock
		}
		done[i] = true
		for k, other := range want {
			mark := b.plan.Units[other.unit].Mark
			if !done[k] && (c.Of != "" && begun[mark].Of == c.Of || begun[mark].Of == "" && slices.Contains(c.With, mark)) {
				one.want, done[k] = append(one.want, other), true
			}
		}
		lots = append(lots, one)
	}
	var rest []wanted
	for i, w := range want {
		if !done[i] {
			rest = append(rest, w)
		}
	}
	for part := range slices.Chunk(rest, lotSize) {
		lots = append(lots, sawLot{want: part})
	}
	return lots
}

// without takes n of the offcuts of a mark out of the yard.
func without(yard []job.YardItem, mark string, n int) []job.YardItem {
	var out []job.YardItem
	for _, y := range yard {
		if y.Mark == mark {
			y.Count = max(y.Count, 1) - n
			if y.Count <= 0 {
				continue
			}
		}
		out = append(out, y)
	}
	return out
}

// wantedOf lists a supply's cut units in the order of the plan. Closers on hold are ordered whole and cut on site.
func (b *build) wantedOf(s *supply, legs []laid) []wanted {
	var out []wanted
	for li := range legs {
		l := &legs[li]
		for i, u := range l.units {
			if l.supply[u.Supply] != s.index || !u.Cut {
				continue
			}
			at := l.first + i
			b.plan.Units[at].Piece = describe(u, s)
			if u.Hold {
				b.plan.Units[at].Piece.CutFrom = b.tell("a whole %s, from a measurement", wording.Unit)
				b.plan.Units[at].Piece.Lift = "said when it has been measured"
				continue
			}
			p := pieceOf(b.plan.Units[at].Mark, s, u)
			if l.back {
				p.Start, p.End = p.End, p.Start
			}
			out = append(out, wanted{at, u, p, l.back})
		}
	}
	return out
}

func pieceOf(mark string, s *supply, u layout.Unit) cutstock.Piece {
	return cutstock.Piece{
		ID: mark, Class: s.ID, Length: u.Length, Count: 1,
		Start: cutstock.End{Skew: sawAngle(u.StartTan)},
		End:   cutstock.End{Skew: sawAngle(u.EndTan)},
	}
}

// unitCutting is the cutting problem of one supply: its stock without limit, offcuts in the yard as they are.
func unitCutting(s *supply, want []wanted, yard []job.YardItem) cutstock.Problem {
	p := cutstock.Problem{
		Width: s.width, Kerf: s.Saw.Kerf.Value, LeastSlice: s.leastSlice(), KeepFrom: s.Saw.Shortest.Value,
		FactoryEnd: s.Saw.KeepFactoryEnd.Value, MayTurn: s.Unit.MayTurn.Value,
	}
	for _, w := range want {
		p.Pieces = append(p.Pieces, w.piece)
	}
	for _, l := range s.Unit.Lengths.Value {
		st := cutstock.Unit(l.MMString(), l)
		st.Class = s.ID
		for _, n := range s.Unit.NoCut {
			if n.Of == l {
				st.NoCut = append(st.NoCut, cutstock.Span{From: n.From, To: n.To})
			}
		}
		p.Stocks = append(p.Stocks, st)
	}
	for _, y := range yard {
		if y.Supply != s.ID || y.Mark == "" {
			continue
		}
		p.Stocks = append(p.Stocks, cutstock.Stock{ID: y.Mark, Class: s.ID, Length: y.Length, Count: max(y.Count, 1), Offcut: true,
			A: yardEnd(y.Ends[0]), B: yardEnd(y.Ends[1])})
	}
	return p
}

func yardEnd(e job.YardEnd) cutstock.End {
	out := cutstock.End{Skew: sawSetting(e.Angle)}
	if e.Factory {
		out.Cast = cutstock.Plain
	}
	return out
}

// solveCutting solves, has it checked, and says what was proven.
func (b *build) solveCutting(supply, of string, p cutstock.Problem) (cutstock.Solution, bool) {
	sol, err := cutstock.Solve(p, cutstock.Limits{})
	if err != nil {
		b.add(finding.Finding{ID: "planner.cutting-problem", Kind: finding.Fault, Text: fmt.Sprintf("cutting %s of supply %s: %v", b.cutThings(of), supply, err),
			Where: finding.Where{Path: "supplies." + supply}, Ask: "the supplier"})
		return sol, false
	}
	bad := cutstock.Check(p, sol)
	for _, f := range bad {
		b.add(f)
	}
	if sol.Verdict != cutstock.Found {
		b.add(finding.Finding{ID: "planner.cutting", Kind: finding.Impossible, Ask: "the supplier", Where: finding.Where{Path: "supplies." + supply},
			Try:  b.tell("more whole %s in the yard of this supply, or another stock length; or a node that is moved, so that other lengths are cut", b.cutThings(of)),
			Text: fmt.Sprintf("the %s of supply %s cannot be cut as laid out: %s; what the bill orders does not hold the %d that are to be cut", b.cutThings(of), supply, sol.Why, len(p.Pieces))})
		return sol, false
	}
	return sol, len(bad) == 0
}

// cutThings are what a cutting cuts, in the job's words.
func (b *build) cutThings(of string) string {
	if of == "units" {
		return b.speech().Word(wording.Units)
	}
	return of
}

// numbered is one stock unit of a solution, patterns taken apart.
type numbered struct {
	stock   int
	cuts    []cutstock.Placed
	offcuts []cutstock.Offcut
	waste   measure.Length
}

// oneByOne takes patterns apart into single units, the one with the earliest piece first, so that numbering follows the
// laying order. Pieces are single: each index stands in one unit only.
func oneByOne(sol cutstock.Solution) []numbered {
	var out []numbered
	for _, pt := range sol.Patterns {
		for range pt.Times {
			out = append(out, numbered{pt.Stock, pt.Cuts, pt.Offcuts, pt.Waste})
		}
	}
	first := func(n numbered) int {
		m := int(^uint(0) >> 1)
		for _, c := range n.cuts {
			m = min(m, c.Piece)
		}
		return m
	}
	sorting.By(out, func(x, y numbered) int { return cmp.Compare(first(x), first(y)) })
	return out
}

// takeCutting writes one lot of a supply's cutting into the plan and onto its pieces' cards.
func (b *build) takeCutting(s *supply, c *Cutting, want []wanted, p cutstock.Problem, sol cutstock.Solution) {
	bought := c.Bought
	for _, n := range oneByOne(sol) {
		st := p.Stocks[n.stock]
		name := st.ID
		if !st.Offcut {
			bought++
			name = fmt.Sprintf("%s-U%d", s.ID, bought)
		}
		pt := CutPattern{Name: name, Stock: measure.MM(st.Length), Offcut: st.Offcut, SawLoss: measure.MM(n.waste), Left: []LeftOver{}}
		for _, cut := range n.cuts {
			w := want[cut.Piece]
			u := &b.plan.Units[w.unit]
			cut.Turned = cut.Turned != w.back
			along := pieceOf(u.Mark, s, w.laid)
			pt.Pieces = append(pt.Pieces, cutPlace(u.Mark, cut, along, w.laid.StartTan, w.laid.EndTan))
			u.Stock = measure.MM(st.Length)
			u.Piece.KeptEnd = keptBy(st, cut, along)
			u.Piece.CutFrom, u.Piece.FromMM, u.Piece.Turned = name, measure.MM(cut.At), cut.Turned
			if st.Offcut {
				u.Piece.Lift = offcutLift(s)
			} else {
				finish(u.Piece, s, castOn(s, st.Length, w.laid, cut.At, cut.Turned, u.Piece.KeptEnd))
			}
		}
		owner := pt.Pieces[0].Mark
		for k, o := range n.offcuts {
			pt.Left = append(pt.Left, LeftOver{Mark: offcutMark(owner, k), From: measure.MM(o.From), To: measure.MM(o.To), Usable: true})
		}
		pt.Saws = saws(p, st, n.cuts)
		c.Patterns = append(c.Patterns, pt)
	}
	c.Bought = bought
}

func cutPlace(mark string, cut cutstock.Placed, p cutstock.Piece, startTan, endTan float64) CutPlace {
	out := CutPlace{Mark: mark, From: measure.MM(cut.At), To: measure.MM(cut.At + p.Length), Turned: cut.Turned, FromTan: startTan, ToTan: endTan}
	if cut.Turned {
		out.FromTan, out.ToTan = endTan, startTan
	}
	return out
}

// finish completes the card of a cut unit: what of its cast-in things the saw leaves, and what lifts it.
func finish(p *Piece, s *supply, things []castHere) {
	for _, h := range things {
		if h.hit != "" {
			p.CutThings = append(p.CutThings, h.hit)
		}
		if h.Kind == "insert" && h.left {
			p.Inserts = append(p.Inserts, InsertLeft{Name: h.Name, Side: sideWord(h.y), X: measure.MM(h.x)})
		}
	}
	p.Lift = liftWord(p, things, s)
}

func sideWord(y measure.Length) string {
	switch {
	case y > 0:
		return "left"
	case y < 0:
		return "right"
	}
	return "middle"
}

// offcutLift says how a piece of an offcut is lifted: where its inserts lie, the yard's list does not tell.
func offcutLift(s *supply) string {
	if by := s.Lifting.By; by.Known && by.Value == "inserts" {
		return "NOT CHECKED: no inserts of this offcut on file. Ask: whoever cut it"
	}
	return liftWord(nil, nil, s)
}

// liftWord says how a cut piece is lifted: by inserts, or otherwise as its supply says.
func liftWord(p *Piece, things []castHere, s *supply) string {
	switch by := s.Lifting.By; {
	case !by.Known:
		return "NOT CHECKED: no way of lifting on file. Ask: the supplier"
	case by.Value == "inserts":
		return liftOf(p, things, s)
	case s.Lifting.CutLift.Known:
		return "by " + by.Value + "; cut pieces: " + s.Lifting.CutLift.Value
	case by.Value == "hand":
		return "by hand"
	default:
		return "by " + by.Value + ". NOT CHECKED: no word on file about cut pieces. Ask: the supplier"
	}
}

// keptBy says which end of the piece as laid is still the cast end of its stock.
func keptBy(st cutstock.Stock, cut cutstock.Placed, p cutstock.Piece) string {
	nearA, nearB := p.Start.Skew, p.End.Skew
	if cut.Turned {
		nearA, nearB = nearB, nearA
	}
	a := st.A.Cast != "" && cut.At == 0 && nearA == st.A.Skew
	z := st.B.Cast != "" && cut.At+p.Length == st.Length && nearB == st.B.Skew
	switch {
	case a && z:
		return "both"
	case a && !cut.Turned, z && cut.Turned:
		return "start"
	case a || z:
		return "end"
	}
	return "none"
}

// saws counts saw cuts on one unit: between two pieces one where their faces are parallel and two where not, and one at
// each end that is not left as it is.
func saws(p cutstock.Problem, st cutstock.Stock, cuts []cutstock.Placed) int {
	n := 0
	skew := st.A.Skew
	pos := measure.Length(0)
	for i, c := range cuts {
		pc := p.Pieces[c.Piece]
		lo, hi := pc.Start.Skew, pc.End.Skew
		if c.Turned {
			lo, hi = hi, lo
		}
		switch {
		case i == 0 && c.At == 0 && lo == skew:
		case i == 0:
			n++
		case lo == skew && c.At-pos <= route.Corner{Deflection: 2 * lo}.Across(p.Kerf)+1:
			n++
		default:
			n += 2
		}
		skew, pos = hi, c.At+pc.Length
	}
	if pos != st.Length || skew != st.B.Skew {
		n++
	}
	return n
}
