package screen

import (
	"encoding/json"
	"errors"
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/job/edit"
	"trenchwright/job/planner"
	"trenchwright/job/stamp"
	"trenchwright/place/ground"
	"trenchwright/view/papers"
)

// ErrNotOpen is that a question names a job that lies on this desk no more, or never did: whoever asks opens it again.
var ErrNotOpen = errors.New("this job is not open")

// Desk answers the questions of one screen. What lies on it is a cache only: a new desk answers alike once the job is opened.
// The zero value is an empty desk. It answers one question at a time.
type Desk struct {
	hash     string
	job      job.Job
	surfaces []*ground.Surface
	plan     planner.Plan
	answers  *planner.Answers
	said     map[View]planned // the same plan with all of its sentences in a view
	drafts   map[View]*draft
	sketches planner.Sketch
	dragged  bool // the sketches were opened
	site     *site
}

// question is what all questions may say; each reads what it needs.
type question struct {
	Job        json.RawMessage     `json:"job"`  // JSON, or JSON in a text
	Hash       string              `json:"hash"` // of the job that is asked about
	System     string              `json:"system"`
	Words      string              `json:"words"`
	ID         string              `json:"id"`   // key of a card; of a state: of its job
	Name       string              `json:"name"` // of a table or a stage
	Edits      []edit.Edit         `json:"edits"`
	Snap       *Snap               `json:"snap"`
	Issued     json.RawMessage     `json:"issued"` // an earlier plan, as it was issued or made
	Was        json.RawMessage     `json:"was"`    // an earlier state of the job, whose plan is made for the question
	Before     []Finding           `json:"before"` // what was found before the last change
	Leg        string              `json:"leg"`
	Node       string              `json:"node"`
	At         float64             `json:"at_mm"` // along Leg, from its start
	From       string              `json:"from"`  // a place: a unit, a joint, a node or a chainage
	To         string              `json:"to"`
	Strip      [2]float64          `json:"strip"` // of ticks: from and to
	Step       float64             `json:"step_mm"`
	Height     string              `json:"height"`   // of the instrument, typed
	Rod        string              `json:"rod"`      // how long it is, typed; empty: nobody said
	Of         string              `json:"of"`       // what the rod is held on: formation, bed, pad, underside, invert, top, cover
	Revision   string              `json:"revision"` // that is open
	History    stamp.History       `json:"history"`  // of the job
	Lines      string              `json:"lines"`    // records, one JSON object a line
	More       bool                `json:"more"`     // they come to those that are here already
	Now        string              `json:"now"`      // the moment, RFC 3339 in UTC, for what ends by itself
	Form       string              `json:"form"`     // the record that is being made
	Fields     map[string]string   `json:"fields"`   // what was typed into it
	Rows       []map[string]string `json:"rows"`
	Text       string              `json:"text"`        // in the person's own words
	Corrects   string              `json:"corrects"`    // the record that it takes the place of
	Photos     []string            `json:"photos"`      // SHA-256
	Instrument string              `json:"instrument"`  // what was read with
	Number     int                 `json:"number"`      // of an answer
	Checked    string              `json:"checked"`     // the day of its last check
	Certified  string              `json:"certificate"` // of its calibration
	Due        string              `json:"due"`         // the last day of that
	Plus       string              `json:"plus"`        // how well it is read, each way
	Whole      bool                `json:"whole"`       // of open: the plan's own sentences in this view, too, which has to be made again for them
}

// Snap is how what is dragged is drawn to what is near.
type Snap struct {
	Within float64 `json:"within_m"`
	Grid   float64 `json:"grid_m"` // 0: no grid; of a radius: the step that it is rounded to
}

func (q *question) view() View { return View{System: q.System, Words: q.Words} }

// Ask answers a question with JSON. get gives the bytes of an attachment by its name.
func (d *Desk) Ask(name string, args []byte, get func(string) ([]byte, error)) ([]byte, error) {
	var q question
	if err := json.Unmarshal(args, &q); err != nil {
		return nil, fmt.Errorf("the question %s cannot be read: %w", name, err)
	}
	switch name {
	case "plan":
		return d.planJSON(&q)
	case "paper":
		return d.paperJSON(&q)
	}
	out, err := d.answer(name, &q, get)
	if err != nil {
		return nil, err
	}
	return encode(out), nil
}

// planJSON is the plan itself, as package planner writes it, for papers to be made of: the one of a job, where the question brings
// one.
func (d *Desk) planJSON(q *question) ([]byte, error) {
	if d.hash == "" || q.Hash != "" && q.Hash != d.hash {
		return nil, ErrNotOpen
	}
	if len(q.Job) > 0 {
		if j, _ := job.FromJSON(written(q.Job)); job.Hash(j) != d.hash {
			return nil, ErrNotOpen
		}
	}
	return json.Marshal(d.plan)
}

// paperJSON is a paper that somebody chose by a place, a day or a number, as data for the writer of papers: of the job in its own words,
// with the records that are here. Which state of the job it is of the writer says.
func (d *Desk) paperJSON(q *question) ([]byte, error) {
	switch {
	case d.hash == "" || q.Hash != "" && q.Hash != d.hash:
		return nil, ErrNotOpen
	case d.site == nil:
		return nil, ErrNoRecords
	}
	made, err := papers.Make(papers.Input{Job: d.job, Plan: d.plan, Answers: d.answers, Records: d.site.book.All(), Now: d.site.now},
		papers.Choice{Kind: q.Name, Leg: q.Leg, Place: q.Fields["place"], Day: q.Fields["day"], Number: q.Fields["number"], Ask: q.Fields["ask"], By: q.Fields["by"]})
	if err != nil {
		return nil, err
	}
	return json.Marshal(made)
}

