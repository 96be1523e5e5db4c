package screen

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// notRecorded stands where nobody recorded that any came.
const notRecorded = "NOT CHECKED"

// untold says of what nobody recorded that any came, and whom to ask.
func untold(used []OfficeUsed) []string {
	out := []string{}
	for _, u := range used {
		if u.Came == notRecorded {
			out = append(out, "NOT CHECKED: no delivery of "+u.Piece+" on file. Ask: whoever takes loads in")
		}
	}
	return out
}

// used is what became of each kind of piece and of the stone of the bed: kinds that the plan lays, in the order of the bill, then what
// has a mark of its own.
func (v *siteView) used() []OfficeUsed {
	planned, bought, want := v.placed(), v.bought(), v.wanted()
	there := map[string]*lying{}
	lies := v.lies()
	var names []string
	for i := range v.plan.Bill {
		if name := v.billName(&v.plan.Bill[i]); name != "" {
			names = append(names, name)
		}
	}
	for i := range lies {
		name := v.saying().Piece(lies[i].Piece)
		there[name] = &lies[i]
		if !slices.Contains(names, name) && (lies[i].Mark == "" || lies[i].known) {
			names = append(names, name)
		}
	}
	out := []OfficeUsed{}
	for _, name := range names {
		r := OfficeUsed{Piece: name, Planned: number(planned[name]), Bought: number(bought[name]), Came: notRecorded, Have: notRecorded, Used: "0", Damaged: "0"}
		if y := there[name]; y != nil {
			r.Used, r.Damaged = strconv.Itoa(y.Used), strconv.Itoa(y.Damaged)
			if y.known {
				r.Came, r.Have, r.Short = strconv.Itoa(y.Came), strconv.Itoa(y.have()), max(0, want[name]-y.have())
			}
		}
		out = append(out, r)
	}
	return append(out, v.goods()...)
}

