package screen

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
)

// TestAlongFitsTheScreen holds what every stage shows along the run against the screen it is drawn on, and its stops against the
// cards that they lead to.
func TestAlongFitsTheScreen(t *testing.T) {
	for _, name := range []string{"tram-depot", "battery-yard", "hand-troughs"} {
		d, p, s := opened(t, name)
		for _, st := range stageTables {
			for _, view := range []View{{"metric", "uk"}, {"imperial", "us"}} {
				var a Along
				asked(t, d, "along", map[string]any{"name": st.id, "system": view.System, "words": view.Words}, &a, p)
				where := name + " " + st.id
				if a.Said == "" {
					t.Errorf("%s: it does not say what it shows", where)
				}
				fits(t, where, &a, &s)
			}
			var a Along
			asked(t, d, "along", map[string]any{"name": st.id}, &a, p)
			for i, key := range a.Stops.Keys {
				var c Card
				asked(t, d, "card", map[string]any{"id": key}, &c, p)
				if i > 0 && a.Stops.At[i] < a.Stops.At[i-1] {
					t.Errorf("%s %s: stop %s stands before the one before it", name, st.id, key)
				}
			}
		}
	}
}

func fits(t *testing.T, where string, a *Along, s *Screen) {
	t.Helper()
	counted := map[string]int{}
	for _, k := range a.Kinds {
		counted[k.Of] += k.Count
	}
	if n := len(a.Units); n > 0 && (n != len(s.Units.Mark) || counted["unit"] != n) {
		t.Errorf("%s: %d units, of which %d counted, not the screen's %d", where, n, counted["unit"], len(s.Units.Mark))
	}
	if n := len(a.Covers); n > 0 && (n != len(s.Covers.Unit) || counted["cover"] != n) {
		t.Errorf("%s: %d covers, of which %d counted, not the screen's %d", where, n, counted["cover"], len(s.Covers.Unit))
	}
	for _, column := range [][]int{a.Units, a.Covers, a.Row.Kind, a.Places.Kind} {
		for _, k := range column {
			if k < 0 || k >= len(a.Kinds) {
				t.Fatalf("%s: there is no kind %d", where, k)
			}
		}
	}
	for i := range a.Row.From {
		if a.Row.From[i] > a.Row.To[i] || a.Row.From[i] < -1 || a.Row.To[i] > s.Length+1 {
			t.Errorf("%s: the stretch %q lies from %v to %v of %v", where, a.Row.Texts[i], a.Row.From[i], a.Row.To[i], s.Length)
		}
	}
}

// TestOrderAlongIsWhatIsLaid counts the pieces of the order's row: its series hold every unit once.
func TestOrderAlongIsWhatIsLaid(t *testing.T) {
	d, p, s := opened(t, "tram-depot")
	var a Along
	asked(t, d, "along", map[string]any{"name": "order"}, &a, p)
	n := 0
	for _, text := range a.Row.Texts {
		k := 1
		if many, _, ok := strings.Cut(text, " × "); ok {
			fmt.Sscan(many, &k)
		}
		n += k
	}
	if n != len(s.Units.Mark) {
		t.Errorf("the series hold %d units, not %d", n, len(s.Units.Mark))
	}
	for i, key := range a.Stops.Keys {
		u := slices.Index(s.Units.Mark, a.Stops.Names[i])
		if u < 0 || s.Units.Flags[u]&UnitCut == 0 {
			t.Errorf("stop %s is no cut piece", key)
		}
	}
}

// TestHereIsWhatTheTrenchHas holds the large figures against the answers that they come from: depth against the dig's own answer,
// gap and reserve against the joint's budget.
func TestHereIsWhatTheTrenchHas(t *testing.T) {
	d, p, s := opened(t, "tram-depot")
	text := func(h Here, label string) string {
		for _, b := range h.Big {
			if b.Label == label {
				return b.Text
			}
		}
		t.Errorf("%s: there is no %q among %+v", h.Title, label, h.Big)
		return ""
	}
	for _, l := range s.Legs {
		for at := 700.0; at < l.To-l.From; at += 9300 {
			var h Here
			asked(t, d, "here", map[string]any{"name": "dig", "leg": l.ID, "at_mm": at}, &h, p)
			spot, _ := p.answers.At(l.ID, measure.FromMillimetres(at))
			if dig := p.answers.Depth(spot).Dig; dig != nil {
				if want, _, _ := strings.Cut(d.draft(View{}).size(dig.Deepest), " ("); text(h, "deepest, from the higher edge") != want {
					t.Errorf("leg %s at %v: %+v, not %s", l.ID, at, h.Big, want)
				}
			}
			asked(t, d, "here", map[string]any{"name": "set", "leg": l.ID, "at_mm": at}, &h, p)
			for _, j := range p.plan.Joints {
				if strings.HasPrefix(j.Name, h.Title+"/") {
					if want := d.draft(View{}).small(j.Gap); text(h, "gap to hold behind it") != want {
						t.Errorf("%s: gap %s, not %s", h.Title, text(h, "gap to hold behind it"), want)
					}
				}
			}
		}
	}
	// By the name of a place, and with the instrument set up: level of the pad and reading make its height.
	var h Here
	asked(t, d, "here", map[string]any{"name": "bed", "from": "B-003/B-004", "height": "37.2"}, &h, p)
	if h.Leg != "B" || h.Key != "joint/B-003/B-004" {
		t.Errorf("found %s on leg %s", h.Key, h.Leg)
	}
	var pad, rod float64
	fmt.Sscan(text(h, "top of pad"), &pad)
	for _, b := range h.Big {
		if strings.Contains(b.Label, "37.200 m") {
			fmt.Sscan(b.Text, &rod)
		}
	}
	if math.Abs(pad+rod-37.2) > 0.0015 {
		t.Errorf("a pad at %v and a reading of %v do not make 37.2", pad, rod)
	}
}
