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
	File    string   `arg:"" help:"The file of records; it is only added to. It is made where there is none."`
	Kind    string   `arg:"" help:"What it is about: delivery, damage, count, service, \"trial hole\", set-up, check, level, rock, set, gap, angle, cut, entry, bond, fabric, layer, \"layer test\", area, part, cover, \"cover test\", inspection, notice, release, event, nonconforming, repair, shot, diary, note, photo, \"voice note\"."`
	From    string   `arg:"" optional:"" help:"A place: a unit, a joint, a cover, a node."`
	To      string   `arg:"" optional:"" help:"The last place of a stretch."`
	Job     string   `help:"The job: says at once whether the place is of its plan, and what was recorded there before." placeholder:"FILE"`
	By      string   `help:"Who did or measured it. Without it, the name that this machine knows." placeholder:"NAME"`
	Role    string   `help:"As what. What an inspector reads stands beside what others read." placeholder:"ROLE"`
	Device  string   `help:"Which device writes." default:"office" placeholder:"NAME"`
	With    string   `help:"Instrument that it was measured with." placeholder:"NAME"`
	Checked string   `help:"Day of that instrument's last check or calibration." placeholder:"DATE"`
	Cert    string   `name:"certificate" help:"Certificate of that calibration." placeholder:"NAME"`
	Due     string   `help:"Last day of that calibration, as the certificate has it." placeholder:"DATE"`
	SetUp   string   `help:"Which standing of that instrument." placeholder:"NAME"`
	Rule    string   `help:"What it is held against: a limit each way, then where it is written: \"5 mm, drawing 7\"." placeholder:"TEXT"`
	Fix     string   `help:"Where the device was: latitude, longitude and within how many metres: 51.5,-0.125,4." placeholder:"LAT,LON,M"`
	Photo   []string `help:"A photo of it; its hash goes into the record, the file stays where it is." placeholder:"FILE" sep:"none"`
	Voice   string   `help:"What was spoken, by its hash, as a voice note." placeholder:"FILE"`
	Plus    string   `help:"How well it was read, each way." placeholder:"LENGTH"`
	Text    string   `help:"In your own words." placeholder:"TEXT"`
	Within  bool     `help:"set, level: all within the rule, but for what --off names."`
	Off     []string `help:"set: the end of a unit, ahead of its place or (joined to the flag) behind: A-019=7mm, A-020=-3mm. check: by how much the instrument is out." placeholder:"PLACE=LENGTH"`
	Line    string   `help:"set: how far it is off the line, to the right or (joined to the flag) to the left." placeholder:"LENGTH"`
	Batch   string   `help:"set: the supplier's batch." placeholder:"TEXT"`
	Length  string   `help:"set: of one unit, as measured." placeholder:"LENGTH"`
	Lifted  bool     `help:"set, cover: taken out again."`
	Left    string   `help:"gap, set, cut: at the left wall." placeholder:"LENGTH"`
	Right   string   `help:"gap, set, cut: at the right wall." placeholder:"LENGTH"`
	Kept    string   `help:"cut: which end of what it was cut from the piece kept: A, B or neither." enum:"A,B,neither," default:""`
	Angle   string   `help:"angle: of the bend." placeholder:"ANGLE"`
	Of      string   `help:"level: of what: formation, bed, pad, wall, invert or drain." placeholder:"THING"`
	Level   string   `help:"level: as a level. set-up: of the benchmark." placeholder:"LEVEL"`
	Four    []string `help:"level, rock, set: at the four corners: start left, start right, end left, end right; - where one was not read." placeholder:"LEVEL"`
	Rod     []string `help:"level, set-up: as read on the rod, once or at the four corners; - where one was not read." placeholder:"LENGTH"`
	On      string   `help:"set-up: the benchmark." placeholder:"NAME"`
	Closes  bool     `help:"set-up: it stands already, and this is what it reads on another benchmark, or on the same once more."`
	Packer  string   `help:"rock: what was put under it." placeholder:"LENGTH"`
	Corner  string   `help:"rock: under which corner." placeholder:"CORNER"`
	Number  int      `help:"layer: from the bottom." placeholder:"N"`
	Side    string   `help:"layer: left, right or both." enum:"left,right,both" default:"both"`
	Thick   string   `help:"layer: how thick." placeholder:"LENGTH"`
	Passes  int      `help:"layer: of the plant." placeholder:"N"`
	Top     bool     `help:"layer: the last one, up to its level."`
	Method  string   `help:"bond, layer test, cover test, check: how it was tested." placeholder:"TEXT"`
	Value   string   `help:"bond, layer test, cover test: what it came to." placeholder:"TEXT"`
	Limit   string   `help:"bond, layer test, cover test: what it is held against." placeholder:"TEXT"`
	Met     string   `help:"bond, layer test, cover test, check: whether it met that, yes or no." enum:"yes,no," default:""`
	Point   string   `help:"inspection, notice, release: the hold or witness point." placeholder:"NAME"`
	Party   string   `help:"notice: to whom. release: who releases. area: to whom: cables, civil or client." placeholder:"NAME"`
	Until   string   `help:"release: until when: 2026-11-27T18:00:00Z." placeholder:"TIME"`
	Lapses  []string `help:"release: what ends it: rain, frost, water, shift." placeholder:"EVENT"`
	Result  string   `help:"inspection: meets, does not meet or cannot say." placeholder:"TEXT"`
	What    string   `help:"event: rain, frost, water or shift. nonconforming: what it is. part: its name." placeholder:"TEXT"`
	No      string   `help:"nonconforming, repair: its number." placeholder:"TEXT"`
	Closed  bool     `help:"nonconforming, repair: it is closed."`
	Piece   []string `help:"delivery, count, damage, cut (what it was cut from): so many of one piece: \"SUPPLY unit 3000mm=12\", \"SUPPLY cover A-004.1=1\"." placeholder:"PIECE=N"`
	Broken  []string `help:"delivery: how many of them cannot be used." placeholder:"PIECE=N"`
	Goods   []string `help:"delivery: stone, fill, concrete and what else is no unit and no cover, as the ticket has it: \"stone=18.5 t\", \"fill=12 m3\"." placeholder:"WHAT=AMOUNT"`
	Ticket  string   `help:"delivery: its number." placeholder:"TEXT"`

	Corrects string `help:"The id of a record that this one takes the place of." placeholder:"ID"`
	Says     string `help:"What it says, as JSON, in place of flags: for what there is no flag for." placeholder:"JSON"`
}

