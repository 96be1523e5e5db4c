package levelling

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Judged is one verdict about a book: on the level of a point against its design, or on the closing on a known level.
type Judged struct {
	What    string // "design level", "closing"
	Row     int
	Point   string
	Line    int
	Off     measure.Length  // found less asked for, or known
	Allowed *measure.Length // nil: none on file
	Verdict Verdict
	Missing *finding.Finding // what is not on file, where the verdict cannot be said
}

// Judge gives every verdict that a book asks for, in its order: each line with a design level, and each known level that the
// book comes back to.
func Judge(b Book, r Reduced, t Tolerance) []Judged {
	var out []Judged
	tie := 0
	for i, row := range b.Rows {
		if d := row.Design; d != nil {
			out = append(out, judgeDesign(b, r, i, *d))
		}
		for ; tie < len(r.Ties) && r.Ties[tie].Row == i; tie++ {
			c := t.Close(r.Ties[tie].Misclosure, r.Ties[tie].Distance, r.Ties[tie].Setups, b.at(i))
			out = append(out, Judged{What: "closing", Row: i, Point: row.Point, Line: row.Line, Off: r.Ties[tie].Misclosure, Allowed: c.Allowed, Verdict: c.Verdict, Missing: c.Missing})
		}
	}
	return out
}

func judgeDesign(b Book, r Reduced, i int, d Design) Judged {
	j := Judged{What: "design level", Row: i, Point: b.Rows[i].Point, Line: b.Rows[i].Line, Off: r.Rows[i].Level - d.Level, Allowed: d.Tolerance, Verdict: CannotSay}
	switch {
	case d.Tolerance == nil:
		j.Missing = new(finding.NoneOnFile(fmt.Sprintf("tolerance of the level of %q", j.Point), "whoever wrote the specification of the works", b.at(i)))
	case j.Off.Abs() <= *d.Tolerance:
		j.Verdict = Meets
	default:
		j.Verdict = DoesNot
	}
	return j
}

// Correction is what comes of a benchmark whose level on file was wrong.
type Correction struct {
	Point         string
	Was, Is       measure.Length
	Before, After Reduced
	Moved         []int  // lines whose level is another now: from its set-ups on, up to the next fresh start
	Flips         []Flip // verdicts that are others now
}

// Flip is a verdict before and after.
type Flip struct{ Before, After Judged }

// Correct puts another level of a benchmark on file, works the book out again as its arithmetic says, and tells what moved and
// which verdicts flipped. Where a stretch begins from the benchmark, that stretch moves from there on; one that only comes
// back to it does not move, and closes by something else.
func Correct(b Book, point string, is measure.Length, t Tolerance) (Correction, finding.List) {
	before, faults := Reduce(b)
	if len(faults) > 0 {
		return Correction{}, faults
	}
	c := Correction{Point: point, Is: is, Before: before}
	fixed, found := b, false
	fixed.Rows = append([]Row(nil), b.Rows...)
	for i := range fixed.Rows {
		r := &fixed.Rows[i]
		r.Level, r.Height = nil, nil // what was worked out from the wrong level goes; readings stay
		if r.Point == point && r.Known != nil {
			c.Was, found = *r.Known, true
			r.Known = &is
		}
	}
	if !found {
		return Correction{}, finding.List{{ID: "levelling.no-such-benchmark", Kind: finding.Fault, Text: fmt.Sprintf("no level of %q is on file in this book, and none can be corrected", point),
			Where: finding.Where{Path: "book"}, Try: "a point with a known level"}}
	}
	if c.After, faults = Reduce(fixed); len(faults) > 0 {
		return Correction{}, faults
	}
	for i := range b.Rows {
		if c.Before.Rows[i].Level != c.After.Rows[i].Level {
			c.Moved = append(c.Moved, i)
		}
	}
	was, now := Judge(b, c.Before, t), Judge(fixed, c.After, t)
	for i := range was { // the same lines are judged: nothing but one known level changed
		if was[i].Verdict != now[i].Verdict {
			c.Flips = append(c.Flips, Flip{was[i], now[i]})
		}
	}
	return c, nil
}
