package main

import (
	"bytes"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/user"
	"strings"
	"time"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// recordCommand adds one record to a file of records.
type recordCommand struct {
	File   string   `arg:"" help:"The file of records; it is only added to. It is made where there is none."`
	Kind   string   `arg:"" help:"What it is about: set, gap, angle, cover, layer, delivery, count or note; any other kind with --says."`
	From   string   `arg:"" optional:"" help:"A place: a unit, a joint, a cover, a node."`
	To     string   `arg:"" optional:"" help:"The last place of a stretch."`
	Job    string   `help:"The job: says at once whether the place is of its plan, and what was recorded there before." placeholder:"FILE"`
	By     string   `help:"Who did or measured it. Without it, the name that this machine knows." placeholder:"NAME"`
	Role   string   `help:"As what." placeholder:"ROLE"`
	Device string   `help:"Which device writes." default:"office" placeholder:"NAME"`
	With   string   `help:"Instrument that it was measured with." placeholder:"NAME"`
	Plus   string   `help:"How well it was read, each way." placeholder:"LENGTH"`
	Text   string   `help:"In your own words." placeholder:"TEXT"`
	Within bool     `help:"set: all within the rule, but for what --off names."`
	Off    []string `help:"set: the end of a unit, ahead of its place or (joined to the flag) behind: A-019=7mm, A-020=-3mm." placeholder:"PLACE=LENGTH"`
	Length string   `help:"set: of one unit, as measured." placeholder:"LENGTH"`
	Lifted bool     `help:"set, cover: taken out again."`
	Left   string   `help:"gap: at the left wall." placeholder:"LENGTH"`
	Right  string   `help:"gap: at the right wall." placeholder:"LENGTH"`
	Angle  string   `help:"angle: of the bend." placeholder:"ANGLE"`
	Number int      `help:"layer: from the bottom." placeholder:"N"`
	Side   string   `help:"layer: left, right or both." enum:"left,right,both" default:"both"`
	Thick  string   `help:"layer: how thick." placeholder:"LENGTH"`
	Passes int      `help:"layer: of the plant." placeholder:"N"`
	Piece  []string `help:"delivery, count: so many of one piece: \"SUPPLY unit 3000mm=12\", \"SUPPLY cover A-004.1=1\"." placeholder:"PIECE=N"`
	Broken []string `help:"delivery: how many of them cannot be used." placeholder:"PIECE=N"`
	Ticket string   `help:"delivery: its number." placeholder:"TEXT"`

	Corrects string `help:"The id of a record that this one takes the place of." placeholder:"ID"`
	Says     string `help:"What a record of another kind says, as JSON." placeholder:"JSON"`
}

// Run adds a record. Whatever it says is taken: what is odd about it is told, and is a fact all the same.
func (c *recordCommand) Run(p program) error {
	a := &asked{command: "record"}
	says := c.says(a)
	if err := a.ends(); err != nil {
		return err
	}
	known, faults, err := recordsIn(c.File)
	if err != nil {
		return outcome{exitUsage, fmt.Sprintf("trenchwright record: %s: %v", c.File, err)}
	}
	if len(faults) > 0 {
		fmt.Fprint(p.err, faults.Render(measure.Metric))
	}
	r := field.Record{Device: c.Device, Person: c.by(), Role: c.Role, Made: time.Now().Format(time.RFC3339), Kind: field.Kind(c.Kind), From: c.From, To: c.To, Corrects: c.Corrects, Text: c.Text}
	if c.With != "" {
		r.Instrument = &field.Instrument{ID: c.With}
	}
	var b *field.Book
	if c.Job != "" {
		t, err := p.ask("record", c.Job)
		if err != nil {
			return err
		}
		r.Job = t.job.ID
		b = field.NewBook(t.plan.Places())
		b.Add(known...)
		r.After = b.Before(r.Kind, r.From, r.To)
	}
	seen := map[string]int{}
	for _, k := range known {
		seen[k.Device] = max(seen[k.Device], k.Number)
	}
	r.Number = seen[c.Device] + 1
	if n, ok := says.(field.CountSays); ok {
		n.Seen = seen
		says = n
	}
	if r.Says, err = json.Marshal(says); err != nil {
		return err
	}
	if c.Says != "" {
		r.Says = json.RawMessage(c.Says)
	}
	var chance [10]byte
	if _, err := rand.Read(chance[:]); err != nil {
		return err
	}
	r.ID = field.ULID(time.Now().UnixMilli(), chance)
	if err := added(c.File, r); err != nil {
		return err
	}
	fmt.Fprintf(p.out, "recorded %s, number %d of %s, by %s\n", r.ID, r.Number, r.Device, r.Person)
	if b != nil {
		b.Add(r)
		for _, f := range b.State("").Findings {
			if strings.Contains(f.Text, r.ID) || strings.Contains(f.Text, r.Person) {
				fmt.Fprintln(p.out, f.Sentence())
			}
		}
	}
	return nil
}

func (c *recordCommand) by() string {
	if c.By != "" {
		return c.By
	}
	if u, err := user.Current(); err == nil && u.Username != "" {
		return u.Username
	}
	return "somebody who gave no name"
}

// says is what the flags come to for the kind.
func (c *recordCommand) says(a *asked) any {
	length := func(name, text string) measure.Length {
		if text == "" {
			return 0
		}
		r, err := measure.ParseIn(text, measure.UnitMillimetre)
		if err != nil {
			a.fault(name, "%v", err)
		}
		return r.Length
	}
	plus := length("--plus", c.Plus)
	if c.Says != "" {
		if !json.Valid([]byte(c.Says)) {
			a.fault("--says", "%q is no JSON", c.Says)
		}
		return nil
	}
	switch field.Kind(c.Kind) {
	case field.Set:
		s := field.SetSays{Within: c.Within, Lifted: c.Lifted, Plus: plus}
		for _, text := range c.Off {
			place, by, ok := strings.Cut(text, "=")
			if !ok {
				a.fault("--off", "%q is not a place and how far off it is; write for example A-019=7mm", text)
				continue
			}
			s.Off = append(s.Off, field.Off{Place: place, By: length("--off", by)})
		}
		if c.Length != "" {
			s.Measure = new(length("--length", c.Length))
		}
		return s
	case field.Gap:
		if c.Left == "" || c.Right == "" {
			a.fault("--left", "a gap is measured at both walls: --left and --right")
		}
		return field.GapSays{Left: length("--left", c.Left), Right: length("--right", c.Right), Plus: plus}
	case field.Angle:
		angle, err := measure.ParseAngle(c.Angle)
		if err != nil {
			a.fault("--angle", "%v", err)
		}
		return field.AngleSays{Angle: angle.Value}
	case field.Cover:
		return field.CoverSays{Done: map[bool]string{true: "lifted", false: "laid"}[c.Lifted]}
	case field.Layer:
		if c.Number < 1 {
			a.fault("--number", "which layer it is, counted from the bottom")
		}
		return field.LayerSays{Number: c.Number, Side: c.Side, Thick: length("--thick", c.Thick), Passes: c.Passes}
	case field.Delivery:
		return field.DeliverySays{Ticket: c.Ticket, Lines: c.delivered(a)}
	case field.Count:
		var s field.CountSays
		for _, text := range c.Piece {
			if piece, n, ok := pieces(a, "--piece", text); ok {
				s.Lines = append(s.Lines, field.Counted{Piece: piece, Count: n})
			}
		}
		return s
	}
	return map[string]any{}
}

func (c *recordCommand) delivered(a *asked) []field.Delivered {
	var lines []field.Delivered
	for _, text := range c.Piece {
		if piece, n, ok := pieces(a, "--piece", text); ok {
			lines = append(lines, field.Delivered{Piece: piece, Came: n})
		}
	}
	for _, text := range c.Broken {
		piece, n, ok := pieces(a, "--broken", text)
		if !ok {
			continue
		}
		found := false
		for i := range lines {
			if lines[i].Piece == piece {
				lines[i].Damaged, found = n, true
			}
		}
		if !found {
			a.fault("--broken", "%q did not come with this delivery", text)
		}
	}
	return lines
}

// pieces reads "SUPPLY unit 3000mm=12": a supply, what of it, its length or its mark, and how many.
func pieces(a *asked, flag, text string) (field.Piece, int, bool) {
	name, number, ok := strings.Cut(text, "=")
	parts := strings.Fields(name)
	n := 0
	if _, err := fmt.Sscan(number, &n); !ok || err != nil || n < 0 || len(parts) < 3 || parts[1] != "unit" && parts[1] != "cover" {
		a.fault(flag, `%q is not a piece and how many; write for example "T3 unit 3000mm=12"`, text)
		return field.Piece{}, 0, false
	}
	p := field.Piece{Supply: parts[0], What: parts[1]}
	if r, err := measure.ParseIn(strings.Join(parts[2:], " "), measure.UnitMillimetre); err == nil && r.Length > 0 {
		p.Length = r.Length
	} else {
		p.Mark = parts[2]
	}
	return p, n, true
}

// recordsIn are the records of a file; none where there is no such file yet.
func recordsIn(file string) ([]field.Record, finding.List, error) {
	f, err := os.Open(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, nil
	}
	if err != nil {
		return nil, nil, err
	}
	defer f.Close()
	list, faults := field.Read(f)
	for i := range faults {
		faults[i].Where.File = file
	}
	return list, faults, nil
}

// added appends one record to a file, whole or not at all, and waits until the disk has it.
func added(file string, r field.Record) error {
	var line bytes.Buffer
	if err := field.Write(&line, []field.Record{r}); err != nil {
		return err
	}
	f, err := os.OpenFile(file, os.O_CREATE|os.O_RDWR|os.O_APPEND, 0o644)
	if err != nil {
		return err
	}
	defer f.Close()
	if end, err := f.Seek(0, 2); err == nil && end > 0 {
		last := make([]byte, 1)
		if _, err := f.ReadAt(last, end-1); err == nil && last[0] != '\n' {
			line = *bytes.NewBuffer(append([]byte{'\n'}, line.Bytes()...)) // the line before was cut short
		}
	}
	if _, err := f.Write(line.Bytes()); err != nil {
		return err
	}
	return f.Sync()
}
