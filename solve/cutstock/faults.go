package cutstock

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Largest values that are taken, so that no sum here can overflow.
const (
	longest  = 100 * measure.Kilometre
	steepest = 80 * measure.Degree
	dearest  = math.MaxInt64 / (1 << 24)
	mostCuts = 1 << 20 // pieces in all
)

// Faults lists what is wrong with a Problem as it stands. Solve takes none that has any.
func Faults(p Problem) finding.List {
	f := faults{problem: p}
	f.saw()
	total := 0
	for i, piece := range p.Pieces {
		f.piece(fmt.Sprintf("pieces[%d]", i), piece)
		if piece.Count > 0 && total <= mostCuts {
			total += min(piece.Count, mostCuts+1)
		}
	}
	if total > mostCuts {
		f.add("cut.too-many-pieces", "pieces", "too many pieces for one cutting list", fmt.Sprint(total), fmt.Sprint(mostCuts), "part the job into lots")
	}
	var prices int64
	for i, stock := range p.Stocks {
		f.stock(fmt.Sprintf("stocks[%d]", i), stock)
		prices = max(prices, stock.Price)
	}
	if total > 0 && prices > dearest/int64(total) {
		f.add("cut.price-too-large", "stocks", "the price times the number of pieces is too large to count exactly", fmt.Sprint(prices), "", "state prices in a larger unit")
	}
	return f.list
}

type faults struct {
	problem Problem
	list    finding.List
}

// word is the trade's word for what is cut.
func (f *faults) word() string { return f.problem.Words.Word(wording.Unit) }

func (f *faults) add(id, path, text, value, limit, try string) {
	f.list = append(f.list, finding.Finding{
		ID: id, Kind: finding.Fault, Text: text, Where: finding.Where{Path: path}, Value: value, Limit: limit, Try: try,
	})
}

// length faults what is not within [from, longest].
func (f *faults) length(path, what string, l, from measure.Length) bool {
	if l >= from && l <= longest {
		return true
	}
	f.add("cut.length", path, what+" is out of range", f.problem.length(l), "from "+f.problem.length(from)+" to "+f.problem.length(longest), "correct the length")
	return false
}

func (f *faults) saw() {
	p := f.problem
	f.length("width", "the width of the section", p.Width, 0)
	f.length("kerf", "the kerf", p.Kerf, 0)
	f.length("least_slice", "the least slice", p.LeastSlice, 0)
	f.length("keep_from", "the shortest offcut worth keeping", p.KeepFrom, 0)
	if p.LeastSlice > 0 && p.LeastSlice < p.Kerf {
		f.add("cut.least-slice", "least_slice", "the least slice is thinner than the cut itself", f.problem.length(p.LeastSlice), "at least the kerf, "+f.problem.length(p.Kerf), "state the least slice with the kerf in it, or 0 for no limit")
	}
}

func (f *faults) end(path string, e End) bool {
	if e.Skew < -steepest || e.Skew > steepest {
		f.add("cut.skew", path, "an end is too far from square to be cut", degrees(e.Skew), "±"+degrees(steepest), "state half the angle of the bend")
		return false
	}
	if e.Skew != 0 && f.problem.Width <= f.problem.Kerf {
		f.add("cut.no-width", path, "a "+f.problem.Words.Word(wording.Mitred)+" end needs the width of the section", f.problem.length(f.problem.Width), "wider than the kerf, "+f.problem.length(f.problem.Kerf), "state the width")
		return false
	}
	return true
}

func (f *faults) piece(path string, p Piece) {
	if p.Count < 0 {
		f.add("cut.count", path, "a piece cannot be needed less than no times", fmt.Sprint(p.Count), "at least 0", "correct the count")
	}
	start, end := f.end(path+".start", p.Start), f.end(path+".end", p.End)
	if !f.length(path+".length", "the length of a piece", p.Length, 1) || !start || !end {
		return
	}
	q, k := f.problem.LeastSlice, f.problem.Kerf
	if p.Length+k < q {
		f.add("cut.thin-piece", path+".length", "a piece is thinner than the slice that the saw can take off", f.problem.length(p.Length), "at least "+f.problem.length(q-k), "correct the length or the least slice")
	}
	w := saw{width: f.problem.Width}
	if shortest := p.Length - w.wedge(p.Start.Skew, p.End.Skew); shortest <= 0 {
		f.add("cut.no-shortest-side", path, "the two ends of a piece meet before they are across the "+f.word(), f.problem.length(shortest), "above 0 on its shortest side", "lengthen the piece or lessen the bend")
	}
	for _, e := range []End{p.Start, p.End} {
		if e.Cast != "" && e.Skew != 0 {
			f.add("cut.cast-and-skew", path, "an end cannot be both cast and "+f.problem.Words.Word(wording.Mitred), e.Cast+", "+degrees(e.Skew), "", "ask for one of the two")
		}
	}
}

func (f *faults) stock(path string, s Stock) {
	f.length(path+".length", "the length of a "+f.word()+" of stock", s.Length, 1)
	f.end(path+".a", s.A)
	f.end(path+".b", s.B)
	if s.Price < 0 {
		f.add("cut.price", path+".price", "a price below nothing", fmt.Sprint(s.Price), "at least 0", "correct the price")
	}
	for i, span := range s.NoCut {
		if span.From > span.To || span.From < 0 || span.To > s.Length {
			f.add("cut.no-cut", fmt.Sprintf("%s.no_cut[%d]", path, i), "a no-cut zone does not lie on the "+f.word(), f.problem.length(span.From)+" to "+f.problem.length(span.To), "within 0 to "+f.problem.length(s.Length), "correct the stations")
		}
	}
}

// length is a length for a sentence: in millimetres exact to the nanometre, in feet and inches as the job has them.
func (p Problem) length(l measure.Length) string {
	if p.Words.Imperial {
		return p.Words.Length(l)
	}
	return mm(l)
}

// mm prints a length in millimetres, exact to the nanometre.
func mm(l measure.Length) string {
	sign := ""
	if l < 0 {
		sign, l = "−", -l
	}
	whole, rest := l/measure.Millimetre, l%measure.Millimetre
	if rest == 0 {
		return fmt.Sprintf("%s%d mm", sign, whole)
	}
	digits := fmt.Sprintf("%06d", rest)
	for digits[len(digits)-1] == '0' {
		digits = digits[:len(digits)-1]
	}
	return fmt.Sprintf("%s%d.%s mm", sign, whole, digits)
}

func degrees(a measure.Angle) string { return fmt.Sprintf("%g°", a.Degrees()) }
