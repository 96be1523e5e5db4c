package programme

import "trenchwright/base/measure"

// Corner is where the front of an activity is at a moment.
type Corner struct {
	At       Moment
	Chainage measure.Length
}

// Fronts are the corners of every activity that has dates, from its beginning to its end, breaks and all, to the second and the
// millimetre: for drawing, and for saying where a front is at the end of a day.
func Fronts(p *Problem, s *Solution) [][]Corner {
	c := &checker{p: p, s: s, walks: make([]*walk, len(p.Activities))}
	out := make([][]Corner, len(p.Activities))
	for _, l := range p.Lines {
		for k, a := range l.Activities {
			if !s.Dates[a].dated {
				continue
			}
			c.walked(&l, k, a)
			w := c.walks[a]
			for i, t := range w.at {
				out[a] = append(out[a], Corner{Moment(t), measure.FromMetres(w.x[i])})
			}
		}
	}
	return out
}
