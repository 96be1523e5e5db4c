package field

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
)

// Contract is what a job asks of what is recorded: limits with where they come from, how often something is measured, and what has to
// be on record before something is hidden. Nothing in it has a default.
type Contract struct {
	limits   map[string]Limit
	steps    []job.Step
	readings []job.ReadingRule
	points   []job.Point
	supplies []string
	named    bool // the job says what it wants before its steps
	entries  []plannedEntry
	source   func(document string) string
	speech   wording.Speech
}

// Limit is a figure that something measured is held against.
type Limit struct {
	Known  bool           `json:"known"`
	Least  measure.Length `json:"least"`
	Most   measure.Length `json:"most"`
	Source string         `json:"source"` // where it is written
	Ask    string         `json:"ask"`    // whom to ask where there is none
	None   string         `json:"none"`   // what there is none of
}

const owner = "the owner"

// Asks is what a job asks.
func Asks(j job.Job) *Contract {
	r := &j.Rules
	c := &Contract{limits: map[string]Limit{}, steps: r.Steps, readings: r.Readings, points: r.Points, named: len(r.Steps) > 0, speech: j.Speech()}
	c.source = func(document string) string {
		if document == "" {
			document = r.From
		}
		return job.SourceFrom(j, document, job.Entry[string]{Known: true, From: document})
	}
	for i := range j.Supplies {
		c.supplies = append(c.supplies, j.Supplies[i].ID)
	}
	each := func(of, what string, e job.Entry[measure.Length]) {
		c.limits[of] = Limit{Known: e.Known, Least: -e.Value, Most: e.Value, Source: job.SourceFrom(j, r.From, e), Ask: owner, None: what}
	}
	each("formation", "tolerance for the level of the formation", r.FormationTol)
	each("bed", "tolerance for the level of the bed", r.BedTol)
	each("pad", "tolerance for the level of pads", r.BedTol)
	each("wall", "tolerance for the level of wall tops", r.WallTol)
	each("crossfall", "tolerance for the crossfall of units", r.CrossTol)
	each("cover", "tolerance for the level of covers", r.CoverTol)
	each("end", "tolerance for where the end of a unit lies", r.EndTol)
	each("line", "tolerance for the line", r.LineTol)
	each("lip", "limit for the lip at a joint", r.LipLimit)
	each("rock", "limit for the rock of a unit", r.RockLimit)
	each("step", "limit for the step between covers", r.CoverStep)
	c.madeOf(j)
	if len(c.steps) == 0 {
		c.steps = byNature()
	}
	return c
}

// byNature is what a step hides whatever a contract says.
func byNature() []job.Step {
	return []job.Step{{Step: "bed", Wants: []string{"formation"}}, {Step: "set", Wants: []string{bedOrPad}}, {Step: "fill", Wants: []string{"gap"}}, {Step: "cables"}, {Step: "cover"}}
}

// bedOrPad is the level of what a unit stands on, whichever of the two that is.
const bedOrPad = "bed or pad"

// limit is what something is held against.
func (c *Contract) limit(of string) Limit {
	if l, ok := c.limits[of]; ok {
		return l
	}
	return Limit{Ask: owner, None: "tolerance for the level of the " + of}
}

// ruleOf reads what a record itself says it is held against: a length each way, then where that is written.
func ruleOf(text string) (Limit, bool) {
	figure, source, _ := strings.Cut(text, ",")
	figure = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(strings.TrimSpace(figure), "±"), "+/-"))
	r, err := measure.Parse(figure)
	if err != nil || r.Length <= 0 {
		return Limit{}, false
	}
	if source = strings.TrimSpace(source); source == "" {
		source = "the record itself"
	}
	return Limit{Known: true, Least: -r.Length, Most: r.Length, Source: source + ", as the record has it"}, true
}

// Say is the limit in words with where it is written, and nothing where none is on file; size writes lengths.
func (l Limit) Say(size func(measure.MM) string) string {
	switch {
	case !l.Known:
		return ""
	case l.Least == -l.Most:
		return "limit " + size(measure.MM(l.Most)) + " (" + l.Source + ")"
	}
	return "it may be " + size(measure.MM(l.Least)) + " to " + size(measure.MM(l.Most)) + " (" + l.Source + ")"
}

// NotChecked says that something was not held against anything.
func (l Limit) NotChecked() string {
	return fmt.Sprintf("NOT CHECKED: no %s on file. Ask: %s", l.None, l.Ask)
}

// pointNames are the points that the contract lists.
func (c *Contract) pointNames() []string {
	names := make([]string, len(c.points))
	for i, p := range c.points {
		names[i] = p.Name
	}
	return names
}

// Level is the limit for how far something that is levelled, such as the pad, may be off its planned level.
func (c *Contract) Level(of string) Limit { return c.limit(of) }
