package randomjob

import (
	"bytes"
	"encoding/json"
	"testing"

	"trenchwright/job"
)

// A random job is one that people could have written: it has no faults, and it is the same every time.
func TestRandomJobsHaveNoFaults(t *testing.T) {
	for seed := range uint64(2000) {
		j := Job(seed)
		for _, f := range job.Faults(j) {
			t.Fatalf("seed %d: %s (%s)", seed, f.Text, f.Where.Path)
		}
	}
}

func TestTheSameSeedGivesTheSameJob(t *testing.T) {
	for seed := range uint64(50) {
		a, err := json.Marshal(Job(seed))
		if err != nil {
			t.Fatal(err)
		}
		b, _ := json.Marshal(Job(seed))
		if !bytes.Equal(a, b) {
			t.Errorf("seed %d gives two jobs", seed)
		}
		var back job.Job
		if err := json.Unmarshal(a, &back); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
	}
}

// Everything that can be declared turns up somewhere, so that a property test over these jobs means something.
func TestRandomJobsHoldEverything(t *testing.T) {
	count := map[string]int{}
	note := func(what string, is bool) {
		if is {
			count[what]++
		} else {
			count[what] += 0
		}
	}
	for seed := range uint64(1000) {
		j := Job(seed)
		note("imperial", j.System == job.Imperial)
		note("two supplies", len(j.Supplies) > 1)
		note("several lengths", len(j.Supplies[0].Unit.Lengths.Value) > 1)
		note("fixed gap", j.Supplies[0].Joint.Gap.Value.Min == j.Supplies[0].Joint.Gap.Value.Max)
		note("no covers", j.Supplies[0].Cover == nil)
		note("no mass", !j.Supplies[0].Unit.Mass.Known)
		note("yard", len(j.Yard) > 0)
		note("another line drawn", j.Coordinates.Line.Side != "")
		note("six legs", len(j.Route.Legs) == 6)
		for _, n := range j.Route.Nodes {
			note("sawn", n.Sawn != nil)
			note("tee", n.Fitting == "std-tee")
			note("cross", n.Fitting == "std-cross")
			note("cast bend", n.Fitting == "std-bend-45")
			note("level", n.Level != nil)
			note("skewed end", n.End != nil && n.End.Skew != 0)
		}
		for _, l := range j.Route.Legs {
			note("curve", len(l.Via) > 0)
			note("laid back", l.LayFrom == l.To)
			note("first", len(l.First) > 0)
			note("hold", l.Hold)
			note("entries", len(l.Entries) > 0)
			note("services", len(l.Services) > 0)
			note("supports", len(l.Supports) > 0)
			note("zones", len(l.Zones) > 0)
			note("forced joints", len(l.Joints) > 0)
			for _, x := range l.Crossings {
				note("forced supply", x.Supply != "")
				note("strips", len(x.Strips) > 0)
				note("whole crossing", len(x.Strips) == 0)
			}
		}
	}
	for what, n := range count {
		if n < 20 {
			t.Errorf("%s: %d times in 1000 jobs", what, n)
		}
	}
}
