package layout

import (
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/tools/seed"
)

func TestFreedomOfTwoCloserPieces(t *testing.T) {
	p := leg(t, "9020 | zone 2500..3600") // layout.md §9 case 11: the two cuts sum to 2990
	s := solved(t, p)
	slack, err := Freedom(p, s, nil, false)
	if err != nil || len(slack) != 2 {
		t.Fatalf("%v %v", slack, err)
	}
	got, err := Refit(p, s, s.Units, []measure.Length{mm(2000), 0}, false)
	if err != nil {
		t.Fatal(err)
	}
	if said := Check(p, got); len(said) > 0 || got.Units[0].Length != mm(2000) {
		t.Errorf("%s, %v", shown(got), said)
	}
	if _, err := Refit(p, s, s.Units, []measure.Length{mm(1500), 0}, false); err == nil {
		t.Error("1500 puts two cut covers more on the leg, and is not refused")
	}
}

// Every length that Freedom offers can be had, and a tick outside of its ranges none can.
func TestFreedomIsExact(t *testing.T) {
	from := seed.Of(t)
	legs, inside, outside := 0, 0, 0
	for i := range 801 {
		r := rand.New(rand.NewPCG(from, uint64(i)))
		if i == 800 { // a crossing that a cut unit meets only once it has moved
			r = rand.New(rand.NewPCG(1795785917499305521, 384))
		}
		p, tick := randomLeg(r)
		s := solved(t, p)
		if s.Count.Cuts == 0 || len(p.First) > 0 {
			continue
		}
		open := r.IntN(2) == 0
		slack, err := Freedom(p, s, nil, open)
		if err != nil {
			t.Fatalf("seed %d leg %d: %v\n%s%s", from, i, err, inTicks(p, tick), unitsInTicks(s.Units, tick))
		}
		legs++
		which := r.IntN(len(slack))
		v := slack[which]
		for _, l := range ticksAbout(v, tick) {
			want := make([]measure.Length, len(slack))
			want[which] = l
			offered := false
			for _, x := range v.Lengths {
				offered = offered || x.Min <= l && l <= x.Max
			}
			got, err := Refit(p, s, s.Units, want, open)
			if offered != (err == nil) {
				t.Fatalf("seed %d leg %d: unit %d as %v ticks offered %v, refitting says %v\n%s%s", from, i, v.Unit, float64(l)/float64(tick), offered, err, inTicks(p, tick), unitsInTicks(s.Units, tick))
			}
			if err != nil {
				outside++
				continue
			}
			inside++
			if said := Check(p, got); len(said) > 0 || got.Units[v.Unit].Length != l {
				t.Fatalf("seed %d leg %d: %v\n%s%s", from, i, said, inTicks(p, tick), unitsInTicks(got.Units, tick))
			}
		}
	}
	t.Logf("seed %d: %d legs with cut units, %d lengths offered and had, %d not offered and refused", from, legs, inside, outside)
}

func ticksAbout(v Slack, tick nm) []nm {
	var out []nm
	for _, x := range v.Lengths {
		out = append(out, x.Min, x.Max, (x.Min+x.Max)/2, x.Min-tick, x.Max+tick)
	}
	for i, l := range out {
		out[i] = max(l, 1)
	}
	return out
}

// A sequence that stands is laid again in a leg that has moved a little: only cut lengths take it up.
func TestRefitTakesUpWhatMoved(t *testing.T) {
	p := leg(t, "30000 | mitre start 1 | mitre end -1")
	s := solved(t, p)
	moved := leg(t, "30003.75 | mitre start 1 | mitre end -1")
	again := solved(t, moved)
	got, err := Refit(moved, again, s.Units, nil, false)
	if err != nil {
		t.Fatal(err)
	}
	if said := Check(moved, got); len(said) > 0 {
		t.Error(said)
	}
	changed := 0
	for i := range got.Units {
		if got.Units[i].Length != s.Units[i].Length {
			changed++
		}
	}
	if changed == 0 || changed > 2 {
		t.Errorf("%d units changed, want one or two: %s", changed, shown(got))
	}
}
