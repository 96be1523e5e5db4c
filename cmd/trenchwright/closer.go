package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
)

// closerCommand says how what is left between two faces is closed.
type closerCommand struct {
	Job     string `arg:"" optional:"" help:"A job, as YAML or JSON: the piece that closes each leg is read from its records. Without it, from what the command line says."`
	Records string `help:"The file of the job's records." placeholder:"FILE"`
	Left    string `help:"Clear between the two faces, measured at the left wall." placeholder:"LENGTH"`
	Right   string `help:"And at the right wall." placeholder:"LENGTH"`
	Before  string `help:"The unit before it may be taken out again: its length." placeholder:"LENGTH"`
	After   string `help:"The unit after it may be taken out again: its length." placeholder:"LENGTH"`
	supplyFlags
	JSON bool `name:"json" help:"Answer as JSON."`
}

// closerAnswer is what `trenchwright closer --json` prints.
type closerAnswer struct {
	Left       string               `json:"left"` // as it was read
	Right      string               `json:"right"`
	Ways       []planner.ClosingWay `json:"ways"`
	Why        string               `json:"why"` // why it cannot be closed as it is
	Try        []string             `json:"try"`
	Assumed    []string             `json:"assumed"`
	NotChecked []string             `json:"not_checked"`
}

func (c *closerCommand) Run(p program) error {
	if c.Job != "" || c.Records != "" {
		return c.fromRecords(p)
	}
	a := &asked{command: "closer"}
	var missing []string
	for _, f := range [][2]string{{"--left=LENGTH", c.Left}, {"--right=LENGTH", c.Right}} {
		if f[1] == "" {
			missing = append(missing, f[0])
		}
	}
	if len(missing) > 0 {
		return outcome{exitUsage, "trenchwright closer: missing: " + strings.Join(missing, " and ") + ", or a job with --records FILE."}
	}
	left, _ := a.reading("--left", c.Left)
	right, _ := a.reading("--right", c.Right)
	s := spot{bent: left.Length != right.Length}
	if r, err := measure.Parse(c.Left); err == nil && (r.Unit == measure.UnitFoot || r.Unit == measure.UnitInch) {
		s.system = measure.Imperial
	}
	if c.Supply != "" {
		if err := c.fromFile(p, a, &s); err != nil {
			return err
		}
	} else {
		c.fromFlags(a, &s)
	}
	what := planner.Closing{Left: left.Length, Right: right.Length}
	for _, f := range []struct {
		name, text string
		to         *measure.Length
	}{{"--before", c.Before, &what.Before}, {"--after", c.After, &what.After}} {
		if f.text != "" {
			*f.to = a.positive(f.name, f.text, "a unit")
		}
	}
	if err := a.ends(); err != nil {
		return err
	}
	ways, why, try, err := what.Ways(s.make)
	if err != nil {
		return outcome{exitFaults, "trenchwright closer: " + err.Error()}
	}
	ans := closerAnswer{Left: left.As, Right: right.As, Ways: append([]planner.ClosingWay{}, ways...), Why: why, Try: append([]string{}, try...),
		Assumed: append([]string{}, s.assumed...), NotChecked: append([]string{}, s.notChecked...)}
	if c.JSON {
		if err := p.json(ans); err != nil {
			return err
		}
	} else {
		p.showCloser(ans, s.system)
	}
	if len(ways) == 0 {
		return outcome{code: exitFaults}
	}
	return nil
}

func (p program) showCloser(a closerAnswer, s measure.System) {
	say := func(m measure.MM) string { return exactly(measure.Length(m), s) }
	fmt.Fprintf(p.out, "clear at the left wall: %s\nclear at the right wall: %s\n", a.Left, a.Right)
	if a.Why != "" {
		fmt.Fprintln(p.out, "it cannot be closed as it is: "+a.Why)
		for _, t := range a.Try {
			fmt.Fprintln(p.out, "  try: "+t)
		}
	}
	for i, w := range a.Ways {
		what := "as it is"
		if len(w.TakenOut) > 0 {
			var out []string
			for _, l := range w.TakenOut {
				out = append(out, "the unit "+l.Side+" it, "+say(l.Length)+",")
			}
			what = strings.TrimSuffix("with "+strings.Join(out, " and "), ",") + " taken out again"
		}
		fmt.Fprintf(p.out, "%d. %s: %s, %s\n", i+1, what, plural(len(w.Pieces), "piece", "pieces"), plural(w.Cuts, "cut", "cuts"))
		t := tabwriter.NewWriter(p.out, 0, 0, 2, ' ', 0)
		for j, piece := range w.Pieces {
			fmt.Fprintf(t, "   gap\t%s\t%s\n", say(w.Gaps[j]), walls(w, j, say))
			cut := "whole"
			if piece.Cut {
				cut = "cut from " + say(piece.Stock)
			}
			sides := ""
			if piece.Left != piece.Right {
				sides = "left wall " + say(piece.Left) + ", right wall " + say(piece.Right)
			}
			fmt.Fprintf(t, "   unit\t%s\t%s\t%s\n", say(piece.Length), cut, sides)
		}
		fmt.Fprintf(t, "   gap\t%s\t%s\n", say(w.Gaps[len(w.Pieces)]), walls(w, len(w.Pieces), say))
		t.Flush()
	}
	fmt.Fprintln(p.out, "Measure both walls again before the saw starts: the piece is cut once.")
	for _, list := range [][]string{a.NotChecked, a.Assumed} {
		for _, line := range list {
			fmt.Fprintln(p.out, line)
		}
	}
}

// walls are an outer gap at both walls, where they differ.
func walls(w planner.ClosingWay, i int, say func(measure.MM) string) string {
	at := 0
	switch i {
	case 0:
	case len(w.Pieces):
		at = 2
	default:
		return ""
	}
	if w.Walls[at] == w.Walls[at+1] {
		return ""
	}
	return "left wall " + say(w.Walls[at]) + ", right wall " + say(w.Walls[at+1])
}

// fromRecords says of every leg that is begun which piece closes it, as it would be cut now.
func (c *closerCommand) fromRecords(p program) error {
	t, s, found, err := p.recorded("closer", c.Job, c.Records)
	if err != nil {
		return err
	}
	a := driftRecords{t.job.ID, s.Records, t.Drift(s), found}
	if c.JSON {
		return p.json(a)
	}
	for _, d := range a.Legs {
		fmt.Fprintf(p.out, "leg %s: %d of %d set\n", d.Leg, d.Set, d.Units)
		rows := p.lines()
		rows.row(d.Last, "its end lies "+t.side(measure.Length(d.Off)))
		if d.Closer == nil {
			rows.row("closer", "nothing of what is to come is cut")
		} else {
			t.closerRows(rows, *d.Closer)
		}
		rows.w.Flush()
		for _, f := range d.Findings {
			fmt.Fprintln(p.out, f.Say(t.job.Speech()))
		}
	}
	for _, f := range a.Findings {
		fmt.Fprintln(p.out, f.Say(t.job.Speech()))
	}
	fmt.Fprintln(p.out, "Measure both walls again before the saw starts: the piece is cut once.")
	return nil
}

// Help is shown below the flags.
func (closerCommand) Help() string {
	return `Examples:

    trenchwright closer yard/job.yaml --records site.jsonl
    trenchwright closer --left 1234 --right 1230 --stock 3000mm --gap 10mm --gap-window 6mm..14mm --width 600mm --before 3000mm

Up to three ways that differ in what is taken out again: the fewest cuts first. A piece that would be shorter than the supplier lets it
be is made of two, where a neighbour can be lifted for it.`
}
