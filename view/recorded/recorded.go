// Package recorded says what records of the site say, in words and in the units of their job.
package recorded

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
)

// Speaker says records of one job.
type Speaker struct {
	Speech   wording.Speech
	Unit     job.CoordUnit // of levels and coordinates
	Supplies int           // of the run: where there are several, a piece is named with its own
}

// By is who recorded something, and when, as a source.
func By(r *field.Record) string {
	return "recorded by " + joined(", ", r.Person, r.Role, strings.Replace(r.Made[:min(16, len(r.Made))], "T", " ", 1))
}

// Sentence is a record with its place, and with what its maker added, as this version understands it.
func (v Speaker) Sentence(r *field.Record) string {
	at := r.From
	if r.To != "" {
		at += " to " + r.To
	}
	text := joined(" ", at, v.Words(r))
	if r.Text != "" {
		text = joined(": ", text, "“"+r.Text+"”")
	}
	if n := len(r.Photos); n > 0 {
		photos := " photos or voice notes"
		if n == 1 {
			photos = " photo or voice note"
		}
		text += fmt.Sprintf(", %d%s", n, photos)
	}
	return text
}

// Said is what a record says, with the words that its maker added, and that it takes another's place where it does.
func (v Speaker) Said(r *field.Record) string {
	text := v.Words(r)
	if r.Corrects != "" {
		text += " (corrects " + r.Corrects + ")"
	}
	return joined(": ", text, r.Text)
}

// Words is what a record says; one that says something else than its kind does is told by its kind alone.
func (v Speaker) Words(r *field.Record) string {
	w := v.Speech.Word
	switch r.Kind {
	case field.Delivery:
		if s, ok := field.SaysOf[field.DeliverySays](r); ok {
			return v.deliveryWords(s)
		}
	case field.Count:
		if s, ok := field.SaysOf[field.CountSays](r); ok {
			var lines []string
			for _, l := range s.Lines {
				lines = append(lines, fmt.Sprintf("%d of %s", l.Count, v.Piece(l.Piece)))
			}
			return "counted in the yard: " + strings.Join(lines, ", ")
		}
	case field.Damage:
		if s, ok := field.SaysOf[field.DamageSays](r); ok {
			text := "damaged"
			if r.From == "" {
				text = fmt.Sprintf("damaged in the yard: %d of %s", max(1, s.Count), v.Piece(s.Piece))
			}
			return text + map[bool]string{true: ", may still be used", false: ""}[s.Usable]
		}
	case field.Service, field.TrialHole:
		if s, ok := field.SaysOf[field.ServiceSays](r); ok {
			return v.serviceWords(r, s)
		}
	case field.Level:
		if s, ok := field.SaysOf[field.LevelSays](r); ok {
			return v.levelWords(s)
		}
	case field.Set:
		if s, ok := field.SaysOf[field.SetSays](r); ok {
			return v.setWords(r, s)
		}
	case field.Gap:
		if s, ok := field.SaysOf[field.GapSays](r); ok {
			return "gap " + v.walls(s.Left, s.Right)
		}
	case field.Angle:
		if s, ok := field.SaysOf[field.AngleSays](r); ok {
			return "angle measured " + s.Angle.String()
		}
	case field.Cut:
		if s, ok := field.SaysOf[field.CutSays](r); ok {
			to := v.walls(s.Left, s.Right)
			if strings.Contains(to, ",") {
				to += ","
			}
			over := ""
			if s.Offcut > 0 {
				over = v.Speech.Both(s.Offcut) + " is left over"
			}
			kept := map[string]string{"A": "it kept end A", "B": "it kept end B", "neither": "it kept neither end"}[s.Kept]
			return joined(", ", "cut to "+to+" from "+v.Piece(s.From), kept, over, map[bool]string{true: "spoiled"}[s.Spoiled])
		}
	case field.Layer:
		if s, ok := field.SaysOf[field.LayerSays](r); ok {
			up, thick, passes := "", "", ""
			if s.Top {
				up = "up to its level"
			}
			if s.Thick > 0 {
				thick = v.Speech.Both(s.Thick) + " thick"
			}
			if s.Passes > 0 {
				passes = fmt.Sprintf("passes: %d", s.Passes)
			}
			return joined(", ", fmt.Sprintf("%s %d placed, %s", w(wording.Layer), s.Number, Sides(s.Side)), up, thick, s.Plant, passes)
		}
	case field.LayerTest:
		if s, ok := field.SaysOf[field.TestSays](r); ok {
			return joined(", ", fmt.Sprintf("%s %d tested, %s", w(wording.Layer), s.Number, Sides(s.Side)), testWords(s))
		}
	case field.Bond, field.CoverTest:
		if s, ok := field.SaysOf[field.TestSays](r); ok {
			return joined(", ", map[field.Kind]string{field.Bond: "bond", field.CoverTest: "cover tested"}[r.Kind], testWords(s))
		}
	case field.Cover:
		if s, ok := field.SaysOf[field.CoverSays](r); ok {
			text := "covers " + s.Done
			if len(s.Missing) > 0 {
				text += " but for " + strings.Join(s.Missing, ", ")
			}
			return text
		}
	}
	return v.restWords(r)
}

