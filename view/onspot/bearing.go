package onspot

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/solve/check"
	"trenchwright/solve/check/flotation"
	"trenchwright/solve/check/lifting"
	"trenchwright/solve/check/load"
)

var water = Moment{ID: "water", Name: "water stands in the trench", Stage: "set", First: "Nobody in the trench while water rises, nor beside a side that it has wetted before the competent person has looked",
	Fields: []Field{{Name: "water", Label: "water above the underside of the unit", Like: "300 mm"}, {Name: "factor", Label: "factor that the engineer asks for", Like: "1.1", Leave: true, From: func(p *Place) (string, string) {
		return p.Job.Checks.Water.Factor.Value, job.SourceFrom(p.Job, p.Job.Checks.From, p.Job.Checks.Water.Factor)
	}}},
	answer: func(a *asking) {
		height, factor := a.length("water"), a.number("factor")
		if height == nil {
			return
		}
		s := a.supply()
		if !s.Unit.Outer.Known {
			a.open("outer section of the unit", "the supplier")
			return
		}
		outer, inner := s.Unit.Outer.Value, s.Unit.Inner.Value
		q := flotation.Problem{Words: a.speech(), Width: outer.Width, Height: outer.Height, Inside: inner.Width, Deep: inner.Height, From: job.Source(a.Job, *s, s.Unit.Outer), Water: height, WaterFrom: "as typed", Factor: factor, FactorFrom: a.from("factor")}
		if s.Unit.Mass.Known {
			q.Mass = &s.Unit.Mass.Value
		}
		if s.Cover != nil && s.Cover.Mass.Known {
			q.Covers = &s.Cover.Mass.Value
		}
		a.coveredNow()
		sol := flotation.Check(&q)
		for _, m := range sol.Marks {
			if m.At == nil {
				a.say("%s: water runs in over the wall tops before it floats", m.State)
				continue
			}
			a.say("%s: it floats from water %s above the underside on, %s below the wall top: mark it on the wall", m.State, *m.At, outer.Height-*m.At)
		}
		for _, h := range sol.Holds {
			a.say("%s: held by %s more on it, or the water kept below %s above the underside", h.State, h.Mass, *h.Below)
			if h.Flooded != nil {
				a.say("%s: or by water let in to %s above its floor", h.State, *h.Flooded)
			}
		}
		a.checked(sol.Answers, sol.Findings)
	}}

// coveredNow says what lies here by the records: which of the states of the water it is.
func (a *asking) coveredNow() {
	i := a.unit()
	if a.Site == nil || i < 0 {
		return
	}
	u := &a.Plan.Units[i]
	lies, from := a.lies(u)
	if !lies {
		a.say("recorded so far, %s does not lie yet", u.Mark)
		return
	}
	if s := a.seen(u.Mark); s != nil {
		lie, all := covered(s)
		state := "with its covers"
		if lie < all || all == 0 {
			state = "without covers"
		}
		a.say("%s lies (%s), %d of its %d covers on it: the line %s counts now", u.Mark, from, lie, all, state)
	}
}

// standsNow says what is recorded of the unit that a vehicle would stand on.
func (a *asking) standsNow() {
	i := a.unit()
	if a.Site == nil || i < 0 {
		return
	}
	u := &a.Plan.Units[i]
	s := a.seen(u.Mark)
	if s == nil {
		return
	}
	if lies, _ := a.lies(u); !lies {
		a.say("recorded so far, %s does not lie yet: what is here now the records do not say", u.Mark)
		return
	}
	if lie, all := covered(s); lie < all {
		a.out.Stop = append(a.out.Stop, a.speech().Reworded(fmt.Sprintf("STOP: by the records %d of the %d covers of %s lie", lie, all, u.Mark)))
	}
	if s.Damaged.Is != field.No {
		a.out.Stop = append(a.out.Stop, a.speech().Reworded(fmt.Sprintf("STOP: %s is recorded as damaged (%s): no rating speaks of it", u.Mark, a.by(s.Damaged.By...))))
	}
}

// toSet is the unit that is lifted: that of the place, or where it lies already by the records the next one.
func (p *Place) toSet() *planner.Unit {
	i := p.Unit()
	if i < 0 {
		return p.next()
	}
	if s := p.seen(p.Plan.Units[i].Mark); s != nil && s.Set.Is == field.Yes {
		if u := p.next(); u != nil {
			return u
		}
	}
	return &p.Plan.Units[i]
}

