package field

import (
	"testing"
)

// A release ends with an event of its kinds that whoever released did not know of, and with its time.
func TestReleasesLapse(t *testing.T) {
	g := people(t)
	release := PointSays{Point: "bed A", Party: "engineer", Lapses: []string{"rain"}, Until: "2026-11-27T18:00:00Z"}
	first := g.makes("a", Release, "", "", release)
	rain := g.makes("b", Event, "", "", EventSays{"rain"})
	frost := g.makes("b", Event, "", "", EventSays{"frost"})
	again := g.makes("a", Release, "", "", release, rain.ID)
	until := func(end string) Record { return g.makes("a", Release, "", "", PointSays{Point: "bed A", Until: end}) }
	there, day, words := until("2026-11-27T12:00:00-06:00"), until("2026-11-27"), until("6 pm")
	for i, c := range []struct {
		now     string
		records []Record
		want    Answer
	}{
		{"", []Record{first}, Yes}, {"", []Record{first, frost}, Yes}, {"", []Record{first, rain}, No}, {"", []Record{again, rain, first}, Yes},
		{"2026-11-27T17:00:00Z", []Record{first}, Yes}, {"2026-11-27T18:00:01Z", []Record{first}, No},
		{"2026-11-27T17:59:00Z", []Record{there}, Yes}, {"2026-11-27T18:01:00Z", []Record{there}, No},
		{"2026-11-27T23:59:00Z", []Record{day}, Yes}, {"2026-11-28T00:01:00Z", []Record{day}, No}, {"", []Record{words}, No},
	} {
		b := NewBook(small())
		b.Add(c.records...)
		if p := b.State(c.now).Points; len(p) != 1 || p[0].Released.Is != c.want {
			t.Errorf("%d: %+v, want %s", i, p, c.want)
		}
	}
}
