package planner

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/job"
	"trenchwright/solve/programme"
)

// Programme is when everything is done: an answer of its own beside the plan, so that nothing that is drawn has to wait for it.
type Programme struct {
	Start      string             `json:"start"`         // the first day
	End        string             `json:"end,omitempty"` // when the last activity that has dates is done
	Bound      string             `json:"bound,omitempty"`
	Claim      string             `json:"claim,omitempty"` // what is proven of the end, in words
	Activities []TimedActivity    `json:"activities"`      // leg by leg, work by work, by chainage
	Gangs      []TimedGang        `json:"gangs"`
	Critical   []string           `json:"critical"` // names of those that the end hangs on, first to last
	Undated    []TimedNot         `json:"undated"`
	Loads      []TimedLoad        `json:"loads"`
	Findings   finding.List       `json:"findings"`
	Late       []TimedLate        `json:"late,omitempty"`
	Moments    programme.Solution `json:"-"`
	asked      *timing
}

// TimedActivity is one work on one stretch of a leg. Moments are of the site's clock: 2026-04-17 08:30.
type TimedActivity struct {
	Name              string        `json:"name"`
	Leg               string        `json:"leg"`
	Work              string        `json:"work"`
	From              measure.MM    `json:"from_mm"` // chainage
	To                measure.MM    `json:"to_mm"`
	First             string        `json:"first"` // place
	Last              string        `json:"last"`
	Amount            float64       `json:"amount"`
	Of                string        `json:"of"` // m3, no, m
	Gang              string        `json:"gang"`
	Down              bool          `json:"down"` // against chainage
	Begin             string        `json:"begin"`
	End               string        `json:"end"`
	Hours             float64       `json:"hours"` // that it is worked
	Latest            string        `json:"latest"`
	Total             float64       `json:"total_float_h"` // hours that it may slip without putting off the end
	Free              float64       `json:"free_float_h"`  // without putting off anything
	Critical          bool          `json:"critical"`
	Waits             string        `json:"waits"` // what it waits for, in words
	Front             []TimedCorner `json:"front"`
	beginning, ending programme.Moment
}

// TimedCorner is where its front is at a moment.
type TimedCorner struct {
	At       string           `json:"at"`
	Chainage measure.MM       `json:"chainage_mm"`
	Moment   programme.Moment `json:"-"`
}

// TimedGang is what a gang comes to.
type TimedGang struct {
	ID     string  `json:"id"`
	Title  string  `json:"title,omitempty"`
	Begin  string  `json:"begin,omitempty"`
	End    string  `json:"end,omitempty"`
	Hours  float64 `json:"hours"`
	People string  `json:"people_hours"` // or NOT CHECKED: …
	Cost   string  `json:"cost"`         // or NOT CHECKED: …
}

// TimedNot is a work on a leg that has no dates, and why.
type TimedNot struct {
	Leg  string `json:"leg"`
	Work string `json:"work"`
	Why  string `json:"why"`
}

// TimedLoad is a load, when it comes, and until when nothing would wait for it.
type TimedLoad struct {
	ID     string `json:"id"`
	What   string `json:"what,omitempty"`
	Comes  string `json:"comes"`
	Needed string `json:"needed,omitempty"` // when what waits for it begins
}

// TimedLate is what a load that comes late moves.
type TimedLate struct {
	Load  string      `json:"load"`
	Comes string      `json:"comes"`
	End   string      `json:"end"`
	By    string      `json:"by"` // how much later the end is
	Moved []TimedMove `json:"moved"`
}

// TimedMove is an activity that begins later.
type TimedMove struct {
	Name string `json:"name"`
	Gang string `json:"gang"`
	From string `json:"from"`
	To   string `json:"to"`
	By   string `json:"by"`
}

// programmeEffort is what a programme is worth: some tenths of a second on a small machine. The same effort always gives the same answer.
const programmeEffort = 3000

// timed is the programme of a plan, worked out once for all that ask.
type timed struct {
	once sync.Once
	is   *Programme
}