func (v Speaker) restWords(r *field.Record) string {
	switch r.Kind {
	case field.Rock:
		if s, ok := field.SaysOf[field.RockSays](r); ok {
			text := "rocks"
			if four, read := field.AtCorners(s.Four, s.Read); read == [4]bool{true, true, true, true} && len(s.Four) == 4 {
				text += " by " + v.Speech.Both((four[0] + four[3] - four[1] - four[2]).Abs())
			} else if len(s.Four) > 0 {
				text += ", by how much nobody can say: " + v.corners(s.Four, s.Read)
			}
			if s.Packer != nil {
				text += ", packed with " + v.Speech.Both(*s.Packer) + " under " + s.Corner
			}
			return text
		}
	case field.Area:
		if s, ok := field.SaysOf[field.AreaSays](r); ok {
			return joined(", ", "handed over to "+s.To, s.By, s.Condition)
		}
	case field.Part:
		if s, ok := field.SaysOf[field.PartSays](r); ok {
			return fmt.Sprintf("fitted: %d of %s", max(1, s.Count), s.Name)
		}
	case field.Inspection, field.Notice, field.Release:
		if s, ok := field.SaysOf[field.PointSays](r); ok {
			return joined(", ", string(r.Kind)+": "+s.Point, s.Result, s.Party, behind("until ", s.Until))
		}
	case field.Event:
		if s, ok := field.SaysOf[field.EventSays](r); ok {
			return s.What
		}
	case field.Nonconforming, field.Repair:
		if s, ok := field.SaysOf[field.MatterSays](r); ok {
			kind := map[field.Kind]string{field.Nonconforming: "nonconformance ", field.Repair: "repair of nonconformance "}[r.Kind] + s.Number
			return joined(", ", kind, s.What, s.Answer, behind("by ", s.By), map[bool]string{true: "closed"}[s.Closed])
		}
	case field.Shot:
		if s, ok := field.SaysOf[field.ShotSays](r); ok {
			return fmt.Sprintf("%s at %.3f, %.3f, level %s", s.Of, s.Easting.Metres()/v.Unit.Metres(), s.Northing.Metres()/v.Unit.Metres(), v.Unit.Level(s.Level.Metres()))
		}
	case field.SetUp:
		if s, ok := field.SaysOf[field.SetUpSays](r); ok {
			return map[bool]string{true: "closed on ", false: "set up on "}[s.Closes] + s.Benchmark + ", height of instrument " + v.Unit.Level(s.Height().Metres())
		}
	case field.Check:
		if s, ok := field.SaysOf[field.CheckSays](r); ok {
			what, off, met := "instrument", "", ""
			if r.Instrument != nil {
				what = r.Instrument.ID
			}
			if s.Off != nil {
				off = "out by " + v.Speech.Both(*s.Off)
			}
			if s.Met != nil {
				met = map[bool]string{true: "as it has to be", false: "not as it has to be"}[*s.Met]
			}
			return joined(", ", what+" checked", s.Method, off, met)
		}
	case field.Fabric:
		return "fabric laid"
	case field.Entry:
		return "conduit entry made"
	}
	return string(r.Kind)
}

