package field

import (
	"slices"
	"testing"
)

// Many units worked out side by side come to what they come to one by one, as their records arrive.
func TestManyAtOnceAsOneByOne(t *testing.T) {
	g := people(t)
	run := long(many / 10)
	records := g.work(many/10, 6000)
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
	again.Add(shuffled[:2500]...)
	again.State("")
	again.Add(shuffled[2000:]...)
	if got := asText(t, again.State("")); got != want {
		t.Error("in two heaps that overlap they come to something else")
	}
}
