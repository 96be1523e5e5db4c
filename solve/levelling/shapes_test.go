package levelling

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
)

// shape is a network of size points whose lines are given by pairs.
func shape(pairs [][2]int) Network {
	n := Network{Weigh: BySD, Fixed: []Fixed{{Point: "P0"}}}
	for i, p := range pairs {
		n.Lines = append(n.Lines, Line{From: fmt.Sprintf("P%d", p[0]), To: fmt.Sprintf("P%d", p[1]), Rise: measure.Length(p[1]-p[0])*10*mm + measure.Length(i%7-3)*measure.Micrometre, SD: mm, Row: i + 2})
	}
	return n
}

func ring(size int) (out [][2]int) {
	for i := range size {
		out = append(out, [2]int{i, (i + 1) % size})
	}
	return out
}

func star(size int) (out [][2]int) {
	for i := 1; i < size; i++ {
		out = append(out, [2]int{0, i}, [2]int{i, 0})
	}
	return out
}

// wild ties every point to the one before and to one anywhere: nothing keeps its factor sparse.
func wild(size int) [][2]int {
	r := rand.New(rand.NewPCG(7, 7))
	out := ring(size)
	for i := range size / 4 {
		if k := r.IntN(size); k != 4*i {
			out = append(out, [2]int{4 * i, k})
		}
	}
	return out
}

// Shapes that a network may have at its worst; each answer passes the checker.
func TestShapes(t *testing.T) {
	for name, pairs := range map[string][][2]int{"ring": ring(300), "star": star(300), "wild": wild(300)} {
		n := shape(pairs)
		a, said := Adjust(n)
		none(t, said)
		if bad := CheckNetwork(n, a); len(bad) > 0 {
			t.Errorf("%s: %q", name, bad[:min(3, len(bad))])
		}
	}
}

func BenchmarkShapes10000(b *testing.B) {
	for _, s := range []struct {
		name  string
		pairs [][2]int
	}{{"ring", ring(10_000)}, {"star", star(10_000)}, {"wild", wild(10_000)}} {
		b.Run(s.name, func(b *testing.B) {
			n := shape(s.pairs)
			b.ReportAllocs()
			for b.Loop() {
				if _, said := Adjust(n); len(said) > 0 {
					b.Fatal(said)
				}
			}
		})
	}
}
