package screen

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
)

// says is what the record of a form says; nil: it says nothing but where and in whose words.
func (h *hearing) says(m *unkept) any {
	switch h.q.Form {
	case "delivery":
		s := field.DeliverySays{Ticket: h.said("ticket")}
		h.lines(func() {
			s.Lines = append(s.Lines, field.Delivered{Piece: h.piece("piece"), Came: h.number("came"), Damaged: h.number("damaged"), Short: h.number("short"), Batch: h.said("batch")})
		})
		h.none(len(s.Lines), "what came")
		return s
	case "goods":
		s := field.DeliverySays{Ticket: h.said("ticket"), Lines: []field.Delivered{}}
		h.lines(func() {
			g := field.Goods{What: h.said("what"), Amount: h.said("amount"), Batch: h.said("batch")}
			if words := h.said("else"); g.What == elseKind || words != "" {
				g.What = words
			}
			if g.What == "" {
				h.out.Missing = append(h.out.Missing, "what else, in your words")
			}
			s.Goods = append(s.Goods, g)
		})
		h.none(len(s.Goods), "what came")
		return s
	case "count":
		s := field.CountSays{Seen: h.book.Seen()}
		h.lines(func() {
			if h.said("count") == "" {
				return // it was not counted
			}
			one := field.Counted{Piece: h.piece("piece"), Count: h.number("count")}
			for _, y := range h.is().Yard { // how the ends of an offcut are is known as before
				if y.Piece == one.Piece {
					one.Ends = y.Ends
				}
			}
			s.Lines = append(s.Lines, one)
		})
		h.none(len(s.Lines), "what was counted")
		return s
	case "damage":
		return field.DamageSays{Piece: h.piece("piece"), Count: max(1, h.number("count")), Usable: h.said("usable") == "yes"}
	case "broken":
		return field.DamageSays{Count: 1, Usable: h.said("usable") == "yes"}
	case "service", "trial":
		return h.service()
	case "formation", "pad", "wall", "invert", "drain":
		return h.level()
	case "setup", "closing":
		return h.setUp(h.q.Form == "closing")
	case "check":
		return h.checked()
	case "rock":
		s := field.RockSays{Packer: h.length("packer")}
		if s.Four, s.Read = h.four(); s.Packer != nil {
			s.Corner = h.said("corner")
		}
		return s
	case "set":
		return h.set()
	case "lifted":
		return field.SetSays{Lifted: true}
	case "figures":
		s := field.SetSays{Line: h.line("line"), Measure: h.length("measure"), Batch: h.said("batch"), Type: h.said("type")}
		if s.Walls, s.Read = h.four(); s.Line == nil && s.Measure == nil && s.Batch == "" && s.Type == "" && len(s.Walls) == 0 {
			h.out.Missing = append(h.out.Missing, "one of its figures")
		}
		return s
	case "gap":
		s := field.GapSays{Left: h.length("left"), Right: h.length("right")}
		h.walls(s.Left, s.Right)
		return s
	case "angle":
		text := h.said("angle")
		a, err := measure.ParseAngle(text)
		if text != "" {
			h.echo("angle", a.Value.String(), err)
		}
		return field.AngleSays{Angle: a.Value}
	case "cut":
		kept := strings.TrimPrefix(h.said("kept"), "end ")
		if kept == "not said" {
			kept = ""
		}
		s := field.CutSays{Kept: kept, Mark: m.From, From: h.piece("piece"), Left: h.length("left"), Right: h.length("right"), Offcut: *orNought(h.length("offcut")), Spoiled: h.said("spoiled") == "yes"}
		h.walls(s.Left, s.Right)
		return s
	case "layer":
		return field.LayerSays{Number: h.number("number"), Side: h.said("side"), Thick: *orNought(h.length("thick")), Passes: h.number("passes"), Plant: h.said("plant"), Top: h.said("top") == "yes"}
	case "layertest", "bond", "covertest":
		return field.TestSays{Number: h.number("number"), Side: h.said("side"), Method: h.said("method"), Value: h.said("value"), Limit: h.said("limit"), Met: h.yes("met", "yes", "no")}
	case "area":
		return field.AreaSays{To: h.said("to"), By: h.said("by"), Condition: h.said("condition"), Keys: h.number("keys"), Spares: h.said("spares")}
	case "part":
		return field.PartSays{Name: h.said("name"), Count: h.number("count")}
	case "cover", "coverlifted":
		return h.cover()
	}
	return h.saysOfPoints()
}