// Timed is the programme that a job asks for, of its plan: worked out when it is asked for the first time, as a plan has to be there at
// once. Nobody may change what it answers.
func (p *Plan) Timed(j job.Job) *Programme {
	if p.timed == nil {
		return Timed(j, p)
	}
	p.timed.once.Do(func() { p.timed.is = Timed(j, p) })
	return p.timed.is
}

// Timed is the programme that a job asks for, of its plan; nil where it asks for none.
func Timed(j job.Job, p *Plan) *Programme {
	if j.Programme == nil {
		return nil
	}
	t := askProgramme(&j, p)
	out := &Programme{Start: j.Programme.Start, Activities: []TimedActivity{}, Gangs: []TimedGang{}, Critical: []string{}, Undated: []TimedNot{}, Loads: []TimedLoad{}, asked: t}
	t.problem.Effort = programmeEffort
	if !t.findings.Any(finding.Fault) && len(t.problem.Lines) > 0 {
		out.Moments = programme.Solve(&t.problem)
		t.findings = append(t.findings, out.Moments.Findings...)
		out.write()
	}
	out.Findings = append(finding.List{}, t.told()...)
	return out
}

// write tells what was found.
func (o *Programme) write() {
	t, s := o.asked, &o.Moments
	if len(s.Dates) == 0 {
		return
	}
	o.undated()
	if t.findings.Any(finding.Impossible) {
		return
	}
	wrong := programme.Check(&t.problem, s)
	if err := programme.CheckBound(&t.problem, s); err != nil {
		wrong = append(wrong, err)
	}
	if len(wrong) > 0 {
		t.say("check", finding.Fault, finding.Where{Path: "programme"}, "the programme does not hold, please report it: "+wrong[0].Error(), "", "the dates are not used")
		return
	}
	fronts := programme.Fronts(&t.problem, s)
	for i, l := range t.problem.Lines {
		for _, a := range l.Activities {
			if len(fronts[a]) > 0 {
				o.Activities = append(o.Activities, o.activity(a, &t.lines[i], fronts[a]))
			}
		}
	}
	for _, a := range s.Critical {
		o.Critical = append(o.Critical, t.problem.Activities[a].Name)
	}
	o.gangs()
	o.loads()
	if len(s.Order) == 0 {
		return
	}
	o.End, o.Bound = s.End.String(), s.Bound.String()
	switch {
	case s.Bound == s.End:
		o.Claim = "ends as soon as the same gangs at the same rates can: proven, and verified apart"
	default:
		o.Claim = fmt.Sprintf("no programme of the same gangs and rates ends before %s: proven, and verified apart; this one ends %s later", s.Bound, programme.InHours(s.End-s.Bound))
	}
}

func (o *Programme) activity(a int, line *timingLine, front []programme.Corner) TimedActivity {
	t, act, d := o.asked, &o.asked.problem.Activities[a], &o.Moments.Dates[a]
	out := TimedActivity{Name: act.Name, Leg: line.leg, Work: line.work, From: measure.MM(act.From), To: measure.MM(act.To), Of: line.of, Gang: t.problem.Gangs[d.Gang].Name, Down: d.Down,
		Begin: d.Begin.String(), End: d.End.String(), Hours: inHours(d.Hours), Latest: d.Latest.String(), Total: inHours(d.Total), Free: inHours(d.Free), Critical: d.Critical, Waits: o.waits(d), beginning: d.Begin, ending: d.End}
	out.First, out.Last = t.places(line.leg, act.From, act.To)
	n := len(act.Content) - 1
	out.Amount = math.Round((act.Content[n].Done-act.Content[0].Done)*1000) / 1000
	for _, c := range front {
		if k := len(out.Front); k > 0 && out.Front[k-1].Moment == c.At && out.Front[k-1].Chainage == measure.MM(c.Chainage) {
			continue
		}
		out.Front = append(out.Front, TimedCorner{c.At.String(), measure.MM(c.Chainage), c.At})
	}
	return out
}

