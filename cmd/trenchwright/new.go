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
	"trenchwright/job/planner"
	"trenchwright/view/dropped"
	"trenchwright/view/jobtext"
	"trenchwright/view/routein"
	"trenchwright/view/servicein"
)

// newCommand writes a job to start from, with an invented supply, and with a route that exists already where one is given.
type newCommand struct {
	Dir       string `arg:"" help:"Folder for the new job; it is made. The job is job.yaml in it, and is never written over."`
	From      string `help:"Take the route from this file: an alignment in LandXML, a line in GeoJSON, or a list of points." placeholder:"FILE"`
	Line      string `help:"Which line was drawn: centreline, inner-face, outer-face, trench-edge or offset. Needed with --from." placeholder:"LINE"`
	Side      string `help:"On which side of the centreline that line lies, looking along it: left or right." placeholder:"SIDE"`
	Offset    string `help:"For trench-edge and offset: how far that line lies from the centreline." placeholder:"LENGTH"`
	Of        string `help:"For offset: what was drawn, for example kerb." placeholder:"WHAT"`
	Alignment string `help:"LandXML and GeoJSON: which line, where there are several." placeholder:"NAME"`
	Together  bool   `help:"LandXML and GeoJSON: all lines together are the run, joined where their ends meet."`
	Points    string `help:"LandXML: the run goes through the points of this group, in the order of the file; all: through every point." placeholder:"GROUP"`
	Height    string `help:"GeoJSON: height of the job above the ellipsoid of WGS 84, for lengths on the ground." placeholder:"LENGTH"`
	Columns   string `help:"Points: the order of the columns, for example P,E,N,Z (P name, E easting, N northing, Z level, D remark, - passed over); from the heading where left out." placeholder:"ORDER"`
	Unit      string `help:"Unit of a file that states none: m, ft or usft (US survey foot)." placeholder:"UNIT"`
	Spiral    string `help:"LandXML: how far the arcs that stand for a spiral may leave it, for example 5mm; without it a spiral is refused." placeholder:"LENGTH"`
	Services  string `help:"Buried services that somebody recorded: those that cross the run go into the job. Needs --clear." placeholder:"FILE"`
	Clear     string `help:"With --services: each side of a service, where no joint may stand." placeholder:"LENGTH"`
	Width     string `help:"With --services: width of those whose width the file does not give." placeholder:"LENGTH"`
	JSON      bool   `name:"json" help:"Answer as JSON."`
}

// newAnswer is what `trenchwright new --json` prints.
type newAnswer struct {
	Job        string       `json:"job"` // the file that was written
	Understood []string     `json:"understood"`
	Findings   finding.List `json:"findings"` // of the file that the route came from
}

// Run writes the job; it never overwrites one.
func (c *newCommand) Run(p program) error {
	text, a := []byte(demo.Starter()), newAnswer{Understood: []string{}, Findings: finding.List{}}
	w, err := c.want()
	if err != nil {
		return err
	}
	if c.From != "" {
		if text, a, err = c.imported(p, w); err != nil {
			return err
		}
	}
	a.Job = filepath.Join(c.Dir, "job.yaml")
	if err := writeNew(a.Job, text); err != nil {
		return err
	}
	if c.JSON {
		return p.json(a)
	}
	fmt.Fprint(p.out, a.Findings.Render(measure.Metric))
	for _, h := range a.Understood {
		fmt.Fprintln(p.out, "understood: "+h)
	}
	fmt.Fprintf(p.out, "Wrote %s.\nIts supply is invented: put your supplier's and contract's figures in, then:\n  trenchwright plan %s -o %s\n", a.Job, a.Job, filepath.Join(c.Dir, "pack"))
	return nil
}

// writeNew makes a file that was not there, and its folder.
func writeNew(at string, text []byte) error {
	if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
		return unwritten("new", err)
	}
	f, err := os.OpenFile(at, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, os.ErrExist) {
		return outcome{exitFaults, "trenchwright new: " + at + " is there already and is left as it is; give another folder"}
	}
	if err != nil {
		return unwritten("new", err)
	}
	_, err = f.Write(text)
	if err = errors.Join(err, f.Close()); err != nil {
		return unwritten("new", errors.Join(err, os.Remove(at)))
	}
	return nil
}

// want reads what the command line says of the file.
func (c *newCommand) want() (routein.Want, error) {
	a := &asked{command: "new"}
	w := routein.Want{File: c.From, Alignment: c.Alignment, Together: c.Together, Points: c.Points, Columns: c.Columns, Line: job.DrawnLine{Kind: c.Line, Side: c.Side, From: c.Of}}
	if c.From == "" {
		for _, f := range []struct{ name, text string }{{"--line", c.Line}, {"--side", c.Side}, {"--offset", c.Offset}, {"--of", c.Of},
			{"--alignment", c.Alignment}, {"--points", c.Points}, {"--height", c.Height}, {"--services", c.Services}, {"--columns", c.Columns}, {"--unit", c.Unit}, {"--spiral", c.Spiral}} {
			if f.text != "" {
				a.fault(f.name, "it tells of the file that the route comes from; give that file with --from")
			}
		}
		return w, a.ends()
	}
	if c.Offset != "" {
		w.Line.Offset = a.positive("--offset", c.Offset, "a distance")
	}
	if c.Spiral != "" {
		w.Spiral = a.positive("--spiral", c.Spiral, "a tolerance")
	}
	c.crossing(a)
	if c.Height != "" {
		h := a.height("--height", c.Height)
		w.Height = &h
	}
	w.Unit = a.coordinateUnit(c.Unit)
	if len(a.faults) > 0 {
		return w, a.ends()
	}
	for _, f := range w.Faults() {
		a.fault("--"+f.Where.Path, "%s; write %s", f.Text, f.Try)
	}
	err := a.ends()
	if o, ok := err.(outcome); ok && c.Line == "" {
		o.text += "\n" + linesText()
		err = o
	}
	return w, err
}