func orNought(l *measure.Length) *measure.Length {
	if l == nil {
		return new(measure.Length)
	}
	return l
}

// none asks for at least one line of a list.
func (h *hearing) none(lines int, what string) {
	if lines == 0 {
		h.out.Missing = append(h.out.Missing, what)
	}
}

// saysOfPoints is what is said of hold points, matters and shots.
func (h *hearing) saysOfPoints() any {
	switch h.q.Form {
	case "inspection":
		return field.PointSays{Point: h.said("point"), Result: h.said("result")}
	case "notice":
		return field.PointSays{Point: h.said("point"), Party: h.said("party"), Period: h.said("period"), Answer: h.said("answer")}
	case "release":
		s := field.PointSays{Point: h.said("point"), Party: h.said("party"), Until: h.said("until")}
		if !field.Readable(s.Until) {
			h.out.Warn = append(h.out.Warn, "when it ends cannot be read: "+s.Until+". The record is kept as it is said; nobody can say by it that the release holds.")
		}
		if some := h.said("lapses"); some != "" {
			s.Lapses = strings.Split(some, ", ")
		}
		return s
	case "entry":
		told := func(name string) string { return strings.TrimPrefix(h.said(name), "not said") }
		return field.EntrySays{Wall: told("wall"), Diameter: h.length("diameter"), At: h.length("at"), Invert: h.reading("invert"), Made: told("made"), Sealed: h.said("sealed") == "yes"}
	case "event":
		return field.EventSays{What: h.said("what")}
	case "nonconforming":
		return field.MatterSays{Number: h.said("number")}
	case "repair":
		return field.MatterSays{Number: h.said("number"), Closed: h.said("closed") == "yes", By: h.said("by")}
	case "shot":
		return field.ShotSays{Of: h.said("of"), Easting: *orNought(h.coordinate("easting")), Northing: *orNought(h.coordinate("northing")), Level: *orNought(h.reading("level"))}
	}
	return nil
}

// coordinate is a coordinate, in the unit of the job's coordinates.
func (h *hearing) coordinate(name string) *measure.Length {
	text := h.said(name)
	if text == "" {
		return nil
	}
	r, err := measure.ParseIn(text, h.levelUnit())
	h.echo(name, fixed(r.Length.Metres()/h.metres, 3)+" "+h.unit, err)
	return &r.Length
}

// set are units that were set, and which of them are off their place.
func (h *hearing) set() field.SetSays {
	s := field.SetSays{Within: h.said("within") == "all within", Batch: h.said("batch"), Type: h.said("type")}
	h.lines(func() {
		if by := h.off("by"); by != nil {
			s.Off = append(s.Off, field.Off{Place: h.said("place"), By: *by})
		}
	})
	return s
}

// cover are covers that were laid or lifted, and which of them are missing.
func (h *hearing) cover() field.CoverSays {
	s := field.CoverSays{Done: map[bool]string{true: "lifted", false: "laid"}[h.q.Form == "coverlifted"]}
	h.lines(func() {
		if cover := h.said("place"); h.said("is") == "trimmed" {
			s.Trimmed = append(s.Trimmed, cover)
		} else {
			s.Missing = append(s.Missing, cover)
		}
	})
	return s
}

