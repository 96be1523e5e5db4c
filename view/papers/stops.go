package papers

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/solve/check"
)

// Stop is a hard stop: what is held against what, and whether somebody answers for it all the same.
type Stop struct {
	Name    string        `json:"name"` // as an override names it
	What    string        `json:"what"`
	Figures string        `json:"figures"` // both, or NOT CHECKED
	Rule    string        `json:"rule"`
	Decides string        `json:"decides"` // who may answer for it
	Over    *job.Override `json:"override,omitempty"`
	Source  string        `json:"override_document,omitempty"`
	Lapsed  string        `json:"override_lapsed,omitempty"` // why an override that was given does not count
}

// against are both figures of a stop.
func against(value, limit string) string { return strung(" against ", value, limit) }

// stop puts a stop on a paper, with who answers for it.
func (m *maker) stop(p *Paper, s Stop) {
	if slices.ContainsFunc(p.Stops, func(o Stop) bool { return o.Name == s.Name }) {
		return
	}
	s.What = m.speech.Reworded(s.What)
	for i := range m.Job.Overrides {
		o := &m.Job.Overrides[i]
		if o.Stop != s.Name {
			continue
		}
		if o.Figures != s.Figures {
			s.Lapsed = fmt.Sprintf("an override by %s was given for %s, and counts for nothing else", o.By, o.Figures)
			continue
		}
		s.Over, s.Source, s.Lapsed = o, m.document(o.Document), ""
		break
	}
	p.Stops = append(p.Stops, s)
}

// checkStop puts a check that is not met on a paper as a stop.
func (m *maker) checkStop(p *Paper, c *check.Said, name string) {
	what, figures := verdict(c), against(c.Value, c.Limit)
	if len(c.Missing) > 0 {
		what, figures = field.NotChecked, what
	}
	m.stop(p, Stop{Name: name, What: c.What + ": " + what, Figures: figures, Rule: c.Rule, Decides: c.Decides})
}

// verdict is that of a check, or what it lacks.
func verdict(c *check.Said) string {
	if len(c.Missing) > 0 {
		return strings.Join(c.Missing, ". ")
	}
	return cmp.Or(c.Verdict, string(finding.CannotSay))
}

// notMet tells whether a check holds something back: it does not meet its figure, or is a hard stop of which nobody can say.
func notMet(c *check.Said) bool {
	return c.Verdict == string(finding.DoesNot) || c.Stop && c.Verdict != string(finding.Meets)
}

// liftStops are those of one lift.
func (m *maker) liftStops(p *Paper, l *job.Lift) {
	for i := range m.Plan.Checks {
		if c := &m.Plan.Checks[i]; liftOf(c) == l.ID && notMet(c) {
			m.checkStop(p, c, c.ID+"/"+c.For)
		}
	}
	for _, one := range m.pieces(l) {
		if one.mass == nil {
			m.stop(p, Stop{Name: "lifting.mass/" + l.ID, What: "the mass of " + one.mark + ": " + field.NotChecked, Figures: none("mass of "+one.mark, "the supplier"),
				Rule: "no lift without the mass of the piece", Decides: "the lift planner"})
		}
	}
	if l.Of == "units" {
		m.cutStops(p, l.Supply)
	}
}

// liftOf is the lift that a check is about.
func liftOf(c *check.Said) string {
	if !strings.HasPrefix(c.ID, "lifting.") {
		return ""
	}
	return strings.TrimSuffix(c.For, "/cut")
}

// cutStops are pieces that were sawn, by the records, where the supplier says that no saw may go.
func (m *maker) cutStops(p *Paper, supply string) {
	for _, r := range m.book.Standing(field.Cut) {
		says, ok := field.SaysOf[field.CutSays](&r)
		if !ok || says.Spoiled || supply != "" && says.From.Supply != supply {
			continue
		}
		for _, s := range m.Job.Supplies {
			if s.ID != says.From.Supply {
				continue
			}
			for _, n := range s.Unit.NoCut {
				for _, at := range says.Sawn() {
					if n.Of != says.From.Length || at[1] <= n.From || at[0] >= n.To {
						continue
					}
					sawn := m.length(at[0])
					if at[1] != at[0] {
						sawn += " to " + m.length(at[1])
					}
					m.stop(p, Stop{Name: "cut.no-cut/" + says.Mark, What: fmt.Sprintf("piece %s was sawn where no saw may go (%s)%s", says.Mark, n.Why, keptEnd(&says)),
						Figures: against("sawn at "+sawn, "no cut from "+m.length(n.From)+" to "+m.length(n.To)+" of a piece of "+m.length(n.Of)), Rule: "supplier's drawing, " + m.document(s.From), Decides: "the supplier and the engineer"})
				}
			}
		}
	}
}

// keptEnd is which end of what it was cut from a piece kept; where that is not on record both were looked at.
func keptEnd(s *field.CutSays) string {
	switch s.Kept {
	case "A", "B":
		return ", by the record it kept end " + s.Kept
	case "neither":
		return ", by the record it kept neither end: where it was sawn is not on record, and it was looked at as if it had kept either"
	}
	return ", from one end or the other: which end it kept is not on record"
}

