package planner

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/programme"
)

// timing is the question that a job's programme asks: one line for each work on each leg.
type timing struct {
	job      *job.Job
	plan     *Plan
	asked    *job.Programme
	problem  programme.Problem
	lines    []timingLine
	base     [][]programme.Span // by gang, without the hours of closures
	extra    [][]programme.Span // hours of closures
	closed   map[int]bool       // activities that go on in a closure
	findings finding.List
}

// timingLine is a line of the problem with what it is counted in.
type timingLine struct {
	leg, work, of string // of: m3, no, m; empty: nobody knows
	why           string // why it has no dates; empty: it has
}

// horizon is as far as a calendar is worked out.
const horizon = 4 * 366 * programme.Day

// askProgramme puts the question together from what the plan says there is to do.
func askProgramme(j *job.Job, p *Plan) *timing {
	t := &timing{job: j, plan: p, asked: j.Programme, closed: map[int]bool{}}
	start, _ := programme.ReadDate(j.Programme.Start)
	t.problem = programme.Problem{Start: start, Words: j.Speech(), Where: finding.Where{Path: "programme"}}
	t.gangs()
	for i := range p.Legs {
		if p.Legs[i].Verdict == "found" {
			t.leg(&p.Legs[i])
		}
	}
	t.hours()
	t.loads()
	t.open()
	t.buffers()
	return t
}

func (t *timing) say(id string, kind finding.Kind, where finding.Where, text, ask, try string) {
	t.findings = append(t.findings, finding.Finding{ID: "programme." + id, Kind: kind, Where: where, Text: text, Ask: ask, Try: try})
}

// gangs brings every gang with its calendar and what it does in an hour.
func (t *timing) gangs() {
	for i, g := range t.asked.Gangs {
		one := programme.Gang{Name: g.ID}
		shift := 0
		for _, c := range t.asked.Calendars {
			if c.ID == g.Calendar {
				var week programme.Weekly
				week, shift = weekly(&c)
				one.Calendar = week.Between(t.problem.Start, t.problem.Start+horizon)
			}
		}
		for k, r := range g.Does {
			speed, err := job.ReadRate(r.Rate.Value)
			switch {
			case !r.Rate.Known || err != nil:
			case speed.PerShift && shift == 0:
				t.say("shift", finding.NotChecked, finding.Where{Path: fmt.Sprintf("programme.gangs[%d].does[%d].rate", i, k)}, fmt.Sprintf("NOT CHECKED: no length of a shift on file that all shifts of calendar %s have. Ask: the site engineer", g.Calendar), "the site engineer", "")
			case speed.PerShift:
				one.Rates = append(one.Rates, programme.Rate{Work: r.Work, PerHour: speed.Amount * 3600 / float64(shift)})
			default:
				one.Rates = append(one.Rates, programme.Rate{Work: r.Work, PerHour: speed.Amount})
			}
		}
		t.problem.Gangs = append(t.problem.Gangs, one)
		t.base, t.extra = append(t.base, one.Calendar), append(t.extra, nil)
	}
}

// weekly is a calendar as the solver has it, and the seconds of a shift where all of them are alike; 0: they are not.
func weekly(c *job.Calendar) (programme.Weekly, int) {
	var out programme.Weekly
	long := -1
	for _, s := range c.Shifts {
		from, _ := job.ReadClock(s.From)
		to, _ := job.ReadClock(s.To)
		if to <= from {
			to += int(programme.Day)
		}
		for _, d := range s.Days {
			if at := slices.Index([]string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}, d); at >= 0 {
				out.Shifts[at] = append(out.Shifts[at], programme.Span{From: programme.Moment(from), To: programme.Moment(to)})
			}
		}
		if long >= 0 && long != to-from {
			long = 0
		} else if long < 0 {
			long = to - from
		}
	}
	for _, o := range c.Off {
		out.Off = append(out.Off, days(o.From, o.To))
	}
	return out, max(long, 0)
}

// days are the hours from the first day on to the end of the last; of the first one where no last one is written.
func days(first, last string) programme.Span {
	from, _ := programme.ReadDate(first)
	to, err := programme.ReadDate(last)
	if err != nil {
		to = from
	}
	return programme.Span{From: from, To: to + programme.Day}
}

// timedPart is a stretch of a leg.
type timedPart struct{ from, to measure.Length }

