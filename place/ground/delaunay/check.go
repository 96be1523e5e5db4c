package delaunay

import (
	"fmt"

	"trenchwright/place/ground/exact"
)

// Check tells the first thing about faces over places that is not as it has to be: corners counterclockwise, neighbours
// that know each other, no edge twice in one direction, and across every edge that no line holds a place outside the
// circle. Together with an area that adds up to the hull's this makes a Delaunay triangulation (Delaunay's lemma). It
// shares nothing with what makes the mesh but the question of sides and circles.
func Check(places []exact.XY, faces []Face) error {
	type directed struct{ from, to int32 }
	owner := make(map[directed]int32, 3*len(faces))
	for i, f := range faces {
		for k := range 3 {
			d := directed{f.Corner[after[k]], f.Corner[before[k]]}
			if j, twice := owner[d]; twice {
				return fmt.Errorf("faces %d and %d both hold the edge from %d to %d", j, i, d.from, d.to)
			}
			owner[d] = int32(i)
		}
		if c := f.Corner; exact.Side(places[c[0]], places[c[1]], places[c[2]]) <= 0 {
			return fmt.Errorf("face %d does not run counterclockwise", i)
		}
	}
	for i, f := range faces {
		for k := range 3 {
			j, known := owner[directed{f.Corner[before[k]], f.Corner[after[k]]}]
			if !known {
				j = None
			}
			if f.Beyond[k] != j {
				return fmt.Errorf("beyond edge %d of face %d lies %d, not %d", k, i, j, f.Beyond[k])
			}
			if j == None {
				continue
			}
			g := faces[j]
			for h := range 3 {
				if g.Corner[after[h]] != f.Corner[before[k]] {
					continue
				}
				c, d := f.Corner, g.Corner[h]
				if g.Fixed[h] != f.Fixed[k] {
					return fmt.Errorf("faces %d and %d disagree whether their edge lies on a line", i, j)
				}
				if !f.Fixed[k] && exact.InCircle(places[c[0]], places[c[1]], places[c[2]], places[d]) > 0 {
					return fmt.Errorf("place %d lies inside the circle of face %d", d, i)
				}
			}
		}
	}
	return nil
}
