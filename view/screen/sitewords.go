package screen

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
)

// words is a record in one sentence, as this version understands it.
func (v *siteView) words(r *field.Record) string {
	at := r.From
	if r.To != "" {
		at += " to " + r.To
	}
	text := joined(" ", at, v.wordsOf(r))
	if r.Text != "" {
		text = joined(": ", text, "“"+r.Text+"”")
	}
	if n := len(r.Photos); n > 0 {
		text += ", " + count(n, "photo or voice note", "photos or voice notes")
	}
	return text
}

// wordsOf is what a record says; one that says something else than its kind does is told by its kind alone.
func (v *siteView) wordsOf(r *field.Record) string {
	w := v.speech.Word
	switch r.Kind {
	case field.Delivery:
		if s, ok := field.SaysOf[field.DeliverySays](r); ok {
			return v.deliveryWords(s)
		}
	case field.Count:
		if s, ok := field.SaysOf[field.CountSays](r); ok {
			var lines []string
			for _, l := range s.Lines {
				lines = append(lines, fmt.Sprintf("%d of %s", l.Count, v.pieceName(l.Piece)))
			}
			return "counted in the yard: " + strings.Join(lines, ", ")
		}
	case field.Damage:
		if s, ok := field.SaysOf[field.DamageSays](r); ok {
			text := "damaged"
			if r.From == "" {
				text = fmt.Sprintf("damaged in the yard: %d of %s", max(1, s.Count), v.pieceName(s.Piece))
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
			if s.Left == s.Right {
				return "gap " + v.both(s.Left)
			}
			return "gap " + v.both(s.Left) + " left, " + v.both(s.Right) + " right"
		}
	case field.Angle:
		if s, ok := field.SaysOf[field.AngleSays](r); ok {
			return "angle measured " + s.Angle.String()
		}
	case field.Cut:
		if s, ok := field.SaysOf[field.CutSays](r); ok {
			to := v.both(s.Left)
			if s.Left != s.Right {
				to += " left, " + v.both(s.Right) + " right,"
			}
			over := ""
			if s.Offcut > 0 {
				over = v.both(s.Offcut) + " is left over"
			}
			return joined(", ", "cut to "+to+" from "+v.pieceName(s.From), over, map[bool]string{true: "spoiled"}[s.Spoiled])
		}
	case field.Layer:
		if s, ok := field.SaysOf[field.LayerSays](r); ok {
			up := ""
			if s.Top {
				up = "up to its level"
			}
			return joined(", ", fmt.Sprintf("%s %d placed, %s", w(wording.Layer), s.Number, sidesWord(s.Side)), up)
		}
	case field.LayerTest:
		if s, ok := field.SaysOf[field.TestSays](r); ok {
			return joined(", ", fmt.Sprintf("%s %d tested, %s", w(wording.Layer), s.Number, sidesWord(s.Side)), testWords(s))
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

func (v *siteView) restWords(r *field.Record) string {
	switch r.Kind {
	case field.Rock:
		if s, ok := field.SaysOf[field.RockSays](r); ok {
			text := "rocks"
			if len(s.Four) == 4 {
				text += " by " + v.both((s.Four[0] + s.Four[3] - s.Four[1] - s.Four[2]).Abs())
			}
			if s.Packer != nil {
				text += ", packed with " + v.both(*s.Packer) + " under " + s.Corner
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
			return joined(", ", kind, map[bool]string{true: "closed"}[s.Closed])
		}
	case field.Shot:
		if s, ok := field.SaysOf[field.ShotSays](r); ok {
			return fmt.Sprintf("%s at %s, %s, level %s", s.Of, fixed(s.Easting.Metres()/v.metres, 3), fixed(s.Northing.Metres()/v.metres, 3), v.levelText(s.Level.Metres()))
		}
	case field.Fabric:
		return "fabric laid"
	case field.Entry:
		return "conduit entry made"
	}
	return string(r.Kind)
}

func (v *siteView) setWords(r *field.Record, s field.SetSays) string {
	switch {
	case s.Lifted:
		return "taken out again"
	case s.Measure != nil:
		return "set, " + v.both(*s.Measure) + " long as measured"
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
		text += "; " + o.Place + " " + v.bothOff(o.By)
	}
	return text
}

func (v *siteView) bothOff(l measure.Length) string {
	switch {
	case l > 0:
		return v.both(l) + " ahead"
	case l < 0:
		return v.both(-l) + " behind"
	}
	return "at its place"
}

func (v *siteView) deliveryWords(s field.DeliverySays) string {
	var lines []string
	for _, l := range s.Lines {
		text := fmt.Sprintf("%d of %s", l.Came, v.pieceName(l.Piece))
		if l.Damaged > 0 {
			text += fmt.Sprintf(" (%d damaged)", l.Damaged)
		}
		if l.Short > 0 {
			text += fmt.Sprintf(" (%d short)", l.Short)
		}
		lines = append(lines, text)
	}
	return joined(": ", joined(" ", "came, ticket", s.Ticket), strings.Join(lines, ", "))
}

func (v *siteView) serviceWords(r *field.Record, s field.ServiceSays) string {
	at := "leg " + s.Leg + ", " + v.chainage(measure.MM(s.At))
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
			parts = append(parts, l.before+v.both(*l.is)+l.after)
		}
	}
	if s.Top != nil {
		parts = append(parts, "its top at level "+v.levelText(s.Top.Metres()))
	}
	return joined(", ", append(parts, behind("owner ", s.Owner), behind("ticket ", s.Ticket))...)
}

func (v *siteView) levelWords(s field.LevelSays) string {
	of := map[string]string{"formation": v.speech.Word(wording.Formation), "bed": v.speech.Word(wording.Bed), "pad": v.speech.Word(wording.Pad)}[s.Of]
	if of == "" {
		of = s.Of
	}
	var parts []string
	if s.Within != nil {
		parts = append(parts, map[bool]string{true: "within", false: "not within"}[*s.Within])
	}
	if s.Level != nil {
		parts = append(parts, v.levelText(s.Level.Metres()))
	}
	for i, l := range s.Four {
		parts = append(parts, []string{"start left ", "start right ", "end left ", "end right "}[min(i, 3)]+v.levelText(l.Metres()))
	}
	return of + " level: " + strings.Join(parts, ", ")
}

func sidesWord(side string) string {
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

// behind puts a text behind a word; without it there is no word either.
func behind(word, text string) string {
	if text == "" {
		return ""
	}
	return word + text
}