func (d *Desk) answer(name string, q *question, get func(string) ([]byte, error)) (any, error) {
	switch name {
	case "open":
		return d.open(q, get)
	case "outline":
		return outline(q, get)
	case "state", "earlier":
		return states(name, q), nil
	}
	if name == "edit" && len(q.Job) > 0 { // it needs no plan
		return d.editedJob(q)
	}
	if d.hash == "" || q.Hash != "" && q.Hash != d.hash {
		return nil, ErrNotOpen
	}
	on := d.draft(q.view())
	if out, is, err := d.sited(name, q, on); is {
		return out, err
	}
	switch answers := d.asked(on.view); name {
	case "table":
		return on.table(q.Name)
	case "findings":
		return on.findings(), nil
	case "card":
		return on.make(q.ID, answers)
	case "across":
		return on.across(q.Leg, q.At, answers)
	case "along":
		out, err := on.along(q.Name)
		if err == nil && d.site != nil {
			d.siteView(on).shown(&out)
		}
		return out, err
	case "here":
		return on.here(q, answers)
	case "moments":
		return d.moments(q, on, answers)
	case "moment":
		return d.moment(q, on, answers)
	case "between":
		return on.between(q.From, q.To, answers)
	case "rod":
		return on.rod(q.Height, q.Rod, q.Of, q.Leg, answers)
	case "ticks":
		return on.ticks(q.Strip[0], q.Strip[1], q.Step)
	case "fresh":
		return on.fresh(q.Before), nil
	case "differ":
		return d.differs(q, on, get)
	case "would":
		return d.would(q, on, get)
	case "sketch":
		return d.sketch(q, on)
	case "edit":
		return d.edited(q, on), nil
	default:
		return nil, fmt.Errorf("there is no question %q", name)
	}
}

// written is the JSON of a job that a question brings, whether it stands in a text or not.
func written(brought json.RawMessage) []byte {
	var text string
	if json.Unmarshal(brought, &text) == nil {
		return []byte(text)
	}
	return brought
}

// open plans a job and keeps the plan. A job with faults is opened as well: they are its findings.
func (d *Desk) open(q *question, get func(string) ([]byte, error)) (Screen, error) {
	j, faults := job.FromJSON(written(q.Job))
	if faults.Any(finding.Fault) {
		p := planner.Make(job.Job{Format: job.Format, System: j.System, Words: j.Words})
		p.Job.ID, p.Job.Name, p.Job.Hash, p.Findings = j.ID, j.Name, job.Hash(j), faults
		*d = Desk{hash: p.Job.Hash, job: j, plan: p}
		return d.draft(q.view()).screen(), nil
	}
	hash := job.Hash(j)
	if d.hash != hash {
		surfaces, err := planner.Surfaces(j, get)
		if err != nil {
			return Screen{}, err
		}
		*d = Desk{hash: hash, job: j, surfaces: surfaces}
		d.plan, d.answers = planner.Ask(j, surfaces...)
	}
	if q.Whole {
		d.speak(q.view().filled(&d.plan))
	}
	return d.draft(q.view()).screen(), nil
}

// planned is a plan with what answers come from.
type planned struct {
	plan    planner.Plan
	answers *planner.Answers
}

// speak makes the plan again with its sentences in a view.
func (d *Desk) speak(v View) {
	if _, done := d.said[v]; done || v == viewOf(&d.plan) {
		return
	}
	if d.said == nil {
		d.said = map[View]planned{}
	}
	p, a := planner.AskIn(planner.View{System: job.System(v.System), Words: job.Words(v.Words)}, d.job, d.surfaces...)
	d.said[v] = planned{p, a}
	delete(d.drafts, v)
}

// asked is where answers in a view come from.
func (d *Desk) asked(v View) *planner.Answers {
	if s, ok := d.said[v]; ok {
		return s.answers
	}
	return d.answers
}

// outline is the screen of a job whose legs are laid out and no more: something to look at while the plan is made, in a small
// part of its time. Nothing is kept of it; where the job cannot be laid out, it is what open says.
func outline(q *question, get func(string) ([]byte, error)) (Screen, error) {
	j, faults := job.FromJSON(written(q.Job))
	if faults.Any(finding.Fault) {
		return new(Desk).open(q, get)
	}
	surfaces, err := planner.Surfaces(j, get)
	if err != nil {
		return Screen{}, err
	}
	p, _ := new(planner.Sketch).Lay(j)
	p.Job.Hash, p.Job.Owner = job.Hash(j), j.Owner
	if j.Revision != nil {
		p.Job.Revision = j.Revision.ID
	}
	d := newDraft(p, j, surfaces, q.view())
	d.early = true
	return d.screen(), nil
}

// draft is the plan as a view shows it.
func (d *Desk) draft(v View) *draft {
	v = v.filled(&d.plan)
	if d.drafts == nil {
		d.drafts = map[View]*draft{}
	}
	if d.drafts[v] == nil {
		p := d.plan
		if s, ok := d.said[v]; ok {
			p = s.plan
		}
		d.drafts[v] = newDraft(p, d.job, d.surfaces, v)
	}
	return d.drafts[v]
}
