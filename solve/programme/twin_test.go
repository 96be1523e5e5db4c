package programme

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/measure"
	"trenchwright/tools/published"
)

// small is a problem of a few activities with everything in it that there is.
func small(t *rapid.T) *Problem {
	start := 20_000*Day + Moment(rapid.IntRange(0, 6).Draw(t, "weekday"))*Day
	p := &Problem{Start: start}
	works := []string{"dig", "bed", "set", "fill"}
	var calendars [][]Span
	for range 2 {
		from, long := Moment(rapid.IntRange(0, 30).Draw(t, "shift"))*Hour/2, Moment(rapid.IntRange(8, 20).Draw(t, "long"))*Hour/2
		var w Weekly
		for day := range 5 {
			w.Shifts[day] = []Span{{from, from + long}}
		}
		calendars = append(calendars, w.Between(start, start+240*Day))
	}
	for g := range 3 {
		gang := Gang{Name: string(rune('a' + g)), Calendar: calendars[rapid.IntRange(0, 1).Draw(t, "calendar")]}
		for _, w := range works {
			gang.Rates = append(gang.Rates, Rate{w, float64(rapid.IntRange(4, 40).Draw(t, "rate")) / 4})
		}
		p.Gangs = append(p.Gangs, gang)
	}
	stretches := rapid.IntRange(1, 3).Draw(t, "stretches")
	// a third of it is whole: a corner a nanometre beyond a place may be reached only behind a break, and nothing then begins sooner on site
	long := measure.Length(3*rapid.IntRange(1, 4).Draw(t, "metres")) * metre
	for i, w := range works[:rapid.IntRange(1, 4).Draw(t, "works")] {
		l := Line{Leg: "A", Work: w, Turn: i}
		for s := range stretches {
			a := Activity{Name: w + string(rune('1'+s)), From: measure.Length(s) * long, To: measure.Length(s+1) * long}
			part := float64(rapid.IntRange(0, 4).Draw(t, "part")) / 4
			corner := a.From + long/measure.Length(rapid.IntRange(3, 4).Draw(t, "corner")) // where a gate begins, or not
			a.Content = []Content{{a.From, 0}, {corner, part * long.Metres()}, {a.To, long.Metres()}}
			if rapid.IntRange(0, 4).Draw(t, "night") == 0 {
				a.Not = []Span{{start + 2*Day, start + 2*Day + 13*Hour}}
			}
			l.Activities = append(l.Activities, len(p.Activities))
			p.Activities = append(p.Activities, a)
		}
		l.Ways = []Way{{Up: rapid.IntRange(0, 2).Draw(t, "up"), Down: rapid.IntRange(0, 2).Draw(t, "down"), Split: rapid.IntRange(0, stretches).Draw(t, "split")}}
		p.Lines = append(p.Lines, l)
		if i > 0 {
			f := Follow{Before: i - 1, After: i, Wait: Moment(rapid.IntRange(0, 40).Draw(t, "wait")) * Hour / 2, Work: Moment(rapid.IntRange(0, 8).Draw(t, "work")) * Hour / 2}
			f.Behind = min(measure.Length(rapid.IntRange(0, 9).Draw(t, "behind"))*metre, long*measure.Length(stretches))
			p.Follows = append(p.Follows, f)
		}
	}
	if rapid.Bool().Draw(t, "gate") {
		p.Gates = append(p.Gates, Gate{"load", 0, long / 4, long, start + Moment(rapid.IntRange(0, 90).Draw(t, "gated"))*Hour})
	}
	if l := len(p.Lines); rapid.Bool().Draw(t, "open") && l > 1 {
		p.Open = &Open{Most: 3 * long}
		for k, a := range p.Lines[0].Activities {
			p.Open.Pairs = append(p.Open.Pairs, OpenPair{a, p.Lines[l-1].Activities[k]})
		}
	}
	return p
}

// The slow twin of the dates: other code finds nothing wrong with them, and something wrong as soon as any one activity begins sooner by
// three of its own seconds. Every activity then begins as soon as what goes before it lets it, which only one programme of that order does.
func TestNothingBeginsSooner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := small(t)
		p.Effort = rapid.IntRange(0, 20).Draw(t, "effort")
		s := Solve(p)
		if len(s.Findings) > 0 {
			t.Fatal(s.Findings)
		}
		for _, err := range Check(p, &s) {
			t.Fatal(err)
		}
		if err := CheckBound(p, &s); err != nil || s.Bound > s.End {
			t.Fatal(err, s.Bound, s.End)
		}
		m := compile(p)
		for _, a := range s.Order {
			d := s.Dates[a]
			h := &m.hours[m.runs[a][0].hours]
			if d.start < 3 {
				continue
			}
			sooner := s
			sooner.Dates = append([]Dates(nil), s.Dates...)
			sooner.Dates[a].Begin, sooner.Dates[a].End = Moment(h.starts(d.start-3)), Moment(h.ends(d.start-3+d.total))
			if Check(p, &sooner) == nil {
				t.Fatalf("%s may begin at %s, not only at %s (%v)", p.Activities[a].Name, sooner.Dates[a].Begin, d.Begin, d.Cause)
			}
		}
	})
}

