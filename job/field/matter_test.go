package field

import (
	"strings"
	"testing"
)

// A unit that lies and is broken is told with where, by whom, when and in which words; once it was lifted it does not lie.
func TestBrokenUnitsThatLie(t *testing.T) {
	g := people(t)
	b := NewBook(small())
	set := g.makes("a", Set, "A-001", "A-003", SetSays{Within: true})
	broken := g.makes("a", Damage, "A-002", "", DamageSays{})
	broken.Person, broken.Made, broken.Text = "R. Mason", "2026-11-27T08:05:00Z", "cracked by the bucket"
	usable := g.makes("a", Damage, "A-003", "", DamageSays{Usable: true})
	b.Add(set, broken, usable)
	list := b.Broken()
	if len(list) != 1 || list[0].Place != "A-002" || list[0].Leg != "A" || list[0].Text != "cannot be used: cracked by the bucket (by R. Mason 2026-11-27 08:05)" || list[0].By[0] != broken.ID {
		t.Errorf("%+v", list)
	}
	b.Add(g.makes("a", Set, "A-002", "", SetSays{Lifted: true}))
	if list := b.Broken(); len(list) != 0 {
		t.Errorf("lifted: %+v", list)
	}
}

func TestNonconformanceInWords(t *testing.T) {
	g := people(t)
	b := NewBook(small())
	found := g.makes("a", Nonconforming, "A-002", "A-003", MatterSays{Number: "NC1", What: "lip too high"})
	found.Person, found.Made, found.Text = "V. Alder", "2026-11-27T08:05:00Z", "at the left wall"
	repair := g.makes("b", Repair, "A-002", "", MatterSays{Number: "NC1", By: "the engineer", Answer: "ground down"}, found.ID)
	repair.Person, repair.Made = "R. Mason", "2026-11-28T09:00:00Z"
	b.Add(found, repair)
	said := b.SayMatter(&b.State("").Matters[0])
	for _, want := range []string{"open; ", "lip too high: at the left wall at A-002 to A-003 (V. Alder 2026-11-27 08:05)", "repair, decided by the engineer: ground down at A-002 (R. Mason 2026-11-28 09:00)"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q lacks %q", said, want)
		}
	}
}
