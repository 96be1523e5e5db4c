package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// reading is flags as they are read, and what they were understood as.
type reading struct {
	asked
	read []string
}

// length reads a length; a bare number is in millimetres. What was not given is 0.
func (a *reading) length(name, text string) measure.Length {
	if text == "" {
		return 0
	}
	r, err := measure.ParseIn(text, measure.UnitMillimetre)
	if err != nil {
		a.fault(name, "%v", err)
		return 0
	}
	a.echo(name, r.Length)
	return r.Length
}

// level reads a level or what a rod shows, which has to say its unit.
func (a *reading) level(name, text string) measure.Length {
	r, err := measure.Parse(text)
	if err != nil {
		a.fault(name, "%v", err)
		return 0
	}
	a.echo(name, r.Length)
	return r.Length
}

// echo tells how a reading was understood: in metres, in feet and tenths, in feet and inches.
func (a *reading) echo(name string, l measure.Length) {
	a.read = append(a.read, strings.TrimLeft(name, "-")+" "+inAll(l))
}

// maybe is a length that may be left out.
func (a *reading) maybe(name, text string) *measure.Length {
	if text == "" {
		return nil
	}
	return new(a.length(name, text))
}

// walls are lengths at the left and the right wall; it says which of them was not read.
func (a *reading) walls(c *recordCommand) (left, right *measure.Length) {
	left, right = a.maybe("--left", c.Left), a.maybe("--right", c.Right)
	switch {
	case left == nil:
		a.read = append(a.read, "the left wall was not read")
	case right == nil:
		a.read = append(a.read, "the right wall was not read")
	}
	return left, right
}

// notRead stands in place of a reading at a corner where none was taken.
const notRead = "-"

// corners are readings in the order of the corners; where some are left out it gives the names of those that were taken.
func (a *reading) corners(name string, texts []string) (list []measure.Length, read []string) {
	if len(texts) > 4 {
		a.fault(name, "there are four corners, and %d are given: start left, start right, end left, end right", len(texts))
		return nil, nil
	}
	if name == "--rod" && len(texts) == 1 {
		return []measure.Length{a.level(name, texts[0])}, nil // one for all
	}
	for i, t := range texts {
		if t != notRead {
			list, read = append(list, a.level(name+" "+field.Corners[i], t)), append(read, field.Corners[i])
		}
	}
	if len(texts) == 0 || len(list) == 4 {
		return list, nil
	}
	var not []string
	for _, c := range field.Corners {
		if !slices.Contains(read, c) {
			not = append(not, c)
		}
	}
	a.read = append(a.read, "not read: "+strings.Join(not, ", "))
	return list, read
}

// says is what the flags come to for the kind.
func (c *recordCommand) says(a *reading) any {
	if c.Says != "" {
		if !json.Valid([]byte(c.Says)) {
			a.fault("--says", "%q is no JSON", c.Says)
		}
		return nil
	}
	plus := a.length("--plus", c.Plus)
	switch k := field.Kind(c.Kind); k {
	case field.Set:
		return c.set(a, plus)
	case field.Gap:
		if c.Left == "" && c.Right == "" {
			a.fault("--left", "a gap is measured at its walls: --left, --right or both")
		}
		left, right := a.walls(c)
		return field.GapSays{Left: left, Right: right, Plus: plus}
	case field.Angle:
		angle, err := measure.ParseAngle(c.Angle)
		if err != nil {
			a.fault("--angle", "%v", err)
		}
		return field.AngleSays{Angle: angle.Value}
	case field.SetUp, field.Level, field.Rock, field.Check:
		return c.instrument(a, k, plus)
	case field.Cover:
		return field.CoverSays{Done: map[bool]string{true: "lifted", false: "laid"}[c.Lifted]}
	case field.Layer:
		if c.Number < 1 {
			a.fault("--number", "which layer it is, counted from the bottom")
		}
		return field.LayerSays{Number: c.Number, Side: c.Side, Thick: a.length("--thick", c.Thick), Passes: c.Passes, Top: c.Top}
	case field.LayerTest, field.Bond, field.CoverTest:
		says := field.TestSays{Number: c.Number, Method: c.Method, Value: c.Value, Limit: c.Limit, Met: yesOrNo(c.Met)}
		if k == field.LayerTest {
			says.Side = c.Side
		}
		return says
	case field.Delivery, field.Count, field.Damage, field.Cut:
		return c.yard(a, k)
	case field.Voice:
		if c.Voice == "" {
			a.fault("--voice", "which file holds what was spoken")
		}
		hash, err := hashOf(c.Voice)
		if err != nil {
			a.fault("--voice", "%v", err)
		}
		return field.VoiceSays{SHA256: hash}
	}
	return c.point(a)
}

