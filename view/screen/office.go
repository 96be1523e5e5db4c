package screen

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/job"
	"trenchwright/job/field"
)

// Office is the site on one page, as the records have it: what is done against what is planned, what is used against what was
// bought, and what somebody has to look at, place by place.
type Office struct {
	Records int          `json:"records"`
	Done    []OfficeDone `json:"done"` // of each leg in walking order, the whole run last
	Stock   []OfficeUsed `json:"stock"`
	Untold  []string     `json:"untold"` // of what nobody recorded that any came
	From    string       `json:"from"`   // what is measured between, as understood: days, or records at the server
	To      string       `json:"to"`
	Last    int          `json:"last"`    // the number that the server gave the last record that came from it; 0: none did
	Fault   string       `json:"fault"`   // why one of them cannot be read
	Measure []OfficeSum  `json:"measure"` // what was done between them
	Lists   []OfficeList `json:"lists"`
}

// OfficeDone is how far the work is on one leg.
type OfficeDone struct {
	Leg   string       `json:"leg"` // empty: the whole run
	Key   string       `json:"key"`
	Units int          `json:"units"`
	Long  string       `json:"long"`
	Steps []OfficeStep `json:"steps"` // set, filled, covered, proven
}

// OfficeStep is one step of it.
type OfficeStep struct {
	Name  string `json:"name"`
	Hatch string `json:"hatch"` // as the strip has it
	Done  int    `json:"done"`
	Long  string `json:"long"`
	Next  string `json:"next"` // the first place, in laying order, at which it is not done; empty: none
}

// OfficeUsed is one kind of piece, or the stone of the bed: what the plan takes, what the bill orders, what came, what became of it.
type OfficeUsed struct {
	Piece   string `json:"piece"`
	Planned string `json:"planned"`
	Bought  string `json:"bought"` // by the bill, with spares; empty: it has none
	Came    string `json:"came"`   // NOT CHECKED where nobody recorded that any came
	Used    string `json:"used"`
	Damaged string `json:"damaged"`
	Have    string `json:"have"`
	Short   int    `json:"short"` // what the rest of the run takes beyond that
}

// OfficeSum is one line of the month's measure.
type OfficeSum struct {
	Name  string `json:"name"`
	Count string `json:"count"`
	Long  string `json:"long"`  // empty: it has no length
	Where string `json:"where"`
}

// OfficeList is what somebody has to look at, of one sort.
type OfficeList struct {
	ID    string      `json:"id"`
	Name  string      `json:"name"`
	About string      `json:"about"`
	None  string      `json:"none"` // what is said where nothing is in it
	Rows  []OfficeRow `json:"rows"`
	Open  []string    `json:"open"` // what is not on file for it
}

// OfficeRow is one line of such a list; it leads to its place on the strip.
type OfficeRow struct {
	Place string `json:"place"`
	Key   string `json:"key"`
	Said  string `json:"said"` // the verdict in a word or two
	Text  string `json:"text"`
	By    string `json:"by"`   // whose record it stands on, and when
	Asks  bool   `json:"asks"` // somebody has to do something about it
}

// officeSteps are what is counted of every unit, with the hatch that the strip has for it.
var officeSteps = [...]struct{ name, hatch string }{{"set", "solid"}, {"filled", "level"}, {"covered", "upright"}, {"proven", "crossed"}}

func (v *siteView) office(q *question) Office {
	s := v.is()
	out := Office{Records: s.Records, Done: v.progress(), Stock: v.used(), Measure: []OfficeSum{}, Lists: v.lists()}
	out.Untold = untold(out.Stock)
	v.measureBetween(q, &out)
	return out
}

// progress is how far the work is, leg by leg.
func (v *siteView) progress() []OfficeDone {
	of := map[string]field.LegProgress{}
	for _, p := range v.book.Progress(v.contract()) {
		of[p.Leg] = p
	}
	var out []OfficeDone
	var all field.LegProgress
	for _, i := range v.order {
		p := of[v.plan.Legs[i].Name]
		if p.All.Units == 0 {
			continue
		}
		out = append(out, v.legDone(p))
		for k, to := range stepsOf(&all) {
			one := *stepsOf(&p)[k]
			*to = field.Amount{Units: to.Units + one.Units, Length: to.Length + one.Length, Next: cmp.Or(to.Next, one.Next)}
		}
		all.All.Units += p.All.Units
		all.All.Length += p.All.Length
	}
	return append(out, v.legDone(all))
}

// stepsOf are the steps of officeSteps.
func stepsOf(p *field.LegProgress) [len(officeSteps)]*field.Amount {
	return [len(officeSteps)]*field.Amount{&p.Set, &p.Filled, &p.Covered, &p.Proven}
}

func (v *siteView) legDone(p field.LegProgress) OfficeDone {
	out := OfficeDone{Leg: p.Leg, Units: p.All.Units, Long: v.run(p.All.Length)}
	if p.Leg != "" {
		out.Key = "leg/" + p.Leg
	}
	for k, a := range stepsOf(&p) {
		out.Steps = append(out.Steps, OfficeStep{officeSteps[k].name, officeSteps[k].hatch, a.Units, v.run(a.Length), a.Next})
	}
	return out
}