func (v Speaker) setWords(r *field.Record, s field.SetSays) string {
	switch {
	case s.Lifted:
		return "taken out again"
	}
	text := "set"
	if s.Within {
		text = "set, within"
		if r.To != "" {
			text = "set, all within"
		}
		if r.To != "" && len(s.Off) > 0 {
			text = "set, the rest within"
		}
		if r.To == "" && len(s.Off) > 0 {
			text = "set"
		}
	}
	for _, o := range s.Off {
		text += "; " + o.Place + " " + v.Off(o.By)
	}
	long, line, walls := "", "", ""
	if s.Measure != nil {
		long = v.Speech.Both(*s.Measure) + " long as measured"
	}
	if s.Line != nil {
		line = v.Aside(*s.Line)
	}
	if len(s.Walls) > 0 {
		walls = v.Level("wall") + " " + v.corners(s.Walls, s.Read)
	}
	gap := ""
	if s.Left != nil || s.Right != nil {
		gap = "gap after it " + v.walls(s.Left, s.Right)
	}
	return joined(", ", text, long, line, gap, walls, s.Type, behind("batch ", s.Batch))
}

// Aside is how far something is off its line.
func (v Speaker) Aside(l measure.Length) string {
	switch {
	case l > 0:
		return v.Speech.Both(l) + " right of the line"
	case l < 0:
		return v.Speech.Both(-l) + " left of the line"
	}
	return "on the line"
}

// Off is how far something is from its place.
func (v Speaker) Off(l measure.Length) string {
	switch {
	case l > 0:
		return v.Speech.Both(l) + " ahead"
	case l < 0:
		return v.Speech.Both(-l) + " behind"
	}
	return "at its place"
}

func (v Speaker) deliveryWords(s field.DeliverySays) string {
	var lines []string
	for _, l := range s.Lines {
		text := fmt.Sprintf("%d of %s", l.Came, v.Piece(l.Piece))
		if l.Damaged > 0 {
			text += fmt.Sprintf(" (%d damaged)", l.Damaged)
		}
		if l.Short > 0 {
			text += fmt.Sprintf(" (%d short)", l.Short)
		}
		lines = append(lines, text)
	}
	for _, g := range s.Goods {
		lines = append(lines, joined(" of ", strings.TrimSpace(g.Amount), cmp.Or(strings.TrimSpace(g.What), "goods without a name")))
	}
	return joined(": ", joined(" ", "came, ticket", s.Ticket), strings.Join(lines, ", "))
}

func (v Speaker) serviceWords(r *field.Record, s field.ServiceSays) string {
	at := "leg " + s.Leg + ", " + v.chainage(s.At)
	if r.Kind == field.TrialHole && !s.Met {
		return "trial hole at " + at + " for " + s.Name + ": nothing met"
	}
	depth := string(s.Depth)
	if s.Depth == field.NotKnown || s.Depth == "" {
		depth = "how deep is not known"
	}
	if s.Planned != "" {
		depth += ", and is " + s.Planned + " of the plan"
	}
	parts := []string{s.Name + " found at " + at, depth}
	for _, l := range []struct {
		is            *measure.Length
		before, after string
	}{{s.Width, "", " wide"}, {s.Keep, "no joint within ", " each side"}} {
		if l.is != nil {
			parts = append(parts, l.before+v.Speech.Both(*l.is)+l.after)
		}
	}
	if s.Top != nil {
		parts = append(parts, "its top at level "+v.Unit.Level(s.Top.Metres()))
	}
	return joined(", ", append(parts, behind("owner ", s.Owner), behind("ticket ", s.Ticket))...)
}

