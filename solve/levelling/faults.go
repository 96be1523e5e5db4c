package levelling

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Faults is everything that keeps b from being reduced, and every line whose own arithmetic does not agree with itself.
// A book with any of them is refused.
func Faults(b Book) finding.List {
	var out finding.List
	if len(b.Rows) == 0 {
		return finding.List{{ID: "levelling.empty", Kind: finding.Fault, Text: "the book has no lines", Where: finding.Where{Path: "book"},
			Try: "a first line with a backsight and the known level of a benchmark"}}
	}
	if len(b.Rows) > mostRows {
		return finding.List{{ID: "levelling.too-long", Kind: finding.Fault, Text: "the book is too long", Where: finding.Where{Path: "book"},
			Limit: fmt.Sprintf("%d lines", mostRows), Value: fmt.Sprintf("%d lines", len(b.Rows)), Try: "a book for each benchmark"}}
	}
	for i := range b.Rows {
		if f := b.rowFault(i); f != nil {
			out = append(out, *f)
		}
		if f := b.tooFar(i); f != nil {
			out = append(out, *f)
		}
	}
	out = append(out, b.benchmarkFaults()...)
	if len(out) == 0 {
		out = append(b.bookedFaults(), b.totalFaults()...)
	}
	return out
}

// at is where line i of the book stands in its text.
func (b Book) at(i int) finding.Where {
	r := b.Rows[i]
	if r.Line == 0 {
		return finding.Where{Path: fmt.Sprintf("book.rows[%d]", i)}
	}
	return finding.Where{Line: r.Line}
}

func (b Book) fault(i int, id, text, try string) *finding.Finding {
	return &finding.Finding{ID: "levelling." + id, Kind: finding.Fault, Text: fmt.Sprintf("%q: %s", b.Rows[i].Point, text), Where: b.at(i), Try: try}
}

// rowFault is what is wrong with the readings of line i where it stands.
func (b Book) rowFault(i int) *finding.Finding {
	r, last := b.Rows[i], i == len(b.Rows)-1
	switch {
	case r.Point == "":
		return b.fault(i, "no-point", "the point has no name", "a name for each point")
	case r.Back == nil && r.Inter == nil && r.Fore == nil:
		return b.fault(i, "no-reading", "the line has no reading", "a backsight, an intermediate sight or a foresight")
	case r.Inter != nil && r.Back != nil:
		return b.fault(i, "two-sights", "an intermediate sight and a backsight stand on one line", "for a change point, the reading before the instrument moved is the foresight")
	case r.Inter != nil && r.Fore != nil:
		return b.fault(i, "two-sights", "an intermediate sight and a foresight stand on one line", "one line for each reading onto a point")
	case i == 0 && r.Back == nil:
		return b.fault(i, "no-backsight", "the first line has no backsight", "begin with the backsight onto the benchmark")
	case i == 0 && r.fore() != nil:
		return b.fault(i, "early-foresight", "the first line has a foresight, and no instrument stood before it", "the reading onto the benchmark is a backsight")
	case i == 0 && r.Known == nil:
		return b.fault(i, "no-benchmark", "the level of the first benchmark is not on file", "its level in the column known. Ask whoever keeps the benchmarks")
	case i > 0 && r.Back != nil && r.Fore == nil && r.Known == nil:
		return b.fault(i, "no-foresight", "a backsight without a foresight before it: the level is not carried here", "the foresight that was read onto this point on the same line; or, for a fresh start from a benchmark, its known level")
	case i > 0 && r.starts() && b.Rows[i-1].Back != nil:
		return b.fault(i, "idle-setup", fmt.Sprintf("a fresh start, and from the backsight onto %q before it nothing was read", b.Rows[i-1].Point), "the foresight that closes the stretch before")
	case i > 0 && r.starts() && b.Rows[i-1].Fore == nil:
		return b.fault(i, "no-end", fmt.Sprintf("a fresh start, and the stretch before it ends at %q without a foresight", b.Rows[i-1].Point), "end each stretch with a foresight")
	case last && r.Fore == nil:
		return b.fault(i, "no-end", "the book ends without a foresight, so that its sums check nothing", "read the last sight as a foresight")
	case last && r.Back != nil:
		return b.fault(i, "idle-setup", "the book ends with a backsight from which nothing was read", "the foresight behind it, or leave the backsight out")
	}
	return nil
}

