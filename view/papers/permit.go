package papers

import (
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/recorded"
)

const formPermit = "MOD form 5070 (JSP 375, volume 2, annex B), its sections, as read in a public copy"

// permits are one permit to dig for each leg that is asked for: what holds one back does not hold back the others.
func (m *maker) permits() []Paper {
	var out []Paper
	for _, l := range m.legs() {
		of := *m
		of.Leg = l.Name
		out = append(out, of.permit())
	}
	return out
}

func (m *maker) permit() Paper {
	p := m.paper(m.Leg, m.ofLegs())
	m.digStops(&p)
	parts := []Part{m.permitWhere(), m.permitTickets(), m.permitServices(), m.permitFound(), m.permitOverhead(), m.permitDig(),
		{Title: "Looked for on the ground", Form: formPermit, Lines: blanks("drawings of owners seen, numbers and dates", "instrument, number, day of its check", "searched by, and when", "marks on the ground, and by whom", "trial holes, where and by whom", "method of dig, special conditions", "emergency number; nearest valve or switch")},
		{Title: "Holds from, until", Form: formPermit, Lines: append(m.permitUntil(), blanks("holds from: day and hour", "holds until: day and hour")...), Notes: []string{"anything that was not on this permit, a " + m.word(wording.Service) + " that was found, a change of place or of method: stop, and this permit is at an end"}},
		{Title: "Issued, taken over, handed back", Form: formPermit, Sign: []string{"issued by", "taken over by, in charge of the dig", "handed back: dig filled, and what was found written down"}}}
	return m.done(p, parts...)
}

func (m *maker) permitWhere() Part {
	part := Part{Title: "Where, and what is dug", Form: formPermit, Lines: blanks("permit number")}
	for _, l := range m.legs() {
		part.Lines = append(part.Lines, Line{"leg " + l.Name, m.stretch(0, l.NodeLength) + ", " + l.From + " to " + l.To, fromPlan})
	}
	return part
}

// ticket is a locate ticket, a notice or a release that ends.
type ticket struct {
	name, where, given, until, from string
	lapses                          []string // events that end it too
	ended                           string   // why; empty: it has not, as far as the job and its records tell
}

func (m *maker) today() string { return m.Now[:min(10, len(m.Now))] }

// tickets are the notices of the job and the releases of the records that end, on the legs that are asked for.
func (m *maker) tickets() []ticket {
	var out []ticket
	if g := m.Job.Programme; g != nil {
		for _, w := range g.Windows {
			if w.Kind != "notice" || !m.onLeg(w.Leg) && w.Leg != "" || len(w.Works) > 0 && !slices.Contains(w.Works, "dig") {
				continue
			}
			where := m.ofLegs()
			if w.Leg != "" {
				where = "leg " + w.Leg
			}
			if w.To > 0 {
				where += ", " + m.stretch(measure.MM(w.From), measure.MM(w.To))
			}
			t := ticket{name: w.ID, where: strung(": ", where, w.Why), given: strung(", ", w.Given, lead(w.Lead)), until: w.Last, from: strung(", ", "the job, programme, windows", m.document(g.From))}
			if m.Now != "" && w.Last != "" && m.today() > w.Last {
				t.ended = "EXPIRED on " + m.today()
			}
			out = append(out, t)
		}
	}
	for i := range m.state.Points {
		out = append(out, m.releases(&m.state.Points[i])...)
	}
	return out
}

// releases are the last ones of a point that end with a day or an event. The records tell of events at any hour.
func (m *maker) releases(p *field.PointState) []ticket {
	if m.Leg != "" && p.From != "" && !strings.HasPrefix(p.From, m.Leg+"-") {
		return nil
	}
	var out []ticket
	for _, id := range p.Releases {
		r, _ := m.book.Record(id)
		says, _ := field.SaysOf[field.PointSays](&r)
		if says.Until == "" && len(says.Lapses) == 0 {
			continue
		}
		t := ticket{name: p.Point, where: strung(" to ", p.From, p.To), given: r.Made[:min(10, len(r.Made))], until: says.Until, lapses: says.Lapses, from: recorded.By(&r)}
		if !slices.Contains(p.Released.By, id) {
			t.ended = "HAS ENDED: " + p.Why
		}
		out = append(out, t)
	}
	return out
}

// lead is how long a notice runs before work may begin.
func lead(days int) string {
	if days == 0 {
		return ""
	}
	return "runs " + counted(days, "working day", "working days") + " first"
}

// holds is until when a ticket does.
func (t ticket) holds() string { return strung(", or ", t.until, strings.Join(t.lapses, ", ")) }

// isNow is what a ticket is at the moment of the paper.
func (m *maker) isNow(t ticket) string {
	switch {
	case t.ended != "":
		return t.ended
	case t.holds() == "":
		return none("day on which it ends", "whoever gave it")
	case m.Now == "":
		return "hold it against the day of the dig"
	}
	return "holds on " + m.today() + ", as far as job and records tell"
}

func (m *maker) permitTickets() Part {
	part := Part{Title: "Locate tickets and notices", Form: "common practice: number, place, given, holds until", Heads: []Head{{Name: "ticket", Wide: 3}, {Name: "for", Wide: 5}, {Name: "given", Wide: 2}, {Name: "holds until", Wide: 2}, {Name: "is", Wide: 4}, {Name: "from", Wide: 4}}}
	for _, t := range m.tickets() {
		part.Rows = append(part.Rows, []string{t.name, t.where, t.given, t.holds(), m.isNow(t), t.from})
	}
	if len(part.Rows) == 0 {
		part.Heads, part.Lines = nil, []Line{{"locate ticket", none("locate ticket, nor notice to owners,", "the one-call office, or the owners of what lies there"), ""}, {Name: "number, given, holds until"}}
	}
	return part
}