// run is a length of the run, in metres or feet.
func (v *siteView) run(l measure.Length) string {
	if v.speech.Imperial {
		return measure.Format{System: measure.Imperial, Survey: true, Places: 2}.Length(l)
	}
	return measure.Format{Survey: true, Places: 3}.Length(l)
}

// lists are what somebody has to look at.
func (v *siteView) lists() []OfficeList {
	c := v.contract()
	list := []OfficeList{v.dates(c), v.outOf(c), v.hidden(c), v.wantedReadings(c), v.differing(), v.inspected(), v.calibrations(), v.points(c), v.broken(), v.matters()}
	for i := range list {
		list[i].Rows, list[i].Open = filled(list[i].Rows), filled(list[i].Open)
	}
	return list
}

// differing are two people who measured the same and do not agree.
func (v *siteView) differing() OfficeList {
	out := OfficeList{ID: "differ", Name: "Two people, two readings", About: "both stay; measure once more", None: "No two records of the same thing differ."}
	for _, f := range v.is().Findings {
		if f.ID == "field.readings-differ" || f.ID == "field.facts-differ" {
			out.Rows = append(out.Rows, OfficeRow{f.Where.Place, v.siteKey(f.Where.Place), "cannot say", f.Text, "", true})
		}
	}
	return out
}

// calibrations are readings with an instrument whose calibration had run out, and the instruments of which nobody said when it does.
func (v *siteView) calibrations() OfficeList {
	out := OfficeList{ID: "calibration", Name: "Read with a calibration that had run out", About: "every reading stays", None: "No reading was made with an instrument whose calibration is known to have run out."}
	for _, o := range v.book.Overdue(v.book.RanOut()) {
		r := &o.Readings[0]
		said := "ran out " + r.Due
		if o.Ahead > 0 {
			said = "clock doubtful"
		}
		out.Rows = append(out.Rows, OfficeRow{r.From, v.siteKey(r.From), said, o.String(), r.Person + ", " + r.Day, true})
	}
	for _, f := range v.is().Findings {
		if f.Kind == finding.NotChecked {
			out.Open = append(out.Open, f.Sentence())
		}
	}
	return out
}

// inspected are the inspector's readings beside the contractor's.
func (v *siteView) inspected() OfficeList {
	out := OfficeList{ID: "inspector", Name: "Inspector's readings beside the contractor's", None: "Nothing that an inspector read is recorded."}
	for l := range v.is().Legs {
		for _, u := range v.is().Legs[l].Units {
			one := func(what string, m *field.Measured, text func(measure.Length) string) {
				if m != nil && m.Check != nil {
					out.Rows = append(out.Rows, v.beside(u.Place, what, m, text))
				}
			}
			small := func(l measure.Length) string { return v.small(measure.MM(l)) }
			one("far end", u.End, v.offWords)
			one("gap, left", u.Left, small)
			one("gap, right", u.Right, small)
			one("off the line", u.Line, small)
			one("rock", u.Rock, small)
			for _, of := range u.Levels {
				for i, corner := range [...]string{"start left", "start right", "end left", "end right"} {
					one(v.saying().Level(of.Of)+", "+corner, of.Four[i], func(l measure.Length) string { return v.levelText(l.Metres()) })
				}
			}
		}
	}
	return out
}

// beside is one reading of both.
func (v *siteView) beside(place, what string, m *field.Measured, text func(measure.Length) string) OfficeRow {
	said, mine, theirs := "agree", "cannot say", "cannot say"
	if m.Known {
		mine = text(m.Value)
	}
	if m.Check.Known {
		theirs = text(m.Check.Value)
	}
	switch {
	case !m.Known || !m.Check.Known:
		said = "cannot say"
	case (m.Value - m.Check.Value).Abs() > m.Plus+m.Check.Plus:
		said = "differ"
	}
	row := OfficeRow{place, v.siteKey(place), said, fmt.Sprintf("%s: %s, inspector %s", what, mine, theirs), "", said != "agree"}
	if len(m.Check.Readings) > 0 {
		row.By = v.whose(m.Check.Readings[0].By)
	}
	return row
}

// whose is who made a record, and when by that person's clock.
func (v *siteView) whose(id string) string {
	r, ok := v.book.Record(id)
	if !ok {
		return ""
	}
	return joined(", ", r.Person, moment(r.Made))
}

// moment is a time as people read it.
func moment(made string) string {
	day, hour, _ := strings.Cut(made, "T")
	return joined(" ", day, hour[:min(5, len(hour))])
}