// liftOfUnits is the first lift of units of the job; nil: none is on file.
func (p *Place) liftOfUnits() *job.Lift {
	for i := range p.Job.Checks.Lifts {
		if p.Job.Checks.Lifts[i].Of == "units" {
			return &p.Job.Checks.Lifts[i]
		}
	}
	return nil
}

var reach = Moment{ID: "reach", Name: "the machine stands too far away", Stage: "set",
	Fields: []Field{{Name: "mass", Label: "mass of the piece", Like: "1184 kg", From: func(p *Place) (string, string) {
		u := p.toSet()
		if u == nil || u.Mass == nil {
			return "", ""
		}
		return p.typedMass(*u.Mass), "the plan: " + u.Mark
	}}, {Name: "tackle", Label: "hook block and tackle", Like: "60 kg", From: func(p *Place) (string, string) {
		if l := p.liftOfUnits(); l != nil && l.Tackle.Known {
			return p.typedMass(l.Tackle.Value.Kilograms()), job.SourceFrom(p.Job, cmp.Or(l.From, p.Job.Checks.From), l.Tackle)
		}
		return "", ""
	}}, {Name: "chart", Label: "chart of the machine, radius and mass", Like: "3m:5t, 4m:3600kg", From: func(p *Place) (string, string) {
		l := p.liftOfUnits()
		if l == nil {
			return "", ""
		}
		var rows []string
		for _, r := range l.Chart {
			rows = append(rows, p.typed(r.Radius)+":"+p.typedMass(r.Lifts.Kilograms()))
		}
		return strings.Join(rows, ", "), job.SourceFrom(p.Job, cmp.Or(l.From, p.Job.Checks.From), job.Known(len(rows)))
	}}, {Name: "pick", Label: "radius where it is picked up", Like: "3 m"}, {Name: "set", Label: "radius where it is set", Like: "4 m"}},
	answer: func(a *asking) {
		mass, tackle, pick, set := a.mass("mass"), a.mass("tackle"), a.positive("pick"), a.positive("set")
		m := &lifting.Machine{Pick: pick, Set: set}
		for _, row := range strings.Split(a.text("chart"), ",") {
			radius, lifts, _ := strings.Cut(strings.TrimSpace(row), ":")
			r, err := measure.Parse(strings.TrimSpace(radius))
			if err != nil {
				a.fault("chart", err.Error()+"; write for example 3m:5t, 4m:3600kg")
				return
			}
			kg, err := measure.ParseMass(strings.TrimSpace(lifts))
			if err != nil {
				a.fault("chart", err.Error()+"; write for example 3m:5t, 4m:3600kg")
				return
			}
			m.Chart = append(m.Chart, lifting.Row{Radius: r.Length, Lifts: kg.Value})
		}
		if mass == nil || tackle == nil || pick == nil || set == nil {
			return
		}
		m.From = "radius as typed; chart: " + a.from("chart")
		if i := a.unit(); i >= 0 && a.Site != nil {
			if lies, from := a.lies(&a.Plan.Units[i]); lies {
				a.say("%s lies already (%s)", a.Plan.Units[i].Mark, from)
			}
			if u := a.next(); u != nil {
				a.say("recorded so far, the next to set on leg %s is %s", u.Leg, u.Mark)
			}
		}
		q := lifting.Problem{Words: a.speech(), Mass: mass, From: a.from("mass"), Tackle: tackle, Machine: m}
		sol := lifting.Check(&q)
		a.checked(sol.Answers, sol.Findings)
		furthest := measure.Length(0)
		for _, r := range m.Chart {
			if r.Lifts >= *mass+*tackle {
				furthest = r.Radius
			}
		}
		if furthest > 0 {
			a.say("the furthest line of the chart that has %s and more is %s: stand no further away than that", *mass+*tackle, furthest)
		} else {
			a.say("no line of the chart has %s: a larger machine, or a lighter piece", *mass+*tackle)
		}
	}}