// Quantity is how much there is to do, in the job's system.
func (a *TimedActivity) Quantity(imperial bool) string {
	amount, of := a.Amount, a.Of
	switch {
	case of == "m3" && imperial:
		amount, of = amount/0.764554857984, "yd³"
	case of == "m3":
		of = "m³"
	case of == "m" && imperial:
		amount, of = amount/0.3048, "ft"
	}
	return strings.TrimSuffix(strconv.FormatFloat(amount, 'f', 1, 64), ".0") + " " + of
}

// inHours is a span in hours to the thousandth.
func inHours(m programme.Moment) float64 { return math.Round(float64(m)/3.6) / 1000 }

// waits says what an activity waits for.
func (o *Programme) waits(d *programme.Dates) string {
	p := &o.asked.problem
	switch c := d.Cause; c.Kind {
	case programme.Following:
		return "for " + p.Activities[c.Before].Name
	case programme.SameGang, programme.SameLine:
		return "for its gang, that is at " + p.Activities[c.Before].Name
	case programme.Delivery:
		return "for " + p.Gates[c.Before].Name
	case programme.OpenLimit:
		return "for " + p.Activities[c.Before].Name + ", as no more may be open"
	}
	return "for nothing"
}

// undated says which works have no dates, and why: by themselves, or because they follow one that has none.
func (o *Programme) undated() {
	t := o.asked
	for _, i := range o.Moments.Undated {
		l := &t.lines[i]
		why := l.why
		if why != "" {
			if strings.HasPrefix(why, "NOT CHECKED: no rate ") || strings.Contains(why, "no gang on file") {
				t.sayOnce(why)
			} else {
				t.say("amount", finding.NotChecked, finding.Where{Leg: l.leg, Path: "programme.works"}, why, askOf(why), "")
			}
		} else {
			for _, f := range t.problem.Follows {
				if f.After == i {
					why = "it follows " + t.lines[f.Before].work + ", which has no dates"
				}
			}
		}
		o.Undated = append(o.Undated, TimedNot{l.leg, l.work, why})
	}
	for g, gang := range t.asked.Gangs {
		for _, r := range gang.Does {
			dated := slices.ContainsFunc(t.problem.Gangs[g].Rates, func(x programme.Rate) bool { return x.Work != r.Work })
			if !r.Rate.Known && dated {
				t.say("busy", finding.NotChecked, finding.Where{Path: fmt.Sprintf("programme.gangs[%d]", g)}, fmt.Sprintf("NOT CHECKED: no rate of %s of gang %s on file: its other dates leave out what that takes. Ask: the site engineer", r.Work, gang.ID), "the site engineer", "")
			}
		}
	}
}

// sayOnce tells what is missing once for all legs.
func (t *timing) sayOnce(text string) {
	if !slices.ContainsFunc(t.findings, func(f finding.Finding) bool { return f.Text == text }) {
		t.say("rate", finding.NotChecked, finding.Where{Path: "programme.gangs"}, text, askOf(text), "")
	}
}

func askOf(text string) string {
	_, ask, _ := strings.Cut(text, "Ask: ")
	return ask
}

// gangs are what each comes to: hours worked, and what they cost.
func (o *Programme) gangs() {
	t := o.asked
	for i, g := range t.asked.Gangs {
		one := TimedGang{ID: g.ID, Title: g.Title, People: "NOT CHECKED: no number of people of gang " + g.ID + " on file. Ask: the site engineer", Cost: "NOT CHECKED: no cost of gang " + g.ID + " on file. Ask: the site engineer"}
		if i < len(o.Moments.Gangs) && o.Moments.Gangs[i].End > 0 {
			load := o.Moments.Gangs[i]
			one.Begin, one.End, one.Hours = load.Begin.String(), load.End.String(), inHours(load.Work)
		}
		if g.People.Known {
			one.People = strconv.FormatFloat(math.Round(one.Hours*float64(g.People.Value)*10)/10, 'f', -1, 64)
		}
		if cost, err := strconv.ParseFloat(g.Cost.Value, 64); g.Cost.Known && err == nil {
			one.Cost = strings.TrimSpace(strconv.FormatFloat(math.Round(one.Hours*cost*100)/100, 'f', 2, 64) + " " + t.asked.Currency)
		}
		o.Gangs = append(o.Gangs, one)
	}
}

