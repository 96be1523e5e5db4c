package field

import (
	"slices"
	"testing"

	"trenchwright/base/measure"
)

// What a later record does not say stays as it was said; what it says takes the place of what was said before; a correction takes the
// place of all that its record said; a unit that was lifted has nothing of what was read of it. In whatever order they come.
func TestWhatALaterRecordDoesNotSayStays(t *testing.T) {
	g := people(t)
	set := g.makes("a", Set, "A-002", "", SetSays{Off: []Off{{Place: "A-002", By: 7 * mm}}, Line: new(2 * mm), Batch: "L1", Plus: mm})
	length := g.makes("b", Set, "A-002", "", SetSays{Measure: new(2998 * mm), Plus: mm}, set.ID)
	line := g.makes("c", Set, "A-002", "", SetSays{Line: new(-30 * mm), Plus: mm}, length.ID) // knows of set by way of length
	slip := g.makes("c", Set, "A-002", "", SetSays{Batch: "L2"}, length.ID)
	slip.Corrects = length.ID
	knows := g.makes("b", Set, "A-002", "", SetSays{Line: new(9 * mm), Plus: mm}, slip.ID)
	lifted := g.makes("a", Set, "A-002", "", SetSays{Lifted: true}, line.ID)
	again := g.makes("b", Set, "A-002", "", SetSays{Within: true}, lifted.ID)
	for i, c := range []struct {
		records           []Record
		end, line, length measure.Length // below 0 too; 0: none
		batch             string
	}{
		{[]Record{set, length}, 7 * mm, 2 * mm, 2998 * mm, "L1"},
		{[]Record{set, length, line}, 7 * mm, -30 * mm, 2998 * mm, "L1"},
		{[]Record{set, length, slip}, 7 * mm, 2 * mm, 0, "L2"},
		{[]Record{set, length, slip, knows}, 7 * mm, 9 * mm, 0, "L2"},
		{[]Record{set, length, line, lifted}, 0, 0, 0, ""},
		{[]Record{set, length, line, lifted, again}, 0, 0, 0, ""},
	} {
		for range 6 {
			g.r.Shuffle(len(c.records), func(i, k int) { c.records[i], c.records[k] = c.records[k], c.records[i] })
			s := stateOf(c.records...)
			u := s.at("A-002")
			got := func(m *Measured) measure.Length {
				if m == nil || !m.Known {
					return 0
				}
				return m.Value
			}
			if got(u.End) != c.end || got(u.Line) != c.line || got(u.Length) != c.length || u.Batch != c.batch || len(s.Findings) > 0 {
				t.Errorf("%d: end %v, line %v, length %v, batch %q\n%s", i, u.End, u.Line, u.Length, u.Batch, said(s))
			}
		}
	}
}

// Levels stay corner by corner: whoever read the end of a unit did not read its start.
func TestCornersStay(t *testing.T) {
	g := people(t)
	read := func(end string, z measure.Length) LevelSays {
		return LevelSays{Of: "pad", End: end, Level: new(z), Plus: mm}
	}
	a := g.makes("a", Level, "A-001", "", read("start", 10*mm))
	b := g.makes("a", Level, "A-001", "", read("end", 20*mm))
	c := g.makes("b", Level, "A-001", "", read("end right", 29*mm), b.ID)
	rock := g.makes("a", Rock, "A-001", "", RockSays{Four: []measure.Length{0, 0, 0, 4 * mm}, Plus: mm})
	packed := g.makes("a", Rock, "A-001", "", RockSays{Packer: new(2 * mm), Corner: "end right"})
	u := stateOf(c, packed, b, a, rock).at("A-001")
	var four []measure.Length
	for _, m := range u.Levels[0].Four {
		if m == nil || !m.Known {
			t.Fatalf("%+v", u.Levels)
		}
		four = append(four, m.Value)
	}
	if want := []measure.Length{10 * mm, 10 * mm, 20 * mm, 29 * mm}; !slices.Equal(four, want) {
		t.Errorf("%v, want %v", four, want)
	}
	if u.Rock == nil || u.Rock.Value != 4*mm || u.Packer != "2 mm end right" {
		t.Errorf("%+v, %q", u.Rock, u.Packer)
	}
}

// Each thing of a unit comes to what it comes to when the records that say nothing of it had never been made but for who knew of whom:
// against an account that keeps for every record all that its writer knew, at first or second hand.
func TestWhatStaysAgainstAPlainAccount(t *testing.T) {
	g := people(t)
	for range 300 {
		type kept struct {
			Record
			says  SetSays
			knows map[string]bool
		}
		var list []kept
		var records []Record
		for range 2 + g.r.IntN(7) {
			says := SetSays{Plus: mm}
			if g.r.IntN(2) == 0 {
				says.Line = new(measure.Length(1+g.r.IntN(9)) * 10 * mm)
			}
			if g.r.IntN(2) == 0 {
				says.Measure = new(2900*mm + measure.Length(g.r.IntN(9))*10*mm)
			}
			k := kept{says: says, knows: map[string]bool{}}
			device := string(rune('a' + g.r.IntN(3)))
			var after []string
			for _, other := range list {
				if other.Device == device || g.r.IntN(3) == 0 {
					for id := range other.knows {
						k.knows[id] = true
					}
					k.knows[other.ID] = true
					after = append(after, other.ID)
				}
			}
			if g.r.IntN(2) == 0 && len(after) > 1 { // as devices write: only the last ones
				b := NewBook(small())
				for i, other := range list {
					if k.knows[other.ID] {
						b.Add(records[i])
					}
				}
				after = b.Before(Set, "A-001", "")
			}
			k.Record = g.makes(device, Set, "A-001", "", says, after...)
			list, records = append(list, k), append(records, k.Record)
		}
		u := stateOf(records...).at("A-001")
		for what, c := range map[string]struct {
			of  func(SetSays) *measure.Length
			got *Measured
		}{"line": {func(s SetSays) *measure.Length { return s.Line }, u.Line}, "length": {func(s SetSays) *measure.Length { return s.Measure }, u.Length}} {
			var want []string
			for _, k := range list {
				if c.of(k.says) != nil && !slices.ContainsFunc(list, func(o kept) bool { return c.of(o.says) != nil && o.knows[k.ID] }) {
					want = append(want, k.ID)
				}
			}
			var got []string
			if c.got != nil {
				for _, r := range c.got.Readings {
					got = append(got, r.By)
				}
			}
			slices.Sort(want)
			slices.Sort(got)
			if !slices.Equal(got, want) {
				t.Fatalf("%s: %v, want %v", what, got, want)
			}
		}
	}
}
