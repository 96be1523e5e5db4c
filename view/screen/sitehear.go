package screen

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
)

// Heard is what somebody typed about the site, as it was understood. Nothing is kept by it.
type Heard struct {
	Record  string   `json:"record"` // as JSON, without who made it and when; empty: something is still missing
	Words   string   `json:"words"`  // the record in one sentence
	Echo    []Echo   `json:"echo"`
	Missing []string `json:"missing"` // what has to be said yet
	Warn    []string `json:"warn"`    // what is odd about it, and what it is held against: it is a fact all the same
	Stop    []string `json:"stop"`    // what holds the work from here on
	Height  string   `json:"height"`  // of an instrument that was set up, as it would be typed; empty: none was
}

// Echo is one thing as it was understood.
type Echo struct {
	Name  string `json:"name"` // of the field; of a field of a row: 2.by
	Text  string `json:"text"`
	Fault string `json:"fault"` // why it cannot be read
}

// unkept is a record before a device keeps it.
type unkept struct {
	Kind       field.Kind        `json:"kind"`
	From       string            `json:"from,omitempty"`
	To         string            `json:"to,omitempty"`
	After      []string          `json:"after,omitempty"`
	Corrects   string            `json:"corrects,omitempty"`
	Places     string            `json:"places,omitempty"`
	Planned    *field.Then       `json:"planned,omitempty"`
	Instrument *field.Instrument `json:"instrument,omitempty"`
	Photos     []string          `json:"photos,omitempty"`
	Text       string            `json:"text,omitempty"`
	Says       json.RawMessage   `json:"says,omitempty"`
}

// hearing reads one record field by field.
type hearing struct {
	*siteView
	q    *question
	form Form
	row  map[string]string // that is being read; nil: the record itself
	at   string            // what the name of a field of it begins with
	bad  bool
	out  Heard
}

// kindOfForm is the kind of record that each form makes; a form that is not named makes one of its own name.
var kindOfForm = map[string]field.Kind{
	"goods": field.Delivery, "trial": field.TrialHole, "formation": field.Level, "pad": field.Level, "wall": field.Level, "invert": field.Level, "drain": field.Level, "figures": field.Set, "setup": field.SetUp, "closing": field.SetUp, "lifted": field.Set, "broken": field.Damage,
	"layertest": field.LayerTest, "coverlifted": field.Cover, "covertest": field.CoverTest,
}

// hear makes a record of what was typed, as far as it can be read.
func (v *siteView) hear(q *question) Heard {
	h := hearing{siteView: v, q: q, out: Heard{Echo: []Echo{}, Missing: []string{}, Warn: []string{}, Stop: []string{}}}
	if !h.found() {
		h.out.Missing = append(h.out.Missing, fmt.Sprintf("there is no record %q", q.Form))
		return h.out
	}
	m := unkept{Kind: field.Kind(q.Form), Corrects: q.Corrects, Photos: q.Photos, Text: strings.TrimSpace(q.Text)}
	if k, other := kindOfForm[q.Form]; other {
		m.Kind = k
	}
	h.places(&m)
	says := h.says(&m)
	for _, f := range h.form.Fields {
		if f.Must && strings.TrimSpace(q.Fields[f.Name]) == "" {
			h.out.Missing = append(h.out.Missing, f.Label)
		}
	}
	if (m.Kind == field.Note || m.Kind == field.Diary) && m.Text == "" && len(m.Photos) == 0 {
		h.out.Missing = append(h.out.Missing, "words, a photo or a voice note")
	}
	if h.bad || len(h.out.Missing) > 0 {
		return h.out
	}
	says = h.goodTo(says)
	with := field.Record{From: m.From, To: m.To}
	says = v.under.Writes(&with, says)
	m.Places, m.Planned = with.Places, with.Planned
	if says != nil {
		m.Says, _ = json.Marshal(says)
	}
	m.After = v.book.Before(m.Kind, m.From, m.To)
	h.instrument(&m, says)
	b, err := json.Marshal(m)
	if err != nil {
		h.out.Missing = append(h.out.Missing, err.Error())
		return h.out
	}
	h.out.Record = string(b)
	h.out.Words = v.saying().Sentence(&field.Record{Kind: m.Kind, From: m.From, To: m.To, Says: m.Says, Text: m.Text, Photos: m.Photos, Corrects: m.Corrects, Instrument: m.Instrument})
	h.holds(&m, says)
	return h.out
}

// found looks the form up, in whatever stage it belongs to.
func (h *hearing) found() bool {
	if h.byID == nil {
		h.byID = map[string]Form{}
		for _, s := range stageTables {
			for _, f := range h.forms(s.id) {
				h.byID[f.ID] = f
			}
		}
	}
	var ok bool
	h.form, ok = h.byID[h.q.Form]
	return ok
}