// digStops are those of a dig on the legs that are asked for.
func (m *maker) digStops(p *Paper) {
	for _, e := range m.Plan.Excavation {
		if !m.onLeg(e.Leg) {
			continue
		}
		for _, r := range e.Results {
			if r.Stop {
				name := r.ID + "/" + e.Leg
				if e.From != nil {
					name += "@" + m.chainage(*e.From)
				}
				m.stop(p, Stop{Name: name, What: "leg " + e.Leg + ", " + r.What + ": " + r.Verdict, Figures: against(r.Value, r.Limit), Rule: r.Rule, Decides: "a registered engineer"})
			}
		}
	}
	for i := range m.Plan.Services {
		s := &m.Plan.Services[i]
		if !m.onLeg(s.Leg) || m.foundAs(s.ID) {
			continue
		}
		switch {
		case s.Depth == nil && s.Top == nil:
			m.stop(p, Stop{Name: "service.depth/" + s.ID, What: fmt.Sprintf("%s %s on leg %s at %s: its depth is not known", s.ID, s.Name, s.Leg, m.chainage(s.At)), Figures: none("depth of "+s.ID, "the owner of "+s.Name),
				Rule: m.deepRule(), Decides: "the owner of " + s.Name})
		case s.Lies == "in unit":
			m.stop(p, Stop{Name: "service.in-unit/" + s.ID, What: fmt.Sprintf("%s %s on leg %s at %s lies where the unit is to lie", s.ID, s.Name, s.Leg, m.chainage(s.At)), Figures: m.lies(s),
				Rule: m.speech.Say("no layout answers a %s in the way of the %s: raise the run, a shallower supply, or divert", wording.Service, wording.Unit), Decides: "the owner of " + s.Name})
		}
	}
	for _, s := range m.state.Services {
		if s.Met && m.onLeg(s.Leg) && (s.Depth == field.NotKnown || s.Depth == field.InEnvelope || s.Depth == "") {
			m.stop(p, Stop{Name: "service.found/" + s.Name, What: fmt.Sprintf("%s was found on leg %s at %s: %s", s.Name, s.Leg, m.chainage(measure.MM(s.At)), strung(", ", "depth "+string(s.Depth))), Figures: "depth " + string(s.Depth) + " against below the bed, or in bed or pad",
				Rule: m.deepRule(), Decides: "the owner of what was found"})
		}
	}
	for _, t := range m.tickets() {
		if t.ended != "" {
			m.stop(p, Stop{Name: "ticket/" + t.name + "/" + m.Leg, What: strung(" for ", "ticket or release "+t.name, t.where) + " has ended", Figures: against(t.ended, "holds until "+t.holds()), Rule: "no dig on a ticket or a release that has ended", Decides: "whoever gave it"})
		}
	}
}

// deepRule is why a depth that is not known holds a dig back.
func (m *maker) deepRule() string {
	return m.speech.Say("a %s of unknown depth counts as one in the way of the %s", wording.Service, wording.Unit)
}

// foundAs tells whether a service of the plan was found: then the records speak of it.
func (m *maker) foundAs(id string) bool {
	return slices.ContainsFunc(m.state.Services, func(s field.ServiceState) bool { return s.Met && s.Planned == id })
}

// methodStops are those of what a method statement would tell people to do: cross what does not bear it, compact what may not be.
func (m *maker) methodStops(p *Paper) {
	for i := range m.Plan.Checks {
		c := &m.Plan.Checks[i]
		if !c.Stop || c.Verdict != string(finding.DoesNot) || strings.HasPrefix(c.ID, "lifting.") {
			continue
		}
		where := c.Where.Place
		if where == "" {
			where = strings.NewReplacer(" ", "-", "[", ".", "]", "").Replace(strung("@", c.Where.Leg, c.Where.Path))
		}
		if c.Where.Chainage != nil {
			where += "@" + m.chainage(measure.MM(*c.Where.Chainage))
		}
		m.checkStop(p, c, strings.TrimSuffix(c.ID+"/"+where, "/"))
	}
}

// Say is a stop in words, with how somebody answers for it.
func (s Stop) Say() string {
	out := s.What + "\n  " + s.Figures + "\n  " + s.Rule + "\n  who may override: " + s.Decides
	if s.Lapsed != "" {
		out += "\n  " + s.Lapsed
	}
	return out
}

// Entry is what the job says where somebody answers for the stop.
func (s Stop) Entry() string {
	return fmt.Sprintf("overrides: [{stop: %q, figures: %q, by: NAME, reason: WHY, document: ID, on: DATE}]", s.Name, s.Figures)
}

// Unmatched are the stops that overrides of a job name and no paper has.
func Unmatched(j job.Job, all []Paper) []string {
	var out []string
	for _, o := range j.Overrides {
		if !slices.ContainsFunc(all, func(p Paper) bool {
			return slices.ContainsFunc(p.Stops, func(s Stop) bool { return s.Name == o.Stop })
		}) {
			out = appendOnce(out, o.Stop)
		}
	}
	return out
}