// points are hold and witness points, those that were hidden without a release and those that wait first: by the records, and those of
// the contract of which there is none.
func (v *siteView) points(c *field.Contract) OfficeList {
	out := OfficeList{ID: "points", Name: "Hold and witness points", None: "No hold or witness point is recorded."}
	for _, u := range v.book.Unreleased(c, v.is().Points) {
		row := OfficeRow{Place: u.Places[0], Key: v.siteKey(u.Places[0]), Said: "waits for release", Text: fmt.Sprintf("%s: no release on record for %s, and %s comes next there", v.listed(&u.Point), u.Stretches(), v.stepName(u.Point.Before)), Asks: true}
		if u.Hidden {
			row.Said, row.Text, row.By = "hidden without release", fmt.Sprintf("%s: no release on record for %s, and it was hidden by %s", v.listed(&u.Point), u.Stretches(), v.stepName(u.Point.Before)), v.whose(u.By[0])
		}
		out.Rows = append(out.Rows, row)
	}
	told := map[string]bool{}
	for i := range v.is().Points {
		p := &v.is().Points[i]
		row := OfficeRow{Place: joined(" to ", p.From, p.To), Key: v.siteKey(p.From)}
		listed, on := c.Point(p.Point)
		on, told[p.Point] = on || len(v.job.Rules.Points) == 0, true
		var words []string
		if !on {
			words = append(words, "not on the contract's list")
		}
		for _, n := range p.Notices {
			words = append(words, joined(", ", "notice "+moment(n.Made)+" by "+n.Person, prefixed("to ", n.To), cmp.Or(n.Period, listed.Notice), n.Answer))
		}
		if len(p.Notices) == 0 {
			words = append(words, "no notice recorded")
		}
		if p.Result != "" {
			words = append(words, "inspection: "+p.Result)
		}
		switch {
		case p.Released.Is == field.Yes:
			row.Said = "released"
			row.By = v.whose(p.Released.By[0])
		case p.Done:
			row.Said = "done"
		case len(p.Lapsed) > 0:
			row.Said = "lapsed"
		case p.Released.Is == field.CantSay:
			row.Said = "cannot say"
		case c.Witness(p):
			row.Said = "witness"
		default:
			row.Said = "waits for release"
		}
		if len(p.Releases) > 0 {
			words = append(words, v.book.SayPoint(p))
		}
		row.Asks = row.Said == "lapsed" || row.Said == "waits for release" || row.Said == "cannot say"
		row.Text = p.Point + ": " + strings.Join(words, "; ")
		out.Rows = append(out.Rows, row)
	}
	for i := range v.job.Rules.Points {
		if p := &v.job.Rules.Points[i]; !told[p.Name] {
			out.Rows = append(out.Rows, OfficeRow{Said: "nothing recorded", Text: v.listed(p)})
		}
	}
	for _, f := range job.Missing(v.job) {
		if strings.HasPrefix(f.Where.Path, "rules.points[") {
			out.Open = append(out.Open, f.Text)
		}
	}
	if len(v.job.Rules.Points) == 0 {
		out.Open = append(out.Open, field.NoPoints)
	}
	sorting.By(out.Rows, func(a, b OfficeRow) int { return cmp.Compare(waits(a.Said), waits(b.Said)) })
	return out
}

// listed is a point of the contract in words: what it is, before what, how long its notice runs to whom, who releases it.
func (v *siteView) listed(p *job.Point) string {
	kind := ""
	if p.Kind != "" {
		kind = p.Kind + " point"
	}
	return p.Name + prefixed(": ", joined(", ", kind, prefixed("before ", v.stepName(p.Before)), prefixed("notice ", joined(" to ", p.Notice, p.To)), prefixed("released by ", p.Release)))
}

// prefixed is a text with what goes before it; nothing for no text.
func prefixed(before, text string) string {
	if text == "" {
		return ""
	}
	return before + text
}

func waits(said string) int {
	return slices.Index([]string{"hidden without release", "lapsed", "cannot say", "waits for release", "witness", "nothing recorded", "released", "done"}, said)
}

// broken are units that lie and are damaged.
func (v *siteView) broken() OfficeList {
	out := OfficeList{ID: "broken", Name: "Damaged, and lies", None: "Nothing that lies is recorded as damaged."}
	for _, d := range v.book.Broken() {
		row := OfficeRow{Place: d.Place, Key: v.siteKey(d.Place), Said: "damaged", Text: d.Text, By: v.whose(d.By[0]), Asks: true}
		if d.Damaged.Is == field.CantSay {
			row.Said = "cannot say"
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// matters are nonconformances.
func (v *siteView) matters() OfficeList {
	out := OfficeList{ID: "matters", Name: "Nonconformances", None: "No nonconformance is recorded."}
	for _, m := range v.is().Matters {
		row := OfficeRow{Said: "open", Text: "№" + m.Number, Asks: true}
		if m.Closed.Is == field.Yes {
			row.Said, row.Asks = "closed", false
		}
		for _, r := range v.book.All() {
			if says, ok := field.SaysOf[field.MatterSays](&r); ok && r.Kind == field.Nonconforming && says.Number == m.Number {
				row.Place, row.Key, row.By = r.From, v.siteKey(r.From), v.whose(r.ID)
				row.Text = joined(": ", row.Text, r.Text)
				break
			}
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}
