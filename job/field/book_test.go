package field

import (
	"bytes"
	"encoding/json"
	"slices"
	"testing"
)

// Whatever order records arrive in, and however often, they come to the same state, worked out at once or bit by bit; written and
// read again they are the same.
func TestOrderOfArrivalMeansNothing(t *testing.T) {
	g := people(t)
	for range 60 {
		records := g.made(40)
		want := asText(t, stateOf(records...))
		for range 4 {
			g.r.Shuffle(len(records), func(i, j int) { records[i], records[j] = records[j], records[i] })
			b := NewBook(small())
			for i, r := range records {
				b.Add(r)
				if g.r.IntN(4) == 0 {
					b.Add(records[g.r.IntN(i+1)]) // once more
				}
				if g.r.IntN(5) == 0 {
					b.State("") // a look between
				}
			}
			if got := asText(t, b.State("")); got != want {
				t.Fatalf("another order, another state:\n%s\n%s", want, got)
			}
		}
		var file bytes.Buffer
		if err := Write(&file, records); err != nil {
			t.Fatal(err)
		}
		back, faults := Read(&file)
		if len(faults) > 0 || asText(t, stateOf(back...)) != want {
			t.Fatalf("read again they are not the same: %v", faults)
		}
	}
}

func asText(t *testing.T, s State) string {
	t.Helper()
	b, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// What a book tells of one unit, of one leg and of what changed is what its state says, and what was told before stays as it was.
func TestNarrowQuestions(t *testing.T) {
	g := people(t)
	for range 40 {
		b := NewBook(small())
		b.Add(g.made(20)...)
		before := b.State("")
		was, version := asText(t, before), b.Version()
		b.Add(g.made(5)...)
		if u, ok := b.Unit("A-003.1"); !ok || u.Place != "A-003" {
			t.Fatalf("%+v, %v", u, ok)
		}
		changed := b.Changed(version)
		after := b.State("")
		if asText(t, before) != was {
			t.Fatal("a state that was told has changed")
		}
		for l, leg := range after.Legs {
			if got, _ := b.Leg(leg.ID); asText(t, State{Legs: []LegState{got}}) != asText(t, State{Legs: []LegState{leg}}) {
				t.Fatal("a leg is not what the state says")
			}
			for i, u := range leg.Units {
				if got, _ := b.Unit(u.Place); got != u {
					t.Fatal("a unit is not what the state says")
				}
				same := asText(t, State{Legs: []LegState{{Units: []*UnitState{u}}}}) == asText(t, State{Legs: []LegState{{Units: before.Legs[l].Units[i : i+1]}}})
				if !same && !slices.Contains(changed, u.Place) {
					t.Fatalf("%s changed, and is not told as changed", u.Place)
				}
			}
		}
	}
	if _, ok := NewBook(small()).Unit("Z-001"); ok {
		t.Error("there is no Z-001")
	}
}
