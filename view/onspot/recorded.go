package onspot

import (
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/recorded"
)

// Site is what is recorded of the run.
type Site struct {
	Book  *field.Book
	State field.State
	Left  []planner.LegReplan // what is left of each leg, planned again
}

// saying is how records are said here.
func (p *Place) saying() recorded.Speaker {
	return recorded.Speaker{Speech: p.speech(), Unit: p.Job.Coordinates.Unit, Supplies: len(p.Job.Supplies)}
}

// by is who recorded something, and when, by the ids of the records; empty where nobody did.
func (p *Place) by(ids ...string) string {
	var out []string
	for _, id := range ids {
		if r, ok := p.Site.Book.Record(id); ok && !slices.Contains(out, recorded.By(&r)) {
			out = append(out, recorded.By(&r))
		}
	}
	return strings.Join(out, "; ")
}

// seen is what is recorded of a place; nil: nothing is recorded of the run, or there is no such place.
func (p *Place) seen(place string) *field.UnitState {
	if p.Site == nil {
		return nil
	}
	for i := range p.Site.State.Legs {
		for _, u := range p.Site.State.Legs[i].Units {
			if u.Place == place {
				return u
			}
		}
	}
	return nil
}

// lies tells whether a unit lies, by the plan or by the records, and who says so.
func (p *Place) lies(u *planner.Unit) (bool, string) {
	if s := p.seen(u.Mark); s != nil && s.Set.Is == field.Yes {
		return true, p.by(s.Set.By...)
	}
	return u.Lies, "the plan"
}

// covered counts the covers of a unit that lie, and all of them.
func covered(s *field.UnitState) (lie, all int) {
	for _, c := range s.Covers {
		if c.Laid.Is == field.Yes {
			lie++
		}
	}
	return lie, len(s.Covers)
}

// corners are the levels read of a thing at a unit: the mean of its corners and the records; false: none was read.
func (p *Place) corners(place, of string) (mean measure.Length, by []string, ok bool) {
	s := p.seen(place)
	if s == nil {
		return 0, nil, false
	}
	n := measure.Length(0)
	for _, l := range s.Levels {
		if l.Of != of {
			continue
		}
		for _, m := range l.Four {
			if m == nil || !m.Known {
				continue
			}
			mean, n = mean+m.Value, n+1
			for _, r := range m.Readings {
				by = append(by, r.By)
			}
		}
	}
	if n == 0 {
		return 0, nil, false
	}
	return mean / n, by, true
}

// read tells whether a thing was levelled at a place.
func (p *Place) read(place string, of ...string) bool {
	return slices.ContainsFunc(of, func(of string) bool { _, _, ok := p.corners(place, of); return ok })
}

// next is the unit that is set next on the leg, by the records; nil: nothing is recorded of it, or all of it lies.
func (p *Place) next() *planner.Unit {
	if p.Site == nil {
		return nil
	}
	for i := range p.Site.State.Legs {
		l := &p.Site.State.Legs[i]
		if l.ID != p.leg().Name || l.Set == 0 {
			continue
		}
		for _, s := range l.Units {
			if s.Set.Is == field.Yes {
				continue
			}
			for k := range p.Plan.Units {
				if p.Plan.Units[k].Mark == s.Place {
					return &p.Plan.Units[k]
				}
			}
		}
	}
	return nil
}

// left is what is left of the leg; nil: nothing of it is planned again.
func (p *Place) left() *planner.LegReplan {
	if p.Site == nil {
		return nil
	}
	for i := range p.Site.Left {
		if p.Site.Left[i].Leg == p.leg().Name {
			return &p.Site.Left[i]
		}
	}
	return nil
}

// waysOn says how the leg goes on from what lies and what was found; false: nothing on record changes it.
func (a *asking) waysOn() bool {
	r := a.left()
	if r == nil {
		return false
	}
	switch r.Answer {
	case planner.Stopped, planner.NoAnswer:
		for _, f := range r.Findings {
			a.out.Stop = append(a.out.Stop, a.speech().Reworded(strings.TrimSpace("STOP: "+strings.TrimPrefix(f.Where.In(a.speech())+": ", ": ")+f.Text+" "+f.Try)))
		}
		return true
	case planner.CannotSay:
		for _, f := range r.Findings {
			a.say("%s", f.Text)
		}
		a.say("the records differ on leg %s: measure or look once more, then the rest of it is planned again", r.Leg)
		return true
	case planner.OtherGaps:
		a.say("recorded so far: leg %s goes on with the same pieces, the gap to hold now is %s", r.Leg, measure.Length(r.Hold))
	}
	for _, o := range r.Offers {
		text := ""
		for i, u := range o.Pieces {
			if i == 3 {
				text += ", and so on"
				break
			}
			text += ", " + u.Place
			if u.Stock == 0 {
				text += " not laid"
				continue
			}
			text += a.speech().Say(" %s", measure.Length(u.Length))
			if u.Cut {
				text += " cut"
			}
		}
		a.say("recorded so far, way on %d of leg %s: %s; %s%s; gap to hold now %s; %s not lie in the yard yet", o.Number, r.Leg, o.Answer, counted(o.Changed, "place changes", "places change"), text, measure.Length(o.Hold), counted(o.Waiting, "piece does", "pieces do"))
	}
	return len(r.Offers) > 0 || r.Answer == planner.OtherGaps
}

// found is the service that was found nearest to the place on its leg, within two metres; nil: none was.
func (p *Place) found() *field.ServiceState {
	var out *field.ServiceState
	far := 2 * measure.Metre
	for i := range p.siteState().Services {
		s := &p.siteState().Services[i]
		if away := (s.At - p.Spot.At).Abs(); s.Met && s.Leg == p.leg().Name && away <= far {
			out, far = s, away
		}
	}
	return out
}

// levels are those of the plan and the ground at the place, in metres.
func (p *Place) levels() planner.Levels {
	if p.Answers == nil {
		return planner.Levels{}
	}
	return p.Answers.Depth(p.Spot).Levels
}

// siteState is what the records come to; nothing where there are none.
func (p *Place) siteState() *field.State {
	if p.Site == nil {
		return &field.State{}
	}
	return &p.Site.State
}

// entry is the conduit entry that was made at the unit of the place; nil: none was.
func (p *Place) entry() *field.EntryState {
	i := p.Unit()
	for k := range p.siteState().Entries {
		if e := &p.siteState().Entries[k]; i >= 0 && e.Place == p.Plan.Units[i].Mark {
			return e
		}
	}
	return nil
}

// measured is the bend near the place as it was measured; nil: nobody did.
func (p *Place) measured() *field.AngleState {
	n := p.nodeHere()
	for k := range p.siteState().Angles {
		if s := &p.siteState().Angles[k]; n != nil && s.Node == n.ID && s.Known {
			return s
		}
	}
	return nil
}

// instruments are those that something was read with: those that levels are read with first, of these the last one.
func (p *Place) instruments() (out []string) {
	if p.Site == nil {
		return nil
	}
	all := p.Site.Book.All()
	slices.Reverse(all)
	for _, levels := range []bool{true, false} {
		for i := range all {
			r := &all[i]
			reads := r.Kind == field.Level || r.Kind == field.SetUp || r.Kind == field.Shot || r.Kind == field.Rock
			if r.Instrument != nil && reads == levels && !slices.Contains(out, r.Instrument.ID) {
				out = append(out, r.Instrument.ID)
			}
		}
	}
	return out
}