// places puts the record where it belongs, and says where that is no place of this plan.
func (h *hearing) places(m *unkept) {
	if h.form.At == "" || h.form.At == "chainage" {
		return
	}
	m.From, m.To = strings.TrimSpace(h.q.From), strings.TrimSpace(h.q.To)
	if m.To == m.From || h.form.At != "units" {
		m.To = ""
	}
	if m.From == "" && m.Kind != field.Note && m.Kind != field.Inspection && m.Kind != field.Notice && m.Kind != field.Release && m.Kind != field.Nonconforming && m.Kind != field.Repair {
		h.out.Missing = append(h.out.Missing, "the place")
	}
	for _, place := range []string{m.From, m.To} {
		if place != "" && h.form.At != "entry" && h.siteKey(place) == "" {
			h.out.Warn = append(h.out.Warn, place+" is no place of this plan; the record is kept as it is said, and counts nowhere until a plan has it.")
		}
	}
}

// said is what was typed into a field.
func (h *hearing) said(name string) string {
	if h.row != nil {
		return strings.TrimSpace(h.row[name])
	}
	return strings.TrimSpace(h.q.Fields[name])
}

func (h *hearing) echo(name, text string, err error) {
	e := Echo{Name: h.at + name, Text: text}
	if err != nil {
		e.Text, e.Fault, h.bad = "", err.Error(), true
	}
	h.out.Echo = append(h.out.Echo, e)
}

// length is a length as it was typed; nil: none was.
func (h *hearing) length(name string) *measure.Length {
	text := h.said(name)
	if text == "" {
		return nil
	}
	unit := measure.UnitMillimetre
	if h.speech.Imperial {
		unit = measure.UnitInch
	}
	r, err := measure.ParseIn(text, unit)
	h.echo(name, h.speech.Both(r.Length), err)
	return &r.Length
}

// long is a length that nobody speaks of in millimetres: a chainage, a coordinate.
func (h *hearing) long(name string) *measure.Length {
	text := h.said(name)
	if text == "" {
		return nil
	}
	system := measure.Metric
	if h.speech.Imperial {
		system = measure.Imperial
	}
	r, err := measure.ParseChainage(text, system)
	if err != nil {
		r, err = measure.ParseIn(text, h.levelUnit())
	}
	h.echo(name, "leg "+h.q.Leg+", "+h.chainage(measure.MM(r.Length)), err)
	return &r.Length
}

// levelUnit is the unit of coordinates and levels.
func (d *draft) levelUnit() measure.Unit {
	switch d.metres {
	case 1:
		return measure.UnitMetre
	case 0.3048:
		return measure.UnitFoot
	}
	return measure.UnitSurveyFoot
}

// line is how far something is off its line: right above nought, left below.
func (h *hearing) line(name string) *measure.Length {
	n := len(h.out.Echo)
	l := h.length(name)
	if l != nil && *l != 0 && h.out.Echo[n].Fault == "" {
		h.out.Echo[n].Text = h.saying().Aside(*l)
	}
	return l
}

// off is how far something is off its place: ahead above nought, behind below. It is echoed in words.
func (h *hearing) off(name string) *measure.Length {
	text := h.said(name)
	if text == "" {
		return nil
	}
	unit := measure.UnitMillimetre
	if h.speech.Imperial {
		unit = measure.UnitInch
	}
	r, err := measure.ParseIn(text, unit)
	said := "at its place"
	if r.Length != 0 {
		said = h.saying().Off(r.Length) + " of its place"
		if r.Length < 0 {
			said = h.saying().Off(r.Length) + " its place"
		}
	}
	h.echo(name, said, err)
	return &r.Length
}

// reading is a level: as typed, or what the rod shows where the height of the instrument is said. It is echoed in metres, in decimal
// feet and in feet and inches, as rods are divided.
func (h *hearing) reading(name string) *measure.Length {
	text := h.said(name)
	if text == "" {
		return nil
	}
	r, err := measure.ParseIn(text, h.levelUnit())
	level := r.Length
	as := inThree(r.Length)
	if strings.TrimSpace(h.q.Height) != "" {
		high, bad := measure.ParseIn(h.q.Height, h.levelUnit())
		if bad != nil {
			err = fmt.Errorf("the %s was not understood: %w", h.speech.Word(wording.Instrument), bad)
		}
		level = high.Length - r.Length
		as += ": level " + h.levelText(level.Metres())
	}
	h.echo(name, as, err)
	return &level
}

