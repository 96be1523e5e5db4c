package field

import (
	"slices"
	"testing"

	"trenchwright/base/measure"
)

// What people do who know of each other comes to what is there, step by step, against a plain account of it.
func TestWhatIsRecordedIsWhatIsThere(t *testing.T) {
	g := people(t)
	for range 40 {
		run := small()
		b := NewBook(run)
		set, laid, broken, in := map[string]bool{}, map[string]bool{}, map[string]bool{}, map[Piece]int{}
		lastOf := map[string][]string{} // by what it is of
		seen := map[string]int{}
		do := func(of string, kind Kind, from, to string, says any) {
			r := g.makes(string(rune('a'+g.r.IntN(3))), kind, from, to, says, lastOf[of]...)
			if lastOf[of] = []string{r.ID}; kind == Damage {
				lastOf[of] = append(r.After, r.ID) // whoever lifts it knows of the damage and of when it was set
			}
			seen[r.Device] = r.Number
			b.Add(r)
		}
		for range 50 {
			l := run.Legs[g.r.IntN(2)]
			i := g.r.IntN(4)
			u := l.Units[i]
			switch g.r.IntN(6) {
			case 0, 1:
				lift := set[u.Place]
				do(u.Place, Set, u.Place, "", SetSays{Within: true, Lifted: lift})
				switch set[u.Place] = !lift; {
				case !lift:
					in[u.Piece]--
				case !broken[u.Place]: // else it stays out
					in[u.Piece]++
				}
				broken[u.Place] = false
			case 5:
				if set[u.Place] {
					do(u.Place, Damage, u.Place, "", DamageSays{Count: 1})
					broken[u.Place] = true
				}
			case 2:
				c := u.Covers[g.r.IntN(2)]
				done := map[bool]string{true: "lifted", false: "laid"}[laid[c]]
				do(c, Cover, c, "", CoverSays{Done: done})
				if laid[c] = !laid[c]; laid[c] {
					in[lid]--
				} else {
					in[lid]++
				}
			case 3:
				n := g.r.IntN(12)
				do("yard", Delivery, "", "", DeliverySays{Ticket: "t", Lines: []Delivered{{Piece: plain, Came: n, Damaged: n / 4}, {Piece: lid, Came: 2 * n}}})
				in[plain] += n - n/4
				in[lid] += 2 * n
			case 4:
				n := g.r.IntN(20)
				do("yard", Count, "", "", CountSays{[]Counted{{Piece: plain, Count: n}}, map[string]int{"a": seen["a"], "b": seen["b"], "c": seen["c"]}})
				in[plain] = n
			}
			s := b.State("")
			for _, l := range run.Legs {
				for _, u := range l.Units {
					got := s.at(u.Place)
					if (got.Set.Is == Yes) != set[u.Place] || set[u.Place] && (got.Damaged.Is == Yes) != broken[u.Place] {
						t.Fatalf("%s is set: %v, broken: %v, recorded as %+v", u.Place, set[u.Place], broken[u.Place], got)
					}
					for i, c := range u.Covers {
						if got := s.at(u.Place).Covers[i]; (got.Laid.Is == Yes) != laid[c] {
							t.Fatalf("%s is laid: %v, recorded as %+v", c, laid[c], got.Laid)
						}
					}
				}
			}
			for piece, want := range in {
				if got := s.has(piece).Have; got != want {
					t.Fatalf("%d of %s lie there, recorded are %d", want, piece.Name(exact), got)
				}
			}
		}
	}
}

// A stretch is one record; what is off in it is named. It may be named from either end, and covers by themselves.
func TestStretches(t *testing.T) {
	g := people(t)
	s := stateOf(g.makes("a", Set, "A-004", "A-002", SetSays{Within: true, Off: []Off{{Place: "A-003", By: 7 * mm}}}),
		g.makes("a", Cover, "A-002.2", "A-003", CoverSays{Done: "laid", Missing: []string{"A-003.1"}}))
	for place, want := range map[string]Answer{"A-001": No, "A-002": Yes, "A-003": Yes, "A-004": Yes, "B-002": No} {
		if got := s.at(place).Set.Is; got != want {
			t.Errorf("%s is set: %s, want %s", place, got, want)
		}
	}
	if u := s.at("A-003"); u.End == nil || u.End.Value != 7*mm || s.at("A-002").End != nil || !s.at("A-002").Within {
		t.Errorf("A-003 is 7 mm ahead, the others within: %+v", u)
	}
	var laid []string
	for _, l := range s.Legs {
		for _, u := range l.Units {
			for _, c := range u.Covers {
				if c.Laid.Is == Yes {
					laid = append(laid, c.Place)
				}
			}
		}
	}
	if want := []string{"A-002.2", "A-003.2"}; !slices.Equal(laid, want) || s.Legs[0].Laid != 2 || s.Legs[0].Lids != 8 || s.Legs[0].Set != 3 {
		t.Errorf("laid are %v, want %v; %+v", laid, want, s.Legs[0].Laid)
	}
}

// What can be said in the record of a unit that was set counts as if it were recorded by itself; levels are worked out from the rod.
func TestOneRecordSaysMore(t *testing.T) {
	g := people(t)
	four := []measure.Length{1000 * mm, 1001 * mm, 1002 * mm, 1004 * mm}
	set := g.makes("a", Set, "A-001", "", SetSays{Within: true, Type: "plain", Line: new(-2 * mm), Left: new(9 * mm), Right: new(11 * mm), Walls: four, Plus: mm})
	rod := g.makes("a", Level, "A-001", "", LevelSays{Of: "pad", Height: new(3 * measure.Metre), Rod: []measure.Length{2 * measure.Metre}})
	rock := g.makes("a", Rock, "A-001", "", RockSays{Four: four, Packer: new(mm), Corner: "start right"})
	u := stateOf(set, rod, rock).at("A-001")
	if u.Left.Value != 9*mm || u.Right.Value != 11*mm || u.Line.Value != -2*mm || u.Type != "plain" || u.Rock.Value != mm || u.Packer != "1 mm start right" {
		t.Errorf("%+v", u)
	}
	if len(u.Levels) != 2 || u.Levels[0].Of != "pad" || u.Levels[0].Four[2].Value != 1000*mm || u.Levels[1].Of != "wall" || u.Levels[1].Four[3].Value != 1004*mm {
		t.Errorf("%+v", u.Levels)
	}
}

// A layer is there once somebody placed it; a test that it did not meet stands until a later one.
func TestLayers(t *testing.T) {
	g := people(t)
	no, yes := false, true
	placed := g.makes("a", Layer, "A-001", "A-002", LayerSays{Number: 1, Side: "both"})
	failed := g.makes("b", LayerTest, "A-002", "", TestSays{Number: 1, Side: "left", Met: &no})
	s := stateOf(placed, failed)
	if l := s.at("A-002").Layers; len(l) != 2 || l[0].Side != "left" || l[0].Met.Is != No || len(l[0].Met.By) != 1 || l[1].Placed.Is != Yes || len(l[1].Met.By) != 0 {
		t.Errorf("%+v", l)
	}
	if l := stateOf(placed, failed, g.makes("b", LayerTest, "A-002", "", TestSays{Number: 1, Side: "left", Met: &yes})).at("A-002").Layers; l[0].Met.Is != Yes {
		t.Errorf("tested again: %+v", l)
	}
}
