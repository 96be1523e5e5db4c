package field

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// pointed is a contract with a hold point before setting, one before filling that does not say what it is, a witness point before
// covering and one that nobody said what waits for.
func pointed() job.Job {
	j := contract()
	j.Rules.Points = []job.Point{{Name: "bed", Kind: "hold", Before: "set"}, {Name: "joints", Before: "fill"}, {Name: "first cover", Kind: "witness", Before: "cover"}, {Name: "odd", Kind: "hold"}}
	return j
}

// Worked by hand: the bed of was released, A-003 was set all the same, A-004 has its bed and is set next; of the joints
// nothing was released, and A-001 was filled.
func TestUnreleased(t *testing.T) {
	g := people(t)
	b := NewBook(small())
	set := g.makes("a", Set, "A-001", "A-003", SetSays{Within: true})
	layer := g.makes("a", Layer, "A-001", "", LayerSays{Number: 1, Side: "both"})
	b.Add(g.makes("a", Release, "A-001", "A-002", PointSays{Point: "bed", Lapses: []string{"rain"}}), set, g.makes("a", Level, "A-004", "", LevelSays{Of: "pad", Level: new(mm)}), layer)
	said := func() string {
		var out []string
		for _, u := range b.Unreleased(Asks(pointed()), b.State("").Points) {
			out = append(out, fmt.Sprint(u.Point.Name, " ", u.Leg, " ", u.Hidden, " ", u.Stretches(), " ", strings.Join(u.By, ",")))
		}
		return strings.Join(out, "; ")
	}
	// the steps of this contract: set, cover, fill; so what comes next at a unit that is set is its covers
	want := "bed A true A-003 " + set.ID + "; bed A false A-004 ; joints A true A-001 " + layer.ID
	if got := said(); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	b.Add(g.makes("a", Event, "", "", EventSays{"rain"})) // what was released and ended later was released
	if got := said(); got != want {
		t.Errorf("after rain %s", got)
	}
	b.Add(g.makes("a", Release, "", "", PointSays{Point: "bed"}))
	if got := said(); got != "joints A true A-001 "+layer.ID {
		t.Errorf("released everywhere: %s", got)
	}
	c := Asks(pointed())
	if c.Witness(&PointState{Point: "bed", Witness: true}) || !c.Witness(&PointState{Point: "first cover"}) || !c.Witness(&PointState{Point: "another", Witness: true}) || !c.Witness(&PointState{Point: "joints", Witness: true}) {
		t.Error("the contract says which are witness points, and where it does not the records do")
	}
}

// What has no release agrees with a look at every place by itself, over records of many kinds in any order.
func TestUnreleasedAgainstALookAtEveryPlace(t *testing.T) {
	g := people(t)
	for range 60 {
		b := NewBook(small())
		for range 2 + g.r.IntN(12) {
			leg := []string{"A", "B"}[g.r.IntN(2)]
			from := 1 + g.r.IntN(4)
			to := from + g.r.IntN(5-from)
			f, u := fmt.Sprintf("%s-%03d", leg, from), fmt.Sprintf("%s-%03d", leg, to)
			switch g.r.IntN(5) {
			case 0:
				b.Add(g.makes("a", Set, f, u, SetSays{Within: true}))
			case 1:
				b.Add(g.makes("b", Layer, f, u, LayerSays{Number: 1, Side: "both"}))
			case 2:
				b.Add(g.makes("a", Level, f, u, LevelSays{Of: "pad", Level: new(measure.Millimetre)}))
			case 3:
				b.Add(g.makes("b", Cover, f, u, CoverSays{Done: "laid"}))
			default:
				b.Add(g.makes("a", Release, f, u, PointSays{Point: []string{"bed", "joints", "first cover"}[g.r.IntN(3)]}))
			}
		}
		s := b.State("")
		var want []string
		for _, p := range []struct{ name, step string }{{"bed", "set"}, {"joints", "fill"}} {
			for _, l := range s.Legs {
				for _, u := range l.Units {
					let := false
					for _, k := range s.Points {
						let = let || k.Point == p.name && k.From <= u.Place && u.Place <= max(k.From, k.To)
					}
					if let {
						continue
					}
					covered := !slices.ContainsFunc(u.Covers, func(c CoverState) bool { return c.Laid.Is != Yes })
					done := map[string]bool{"set": u.Set.Is == Yes, "cover": covered && len(u.Covers) > 0, "fill": len(u.Layers) > 0}
					begun := len(u.Evidence) > 0 || u.Set.Is != No || slices.ContainsFunc(u.Covers, func(c CoverState) bool { return c.Laid.Is != No })
					switch {
					case !begun:
					case done[p.step]:
						want = append(want, p.name+" hidden "+u.Place)
					case p.step == "set" || done["set"] && done["cover"]:
						want = append(want, p.name+" next "+u.Place)
					}
				}
			}
		}
		var got []string
		for _, u := range b.Unreleased(Asks(pointed()), s.Points) {
			for _, place := range u.Places {
				got = append(got, u.Point.Name+map[bool]string{true: " hidden ", false: " next "}[u.Hidden]+place)
			}
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Fatalf("got  %q\nwant %q", got, want)
		}
	}
}
