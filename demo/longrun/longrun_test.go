package longrun

import (
	"math"
	"reflect"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
)

func TestALongRunHasNoFaults(t *testing.T) {
	for _, km := range []float64{0, 0.05, 1, 10, 100} {
		for seed := range uint64(5) {
			for _, f := range job.Faults(Job(km, seed)) {
				t.Fatalf("%g km, seed %d: %s (%s)", km, seed, f.Text, f.Where.Path)
			}
		}
	}
}

func TestTheSameSeedGivesTheSameRun(t *testing.T) {
	if !reflect.DeepEqual(Job(20, 7), Job(20, 7)) {
		t.Error("two runs from one seed differ")
	}
	if reflect.DeepEqual(Job(20, 7), Job(20, 8)) {
		t.Error("two seeds give one run")
	}
}

// The run is as long as was asked for, but for what curves cut off their corners, and goes one way.
func TestLengthAndDirection(t *testing.T) {
	for _, km := range []float64{1, 10, 100} {
		j := Job(km, 3)
		sum, things := 0.0, 0
		at := map[string][2]float64{}
		for _, n := range j.Route.Nodes {
			at[n.ID] = *n.At
		}
		for _, l := range j.Route.Legs {
			from := at[l.From]
			for _, v := range append(l.Via, job.Vertex{At: at[l.To]}) {
				sum += math.Hypot(v.At[0]-from[0], v.At[1]-from[1])
				if v.At[0] < from[0] && v.At[1] < from[1] {
					t.Errorf("leg %s runs back", l.ID)
				}
				from = v.At
			}
			things += len(l.Services) + len(l.Entries) + len(l.Crossings) + len(l.Zones)
		}
		if math.Abs(sum-km*1000) > 0.01*float64(len(j.Route.Legs)) {
			t.Errorf("%g km came out as %.3f km", km, sum/1000)
		}
		if perKm := float64(things) / km; km >= 10 && (perKm < 2 || perKm > 6) {
			t.Errorf("%g km have %d things on them", km, things)
		}
	}
}

// A joint on the sharpest curve has room: a turn of 3010 mm on 1200 m opens 600 mm of width by 0.75 mm, an end out of
// square takes 0.5 mm and the reserve 0.5 mm; the window leaves 4 mm at its nominal gap.
func TestCurvesFitTheWindow(t *testing.T) {
	s := supply()
	w := s.Joint.Gap.Value
	for _, l := range Job(200, 1).Route.Legs {
		for _, v := range l.Via {
			turn := measure.Length(3010.0 / v.Radius.Millimetres() * float64(s.Unit.Outer.Value.Width) / 2)
			if need := turn + s.Unit.OutOfSquare.Value/2 + mm/2; need > w.Nominal-w.Min {
				t.Errorf("leg %s needs %v of %v", l.ID, need, w.Nominal-w.Min)
			}
		}
	}
}

func BenchmarkJob1000km(b *testing.B) {
	for b.Loop() {
		Job(1000, 1)
	}
}