// service is a buried service where it was found.
func (h *hearing) service() field.ServiceSays {
	s := field.ServiceSays{Name: h.said("name"), Met: h.q.Form == "service" || h.said("met") == "yes", Leg: h.q.Leg, At: *orNought(h.long("at")), Width: h.length("width"), Keep: h.length("keep"),
		Top: h.reading("top"), Depth: field.Depth(h.said("depth")), Owner: h.said("owner"), Ticket: h.said("ticket")}
	if id, _, one := strings.Cut(h.said("planned"), ", "); one {
		s.Planned = id
	}
	if _, known := h.legs[h.q.Leg]; !known {
		h.out.Missing = append(h.out.Missing, "the leg")
	}
	return s
}

// walls asks for one wall at least, and says where the other was not read: that is a fact all the same.
func (h *hearing) walls(left, right *measure.Length) {
	switch {
	case left == nil && right == nil:
		h.out.Missing = append(h.out.Missing, "left wall or right wall")
	case left == nil:
		h.out.Warn = append(h.out.Warn, "The left wall was not read: what was read at the right one is kept.")
	case right == nil:
		h.out.Warn = append(h.out.Warn, "The right wall was not read: what was read at the left one is kept.")
	}
}

// four are readings at the corners, and at which of them where not all four were taken.
func (h *hearing) four() (four []measure.Length, read []string) {
	var not []string
	for i, name := range []string{"a", "b", "c", "d"} {
		if l := h.reading(name); l != nil {
			four, read = append(four, *l), append(read, field.Corners[i])
		} else {
			not = append(not, field.Corners[i])
		}
	}
	if len(four) == 0 || len(not) == 0 {
		return four, nil
	}
	h.out.Warn = append(h.out.Warn, "Not read: "+strings.Join(not, ", ")+". What was read is kept.")
	return four, read
}

// level are levels at the record's places.
func (h *hearing) level() field.LevelSays {
	s := field.LevelSays{Of: "formation", Level: h.reading("one"), Within: h.yes("within", "all within", "not within"), End: h.said("end")}
	s.Four, s.Read = h.four()
	h.onRod(&s)
	if h.q.Form == "pad" {
		if s.Of = "bed"; h.standsOn() == wording.Pad {
			s.Of = "pad"
		}
	}
	if h.q.Form == "wall" || h.q.Form == "invert" || h.q.Form == "drain" {
		s.Of = h.q.Form
	}
	if once := h.q.Form == "invert" || h.q.Form == "drain"; !once && s.Level == nil && s.Four == nil && s.Within == nil {
		h.out.Missing = append(h.out.Missing, "a reading, or that all is within")
	}
	return s
}

// onRod keeps what the rod showed, with the height that it was read from: a level book is made of both.
func (h *hearing) onRod(s *field.LevelSays) {
	high, err := measure.ParseIn(h.q.Height, h.levelUnit())
	if err != nil || strings.TrimSpace(h.q.Height) == "" || s.Level != nil && len(s.Four) > 0 {
		return
	}
	read := s.Four
	if s.Level != nil {
		read = []measure.Length{*s.Level}
	}
	for _, l := range read {
		s.Height, s.Rod = &high.Length, append(s.Rod, high.Length-l)
	}
}

// againstPlan says how far readings lie off the planned level, and what the contract allows.
func (h *hearing) againstPlan(m *unkept, s field.LevelSays) {
	u, ok := h.unitAt[m.From]
	if !ok || m.To != "" || s.Level == nil && len(s.Four) == 0 {
		return
	}
	leg := h.legs[h.plan.Units[u].Leg]
	start := h.draft.rows[leg] + u - h.first[leg]
	if start+1 >= h.draft.rows[leg+1] {
		return
	}
	tol, name := h.tolerance(s.Of)
	one := func(where string, level measure.Length, want *measure.Length) {
		if want == nil {
			return
		}
		off := level - *want
		text := where + ": " + h.highLow(off, s.Of)
		if tol.Known {
			text += h.verdict(off.Abs(), s.Plus, tol)
		}
		h.out.Warn = append(h.out.Warn, text+".")
	}
	at := func(row int) *measure.Length {
		if l := h.planned(row, s.Of); l != nil {
			return new(measure.FromMetres(*l))
		}
		return nil
	}
	switch {
	case s.Level != nil && strings.HasPrefix(s.End, "start"):
		one("At its start", *s.Level, at(start))
	case s.Level != nil:
		one("At its end", *s.Level, at(start+1))
	}
	corners := h.under.Level(m.From, s.Of)
	four, read := field.AtCorners(s.Four, s.Read)
	for i, c := range field.Corners {
		want := at(start + i/2)
		if corners != nil {
			want = &corners[i]
		}
		if read[i] {
			one(capital(c), four[i], want)
		}
	}
	if !tol.Known {
		h.out.Warn = append(h.out.Warn, finding.NoneOnFile(name, "whoever wrote the contract", finding.Where{}).Sentence())
	}
	if s.Of == "wall" && corners != nil {
		h.againstCrossfall(four, read, *corners, 2*s.Plus)
	}
}

