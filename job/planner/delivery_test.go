package planner_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// What comes is what is ordered: plain pieces as many as the bill has, special ones one each, every bundle on one load or on none.
func TestDeliveryBringsTheBill(t *testing.T) {
	for _, name := range []string{"tram-depot", "battery-yard", "hand-troughs"} {
		j := readDemo(t, name)
		p := planner.Make(j)
		d := p.Delivery
		if d == nil || len(d.Loads) == 0 || d.Least < 1 || len(d.Loads) < d.Least {
			t.Fatalf("%s: %+v", name, d)
		}
		come, mass := 0, 0.0
		for _, b := range d.Bundles {
			come += b.Count
			if b.Load > 0 {
				mass += b.Mass
			}
			if len(b.Pieces) != b.Count {
				t.Errorf("%s: bundle %s names %d pieces of %d", name, b.Name, len(b.Pieces), b.Count)
			}
		}
		if off := mass - d.Mass; off > 0.01 || off < -0.01 {
			t.Errorf("%s: bundles weigh %f, loads %f", name, mass, d.Mass)
		}
		ordered := 0
		for _, x := range d.Items {
			switch {
			case slices.ContainsFunc(d.Left, func(l planner.DeliveryLeft) bool { return l.Item == x.Item }):
			case x.Kind == "loose part":
				packs := 0
				fmt.Sscan(x.Packs, &packs)
				ordered += packs
			case x.Mark == "" || j.Delivery.CutBy.Value == "supplier":
				ordered += x.Count
			}
		}
		if come != ordered {
			t.Errorf("%s: %d come, %d are ordered", name, come, ordered)
		}
		if j.Delivery.CutBy.Value != "supplier" {
			for _, l := range p.Bill {
				if l.Length == nil {
					continue
				}
				if i := slices.IndexFunc(d.Items, func(x planner.DeliveryItem) bool { return x.Mark == "" && x.Item == l.Item }); i < 0 || !strings.HasPrefix(d.Items[i].Order, l.Order+" ") {
					t.Errorf("%s: %s comes as %+v, ordered are %s", name, l.Item, d.Items[i], l.Order)
				}
			}
		}
		for _, f := range p.Findings {
			if strings.HasPrefix(f.ID, "delivery") {
				for _, broken := range finding.Speech(f) {
					t.Errorf("%s: %s: %s", name, f.Text, broken)
				}
			}
		}
	}
}

// The last day for a change is counted back by the calendar, over the end of a month; without either figure nobody can say.
func TestChangeUntil(t *testing.T) {
	j := readDemo(t, "tram-depot")
	until := func() string {
		for _, x := range planner.Make(j).Delivery.Items {
			if x.Mark == "A-014" {
				return x.Change
			}
		}
		return "no such piece"
	}
	if got := until(); got != "2026-04-06" {
		t.Errorf("28 days before 4 May: %s", got)
	}
	j.Delivery.Terms[0].Change = job.Entry[int]{}
	if got := until(); !strings.HasPrefix(got, "NOT CHECKED: no number of days") {
		t.Errorf("without the days: %s", got)
	}
	j.Delivery.CutBy = job.Known("site")
	if got := until(); !strings.HasPrefix(got, "made on site") {
		t.Errorf("sawn on site: %s", got)
	}
}

// A special piece ends its leg, any plain one goes into the next place of its type, covers hold nothing back, and what lies counts.
func TestShortDelivery(t *testing.T) {
	_, a := planner.Ask(readDemo(t, "tram-depot"))
	ask := func(set map[string]string, state *field.State, missing ...planner.Missing) planner.ShortAnswer {
		t.Helper()
		s, err := a.Short(missing, state, set)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	s := ask(nil, nil, planner.Missing{Mark: "a-014"})
	if l := s.Legs[0]; l.Leg != "A" || l.Units != 13 || l.To != "A-013" || l.Stop != "A-014" || s.Units != s.Of-1 {
		t.Errorf("without A-014: %+v", s)
	}
	s = ask(map[string]string{"A": "A-013"}, nil, planner.Missing{Mark: "A-014.1"})
	if s.Units != s.Of || s.Legs[0].Of != 1 || !slices.ContainsFunc(s.Why, func(w string) bool { return strings.Contains(w, "A-014.1 can follow") }) {
		t.Errorf("without a cover: %+v", s)
	}
	s = ask(nil, nil, planner.Missing{Mark: "A-004"})
	if l := s.Legs[0]; l.Units != l.Of || s.Units >= s.Of {
		t.Errorf("a plain one of leg A is missing at the end of the run: %+v", s)
	}
	s = ask(nil, nil, planner.Missing{Piece: field.Piece{Supply: "standard", What: "unit", Length: 3 * measure.Metre}, Count: 1000})
	if l := s.Legs[0]; l.Units != 2 || l.Stop != "A-003" {
		t.Errorf("without any plain unit of 3 m: %+v", l)
	}
	s = ask(nil, nil, planner.Missing{Mark: "T1"})
	for _, l := range s.Legs {
		if from := map[string]bool{"E": true, "H": true}[l.Leg]; from != (l.Units == 0) {
			t.Errorf("without the tee: %+v", l)
		}
	}
	yard := &field.State{Yard: []field.Stock{{Piece: field.Piece{Supply: "standard", What: "unit", Length: 1500 * measure.Millimetre}, Have: 1, Came: 1}, {Piece: field.Piece{Supply: "standard", What: "unit", Mark: "A-002"}, Have: 1, Came: 1}}}
	if s = ask(nil, yard); s.Units != 2 || s.Legs[0].To != "A-002" {
		t.Errorf("with two pieces in the yard: %+v", s)
	}
	if _, err := a.Short([]planner.Missing{{Mark: "Z-999"}}, nil, nil); err == nil {
		t.Error("a piece that there is none of is missing")
	}
}

// What is cast comes before the first leg at its node is left behind, as its covers do; with a figure of its room missing it is on no load,
// and that is said. Packs come from the first joint on.
func TestCastingsAndPacksOnLoads(t *testing.T) {
	j := readDemo(t, "tram-depot")
	d := planner.Make(j).Delivery
	count := map[string]int{}
	for _, b := range d.Bundles {
		if b.Load > 0 {
			count[b.Item] += b.Count
		}
	}
	for item, want := range map[string]int{"cast tee, branch square (tee-500)": 1, "tee cover, arm": 3, "pack of 25, joint seal strip": 11, "pack of 40, pad": 4, "tee cover, middle": 0} {
		if count[item] != want {
			t.Errorf("%s: %d on loads, want %d", item, count[item], want)
		}
	}
	if !slices.ContainsFunc(d.Left, func(l planner.DeliveryLeft) bool {
		return l.Item == "tee cover, middle" && l.Why == "NOT CHECKED: no size of tee cover, middle as it lies on a vehicle on file. Ask: the supplier"
	}) {
		t.Errorf("what is on no load: %+v", d.Left)
	}
	f := &j.Supplies[0].Fittings[0]
	f.Lies = &job.OnDeck{Length: f.Lies.Length, Width: f.Lies.Width}
	p := planner.Make(j)
	if !slices.ContainsFunc(p.Delivery.Left, func(l planner.DeliveryLeft) bool { return strings.HasPrefix(l.Item, "cast tee") }) {
		t.Errorf("a tee without its height is on a load: %+v", p.Delivery.Left)
	}
}
