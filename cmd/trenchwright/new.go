package main

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/view/jobtext"
	"trenchwright/view/routein"
)

// newCommand writes a job to start from, with an invented supply, and with a route that exists already where one is given.
type newCommand struct {
	Dir       string `arg:"" help:"Folder for the new job; it is made."`
	From      string `help:"Take the route from this file: an alignment in LandXML, or a list of points." type:"existingfile" placeholder:"FILE"`
	Line      string `help:"Which line was drawn: centreline, inner-face, outer-face, trench-edge or offset." placeholder:"LINE"`
	Side      string `help:"On which side of the centreline that line lies, looking along it: left or right." placeholder:"SIDE"`
	Offset    string `help:"For trench-edge and offset: its distance from the centreline." placeholder:"LENGTH"`
	Of        string `help:"For offset: what was drawn, for example kerb." placeholder:"WHAT"`
	Alignment string `help:"LandXML: which alignment, where there are several." placeholder:"NAME"`
	Columns   string `help:"Points: the order of the columns, for example P,E,N,Z; from the heading where left out." placeholder:"ORDER"`
	Unit      string `help:"Unit of a file that states none: m, ft or usft." placeholder:"UNIT"`
	Spiral    string `help:"LandXML: how far arcs that stand for a spiral may leave it; without it a spiral is refused." placeholder:"LENGTH"`
}

// Run writes the job; it never overwrites one.
func (c *newCommand) Run(p program) error {
	text := []byte(demo.Starter())
	if c.From != "" {
		var err error
		if text, err = c.imported(p); err != nil {
			return err
		}
	}
	if err := os.MkdirAll(c.Dir, 0o755); err != nil {
		return outcome{exitBroken, "trenchwright: " + err.Error()}
	}
	at := filepath.Join(c.Dir, "job.yaml")
	f, err := os.OpenFile(at, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, os.ErrExist) {
		return outcome{exitFaults, "trenchwright new: " + at + " is there already and is left as it is; give another folder"}
	}
	if err != nil {
		return outcome{exitBroken, "trenchwright: " + err.Error()}
	}
	defer f.Close()
	if _, err := f.Write(text); err != nil {
		return err
	}
	fmt.Fprintf(p.out, "Wrote %s.\nIts supply is invented: put your supplier's and contract's figures in, then:\n  trenchwright plan %s -o %s\n", at, at, filepath.Join(c.Dir, "pack"))
	return f.Close()
}

// imported is the starter with the route of the file in place of its own.
func (c *newCommand) imported(p program) ([]byte, error) {
	w, err := c.want()
	if err != nil {
		return nil, outcome{exitUsage, "trenchwright new: " + err.Error()}
	}
	f, err := os.Open(c.From)
	if err != nil {
		return nil, outcome{exitBroken, "trenchwright: " + err.Error()}
	}
	defer f.Close()
	hash := sha256.New()
	in, found := routein.Read(io.TeeReader(f, hash), w)
	if _, err := io.Copy(hash, f); err != nil {
		return nil, outcome{exitBroken, "trenchwright: " + err.Error()}
	}
	fmt.Fprint(p.err, found.Render(measure.Metric))
	if len(in.Route.Legs) == 0 {
		return nil, outcome{exitFaults, "Nothing was written."}
	}
	j, faults := jobtext.Read("starter.yaml", strings.NewReader(demo.Starter()))
	if faults.Any(finding.Fault) {
		return nil, errors.New("the starter has faults: " + faultText(faults))
	}
	name := filepath.Base(c.From)
	j.Name, j.Coordinates, j.Route = "Run from "+name, in.Coordinates, in.Route
	j.Attachments = append(j.Attachments, job.Attachment{Name: name, SHA256: fmt.Sprintf("%x", hash.Sum(nil)), Role: "survey"})
	var b bytes.Buffer
	fmt.Fprintf(&b, "# A job for trenchwright. Its route came from %s. Its supply is INVENTED to show the form: put your supplier's in.\n# All fields: trenchwright help job\n\n", name)
	if err := jobtext.WriteYAML(&b, j); err != nil {
		return nil, err
	}
	for _, h := range in.Heard {
		fmt.Fprintln(p.out, "understood: "+h)
	}
	fmt.Fprintf(p.out, "understood: the line that was drawn is the %s; coordinates in %s\n", j.Coordinates.Line.Kind, j.Coordinates.Unit)
	return b.Bytes(), nil
}

func (c *newCommand) want() (routein.Want, error) {
	w := routein.Want{File: c.From, Alignment: c.Alignment, Columns: c.Columns,
		Line: job.DrawnLine{Kind: c.Line, Side: c.Side, From: c.Of}}
	if c.Offset != "" {
		r, err := length("--offset", c.Offset)
		if err != nil {
			return w, err
		}
		w.Line.Offset = r.Length
	}
	if c.Spiral != "" {
		r, err := length("--spiral", c.Spiral)
		if err != nil {
			return w, err
		}
		w.Spiral = r.Length
	}
	if c.Unit != "" {
		u, err := measure.ParseUnit(c.Unit)
		if err != nil {
			return w, fmt.Errorf("--unit: %w", err)
		}
		w.Unit = u
	}
	return w, nil
}
