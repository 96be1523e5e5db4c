package earthwork

import (
	"math"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/tools/published"
)

// Sections at three places, the dig itself integrated, prisms and grids.
func TestVolumesAsPublished(t *testing.T) {
	published.Hold(t, "volume.sections", func(g published.Given) []float64 {
		return []float64{Prismoidal(g.N(0), g.N(1), g.N(2), g.N(3)) / 27, AverageEndArea(g.N(0), g.N(2), g.N(3)) / 27}
	})
	published.Hold(t, "volume.sections-handbook", func(g published.Given) []float64 {
		return []float64{Prismoidal(g.N(0), g.N(1), g.N(2), g.N(3)) / 27}
	})
	dug := func(g published.Given) []float64 {
		s := Solve(trench(g.N(0), Sides{Form: Sloped, Slope: oneTo(g.N(1))}, g.N(2), g.N(3), g.N(4)))
		none(t, s.Findings)
		return []float64{float64(s.Total.Dug()), float64(s.Legs[0].Approx.Prismoidal), float64(s.Legs[0].Approx.EndArea)}
	}
	published.Hold(t, "volume.dig", dug)
	published.Hold(t, "volume.trench", func(g published.Given) []float64 {
		half := (g.N(2) + g.N(3)) / 2
		return append(dug(g), float64(Solve(trench(g.N(0), Sides{Form: Sloped, Slope: oneTo(g.N(1))}, half, half, g.N(4))).Total.Dug()))
	})
	published.Hold(t, "volume.prism", func(g published.Given) []float64 { return []float64{Prism(g.N(0), g.N(1), g.N(2), g.N(3))} })
	published.Hold(t, "volume.grid", func(g published.Given) []float64 {
		return []float64{Grid(g.N(0), g.N(1), g.N(2), g.N(3), g.N(4))}
	})
}

// Factors from densities, fill from bank, what is left over in loads.
func TestHaulAsPublished(t *testing.T) {
	published.Hold(t, "volume.haul", func(g published.Given) []float64 {
		f := Factor{Of: Soil, Loose: g.N(0) / g.N(1), Compacted: g.N(0) / g.N(2), Source: "a textbook"}
		p := &Problem{Factors: []Factor{f}, Reuse: new(true), Load: new(g.N(5))}
		b, said := balances(p, Quantities{Soil: measure.Volume(g.N(3)), Fill: measure.Volume(g.N(4))})
		none(t, said)
		return []float64{100 * (f.Loose - 1), 100 * (1 - f.Compacted), float64(b[0].Back.Bank), float64(b[0].Leaves.Loose), float64(*b[0].Loads)}
	})
}

// The rest of published.md §2, each with its source and letter.
func TestFormulasAsPublished(t *testing.T) {
	near(t, "2.4 R trapezoidal", EndAreas([]float64{40, 50, 80}, 20), 2200, 1e-9)
	v, err := Simpson([]float64{40, 50, 80}, 20)
	near(t, "2.4 R Simpson", v, 2133.3333333, 1e-6)
	if err != nil {
		t.Error(err)
	}
	six := []float64{12.5, 16, 18.4, 21, 19.5, 17}
	near(t, "2.5 Ri trapezoidal", EndAreas(six, 10), 896.5, 1e-9)
	if _, err := Simpson(six, 10); err == nil {
		t.Error("2.5 Ri: Simpson took six sections")
	}
	// 2.7 R: exact for prisms and wedges, off for pyramids
	near(t, "2.7 wedge", AverageEndArea(6, 0, 10), 30, 1e-12)
	near(t, "2.7 pyramid by the average", AverageEndArea(6, 0, 10), 6*10/3.0*1.5, 1e-12)
	near(t, "2.7 pyramid", Frustum(6, 0, 10), 20, 1e-12)
	near(t, "2.7 pyramid", Prismoidal(6, 1.5, 0, 10), 20, 1e-12)
	near(t, "2.10 R one cell", Grid(10, 1.2+1.5+1.1+1.8, 0, 0, 0), 140, 1e-9)
	near(t, "2.11 R cell, yd³", 2000*((83-75.4)+(83-77.5)+(83-74.6)+(83-80.5))/4/27, 444.44, 0.005)
	near(t, "2.11 R by cell", Grid(math.Sqrt(2000), 83-75.4+83-77.5+83-74.6+83-80.5, 0, 0, 0)/27, 444.44, 0.005)
	near(t, "2.12 R bank", AverageEndArea(45, 60, 50), 2625, 1e-9)
	near(t, "2.12 R loose", float64((&Factor{Loose: 1.15, Compacted: 1}).Bank(2625).Loose), 3018.75, 1e-9)
	near(t, "2.13 R", float64((&Factor{Loose: 1, Compacted: 0.88}).InPlace(5000).Bank), 5681.8, 0.05)
	near(t, "2.16 C frustum", Frustum(16, 4, 3), 28, 1e-12)
	wide := trench(20, Sides{Form: Vertical}, 2, 2, 200)
	wide.Factors = []Factor{{Of: Soil, Loose: 1.4, Compacted: 1, Source: "2.20"}}
	s := Solve(wide)
	near(t, "2.20 R bank", float64(s.Total.Dug()), 8000, 1e-6)
	near(t, "2.20 R loose", float64(s.Balances[0].Dug.Loose), 11200, 1e-5)
	f := &Factor{Loose: 1.2, Compacted: 0.9}
	near(t, "2.21 R loose", float64(f.Bank(100).Loose), 120, 1e-9)
	near(t, "2.21 R compacted", float64(f.Bank(100).Compacted), 90, 1e-9)
	near(t, "2.21 R and back", float64(f.InPlace(90).Bank), 100, 1e-9)
	// 2.19 M: from memory, printed and never a gate
	t.Log("2.19 M (FM 5-434 Table 1-1), not a gate and not a default: sand 1.11/0.95, loam 1.25/0.90, clay 1.43/0.90, blasted rock 1.50/1.30")
}
