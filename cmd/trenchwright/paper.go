package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"trenchwright/view/pack/light"
	"trenchwright/view/papers"
)

// paperCommand writes the papers that a site hands round, filled from a job and its records, or lists them under their stages.
type paperCommand struct {
	Job     string `arg:"" help:"The job, as YAML or JSON."`
	Kind    string `arg:"" optional:"" help:"Which paper; without it, all are listed under their stages."`
	Records string `help:"The file of its records." placeholder:"FILE"`
	Leg     string `help:"permit, excavation: one leg. question, open-end: the leg of the place." placeholder:"LEG"`
	Place   string `help:"question, open-end: the place, such as A-004, A-004/A-005, 12.5m." placeholder:"PLACE"`
	Lift    string `help:"lift: one kind of lift of the job; all of them without it." placeholder:"LIFT"`
	Load    int    `help:"delivery: one load; all of them without it." placeholder:"N"`
	Day     string `help:"day: which day, 2026-11-27." placeholder:"DATE"`
	Number  string `help:"nonconformance, question: its number." placeholder:"NUMBER"`
	Ask     string `help:"question: what is asked." placeholder:"WORDS"`
	By      string `help:"question: the day by which an answer is wanted." placeholder:"DATE"`
	Now     string `help:"The moment for tickets and releases that end: 2026-11-27T18:00:00Z; that of this machine's clock without it." placeholder:"TIME"`
	Out     string `short:"o" help:"Folder for the papers: each as PDF and as JSON." placeholder:"DIR"`
	JSON    bool   `name:"json" help:"Answer as JSON."`
}

// paperAnswer is what `trenchwright paper --json` prints.
type paperAnswer struct {
	Files  []string       `json:"files"`
	Papers []papers.Paper `json:"papers"`
}

func (c *paperCommand) Run(p program) error {
	t, err := p.ask("paper", c.Job)
	if err != nil {
		return err
	}
	in := papers.Input{Job: t.job, Plan: t.plan, Answers: t.Answers, Now: c.Now}
	if c.Now == "" {
		in.Now = time.Now().UTC().Format(time.RFC3339)
	} else if _, err := time.Parse(time.RFC3339, c.Now); err != nil {
		return outcome{exitUsage, fmt.Sprintf("trenchwright paper: --now: %q is no moment; write for example 2026-11-27T18:00:00Z", c.Now)}
	}
	if c.Records != "" {
		if _, err := os.Stat(c.Records); err != nil {
			return outcome{exitUsage, fmt.Sprintf("trenchwright paper: --records: %v", err)}
		}
		records, faults, err := recordsIn(c.Records)
		if err != nil {
			return outcome{exitUsage, fmt.Sprintf("trenchwright paper: %s: %v", c.Records, err)}
		}
		if len(faults) > 0 {
			fmt.Fprint(p.err, faults.Say(t.job.Speech()))
		}
		in.Records = records
	}
	if c.Kind == "" {
		return c.list(p, in, papers.All(in))
	}
	list, err := papers.Make(in, papers.Choice{Kind: c.Kind, Leg: c.Leg, Place: c.Place, Lift: c.Lift, Load: c.Load, Day: c.Day, Number: c.Number, Ask: c.Ask, By: c.By})
	if err != nil {
		return outcome{exitUsage, "trenchwright paper: " + err.Error()}
	}
	if len(list) == 0 {
		return outcome{exitUsage, "trenchwright paper: this job has nothing for it: no lift is on file under checks"}
	}
	a := paperAnswer{Files: []string{}, Papers: list}
	held := 0
	for _, one := range list {
		if one.Held {
			held++
		}
	}
	if c.Out != "" {
		if a.Files, err = c.write(in, list); err != nil {
			return unwritten("paper", err)
		}
	}
	if c.JSON {
		if err := p.json(a); err != nil {
			return err
		}
	} else {
		c.show(p, a)
	}
	if held > 0 {
		return outcome{exitFaults, fmt.Sprintf("trenchwright paper: %s held back by a hard stop", plural(held, "paper is", "papers are"))}
	}
	return nil
}