// Floats against dating anew: put off by its total float an activity does not put off the end, and by three seconds more it does; put
// off by its free float it puts off no other.
func TestFloatsAgainstDatingAnew(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := small(t)
		p.Open = nil
		s := Solve(p)
		m := compile(p)
		late := func(a int, by Moment) Solution {
			q := *p
			h := &m.hours[m.runs[a][0].hours]
			act := &p.Activities[a]
			q.Gates = append(append([]Gate(nil), p.Gates...), Gate{"held", m.line[a], act.From, act.To, Moment(h.starts(s.Dates[a].start + int64(by)))})
			return Redate(&q, s.Turns, s.Order)
		}
		for _, a := range s.Order {
			d := s.Dates[a]
			if d.Free > d.Total {
				t.Fatalf("free float %d of a total of %d", d.Free, d.Total)
			}
			if d.total == 0 {
				continue
			}
			if one := late(a, d.Total); one.End != s.End {
				t.Fatalf("%s by %d s: the end is put off from %s to %s", p.Activities[a].Name, d.Total, s.End, one.End)
			}
			if one := late(a, d.Total+3); one.End <= s.End {
				t.Fatalf("%s by %d s and three: the end stays at %s", p.Activities[a].Name, d.Total, s.End)
			}
			for b, o := range late(a, d.Free).Dates {
				if b != a && o.Begin != s.Dates[b].Begin {
					t.Fatalf("%s by %d s puts %s off", p.Activities[a].Name, d.Free, p.Activities[b].Name)
				}
			}
		}
	})
}

// A balanced line of ten repeated units: each work begins a unit when the one before is done with it. Weeks for one and crews come to its rate.
func TestLineOfBalanceAsPublished(t *testing.T) {
	const week = 7 * Day
	var rates []Rate
	works := published.Lines(t, "programme.balance")
	for _, g := range works {
		rates = append(rates, Rate{g[0], g.N(2) / g.N(1) / 168})
	}
	p := straight(9*metre, 0, 0, rates...) // from the beginning of the first unit to that of the last
	for i := range p.Follows {
		p.Follows[i].Wait = Moment(works[i].N(1)) * week
	}
	s := Solve(p)
	published.Hold(t, "programme.balance", func(g published.Given) []float64 {
		d := s.Dates[slices.IndexFunc(rates, func(r Rate) bool { return r.Work == g[0] })]
		return []float64{float64(d.Begin) / float64(week), float64(d.End)/float64(week) + g.N(1)}
	})
}

// What cannot be is refused in a sentence each, with its place and what to try, and nothing is dated.
func TestWhatCannotBe(t *testing.T) {
	for name, spoil := range map[string]func(*Problem){
		"no working hour":          func(p *Problem) { p.Gangs[0].Calendar = nil },
		"more than 0":              func(p *Problem) { p.Gangs[0].Rates[0].PerHour = 0 },
		"not beyond":               func(p *Problem) { p.Activities[0].From = p.Activities[0].To },
		"the leg is 600.0 m long":  func(p *Problem) { p.Follows[0].Behind = 601 * metre },
		"may be open at once":      func(p *Problem) { p.Open = &Open{Most: 599 * metre, Pairs: []OpenPair{{0, 1}}} },
		"waits for itself":         func(p *Problem) { p.Follows = append(p.Follows, Follow{Before: 1, After: 0}) },
		"does not run up":          func(p *Problem) { p.Activities[0].Content[1].Done = -1 },
		"names no gang":            func(p *Problem) { p.Lines[0].Ways[0].Up = 9 },
		"is on two lines":          func(p *Problem) { p.Lines[1].Activities[0] = 0 },
		"names a line that is not": func(p *Problem) { p.Follows[0].After = 7 },
		"below 0":                  func(p *Problem) { p.Follows[0].Wait = -1 },
		"for no stretch":           func(p *Problem) { p.Gates = []Gate{{Name: "load", Line: 5}} },
	} {
		p := straight(600*metre, 0, 0, Rate{"dig", 2}, Rate{"bed", 3})
		spoil(p)
		s := Solve(p)
		if len(s.Order) > 0 || len(s.Findings) == 0 || !strings.Contains(s.Findings[0].Text, strings.ReplaceAll(name, "600.0 m", "600000 mm")) || s.Findings[0].Try == "" || s.Findings[0].Where.Path == "" {
			t.Errorf("%s: %v", name, s.Findings)
		}
	}
}