// Run adds a record. Whatever it says is taken: what is odd about it is told, and is a fact all the same.
func (c *recordCommand) Run(p program) error {
	a := reading{asked: asked{command: "record"}}
	says := c.says(&a)
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
	if err := c.beside(&r); err != nil {
		return err
	}
	var b *field.Book
	var run *field.Run
	if c.Job != "" {
		t, err := p.ask("record", c.Job)
		if err != nil {
			return err
		}
		r.Job = t.job.ID
		run = t.plan.Places()
		b = field.NewBook(run).Under(field.Asks(t.job))
		b.Add(known...)
		r.After = b.Before(r.Kind, r.From, r.To)
		if c.Point != "" {
			r.After = b.BeforePoint(c.Point, r.From, r.To)
		}
	}
	seen := map[string]int{}
	for _, k := range known {
		seen[k.Device] = max(seen[k.Device], k.Number)
	}
	r.Number = seen[c.Device] + 1
	says = stood(knowing(says, seen), &r, known)
	if run != nil {
		says = run.Writes(&r, says)
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
	for _, text := range a.read {
		fmt.Fprintln(p.out, "  "+text)
	}
	if b != nil {
		said := map[string]bool{} // what was odd before is not told again
		for _, f := range b.State("").Findings {
			said[f.Text] = true
		}
		b.Add(r)
		for _, f := range b.State("").Findings {
			if !said[f.Text] && (strings.Contains(f.Text, r.ID) || strings.Contains(f.Text, r.Person)) {
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
