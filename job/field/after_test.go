package field

import (
	"fmt"
	"slices"
	"testing"

	"trenchwright/base/measure"
)

// What somebody wrote of another cover, another place or another thing does not stand for what he wrote of this one: whoever knows of
// both comes after both.
func TestWhatIsKnownIsKnownThingByThing(t *testing.T) {
	g := people(t)
	b := NewBook(small())
	add := func(device string, kind Kind, from, to string, says any) Record {
		r := g.makes(device, kind, from, to, says, b.Before(kind, from, to)...)
		b.Add(r)
		return r
	}
	laid, not := CoverSays{Done: "laid"}, CoverSays{Done: "lifted"}
	alone := g.makes("office", Cover, "A-001", "", not) // from a card, without knowing of anything
	add("a", Cover, "A-001", "", laid)
	b.Add(alone)
	for _, c := range []string{"A-001.1", "A-001.2"} {
		if is := b.State("").at("A-001").Covers[int(c[6]-'1')].Laid.Is; is != CantSay {
			t.Fatalf("%s: %s", c, is)
		}
		add("c", Cover, c, "", laid) // somebody looked, and knew of both
		if is := b.State("").at("A-001").Covers[int(c[6]-'1')].Laid.Is; is != Yes {
			t.Errorf("%s: %s", c, is)
		}
	}
	level := func(of string, z measure.Length) LevelSays { return LevelSays{Of: of, Level: &z, Plus: mm} }
	add("a", Level, "A-002", "", level("pad", 9*mm))
	add("b", Level, "A-002", "", level("formation", 2*mm))
	add("c", Level, "A-002", "", level("pad", 30*mm))
	for _, v := range b.State("").at("A-002").Levels {
		if !v.Four[0].Known {
			t.Errorf("%s: who knew of the first reading has the last word: %+v", v.Of, v.Four[0])
		}
	}
	off := func(place string, by measure.Length) SetSays {
		return SetSays{Within: true, Plus: mm, Off: []Off{{Place: place, By: by}}}
	}
	add("a", Set, "A-002", "", off("A-002", 5*mm))
	add("a", Set, "A-003", "", off("A-003", 5*mm))
	both := off("A-002", 15*mm)
	both.Off = append(both.Off, Off{Place: "A-003", By: 15 * mm})
	add("c", Set, "A-002", "A-003", both)
	for _, place := range []string{"A-002", "A-003"} {
		if u := b.State("").at(place); !u.End.Known || u.End.Value != 15*mm {
			t.Errorf("%s: who knew of the first readings has the last word: %+v", place, u.End)
		}
	}
}

// The records of one thing that are the last, against the rule as it is said: no other is later.
func TestLastAgainstItsRule(t *testing.T) {
	g, b := people(t), NewBook(&Run{})
	for range 2000 {
		var of []*entry
		for i := range g.r.IntN(9) {
			r := Record{ID: fmt.Sprint(i), Device: []string{"", "a", "b", "c"}[g.r.IntN(4)], Number: 1 + g.r.IntN(4)}
			for range g.r.IntN(3) {
				r.After = append(r.After, fmt.Sprint(g.r.IntN(9)))
			}
			e := &entry{}
			e.enter(&r, nil)
			e.device = b.known(r.Device)
			of = append(of, e)
		}
		of = standing(of)
		var want []*entry
		for _, s := range of {
			if !slices.ContainsFunc(of, func(r *entry) bool { return r != s && later(r, s) && !later(s, r) }) {
				want = append(want, s)
			}
		}
		if len(want) == 0 {
			want = of
		}
		if got := last(of); !slices.Equal(got, want) {
			t.Fatalf("%d of %d, want %d", len(got), len(of), len(want))
		}
	}
}
