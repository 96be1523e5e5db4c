package programme

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"trenchwright/base/measure"
)

// Check holds the dates of a solution against the problem, without the reckoning that found them: it walks every activity through its
// hours, second for second of every corner, and looks at every place where one waits for another. What is wrong is told; nil: nothing is.
func Check(p *Problem, s *Solution) []error {
	c := &checker{p: p, s: s, walks: make([]*walk, len(p.Activities))}
	for i, l := range p.Lines {
		if slices.Contains(s.Undated, i) {
			continue
		}
		for k, a := range l.Activities {
			c.walked(&l, k, a)
		}
	}
	for _, part := range []func(){c.gangs, c.lines, c.follows, c.gates, c.open} {
		part()
	}
	return c.wrong
}

type checker struct {
	p     *Problem
	s     *Solution
	walks []*walk
	wrong []error
}

func (c *checker) fail(format string, args ...any) {
	c.wrong = append(c.wrong, fmt.Errorf(format, args...))
}

// walk is how an activity goes: corners of chainage against time, from its beginning on. At a break there are two at one chainage.
type walk struct {
	at   []float64 // s
	x    []float64 // chainage, m
	span []Span    // its hours
}

// walked walks an activity from its beginning through its hours, and holds its end.
func (c *checker) walked(l *Line, k, a int) {
	act, d, way := &c.p.Activities[a], &c.s.Dates[a], l.Ways[c.s.Turns[l.Turn]]
	g, down := way.Up, false
	if k >= way.Split {
		g, down = way.Down, true
	}
	if d.Gang != g || d.Down != down {
		c.fail("%s: it is worked by another gang, or the other way, than the way of its line says", act.Name)
	}
	rate := 0.0
	for _, r := range c.p.Gangs[g].Rates {
		if r.Work == l.Work {
			rate = r.PerHour
		}
	}
	hours := until(joined(c.p.Gangs[g].Calendar), d.End+aWeek)
	if act.Only != nil {
		hours = within(hours, joined(act.Only))
	}
	hours = without(hours, joined(act.Not))
	w := trod(act, hours, rate, down, float64(d.Begin))
	c.walks[a] = w
	if d.Begin < c.p.Start {
		c.fail("%s begins before the programme does", act.Name)
	}
	if end := w.at[len(w.at)-1]; math.Abs(end-float64(d.End)) > 0.5 {
		c.fail("%s ends at %s, and by its rate at %s", act.Name, d.End, Moment(end))
	}
}

// aWeek is how long behind its end an activity is walked that goes on for longer than its dates say.
const aWeek = 7 * 24 * 3600

// until are the hours that begin before a moment; calendars go on for years behind it.
func until(all []Span, end Moment) []Span {
	k, _ := slices.BinarySearchFunc(all, end, func(s Span, end Moment) int { return cmp.Compare(s.From, end) })
	return all[:k]
}

// trod walks one activity from a moment on: corner by corner of what there is to do, hour by hour of its calendar.
func trod(act *Activity, hours []Span, rate float64, down bool, from float64) *walk {
	w := &walk{span: hours}
	n := len(act.Content)
	corner := func(k int) (x, worked float64) { // worked until it has come there, s
		c, first := act.Content[k], act.Content[0]
		if down {
			c, first = act.Content[n-1-k], act.Content[n-1]
		}
		return c.At.Metres(), math.Ceil(math.Abs(c.Done-first.Done)*3600/rate - 1e-6)
	}
	now := from
	x, worked := corner(0)
	put := func(t, x float64) { w.at, w.x = append(w.at, t), append(w.x, x) }
	put(now, x)
	i := 0
	for k := 1; k < n; k++ {
		to, until := corner(k)
		for worked < until {
			for i < len(hours) && float64(hours[i].To) <= now {
				i++
			}
			if i == len(hours) {
				put(math.Inf(1), to)
				return w
			}
			if start := float64(hours[i].From); start > now {
				now = start
				put(now, x)
			}
			step := min(until-worked, float64(hours[i].To)-now)
			x += float64((to - x) * step / (until - worked))
			worked, now = worked+step, now+step
			put(now, x)
		}
		x = to
		put(now, x)
	}
	return w
}

