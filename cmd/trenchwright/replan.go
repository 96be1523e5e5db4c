package main

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/groundin"
	"trenchwright/view/jobtext"
	"trenchwright/view/screen"
	"trenchwright/view/table"
)

// replanCommand plans what is left again, from what is in the ground.
type replanCommand struct {
	Job     string         `arg:"" help:"The job, as YAML or JSON."`
	Records string         `required:"" help:"The file of its records." placeholder:"FILE"`
	Yard    string         `help:"What lies in the yard beside what the records say: CSV with length and count, and where wanted supply (else the job's first), mark, end a and end b: of an offcut, each end factory, square or the angle of the saw cut." placeholder:"FILE"`
	Until   string         `help:"From what was recorded until a date, or when the server had so many records." placeholder:"MOMENT"`
	Take    map[string]int `help:"Take an answer of a leg: --take B=2." placeholder:"LEG=N"`
	Bend    map[string]int `help:"Take an answer of a bend that was measured: --bend N2=1." placeholder:"NODE=N"`
	Out     string         `short:"o" help:"The new job, once answers are taken; it is never written over." placeholder:"FILE"`
	JSON    bool           `name:"json" help:"Answer as JSON."`
}

// replanAnswer is what `trenchwright replan --json` prints.
type replanAnswer struct {
	Job      string              `json:"job"`
	Records  int                 `json:"records"`
	Legs     []planner.LegReplan `json:"legs"`
	Bends    []planner.BendNow   `json:"bends"` // whose angle was measured
	Taken    *screen.Difference  `json:"taken"` // null: nothing was taken
	Findings finding.List        `json:"findings"`
}

func (c *replanCommand) Run(p program) error {
	takes := len(c.Take)+len(c.Bend) > 0
	if (c.Out != "") != takes {
		return outcome{exitUsage, "trenchwright replan: --take LEG=N or --bend NODE=N and -o FILE belong together: the answer, and the job that it makes."}
	}
	t, err := p.ask("replan", c.Job)
	if err != nil {
		return err
	}
	records, faults, err := recordsIn(c.Records)
	if err != nil {
		return outcome{exitUsage, fmt.Sprintf("trenchwright replan: %s: %v", c.Records, err)}
	}
	if records, err = recordedUntil("replan", c.Until, records); err != nil {
		return err
	}
	yard, err := c.yard(p, t)
	if err != nil {
		return err
	}
	b := field.NewBook(t.plan.Places())
	b.Add(records...)
	s := b.State("")
	a := replanAnswer{Job: t.job.ID, Records: s.Records, Legs: t.ReplanFrom(s, yard), Bends: t.Bends(s), Findings: append(append(finding.List{}, faults...), s.Findings...)}
	if takes {
		if a.Taken, err = c.taken(p, t, a); err != nil {
			return err
		}
	}
	stopped := slices.ContainsFunc(a.Legs, func(l planner.LegReplan) bool { return l.Answer == planner.NoAnswer || l.Answer == planner.Stopped }) ||
		slices.ContainsFunc(a.Bends, func(b planner.BendNow) bool { return b.Findings.Any(finding.Impossible) })
	switch {
	case c.JSON:
		if err := p.json(a); err != nil {
			return err
		}
	case a.Taken != nil:
		p.showTaken(c.Out, *a.Taken)
	default:
		p.showReplan(t, a)
	}
	if stopped && a.Taken == nil {
		return outcome{code: exitFaults}
	}
	return nil
}

