package field

import (
	"reflect"
	"slices"
	"testing"

	"trenchwright/base/wording"
)

// goods are some lines of stone and fill, as tickets have them; mostly none.
func (g *gang) goods() []Goods {
	var out []Goods
	for range g.r.IntN(3) {
		out = append(out, Goods{What: []string{"stone", "Stone ", "fill"}[g.r.IntN(3)], Amount: []string{"18.5 t", "12 m3", "4 bags", ""}[g.r.IntN(4)]})
	}
	return out
}

// Stone by mass, by volume and in words is never added up with each other; a ticket that was put right counts as it is now; what came
// beside units is in no stack of the yard, and in whatever order records come the sums are the same.
func TestGoodsAreSummedAsTheyCame(t *testing.T) {
	g := people(t)
	one := g.makes("a", Delivery, "", "", DeliverySays{Ticket: "q1", Goods: []Goods{{What: "stone", Amount: "18.5 t"}, {What: "Stone", Amount: "500 kg"}}})
	two := g.makes("b", Delivery, "", "", DeliverySays{Ticket: "q2", Lines: []Delivered{{Piece: plain, Came: 3}}, Goods: []Goods{{What: " stone", Amount: "12.5 m³"}, {What: "joint sealant", Amount: "4 tins"}}})
	wrong := g.makes("a", Delivery, "", "", DeliverySays{Ticket: "q3", Goods: []Goods{{What: "fill", Amount: "200 t"}}})
	right := g.makes("a", Delivery, "", "", DeliverySays{Ticket: "q3", Goods: []Goods{{What: "fill", Amount: "20 t"}}})
	right.Corrects = wrong.ID
	untold := g.makes("b", Delivery, "", "", DeliverySays{Ticket: "q4", Goods: []Goods{{What: "fill"}}})
	all := []Record{one, two, wrong, right, untold}
	want := []GoodsState{
		{What: "fill", Loads: 2, Mass: 20_000_000, Other: []string{"no amount told"}, By: []string{right.ID, untold.ID}},
		{What: "joint sealant", Loads: 1, Other: []string{"4 tins"}, By: []string{two.ID}},
		{What: "stone", Loads: 2, Mass: 19_000_000, Bulk: 12_500_000, Other: []string{}, By: []string{one.ID, two.ID}},
	}
	for range 20 {
		g.r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		s := stateOf(all...)
		if !reflect.DeepEqual(s.Goods, want) {
			t.Fatalf("%+v", s.Goods)
		}
		if len(s.Yard) != 1 || s.has(plain).Came != 3 || len(s.Findings) > 0 {
			t.Fatalf("the yard has %+v: %s", s.Yard, said(s))
		}
	}
	var words []string
	for i := range want {
		words = append(words, want[i].Say(wording.Speech{}), want[i].Say(wording.Speech{Imperial: true}))
	}
	if !slices.Equal(words, []string{
		"20 t and no amount told in 2 loads", "44,092 lb and no amount told in 2 loads", "4 tins in 1 load", "4 tins in 1 load",
		"19 t and 12.5 m³ as it came in 2 loads", "41,888 lb and 16.3 yd³ as it came in 2 loads",
	}) {
		t.Errorf("%q", words)
	}
	b := NewBook(small())
	b.Add(one)
	if b.State(""); b.Len() != 1 {
		t.Fatal("one record")
	}
	b.Add(two, right, wrong, untold) // what was worked out is worked out again
	if s := b.State(""); !reflect.DeepEqual(s.Goods, want) {
		t.Errorf("one after the other: %+v", s.Goods)
	}
}