// loads say when each is needed.
func (o *Programme) loads() {
	t := o.asked
	for _, l := range t.asked.Loads {
		one := TimedLoad{ID: l.ID, What: l.What, Comes: strings.TrimSpace(l.On + " " + l.At)}
		for _, g := range t.problem.Gates {
			if g.Name != "load "+l.ID {
				continue
			}
			for _, a := range t.problem.Lines[g.Line].Activities {
				act, d := &t.problem.Activities[a], &o.Moments.Dates[a]
				if g.From < act.To && g.To > act.From && d.End > 0 && (one.Needed == "" || d.Begin.String() < one.Needed) {
					one.Needed = d.Begin.String()
				}
			}
		}
		o.Loads = append(o.Loads, one)
	}
}

// LoadLate says what moves, and by how much, if a load comes on another day, the order of all work kept as it is.
func (o *Programme) LoadLate(load, date string) error {
	t := o.asked
	var ids []string
	for _, l := range t.asked.Loads {
		ids = append(ids, l.ID)
	}
	on, err := programme.ReadDate(date)
	switch {
	case !slices.Contains(ids, load):
		return fmt.Errorf("no load is called %q; there are %s", load, strings.Join(ids, ", "))
	case err != nil:
		return fmt.Errorf("%q is no date; write 2026-04-22", date)
	case len(o.Activities) == 0:
		return fmt.Errorf("the programme has no dates, so that nothing can be said of what a late load moves")
	}
	q := t.problem
	q.Gates = slices.Clone(q.Gates)
	for i := range q.Gates {
		if g := &q.Gates[i]; g.Name == "load "+load {
			g.At = on + g.At - dayOf(g.At)
		}
	}
	s := programme.Redate(&q, o.Moments.Turns, o.Moments.Order)
	if len(s.Findings) > 0 {
		return fmt.Errorf("%s", s.Findings[0].Text)
	}
	one := TimedLate{Load: load, Comes: date, End: s.End.String(), By: programme.InHours(s.End - o.Moments.End), Moved: []TimedMove{}}
	for _, l := range t.problem.Lines {
		for _, a := range l.Activities {
			was, is := &o.Moments.Dates[a], &s.Dates[a]
			if is.Begin != was.Begin {
				one.Moved = append(one.Moved, TimedMove{t.problem.Activities[a].Name, t.problem.Gangs[is.Gang].Name, was.Begin.String(), is.Begin.String(), programme.InHours(is.Begin - was.Begin)})
			}
		}
	}
	o.Late = append(o.Late, one)
	return nil
}

func dayOf(m programme.Moment) programme.Moment { return m - m%programme.Day }

// Ahead is one line of what a gang does on one day.
type Ahead struct {
	Day     string     `json:"day"`
	Weekday string     `json:"weekday"`
	Gang    string     `json:"gang"`
	Work    string     `json:"work"`
	Leg     string     `json:"leg"`
	From    measure.MM `json:"from_mm"` // chainage, in the way that it goes
	To      measure.MM `json:"to_mm"`
	First   string     `json:"first"` // places
	Last    string     `json:"last"`
	Begin   string     `json:"begin"` // hours
	End     string     `json:"end"`
	Needs   []string   `json:"needs"` // what must be there before
}