// benchmarkFaults is every benchmark that stands on file with two levels.
func (b Book) benchmarkFaults() finding.List {
	var out finding.List
	first := map[string]int{}
	for i, r := range b.Rows {
		if r.Known == nil {
			continue
		}
		k, seen := first[r.Point]
		if !seen {
			first[r.Point] = i
		} else if was := *b.Rows[k].Known; was != *r.Known {
			f := b.Figures.Exactly(was).Exactly(*r.Known)
			out = append(out, *b.fault(i, "benchmark-twice", fmt.Sprintf("this benchmark is on file with two levels, %s and %s", f.Say(was), f.Say(*r.Known)), "one level for each benchmark. Ask whoever keeps them"))
		}
	}
	if b.Whole != nil && (*b.Whole <= 0 || *b.Whole > longestLine) {
		out = append(out, finding.Finding{ID: "levelling.out-of-reach", Kind: finding.Fault, Text: "the length of the line cannot be that of a level book", Where: finding.Where{Path: "book.whole"},
			Limit: longestLine.String(), Value: b.Whole.String(), Try: "its decimal point and its unit"})
	}
	return out
}

// tooFar is a figure of line i that no rod shows and no ground has.
func (b Book) tooFar(i int) *finding.Finding {
	r := b.Rows[i]
	for _, c := range []struct {
		what  string
		l     *measure.Length
		limit measure.Length
	}{
		{"backsight", r.Back, longestReading}, {"intermediate sight", r.Inter, longestReading}, {"foresight", r.Fore, longestReading},
		{"rise", r.Rise, longestReading}, {"fall", r.Fall, longestReading}, {"known level", r.Known, highestLevel},
		{"booked level", r.Level, highestLevel}, {"booked height of instrument", r.Height, highestLevel}, {"distance", r.Distance, longestLine},
	} {
		if c.l != nil && beyond(*c.l, c.limit) {
			return &finding.Finding{ID: "levelling.out-of-reach", Kind: finding.Fault, Text: fmt.Sprintf("%q: the %s lies out of reach", r.Point, c.what),
				Where: b.at(i), Limit: b.Figures.Say(c.limit), Value: b.Figures.Say(*c.l), Try: "its decimal point, and the unit of the book"}
		}
	}
	if r.Distance != nil && *r.Distance < 0 {
		return b.fault(i, "negative-distance", "the distance is below nought", "the length of the line that was levelled")
	}
	if d := r.Design; d != nil && (beyond(d.Level, highestLevel) || d.Tolerance != nil && (*d.Tolerance < 0 || *d.Tolerance > highestLevel)) {
		return b.fault(i, "design", "the design level lies out of reach, or its tolerance is below nought", "the level asked for, and by how much it may be off either way")
	}
	return nil
}

// bookedFaults is every line whose booked rise, fall, level or height of instrument does not follow from its readings and
// from what is booked on the line before. A slip is said where it was made, not again on every line that carries it on.
func (b Book) bookedFaults() finding.List {
	var out finding.List
	var level, sight measure.Length // as the book has it at the line before; the reading that the next one is held against
	for i, r := range b.Rows {
		if r.starts() {
			out = append(out, b.notEqual(i, r.Level, *r.Known, "level", "its known level")...)
			level = either(r.Level, *r.Known)
		} else {
			here := *r.fore()
			rise, bad := b.bookedRise(i, sight-here)
			out = append(out, bad...)
			why := "the level before and the readings"
			if r.Rise != nil || r.Fall != nil {
				why = "the level before and the rise or fall that is booked"
			}
			out = append(out, b.notEqual(i, r.Level, level+rise, "level", why)...)
			level, sight = either(r.Level, level+rise), here
		}
		if r.Back != nil {
			out = append(out, b.notEqual(i, r.Height, level+*r.Back, "height of instrument", "level and backsight")...)
			if r.Height != nil {
				level = *r.Height - *r.Back // levels below hang on the height that is booked
			}
			sight = *r.Back
		} else if r.Height != nil {
			out = append(out, *b.fault(i, "booked-height", "a height of instrument is booked on a line without a backsight", "the height on the line of the backsight"))
		}
	}
	return out
}