// permitUntil is the last day that tickets leave.
func (m *maker) permitUntil() []Line {
	last, by := "", ""
	for _, t := range m.tickets() {
		if day := t.until[:min(10, len(t.until))]; day != "" && (last == "" || day < last) {
			last, by = day, t.name
		}
	}
	if last == "" {
		return nil
	}
	return []Line{{"no later than", last, "ticket " + by + ", which ends first"}}
}

// lies is how a service lies to what is dug, with its figures.
func (m *maker) lies(s *planner.Service) string {
	out := "depth unknown"
	switch {
	case s.Top != nil:
		out = "top at level " + m.level(*s.Top)
	case s.Depth != nil:
		out = "top " + m.deep(*s.Depth) + " deep"
	}
	if s.Bottom != nil {
		out += ", bottom of the dig at " + m.level(*s.Bottom)
	}
	return strung(": ", out, s.Lies)
}

// handDig is where a service is dug by hand: its width and its zone each way, over the skew that it crosses at.
func (m *maker) handDig(s *planner.Service) string {
	if s.Zone == nil {
		return none("tolerance zone round "+s.ID, "the owner of "+s.Name)
	}
	half := float64(s.Width)/2 + float64(*s.Zone)
	if sine := math.Sin(s.Skew * math.Pi / 180); sine > 0.05 {
		half /= sine
	} else {
		return "it runs along the dig: by hand wherever it is within " + m.deep(*s.Zone) + " of its side"
	}
	out := m.stretch(measure.MM(max(0, math.Floor(float64(s.At)-half))), s.At+measure.MM(math.Ceil(half)))
	if s.Depth == nil && s.Top == nil {
		out += ", at every depth"
	}
	return out
}

func (m *maker) permitServices() Part {
	zone := none("tolerance zone round recorded "+m.word(wording.Services), "their owners")
	if t := m.Job.Dig.Tolerance; t.Known {
		zone = "zone each way, and where it is from: " + m.length(t.Value) + ", " + job.SourceFrom(m.Job, m.Job.Dig.From, t)
	}
	part := Part{Title: m.word(wording.Services) + " on record, and where is dug by hand", Form: formPermit, From: "the job, route; how it lies: " + fromPlan,
		Heads: []Head{{Name: "no.", Wide: 1.2}, {Name: "what", Wide: 3}, {Name: "leg", Wide: 0.9}, {Name: m.word(wording.Chainage), Wide: 2}, {Name: "place known by", Wide: 3}, {Name: "lies", Wide: 5}, {Name: "by hand, " + m.word(wording.Chainage), Wide: 4}, {Name: "found, by", Wide: 3, Fill: true}}}
	for i := range m.Plan.Services {
		s := &m.Plan.Services[i]
		if !m.onLeg(s.Leg) {
			continue
		}
		known := s.Quality
		if known == "" {
			known = none("word on how the place of "+s.ID+" is known", "the owner of "+s.Name)
		}
		part.Rows = append(part.Rows, []string{s.ID, s.Name, s.Leg, m.chainage(s.At), known, m.lies(s), m.handDig(s), ""})
	}
	part.Notes = []string{zone, m.speech.Say("by hand: width of the %s and its zone each way, over the skew. No machine there before the %s is seen", wording.Service, wording.Service)}
	if len(part.Rows) == 0 {
		part.Heads = nil
		part.Notes = []string{"nothing recorded here: that says nothing of what lies in the ground", zone}
	}
	return part
}

// permitFound is what the records have found.
func (m *maker) permitFound() Part {
	part := Part{Title: "Found, by the records", Form: fromJob, Heads: []Head{{Name: "what", Wide: 3}, {Name: "leg", Wide: 1}, {Name: m.word(wording.Chainage), Wide: 2}, {Name: "met", Wide: 2}, {Name: "depth", Wide: 3}, {Name: "its top", Wide: 2}, {Name: "owner, ticket", Wide: 3}, {Name: "recorded", Wide: 5}}}
	for _, s := range m.state.Services {
		if !m.onLeg(s.Leg) {
			continue
		}
		top := ""
		if s.Top != nil {
			top = m.level(s.Top.Metres())
		}
		part.Rows = append(part.Rows, []string{s.Name, s.Leg, m.chainage(measure.MM(s.At)), map[bool]string{true: "found", false: "not met"}[s.Met], string(s.Depth), top, strung(", ", s.Owner, s.Ticket), m.bySeveral(s.By)})
	}
	if len(part.Rows) == 0 {
		part.Heads, part.Notes = nil, []string{"nothing recorded here"}
	}
	return part
}

// permitOverhead are lines overhead, as far as lifts know of one.
func (m *maker) permitOverhead() Part {
	part := Part{Title: "Lines overhead", Form: formOverhead}
	for i := range m.Job.Checks.Lifts {
		l := &m.Job.Checks.Lifts[i]
		if l.Voltage.Known {
			part.Lines = append(part.Lines, Line{"line of which lift " + l.ID + " knows", l.Voltage.Value + " kV", job.SourceFrom(m.Job, l.From, l.Voltage)})
		}
	}
	if len(part.Lines) == 0 {
		part.Lines = []Line{{"lines overhead", none("line overhead, nor word that there is none,", "the owners of lines"), ""}}
	}
	part.Lines = append(part.Lines, blanks("looked up on site by, and when")...)
	return part
}

// permitDig is the dig with what protects it, as it was entered.
func (m *maker) permitDig() Part {
	part := m.digGrid("The dig, as it was entered")
	part.Notes = append(part.Notes, "support, slope and class of soil are the competent person's; this is what was entered and what it was held against")
	return part
}
