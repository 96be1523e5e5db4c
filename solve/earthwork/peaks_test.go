package earthwork

import (
	"testing"

	"trenchwright/base/measure"
)

// Nowhere along a leg over rough ground is the dig deeper, or needs the work beside it more room, than where Solve says so;
// and a section there shows just that.
func TestNothingIsDeeperThanTheDeepest(t *testing.T) {
	for seed := uint64(1); seed <= 4; seed++ {
		s := surveyed(t, seed, 2000, -10, -30, 50, 30)
		p := trench(1.2, Sides{Form: Sloped, Slope: oneTo(1)}, 1.5, 1.5, 12)
		p.Ground, p.Finished, p.Topsoil = Of(s), nil, new(mm(200))
		p.Factors = []Factor{{Of: Topsoil, Loose: 1.3, Compacted: 0.9}, {Of: Soil, Loose: 1.25, Compacted: 0.9}}
		p.Strip = Strip{Setback: new(m(0.6)), Heap: oneTo(1.5), Uses: []Use{{What: Spoil, Side: Left}, {What: Plant, Side: Right, Width: m(3)}}}
		first := p.Legs[0].Spans[0]
		p.Legs[0].Spans = nil
		for i := range 4 { // formations step at joints, now up, now down
			one := first
			one.From, one.To = m(float64(3*i)), m(float64(3*i+3))
			f := 98.5 + 0.05*float64(i%2)
			one.Start = Levels{Top: m(f + 1.1), Underside: m(f + 0.2), Formation: m(f)}
			one.End = Levels{Top: m(f + 1.13), Underside: m(f + 0.23), Formation: m(f + 0.03)}
			p.Legs[0].Spans = append(p.Legs[0].Spans, one)
		}
		sol := Solve(p)
		deep := sol.Legs[0].Deepest
		var places []Place
		for x := measure.Length(0); x <= 12*measure.Metre; x += 10 * measure.Millimetre {
			places = append(places, Place{0, x})
		}
		places = append(places, Place{0, deep.At}, Place{0, sol.Strip[0].At}, Place{0, sol.Strip[1].At})
		sheets, _ := Sections(p, places, 0)
		const hair = 100 * measure.Micrometre // before a step a section is shown a millimetre early
		for i, at := range places {
			if d := sheets[i].Depth(); d > deep.Depth+hair {
				t.Errorf("seed %d: at %v the dig is %v deep, deepest at %v %v", seed, at.At, d, deep.At, deep.Depth)
			}
			for k := range sol.Strip {
				if n := sheets[i].Beside[k].Need; n > sol.Strip[k].Need+hair {
					t.Errorf("seed %d: at %v the %s needs %v, most at %v %v", seed, at.At, sol.Strip[k].Side, n, sol.Strip[k].At, sol.Strip[k].Need)
				}
			}
		}
		n := len(places) - 3
		if d := sheets[n].Depth() - deep.Depth; d.Abs() > hair {
			t.Errorf("seed %d: the section at the deepest place shows %v, said is %v", seed, sheets[n].Depth(), deep.Depth)
		}
		for k := range sol.Strip {
			if d := sheets[n+1+k].Beside[k].Need - sol.Strip[k].Need; d.Abs() > hair {
				t.Errorf("seed %d: the section where the %s needs most shows %v, said is %v", seed, sol.Strip[k].Side, sheets[n+1+k].Beside[k].Need, sol.Strip[k].Need)
			}
		}
	}
}
