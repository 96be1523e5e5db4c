package route

import (
	"math"
	"slices"

	"trenchwright/base/measure"
)

// Closing is what a walk misses a known point by.
type Closing struct {
	Miss   Vector         // from the known point to where the walk ended, grid metres
	By     measure.Length // its length
	Walked measure.Length // along the vertices
}

// OneIn is the misclosure as one in so many, 0 where nothing is missed.
func (c Closing) OneIn() int64 {
	if c.By == 0 {
		return 0
	}
	return int64(math.Round(float64(c.Walked) / float64(c.By)))
}

// CloseOn ends a walk on a known point: every vertex moves by its share of what is missed, in proportion to the way
// walked so far (the compass rule of Bowditch). Whether the misclosure may be shared out at all is for a person to say.
func CloseOn(vertices []Vertex, known Point) ([]Vertex, Closing) {
	out := slices.Clone(vertices)
	if len(out) == 0 || !known.Usable() {
		return out, Closing{}
	}
	way := make([]float64, len(out))
	for i := 1; i < len(out); i++ {
		way[i] = way[i-1] + out[i].At.Distance(out[i-1].At)
	}
	total := way[len(way)-1]
	miss := out[len(out)-1].At.Minus(known)
	c := Closing{miss, toLength(miss.Length()), toLength(total)}
	if !(total > 0) {
		return out, c
	}
	for i := range out {
		out[i].At = out[i].At.Plus(miss.Times(-way[i] / total))
	}
	out[len(out)-1].At = known
	return out, c
}