// yard reads the list of what lies in the yard.
func (c *replanCommand) yard(p program, t trench) ([]job.YardItem, error) {
	if c.Yard == "" {
		return nil, nil
	}
	f, err := os.Open(c.Yard)
	if err != nil {
		return nil, outcome{exitUsage, fmt.Sprintf("trenchwright replan: --yard: %v", err)}
	}
	defer f.Close()
	list, faults := table.ReadYard(c.Yard, f, measure.UnitMillimetre)
	out := []job.YardItem{}
	for _, y := range list {
		item := job.YardItem{Supply: cmp.Or(y.Supply, t.job.Supplies[0].ID), Length: y.Length, Count: y.Count, Mark: y.Mark}
		for i, e := range y.Ends {
			item.Ends[i] = job.YardEnd{Factory: e.Factory, Angle: e.Angle}
		}
		if fault := notMade(t.job, item); fault != nil {
			fault.Where = finding.Where{File: c.Yard, Line: y.Line}
			faults = append(faults, *fault)
		} else if y.Count > 0 {
			out = append(out, item)
		}
	}
	if len(faults) > 0 {
		fmt.Fprint(p.err, faults.Say(t.job.Speech()))
		return nil, outcome{exitFaults, plural(faults.Count(finding.Fault), "fault", "faults") + " in the list of the yard; nothing was answered."}
	}
	return out, nil
}

// notMade tells of what lies in a yard that no supply of the job makes; nil: one does, or it is an offcut of one.
func notMade(j job.Job, y job.YardItem) *finding.Finding {
	var names, lengths []string
	for _, s := range j.Supplies {
		names = append(names, s.ID)
		if s.ID != y.Supply {
			continue
		}
		if y.Mark != "" || slices.Contains(s.Unit.Lengths.Value, y.Length) {
			return nil
		}
		for _, l := range s.Unit.Lengths.Value {
			lengths = append(lengths, j.Speech().Length(l))
		}
		return &finding.Finding{ID: "replan.yard-length", Kind: finding.Fault, Text: fmt.Sprintf("units of %s lie there, and supply %s makes %s", j.Speech().Length(y.Length), s.ID, strings.Join(lengths, ", ")),
			Try: "the length as it is made; for what is left of a unit its mark, such as B-017/a, and how its ends are"}
	}
	return &finding.Finding{ID: "replan.yard-supply", Kind: finding.Fault, Text: fmt.Sprintf("the job has no supply %q", y.Supply), Try: strings.Join(names, " or ")}
}

// taken writes the job once answers are taken, and says what that changes in its plan.
func (c *replanCommand) taken(p program, t trench, a replanAnswer) (*screen.Difference, error) {
	text, err := p.read("replan", c.Job)
	if err != nil {
		return nil, err
	}
	was, _ := jobtext.Read(c.Job, bytes.NewReader(text))
	j, err := planner.Take(was, a.Legs, c.Take)
	if err != nil {
		return nil, outcome{exitUsage, fmt.Sprintf("trenchwright replan: --take: %v.", err)}
	}
	if len(c.Bend) > 0 {
		if j, err = planner.TakeBends(j, a.Legs, a.Bends, c.Bend); err != nil {
			return nil, outcome{exitUsage, fmt.Sprintf("trenchwright replan: --bend: %v.", err)}
		}
	}
	ground, _ := groundin.Survey(j, beside(c.Job))
	now := planner.Make(ground.Job, ground.Surfaces...)
	if now.Findings.Any(finding.Fault) {
		fmt.Fprint(p.err, now.Findings.Say(j.Speech()))
		return nil, outcome{exitFaults, "what was taken cannot be planned; nothing was written."}
	}
	if err := writeJob(c.Out, j); err != nil {
		return nil, outcome{exitUsage, fmt.Sprintf("trenchwright replan: %v", err)}
	}
	if err := bringBeside(j, filepath.Dir(c.Job), filepath.Dir(c.Out)); err != nil {
		return nil, outcome{exitUsage, fmt.Sprintf("trenchwright replan: %s is written; what it is planned with is not beside it: %v", c.Out, err)}
	}
	d := screen.Differ(t.plan, now, ground.Job)
	return &d, nil
}