func (c *recordCommand) set(a *reading, plus measure.Length) field.SetSays {
	s := field.SetSays{Within: c.Within, Lifted: c.Lifted, Plus: plus, Batch: c.Batch, Line: a.maybe("--line", c.Line), Left: a.maybe("--left", c.Left), Right: a.maybe("--right", c.Right)}
	s.Walls, s.Read = a.corners("--four", c.Four)
	for _, text := range c.Off {
		place, by, ok := strings.Cut(text, "=")
		if !ok {
			a.fault("--off", "%q is not a place and how far off it is; write for example A-019=7mm", text)
			continue
		}
		s.Off = append(s.Off, field.Off{Place: place, By: a.length("--off", by)})
	}
	s.Measure = a.maybe("--length", c.Length)
	return s
}

// instrument is what is read with one, and about one.
func (c *recordCommand) instrument(a *reading, k field.Kind, plus measure.Length) any {
	switch k {
	case field.Check:
		says := field.CheckSays{Method: c.Method, Met: yesOrNo(c.Met)}
		if c.With == "" {
			a.fault("--with", "which instrument was checked")
		}
		if len(c.Off) > 0 {
			says.Off = new(a.length("--off", c.Off[0]))
		}
		return says
	case field.Rock:
		says := field.RockSays{Packer: a.maybe("--packer", c.Packer), Corner: c.Corner, Plus: plus}
		says.Four, says.Read = a.corners("--four", c.Four)
		return says
	case field.SetUp:
		if c.On == "" || c.Level == "" || len(c.Rod) != 1 {
			a.fault("--on", "an instrument is set up on a benchmark: --on NAME, --level LEVEL, and what --rod shows on it")
			return nil
		}
		says := field.SetUpSays{Benchmark: c.On, Level: a.level("--level", c.Level), Rod: a.level("--rod", c.Rod[0]), Plus: plus, Closes: c.Closes}
		a.echo("height of instrument", says.Height())
		return says
	}
	says := field.LevelSays{Of: c.Of, Plus: plus}
	says.Four, says.Read = a.corners("--four", c.Four)
	if rod, read := a.corners("--rod", c.Rod); len(rod) > 0 {
		says.Rod = rod
		if len(says.Four) == 0 {
			says.Read = read
		}
	}
	switch {
	case c.Of == "":
		a.fault("--of", "of what: formation, bed, pad, wall, invert or drain")
	case c.Level != "":
		says.Level = new(a.level("--level", c.Level))
	case len(c.Rod)+len(c.Four) == 0 && !c.Within:
		a.fault("--level", "there is no reading: --level LEVEL, --four four levels, --rod what the rod shows, or --within")
	}
	if c.Within {
		says.Within = new(true)
	}
	return says
}

// yard is what comes, lies there, breaks and is cut.
func (c *recordCommand) yard(a *reading, k field.Kind) any {
	switch k {
	case field.Delivery:
		return field.DeliverySays{Ticket: c.Ticket, Lines: c.delivered(&a.asked), Goods: c.goods(&a.asked)}
	case field.Count:
		var s field.CountSays
		for _, text := range c.Piece {
			if piece, n, ok := pieces(&a.asked, "--piece", text); ok {
				s.Lines = append(s.Lines, field.Counted{Piece: piece, Count: n})
			}
		}
		return s
	}
	var piece field.Piece
	n := 0
	if len(c.Piece) > 0 {
		piece, n, _ = pieces(&a.asked, "--piece", c.Piece[0])
	}
	if k == field.Damage {
		if len(c.Piece) == 0 && c.From == "" {
			a.fault("--piece", "what is broken: a piece in the yard, or a place")
		}
		return field.DamageSays{Piece: piece, Count: n}
	}
	if c.Left == "" && c.Right == "" {
		a.fault("--left", "a cut piece has a length at its walls: --left, --right or both")
	}
	if len(c.Piece) == 0 {
		a.read = append(a.read, "what it was cut from is not said: nothing leaves the yard by it")
	}
	left, right := a.walls(c)
	return field.CutSays{Mark: c.From, From: piece, Left: left, Right: right, Kept: c.Kept}
}

