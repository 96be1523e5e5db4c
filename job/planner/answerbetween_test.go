package planner_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/tools/seed"
)

// figures are the things of an answer that add up.
func figures(b planner.BetweenAnswer) []float64 {
	out := []float64{measure.Length(b.Length).Metres(), float64(b.Units), float64(b.Cuts), float64(b.Covers), float64(b.CutCovers)}
	if b.Mass != nil {
		out = append(out, *b.Mass)
	}
	if d := b.Dig; d != nil {
		out = append(out, volumesOf(*d)...)
	}
	if f := b.Fabric; f != nil {
		out = append(out, f.Covered)
	}
	return out
}

func volumesOf(d planner.DigVolumes) []float64 {
	out := []float64{d.Run, d.Dug, d.Topsoil, d.Soil, d.Rock, d.Stone, d.Pads, d.Pipe, d.Unit, d.Fill, d.TopsoilBack, d.Opened}
	for k := range 8 {
		layer := [2]float64{}
		if k < len(d.Layers) {
			layer = d.Layers[k]
		}
		out = append(out, layer[0], layer[1])
	}
	return out
}

func between(t *testing.T, a *planner.Answers, from, to, leg string) planner.BetweenAnswer {
	t.Helper()
	s, err := a.Find(from, leg)
	if err != nil {
		t.Fatal(err)
	}
	e, err := a.Find(to, leg)
	if err != nil {
		t.Fatal(err)
	}
	b, err := a.Between(s, e)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func same(t *testing.T, what string, got, want []float64, within float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: %d figures, %d", what, len(got), len(want))
	}
	for i := range got {
		if math.Abs(got[i]-want[i]) > within*(1+math.Abs(want[i])) {
			t.Errorf("%s: figure %d is %.12f, %.12f was expected", what, i, got[i], want[i])
		}
	}
}

// Answers that adjoin add up to the whole: along every leg of every demo, cut at random places, and to the plan's own figures.
func TestBetweensAddUp(t *testing.T) {
	for _, name := range []string{"tram-depot", "battery-yard", "hand-troughs"} {
		_, p, a := asked(t, name)
		seed := seed.Of(t)
		rng := rand.New(rand.NewPCG(seed, 2))
		for i, l := range p.Legs {
			if i > 3 && name == "tram-depot" {
				break // each costs the dig of a leg
			}
			whole := between(t, a, "0 mm", measure.Length(l.NodeLength).String(), l.Name)
			cuts := []string{"0 mm"}
			at := measure.Length(0)
			for range 3 {
				at += measure.Length(1 + rng.Int64N(int64(measure.Length(l.NodeLength)-at)/2))
				cuts = append(cuts, at.String())
			}
			cuts = append(cuts, measure.Length(l.NodeLength).String())
			sum := make([]float64, len(figures(whole)))
			joints, pads := 0, 0
			for k := 1; k < len(cuts); k++ {
				b := between(t, a, cuts[k-1], cuts[k], l.Name)
				for n, v := range figures(b) {
					sum[n] += v
				}
				joints, pads = joints+b.Joints, pads+b.Pads
				if len(b.AtEnds) > 0 {
					t.Logf("seed %d: leg %s was cut at a joint", seed, l.Name)
				}
			}
			t.Logf("%s, leg %s, seed %d: %d figures", name, l.Name, seed, len(sum))
			same(t, name+" leg "+l.Name, sum, figures(whole), 1e-9)
			if joints != whole.Joints || pads != whole.Pads || whole.Units != l.Count.Units || whole.Joints != l.Count.Units-1 {
				t.Errorf("leg %s: %d joints of %d, %d pads of %d, %d units of %d", l.Name, joints, whole.Joints, pads, whole.Pads, whole.Units, l.Count.Units)
			}
			if p.Dig != nil {
				same(t, name+" leg "+l.Name+" against the plan", volumesOf(*whole.Dig), volumesOf(p.Dig.Legs[i].Volumes), 1e-9)
			}
		}
	}
}