// number is a count; none is left out.
func number(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// placed is how many places take one of each kind, whole or to be cut.
func (v *siteView) placed() map[string]int {
	out := map[string]int{}
	for i := range v.plan.Units {
		u := &v.plan.Units[i]
		out[v.saying().Piece(field.Piece{Supply: u.Supply, What: "unit", Length: measure.Length(u.Stock)})]++
	}
	for i := range v.plan.Covers {
		if u, ok := v.unitAt[v.plan.Covers[i].Unit]; ok {
			out[v.saying().Piece(field.Piece{Supply: v.plan.Units[u].Supply, What: "cover", Length: measure.Length(v.plan.Covers[i].Stock)})]++
		}
	}
	return out
}

// goods are the stone of the bed and what else is neither units nor covers: what the plan takes of it in place beside what came, load by
// load and loose.
func (v *siteView) goods() []OfficeUsed {
	var out []OfficeUsed
	came := v.is().Goods
	if stone, is := v.stone(); is {
		for i := range came {
			if came[i].What == "stone" {
				stone.Came, stone.Have = came[i].Say(v.speech), loose
			}
		}
		out = append(out, stone)
	}
	for i := range came {
		g := &came[i]
		if g.What == "stone" && len(out) > 0 {
			continue
		}
		row := OfficeUsed{Piece: g.What, Came: g.Say(v.speech), Have: loose}
		if m3, ok := v.plan.InPlace(g.What); ok {
			row.Piece, row.Planned = g.What+" in place", v.speech.Volume(measure.Volume(m3))
		}
		out = append(out, row)
	}
	return out
}

// loose stands where loads and what is in place cannot be set off against each other.
const loose = "cannot say"

// stone is the stone of the bed, in place: what the plan takes, and what of it lies where the bed is levelled or a unit stands.
func (v *siteView) stone() (OfficeUsed, bool) {
	if v.plan.Dig == nil || v.plan.Dig.Total.Stone == 0 {
		return OfficeUsed{}, false
	}
	s, laid := v.is(), 0.0
	for i := range v.plan.Dig.Legs {
		d := &v.plan.Dig.Legs[i]
		leg := v.legs[d.Leg]
		for u := v.first[leg]; u < v.first[leg+1]; u++ {
			one := v.unitState(s, leg, u)
			bedded := slices.ContainsFunc(one.Levels, func(l field.LevelState) bool { return l.Of == "bed" || l.Of == "pad" })
			row := v.draft.rows[leg] + u - v.first[leg]
			if (one.Set.Is == field.Yes || bedded) && row+1 < v.draft.rows[leg+1] {
				laid += stoneTo(d.Running, v.plan.SetOut[row+1].Chainage) - stoneTo(d.Running, v.plan.SetOut[row].Chainage)
			}
		}
	}
	volume := func(m3 float64) string { return v.speech.Volume(measure.Volume(m3)) }
	name := "stone of the bed in place"
	if v.speech.US {
		name = v.speech.Word(wording.Bed) + " in place"
	}
	return OfficeUsed{Piece: name, Planned: volume(v.plan.Dig.Total.Stone), Came: notRecorded, Used: volume(laid), Have: notRecorded}, true
}

// stoneTo is the stone from the start of a leg to a chainage, between the places of its running curve.
func stoneTo(running []planner.DigRunning, at measure.MM) float64 {
	for i := 1; i < len(running); i++ {
		a, b := &running[i-1], &running[i]
		if at <= b.At && b.At > a.At {
			t := max(0, mm(at-a.At)/mm(b.At-a.At))
			return a.Stone + float64(t*(b.Stone-a.Stone))
		}
	}
	if len(running) == 0 {
		return 0
	}
	return running[len(running)-1].Stone
}

// dates are the dates of the programme that the job states, held against what was done by them.
func (v *siteView) dates(c *field.Contract) OfficeList {
	out := OfficeList{ID: "dates", Name: "Against the dates of the programme", About: "by the days of those who recorded it"}
	if len(v.job.Rules.Dates) == 0 {
		out.Open = append(out.Open, "NOT CHECKED: no dates on file. Ask: whoever keeps the programme")
		return out
	}
	now, _, _ := strings.Cut(v.now, "T")
	progress := v.book.Progress(c)
	for _, d := range v.job.Rules.Dates {
		row := OfficeRow{Place: "the run", Text: joined(", ", d.Step+" by "+d.By, job.SourceFrom(v.job, cmp.Or(d.From, v.job.Rules.From), job.Entry[string]{Known: true}))}
		if d.Leg != "" {
			row.Place, row.Key = "leg "+d.Leg, "leg/"+d.Leg
		}
		done, of := v.stepDone(progress, d.Leg, d.Step)
		then, _ := v.stepDone(v.book.Upto(func(r *field.Record) bool { return dayOfRecord(r) <= d.By }).Progress(c), d.Leg, d.Step)
		switch {
		case of == 0:
			row.Said = "cannot say"
			row.Text += ": nothing is laid there by the plan"
		case done == of && then == of:
			row.Said = "meets the stated date"
			row.Text += fmt.Sprintf(": all %d were done by then", of)
		case now > d.By:
			row.Said, row.Asks = "does not meet it", true
			row.Text += fmt.Sprintf(": %d of %d were done by then, %d are now", then, of, done)
		default:
			row.Said = "not due yet"
			row.Text += fmt.Sprintf(": %d of %d are done, %d are left", done, of, of-done)
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// stepDone is how many units of a leg, or of the run, have come to a step, and how many there are.
func (v *siteView) stepDone(of []field.LegProgress, leg, step string) (done, all int) {
	i := slices.IndexFunc(officeSteps[:], func(s struct{ name, hatch string }) bool { return s.name == step })
	for k := range of {
		if p := &of[k]; i >= 0 && (leg == "" || p.Leg == leg) {
			done, all = done+stepsOf(p)[i].Units, all+p.All.Units
		}
	}
	return done, all
}
