package field

import "testing"

// A unit that is lifted goes back to the yard, whether it was counted as lying or not; one that is broken does not; one that was cut on
// site comes back as what it was cut to. In whatever order the records come.
func TestWhatIsLiftedIsBack(t *testing.T) {
	g := people(t)
	cut := Piece{Supply: "T3", What: "unit", Mark: "A-002"}
	came := g.makes("y", Delivery, "", "", DeliverySays{Ticket: "t", Lines: []Delivered{{Piece: plain, Came: 10}, {Piece: lid, Came: 9}}})
	set := g.makes("a", Set, "A-001", "", SetSays{Within: true})
	laid := g.makes("a", Cover, "A-001", "", CoverSays{Done: "laid"})
	sawn := g.makes("a", Cut, "A-002", "", CutSays{Mark: "A-002", From: plain, Left: new(2000 * mm), Right: new(2000 * mm)})
	setCut := g.makes("a", Set, "A-002", "", SetSays{Within: true})
	count := g.makes("y", Count, "", "", CountSays{[]Counted{{Piece: plain, Count: 8}, {Piece: lid, Count: 7}}, map[string]int{"y": 1, "a": 4}})
	lifted := g.makes("a", Set, "A-001", "A-002", SetSays{Lifted: true})
	bare := g.makes("a", Cover, "A-001", "", CoverSays{Done: "lifted"})
	broken := g.makes("b", Damage, "A-001", "", DamageSays{Count: 1})
	usable := g.makes("b", Damage, "A-001", "", DamageSays{Count: 1, Usable: true}) // looked at again
	again := g.makes("c", Set, "A-001", "", SetSays{Within: true}, lifted.ID)
	whole := []Record{came, set, laid, sawn, setCut}
	for i, c := range []struct {
		more              []Record
		units, cuts, lids int
		damaged           int
	}{
		{nil, 8, 0, 7, 0},
		{[]Record{count}, 8, 0, 7, 0},
		{[]Record{lifted, bare}, 9, 1, 9, 0},
		{[]Record{count, lifted, bare}, 9, 1, 9, 0},
		{[]Record{count, lifted, bare, again}, 8, 1, 9, 0},
		{[]Record{lifted, broken}, 8, 1, 7, 1},
		{[]Record{count, lifted, broken}, 8, 1, 7, 1},
		{[]Record{count, lifted, broken, again}, 7, 1, 7, 1},
		{[]Record{count, lifted, usable}, 9, 1, 7, 0},
	} {
		all := append(c.more, whole...)
		for range 5 {
			g.r.Shuffle(len(all), func(i, k int) { all[i], all[k] = all[k], all[i] })
			s := stateOf(all...)
			if u, k, l := s.has(plain), s.has(cut), s.has(lid); u.Have != c.units || k.Have != c.cuts || l.Have != c.lids || u.Damaged != c.damaged {
				t.Errorf("%d: units %+v, cut pieces %+v, covers %+v", i, u, k, l)
			}
		}
	}
}

// Where records differed on whether a cover lay when somebody counted, and somebody went to look since, it lay then as it turned out: to
// look takes nothing out of the yard, and puts nothing back.
func TestCountWhereRecordsDiffered(t *testing.T) {
	g := people(t)
	laid := g.makes("a", Cover, "A-001", "", CoverSays{Done: "laid"})
	card := g.makes("office", Cover, "A-001", "", CoverSays{Done: "lifted"}) // keyed from paper, without knowing
	count := g.makes("y", Count, "", "", CountSays{[]Counted{{Piece: lid, Count: 5}}, map[string]int{"a": 1, "office": 1}})
	lies := g.makes("b", Cover, "A-001", "", CoverSays{Done: "laid"}, laid.ID, card.ID)
	gone := g.makes("b", Cover, "A-001", "", CoverSays{Done: "lifted"}, laid.ID, card.ID)
	for _, c := range []struct {
		name string
		more []Record
	}{{"nobody looked", nil}, {"it lies", []Record{lies}}, {"it does not", []Record{gone}}} {
		all := append(c.more, laid, card, count)
		for range 5 {
			g.r.Shuffle(len(all), func(i, k int) { all[i], all[k] = all[k], all[i] })
			if n := stateOf(all...).has(lid).Have; n != 5 {
				t.Errorf("%s: %d covers in the yard, 5 were counted and none moved since", c.name, n)
			}
		}
	}
}