func (v Speaker) levelWords(s field.LevelSays) string {
	var parts []string
	if s.Within != nil {
		parts = append(parts, map[bool]string{true: "within", false: "not within"}[*s.Within])
	}
	if s.Level != nil {
		parts = append(parts, joined(" ", s.End, v.Unit.Level(s.Level.Metres())))
	}
	if len(s.Four) > 0 {
		parts = append(parts, v.corners(s.Four, s.Read))
	}
	return v.Level(s.Of) + " level: " + strings.Join(parts, ", ")
}

// corners are levels with the corners that they were read at, and those where none was.
func (v Speaker) corners(of []measure.Length, at []string) string {
	four, read := field.AtCorners(of, at)
	var parts, not []string
	for i, c := range field.Corners {
		if read[i] {
			parts = append(parts, c+" "+v.Unit.Level(four[i].Metres()))
		} else {
			not = append(not, c)
		}
	}
	if len(not) > 0 {
		parts = append(parts, "not read: "+strings.Join(not, ", "))
	}
	return strings.Join(parts, ", ")
}

// walls are lengths at the left and the right wall, and that one was not read.
func (v Speaker) walls(left, right *measure.Length) string {
	at := func(l *measure.Length, wall string) string {
		if l == nil {
			return wall + " wall not read"
		}
		return v.Speech.Both(*l) + " " + wall
	}
	if left != nil && right != nil && *left == *right {
		return v.Speech.Both(*left)
	}
	return at(left, "left") + ", " + at(right, "right")
}

// Sides is the side of a layer.
func Sides(side string) string {
	if side == "left" || side == "right" {
		return side
	}
	return "both sides"
}

func testWords(s field.TestSays) string {
	met := ""
	if s.Met != nil {
		met = map[bool]string{true: "meets the stated figure", false: "does not meet it"}[*s.Met]
	}
	return joined(", ", s.Method, s.Value, behind("limit ", s.Limit), met)
}

// Level is what the level of something is called.
func (v Speaker) Level(of string) string {
	switch of {
	case "formation":
		return v.Speech.Word(wording.Formation)
	case "bed":
		return v.Speech.Word(wording.Bed)
	case "pad":
		return v.Speech.Word(wording.Pad)
	case "wall":
		return "wall top"
	}
	return of
}

// Counted is what a line of a measure counts.
func (v Speaker) Counted(s field.Sum) string {
	switch s.What {
	case "set":
		return v.Speech.Word(wording.Units) + " set"
	case "cut":
		return "pieces cut"
	case "gap":
		return "gaps measured"
	case "area":
		return "areas handed over"
	case "cover":
		return "covers laid"
	case "layer":
		return fmt.Sprintf("%s %d, %s side", v.Speech.Word(wording.Layer), s.Layer, s.Side)
	case "came":
		return v.Piece(*s.Piece) + " delivered"
	}
	return v.Level(s.What) + " levelled"
}

// chainage is one on a leg, as set-out sheets write it.
func (v Speaker) chainage(l measure.Length) string {
	if v.Speech.Imperial {
		return measure.Chainage(l, measure.Imperial, 2)
	}
	return measure.Chainage(l, measure.Metric, 3)
}

// Piece is a kind of piece as people of the job call it.
func (v Speaker) Piece(p field.Piece) string {
	what := p.What
	if p.What == "unit" {
		what = v.Speech.Word(wording.Unit)
	}
	of := p.Mark
	switch {
	case of == "":
		of = v.Speech.Built(p.Length)
	case strings.Contains(of, "/"):
		what = "offcut"
	}
	if v.Supplies > 1 {
		what = p.Supply + " " + what
	}
	return what + " " + of
}

// joined are the texts that are not empty.
func joined(by string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), by)
}

// behind puts a text behind a word; without it there is no word either.
func behind(word, text string) string {
	if text == "" {
		return ""
	}
	return word + text
}