// first and last are when the front is at a chainage: when it comes there, and when it goes on.
func (w *walk) first(x float64) float64 { return w.when(x, false) }
func (w *walk) last(x float64) float64  { return w.when(x, true) }

func (w *walk) when(x float64, leaves bool) float64 {
	n := len(w.x)
	sign := 1.0
	if w.x[n-1] < w.x[0] {
		sign = -1
	}
	best := w.at[0]
	if !leaves && sign*x >= sign*w.x[n-1] {
		best = w.at[n-1]
	}
	for k := 1; k < n; k++ {
		lo, hi := float64(sign*w.x[k-1]), float64(sign*w.x[k])
		at := float64(sign * x)
		if at < lo || at > hi {
			continue
		}
		t := w.at[k]
		if hi > lo {
			t = w.at[k-1] + float64((at-lo)/(hi-lo)*(w.at[k]-w.at[k-1]))
		} else if !leaves {
			t = w.at[k-1]
		}
		if !leaves {
			return t
		}
		best = t
	}
	return best
}

// where is the chainage of the front at a moment.
func (w *walk) where(t float64) float64 {
	for k := 1; k < len(w.at); k++ {
		if t <= w.at[k] && w.at[k] > w.at[k-1] {
			return w.x[k-1] + float64(max(t-w.at[k-1], 0)/(w.at[k]-w.at[k-1])*(w.x[k]-w.x[k-1]))
		}
	}
	return w.x[len(w.x)-1]
}

// worked is how many of its hours lie between two moments.
func (w *walk) worked(from, to float64) float64 {
	out := 0.0
	for _, s := range w.span {
		out += max(0, min(float64(s.To), to)-max(float64(s.From), from))
	}
	return out
}

// gangs: no gang does two things at once.
func (c *checker) gangs() {
	for i, a := range c.s.Order {
		for _, b := range c.s.Order[:i] {
			x, y := &c.s.Dates[a], &c.s.Dates[b]
			if x.Gang == y.Gang && x.Begin < y.End && y.Begin < x.End {
				c.fail("gang %s does %s and %s at once", c.p.Gangs[x.Gang].Name, c.p.Activities[a].Name, c.p.Activities[b].Name)
			}
		}
	}
}

// lines: along a line every gang goes from stretch to stretch.
func (c *checker) lines() {
	for i, l := range c.p.Lines {
		if slices.Contains(c.s.Undated, i) {
			continue
		}
		for k := 1; k < len(l.Activities); k++ {
			a, b := l.Activities[k-1], l.Activities[k]
			x, y := &c.s.Dates[a], &c.s.Dates[b]
			if !x.Down && !y.Down && y.Begin < x.End || x.Down && y.Down && x.Begin < y.End {
				c.fail("%s and %s are not worked one behind the other", c.p.Activities[a].Name, c.p.Activities[b].Name)
			}
		}
	}
}

// follows: wherever a follower goes on, what it follows has been, as far around as is asked for and as long ago. Looked at wherever
// either of the two has a corner, just before and just behind it, and at each quarter of a metre.
func (c *checker) follows() {
	for _, f := range c.p.Follows {
		if slices.Contains(c.s.Undated, f.Before) || slices.Contains(c.s.Undated, f.After) {
			continue
		}
		for _, a := range c.p.Lines[f.After].Activities {
			act, w := &c.p.Activities[a], c.walks[a]
			from, to := act.From.Metres(), act.To.Metres()
			ahead := f.Behind.Metres()
			places := append([]float64(nil), w.x...)
			for x := from; x < to; x += 0.25 {
				places = append(places, x)
			}
			for _, b := range c.p.Lines[f.Before].Activities {
				for _, x := range c.walks[b].x {
					places = append(places, x, x-ahead, x+ahead)
				}
				for _, h := range w.span { // and where the other is when the follower's hours begin and end
					for _, t := range [2]Moment{h.From, h.To} {
						x := c.walks[b].where(float64(t - f.Wait))
						places = append(places, x-ahead, x+ahead)
					}
				}
			}
			for _, x := range places {
				for _, x := range [2]float64{x - 1e-7, x + 1e-7} {
					if x > from && x < to && busy(act, x) {
						c.behind(&f, a, x, ahead)
					}
				}
			}
		}
	}
}