// Cut at every joint, a leg's units are one answer each; their joints and pads are named at both of their ends.
func TestBetweenUnitByUnit(t *testing.T) {
	_, p, a := asked(t, "tram-depot")
	sum, mass, ends := 0.0, 0.0, 0
	for _, u := range p.Units {
		if u.Leg != "D" {
			continue
		}
		b := between(t, a, u.Mark, u.Mark, "")
		if b.Units != 1 || b.First != u.Mark || b.Joints != 0 {
			t.Errorf("%s: %d units from %s, %d joints", u.Mark, b.Units, b.First, b.Joints)
		}
		sum, mass, ends = sum+b.Dig.Dug, mass+*b.Mass, ends+len(b.AtEnds)
	}
	k := 0
	for p.Legs[k].Name != "D" {
		k++
	}
	if want := p.Dig.Legs[k].Volumes.Dug; math.Abs(sum-want) > 1e-9 || ends != 2*(p.Legs[k].Count.Units-1) {
		t.Errorf("%.9f m³ unit by unit, %.9f in the plan; %d ends", sum, want, ends)
	}
}

// A way goes on through bends and tees, whichever way round it is asked.
func TestBetweenOverNodes(t *testing.T) {
	_, p, a := asked(t, "tram-depot")
	length := map[string]measure.Length{}
	for _, l := range p.Legs {
		length[l.Name] = measure.Length(l.NodeLength)
	}
	there, back := between(t, a, "D-005", "H-003", ""), between(t, a, "H-003", "D-005", "")
	same(t, "there and back", figures(there), figures(back), 1e-12)
	joint := map[string]measure.Length{}
	for _, r := range p.SetOut {
		joint[r.Place] = measure.Length(r.Chainage)
	}
	if want := length["D"] - joint["D-004/D-005"] + joint["H-003/H-004"]; measure.Length(there.Length) != want {
		t.Errorf("%v, by hand %v", measure.Length(there.Length), want)
	}
	if there.First != "D-005" || there.Last != "H-003" || back.First != "H-003" || len(there.Nodes) != 1 || there.Nodes[0].ID != "T1" {
		t.Errorf("%s to %s by %v", there.First, there.Last, there.Nodes)
	}
	all, first, rest := between(t, a, "S", "E1", ""), between(t, a, "S", "T1", ""), between(t, a, "T1", "E1", "")
	got := figures(first)
	for k, v := range figures(rest) {
		got[k] += v
	}
	same(t, "S to T1 to E1", got, figures(all), 1e-9)
	branch := between(t, a, "T1", "E2", "")
	for k, v := range figures(branch) {
		got[k] += v
	}
	same(t, "everything", got[5+1:5+1+12], volumesOf(p.Dig.Total)[:12], 1e-9)
	if got[1] != float64(p.Totals.Units) || got[3] != float64(p.Totals.Covers) || math.Abs(got[5]-*p.Totals.MassKG) > 1e-6 {
		t.Errorf("%v units, %v covers, %v kg; the plan has %d, %d, %v", got[1], got[3], got[5], p.Totals.Units, p.Totals.Covers, *p.Totals.MassKG)
	}
	if len(all.Services) != 1 || all.Services[0].ID != "D-w1" {
		t.Errorf("services %v", all.Services)
	}
	at := length["A"] + length["B"] + length["C"] + 12400*measure.Millimetre
	if measure.Length(all.Services[0].Along) != at {
		t.Errorf("the main lies %v along, by hand %v", measure.Length(all.Services[0].Along), at)
	}
}

func TestBetweenNothing(t *testing.T) {
	_, _, a := asked(t, "tram-depot")
	s, _ := a.Find("A 5 m", "")
	if _, err := a.Between(s, s); err == nil || !strings.Contains(err.Error(), "one place") {
		t.Error(err)
	}
}
