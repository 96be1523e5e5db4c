package field

import (
	"encoding/json"
	"slices"

	"trenchwright/base/measure"
)

// names are texts that come again and again, each kept once: devices, people, kinds, places.
type names map[string]string

func (n names) of(text []byte) string {
	if name, known := n[string(text)]; known {
		return name
	}
	if len(n) >= 1<<16 { // nothing comes again here
		return string(text)
	}
	name := string(text)
	n[name] = name
	return name
}

// scanned reads a line that holds a record as devices write it; false: encoding/json has to read it.
func scanned(line []byte, known names) (r Record, ok bool) {
	s := scan{text: line}
	s.members(func(name []byte) int {
		switch string(name) {
		case "id":
			r.ID = string(s.word())
			return 0
		case "job":
			r.Job = known.of(s.word())
			return 1
		case "device":
			r.Device = known.of(s.word())
			return 2
		case "number":
			r.Number = s.whole()
			return 3
		case "person":
			r.Person = known.of(s.word())
			return 4
		case "role":
			r.Role = known.of(s.word())
			return 5
		case "made":
			r.Made = string(s.word())
			return 6
		case "kind":
			r.Kind = Kind(known.of(s.word()))
			return 7
		case "from":
			r.From = known.of(s.word())
			return 8
		case "to":
			r.To = known.of(s.word())
			return 9
		case "after":
			r.After = s.words()
			return 10
		case "corrects":
			r.Corrects = string(s.word())
			return 11
		case "says":
			says := s.value()
			if !json.Valid(says) {
				s.odd = true
			}
			r.Says = slices.Clone(says)
			return 12
		}
		return s.more(string(name), &r)
	})
	return r, s.end()
}

// more are the members that not every record has.
func (s *scan) more(name string, r *Record) int {
	switch name {
	case "instrument":
		r.Instrument = s.instrument()
		return 13
	case "fix":
		r.Fix = s.fix()
		return 14
	case "rule":
		r.Rule = string(s.word())
		return 15
	case "photos":
		r.Photos = s.words()
		return 16
	case "text":
		r.Text = string(s.word())
		return 17
	case "plan":
		r.Plan = string(s.word())
		return 18
	case "places":
		r.Places = string(s.word())
		return 19
	case "planned":
		r.Planned = s.then()
		return 20
	}
	return -1
}

func (s *scan) instrument() *Instrument {
	var i Instrument
	s.members(func(name []byte) int {
		switch string(name) {
		case "id":
			i.ID = string(s.word())
			return 0
		case "checked":
			i.Checked = string(s.word())
			return 1
		case "set_up":
			i.SetUp = string(s.word())
			return 2
		case "certificate":
			i.Certificate = string(s.word())
			return 3
		case "due":
			i.Due = string(s.word())
			return 4
		}
		return -1
	})
	return &i
}

func (s *scan) then() *Then {
	var t Then
	s.members(func(name []byte) int {
		switch string(name) {
		case "gap":
			t.Gap = new(s.length())
			return 0
		case "four":
			t.Four = []measure.Length{}
			s.elements(func() { t.Four = append(t.Four, s.length()) })
			return 1
		}
		return -1
	})
	return &t
}

func (s *scan) fix() *Fix {
	var f Fix
	s.members(func(name []byte) int {
		switch string(name) {
		case "latitude":
			f.Latitude = s.number()
			return 0
		case "longitude":
			f.Longitude = s.number()
			return 1
		case "within_m":
			f.Within = s.number()
			return 2
		}
		return -1
	})
	return &f
}