// bringBeside puts copies of the files that a job names into the folder that it was written to, where that is another one. What is
// there already is not written over.
func bringBeside(j job.Job, from, to string) error {
	var names []string
	for _, a := range j.Attachments {
		names = append(names, a.Name)
	}
	for _, s := range j.Ground.Surfaces {
		names = append(names, s.File)
	}
	for _, name := range names {
		was, err := os.ReadFile(filepath.Join(from, name))
		if err != nil || filepath.IsAbs(name) || filepath.Clean(from) == filepath.Clean(to) {
			continue // planned without it, as the job was
		}
		is := filepath.Join(to, name)
		switch there, err := os.ReadFile(is); {
		case err == nil && bytes.Equal(there, was):
			continue
		case err == nil:
			return fmt.Errorf("%s is there already, and another one", is)
		case !errors.Is(err, fs.ErrNotExist):
			return err
		}
		if err := os.MkdirAll(filepath.Dir(is), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(is, was, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// writeJob writes a job into a file that does not exist yet.
func writeJob(name string, j job.Job) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	if filepath.Ext(name) == ".json" {
		_, err = f.Write(job.CanonicalJSON(j))
	} else {
		err = jobtext.WriteYAML(f, j)
	}
	return errors.Join(err, f.Close())
}

func (p program) showTaken(name string, d screen.Difference) {
	fmt.Fprintf(p.out, "taken, and written to %s. Against the plan as it was:\n", name)
	for _, line := range d.Said {
		fmt.Fprintln(p.out, "  "+line)
	}
	rows := p.lines()
	for _, c := range d.Places {
		rows.row(c.Of+" "+c.Name, c.Kind+": "+strung(", ", c.Was, c.Now))
	}
	rows.w.Flush()
	fmt.Fprintln(p.out, "Issue it before anybody works by it: people hold the plan as it was.")
}

func (p program) showReplan(t trench, a replanAnswer) {
	for _, l := range a.Legs {
		if l.Answer == planner.NotBegun && len(l.Apart)+len(l.Findings) == 0 {
			continue
		}
		fmt.Fprintf(p.out, "leg %s: %d of %d set: %s\n", l.Leg, l.Set+len(l.Apart), l.Units, l.Answer)
		rows := p.lines()
		if l.Last != "" {
			rows.row(l.Last, t.lastLies(l))
		}
		for _, m := range l.Meets {
			rows.row(fromTo(m), t.between(m))
		}
		rows.w.Flush()
		for _, o := range l.Offers {
			p.showOffer(t, l.Leg, o)
		}
		for _, f := range l.Findings {
			fmt.Fprintln(p.out, f.Say(t.job.Speech()))
		}
	}
	for _, b := range a.Bends {
		p.showBend(t, b)
	}
	for _, f := range a.Findings {
		fmt.Fprintln(p.out, f.Say(t.job.Speech()))
	}
	fmt.Fprintln(p.out, "Nothing is changed by this: a person takes an answer, or does not. What is set stays as it was recorded.")
}

// lastLies says where the last unit that is set ends.
func (t trench) lastLies(l planner.LegReplan) string {
	switch {
	case l.Answer == planner.CannotSay && len(l.Findings) == 0:
		return "records of people who did not know of each other differ here: measure or look once more"
	case l.Measured == "":
		return "taken to end as drawn: nobody measured where a unit of this leg ends"
	case l.Measured != l.Last:
		return fmt.Sprintf("taken to lie as drawn behind %s, which was measured %s", l.Measured, t.side(measure.Length(l.Off)))
	}
	return "its end lies " + t.side(measure.Length(l.Off))
}

// showOffer shows one way on, and what it spends.
func (p program) showOffer(t trench, leg string, o planner.Offer) {
	say := func(m measure.MM) string {
		return measure.Format{System: system(t.job), Places: 1}.Length(measure.Length(m))
	}
	changes := "no place gets another piece"
	if o.Changed > 0 {
		changes = plural(o.Changed, "place changes", "places change")
	}
	fmt.Fprintf(p.out, "answer %s=%d: %s; %s; to come: %s, %s, %s\n", leg, o.Number, o.Answer, changes,
		plural(o.Count.Units, "unit", "units"), plural(o.Count.Cuts, "cut", "cuts"), plural(o.Count.CutCovers, "cut cover", "cut covers"))
	rows := p.lines()
	for _, m := range o.Moved {
		now := "is at " + t.Chainage(measure.Length(m.Now))
		if m.Gone {
			now = "is there no more"
		}
		rows.row(m.ID, m.Name+", planned at "+t.Chainage(measure.Length(m.Was))+", "+now)
	}
	rows.row("hold now", say(o.Hold))
	for _, g := range o.Gaps {
		rows.row(g.Joint, say(g.Gap)+", drawn "+say(g.Drawn))
	}
	for _, u := range o.Pieces {
		rows.row(u.Place, pieceNow(u, say))
	}
	for _, c := range o.Closes {
		rows.row(strung(" to ", c.Before, c.Behind), closes(c, say))
	}
	for _, c := range o.Cut {
		from := c.Of
		if c.Rest != "" {
			from = "the rest of " + c.Rest
		}
		rows.row(c.Place, strung(", ", "cut from "+from, c.Of+" of "+say(c.Stock)))
	}
	if o.CutText != "" {
		rows.row("offcuts", o.CutText)
	}
	for _, n := range o.Needs {
		rows.row(strung(" ", n.Supply, say(n.Length)), needed(n))
	}
	rows.w.Flush()
}

// fromTo is a gap by the units on both sides of it.
func fromTo(m planner.Meeting) string {
	if m.Before == "" {
		return "up to " + m.Behind
	}
	return m.Before + " to " + m.Behind
}

// between says how wide a gap between two units that lie is, and how that is known.
func (t trench) between(m planner.Meeting) string {
	if m.Left == nil {
		return t.millimetres(m.Clear) + " clear, from where both faces lie"
	}
	return t.millimetres(m.Clear) + " clear, measured: left wall " + t.millimetres(*m.Left) + ", right wall " + t.millimetres(*m.Right)
}

// closes says what closes a gap.
func closes(c planner.Closes, say func(measure.MM) string) string {
	text := "closed by whole units"
	if c.Place != "" {
		text = fmt.Sprintf("%s closes it: left wall %s, right wall %s, from %s", c.Place, say(c.Left), say(c.Right), say(c.Stock))
	}
	if c.Opens > 0 {
		text += "; every joint of it opens by " + say(c.Opens) + " at the longer wall and closes by as much at the other"
	}
	return text
}

// needed says where the units of one length come from.
func needed(n planner.Need) string {
	text := fmt.Sprintf("%d to come, %d of them in the yard", n.Need, n.Yard)
	if n.Need > n.Yard {
		text += fmt.Sprintf("; %d on order for the run", n.OnOrder)
	}
	if n.ToOrder > 0 {
		text += fmt.Sprintf("; to be ordered: %d", n.ToOrder)
	}
	return text
}

// pieceNow says what a place gets in place of what was planned.
func pieceNow(u planner.PieceNow, say func(measure.MM) string) string {
	now := "whole " + say(u.Length)
	switch {
	case u.Stock == 0:
		return "no unit any more; planned was " + say(u.Was)
	case u.Cut:
		now = "cut to " + say(u.Length) + " from " + say(u.Stock)
	}
	if u.Was == 0 {
		return now + "; there was none"
	}
	return now + "; planned was " + say(u.Was)
}

// Help is shown below the flags.
func (replanCommand) Help() string {
	return `Examples:

    trenchwright replan yard/job.yaml --records site.jsonl
    trenchwright replan yard/job.yaml --records site.jsonl --take B=2 -o yard/job-2.yaml
    trenchwright replan yard/job.yaml --records site.jsonl --bend N2=1 -o yard/job-2.yaml

Up to three answers for each leg, that differ in what they spend. Taking one writes a new job: what lies is in it as it was measured, and
places keep their names.`
}
