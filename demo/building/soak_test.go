package building_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"trenchwright/demo"
	"trenchwright/demo/building"
	"trenchwright/job/field"
)

var (
	builds = flag.Int("builds", 20, "how many seeds are built, shared out over the demo jobs")
	first  = flag.Uint64("first", 1, "the first of them")
)

// share is how much of all seeds a demo job gets: most records come from the longest.
var share = map[string]int{"tram-depot": 15, "battery-yard": 3, "hand-troughs": 2}

// tally is what many builds of one job came to.
type tally struct {
	job                                                    string
	builds, handedOver, records, units, covers, cuts, took int
	days                                                   []int
	changed                                                map[string][]int
	spent                                                  time.Duration
}

// Every build ends with a run that is handed over, whose records agree with what lies there; no record is lost and none counts twice,
// in whatever order they arrive.
func TestBuildsAreHandedOver(t *testing.T) {
	var all []tally
	records := 0
	for _, name := range demo.Names() {
		p := planned(t, name)
		n := tally{job: name, changed: map[string][]int{}}
		began := time.Now()
		for i := range *builds * share[name] / 20 {
			seed := *first + uint64(i)
			r, err := building.Build(p, building.Options{Seed: seed})
			if err != nil {
				t.Fatal(err)
			}
			for _, o := range r.Open {
				t.Errorf("%s, seed %d: %s", name, seed, o)
			}
			nothingLost(t, name, seed, r)
			n.add(r)
		}
		n.spent = time.Since(began)
		all = append(all, n)
		records += n.records
	}
	show(all)
	if *builds >= 20 && records < 1000**builds {
		t.Errorf("%d records of %d builds: fewer than 1000 a build", records, *builds)
	}
}

func (n *tally) add(r *building.Result) {
	n.builds++
	if len(r.Open) == 0 {
		n.handedOver++
	}
	n.records += len(r.Records)
	n.units += r.Count.Units
	n.covers += r.Count.Covers
	n.cuts += r.Count.Cuts
	n.took += r.Count.Taken
	n.days = append(n.days, r.Count.Days)
	for kind, list := range r.Count.Changed {
		n.changed[kind] = append(n.changed[kind], list...)
	}
}

// nothingLost merges what the devices wrote, shuffled and with doubles, and holds it against what the server has.
func nothingLost(t *testing.T, name string, seed uint64, r *building.Result) {
	t.Helper()
	chance := rand.New(rand.NewPCG(seed, 7))
	var sent []field.Record
	for _, d := range r.Devices {
		for i, rec := range d.Records {
			if rec.Number != i+1 {
				t.Fatalf("%s, seed %d: record %d of %s has number %d", name, seed, i+1, d.Name, rec.Number)
			}
		}
		sent = append(sent, d.Records...)
	}
	if len(sent) != len(r.Records) {
		t.Errorf("%s, seed %d: devices wrote %d records, the server has %d", name, seed, len(sent), len(r.Records))
	}
	for range len(sent) / 10 {
		sent = append(sent, sent[chance.IntN(len(sent))])
	}
	chance.Shuffle(len(sent), func(i, j int) { sent[i], sent[j] = sent[j], sent[i] })
	b := field.NewBook(r.Plan.Places())
	for rest := sent; len(rest) > 0; { // as they come in: some at a time, and somebody looks meanwhile
		k := min(len(rest), 1+chance.IntN(400))
		b.Add(rest[:k]...)
		rest = rest[k:]
		_ = b.State("")
	}
	if s := b.State(""); !reflect.DeepEqual(s, r.State) {
		t.Errorf("%s, seed %d: in another order of arrival the records come to another state", name, seed)
	}
	asks := field.Asks(r.Job)
	under := field.NewBook(r.Plan.Places()).Under(asks) // and so they do where it is known what the contract asks
	under.Add(r.Records...)
	if s := b.Under(asks).State(""); !reflect.DeepEqual(s, under.State("")) {
		t.Errorf("%s, seed %d: under the contract the records come to another state in another order of arrival", name, seed)
	}
	again := field.NewBook(r.Plan.Places()).Under(asks)
	for _, rec := range sent[:min(len(sent), 300)] { // looked at after each: nothing is told that was worked out before it came
		again.Add(rec)
		again.State("")
	}
	if again.Add(sent...); !reflect.DeepEqual(again.State(""), under.State("")) {
		t.Errorf("%s, seed %d: looked at after each record, they come to another state", name, seed)
	}
}

// show prints the figures as they stand in the README.
func show(all []tally) {
	fmt.Println("| job | builds | handed over | records | units | covers | cut on site | days, median | surprises | pieces changed by one: median, 9 in 10, most | where the layout is touched | answers taken | time |")
	fmt.Println("|---|---|---|---|---|---|---|---|---|---|---|---|---|")
	for _, n := range all {
		slices.Sort(n.days)
		days := 0
		if len(n.days) > 0 {
			days = n.days[len(n.days)/2]
		}
		s, l := building.SpreadOf(n.changed), building.SpreadOfLayout(n.changed)
		fmt.Printf("| %s | %d | %d | %d | %d | %d | %d | %d | %d | %d, %d, %d | %d: %d, %d, %d | %d | %s |\n", n.job, n.builds, n.handedOver, n.records, n.units, n.covers, n.cuts,
			days, s.Surprises, s.Median, s.In90, s.Most, l.Surprises, l.Median, l.In90, l.Most, n.took, n.spent.Round(time.Second))
	}
}