// LookAhead is what every gang does on the next n days on which anybody works, from a day on; from the first one where none is given.
func (o *Programme) LookAhead(from string, n int) []Ahead {
	first, err := programme.ReadDate(from)
	if err != nil {
		first = o.asked.problem.Start
	}
	var out []Ahead
	seen := 0
	for day := first; seen < n && day < o.Moments.End; day += programme.Day {
		some := false
		for _, g := range o.asked.problem.Gangs {
			from := len(out)
			for i := range o.Activities {
				if a := &o.Activities[i]; a.Gang == g.Name {
					if one, ok := o.ahead(a, day); ok {
						out, some = append(out, one), true
					}
				}
			}
			sorting.By(out[from:], func(a, b Ahead) int { return cmp.Or(cmp.Compare(a.Begin, b.Begin), cmp.Compare(a.End, b.End)) })
		}
		if some {
			seen++
		}
	}
	return out
}

// Along is a chainage as the programme says it.
func (o *Programme) Along(at measure.Length) string { return o.asked.along(at) }

// ahead is what of an activity is done on a day.
func (o *Programme) ahead(a *TimedActivity, day programme.Moment) (Ahead, bool) {
	next := day + programme.Day
	if a.ending <= day || a.beginning >= next {
		return Ahead{}, false
	}
	begin, end := max(a.beginning, day), min(a.ending, next)
	// its hours of that day: the first and the last corner that it moves between
	var from, to measure.Length
	var starts, ends programme.Moment
	moved := false
	for k := 1; k < len(a.Front); k++ {
		c, d := a.Front[k-1], a.Front[k]
		lo, hi := max(c.Moment, begin), min(d.Moment, end)
		if lo >= hi || c.Chainage == d.Chainage {
			continue
		}
		at := func(m programme.Moment) measure.Length {
			share := float64(m-c.Moment) / float64(d.Moment-c.Moment)
			return measure.Length(c.Chainage) + measure.Length(math.Round(share*float64(d.Chainage-c.Chainage)))
		}
		if !moved {
			from, starts = at(lo), lo
		}
		to, ends, moved = at(hi), hi, true
	}
	if !moved {
		return Ahead{}, false
	}
	out := Ahead{Day: day.Date(), Weekday: day.Weekday(), Gang: a.Gang, Work: a.Work, Leg: a.Leg, From: measure.MM(from), To: measure.MM(to), Begin: starts.String()[11:], End: ends.String()[11:]}
	out.First, out.Last = o.asked.places(a.Leg, min(from, to), max(from, to))
	if a.Down {
		out.First, out.Last = out.Last, out.First
	}
	out.Needs = o.needs(a, min(from, to), max(from, to))
	return out, true
}

// needs is what must be there before a stretch is worked: the work before it, loads, notices and closures.
func (o *Programme) needs(a *TimedActivity, from, to measure.Length) []string {
	t := o.asked
	var out []string
	for i, w := range t.asked.Works {
		if w.Work != a.Work || i == 0 {
			continue
		}
		text := t.asked.Works[i-1].Work + " done"
		if w.Behind > 0 {
			text += " " + t.along(w.Behind) + " ahead"
		}
		if w.Wait != "" {
			text += ", " + w.Wait + " ago"
		}
		if w.Lag != "" {
			text += ", " + w.Lag + " of work ago"
		}
		out = append(out, text)
	}
	for _, l := range t.asked.Loads {
		if l.Work == a.Work && l.Leg == a.Leg && l.From < to && (l.To == 0 || l.To > from) {
			out = append(out, "load "+l.ID+" ("+strings.TrimSpace(l.On+" "+l.At)+")")
		}
	}
	for _, w := range t.asked.Windows {
		if slices.Contains(w.Works, a.Work) && (w.Leg == "" || w.Leg == a.Leg) && w.From < to && (w.To == 0 || w.To > from) && w.Kind != "halt" {
			text := w.Kind + " " + w.ID + ", until " + w.Last
			if w.Kind == "closure" {
				text += ", " + w.Opens + " to " + w.Shuts
			}
			out = append(out, text)
		}
	}
	if len(out) == 0 {
		out = []string{"nothing that is on file"}
	}
	return out
}
