package drawing

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// Words on poles never lie on each other and no pole runs through a word, by a check that knows nothing of lanes' rules:
// every word against every other word and every pole.
func TestPennantsKeepClear(t *testing.T) {
	const left, right, size = 0.0, 180.0, 1.8
	for seed := range uint64(2000) {
		r := rand.New(rand.NewPCG(seed, 3))
		var all []pennant
		for range 1 + r.IntN(25) {
			x := r.Float64() * right
			if len(all) > 0 && r.IntN(8) == 0 {
				x = all[len(all)-1].x
			}
			all = append(all, pennant{x: x, text: strings.Repeat("word ", 1+r.IntN(6))})
		}
		set, lanes := fly(all, left, right, size)
		if why := tangled(set, lanes, size); why != "" {
			t.Fatalf("seed %d: %s", seed, why)
		}
	}
}

func tangled(set []pennant, lanes int, size float64) string {
	for i, f := range set {
		from, to := f.cover(size)
		if f.lane < 0 || f.lane >= lanes {
			return fmt.Sprintf("word %d flies in lane %d of %d", i, f.lane, lanes)
		}
		for k, g := range set {
			if i == k {
				continue
			}
			if a, b := g.cover(size); g.lane == f.lane && a < to && b > from {
				return fmt.Sprintf("words %d and %d lie on each other in lane %d", i, k, f.lane)
			}
			low, high := f.x+flagGap, to-flagRoom // of the lettering
			if f.back {
				low, high = from+flagRoom, f.x-flagGap
			}
			if g.lane >= f.lane && g.x > low && g.x < high {
				return fmt.Sprintf("the pole of %d at %.2f, lane %d, runs through word %d from %.2f to %.2f, lane %d", k, g.x, g.lane, i, from, to, f.lane)
			}
		}
	}
	return ""
}
