package levelling

import "trenchwright/base/measure"

// PageCheck is one check at the foot of a page: figures that have to be equal, each from another column.
type PageCheck struct {
	Name  string
	Sides []Side
}

// Side is one figure of a page check.
type Side struct {
	Name  string
	Value measure.Length
}

// Holds tells whether all sides are equal.
func (c PageCheck) Holds() bool {
	for _, s := range c.Sides {
		if s.Value != c.Sides[0].Value {
			return false
		}
	}
	return true
}

// pageChecks sums every column of its own: nothing is carried from line to line here.
func pageChecks(b Book, r Reduced, byHeight []measure.Length) []PageCheck {
	var back, fore, rise, fall, ends measure.Length
	for i, row := range b.Rows {
		back += either(row.Back, 0)
		fore += either(row.Fore, 0)
		if d := r.Rows[i].Rise; d > 0 {
			rise += d
		} else {
			fall -= d
		}
	}
	for _, s := range r.Stretches {
		ends += r.Rows[s.To].Level - r.Rows[s.From].Level
	}
	last := "last less first level"
	if len(r.Stretches) > 1 {
		last = "last less first level of every stretch"
	}
	apart := measure.Length(0)
	for i, l := range byHeight {
		apart = max(apart, (l - r.Rows[i].Level).Abs())
	}
	return []PageCheck{
		{"rise and fall", []Side{{"backsights less foresights", back - fore}, {"rises less falls", rise - fall}, {last, ends}}},
		{"height of instrument", []Side{{"greatest difference between the two ways of reducing", apart}, {"none", 0}}},
		intermediateCheck(b, r),
	}
}

// intermediateCheck is the check of everything that hangs on a height, intermediate sights too: the levels of all lines that
// were sighted, summed, are each height times the readings made from it, less the sum of those readings.
func intermediateCheck(b Book, r Reduced) PageCheck {
	var levels, heights, readings, height measure.Length
	for i, row := range b.Rows {
		if f := row.fore(); f != nil {
			levels += r.Rows[i].Level
			heights += height
			readings += *f
		}
		if h := r.Rows[i].Height; h != nil {
			height = *h
		}
	}
	return PageCheck{"intermediate sights", []Side{{"levels of all lines that were sighted", levels}, {"heights, once for each sight, less all sights", heights - readings}}}
}