// leg brings the lines of one leg.
func (t *timing) leg(l *Leg) {
	parts := t.parts(l)
	if len(parts) == 0 {
		return
	}
	before := -1
	for _, w := range t.asked.Works {
		line := programme.Line{Leg: l.Name, Work: w.Work, Turn: len(t.problem.Lines)}
		one := timingLine{leg: l.Name, work: w.Work}
		gangs := t.doing(w.Work, l.Name)
		one.of, one.why = t.counted(w.Work, l.Name, gangs)
		var done func(measure.Length, bool, bool) float64
		var knots []measure.Length
		if one.of != "" {
			done, knots = t.amount(w.Work, one.of, l)
			if done == nil {
				one.why = "NOT CHECKED: no volume of " + w.Work + " of leg " + l.Name + " on file, as no dig was computed for it. Ask: the surveyor"
			}
		}
		for k, p := range parts {
			a := programme.Activity{Name: fmt.Sprintf("%s of %s, %s to %s", w.Work, l.Name, t.along(p.from), t.along(p.to)), From: p.from, To: p.to}
			if done != nil {
				a.Content = content(p, knots, func(x measure.Length) float64 { return done(x, k == 0 && x == p.from, k == len(parts)-1 && x == p.to) })
			}
			line.Activities = append(line.Activities, len(t.problem.Activities))
			t.problem.Activities = append(t.problem.Activities, a)
		}
		line.Ways = t.ways(gangs, l, len(parts))
		t.turn(&line)
		t.problem.Lines, t.lines = append(t.problem.Lines, line), append(t.lines, one)
		if before >= 0 {
			wait, _ := job.ReadHours(w.Wait)
			lag, _ := job.ReadHours(w.Lag)
			t.problem.Follows = append(t.problem.Follows, programme.Follow{Before: before, After: len(t.problem.Lines) - 1, Behind: min(w.Behind, parts[len(parts)-1].to-parts[0].from), Wait: programme.Moment(wait), Work: programme.Moment(lag)})
		}
		before = len(t.problem.Lines) - 1
	}
}

// along is a chainage as activities are named by it: to the hundredth of a metre or a foot.
func (t *timing) along(at measure.Length) string {
	f := measure.Format{Survey: true, Places: 2}
	if t.job.System == job.Imperial {
		f.System = measure.Imperial
	}
	return f.Length(at)
}

// parts cuts a leg into stretches of whole units, no longer than is asked for, and where a window begins or ends.
func (t *timing) parts(l *Leg) []timedPart {
	var cuts []measure.Length
	var from, to measure.Length
	first := true
	for _, u := range t.plan.Units {
		if u.Leg != l.Name {
			continue
		}
		start, end := measure.Length(u.Chainage), measure.Length(u.Chainage)+measure.Length(u.Length)
		if first {
			cuts, first = append(cuts, start), false
			from = start
		}
		if t.asked.Stretch > 0 && end-from > t.asked.Stretch && start > from {
			cuts, from = append(cuts, start), start
		}
		to = end
	}
	if first {
		return nil
	}
	for _, w := range t.asked.Windows {
		for _, x := range [2]measure.Length{w.From, w.To} {
			if w.Leg == l.Name && x > cuts[0] && x < to {
				cuts = append(cuts, x)
			}
		}
	}
	cuts = append(cuts, to)
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var out []timedPart
	for k := 1; k < len(cuts); k++ {
		out = append(out, timedPart{cuts[k-1], cuts[k]})
	}
	return out
}

// doing are the gangs that do a work on a leg.
func (t *timing) doing(work, leg string) []int {
	var out []int
	for i, g := range t.asked.Gangs {
		does := slices.ContainsFunc(g.Does, func(r job.Rate) bool { return r.Work == work })
		if does && (len(g.Legs) == 0 || slices.Contains(g.Legs, leg)) {
			out = append(out, i)
		}
	}
	return out
}

