package programme

import (
	"slices"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/tools/published"
)

const metre = measure.Metre

// around is a gang that works day and night.
func around(name string, rates ...Rate) Gang {
	return Gang{Name: name, Calendar: []Span{{0, 4000 * Day}}, Rates: rates}
}

// straight is a leg of one stretch for each work, one gang a work, each behind the one before by so long and so far.
func straight(long measure.Length, wait Moment, behind measure.Length, rates ...Rate) *Problem {
	p := &Problem{}
	for i, r := range rates {
		p.Gangs = append(p.Gangs, around(r.Work, r))
		p.Activities = append(p.Activities, Activity{Name: r.Work, To: long, Content: []Content{{0, 0}, {long, long.Metres()}}})
		p.Lines = append(p.Lines, Line{Leg: "A", Work: r.Work, Activities: []int{i}, Ways: []Way{{Up: i, Split: 1}}, Turn: i})
		if i > 0 {
			p.Follows = append(p.Follows, Follow{Before: i - 1, After: i, Wait: wait, Behind: behind})
		}
	}
	return p
}

// Time against distance in closed form; at half the rate of setting the fill waits for its end.
func TestTimeDistanceAsPublished(t *testing.T) {
	for _, name := range []string{"programme.distance", "programme.distance-halved"} {
		var rates []Rate
		for _, g := range published.Lines(t, name) {
			rates = append(rates, Rate{g[0], g.N(1) / 24})
		}
		p := straight(600*metre, Day, 0, rates...)
		p.Effort = 100
		s := Solve(p)
		if s.Bound != s.End {
			t.Errorf("bound %s, end %s", s.Bound, s.End)
		}
		published.Hold(t, name, func(g published.Given) []float64 {
			d := s.Dates[slices.IndexFunc(rates, func(r Rate) bool { return r.Work == g[0] })]
			return []float64{float64(d.Begin) / float64(Day), float64(d.End) / float64(Day)}
		})
	}
}
