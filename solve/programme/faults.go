package programme

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// faults are what keeps a problem from being solved, each with its place, its limit and what to try.
func faults(p *Problem) finding.List {
	f := &found{p: p}
	for i := range p.Gangs {
		f.gang(i)
	}
	for i := range p.Activities {
		f.activity(i)
	}
	seen := make([]bool, len(p.Activities))
	for i := range p.Lines {
		f.line(i, seen)
	}
	for i := range p.Follows {
		f.follow(i)
	}
	f.circles()
	for i := range p.Gates {
		g := &p.Gates[i]
		if g.Line < 0 || g.Line >= len(p.Lines) || g.From >= g.To {
			f.say("gate", fmt.Sprintf("gates[%d]", i), fmt.Sprintf("%s is for no stretch of a line", g.Name), "a chainage further than the first")
		}
	}
	f.open()
	return f.list
}

type found struct {
	p    *Problem
	list finding.List
}

func (f *found) say(id, at, text, try string) *finding.Finding {
	where := f.p.Where
	if where.Path != "" {
		at = where.Path + "." + at
	}
	where.Path = at
	f.list = append(f.list, finding.Finding{ID: "programme." + id, Kind: finding.Fault, Text: text, Where: where, Try: try})
	return &f.list[len(f.list)-1]
}

func (f *found) gang(i int) {
	g, at := &f.p.Gangs[i], fmt.Sprintf("gangs[%d]", i)
	spans := joined(g.Calendar)
	if len(within(spans, []Span{{f.p.Start, Moment(never)}})) == 0 {
		f.say("calendar", at, fmt.Sprintf("the calendar of gang %s has no working hour behind %s", g.Name, f.p.Start), "a shift on at least one day of the week")
	}
	for _, r := range g.Rates {
		if !(r.PerHour > 0) || r.PerHour > 1e9 {
			at := f.say("rate", at, fmt.Sprintf("the rate of %s of gang %s is %g in an hour, and it has to be more than 0", r.Work, g.Name, r.PerHour), "what the gang does in an hour; leave it out where nobody knows")
			at.Limit, at.Value = "more than 0", fmt.Sprint(r.PerHour)
		}
	}
}

func (f *found) activity(i int) {
	a, at := &f.p.Activities[i], fmt.Sprintf("activities[%d]", i)
	if a.From >= a.To {
		one := f.say("stretch", at, f.p.Words.Say("%s ends at %s, and that is not beyond %s, where it begins", a.Name, a.To, a.From), "a stretch that is longer than 0")
		one.Limit, one.Value = f.p.Words.Length(a.From), f.p.Words.Length(a.To)
		return
	}
	for k, c := range a.Content {
		n := len(a.Content)
		bad := n < 2 || k == 0 && c.At != a.From || k == n-1 && c.At != a.To || k > 0 && (c.At <= a.Content[k-1].At || c.Done < a.Content[k-1].Done) || !(c.Done >= -1e12 && c.Done <= 1e12)
		if bad {
			f.say("content", at, f.p.Words.Say("what there is to do of %s does not run up from %s to %s", a.Name, a.From, a.To), "a figure at both ends, and none less than the one before it")
			return
		}
	}
}

func (f *found) line(i int, seen []bool) {
	l, at := &f.p.Lines[i], fmt.Sprintf("lines[%d]", i)
	if len(l.Activities) == 0 || len(l.Ways) == 0 {
		f.say("line", at, fmt.Sprintf("%s of leg %s has no activity, or no way in which it is worked", l.Work, l.Leg), "a gang that does it")
	}
	for k, a := range l.Activities {
		if a < 0 || a >= len(f.p.Activities) || seen[a] {
			f.say("line", at, fmt.Sprintf("activity %d of %s of leg %s is not there, or is on two lines", a, l.Work, l.Leg), "each activity on one line")
			return
		}
		seen[a] = true
		if k > 0 && f.p.Activities[a].From < f.p.Activities[l.Activities[k-1]].To {
			f.say("line", at, fmt.Sprintf("%s begins before %s ends", f.p.Activities[a].Name, f.p.Activities[l.Activities[k-1]].Name), "stretches one behind another")
		}
	}
	if l.Turn < 0 || l.Turn > len(f.p.Lines) {
		f.say("line", at, fmt.Sprintf("turn %d of %s of leg %s is not there", l.Turn, l.Work, l.Leg), "a turn from 0 on")
	}
	for k := range i {
		if o := &f.p.Lines[k]; o.Turn == l.Turn && len(o.Ways) != len(l.Ways) {
			f.say("line", at, fmt.Sprintf("%s and %s of leg %s are worked alike, and have not as many ways", o.Work, l.Work, l.Leg), "the same number of ways")
		}
	}
	for _, w := range l.Ways {
		ok := w.Split >= 0 && w.Split <= len(l.Activities)
		ok = ok && (w.Split == 0 || w.Up >= 0 && w.Up < len(f.p.Gangs)) && (w.Split == len(l.Activities) || w.Down >= 0 && w.Down < len(f.p.Gangs))
		if !ok {
			f.say("line", at, fmt.Sprintf("a way of %s of leg %s names no gang", l.Work, l.Leg), "a gang that does it")
		}
	}
}