// write puts the papers that nothing holds back into the folder, each as PDF and as data.
func (c *paperCommand) write(in papers.Input, list []papers.Paper) ([]string, error) {
	files := []string{}
	if err := os.MkdirAll(c.Out, 0o755); err != nil {
		return files, err
	}
	for _, one := range list {
		if one.Held {
			continue
		}
		document, err := light.PaperDocument(in, one)
		if err != nil {
			return files, err
		}
		var data bytes.Buffer
		e := json.NewEncoder(&data)
		e.SetIndent("", " ")
		e.SetEscapeHTML(false)
		if err := e.Encode(one); err != nil {
			return files, err
		}
		for _, f := range []struct {
			ending string
			data   []byte
		}{{".pdf", document}, {".json", data.Bytes()}} {
			name := filepath.Join(c.Out, one.Name+f.ending)
			if err := replaceFile(name, f.data); err != nil {
				return files, err
			}
			files = append(files, name)
		}
	}
	return files, nil
}

// show says what was written, what holds the others back, and who answers for what.
func (c *paperCommand) show(p program, a paperAnswer) {
	for _, f := range a.Files {
		fmt.Fprintln(p.out, f)
	}
	for _, one := range a.Papers {
		if one.Held {
			fmt.Fprintf(p.out, "HELD BACK: %s, %s\n", one.Title, one.Of)
		} else if c.Out == "" {
			fmt.Fprintf(p.out, "%s, %s: nothing holds it back; -o DIR writes it\n", one.Title, one.Of)
		}
		for _, s := range one.Stops {
			if s.Over != nil {
				fmt.Fprintf(p.out, "  overridden by %s (%s): %s\n", s.Over.By, s.Source, s.What)
				continue
			}
			fmt.Fprintf(p.out, "stop %s: %s\n", s.Name, s.Say())
			fmt.Fprintf(p.out, "  to override, write into the job, with a document of its own:\n  %s\n", s.Entry())
		}
	}
}

// list is every kind under its stage, and which of those that need no choice are held back.
func (c *paperCommand) list(p program, in papers.Input, all []papers.Paper) error {
	if c.JSON {
		return p.json(paperAnswer{Files: []string{}, Papers: all})
	}
	l, stage := p.lines(), ""
	for _, k := range papers.Kinds() {
		name := ""
		if k.Stage != stage {
			stage, name = k.Stage, k.Stage
		}
		if k.Choice != "" {
			l.row(name, k.Word+"\t"+k.Title+"\tof "+k.Choice)
			continue
		}
		n, of := 0, 0
		for _, one := range all {
			if one.Kind == k.Word {
				of++
			}
		}
		const singly = 4 // more than that are told by their number, but for those that are held back or answered for
		if of > singly {
			l.row(name, fmt.Sprintf("%s\t%s\t%d of them", k.Word, k.Title, of))
			name = ""
		}
		for _, one := range all {
			if one.Kind != k.Word {
				continue
			}
			n++
			if of > singly && len(one.Stops) == 0 {
				continue
			}
			state := "ready"
			if one.Held {
				holding := 0
				for _, s := range one.Stops {
					if s.Over == nil {
						holding++
					}
				}
				state = "HELD BACK by " + plural(holding, "stop", "stops")
			} else if len(one.Stops) > 0 {
				state = "ready, with " + plural(len(one.Stops), "stop", "stops") + " that somebody answers for"
			}
			l.row(name, k.Word+"\t"+k.Title+"\t"+one.Of+": "+state)
			name = ""
		}
		if n == 0 {
			l.row(name, k.Word+"\t"+k.Title+"\tnothing on file to fill it")
		}
	}
	if err := l.w.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(p.out, "\nHeld back by a hard stop:")
	for _, k := range papers.Kinds() {
		if k.Holds != "" {
			fmt.Fprintf(p.out, "  %s: %s\n", k.Word, k.Holds)
		}
	}
	for _, name := range papers.Unmatched(in.Job, all) {
		fmt.Fprintf(p.out, "override of %s: no such stop holds anything back now\n", name)
	}
	return nil
}

// Help is shown below the flags.
func (paperCommand) Help() string {
	return `Examples:

    trenchwright paper job.yaml
    trenchwright paper job.yaml lift --lift L1 -o papers
    trenchwright paper job.yaml permit --leg A --records site.ndjson -o papers
    trenchwright paper job.yaml question --place A-004 --ask "may the wall be cored here?" --by 2026-03-20 -o papers
    trenchwright paper job.yaml open-end --place A-004/A-005 -o papers

Papers are filled from the job, its plan and its records, and blank where a person decides; what nobody entered reads NOT CHECKED. A hard
stop holds back a lift plan, a permit to dig or a method statement: what was done and found is recorded all the same. It is overridden by
an entry in the job, under overrides, with a named person, a reason and a document; the paper then has all of it on its face, and an
override counts for the figures that it was given for and for no others. Nothing here releases anything.`
}
