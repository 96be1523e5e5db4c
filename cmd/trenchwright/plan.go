package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"

	"golang.org/x/term"

	"trenchwright/base/finding"
	"trenchwright/base/wording"
	"trenchwright/demo"
	"trenchwright/edge/folder"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/groundin"
	"trenchwright/view/jobtext"
	"trenchwright/view/pack"
)

type planCommand struct {
	Job  string `arg:"" help:"The job, as YAML or JSON."`
	Out  string `short:"o" required:"" help:"Folder for the pack. A pack in it is replaced as a whole; any other folder with files is left alone." placeholder:"DIR"`
	JSON bool   `name:"json" help:"Print the plan as JSON, besides writing its pack."`
	Data bool   `help:"Write only plan.json, job.json and findings.txt: no sheets, no tables."`
}

func (c *planCommand) Run(p program) error {
	text, err := p.read("plan", c.Job)
	if err != nil {
		return err
	}
	j, err := p.readJob(c.Job, text)
	if err != nil {
		return err
	}
	pl, err := p.plan(j, source{c.Job, text, beside(c.Job)}, c.Out, c.Data)
	if err != nil {
		return err
	}
	if c.JSON {
		if err := p.json(pl.Plan); err != nil {
			return err
		}
	} else {
		p.showPlan(pl, j)
	}
	return ending(pl.Plan)
}

// source is the text that a job was read from, and how the files beside it are opened.
type source struct {
	name string
	text []byte
	open func(string) (io.ReadCloser, error)
}

// packed is a plan with where its pack is.
type packed struct {
	planner.Plan
	dir   string
	files []folder.File
}

// plan makes a job's plan and writes its pack.
func (p program) plan(j job.Job, from source, dir string, dataOnly bool) (packed, error) {
	out := packed{dir: dir}
	if err := folder.Replaceable(dir); err != nil {
		return out, unwritten("plan", err)
	}
	// Whoever breaks off while a run is planned, drawn or written finds the folder as it was.
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := orBreakOff(ctx, func() error { return p.prepare(&out, j, from, dataOnly) }); err != nil {
		return packed{}, err
	}
	if err := folder.Replace(ctx, dir, out.files, p.progress(len(out.files))); err != nil {
		return out, unwritten("plan", err)
	}
	return out, nil
}

// orBreakOff waits for work to be done, or for ctx to end: then the work is left where it is, for the program ends with it.
func orBreakOff(ctx context.Context, work func() error) error {
	done := make(chan error, 1)
	go func() { done <- work() }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		return unwritten("plan", ctx.Err())
	}
}

// prepare plans a job and says which files its pack has.
func (p program) prepare(out *packed, j job.Job, from source, dataOnly bool) error {
	ground, found := groundin.Survey(j, from.open)
	if found.Any(finding.Fault) {
		fmt.Fprint(p.err, jobtext.Locate(from.name, from.text, found).Say(j.Speech()))
		return outcome{exitFaults, plural(found.Count(finding.Fault), "fault", "faults") + "; nothing was written."}
	}
	j = ground.Job
	out.Plan = planner.Make(j, ground.Surfaces...)
	if out.Findings.Any(finding.Fault) {
		fmt.Fprint(p.err, jobtext.Locate(from.name, from.text, out.Findings).Say(j.Speech()))
		return outcome{exitFaults, plural(out.Findings.Count(finding.Fault), "fault", "faults") + "; nothing was written."}
	}
	files := pack.Data(out.Plan, j)
	if !dataOnly {
		files = pack.Files(out.Plan, j, ground.Surfaces...)
	}
	for _, f := range files {
		out.files = append(out.files, folder.File{Name: f.Name, Make: f.Make})
	}
	for _, c := range ground.Clips {
		out.files = append(out.files, folder.File{Name: c.Name, Make: func() ([]byte, error) { return c.Bytes, nil }})
	}
	return nil
}

// ending is how a plan ends the program.
func ending(pl planner.Plan) error {
	for _, l := range pl.Legs {
		if l.Verdict != "found" && l.Verdict != "impossible" {
			return verdictEnds(l.Verdict)
		}
	}
	if pl.Findings.Any(finding.Impossible) {
		return verdictEnds("impossible")
	}
	return nil
}

// beside opens the files of a job that lie beside it.
func beside(name string) func(string) (io.ReadCloser, error) {
	return func(file string) (io.ReadCloser, error) {
		if !filepath.IsAbs(file) {
			file = filepath.Join(filepath.Dir(name), file)
		}
		return os.Open(file)
	}
}

// progress shows how far the writing is, on a terminal only.
func (p program) progress(of int) func(int) {
	f, ok := p.err.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return func(int) {}
	}
	return func(n int) {
		fmt.Fprintf(f, "\rwriting %d of %d files ", n, of)
		if n == of {
			fmt.Fprint(f, "\r\033[K")
		}
	}
}

// readJob reads a job. Its faults are shown, all at once, and end the command.
func (p program) readJob(name string, text []byte) (job.Job, error) {
	j, faults := jobtext.Read(name, bytes.NewReader(text))
	if len(faults) == 0 {
		return j, nil
	}
	fmt.Fprint(p.err, faults.Say(j.Speech()))
	return j, outcome{exitFaults, fmt.Sprintf("%s; nothing was written.", plural(faults.Count(finding.Fault), "fault", "faults"))}
}

type demoCommand struct {
	Out  string `short:"o" default:"out" help:"Folder for the packs." placeholder:"DIR"`
	JSON bool   `name:"json" help:"Answer as JSON."`
}

// demoAnswer is one row of what `trenchwright demo --json` prints.
type demoAnswer struct {
	Name   string         `json:"name"`
	Pack   string         `json:"pack"`
	Totals planner.Totals `json:"totals"`
}

// Run plans every demo job into a folder of its own. What there is to say of each goes to a file, and a line of it to the screen.
func (c *demoCommand) Run(p program) error {
	answers := []demoAnswer{}
	var whole bytes.Buffer
	for _, name := range demo.Names() {
		text, err := demo.File(name)
		if err != nil {
			return err
		}
		j, err := p.readJob(name+".yaml", text)
		if err != nil {
			return err
		}
		pl, err := p.plan(j, source{name + ".yaml", text, demo.Open}, filepath.Join(c.Out, name), false)
		if err != nil {
			return err
		}
		answers = append(answers, demoAnswer{name, pl.dir, pl.Totals})
		if !c.JSON {
			program{&whole, p.err}.showPlan(pl, j)
			fmt.Fprintln(&whole)
			fmt.Fprintf(p.out, "%s: %s, %d %s, %s from node to node: %s\n", pl.Job.Name, plural(pl.Totals.Legs, "leg", "legs"), pl.Totals.Units, j.Speech().Word(wording.Units),
				roughly(fromNodes(pl.Plan), system(j)), filepath.Join(pl.dir, "sheets-A3.pdf"))
		}
		if err := ending(pl.Plan); err != nil {
			return err
		}
	}
	if c.JSON {
		return p.json(answers)
	}
	said := filepath.Join(c.Out, "demo.txt")
	if err := os.WriteFile(said, whole.Bytes(), 0o644); err != nil {
		return unwritten("demo", err)
	}
	fmt.Fprintf(p.out, "What was found on each: %s\n", said)
	return nil
}
