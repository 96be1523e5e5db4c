package field

import (
	"bytes"
	"fmt"
	"testing"

	"trenchwright/base/measure"
)

// long is a run of ten legs of so many units each, six covers a unit.
func long(units int) *Run {
	run := &Run{}
	for l := range 10 {
		leg := Leg{ID: fmt.Sprint(l)}
		for i := range units {
			u := Unit{Place: fmt.Sprintf("%d-%04d", l, i+1), Piece: plain}
			for c := range 6 {
				u.Covers = append(u.Covers, fmt.Sprintf("%s.%d", u.Place, c+1))
				u.Lids = append(u.Lids, lid)
			}
			leg.Units = append(leg.Units, u)
		}
		run.Legs = append(run.Legs, leg)
	}
	return run
}

// work is what ten devices record along a run: units set, gaps, layers, levels, covers, most of it knowing what was recorded there
// before, some of it corrected.
func (g *gang) work(units, n int) []Record {
	records := make([]Record, 0, n)
	before := map[string]string{}
	for i := range n {
		device, at := fmt.Sprintf("device-%d", i%10), fmt.Sprintf("%d-%04d", g.r.IntN(10), 1+g.r.IntN(units))
		var r Record
		switch i % 8 {
		case 0, 1:
			r = g.makes(device, Set, at, "", SetSays{Within: true, Off: []Off{{Place: at, By: 3 * mm}}, Plus: mm})
		case 2, 3:
			r = g.makes(device, Gap, at, "", GapSays{new(10 * mm), new(11 * mm), mm})
		case 4:
			r = g.makes(device, Level, at, "", LevelSays{Of: "pad", Four: []measure.Length{100 * mm, 100 * mm, 101 * mm, 100 * mm}, Plus: mm})
		case 5:
			r = g.makes(device, Cover, at, "", CoverSays{Done: "laid"})
		case 6:
			r = g.makes(device, Delivery, "", "", DeliverySays{Ticket: "t", Lines: []Delivered{{Piece: plain, Came: 12}}})
		default:
			r = g.makes(device, Layer, at, "", LayerSays{Number: 1 + i%4, Side: "both"})
		}
		if thing := string(r.Kind) + at; r.From != "" {
			id := before[thing]
			if id != "" && i%5 != 0 {
				r.After = []string{id}
			}
			if i%50 == 1 {
				r.Corrects = id
			}
			before[thing] = r.ID
		}
		records = append(records, r)
	}
	return records
}

// A million records of a run of 20,000 units, folded at once; one more; and read from their text.
func BenchmarkFold1M(b *testing.B) {
	const units, n = 2000, 1_000_000
	run, g := long(units), people(b)
	records := g.work(units, n)
	b.Run("at once", func(b *testing.B) {
		for b.Loop() {
			book := NewBook(run)
			book.Add(records...)
			book.State("")
		}
	})
	book := NewBook(run)
	book.Add(records...)
	book.State("")
	b.Run("one more", func(b *testing.B) {
		for b.Loop() {
			book.Add(g.makes("device-3", Set, "3-0100", "", SetSays{Within: true, Off: []Off{{Place: "3-0100", By: 3 * mm}}}))
			book.State("")
		}
	})
	b.Run("one more, asked for its unit", func(b *testing.B) {
		for b.Loop() {
			book.Add(g.makes("device-3", Gap, "3-0100", "", GapSays{new(10 * mm), new(11 * mm), mm}))
			if _, ok := book.Unit("3-0100"); !ok {
				b.Fatal("no such unit")
			}
		}
	})
	var file bytes.Buffer
	if err := Write(&file, records); err != nil {
		b.Fatal(err)
	}
	b.Run("read", func(b *testing.B) {
		b.SetBytes(int64(file.Len()))
		for b.Loop() {
			if list, faults := Read(bytes.NewReader(file.Bytes())); len(list) != n || len(faults) > 0 {
				b.Fatal(len(list), faults)
			}
		}
	})
}
