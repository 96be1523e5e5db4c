// Package programme is time against distance for every gang: when each activity along a run begins and ends, which of them decide the
// end, how much room the others have, and what no programme of the same work can beat.
//
// The map of the package:
//
//	programme.go  Problem, Solution, Solve          faults.go     what cannot be solved as it stands
//	calendar.go   when work goes on                 front.go      how far an activity has come at a moment
//	links.go      who waits for whom, and where     dates.go      dates of given orders of work; floats
//	queue.go      orders of work from one list      search.go     better orders
//	prove.go      that nothing ends sooner          check.go      dates and proof held by other code
//
// An activity goes on without a stop while its calendar works. Moments are whole seconds; where one is computed it is rounded up, so
// that nothing is said to begin too early.
package programme

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Moment is a point of time on site: whole seconds since the midnight that began 1 January 1970, by the clock on the wall. Every day
// has 24 hours. A span of time is counted in the same seconds.
type Moment int64

// Hour and Day are spans of time.
const (
	Hour Moment = 3600
	Day  Moment = 24 * Hour
)

// Span is a stretch of time from one moment up to another.
type Span struct{ From, To Moment }

// Problem is work along lines and the gangs that do it. Nothing in it has a default.
type Problem struct {
	Start      Moment // nothing begins before
	Gangs      []Gang
	Activities []Activity
	Lines      []Line
	Follows    []Follow
	Gates      []Gate
	Open       *Open // nil: nobody said how much may be open at once
	Effort     int   // how many programmes are tried, and nodes of the proof of some thirty activities, fewer of more; the same effort always gives the same answer
	Words      wording.Speech
	Where      finding.Where
}

// Gang does one thing at a time.
type Gang struct {
	Name     string
	Calendar []Span // when it works, in order
	Rates    []Rate // a work that is not among them has no rate on file
}

// Rate is how much of a work a gang does in an hour that it works.
type Rate struct {
	Work    string
	PerHour float64
}

// Activity is one work on one stretch of a leg.
type Activity struct {
	Name     string
	From, To measure.Length // chainage
	Content  []Content      // from From to To; nil: nobody knows how much there is to do
	Only     []Span         // it goes on only then; nil: whenever its gang works
	Not      []Span         // it stands still then
}

// Content is how much there is to do up to a chainage.
type Content struct {
	At   measure.Length
	Done float64
}

// Line is one work along one leg: its activities one behind another, by chainage.
type Line struct {
	Leg, Work  string
	Activities []int
	Ways       []Way // in which it may be worked: one or more
	Turn       int   // lines of one turn are worked by the same number of their ways
}

// Way is a way of working a line: one gang works the first Split activities up chainage, one works the others down it. They meet where
// those do.
type Way struct{ Up, Down, Split int }

// Follow says that a line is worked behind another of the same leg: where it works, the other is done, so far around it and so long ago.
type Follow struct {
	Before, After int            // lines
	Behind        measure.Length // the other is done as far as that ahead, in the way that it goes
	Wait          Moment         // by the clock
	Work          Moment         // of the hours in which the follower works
}

// Gate holds a stretch of a line until something is there.
type Gate struct {
	Name     string
	Line     int
	From, To measure.Length
	At       Moment
}

// Open is how much may be open at once: a stretch counts from when the first activity of it begins until the last one is done.
type Open struct {
	Most  measure.Length
	Pairs []OpenPair
}

// OpenPair is the activity that opens a stretch and the one that closes it.
type OpenPair struct{ Opens, Closes int }

// Solution is the programme.
type Solution struct {
	Turns    []int   // the way of every turn
	Order    []int   // of the activities that have dates, each behind all that it waits for
	Dates    []Dates // by activity; those of a line that has none are zero
	Undated  []int   // lines without dates, because a rate or a quantity is not on file for them or for one that they follow
	Gangs    []Load  // by gang
	Critical []int   // activities that decide the end, first to last
	End      Moment
	Bound    Moment // no programme of the same work ends before; with no effort none is looked for, and it is 0
	Proof    []Step // what shows the bound
	Findings finding.List
}

// Dates are those of one activity.
type Dates struct {
	Begin, End   Moment
	Latest       Moment // latest beginning that does not put off the end
	Total, Free  Moment // of the hours in which it works: without putting off the end, without putting off anything
	Gang         int
	Down         bool
	Hours        Moment // that it works
	Cause        Cause
	Critical     bool
	done, dated  bool
	start, total int64 // on its own calendar: where it begins, how long it works
}

// Cause is why an activity does not begin sooner.
type Cause struct {
	Kind   CauseKind
	Before int // activity, or gate
}

// CauseKind is what an activity waits for.
type CauseKind string

const (
	AtStart   CauseKind = "start"   // nothing: it begins with the programme, or as soon as its own hours allow
	Following CauseKind = "follows" // the work before it
	SameGang  CauseKind = "gang"    // its gang does something else
	SameLine  CauseKind = "line"    // the stretch before it on its own line
	Delivery  CauseKind = "gate"
	OpenLimit CauseKind = "open" // as much as may be open is open
)

// Load is what a gang does.
type Load struct {
	Work       Moment // hours that it works
	Begin, End Moment
}

// usual is the number of activities that an effort is stated for.
const usual = 30

// Solve dates the work and looks for better orders of it.
func Solve(p *Problem) Solution {
	var out Solution
	if out.Findings = faults(p); out.Findings.Any(finding.Fault) {
		return out
	}
	m := compile(p)
	out.Undated = m.undated
	n := max(len(p.Activities), 1)
	best := m.search(p.Effort)
	m.fill(&best, &out)
	if out.Findings.Any(finding.Impossible) {
		return out
	}
	if p.Effort == 0 {
		return out
	}
	m.prove(&best, &out, min(p.Effort, p.Effort*usual/n*usual/n))
	m.fill(&best, &out)
	return out
}

// Redate dates the same orders of work once more, for a problem of which only moments differ: what one late load does.
func Redate(p *Problem, turns, order []int) Solution {
	var out Solution
	if out.Findings = faults(p); out.Findings.Any(finding.Fault) {
		return out
	}
	m := compile(p)
	out.Undated = m.undated
	plan := m.dated(turns, order)
	m.fill(&plan, &out)
	return out
}
