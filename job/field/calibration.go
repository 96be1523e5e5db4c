package field

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"trenchwright/base/finding"
	"trenchwright/base/sorting"
)

// RanOut is a reading that was made with an instrument whose calibration had run out on that day. It stays a reading.
type RanOut struct {
	Leg         string `json:"leg"` // empty: of no unit
	From        string `json:"from"`
	To          string `json:"to"`
	What        string `json:"what"` // the kind, for levels with what they are of
	Person      string `json:"person"`
	Device      string `json:"device"`
	Day         string `json:"day"` // of the reading, by its device's clock
	Instrument  string `json:"instrument"`
	Certificate string `json:"certificate"` // empty: nobody named one
	Due         string `json:"due"`         // the last day of the calibration
	By          string `json:"by"`
}

// String is it as a sentence.
func (r RanOut) String() string {
	return fmt.Sprintf("%s recorded %s%s on %s with %s, whose %s", cmp.Or(r.Person, "somebody"), r.What, r.where(), r.Day, r.Instrument, r.ended())
}

func (r *RanOut) where() string {
	if r.From == "" {
		return ""
	}
	return " at " + (Stretch{From: r.From, To: cmp.Or(r.To, r.From)}).String()
}

// ended is which calibration ran out when.
func (r *RanOut) ended() string {
	certificate := "no certificate named"
	if r.Certificate != "" {
		certificate = "certificate " + r.Certificate
	}
	return "calibration (" + certificate + ") ran out on " + r.Due
}

// toCalibration files a reading by what stands behind its instrument: a calibration that had run out, or none with an end on file. A check
// of the instrument itself is no reading with it.
func (b *Book) toCalibration(e *entry, do filing) {
	if e.Instrument == nil || e.Kind == Check {
		return
	}
	switch {
	case dayIn(e.Instrument.Due) == "":
		b.worked.unended.fresh = false
		into(b.unended, e.Instrument.ID, e, do)
	case e.Record.RanOut():
		b.worked.ranOut.fresh = false
		do(&b.ranOut, e)
	}
}

// RanOut tells of a record whether its instrument's calibration had run out on the day on which it was made, by its device's clock.
func (r *Record) RanOut() bool {
	return r.Instrument != nil && dayIn(r.Instrument.Due) != "" && dayIn(r.Made) > dayIn(r.Instrument.Due)
}

// dayIn is the day that a date or a time begins with; empty: it begins with none.
func dayIn(text string) string {
	day := text[:min(len(text), len(time.DateOnly))]
	if _, err := time.Parse(time.DateOnly, day); err != nil {
		return ""
	}
	return day
}

// RanOut are the readings that stand and were made with an instrument whose calibration had run out, in the order that every device has
// them in.
func (b *Book) RanOut() []RanOut { return b.worked.ranOut.get(b.ranOuts) }

func (b *Book) ranOuts() []RanOut {
	var list []RanOut
	for _, e := range standing(b.ranOut) {
		r := RanOut{From: e.From, To: e.To, What: string(e.Kind), Person: e.Person, Device: e.Device, Day: dayIn(e.Made), Instrument: e.Instrument.ID, Certificate: e.Instrument.Certificate, Due: dayIn(e.Instrument.Due), By: e.ID}
		if says, ok := hear[LevelSays](e); e.Kind == Level && ok {
			r.What = "level of the " + says.Of
		}
		if e.placed {
			r.Leg = b.run.Legs[e.from.leg].ID
		}
		list = append(list, r)
	}
	return list
}

// Unended are the instruments of readings that stand, of which nobody said until when their calibration holds, by name.
func (b *Book) Unended() []string { return b.worked.unended.get(b.unendeds) }

func (b *Book) unendeds() []string {
	var names []string
	for id, list := range b.unended {
		if slices.ContainsFunc(list, func(e *entry) bool { return !e.gone }) {
			names = append(names, id)
		}
	}
	sorting.Ascending(names)
	return names
}

// calibrations says what RanOut and Unended hold: a finding for every device and instrument, and for every instrument whom to ask.
func (b *Book) calibrations(say func(finding.Finding)) {
	for _, o := range b.Overdue(b.RanOut()) {
		say(o.finding())
	}
	for _, id := range b.Unended() {
		what := id
		if id == "not named" || strings.TrimSpace(id) == "" {
			what = "the instrument that nobody named"
		}
		say(finding.NoneOnFile("day on which the calibration of "+what+" runs out", "whoever keeps the instruments", finding.Where{}))
	}
}

// CalibrationRanOut is the id of a finding about a reading.
const CalibrationRanOut = "field.calibration-ran-out"

// Calibrated is what is on file of an instrument's check and calibration, in words; empty: nothing is.
func (i Instrument) Calibrated() string {
	var said []string
	if i.Checked != "" {
		said = append(said, "checked "+i.Checked)
	}
	if i.Certificate != "" {
		said = append(said, "certificate "+i.Certificate)
	}
	if i.Due != "" {
		said = append(said, "calibration runs out "+i.Due)
	}
	return strings.Join(said, ", ")
}