// totalFaults is every sum at the foot that is not that of its column. Rises and falls that are not booked follow from the readings.
func (b Book) totalFaults() finding.List {
	if b.Totals == nil {
		return nil
	}
	var back, inter, fore, rise, fall, sight measure.Length
	for i, r := range b.Rows {
		back, inter, fore = back+either(r.Back, 0), inter+either(r.Inter, 0), fore+either(r.Fore, 0)
		if f := r.fore(); f != nil {
			up, _ := b.bookedRise(i, sight-*f)
			rise, fall = rise+max(up, 0), fall+max(-up, 0)
			sight = *f
		}
		if r.Back != nil {
			sight = *r.Back
		}
	}
	where := finding.Where{Path: "book.totals"}
	if b.Totals.Line > 0 {
		where = finding.Where{Line: b.Totals.Line}
	}
	var out finding.List
	for _, c := range []struct {
		what    string
		booked  *measure.Length
		follows measure.Length
	}{{"backsights", b.Totals.Back, back}, {"intermediate sights", b.Totals.Inter, inter}, {"foresights", b.Totals.Fore, fore}, {"rises", b.Totals.Rise, rise}, {"falls", b.Totals.Fall, fall}} {
		if c.booked == nil || *c.booked == c.follows {
			continue
		}
		f := b.Figures.Exactly(*c.booked).Exactly(c.follows)
		out = append(out, finding.Finding{ID: "levelling.booked-sum", Kind: finding.Fault, Where: where,
			Text: fmt.Sprintf("the sum of the %s is booked as %s; the column adds up to %s", c.what, f.Say(*c.booked), f.Say(c.follows)), Try: "look in the book: a reading or the sum was booked wrongly"})
	}
	return out
}

// bookedRise is the rise that line i books, or the one that its readings give where it books none.
func (b Book) bookedRise(i int, read measure.Length) (measure.Length, finding.List) {
	r := b.Rows[i]
	if r.Rise == nil && r.Fall == nil {
		return read, nil
	}
	booked := either(r.Rise, 0) - either(r.Fall, 0)
	switch {
	case booked == read:
		return booked, nil
	case either(r.Rise, 0) != 0 && either(r.Fall, 0) != 0:
		return booked, finding.List{*b.fault(i, "booked-rise", "a rise and a fall stand on one line", "one of them: the reading before less this one is a rise where it is above nought")}
	case booked == -read:
		return booked, finding.List{*b.fault(i, "booked-rise", fmt.Sprintf("booked as a %s of %s, and the readings give a %s", riseWord(booked), b.Figures.Say(read.Abs()), riseWord(read)),
			"the other column")}
	}
	return booked, finding.List{*b.fault(i, "booked-rise", fmt.Sprintf("a %s of %s is booked; the readings give a %s of %s", riseWord(booked), b.Figures.Say(booked.Abs()), riseWord(read), b.Figures.Say(read.Abs())),
		"look in the book: either a reading or the rise or fall was booked wrongly")}
}

func riseWord(l measure.Length) string {
	if l < 0 {
		return "fall"
	}
	return "rise"
}

func (b Book) notEqual(i int, booked *measure.Length, follows measure.Length, what, from string) finding.List {
	if booked == nil || *booked == follows {
		return nil
	}
	f := b.Figures.Exactly(*booked).Exactly(follows)
	return finding.List{*b.fault(i, "booked-level", fmt.Sprintf("the %s is booked as %s; from %s follows %s", what, f.Say(*booked), from, f.Say(follows)),
		"look in the book: one of these was booked wrongly")}
}

func either(l *measure.Length, or measure.Length) measure.Length {
	if l == nil {
		return or
	}
	return *l
}
