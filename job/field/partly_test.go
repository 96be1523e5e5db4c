package field

import (
	"encoding/json"
	"testing"

	"trenchwright/base/measure"
)

// A fact that was half read is known where it was read, and there alone. What hangs on the other half nobody can say until that is read
// as well; then what was read first still stands.
func TestWhatWasHalfReadIsKnownThereAlone(t *testing.T) {
	g := people(t)
	left := g.makes("a", Gap, "A-001", "", GapSays{Left: new(9 * mm)})
	right := g.makes("a", Gap, "A-001", "", GapSays{Right: new(11 * mm)}, left.ID)
	other := g.makes("a", Set, "A-002", "", SetSays{Within: true, Right: new(8 * mm), Walls: []measure.Length{1002 * mm}, Read: []string{"end left"}})
	rock := g.makes("a", Rock, "A-001", "", RockSays{Four: []measure.Length{0, mm, 2 * mm}, Read: []string{"start left", "start right", "end left"}})
	pad := g.makes("a", Level, "A-001", "", LevelSays{Of: "pad", Four: []measure.Length{1000 * mm, 1003 * mm}, Read: []string{"start left", "end right"}})
	rod := g.makes("a", Level, "A-003", "", LevelSays{Of: "pad", Height: new(3 * measure.Metre), Rod: []measure.Length{2 * measure.Metre}, Read: []string{"start right"}})

	b := NewBook(small().planned("pad", 1000*mm))
	b.Add(left, other, rock, pad, rod)
	s := b.State("")
	u := s.at("A-001")
	if u.Left.Value != 9*mm || u.Right != nil || u.Has("gap") || u.Rock != nil {
		t.Errorf("%+v", u)
	}
	if l := u.level("pad"); l.Four[0].Value != 1000*mm || l.Four[1] != nil || l.Four[2] != nil || l.Four[3].Value != 1003*mm {
		t.Errorf("%+v", l)
	}
	if l := s.at("A-003"); l.level("pad").Four[1].Value != 1000*mm || l.level("pad").Four[0] != nil {
		t.Errorf("%+v", l)
	}
	if l := s.at("A-002"); l.Left != nil || l.Right.Value != 8*mm || l.level("wall").Four[2].Value != 1002*mm || l.level("wall").Four[0] != nil {
		t.Errorf("%+v", l)
	}
	if h := heldOf(b.Held(Asks(contract())), "A-001", "gap"); h.Verdict != "cannot say" || h.Value != 9*mm || h.What != "gap after it, left wall alone," {
		t.Errorf("%+v", h)
	}
	b.Add(right)
	if u := b.State("").at("A-001"); u.Left.Value != 9*mm || u.Right.Value != 11*mm || !u.Has("gap") || u.Left.Readings[0].By != left.ID {
		t.Errorf("%+v", u)
	}
	if h := heldOf(b.Held(Asks(contract())), "A-001", "gap"); h.Verdict != "meets the stated figure" || h.Value != 9*mm {
		t.Errorf("%+v", h)
	}
}

// Records of both walls stay as they were written, byte for byte: a gap of nothing is one that was read.
func TestBothWallsAreWrittenAsBefore(t *testing.T) {
	for _, text := range []string{`{"left":"9 mm","right":"0 mm","plus":"1 mm"}`, `{"left":"0 mm","right":"0 mm"}`} {
		s := GapSays{}
		if !(&scan{}).hears([]byte(text), &s) || s.Left == nil || s.Right == nil {
			t.Errorf("%s was read as %+v", text, s)
		}
		if b, _ := json.Marshal(s); string(b) != text {
			t.Errorf("%s is written %s", text, b)
		}
	}
	const cut = `{"mark":"B-001","from":{"supply":"T3","what":"unit","length":"3000 mm"},"left":"700 mm","right":"700 mm"}`
	var s CutSays
	if err := json.Unmarshal([]byte(cut), &s); err != nil {
		t.Fatal(err)
	}
	if b, _ := json.Marshal(s); string(b) != cut {
		t.Errorf("%s is written %s", cut, b)
	}
}
