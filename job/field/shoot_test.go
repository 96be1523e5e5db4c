package field

import (
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/levelling"
)

// levelled is the small run with a bed that falls by 1 mm a unit, and pads that nobody planned.
func levelled() *Run {
	run := small()
	for l := range run.Legs {
		for i := range run.Legs[l].Units {
			a, z := 1000*mm-measure.Length(i)*mm, 999*mm-measure.Length(i)*mm
			run.Legs[l].Units[i].Levels = []Planned{{"bed", [4]measure.Length{a, a, z, z}}}
		}
	}
	return run
}

// shot is a level that was read on the rod from a height of 3 m.
func (g *gang) shot(place string, rod ...measure.Length) Record {
	r := g.makes("a", Level, place, "", LevelSays{Of: "bed", Height: new(3 * measure.Metre), Rod: rod, Plus: mm})
	r.Instrument = &Instrument{ID: "L7", SetUp: "1"}
	return r
}

// What was read is cut or filled at each corner, rocks by (a+d)-(b+c), steps from the unit before, and shifts the next two joints.
// Worked by hand.
func TestFound(t *testing.T) {
	g := people(t)
	b := NewBook(levelled())
	b.Add(g.shot("A-001", 2000*mm, 2000*mm, 2001*mm, 2001*mm), g.shot("A-002", 2001*mm, 2009*mm, 1994*mm, 2002*mm))
	f, ok := b.FoundAt("A-002.1", "bed")
	if !ok || len(f.Corners) != 4 {
		t.Fatalf("%+v", f)
	}
	for i, want := range []string{"as planned", "fill", "cut", "as planned"} {
		if c := f.Corners[i]; c.Do != want || c.Off != []measure.Length{0, -8 * mm, 8 * mm, 0}[i] {
			t.Errorf("%d: %+v, want %s", i, c, want)
		}
	}
	// levels 999, 991, 1006, 998: (999+998)-(991+1006) = 0
	if f.Rocks || f.Twist != 0 || f.Packers != nil {
		t.Errorf("%+v", f)
	}
	if f.Lip == nil || f.Lip.Step != -8*mm || f.Lip.Side != "right" || f.Lip.From != "A-001" || f.Lip.Plus != 2*mm {
		t.Errorf("%+v", f.Lip)
	}
	if k := f.Knock; k == nil || k.Off != 4*mm || k.Back != -4*mm || len(k.Joints) != 2 || k.Joints[0] != "end of A-003" || k.Change != "-0.13 %" {
		t.Errorf("%+v", k) // 4 mm in 3 m
	}
	b.Add(g.shot("A-003", 2002*mm, 2002*mm, 2003*mm, 2013*mm))
	if f, _ := b.FoundAt("A-003", "bed"); !f.Rocks || f.Twist != -10*mm || f.Packers.One != 10*mm || f.Packers.Both != [2]measure.Length{5 * mm, 5 * mm} || f.Packers.Under != [2]string{"start left", "end right"} {
		t.Errorf("%+v %+v", f, f.Packers)
	}
	if _, ok := b.FoundAt("A-004", "bed"); ok {
		t.Error("nobody read A-004")
	}
}

// What is read next are the places without a reading, with the rod at each corner; where the contract has a frequency, what it wants.
func TestToRead(t *testing.T) {
	g := people(t)
	b := NewBook(levelled())
	b.Add(g.shot("A-002", 2001*mm))
	j := job.Job{Rules: job.Rules{Readings: []job.ReadingRule{{Of: "bed", Every: 2}}}}
	list := b.ToRead(Asks(j), "A", "bed", "", 1998*mm, 9)
	if len(list) != 3 || list[0].Place != "A-001" || list[1].Place != "A-003" || !list[0].Read || !list[1].Read || list[2].Read {
		t.Fatalf("%+v", list)
	}
	if r := list[1]; r.Rod != [4]measure.Length{1000 * mm, 1000 * mm, 1001 * mm, 1001 * mm} || !r.Seen {
		t.Errorf("%+v", r)
	}
	if list := b.ToRead(Asks(job.Job{}), "A", "bed", "A-003", 997*mm, 1); len(list) != 1 || list[0].Seen || !list[0].Read {
		t.Errorf("%+v", list)
	}
	if list := b.ToRead(Asks(j), "A", "pad", "", 2*measure.Metre, 9); list != nil {
		t.Errorf("nobody planned pads: %+v", list)
	}
}

// The book of what was read comes, reduced by height of instrument, to the levels that the state has.
func TestLevelBookComesToTheState(t *testing.T) {
	g := people(t)
	for range 40 {
		b := NewBook(levelled())
		height := measure.Length(2000+g.r.IntN(900)) * mm
		up := func(level, rod measure.Length, closes bool) {
			r := g.makes("a", SetUp, "", "", SetUpSays{Benchmark: "BM", Level: level, Rod: rod, Closes: closes})
			r.Instrument = &Instrument{ID: "L7", SetUp: "1"}
			b.Add(r)
		}
		up(height-1500*mm, 1500*mm, false)
		want := map[string]measure.Length{}
		for _, place := range []string{"A-001", "A-002", "B-003"} {
			rod := measure.Length(g.r.IntN(2000)) * mm
			r := g.makes("a", Level, place, "", LevelSays{Of: "bed", Height: &height, Rod: []measure.Length{rod}})
			r.Instrument = &Instrument{ID: "L7", SetUp: "1"}
			b.Add(r)
			want[place+" bed"] = b.State("").at(place).Levels[0].Four[0].Value
		}
		if g.r.IntN(2) == 0 {
			up(height-700*mm, 702*mm, true)
		}
		var book levelling.Book
		for _, r := range b.LevelBook("L7") {
			row := levelling.Row{Point: r.Point}
			for _, c := range []struct {
				text string
				into **measure.Length
			}{{r.Back, &row.Back}, {r.Inter, &row.Inter}, {r.Fore, &row.Fore}, {r.Known, &row.Known}} {
				if c.text != "" {
					l, err := measure.ParseIn(c.text, measure.UnitMetre)
					if err != nil {
						t.Fatal(err)
					}
					*c.into = &l.Length
				}
			}
			book.Rows = append(book.Rows, row)
		}
		found := 0
		for i, level := range levelling.ByHeight(book) {
			if z, is := want[book.Rows[i].Point]; is {
				found++
				if z != level {
					t.Fatalf("%s: %s by the book, %s by the state", book.Rows[i].Point, level, z)
				}
			}
		}
		if last := book.Rows[len(book.Rows)-1]; found != 3 || last.Fore == nil {
			t.Fatalf("%d of 3 found; the book ends with %+v", found, last)
		}
	}
}
