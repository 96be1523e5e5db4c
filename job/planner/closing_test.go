package planner

import (
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/tools/seed"
)

// Whatever is told fills what is left at both walls to the micrometre, with every gap within its window and every piece within what
// the supplier lets it be; where whole units alone can do it, no piece is cut.
func TestClosingFillsBothWalls(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 7))
	const mm = measure.Millimetre
	found, skewed, uncut, lifted := 0, 0, 0, 0
	for range 300 {
		made := job.Supply{ID: "s"}
		made.Unit.Lengths = job.Known([]measure.Length{3000 * mm, 1500 * mm}[:1+r.IntN(2)])
		made.Unit.MayTurn, made.Saw.KeepFactoryEnd = job.Known(true), job.Known(true)
		made.Unit.Outer = job.Known(job.Section{Width: 600 * mm})
		gap := measure.Window{Nominal: 10 * mm, Min: 6 * mm, Max: 15 * mm}
		made.Joint.Gap = job.Known(gap)
		made.Saw.Shortest, made.Saw.Kerf, made.Saw.LeastSlice = job.Known(500*mm), job.Known(5*mm), job.Known(5*mm)
		c := Closing{Left: measure.Length(30+r.IntN(7000)) * mm, After: 3000 * mm * measure.Length(r.IntN(2)), Before: 3000 * mm * measure.Length(r.IntN(2))}
		c.Right = c.Left
		if r.IntN(2) == 0 {
			c.Right += measure.Length(r.IntN(81)-40) * mm
		}
		ways, _, _, err := c.Ways(made)
		if err != nil {
			t.Fatalf("%+v: %v", c, err)
		}
		for _, w := range ways {
			found++
			left, right := w.Walls[0]+w.Walls[2], w.Walls[1]+w.Walls[3]
			for i, p := range w.Pieces {
				left, right = left+p.Left, right+p.Right
				if i > 0 {
					left, right = left+w.Gaps[i], right+w.Gaps[i]
					if g := measure.Length(w.Gaps[i]); g < gap.Min || g > gap.Max {
						t.Errorf("%+v: gap %v", c, g)
					}
				}
				if short := measure.Length(min(p.Left, p.Right)); p.Cut && short < 500*mm || !p.Cut && p.Length != p.Stock {
					t.Errorf("%+v: piece %+v", c, p)
				}
			}
			for _, g := range w.Walls {
				if g := measure.Length(g); g < gap.Min || g > gap.Max {
					t.Errorf("%+v: outer gap %v", c, g)
				}
			}
			wantLeft, wantRight := measure.MM(c.Left), measure.MM(c.Right)
			for _, l := range w.TakenOut {
				lifted++
				wantLeft, wantRight = wantLeft+l.Length+measure.MM(gap.Nominal), wantRight+l.Length+measure.MM(gap.Nominal)
			}
			if d := measure.Length(left-wantLeft).Abs() + measure.Length(right-wantRight).Abs(); d > 2*measure.Micrometre {
				t.Errorf("%+v: %+v is off by %v", c, w, d)
			}
			if w.Skewed {
				skewed++
			}
			if w.Cuts == 0 {
				uncut++
			}
		}
		if c.Left != c.Right || len(ways) > 0 && ways[0].Cuts == 0 {
			continue
		}
		// whole units alone: n of one length, m of the other, every gap alike in its window
		for n := measure.Length(0); n < 4; n++ {
			for m := measure.Length(0); m < 6; m++ {
				if len(made.Unit.Lengths.Value) == 1 && m > 0 || n+m == 0 {
					continue
				}
				whole := n*3000*mm + m*1500*mm
				if g := (c.Left - whole) / (n + m + 1); g >= gap.Min && g <= gap.Max {
					t.Errorf("%+v is filled by %d and %d whole units with gaps of %v, told were %+v", c, n, m, g, ways)
				}
			}
		}
	}
	if found < 100 || skewed == 0 || uncut == 0 || lifted == 0 {
		t.Errorf("of %d ways %d were skewed, %d without a cut, %d units lifted: too few to say anything", found, skewed, uncut, lifted)
	}
}
