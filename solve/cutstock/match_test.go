package cutstock

import (
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/base/measure"
)

// randomGraph has groups with edges at random, of one weight or of several.
func randomGraph(r *rand.Rand, vertices, weights int) *graph {
	groups := 1 + r.IntN(vertices)
	g := &graph{weight: make([][]int64, groups)}
	for i := range g.weight {
		g.weight[i] = make([]int64, groups)
	}
	for i := range groups {
		for j := range i + 1 {
			if r.IntN(3) == 0 {
				w := int64(1 + r.IntN(weights))
				g.weight[i][j], g.weight[j][i] = w, w
			}
		}
	}
	for range vertices {
		g.group = append(g.group, r.IntN(groups))
	}
	return g
}

// byTrying is the most that edges without a common vertex weigh, by trying all.
func byTrying(g *graph, used int, memo map[int]int64) int64 {
	v := 0
	for ; v < g.size() && used>>v&1 > 0; v++ {
	}
	if v == g.size() {
		return 0
	}
	if best, ok := memo[used]; ok {
		return best
	}
	best := byTrying(g, used|1<<v, memo)
	for w := v + 1; w < g.size(); w++ {
		if used>>w&1 == 0 && g.joined(v, w) {
			best = max(best, g.weigh(v, w)+byTrying(g, used|1<<v|1<<w, memo))
		}
	}
	memo[used] = best
	return best
}

// matched is what the edges of a matching weigh, and twice what its prices say that they can weigh at most; −1 where an
// edge or a price is false.
func matched(t *testing.T, g *graph, m matching) (weight, twice int64) {
	t.Helper()
	for v, w := range m.mate {
		if w >= 0 && (m.mate[w] != v || !g.joined(v, w)) {
			t.Fatalf("%d is paired with %d, and that with %d", v, w, m.mate[w])
		}
		if w > v {
			weight += g.weigh(v, w)
		}
		if m.value[v] < 0 {
			t.Fatalf("vertex %d is worth %d", v, m.value[v])
		}
		twice += m.value[v]
	}
	for _, set := range m.sets {
		if set.value < 0 || len(set.members)%2 == 0 {
			t.Fatalf("a set of %d is worth %d", len(set.members), set.value)
		}
		twice += set.value * int64(len(set.members)/2)
	}
	for v := range g.size() {
		for w := range v {
			worth := m.value[v] + m.value[w]
			for _, set := range m.sets {
				if slices.Contains(set.members, v) && slices.Contains(set.members, w) {
					worth += set.value
				}
			}
			if g.joined(v, w) && worth < 2*g.weigh(v, w) {
				t.Fatalf("edge %d–%d of weight %d is worth %d halves", v, w, g.weigh(v, w), worth)
			}
		}
	}
	return weight, twice
}

func TestMatchingAgreesWithTrying(t *testing.T) {
	for i := range uint64(3000) {
		r := rand.New(rand.NewPCG(*seed, i))
		weights := []int{1, 2, 5, 50}[r.IntN(4)]
		g := randomGraph(r, 1+r.IntN(13), weights)
		want := byTrying(g, 0, map[int]int64{})
		weight, twice := matched(t, g, g.heaviest(&effort{1 << 40}))
		if weight != want || twice != 2*want {
			t.Fatalf("-seed %d, graph %d: weight %d, by its prices at most %d/2, by trying %d", *seed, i, weight, twice, want)
		}
		if weights == 1 {
			if weight, twice = matched(t, g, g.most(&effort{1 << 40})); weight != want || twice != 2*want {
				t.Fatalf("-seed %d, graph %d: %d edges, by its prices at most %d/2, by trying %d", *seed, i, weight, twice, want)
			}
		}
	}
}

// Larger graphs prove themselves: what the edges weigh is what the prices allow.
func TestLargeMatchingProvesItself(t *testing.T) {
	for i := range uint64(30) {
		r := rand.New(rand.NewPCG(*seed, 1000+i))
		g := randomGraph(r, 60+r.IntN(90), 1+r.IntN(40))
		if weight, twice := matched(t, g, g.heaviest(&effort{1 << 40})); twice != 2*weight {
			t.Errorf("-seed %d, graph %d: weight %d, by its prices at most %d/2", *seed, i, weight, twice)
		}
		for _, row := range g.weight {
			for j := range row {
				row[j] = min(row[j], 1)
			}
		}
		if weight, twice := matched(t, g, g.most(&effort{1 << 40})); twice != 2*weight {
			t.Errorf("-seed %d, graph %d: %d edges, by its prices at most %d/2", *seed, i, weight, twice)
		}
	}
}

// With square cuts and no least slice two pieces fit where their sum does: then the longest that is left with the
// shortest that is left, from both ends of the list, is best.
func TestGreedyTwin(t *testing.T) {
	for i := range uint64(200) {
		r := rand.New(rand.NewPCG(*seed, 5000+i))
		p := Problem{Kerf: measure.Length(r.IntN(7)) * millimetre, FactoryEnd: true, MayTurn: r.IntN(2) == 0}
		p.Stocks = []Stock{Unit("3000", 3000*millimetre)}
		var lengths []measure.Length
		for range 1 + r.IntN(150) {
			l := measure.Length(300+r.IntN(2701)) * millimetre
			lengths = append(lengths, l)
			p.Pieces = append(p.Pieces, Piece{Length: l, Count: 1})
		}
		slices.Sort(lengths)
		units := 0
		for short, long := 0, len(lengths)-1; short <= long; long-- {
			if short < long && lengths[short]+lengths[long]+p.Kerf <= 3000*millimetre {
				short++
			}
			units++
		}
		if got := solved(t, p); got.Bought != units || !got.Proven {
			t.Errorf("-seed %d, list %d: %d units, proven %v; from both ends %d", *seed, i, got.Bought, got.Proven, units)
		}
	}
}
