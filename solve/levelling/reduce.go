package levelling

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Reduced is a book with its levels worked out, as read, before any adjustment.
type Reduced struct {
	Rows                               []Reading // one for each line of the book
	Stretches                          []Stretch
	SumBack, SumFore, SumRise, SumFall measure.Length
	Checks                             []PageCheck
	Ties                               []Tie // every benchmark that was met again, or whose level is on file; in the order of the book
}

// Reading is one line of a book, reduced.
type Reading struct {
	Point   string
	Line    int
	Level   measure.Length
	Rise    measure.Length  // from the reading before to this one; a fall is below nought; 0 where a stretch begins
	Height  *measure.Length // of the instrument that was set up behind this line
	Setup   int             // how many set-ups brought the level here, from the start of its stretch
	Run     measure.Length  // the distance levelled since then, up to the change point before where this is an intermediate sight
	Stretch int
}

// Stretch is what hangs on one benchmark: lines From to To of the book.
type Stretch struct {
	From, To     int
	Setups       int
	Distance     measure.Length
	AllDistances bool // every foresight of it has its distance
}

// Reduce works b out by rise and fall and by height of instrument, holds the two against each other, and makes every page
// check. A book with faults is refused: then there are no levels.
func Reduce(b Book) (Reduced, finding.List) {
	if faults := Faults(b); len(faults) > 0 {
		return Reduced{}, faults
	}
	r := byRiseAndFall(b)
	for i, at := range r.Rows {
		if beyond(at.Level, highestLevel) {
			return Reduced{}, finding.List{{ID: "levelling.out-of-reach", Kind: finding.Fault, Text: fmt.Sprintf("%q: the readings carry the level out of reach", at.Point),
				Where: b.at(i), Limit: b.Figures.Say(highestLevel), Value: b.Figures.Say(at.Level), Try: "the unit of the book"}}
		}
	}
	r.Checks = pageChecks(b, r, ByHeight(b))
	for _, c := range r.Checks {
		if !c.Holds() {
			panic("levelling: a page check does not hold on a book without faults: " + c.Name)
		}
	}
	r.Ties = ties(b, r)
	return r, nil
}

// byRiseAndFall carries the level from reading to reading.
func byRiseAndFall(b Book) Reduced {
	var out Reduced
	var level, sight measure.Length
	for i, row := range b.Rows {
		at := Reading{Point: row.Point, Line: row.Line}
		if row.starts() {
			out.Stretches = append(out.Stretches, Stretch{From: i, AllDistances: true})
			level = *row.Known
		} else {
			here := *row.fore()
			at.Rise = sight - here
			level, sight = level+at.Rise, here
			if at.Rise > 0 {
				out.SumRise += at.Rise
			} else {
				out.SumFall -= at.Rise
			}
		}
		s := &out.Stretches[len(out.Stretches)-1]
		if row.Fore != nil {
			out.SumFore += *row.Fore
			s.Distance += either(row.Distance, 0)
			s.AllDistances = s.AllDistances && row.Distance != nil
		}
		at.Setup, at.Run = s.Setups, s.Distance
		if row.Back != nil {
			out.SumBack += *row.Back
			s.Setups++
			at.Height = new(level + *row.Back)
			sight = *row.Back
		}
		s.To = i
		at.Level, at.Stretch = level, len(out.Stretches)-1
		out.Rows = append(out.Rows, at)
	}
	return out
}

// Last is the level of the last line.
func (r Reduced) Last() Reading { return r.Rows[len(r.Rows)-1] }