var vehicle = Moment{ID: "vehicle", Name: "too heavy a vehicle wants to cross", Stage: "cover", First: "Nothing crosses before the engineer has said where and how heavy. Nothing here gives a unit or a cover a rating",
	Fields: []Field{{Name: "axle", Label: "heaviest axle", Like: "88 kN"}, {Name: "tyre", Label: "what one wheel presses on, across x along", Like: "300 mm x 250 mm", Leave: true}, {Name: "dynamic", Label: "a moving wheel counts more by, per cent", Like: "30", From: func(p *Place) (string, string) {
		return p.Job.Checks.Dynamic.Value, job.SourceFrom(p.Job, p.Job.Checks.From, p.Job.Checks.Dynamic)
	}}},
	answer: func(a *asking) {
		axle, dynamic := a.quantity("axle", check.Force), a.number("dynamic")
		if axle == nil || dynamic == nil {
			return
		}
		v := load.Vehicle{Name: "the vehicle", From: "as typed", Axles: []load.Axle{{Load: *axle}}}
		if text := a.text("tyre"); text != "" {
			var on job.Section
			if err := on.UnmarshalText([]byte(text)); err != nil {
				a.fault("tyre", err.Error())
				return
			}
			v.Tyre = load.Patch{Across: on.Width, Along: on.Height}
		}
		s := a.supply()
		a.standsNow()
		for _, of := range []string{"units", "covers"} {
			rating := s.Rating
			if of == "covers" && s.Cover != nil {
				rating = s.Cover.Rating
			}
			q := load.Problem{Words: a.speech(), Vehicles: []load.Vehicle{v}, Dynamic: new(check.Percent.Of(*dynamic / 100)), DynamicFrom: a.from("dynamic"), Rated: a.rated(s, of, rating)}
			sol := load.Check(&q)
			for i := range sol.Answers {
				sol.Answers[i].What = of + " here: " + sol.Answers[i].What
			}
			a.checked(sol.Answers, sol.Findings)
		}
		a.crossings()
	}}

// rated is a rating that a wheel can be held against.
func (a *asking) rated(s *job.Supply, of string, rating job.Entry[string]) *load.Rated {
	r := &load.Rated{From: job.Source(a.Job, *s, rating), On: load.Patch{Across: s.RatedOn.Value.Width, Along: s.RatedOn.Value.Height}}
	if i := a.unit(); i >= 0 {
		r.Piece = a.doneTo(of, &a.Plan.Units[i])
	}
	word := strings.ToLower(strings.ReplaceAll(rating.Value, " ", ""))
	if class, _ := load.TestLoad(rating.Value); class > 0 {
		r.Class = strings.ToUpper(word)
	} else if load.Design(word) != nil {
		r.Vehicle = word
	} else {
		r.Wheel = job.Quantity(rating, check.Force)
	}
	return r
}

// doneTo is what was done to a unit, or to a cover on it, that the rating does not speak of, by the plan and the records; empty: nothing.
func (a *asking) doneTo(of string, u *planner.Unit) string {
	if of == "covers" {
		if slices.ContainsFunc(a.Plan.Covers, func(c planner.Cover) bool { return c.Unit == u.Mark && c.Cut }) {
			return "cut"
		}
		return a.sawn(field.Cover, func(r *field.Record) bool {
			s, _ := field.SaysOf[field.CoverSays](r)
			return slices.ContainsFunc(s.Trimmed, func(c string) bool { return strings.HasPrefix(c, u.Mark+".") })
		})
	}
	if e := a.entry(); e != nil && (e.Made == "cored" || e.Made == "sawn") {
		a.say("recorded: an entry was %s into %s (%s): the rating of the uncut unit does not speak of it", e.Made, u.Mark, a.by(e.By...))
		return "cored"
	}
	if u.Cut {
		return "cut"
	}
	return a.sawn(field.Cut, func(r *field.Record) bool {
		s, _ := field.SaysOf[field.CutSays](r)
		return s.Mark == u.Mark && !s.Spoiled
	})
}

// sawn says of a record of a kind that a piece here was cut otherwise than planned; empty: none says so.
func (a *asking) sawn(kind field.Kind, here func(*field.Record) bool) string {
	if a.Site == nil {
		return ""
	}
	for _, r := range a.Site.Book.Standing(kind) {
		if here(&r) {
			a.say("recorded: a piece here was cut (%s)", a.by(r.ID))
			return "cut"
		}
	}
	return ""
}

// crossings says where crossings are drawn on this leg.
func (a *asking) crossings() {
	for _, l := range a.Job.Route.Legs {
		for _, x := range l.Crossings {
			name := x.Name
			if name == "" {
				name = "crossing " + x.ID
			}
			if l.ID == a.leg().Name {
				a.say("drawn on this leg: %s, %s away", name, (x.At - a.Spot.At).Abs())
			} else {
				a.say("drawn on leg %s: %s", l.ID, name)
			}
		}
	}
}
