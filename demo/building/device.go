package building

import (
	"encoding/json"
	"time"

	"trenchwright/job/field"
)

// device is a phone or the office's screen: it numbers what is written on it, its clock may lie, and it knows what it wrote itself and
// what it took in when it last had signal.
type device struct {
	name, person, role string
	off                time.Duration // of its clock
	book               *field.Book
	wrote              []field.Record
	sent               int // of those
	took               int // of what the server holds
	back               int // the day on which it has signal again
}

// server holds what came in, in the order in which it did.
type server struct {
	records []field.Record
}

// begun is the day on which every build begins; builds are counted in days from there.
var begun = time.Date(2026, 4, 6, 7, 0, 0, 0, time.UTC)

// entry is what somebody writes down.
type entry struct {
	kind       field.Kind
	from, to   string
	says       any
	text       string
	corrects   string
	after      []string // besides those of the same thing that the device knows
	instrument *field.Instrument
	photos     []string
	rule       string
	carded     bool // from a day card: whoever wrote it knew what after says, and nothing that the office knows today
}

// write writes something down on a device and gives its id.
func (s *site) write(d *device, e entry) string {
	s.minute += 1 + s.below(4)
	now := begun.Add(time.Duration(s.day)*24*time.Hour + time.Duration(s.minute)*time.Minute).Add(d.off)
	r := field.Record{
		ID: field.ULID(now.UnixMilli(), s.bytes()), Job: s.job.ID, Device: d.name, Number: len(d.wrote) + 1, Person: d.person, Role: d.role,
		Made: now.Format(time.RFC3339), Kind: e.kind, From: e.from, To: e.to, Corrects: e.corrects, Instrument: e.instrument,
		Photos: e.photos, Text: e.text, Rule: e.rule,
	}
	says, err := json.Marshal(s.run.Writes(&r, e.says))
	if err != nil {
		panic(err) // our own structs of lengths and words
	}
	r.Says = says
	if r.To == r.From {
		r.To = ""
	}
	if r.After = e.after; !e.carded {
		r.After = append(d.book.Before(r.Kind, r.From, r.To), e.after...)
	}
	d.wrote = append(d.wrote, r)
	d.book.Add(r)
	return r.ID
}

// meet sends what a device wrote and takes in what others sent.
func (s *site) meet(d *device) {
	for _, r := range d.wrote[d.sent:] {
		r.Seq = int64(len(s.server.records) + 1)
		s.server.records = append(s.server.records, r)
	}
	d.sent = len(d.wrote)
	s.take(d)
}

func (s *site) take(d *device) {
	for _, r := range s.server.records[d.took:] {
		if r.Device != d.name {
			d.book.Add(r)
		}
	}
	d.took = len(s.server.records)
}

// evening lets devices with signal meet the server; now and then one loses it for hours or days.
func (s *site) evening() {
	for _, d := range s.devices {
		if d.back > s.day {
			continue
		}
		if !s.calm && s.once(9) {
			d.back = s.day + 1 + s.below(8)
			if d.back > s.day+1 {
				s.surprise("device offline for days", nil, 0)
				s.tell("%s (%s) has no signal until day %d.", d.name, d.person, d.back)
			}
			continue
		}
		s.meet(d)
	}
}