// counted is what a work is counted in by all that do it, or why it has no dates.
func (t *timing) counted(work, leg string, gangs []int) (of, why string) {
	if len(gangs) == 0 {
		return "", "NOT CHECKED: no gang on file that does " + work + " on leg " + leg + ". Ask: the site engineer"
	}
	for _, g := range gangs {
		for _, r := range t.asked.Gangs[g].Does {
			if r.Work != work {
				continue
			}
			speed, err := job.ReadRate(r.Rate.Value)
			switch {
			case !r.Rate.Known || err != nil:
				return "", "NOT CHECKED: no rate of " + work + " of gang " + t.asked.Gangs[g].ID + " on file. Ask: the site engineer"
			case of != "" && of != speed.Of:
				return "", "NOT CHECKED: no rates of " + work + " on file that are counted alike: one gang in " + of + ", another in " + speed.Of + ". Ask: the site engineer"
			}
			of = speed.Of
		}
	}
	return of, ""
}

// amount is how much of a work there is up to a chainage, with the chainages at which that bends; nil: nobody knows. What belongs to an
// end of the leg counts with the stretch beside it.
func (t *timing) amount(work, of string, l *Leg) (func(x measure.Length, first, last bool) float64, []measure.Length) {
	var xs []measure.Length
	var ys []float64
	switch of {
	case "m":
		return func(x measure.Length, _, _ bool) float64 { return x.Metres() }, nil
	case "no":
		count := 0.0
		covers := map[string]int{}
		for _, c := range t.plan.Covers {
			covers[c.Unit]++
		}
		for _, u := range t.plan.Units {
			if u.Leg == l.Name {
				xs, ys = append(xs, measure.Length(u.Chainage)), append(ys, count)
				count++
				if work == "cover" {
					count += float64(covers[u.Mark] - 1)
				}
				xs, ys = append(xs, measure.Length(u.Chainage)+measure.Length(u.Length)), append(ys, count)
			}
		}
	default:
		if t.plan.Dig == nil {
			return nil, nil
		}
		for _, d := range t.plan.Dig.Legs {
			if d.Leg != l.Name {
				continue
			}
			for _, r := range d.Running {
				xs = append(xs, measure.Length(r.At))
				ys = append(ys, map[string]float64{"dig": r.Dug, "bed": r.Stone, "fill": r.Fill}[work])
			}
		}
	}
	if len(xs) < 2 {
		return nil, nil
	}
	n := len(xs) - 1
	return func(x measure.Length, first, last bool) float64 {
		switch {
		case first || x <= xs[0]:
			return ys[0]
		case last || x >= xs[n]:
			return ys[n]
		}
		k, _ := slices.BinarySearch(xs, x)
		if xs[k] == x {
			return ys[k]
		}
		share := float64(x-xs[k-1]) / float64(xs[k]-xs[k-1])
		return ys[k-1] + float64(share*(ys[k]-ys[k-1]))
	}, xs
}

// content is what there is to do along a stretch.
func content(p timedPart, knots []measure.Length, done func(measure.Length) float64) []programme.Content {
	out := []programme.Content{{At: p.from, Done: done(p.from)}}
	for _, x := range knots {
		if last := &out[len(out)-1]; x > last.At && x < p.to {
			out = append(out, programme.Content{At: x, Done: max(done(x), last.Done)})
		}
	}
	return append(out, programme.Content{At: p.to, Done: max(done(p.to), out[len(out)-1].Done)})
}

// ways are those in which gangs may work a leg of n stretches: each of them alone from the end where it begins, and one from either end
// until they meet.
func (t *timing) ways(gangs []int, l *Leg, n int) []programme.Way {
	var out []programme.Way
	var low, high []int
	for _, g := range gangs {
		begins := t.asked.Gangs[g].Begins
		if begins == "" {
			begins = choose(l.LaidFrom == "" || l.LaidFrom == l.From, "low", "high")
		}
		if begins != "high" {
			out, low = append(out, programme.Way{Up: g, Down: -1, Split: n}), append(low, g)
		}
		if begins != "low" {
			out, high = append(out, programme.Way{Up: -1, Down: g}), append(high, g)
		}
	}
	step := max(1, (n-1)/30) // more meeting points than that are not tried
	for _, a := range low {
		for _, b := range high {
			for split := 1; split < n && a != b; split += step {
				out = append(out, programme.Way{Up: a, Down: b, Split: split})
			}
		}
	}
	if len(out) == 0 {
		out = []programme.Way{{Up: 0, Down: -1, Split: n}}
	}
	return out
}

func choose[T any](first bool, a, b T) T {
	if first {
		return a
	}
	return b
}

