package programme

import (
	"testing"

	"trenchwright/base/measure"
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

// Time against distance in closed form, published.md 9.5 (C): 600 m, dug at 60, bedded at 75, set at 40, filled at 80 m a day, a day
// between them: begins 0, 3, 4, 12.5, ends 10, 11, 19, 20 d. At 20 m a day of setting: 4 to 34, fill from 27.5 to 35 d.
func TestTimeDistanceAsPublished(t *testing.T) {
	for _, c := range []struct {
		set         float64
		begin, ends [4]float64
	}{{40, [4]float64{0, 3, 4, 12.5}, [4]float64{10, 11, 19, 20}}, {20, [4]float64{0, 3, 4, 27.5}, [4]float64{10, 11, 34, 35}}} {
		p := straight(600*metre, Day, 0, Rate{"dig", 60. / 24}, Rate{"bed", 75. / 24}, Rate{"set", c.set / 24}, Rate{"fill", 80. / 24})
		p.Effort = 100
		s := Solve(p)
		for i, d := range s.Dates {
			if d.Begin != Moment(c.begin[i]*float64(Day)) || d.End != Moment(c.ends[i]*float64(Day)) {
				t.Errorf("%s at %v: %s to %s, want day %v to %v", p.Activities[i].Name, c.set, d.Begin, d.End, c.begin[i], c.ends[i])
			}
		}
		if s.Bound != s.End {
			t.Errorf("bound %s, end %s", s.Bound, s.End)
		}
	}
}