// crossing reads what the command line says of recorded services.
func (c *newCommand) crossing(a *asked) servicein.Want {
	w := servicein.Want{File: c.Services}
	for _, f := range []struct {
		name, text string
		into       *measure.Length
	}{{"--clear", c.Clear, &w.Clear}, {"--width", c.Width, &w.Width}} {
		switch {
		case f.text != "" && c.Services == "":
			a.fault(f.name, "it tells of recorded services; give their file with --services")
		case f.text != "":
			*f.into = a.positive(f.name, f.text, "a distance")
		}
	}
	if c.Services != "" && c.Clear == "" {
		a.fault("--clear", "nobody has said how far joints have to stand from a service, and no file says it; write for example --clear 300mm")
	}
	return w
}

// crossed puts the recorded services that cross the run into the job.
func (c *newCommand) crossed(p program, j job.Job, a *newAnswer) error {
	if c.Services == "" {
		return nil
	}
	got, found, err := p.services(j, c.crossing(&asked{}))
	if err != nil {
		return err
	}
	a.Understood, a.Findings = append(a.Understood, got.Heard...), append(a.Findings, found...)
	for _, l := range got.Legs {
		for i := range j.Route.Legs {
			if j.Route.Legs[i].ID == l.Leg {
				j.Route.Legs[i].Services = l.Services
			}
		}
	}
	return nil
}

// linesText lists the lines that can be drawn.
func linesText() string {
	var b strings.Builder
	for _, l := range routein.Lines() {
		fmt.Fprintf(&b, "  --line %-12s %s\n", l[0], l[1])
	}
	return strings.TrimRight(b.String(), "\n")
}

// imported is the starter with the route of the file in place of its own, as text that was read back.
func (c *newCommand) imported(p program, w routein.Want) ([]byte, newAnswer, error) {
	a := newAnswer{}
	f, err := p.open("new", c.From)
	if err != nil {
		return nil, a, err
	}
	defer f.Close()
	hash := sha256.New()
	in, found := routein.Read(io.TeeReader(f, hash), w)
	if found.Any(finding.Fault) {
		fmt.Fprint(p.err, found.Render(measure.Metric))
		return nil, a, outcome{exitFaults, "Nothing was written. What the file does not say, the command line can: see trenchwright new -h."}
	}
	if _, err := io.Copy(hash, f); err != nil {
		return nil, a, outcome{exitBroken, "trenchwright new: " + err.Error()}
	}
	a.Understood, a.Findings = in.Heard, found
	j, faults := jobtext.Read("starter.yaml", strings.NewReader(demo.Starter()))
	if len(faults) > 0 {
		return nil, a, errors.New("the starter has faults: " + faultText(faults))
	}
	name := filepath.Base(c.From)
	survey := job.Attachment{Name: name, SHA256: fmt.Sprintf("%x", hash.Sum(nil)), Role: "survey"}
	j.Programme = nil // its load is for a leg of the route that is replaced
	j = dropped.Routed(j, in, survey)
	if j.Name = "Run from " + name; in.Name != "" {
		j.Name += ", " + in.Name
	}
	if err := c.crossed(p, j, &a); err != nil {
		return nil, a, err
	}
	text, err := commented(j, survey, in)
	if err != nil {
		return nil, a, err
	}
	return text, a, p.usable(c.From, text)
}

// commented is a job as YAML below a few lines that say where it came from.
func commented(j job.Job, survey job.Attachment, in routein.Route) ([]byte, error) {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# A job for trenchwright. Its route came from %s,\n# SHA-256 %s; what was understood:\n", oneLine(survey.Name), survey.SHA256)
	for _, h := range in.Heard {
		fmt.Fprintln(&b, "#   "+oneLine(h))
	}
	fmt.Fprint(&b, "# Its supply is INVENTED to show the form, figure by figure: put your supplier's and contract's own in.\n"+
		"# All fields: trenchwright help job\n\n")
	err := jobtext.WriteYAML(&b, j)
	return b.Bytes(), err
}

// oneLine keeps what somebody else wrote from leaving its comment.
func oneLine(text string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r == 0x85 || r == 0x2028 || r == 0x2029 {
			return ' '
		}
		return r
	}, text)
}

// usable refuses a route that no job can have: what check would call a fault is said before anything is written.
func (p program) usable(from string, text []byte) error {
	j, faults := jobtext.Read("job.yaml", bytes.NewReader(text))
	if len(faults) == 0 {
		for _, f := range planner.Look(j) {
			if f.Kind == finding.Fault {
				faults = append(faults, f)
			}
		}
	}
	if len(faults) == 0 {
		return nil
	}
	fmt.Fprint(p.err, faults.Say(j.Speech()))
	return outcome{exitFaults, fmt.Sprintf("%s cannot be a run as it stands: %s; nothing was written. Nodes N1, N2 … stand in the order of the file.", from, plural(len(faults), "fault", "faults"))}
}