// againstCrossfall holds the fall from the top of the left wall to that of the right one against the planned one, at both ends
// where both were read.
func (h *hearing) againstCrossfall(four [4]measure.Length, read [4]bool, planned [4]measure.Length, plus measure.Length) {
	tol, some := h.job.Rules.CrossTol, false
	for i, end := range []string{"start", "end"} {
		if !read[2*i] || !read[2*i+1] {
			continue
		}
		some = true
		is, want := four[2*i]-four[2*i+1], planned[2*i]-planned[2*i+1]
		text := fmt.Sprintf("Crossfall at its %s: %s, planned %s", end, h.falls(is), h.falls(want))
		if off := (is - want).Abs(); off > 0 {
			text += ": " + h.speech.Both(off) + " off"
		}
		if tol.Known {
			text += h.verdict((is - want).Abs(), plus, tol)
		}
		h.out.Warn = append(h.out.Warn, text+".")
	}
	if some && !tol.Known {
		h.out.Warn = append(h.out.Warn, finding.NoneOnFile("tolerance for the crossfall of "+h.speech.Word(wording.Units), "whoever wrote the contract", finding.Where{}).Sentence())
	}
}

// falls is a fall across a unit, and to which side.
func (v *siteView) falls(l measure.Length) string {
	switch {
	case l > 0:
		return v.speech.Both(l) + " to the right"
	case l < 0:
		return v.speech.Both(-l) + " to the left"
	}
	return "level"
}

// tolerance is by how much something may lie off its level, with what it is called where that is not on file.
func (v *siteView) tolerance(of string) (tol job.Entry[measure.Length], name string) {
	switch w := v.speech.Word; of {
	case "wall":
		return v.job.Rules.WallTol, "tolerance for the level of wall tops"
	case "formation":
		return v.job.Rules.FormationTol, "tolerance for the level of the " + w(wording.Formation)
	case "invert", "drain":
		return tol, "tolerance for the level of the " + of
	default:
		return v.job.Rules.BedTol, "tolerance for the level of what " + w(wording.Units) + " stand on"
	}
}

func (v *siteView) verdict(off, plus measure.Length, tol job.Entry[measure.Length]) string {
	switch {
	case off+plus <= tol.Value:
		return ", meets the stated " + v.speech.Built(tol.Value)
	case off-plus <= tol.Value:
		return ", cannot say: read to " + v.small(measure.MM(plus)) + " each way, the stated is " + v.speech.Built(tol.Value)
	}
	text := ", " + doesNotMeet + " " + v.speech.Built(tol.Value)
	if v.speech.Built(off) == v.speech.Built(tol.Value) { // the same once it is rounded
		text += ": " + v.small(measure.MM(off))
	}
	return text
}

// doesNotMeet is the verdict that asks to look.
const doesNotMeet = "does not meet the stated"

// highLow is how far a reading is off, and what that asks of what units stand on.
func (h *hearing) highLow(off measure.Length, of string) string {
	high, low := " high: take out", " low: fill"
	if of == "wall" || of == "invert" || of == "drain" {
		high, low = " high", " low"
	}
	switch {
	case off > 0:
		return h.speech.Both(off) + high
	case off < 0:
		return h.speech.Both(-off) + low
	}
	return "at its level"
}