func (h *hearing) number(name string) int {
	text := h.said(name)
	if text == "" {
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 || n > 1_000_000 {
		h.echo(name, "", fmt.Errorf("%q is no number of pieces; write for example 12", text))
	}
	return n
}

// yes is one of two answers; nil: neither was given.
func (h *hearing) yes(name, yes, no string) *bool {
	switch h.said(name) {
	case yes:
		return new(true)
	case no:
		return new(false)
	}
	return nil
}

// piece is a kind of piece by the name that it has in forms.
func (h *hearing) piece(name string) field.Piece {
	said := h.said(name)
	for _, p := range h.inYard() {
		if h.saying().Piece(p) == said {
			return p
		}
	}
	if said != "" {
		h.echo(name, "", fmt.Errorf("%q is no piece of this run", said))
	}
	return field.Piece{}
}

// lines reads the lines of a list one after another; a line that nobody filled is none.
func (h *hearing) lines(one func()) {
	for i, row := range h.q.Rows {
		h.row, h.at = row, strconv.Itoa(i)+"."
		for _, f := range h.form.Rows {
			if f.Must && h.said(f.Name) == "" {
				h.out.Missing = append(h.out.Missing, f.Label)
			}
		}
		one()
	}
	h.row, h.at = nil, ""
}

// goodTo has readings carry how well they are read, each way: as whoever reads says of the instrument in use, else for levels as the job
// has it. Where neither is told, it stays open.
func (h *hearing) goodTo(says any) any {
	var plus measure.Length
	if text := strings.TrimSpace(h.q.Plus); text != "" {
		unit := measure.UnitMillimetre
		if h.speech.Imperial {
			unit = measure.UnitInch
		}
		r, err := measure.ParseIn(text, unit)
		if err != nil || r.Length < 0 {
			h.out.Warn = append(h.out.Warn, fmt.Sprintf("How well it is read was not understood: %q. The reading is kept without.", text))
		} else {
			plus = r.Length
		}
	}
	level := plus
	if e := h.job.Levels.Reading; level == 0 && e.Known {
		level = e.Value
	}
	switch s := says.(type) {
	case field.LevelSays:
		if s.Plus == 0 && (s.Level != nil || len(s.Four)+len(s.Rod) > 0) {
			s.Plus = level
		}
		return s
	case field.RockSays:
		if s.Plus == 0 && len(s.Four) > 0 {
			s.Plus = level
		}
		return s
	case field.GapSays:
		s.Plus = cmp.Or(s.Plus, plus)
		return s
	case field.SetSays:
		if len(s.Off) > 0 || s.Line != nil || s.Measure != nil {
			s.Plus = cmp.Or(s.Plus, plus)
		} else if len(s.Walls) > 0 {
			s.Plus = cmp.Or(s.Plus, level)
		}
		return s
	}
	return says
}

// instrument names what was read with, where the height of it was said: readings of one set-up are right or wrong together.
func (h *hearing) instrument(m *unkept, says any) {
	high := strings.TrimSpace(h.q.Height)
	name := strings.TrimSpace(h.q.Instrument)
	reads := slices.ContainsFunc(h.form.Fields, func(f FormField) bool { return f.Kind == "reading" && h.q.Fields[f.Name] != "" })
	up, stands := says.(field.SetUpSays)
	if stands && !up.Closes {
		high = h.standsAt(up)
	}
	reads = reads || stands
	if name == "" && (!reads || high == "") {
		return
	}
	m.Instrument = &field.Instrument{ID: name, Checked: strings.TrimSpace(h.q.Checked), Certificate: strings.TrimSpace(h.q.Certified), Due: strings.TrimSpace(h.q.Due)}
	if name == "" {
		m.Instrument.ID = "not named"
	}
	if reads && high != "" {
		m.Instrument.SetUp = h.speech.Word(wording.Instrument) + " " + high
	}
}

// holds says what the record is held against, and what it stops.
func (h *hearing) holds(m *unkept, says any) {
	switch s := says.(type) {
	case field.LevelSays:
		h.againstPlan(m, s)
	case field.RockSays:
		if len(s.Four) == 4 && len(s.Read) == 0 {
			rock := s.Four[0] + s.Four[3] - s.Four[1] - s.Four[2]
			h.out.Warn = append(h.out.Warn, "Rock, start left and end right less the other two: "+h.speech.Both(rock.Abs())+".")
		}
	case field.ServiceSays:
		h.againstDepth(s)
		if s.Met && (s.Depth == field.InEnvelope || s.Depth == field.NotKnown || s.Depth == "") {
			h.out.Stop = append(h.out.Stop, "STOP here: moving joints does not answer this. Tell its owner; then raise the run, take a shallower supply or have it diverted.")
		} else if s.Met && s.Planned == "" && (s.Width == nil || s.Keep == nil) {
			h.out.Warn = append(h.out.Warn, finding.NoneOnFile("width of it and distance that joints keep from it", "its owner", finding.Where{}).Sentence())
		}
	case field.GapSays:
		h.againstGap(m, s)
	case field.SetUpSays:
		h.againstStanding(s)
	case field.DeliverySays:
		for _, l := range s.Lines {
			if l.Damaged > l.Came {
				h.out.Warn = append(h.out.Warn, fmt.Sprintf("More damaged than came: %d of %d.", l.Damaged, l.Came))
			}
		}
	}
	slices.SortStableFunc(h.out.Warn, func(a, b string) int { // what does not meet its figure is read first
		return cmp.Compare(strings.Index(b, doesNotMeet)+1, 0) - cmp.Compare(strings.Index(a, doesNotMeet)+1, 0)
	})
}