// turn lets works of a leg that may go either way, each by one gang, go the same way.
func (t *timing) turn(line *programme.Line) {
	either := func(l *programme.Line) bool {
		return len(l.Ways) == 2 && l.Ways[0].Down < 0 && l.Ways[1].Up < 0 && l.Ways[0].Up == l.Ways[1].Down
	}
	line.Turn = 0
	for i := range t.problem.Lines {
		o := &t.problem.Lines[i]
		if o.Leg == line.Leg && either(o) && either(line) {
			line.Turn = o.Turn
			return
		}
		line.Turn = max(line.Turn, o.Turn+1)
	}
}

// hours are the windows in which activities may go on.
func (t *timing) hours() {
	for i := range t.problem.Lines {
		l := &t.problem.Lines[i]
		noticed, bare := false, false
		for _, a := range l.Activities {
			act := &t.problem.Activities[a]
			var notices, closures []programme.Span
			for _, w := range t.asked.Windows {
				if !slices.Contains(w.Works, l.Work) || w.Leg != "" && w.Leg != l.Leg || w.From >= act.To || w.To > 0 && w.To <= act.From {
					continue
				}
				switch w.Kind {
				case "notice":
					notices = append(notices, noticeHours(&w))
				case "closure":
					closures = append(closures, closureHours(&w)...)
				case "halt":
					act.Not = append(act.Not, days(w.First, w.Last))
				}
			}
			noticed, bare = noticed || notices != nil, bare || notices == nil
			t.only(a, l, notices, closures)
		}
		if l.Work == "dig" && bare && (noticed || t.anyNotice()) {
			t.say("no-notice", finding.NotChecked, finding.Where{Leg: l.Leg, Path: "programme.windows"}, "NOT CHECKED: no notice on file for all of the dig of leg "+l.Leg+". Ask: the owners of buried services", "the owners of buried services", "")
		}
	}
	t.within()
	for g := range t.problem.Gangs {
		if t.extra[g] != nil {
			gang := &t.problem.Gangs[g]
			gang.Calendar = programme.Together(gang.Calendar, t.extra[g])
			t.say("rest", finding.Attention, finding.Where{Path: fmt.Sprintf("programme.gangs[%d]", g)}, "gang "+gang.Name+" works in the hours of a closure, and by its calendar before and behind it", "whoever answers for working hours", "hold rest between shifts against local rules, or give the closure to another gang")
		}
	}
}

// within keeps whatever is in no closure within the calendars of those that may do it, where one of them comes to a closure.
func (t *timing) within() {
	for i := range t.problem.Lines {
		l := &t.problem.Lines[i]
		var base []programme.Span
		comes := false
		for g := range t.extra {
			if slices.ContainsFunc(l.Ways, func(w programme.Way) bool { return w.Up == g || w.Down == g }) {
				base = programme.Together(base, t.base[g])
				comes = comes || t.extra[g] != nil
			}
		}
		for _, a := range l.Activities {
			act := &t.problem.Activities[a]
			switch {
			case !comes || t.closed[a]:
			case act.Only == nil:
				act.Only = base
			default:
				act.Only = programme.Both(act.Only, base)
			}
		}
	}
}

func (t *timing) anyNotice() bool {
	return slices.ContainsFunc(t.asked.Windows, func(w job.TimeWindow) bool { return w.Kind == "notice" })
}

// only holds an activity within notices and closures. In a closure people come in its hours, whatever their calendar says; all else that
// they do stays within that.
func (t *timing) only(a int, l *programme.Line, notices, closures []programme.Span) {
	act := &t.problem.Activities[a]
	all := []programme.Span{{From: t.problem.Start, To: t.problem.Start + horizon}}
	if notices != nil {
		all = programme.Together(notices, nil)
		act.Only = all
	}
	gangs := map[int]bool{}
	for _, w := range l.Ways {
		for _, g := range [2]int{w.Up, w.Down} {
			if g >= 0 {
				gangs[g] = true
			}
		}
	}
	if closures != nil {
		t.closed[a] = true
		act.Only = programme.Both(all, programme.Together(closures, nil))
		for g := range t.extra {
			if gangs[g] {
				t.extra[g] = append(t.extra[g], act.Only...)
			}
		}
	}
}

// noticeHours are from when the lead has passed until the end of the last day. The day on which it was given does not count.
func noticeHours(w *job.TimeWindow) programme.Span {
	given, _ := programme.ReadDate(w.Given)
	for left := w.Lead; left > 0; {
		given += programme.Day
		if d := given.Weekday(); d != "Sat" && d != "Sun" {
			left--
		}
	}
	if w.Lead > 0 {
		given += programme.Day
	}
	last, _ := programme.ReadDate(w.Last)
	return programme.Span{From: given, To: last + programme.Day}
}