// A rate or a quantity that nobody entered leaves its line and what follows it without dates, and nothing else.
func TestNothingFromAGuess(t *testing.T) {
	p := straight(60*metre, 0, 0, Rate{"dig", 2}, Rate{"bed", 3}, Rate{"set", 4})
	p.Gangs[1].Rates, p.Effort = nil, 1
	s := Solve(p)
	if len(s.Undated) != 2 || s.Undated[0] != 1 || len(s.Order) != 1 || s.End != 30*Hour || s.Bound != s.End {
		t.Errorf("%+v", s)
	}
	if Check(p, &s) != nil {
		t.Error(Check(p, &s))
	}
}

// A day has its hours by the calendar, and windows that end leave what does not fit undone, in words.
func TestWindowsThatEnd(t *testing.T) {
	p := straight(60*metre, 0, 0, Rate{"dig", 2})
	p.Activities[0].Only = []Span{{0, 10 * Hour}, {20 * Hour, 30 * Hour}}
	if s := Solve(p); len(s.Findings) != 1 || !strings.Contains(s.Findings[0].Text, "it takes 30 h of work, and 20 h of them are on file") {
		t.Errorf("%v", s.Findings)
	}
	p.Activities[0].Only = append(p.Activities[0].Only, Span{2 * Day, 3 * Day})
	if s := Solve(p); s.End != 2*Day+10*Hour {
		t.Errorf("ends %s", s.End)
	}
	if got := (Weekly{Shifts: [7][]Span{3: {{8 * Hour, 30 * Hour}}}, Off: []Span{{7 * Day, 8 * Day}}}).Between(0, 15*Day); len(got) != 3 || got[0] != (Span{8 * Hour, 30 * Hour}) || got[1] != (Span{8 * Day, 8*Day + 6*Hour}) || got[2].From != 14*Day+8*Hour {
		t.Errorf("Thursdays %v", got)
	}
	if day, err := ReadDate("2026-04-17"); err != nil || day.String() != "2026-04-17 00:00" || day.Weekday() != "Fri" || InHours(5400) != "1.5 h" || InHours(1800) != "30 min" {
		t.Error(day, err)
	}
}

// The checks find what is wrong: a solution that is spoilt is never taken.
func TestChecksFind(t *testing.T) {
	whole := func() (*Problem, Solution) {
		p := straight(60*metre, Hour, metre, Rate{"dig", 2}, Rate{"bed", 4}, Rate{"set", 1})
		p.Gangs, p.Lines[2].Ways[0].Up = p.Gangs[:2], 0
		p.Gangs[0].Rates = append(p.Gangs[0].Rates, Rate{"set", 1})
		p.Effort = 50
		s := Solve(p)
		if Check(p, &s) != nil || CheckBound(p, &s) != nil {
			t.Fatal(Check(p, &s), CheckBound(p, &s))
		}
		return p, s
	}
	for name, spoil := range map[string]func(*Problem, *Solution){
		"begins before": func(p *Problem, s *Solution) { p.Start = Hour },
		"ends at":       func(p *Problem, s *Solution) { s.Dates[1].End++ },
		"at once": func(p *Problem, s *Solution) {
			s.Dates[2].Begin, s.Dates[2].End = s.Dates[0].Begin, s.Dates[0].Begin+60*Hour
		},
		"done there only": func(p *Problem, s *Solution) { s.Dates[1].Begin -= 60; s.Dates[1].End -= 60 },
		"another gang":    func(p *Problem, s *Solution) { s.Dates[0].Gang = 1 },
		"is there":        func(p *Problem, s *Solution) { p.Gates = []Gate{{"load", 2, 0, metre, s.Dates[2].Begin + Hour}} },
		"are open at":     func(p *Problem, s *Solution) { p.Open = &Open{Most: metre, Pairs: []OpenPair{{0, 2}}} },
	} {
		p, s := whole()
		spoil(p, &s)
		if wrong := Check(p, &s); len(wrong) == 0 || !strings.Contains(wrong[0].Error(), name) {
			t.Errorf("%s: %v", name, wrong)
		}
	}
	p, s := whole()
	if s.Bound++; CheckBound(p, &s) == nil {
		t.Error("a bound behind the end holds")
	}
	s.Bound--
	s.Proof = append(s.Proof, Step{Kind: Refuted}, Step{Kind: Refuted})
	if CheckBound(p, &s) == nil {
		t.Error("a proof that goes on holds")
	}
	s.Proof = []Step{{Kind: ChooseFirst, A: 0, B: 1}}
	if CheckBound(p, &s) == nil {
		t.Error("a proof that stops holds")
	}
}