// busy tells whether an activity has something to do at a chainage; where it has not, it waits for nothing.
func busy(act *Activity, x float64) bool {
	for k := 1; k < len(act.Content); k++ {
		if a, b := act.Content[k-1], act.Content[k]; a.At.Metres() <= x && x <= b.At.Metres() {
			return b.Done > a.Done
		}
	}
	return false
}

func (c *checker) behind(f *Follow, a int, x, ahead float64) {
	l := &c.p.Lines[f.Before]
	split := l.Ways[c.s.Turns[l.Turn]].Split
	// the part of the line that this chainage lies on, and as far ahead in it as its gang goes
	acts := l.Activities[:split]
	if split < len(l.Activities) && x >= c.p.Activities[l.Activities[split]].From.Metres() {
		acts = l.Activities[split:]
		x2 := max(x-ahead, c.p.Activities[acts[0]].From.Metres())
		c.passed(f, a, acts, x, x2)
		return
	}
	c.passed(f, a, acts, x, min(x+ahead, c.p.Activities[acts[len(acts)-1]].To.Metres()))
}

func (c *checker) passed(f *Follow, a int, acts []int, x, there float64) {
	for _, b := range acts {
		if o := &c.p.Activities[b]; there < o.From.Metres() || there > o.To.Metres() {
			continue
		}
		done, goes := c.walks[b].first(there)+float64(f.Wait), c.walks[a].last(x)
		if goes < done-0.5 || f.Work > 0 && c.walks[a].worked(done, goes) < float64(f.Work)-0.5 {
			c.fail("%s is at %.3f m at %s, and %s is done there only at %s", c.p.Activities[a].Name, x, Moment(goes), c.p.Activities[b].Name, Moment(done))
		}
		return
	}
}

// gates: nothing is worked before what it waits for is there.
func (c *checker) gates() {
	for _, g := range c.p.Gates {
		if slices.Contains(c.s.Undated, g.Line) {
			continue
		}
		for _, a := range c.p.Lines[g.Line].Activities {
			act, w := &c.p.Activities[a], c.walks[a]
			for k := 1; k < len(act.Content); k++ {
				lo, hi := act.Content[k-1], act.Content[k]
				from, to := max(g.From, lo.At), min(g.To, hi.At)
				if from < to && hi.Done > lo.Done && min(w.last(from.Metres()), w.last(to.Metres())) < float64(g.At)-0.5 {
					c.fail("%s is worked before %s is there", act.Name, g.Name)
					break
				}
			}
		}
	}
}

// open: never is more open than may be.
func (c *checker) open() {
	if c.p.Open == nil {
		return
	}
	for _, at := range c.p.Open.Pairs {
		when := c.s.Dates[at.Opens]
		if !when.dated {
			continue
		}
		long := measure.Length(0)
		for _, o := range c.p.Open.Pairs {
			x, y := &c.s.Dates[o.Opens], &c.s.Dates[o.Closes]
			if x.dated && y.dated && x.Begin <= when.Begin && when.Begin < y.End {
				long += c.p.Activities[o.Opens].To - c.p.Activities[o.Opens].From
			}
		}
		if long > c.p.Open.Most {
			c.fail("%s are open at %s", long, when.Begin)
		}
	}
}
