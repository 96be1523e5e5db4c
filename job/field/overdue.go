package field

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"trenchwright/base/finding"
)

// Overdue are the readings of one device with one instrument whose calibration had run out by that device's clock; or, where that clock
// is doubtful, those with all its instruments: then nobody can say that any had.
type Overdue struct {
	Device      string   `json:"device"`
	Instruments []string `json:"instruments"`
	Readings    []RanOut `json:"readings"` // by day
	Ahead       int      `json:"ahead"`    // days by which the clock of the device runs ahead of what others had recorded and it knew; 0: it is not doubted
	Known       string   `json:"known"`    // the last day of those
}

// farAhead is how many days a device's clock is ahead of all that was known to it before it is doubted: work that rests as long as that
// is looked at. Common practice, no source.
const farAhead = 30

// Overdue are readings with a calibration that had run out, by device and instrument.
func (b *Book) Overdue(of []RanOut) []Overdue {
	type key struct{ device, instrument, certificate, due string }
	var list []Overdue
	at := map[key]int{}
	ahead := map[string]Overdue{}
	for _, r := range of {
		doubt, known := ahead[r.Device]
		if !known {
			doubt = b.clockOf(r.Device, of)
			ahead[r.Device] = doubt
		}
		k := key{r.Device, r.Instrument, r.Certificate, r.Due}
		if doubt.Ahead > 0 {
			k = key{device: r.Device}
		}
		i, ok := at[k]
		if !ok {
			i = len(list)
			at[k], list = i, append(list, Overdue{Device: r.Device, Ahead: doubt.Ahead, Known: doubt.Known})
		}
		o := &list[i]
		o.Readings = append(o.Readings, r)
		if !slices.Contains(o.Instruments, r.Instrument) {
			o.Instruments = append(o.Instruments, r.Instrument)
		}
	}
	for i := range list {
		slices.SortStableFunc(list[i].Readings, func(x, y RanOut) int { return cmp.Compare(x.Day, y.Day) })
		slices.Sort(list[i].Instruments)
	}
	return list
}

// clockOf tells how far the clock of a device ran ahead, when it made such readings, of the records of other devices that it knew: those
// that it had named by then. What the server numbered is not asked: whoever has the records without its numbers comes to the same.
func (b *Book) clockOf(device string, of []RanOut) (o Overdue) {
	var first, last time.Time
	upto := 0
	for _, r := range of {
		if r.Device != device {
			continue
		}
		e := b.records.of(r.By)
		if made, ok := moment(e.Made); ok && (first.IsZero() || made.Before(first)) {
			first = made
		}
		upto = max(upto, e.Number)
	}
	for e := range b.records.all() {
		if e.Device != device || e.Number > upto {
			continue
		}
		for _, id := range e.After {
			if of := b.records.of(id); of != nil && of.Device != device {
				if made, ok := moment(of.Made); ok && made.After(last) {
					last = made
				}
			}
		}
	}
	if days := int(first.Sub(last) / (24 * time.Hour)); !last.IsZero() && days > farAhead {
		o.Ahead, o.Known = days, last.Format(time.DateOnly)
	}
	return o
}

// String is it as a sentence without a full stop.
func (o Overdue) String() string {
	first, last := &o.Readings[0], &o.Readings[len(o.Readings)-1]
	if len(o.Readings) == 1 && o.Ahead == 0 {
		return first.String()
	}
	var people []string
	for _, r := range o.Readings {
		if who := cmp.Or(r.Person, "somebody"); !slices.Contains(people, who) {
			people = append(people, who)
		}
	}
	n := fmt.Sprintf("%d readings with %s", len(o.Readings), strings.Join(o.Instruments, ", "))
	if len(o.Readings) == 1 {
		n = "1 reading with " + o.Instruments[0]
	}
	span := fmt.Sprintf("the first on %s (%s%s), the last on %s (%s%s)", first.Day, first.What, first.where(), last.Day, last.What, last.where())
	if o.Ahead > 0 {
		return fmt.Sprintf("the clock of %s (%s) is doubtful: it runs %d days ahead of all that it knew of others, the last of that of %s; by it the calibration had run out for %s, %s, and whether it had, nobody can say",
			o.Device, strings.Join(people, ", "), o.Ahead, o.Known, n, span)
	}
	return fmt.Sprintf("%s recorded %s on %s, whose %s: %s", strings.Join(people, ", "), n, o.Device, first.ended(), span)
}

// finding is it as one.
func (o Overdue) finding() finding.Finding {
	first := &o.Readings[0]
	f := finding.Finding{ID: CalibrationRanOut, Kind: finding.Attention, Where: finding.Where{Leg: first.Leg, Place: first.From}, Text: o.String() + ".",
		Try: "Have " + strings.Join(o.Instruments, ", ") + " calibrated. If it turns out wrong, what was read with it is read again; every reading stays."}
	switch {
	case o.Ahead > 0:
		f.Try = "Set the clock of " + o.Device + ", and write down on which days it was wrong; every reading stays."
	case len(o.Readings) == 1:
		f.Text = fmt.Sprintf("%s (%s).", o, first.By)
	}
	return f
}
