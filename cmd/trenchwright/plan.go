package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"golang.org/x/term"

	"trenchwright/base/finding"
	"trenchwright/demo"
	"trenchwright/edge/folder"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/jobtext"
	"trenchwright/view/pack"
)

type planCommand struct {
	Job  string `arg:"" help:"The job, as YAML or JSON." type:"existingfile"`
	Out  string `short:"o" required:"" help:"Folder for the pack; it is replaced as a whole." placeholder:"DIR"`
	JSON bool   `name:"json" help:"Print the plan as JSON too."`
	Data bool   `help:"Write only plan.json, job.json and findings.txt: no sheets, no tables."`
}

func (c *planCommand) Run(p program) error {
	j, err := p.readJob(c.Job, true)
	if err != nil {
		return err
	}
	return p.plan(j, c.Out, c.JSON, c.Data)
}

// plan makes a job's plan and writes its pack.
func (p program) plan(j job.Job, dir string, asJSON, dataOnly bool) error {
	pl := planner.Make(j)
	if pl.Findings.Any(finding.Fault) {
		fmt.Fprint(p.err, pl.Findings.Render(system(j)))
		return outcome{exitFaults, "The job has faults; nothing was written."}
	}
	made := pack.Data
	if !dataOnly {
		made = pack.Files
	}
	var files []folder.File
	for _, f := range made(pl, j) {
		files = append(files, folder.File{Name: f.Name, Make: f.Make})
	}
	if err := folder.Replace(dir, files, p.progress(len(files))); err != nil {
		return outcome{exitBroken, "trenchwright: the pack was not written: " + err.Error()}
	}
	if asJSON {
		if err := p.json(pl); err != nil {
			return err
		}
	} else {
		p.showPlan(pl, j, dir, len(files), dataOnly)
	}
	return ending(pl)
}

// ending is how a plan ends the program.
func ending(pl planner.Plan) error {
	for _, l := range pl.Legs {
		if l.Verdict == "undecided" {
			return outcome{code: exitUndecided}
		}
	}
	if pl.Findings.Any(finding.Impossible) {
		return outcome{code: exitImpossible}
	}
	return nil
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

// readJob reads a job file. Faults are shown, all at once, and end the command; with whole, faults of the job's own too.
func (p program) readJob(name string, whole bool) (job.Job, error) {
	f, err := os.Open(name)
	if err != nil {
		return job.Job{}, outcome{exitBroken, "trenchwright: " + err.Error()}
	}
	defer f.Close()
	return p.jobFrom(name, f, whole)
}

func (p program) jobFrom(name string, r io.Reader, _ bool) (job.Job, error) {
	j, faults := jobtext.Read(name, r)
	if len(faults) == 0 {
		return j, nil
	}
	fmt.Fprint(p.err, faults.Render(system(j)))
	return j, outcome{exitFaults, fmt.Sprintf("%s; nothing was written.", plural(len(faults), "fault", "faults"))}
}

type checkCommand struct {
	Job  string `arg:"" help:"The job, as YAML or JSON." type:"existingfile"`
	JSON bool   `name:"json" help:"Answer as JSON."`
}

// Run reads a job, looks at its geometry too, and writes nothing.
func (c *checkCommand) Run(p program) error {
	f, err := os.Open(c.Job)
	if err != nil {
		return outcome{exitBroken, "trenchwright: " + err.Error()}
	}
	defer f.Close()
	j, found := jobtext.Read(c.Job, f)
	if len(found) == 0 {
		found = append(found, planner.Look(j)...)
	}
	faulty := found.Any(finding.Fault)
	if c.JSON {
		if err := p.json(struct {
			Faults   int          `json:"faults"`
			Findings finding.List `json:"findings"`
		}{countFaults(found), found}); err != nil {
			return err
		}
	} else {
		fmt.Fprint(p.out, found.Render(system(j)))
		if !faulty {
			fmt.Fprintf(p.out, "%s: no fault found; %s. Nothing was planned.\n", c.Job, plural(len(found), "finding", "findings"))
		}
	}
	if faulty {
		return outcome{exitFaults, ""}
	}
	return nil
}

func countFaults(l finding.List) int {
	n := 0
	for _, f := range l {
		if f.Kind == finding.Fault {
			n++
		}
	}
	return n
}

type demoCommand struct {
	Out string `short:"o" default:"out" help:"Folder for the packs." placeholder:"DIR"`
}

// Run plans every demo job into a folder of its own.
func (c *demoCommand) Run(p program) error {
	for _, name := range demo.Names() {
		b, err := demo.File(name)
		if err != nil {
			return err
		}
		j, err := p.jobFrom(name+".yaml", bytes.NewReader(b), true)
		if err != nil {
			return err
		}
		if err := p.plan(j, filepath.Join(c.Out, name), false, false); err != nil {
			return err
		}
		fmt.Fprintln(p.out)
	}
	fmt.Fprintf(p.out, "Open %s first.\n", filepath.Join(c.Out, demo.Names()[0], "sheets-A3.pdf"))
	return nil
}