// closureHours are the same hours of every day from the first to the last.
func closureHours(w *job.TimeWindow) []programme.Span {
	all := days(w.First, w.Last)
	opens, _ := job.ReadClock(w.Opens)
	shuts, _ := job.ReadClock(w.Shuts)
	if shuts <= opens {
		shuts += int(programme.Day)
	}
	var out []programme.Span
	for day := all.From; day < all.To; day += programme.Day {
		out = append(out, programme.Span{From: day + programme.Moment(opens), To: day + programme.Moment(shuts)})
	}
	return out
}

// line is that of a work on a leg; -1: there is none.
func (t *timing) line(work, leg string) int {
	return slices.IndexFunc(t.lines, func(l timingLine) bool { return l.work == work && l.leg == leg })
}

// loads are what stretches wait for.
func (t *timing) loads() {
	for _, l := range t.asked.Loads {
		i := t.line(l.Work, l.Leg)
		if i < 0 {
			continue
		}
		acts := t.problem.Lines[i].Activities
		from, to := t.problem.Activities[acts[0]].From, t.problem.Activities[acts[len(acts)-1]].To
		if l.To > 0 {
			to = min(to, l.To)
		}
		on, _ := programme.ReadDate(l.On)
		at, _ := job.ReadClock(l.At)
		if from = max(from, l.From); from < to {
			t.problem.Gates = append(t.problem.Gates, programme.Gate{Name: "load " + l.ID, Line: i, From: from, To: to, At: on + programme.Moment(at)})
		}
	}
}

// open is the limit of what may be open: from the dig of a stretch to its fill.
func (t *timing) open() {
	if !t.asked.Open.Known {
		return
	}
	out := &programme.Open{Most: t.asked.Open.Value}
	missing := ""
	for i, l := range t.lines {
		k := t.line("fill", l.leg)
		if l.work != "dig" {
			continue
		}
		if k < 0 || t.lines[k].why != "" || l.why != "" {
			missing = l.leg
			continue
		}
		for n, a := range t.problem.Lines[i].Activities {
			out.Pairs = append(out.Pairs, programme.OpenPair{Opens: a, Closes: t.problem.Lines[k].Activities[n]})
		}
	}
	if missing != "" {
		t.say("open", finding.NotChecked, finding.Where{Path: "programme.open", Leg: missing}, "NOT CHECKED: no dates on file of both dig and fill of leg "+missing+", which the limit of what is open at once needs. Ask: the site engineer", "the site engineer", "")
	}
	t.problem.Open = out
}

// buffers that are longer than every leg are slips.
func (t *timing) buffers() {
	longest := measure.Length(0)
	for i := range t.plan.Legs {
		longest = max(longest, measure.Length(t.plan.Legs[i].NodeLength))
	}
	for i, w := range t.asked.Works {
		if w.Behind > longest && longest > 0 {
			t.findings = append(t.findings, finding.Finding{ID: "programme.buffer", Kind: finding.Fault, Where: finding.Where{Path: fmt.Sprintf("programme.works[%d].behind", i)},
				Text:  t.job.Speech().Say("%s keeps %s behind the work before it, and the longest leg is %s long", w.Work, wording.Far(w.Behind), wording.Far(longest)),
				Limit: t.along(longest), Value: t.along(w.Behind), Try: "a buffer that is shorter than the run"})
		}
	}
}

// units are the first and the last place of a stretch.
func (t *timing) places(leg string, from, to measure.Length) (first, last string) {
	for _, u := range t.plan.Units {
		at, end := measure.Length(u.Chainage), measure.Length(u.Chainage)+measure.Length(u.Length)
		if u.Leg == leg && end > from && at < to {
			if first == "" {
				first = u.Mark
			}
			last = u.Mark
		}
	}
	return first, last
}

// told sorts findings as they are told.
func (t *timing) told() finding.List {
	sorting.By(t.findings, func(a, b finding.Finding) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), strings.Compare(a.Where.Path, b.Where.Path), strings.Compare(a.Where.Leg, b.Where.Leg), strings.Compare(a.Text, b.Text))
	})
	return t.findings
}
