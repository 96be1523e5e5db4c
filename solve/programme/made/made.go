// Package made makes programmes up for tests and benchmarks: the same seed and size always give the same one.
package made

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/solve/programme"
)

// works are the works of every leg, in their order.
var works = []string{"dig", "bed", "set", "fill", "cover"}

// dice is a fixed sequence of numbers that look as if they were drawn (a linear congruence with the constants of Knuth's MMIX, from
// memory; nothing hangs on them).
type dice uint64

func (d *dice) below(n int) int {
	*d = *d*6364136223846793005 + 1442695040888963407
	return int(uint64(*d) >> 33 % uint64(n))
}

func (d *dice) one(in int) bool { return d.below(in) == 0 }

// Problem makes one up with so many activities: legs in stretches, five works on each, gangs of which one does two works, shifts that
// differ, buffers in time and in length, a stretch that may be worked only at night, a load that comes late, legs that may be worked
// either way, two gangs that dig towards each other, and a limit of what is open. About half of them have each of these.
func Problem(seed, activities int) *programme.Problem {
	d := dice(seed)*2862933555777941757 + 3037000493
	d.below(2)
	start := 20_000 * programme.Day
	p := &programme.Problem{Start: start, Gangs: gangs(&d, start, activities)}
	left := activities / len(works)
	for leg := 0; left > 0; leg++ {
		n := min(left, 1+d.below(max(activities/15, 2)))
		left -= n
		addLeg(&d, p, fmt.Sprintf("L%d", leg+1), n)
	}
	if d.one(2) {
		p.Open = &programme.Open{Most: measure.Length(100+30*d.below(3)) * measure.Metre}
		for at := 0; at < len(p.Lines); at += len(works) {
			for k, a := range p.Lines[at].Activities {
				p.Open.Pairs = append(p.Open.Pairs, programme.OpenPair{Opens: a, Closes: p.Lines[at+3].Activities[k]})
			}
		}
	}
	return p
}

// gangs are five: two that dig, one that beds and covers, one that sets, one that fills.
func gangs(d *dice, start programme.Moment, activities int) []programme.Gang {
	days := programme.Moment(200 + 20*activities)
	calendar := func() []programme.Span {
		from, long := 7*programme.Hour, 8*programme.Hour
		if d.one(4) {
			from, long = 6*programme.Hour, 10*programme.Hour
		}
		var w programme.Weekly
		for day := range 5 {
			w.Shifts[day] = []programme.Span{{From: from, To: from + long}}
		}
		w.Off = []programme.Span{{From: start + 9*programme.Day, To: start + 10*programme.Day}}
		return w.Between(start, start+days*programme.Day)
	}
	rate := func(work string, most int) programme.Rate {
		return programme.Rate{Work: work, PerHour: float64(most/2+d.below(most)) / 10}
	}
	dig := calendar()
	return []programme.Gang{
		{Name: "dig 1", Calendar: dig, Rates: []programme.Rate{rate("dig", 80)}}, {Name: "dig 2", Calendar: dig, Rates: []programme.Rate{rate("dig", 80)}},
		{Name: "bed", Calendar: calendar(), Rates: []programme.Rate{rate("bed", 160), rate("cover", 160)}},
		{Name: "set", Calendar: calendar(), Rates: []programme.Rate{rate("set", 80)}}, {Name: "fill", Calendar: calendar(), Rates: []programme.Rate{rate("fill", 100)}},
	}
}

// does is the gang of each work.
var does = []int{0, 2, 3, 4, 2}

func addLeg(d *dice, p *programme.Problem, leg string, n int) {
	long := measure.Length(10*(1+d.below(5))) * measure.Metre
	turn := 0
	for _, l := range p.Lines {
		turn = max(turn, l.Turn+1)
	}
	either, two, down := d.one(3), d.one(3) && n > 1, d.one(3)
	night := d.below(4 * n)
	for k, work := range works {
		line := programme.Line{Leg: leg, Work: work, Turn: turn}
		for s := range n {
			a := programme.Activity{Name: fmt.Sprintf("%s of %s.%d", work, leg, s+1), From: measure.Length(s) * long, To: measure.Length(s+1) * long}
			middle, more := (a.From+a.To)/2, long.Metres()*(0.5+float64(d.below(10))/10)
			a.Content = []programme.Content{{At: a.From}, {At: middle, Done: more * (0.3 + float64(d.below(5))/10)}, {At: a.To, Done: more}}
			if s == night && k < 4 {
				a.Only = nights(p.Start)
			}
			line.Activities = append(line.Activities, len(p.Activities))
			p.Activities = append(p.Activities, a)
		}
		g := does[k]
		up, back := programme.Way{Up: g, Down: -1, Split: n}, programme.Way{Up: -1, Down: g}
		switch {
		case work == "dig" && two:
			line.Turn = turn + 1
			for down := range n + 1 {
				line.Ways = append(line.Ways, programme.Way{Up: 0, Down: 1, Split: n - down})
			}
		case either:
			line.Ways = []programme.Way{up, back}
		case down:
			line.Ways = []programme.Way{back}
		default:
			line.Ways = []programme.Way{up}
		}
		p.Lines = append(p.Lines, line)
		if last := len(p.Lines) - 1; k > 0 {
			f := programme.Follow{Before: last - 1, After: last}
			switch d.below(4) {
			case 0:
				f.Wait = programme.Moment(d.below(16)) * programme.Hour
			case 1:
				f.Work = programme.Moment(d.below(6)) * programme.Hour
			case 2:
				f.Behind = measure.Length(5*d.below(3)) * measure.Metre
			}
			p.Follows = append(p.Follows, f)
		}
	}
	if d.one(2) {
		p.Gates = append(p.Gates, programme.Gate{Name: "load of " + leg, Line: len(p.Lines) - 3, To: long, At: p.Start + programme.Moment(d.below(8))*programme.Day})
	}
}

// nights are the hours of a closure: weekday nights, 20:00 to 06:00, and the day shift of one week, so that everybody can come.
func nights(start programme.Moment) []programme.Span {
	var w programme.Weekly
	for day := range 7 {
		w.Shifts[day] = []programme.Span{{From: 13 * programme.Hour, To: 30 * programme.Hour}}
	}
	return w.Between(start, start+2000*programme.Day)
}