// planned is the planned level of what a level was read on, at a place of the set-out; nil: not known.
func (v *siteView) planned(row int, of string) *float64 {
	l := v.plan.SetOut[row].Levels
	if l == nil {
		return nil
	}
	return l.Of(of)
}

// againstGap holds a measured gap against what its joint may have.
func (h *hearing) againstGap(m *unkept, s field.GapSays) {
	for i := range h.plan.Joints {
		j := &h.plan.Joints[i]
		if j.Name != m.From {
			continue
		}
		if j.GapMin >= j.GapMax {
			h.out.Warn = append(h.out.Warn, finding.NoneOnFile("window of this gap", "the supplier", finding.Where{}).Sentence())
			return
		}
		verdict, plus := "meets the stated", measure.MM(s.Plus)
		for _, w := range []*measure.Length{s.Left, s.Right} {
			if w == nil {
				continue
			}
			switch g := measure.MM(*w); {
			case g+plus < j.GapMin || g-plus > j.GapMax:
				verdict = doesNotMeet
			case (g-plus < j.GapMin || g+plus > j.GapMax) && verdict != doesNotMeet:
				verdict = "read to " + h.small(plus) + " each way nobody can say whether it meets the stated"
			}
		}
		if (s.Left == nil || s.Right == nil) && verdict != doesNotMeet {
			verdict = "by one wall nobody can say whether it meets the stated"
		}
		h.out.Warn = append(h.out.Warn, fmt.Sprintf("%s: drawn %s, %s %s to %s.", m.From, h.small(j.Gap), verdict, h.small(j.GapMin), h.small(j.GapMax)))
	}
}

// againstDepth holds the level of the top of a service against what was said of its depth: below the formation, in the bed or
// pad, or in the way of the unit, by the planned levels at its chainage.
func (h *hearing) againstDepth(s field.ServiceSays) {
	leg, known := h.legs[s.Leg]
	if !known {
		return
	}
	if end := h.plan.Legs[leg].NodeLength; measure.MM(s.At) > end || s.At < 0 {
		h.out.Warn = append(h.out.Warn, fmt.Sprintf("Leg %s ends at %s.", s.Leg, h.chainage(end)))
		return
	}
	bottom, under := h.levelAt(leg, measure.MM(s.At), "formation"), h.levelAt(leg, measure.MM(s.At), "bed")
	if s.Top == nil || bottom == nil || under == nil {
		return
	}
	top, lies := s.Top.Metres(), field.InEnvelope
	switch {
	case top <= *bottom:
		lies = field.BelowBed
	case top <= *under:
		lies = field.InBed
	}
	if order := []field.Depth{field.BelowBed, field.InBed, field.InEnvelope}; slices.Index(order, s.Depth) >= 0 && slices.Index(order, s.Depth) < slices.Index(order, lies) {
		h.out.Warn = append(h.out.Warn, fmt.Sprintf("Its top at level %s is %s by the plan: the %s is at %s there, the underside of the %s at %s.", h.levelText(top), lies, h.speech.Word(wording.Formation), h.levelText(*bottom),
			h.speech.Word(wording.Unit), h.levelText(*under)))
	}
}

// levelAt is a planned level at a chainage, between the places of the set-out beside it; nil: not known there.
func (v *siteView) levelAt(leg int, at measure.MM, of string) *float64 {
	for row := v.draft.rows[leg]; row+1 < v.draft.rows[leg+1]; row++ {
		a, b := &v.plan.SetOut[row], &v.plan.SetOut[row+1]
		if at < a.Chainage || at > b.Chainage || b.Chainage <= a.Chainage {
			continue
		}
		za, zb := v.planned(row, of), v.planned(row+1, of)
		if za == nil || zb == nil {
			return nil
		}
		t := mm(at-a.Chainage) / mm(b.Chainage-a.Chainage)
		z := *za + float64(t*(*zb-*za))
		return &z
	}
	return nil
}
