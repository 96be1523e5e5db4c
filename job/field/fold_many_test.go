package field

import (
	"slices"
	"testing"
)

// Many units worked out side by side come to what they come to one by one, as their records arrive.
func TestManyAtOnceAsOneByOne(t *testing.T) {
	g := people(t)
	run := long(many / 10)
	records := g.work(many/10, 3*atOnce)
	for range 50 { // stretches, and ids that two records have
		r := &records[g.r.IntN(len(records))]
		if leg, _ := run.leg(r.From); leg != nil {
			r.To = leg.Units[g.r.IntN(len(leg.Units))].Place
		}
		records[g.r.IntN(len(records))].ID = r.ID
	}
	at := NewBook(run)
	at.Add(records...)
	want := asText(t, at.State(""))
	slow := NewBook(run)
	for _, i := range g.r.Perm(len(records)) {
		slow.Add(records[i])
		slow.Unit(records[i].From)
	}
	for _, leg := range run.Legs {
		slow.Leg(leg.ID)
	}
	if got := asText(t, slow.State("")); got != want {
		t.Error("side by side they come to something else")
	}
	shuffled := slices.Clone(records)
	g.r.Shuffle(len(shuffled), func(i, k int) { shuffled[i], shuffled[k] = shuffled[k], shuffled[i] })
	again := NewBook(run)
	again.Add(shuffled[:atOnce+500]...)
	again.State("")
	again.Add(shuffled[atOnce:]...)
	if got := asText(t, again.State("")); got != want {
		t.Error("in two heaps that overlap they come to something else")
	}
}
