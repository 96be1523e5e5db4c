package interchange

import (
	"trenchwright/base/measure"
	"trenchwright/place/ground"
	"trenchwright/place/route"
	"trenchwright/view/landxml"
)

// stateOf is what LandXML calls a surface that is there, or one that will be.
func stateOf(r ground.Role) string {
	if r == ground.Finished {
		return "proposed"
	}
	return "existing"
}

// faces is a surface as the job carries it: the ground along the run.
func faces(s *ground.Surface) landxml.Surface {
	out := landxml.Surface{Name: s.Name, Desc: string(s.Role), State: stateOf(s.Role)}
	at := map[landxml.Vertex]int32{}
	for i := range s.FaceCount() {
		var f [3]int32
		for k, c := range s.Corners(i) {
			v := landxml.Vertex{At: s.Origin.Coordinates(c.Plan()), Level: ground.Record(c.Z)}
			n, ok := at[v]
			if !ok {
				n = int32(len(out.Points))
				at[v] = n
				out.Points = append(out.Points, v)
			}
			f[k] = n
		}
		if f[0] != f[1] && f[1] != f[2] && f[2] != f[0] {
			out.Faces = append(out.Faces, f)
		}
	}
	return out
}

// sagitta is how far a chord may leave a curve of the run when ground is cut along it, in metres: 1 mm.
const sagitta = 0.001

// along is a surface as it lies under a leg: every place where its faces change. ok is false where it has no ground there.
func (r run) along(line route.Line, s *ground.Surface) (landxml.Sampled, bool) {
	out := landxml.Sampled{Name: s.Name, Desc: string(s.Role), State: stateOf(s.Role)}
	points := line.Points(0, line.Length(), sagitta)
	if s.Origin != r.origin || len(points) < 2 {
		return out, false
	}
	chainage := chords(line, points)
	for _, stretch := range s.Section(points).Stretches {
		var list []landxml.Sample
		for _, c := range stretch {
			list = append(list, landxml.Sample{Chainage: chainage(c.Along), Level: ground.Record(c.Level)})
		}
		if len(list) > 0 {
			out.Stretches = append(out.Stretches, list)
		}
	}
	return out, len(out.Stretches) > 0
}

// chords turns metres along the chords of a line into chainages on it: each chord stands for the part of the line between
// its ends. It is asked for places in their order.
func chords(line route.Line, points []route.Point) func(float64) measure.Length {
	ends := make([]measure.Length, len(points)) // chainages of points
	metres := make([]float64, len(points))
	elements := line.Elements()
	e := 0
	for i := 1; i < len(points); i++ {
		metres[i] = metres[i-1] + points[i].Distance(points[i-1])
		ends[i] = ends[i-1] // inside an element: shared out below, once all of its chords are known
		if points[i] == elements[e].To {
			ends[i] = elements[e].End()
			e = min(e+1, len(elements)-1)
		}
	}
	shareOut(ends, metres)
	i := 1
	return func(along float64) measure.Length {
		for i > 1 && metres[i-1] > along {
			i--
		}
		for i < len(points)-1 && metres[i] < along {
			i++
		}
		share := (along - metres[i-1]) / (metres[i] - metres[i-1])
		return ends[i-1] + measure.Length(share*float64(ends[i]-ends[i-1])+0.5)
	}
}

// shareOut gives the points inside an element their chainages: its chords are equally long.
func shareOut(ends []measure.Length, metres []float64) {
	for from := 0; from < len(ends)-1; {
		to := from + 1
		for to < len(ends)-1 && ends[to] == ends[from] {
			to++
		}
		for i := from + 1; i < to; i++ {
			share := (metres[i] - metres[from]) / (metres[to] - metres[from])
			ends[i] = ends[from] + measure.Length(share*float64(ends[to]-ends[from])+0.5)
		}
		from = to
	}
}
