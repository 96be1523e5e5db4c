package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
	"trenchwright/solve/levelling"
	"trenchwright/view/groundin"
	"trenchwright/view/jobtext"
)

// trench is a planned job that can be asked, and how its answers are written.
type trench struct {
	*planner.Answers
	job      job.Job
	plan     planner.Plan
	surfaces []*ground.Surface
	clips    []groundin.Clip // of those surfaces along the run, as the job names them among its attachments
}

// ask plans a job for its answers alone; nothing is written.
func (p program) ask(command, name string) (trench, error) {
	text, err := p.read(command, name)
	if err != nil {
		return trench{}, err
	}
	faulty := func(l finding.List, s wording.Speech) error {
		fmt.Fprint(p.err, l.Say(s))
		return outcome{exitFaults, plural(l.Count(finding.Fault), "fault", "faults") + "; nothing was answered."}
	}
	j, faults := jobtext.Read(name, strings.NewReader(string(text)))
	if len(faults) > 0 {
		return trench{}, faulty(faults, j.Speech())
	}
	surveyed, found := groundin.Survey(j, beside(name))
	if found.Any(finding.Fault) {
		return trench{}, faulty(jobtext.Locate(name, text, found), j.Speech())
	}
	t := trench{job: surveyed.Job, surfaces: surveyed.Surfaces, clips: surveyed.Clips}
	t.plan, t.Answers = planner.Ask(surveyed.Job, surveyed.Surfaces...)
	if t.Answers == nil {
		return t, faulty(jobtext.Locate(name, text, t.plan.Findings), j.Speech())
	}
	return t, nil
}

// found is a place, or an error of the command line that says what is known.
func (t trench) found(command, flag, text, leg string) (planner.Spot, error) {
	s, err := t.Find(text, leg)
	if err != nil {
		return s, outcome{exitUsage, fmt.Sprintf("trenchwright %s: %s: %v", command, flag, err)}
	}
	return s, nil
}

func (t trench) word(w wording.Word) string { return t.job.Speech().Word(w) }

// figures are what levels, coordinates and rod readings are in: the unit of the job's coordinates, to the millimetre or the
// hundredth of a foot.
func (t trench) figures() levelling.Figures {
	switch t.job.Coordinates.Unit {
	case job.CoordFeet:
		return levelling.Figures{Unit: measure.UnitFoot, Places: 2}
	case job.CoordUSSurvey:
		return levelling.Figures{Unit: measure.UnitSurveyFoot, Places: 2}
	}
	return levelling.Figures{Unit: measure.UnitMetre, Places: 3}
}

// level is a level of record; "" where there is none.
func (t trench) level(m *float64) string {
	if m == nil {
		return ""
	}
	return t.figures().Say(measure.FromMetres(*m))
}

// size is a depth or a width: metres to the millimetre, or feet and inches.
func (t trench) size(l measure.MM) string {
	if system(t.job) == measure.Imperial {
		return measure.Format{System: measure.Imperial}.Length(measure.Length(l))
	}
	return roughly(l, measure.Metric)
}

// spot names a place with its leg and chainage.
func (t trench) spot(s planner.PlaceAt) string {
	at := "leg " + s.Leg + ", " + t.word(wording.Chainage) + " " + t.Chainage(measure.Length(s.Chainage))
	if s.Name == "" {
		return at
	}
	return s.Name + ", " + at
}

// lines is a table of a word and what belongs to it; rows without a figure are left out.
type lines struct{ w *tabwriter.Writer }

func (p program) lines() lines { return lines{tabwriter.NewWriter(p.out, 0, 0, 2, ' ', 0)} }

func (l lines) row(name, text string) {
	if text != "" {
		fmt.Fprintf(l.w, "  %s\t%s\n", name, text)
	}
}

// strung puts together the parts that say something together.
func strung(by string, parts ...string) string {
	var said []string
	for _, p := range parts {
		if p != "" {
			said = append(said, p)
		}
	}
	return strings.Join(said, by)
}
