package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/signal"
	"slices"
	"strings"

	"trenchwright/demo"
	"trenchwright/demo/building"
	"trenchwright/edge/folder"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/groundin"
	"trenchwright/view/jobtext"
)

// buildCommand builds a job in play, record by record.
type buildCommand struct {
	Job  string `arg:"" help:"The job, as YAML or JSON; or the name of a demo job."`
	Seed uint64 `required:"" help:"What happens: the same seed, the same build." placeholder:"N"`
	Days int    `help:"Stop after so many days; 0: build until the run is handed over." placeholder:"N"`
	Calm bool   `help:"Nothing goes wrong, but for what hands and tapes do."`
	Out  string `short:"o" help:"Folder for the records, those of each device, the job with the answers that were taken, what happened in sentences, and the summary." placeholder:"DIR"`
	JSON bool   `name:"json" help:"Answer as JSON."`
}

func (c *buildCommand) Run(p program) error {
	if c.Days < 0 {
		return outcome{exitUsage, "trenchwright build: --days: " + fmt.Sprint(c.Days) + " is negative"}
	}
	on, clips, err := p.buildable("build", c.Job)
	if err != nil {
		return err
	}
	r, err := building.Build(on, building.Options{Seed: c.Seed, Days: c.Days, Calm: c.Calm})
	if err != nil {
		return outcome{exitFaults, "trenchwright build: " + err.Error()}
	}
	if c.Out != "" {
		ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
		defer stop()
		if err := folder.ReplaceListed(ctx, c.Out, builtFiles(r, clips), p.progress(len(r.Devices)+len(clips)+4)); err != nil {
			return unwritten("build", err)
		}
	}
	if c.JSON {
		if err := p.json(r.Count); err != nil {
			return err
		}
	} else {
		p.showBuilt(r)
	}
	if len(r.Count.Open) > 0 {
		return outcome{code: exitFaults}
	}
	return nil
}

// buildable is a planned job and its ground along the run: from its file, or a demo job by its name where no such file is there.
func (p program) buildable(command, name string) (building.Planned, []groundin.Clip, error) {
	if _, err := os.Stat(name); errors.Is(err, fs.ErrNotExist) && slices.Contains(demo.Names(), name) {
		d, err := demo.Surveyed(name)
		if err != nil {
			return building.Planned{}, nil, err
		}
		on := building.Planned{Job: d.Job, Surfaces: d.Surfaces}
		on.Plan, on.Answers = planner.Ask(d.Job, d.Surfaces...)
		return on, d.Clips, nil
	}
	t, err := p.ask(command, name)
	return building.Planned{Job: t.job, Plan: t.plan, Answers: t.Answers, Surfaces: t.surfaces}, t.clips, err
}

// builtFiles are the files of a build, with the ground that its job is planned on.
func builtFiles(r *building.Result, clips []groundin.Clip) []folder.File {
	lines := func(name string, records []field.Record) folder.File {
		return folder.File{Name: name, Make: func() ([]byte, error) {
			var b bytes.Buffer
			err := field.Write(&b, records)
			return b.Bytes(), err
		}}
	}
	files := []folder.File{lines("records.ndjson", r.Records)}
	for _, d := range r.Devices {
		files = append(files, lines("devices/"+d.Name+".ndjson", d.Records))
	}
	for _, c := range clips {
		files = append(files, folder.File{Name: c.Name, Make: func() ([]byte, error) { return c.Bytes, nil }})
	}
	return append(files,
		folder.File{Name: "job.yaml", Make: func() ([]byte, error) {
			var b bytes.Buffer
			err := jobtext.WriteYAML(&b, r.Job)
			return b.Bytes(), err
		}},
		folder.File{Name: "told.txt", Make: func() ([]byte, error) { return []byte(strings.Join(r.Told, "\n") + "\n"), nil }},
		folder.File{Name: "summary.json", Make: func() ([]byte, error) { return json.MarshalIndent(r.Count, "", " ") }})
}

func (p program) showBuilt(r *building.Result) {
	n := r.Count
	fmt.Fprintf(p.out, "%s built from seed %d in %s: %s, %s, %s from %s\n", n.Job, n.Seed, plural(n.Days, "day", "days"),
		plural(n.Units, "unit", "units"), plural(n.Covers, "cover", "covers"), plural(n.Records, "record", "records"), plural(n.Devices, "device", "devices"))
	l := p.lines()
	for _, kind := range n.Kinds() {
		l.row(kind, fmt.Sprint(n.Surprises[kind]))
	}
	if n.Relevelled > 0 {
		l.row("readings of what lies, planned at another level since an answer was taken", fmt.Sprint(n.Relevelled))
	}
	l.row("changed pieces for each surprise", n.Pieces.Say())
	l.row("of those that touch the layout", n.OfLayout.Say())
	_ = l.w.Flush()
	for _, open := range n.Open {
		fmt.Fprintln(p.out, "open: "+open)
	}
	if len(n.Open) == 0 {
		fmt.Fprintln(p.out, "handed over: every unit is set, every cover lies on one unit, and the records agree with what lies there")
	}
}

// Help is shown below the flags.
func (buildCommand) Help() string {
	return `Example:

    trenchwright build battery-yard --seed 1

Gangs build the job in play: units and gaps vary, deliveries are short, rain ends releases, services turn up, a benchmark is bumped, two
people measure the same joint, devices have no signal for days. Whoever works sees the records alone, and does what the program answers.
What is written with -o is what a site would send: records.ndjson, the records of each device, and job.yaml, the job as people held it in
the end, with the answers that were taken and its ground. They go together:

    trenchwright build battery-yard --seed 1 -o built
    trenchwright dossier built/job.yaml --records built/records.ndjson -o handover --verify`
}