func (f *found) follow(i int) {
	w, at := &f.p.Follows[i], fmt.Sprintf("follows[%d]", i)
	if w.Before < 0 || w.Before >= len(f.p.Lines) || w.After < 0 || w.After >= len(f.p.Lines) {
		f.say("follow", at, "it names a line that is not there", "two lines of one leg")
		return
	}
	one, other := &f.p.Lines[w.Before], &f.p.Lines[w.After]
	if one.Leg != other.Leg {
		f.say("follow", at, fmt.Sprintf("%s is on leg %s and %s on leg %s, and one follows another along one leg", one.Work, one.Leg, other.Work, other.Leg), "two lines of one leg")
	}
	if w.Wait < 0 || w.Work < 0 || w.Behind < 0 {
		f.say("follow", at, fmt.Sprintf("the buffer between %s and %s is below 0", one.Work, other.Work), "0 or more")
	}
	if long := f.long(one); w.Behind > long && long > 0 {
		s := f.say("buffer", at, f.p.Words.Say("%s keeps %s behind %s on leg %s, and the leg is %s long", other.Work, w.Behind, one.Work, one.Leg, long), "a buffer that is shorter than the run")
		s.Limit, s.Value = f.p.Words.Length(long), f.p.Words.Length(w.Behind)
		s.Where.Leg = one.Leg
	}
}

func (f *found) long(l *Line) measure.Length {
	if len(l.Activities) == 0 {
		return 0
	}
	first, last := l.Activities[0], l.Activities[len(l.Activities)-1]
	if min(first, last) < 0 || max(first, last) >= len(f.p.Activities) {
		return 0
	}
	return f.p.Activities[last].To - f.p.Activities[first].From
}

// circles says which lines wait for themselves.
func (f *found) circles() {
	if len(f.list) > 0 {
		return
	}
	left := make([]int, len(f.p.Lines))
	for _, w := range f.p.Follows {
		left[w.After]++
	}
	var ready []int
	for i, n := range left {
		if n == 0 {
			ready = append(ready, i)
		}
	}
	done := 0
	for ; len(ready) > 0; done++ {
		i := ready[0]
		ready = ready[1:]
		for _, w := range f.p.Follows {
			if w.Before == i {
				if left[w.After]--; left[w.After] == 0 {
					ready = append(ready, w.After)
				}
			}
		}
	}
	for i, n := range left {
		if n > 0 {
			f.say("circle", fmt.Sprintf("lines[%d]", i), fmt.Sprintf("%s of leg %s waits for itself, by way of what it follows", f.p.Lines[i].Work, f.p.Lines[i].Leg), "an order of work that has a first one")
			return
		}
	}
}

func (f *found) open() {
	o := f.p.Open
	if o == nil {
		return
	}
	for i, pair := range o.Pairs {
		at := fmt.Sprintf("open.pairs[%d]", i)
		if min(pair.Opens, pair.Closes) < 0 || max(pair.Opens, pair.Closes) >= len(f.p.Activities) {
			f.say("open", at, "it names an activity that is not there", "the dig and the fill of one stretch")
			continue
		}
		a := &f.p.Activities[pair.Opens]
		if long := a.To - a.From; long > o.Most {
			s := f.say("open", at, f.p.Words.Say("%s is %s long, and no more than %s may be open at once", a.Name, long, o.Most), f.p.Words.Say("stretches of %s or less", o.Most))
			s.Limit, s.Value, s.Where.Chainage = f.p.Words.Length(o.Most), f.p.Words.Length(long), &a.From
		}
	}
}