// point is what is asked, found and released, and what stands for itself.
func (c *recordCommand) point(a *reading) any {
	switch field.Kind(c.Kind) {
	case field.Inspection, field.Notice, field.Release:
		if c.Point == "" {
			a.fault("--point", "which hold or witness point")
		}
		if !field.Readable(c.Until) {
			a.fault("--until", "a moment, 2026-11-27T18:00:00Z, or a day")
		}
		return field.PointSays{Point: c.Point, Party: c.Party, Until: c.Until, Lapses: c.Lapses, Result: c.Result}
	case field.Event:
		return field.EventSays{What: c.What}
	case field.Nonconforming, field.Repair:
		if c.No == "" {
			a.fault("--no", "the number of the nonconformance")
		}
		return field.MatterSays{Number: c.No, Closed: c.Closed, By: c.Party, What: c.What}
	case field.Area:
		return field.AreaSays{To: c.Party}
	case field.Part:
		return field.PartSays{Name: c.What, Count: c.Number}
	}
	return map[string]any{}
}

// stood takes the height of instrument from the records, for levels that were read on a rod.
func stood(says any, r *field.Record, known []field.Record) any {
	level, ok := says.(field.LevelSays)
	if !ok || len(level.Rod) == 0 || r.Instrument == nil {
		return says
	}
	b := field.NewBook(&field.Run{})
	b.Add(known...)
	if up, ok := b.SetUp(r.Instrument.ID, r.Device); ok {
		level.Height, r.Instrument.SetUp = new(up.Height), up.Name
	}
	return level
}

// knowing adds how far the records of each device were known to whoever counted, checked or released.
func knowing(says any, seen map[string]int) any {
	switch n := says.(type) {
	case field.CountSays:
		n.Seen = seen
		return n
	case field.CheckSays:
		n.Seen = seen
		return n
	case field.PointSays:
		n.Seen = seen
		return n
	}
	return says
}

// beside is what stands beside what a record says: the instrument, the rule, the place on earth, photos.
func (c *recordCommand) beside(r *field.Record) error {
	r.Rule = c.Rule
	if c.With != "" {
		r.Instrument = &field.Instrument{ID: c.With, Checked: c.Checked, SetUp: c.SetUp, Certificate: c.Cert, Due: c.Due}
	}
	if _, err := time.Parse(time.DateOnly, c.Due); c.Due != "" && err != nil {
		return outcome{exitUsage, fmt.Sprintf("trenchwright record: --due: %q is no day; write for example 2026-11-30", c.Due)}
	}
	if c.Fix != "" {
		r.Fix = &field.Fix{}
		if n, _ := fmt.Sscanf(c.Fix, "%g,%g,%g", &r.Fix.Latitude, &r.Fix.Longitude, &r.Fix.Within); n != 3 {
			return outcome{exitUsage, fmt.Sprintf("trenchwright record: --fix: %q is not a latitude, a longitude and metres; write for example 51.5,-0.125,4", c.Fix)}
		}
	}
	for _, file := range c.Photo {
		hash, err := hashOf(file)
		if err != nil {
			return outcome{exitUsage, "trenchwright record: --photo: " + err.Error()}
		}
		r.Photos = append(r.Photos, hash)
	}
	return nil
}

// hashOf is the SHA-256 of a file.
func hashOf(file string) (string, error) {
	f, err := os.Open(file)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

func yesOrNo(text string) *bool {
	if text == "" {
		return nil
	}
	return new(text == "yes")
}

// goods are what came beside units and covers; amounts stay as they were written.
func (c *recordCommand) goods(a *asked) []field.Goods {
	var list []field.Goods
	for _, text := range c.Goods {
		what, amount, ok := strings.Cut(text, "=")
		if what, amount = strings.TrimSpace(what), strings.TrimSpace(amount); !ok || what == "" || amount == "" {
			a.fault("--goods", "%q says not what came and how much; write for example stone=18.5 t", text)
			continue
		}
		list = append(list, field.Goods{What: what, Amount: amount, Batch: c.Batch})
	}
	return list
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
		return p, n, true
	}
	p.Mark = parts[2]
	if len(parts) > 3 { // an offcut, with its length
		r, err := measure.ParseIn(strings.Join(parts[3:], " "), measure.UnitMillimetre)
		if err != nil || r.Length <= 0 {
			a.fault(flag, `%q: behind the mark stands the length of the piece; write for example "T3 unit A-002/a 1240mm=1"`, text)
		}
		p.Length = r.Length
	}
	return p, n, true
}
