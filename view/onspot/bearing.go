package onspot

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/check"
	"trenchwright/solve/check/flotation"
	"trenchwright/solve/check/lifting"
	"trenchwright/solve/check/load"
)

var water = Moment{ID: "water", Name: "water stands in the trench", Stage: "set", First: "Nobody in the trench while water rises, nor beside a side that it has wetted before the competent person has looked",
	Fields: []Field{{Name: "water", Label: "water above the underside of the unit", Like: "300 mm"}, {Name: "factor", Label: "factor that the engineer asks for", Like: "1.1", Leave: true, From: func(p *Place) string { return p.Job.Checks.Water.Factor.Value }}},
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
		q := flotation.Problem{Words: a.speech(), Width: outer.Width, Height: outer.Height, Inside: inner.Width, Deep: inner.Height, From: job.Source(a.Job, *s, s.Unit.Outer), Water: height, WaterFrom: "as typed", Factor: factor, FactorFrom: "as typed, or in this job"}
		if s.Unit.Mass.Known {
			q.Mass = &s.Unit.Mass.Value
		}
		if s.Cover != nil && s.Cover.Mass.Known {
			q.Covers = &s.Cover.Mass.Value
		}
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
	Fields: []Field{{Name: "mass", Label: "mass of the piece", Like: "1184 kg", From: func(p *Place) string {
		if i := p.Unit(); i >= 0 && p.Plan.Units[i].Mass != nil {
			return fmt.Sprintf("%.0f kg", *p.Plan.Units[i].Mass)
		}
		return ""
	}}, {Name: "tackle", Label: "hook block and tackle", Like: "60 kg", From: func(p *Place) string {
		if l := p.liftOfUnits(); l != nil && l.Tackle.Known {
			return l.Tackle.Value.String()
		}
		return ""
	}}, {Name: "chart", Label: "chart of the machine, radius and mass", Like: "3m:5t, 4m:3600kg", From: func(p *Place) string {
		l := p.liftOfUnits()
		if l == nil {
			return ""
		}
		var rows []string
		for _, r := range l.Chart {
			rows = append(rows, r.Radius.String()+":"+r.Lifts.String())
		}
		return strings.Join(rows, ", ")
	}}, {Name: "pick", Label: "radius where it is picked up", Like: "3 m"}, {Name: "set", Label: "radius where it is set", Like: "4 m"}},
	answer: func(a *asking) {
		mass, tackle, pick, set := a.mass("mass"), a.mass("tackle"), a.positive("pick"), a.positive("set")
		m := &lifting.Machine{Pick: pick, Set: set, From: "as typed, or in this job"}
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
		q := lifting.Problem{Words: a.speech(), Mass: mass, From: "the plan, or as typed", Tackle: tackle, Machine: m}
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
	Fields: []Field{{Name: "axle", Label: "heaviest axle", Like: "88 kN"}, {Name: "tyre", Label: "what one wheel presses on, across x along", Like: "300 mm x 250 mm", Leave: true}, {Name: "dynamic", Label: "a moving wheel counts more by, per cent", Like: "30", From: func(p *Place) string { return p.Job.Checks.Dynamic.Value }}},
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
		for _, of := range []string{"units", "covers"} {
			rating := s.Rating
			if of == "covers" && s.Cover != nil {
				rating = s.Cover.Rating
			}
			q := load.Problem{Words: a.speech(), Vehicles: []load.Vehicle{v}, Dynamic: new(check.Percent.Of(*dynamic / 100)), DynamicFrom: "as typed, or in this job", Rated: a.rated(s, rating)}
			sol := load.Check(&q)
			for i := range sol.Answers {
				sol.Answers[i].What = of + " here: " + sol.Answers[i].What
			}
			a.checked(sol.Answers, sol.Findings)
		}
		a.crossings()
	}}

// rated is a rating that a wheel can be held against.
func (a *asking) rated(s *job.Supply, rating job.Entry[string]) *load.Rated {
	r := &load.Rated{From: job.Source(a.Job, *s, rating), On: load.Patch{Across: s.RatedOn.Value.Width, Along: s.RatedOn.Value.Height}}
	if i := a.unit(); i >= 0 && a.Plan.Units[i].Cut {
		r.Piece = "cut"
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

var deeper = Moment{ID: "deeper", Name: "the dig gets deeper than planned", Stage: "dig", First: "Nobody goes in before the competent person has looked at it as it is now",
	Fields: []Field{{Name: "depth", Label: "depth of the dig here", Like: "1600 mm"}},
	answer: func(a *asking) {
		depth := a.positive("depth")
		if depth == nil {
			return
		}
		if a.Answers == nil {
			a.open("plan of the dig", "the site engineer")
			return
		}
		h := a.Answers.Deeper(a.Spot, *depth)
		if h == nil {
			a.open("jurisdiction or survey that the dig is held by here", "the competent person")
			return
		}
		if h.Stopped {
			a.out.Stop = append(a.out.Stop, "HARD STOP at this depth: nothing goes on before the person named below has answered")
		}
		for _, r := range h.Results {
			text := r.What + ": " + r.Verdict
			switch {
			case r.Value != "" && r.Limit != "":
				text = fmt.Sprintf("%s: %s, limit %s: %s", r.What, r.Value, r.Limit, r.Verdict)
			case r.Value != "":
				text = fmt.Sprintf("%s: %s: %s", r.What, r.Value, r.Verdict)
			}
			a.say("%s (%s)", text, r.Rule)
		}
		if h.Ladder != nil {
			a.say("the nearest way out is %s away", measure.Length(h.Ladder.Away).Abs())
		}
		a.say("rules: %s, read %s", h.Rules, h.Read)
	}}

var stone = Moment{ID: "stone", Name: "stone or fill will not last", Stage: "bed",
	Fields: []Field{{Name: "left", Label: "what is left, in place", Like: "6 m3"}, {Name: "of", Label: "of what", Only: []string{"stone", "fill"}, Like: "stone", From: func(*Place) string { return "stone" }}},
	answer: func(a *asking) {
		left, of := a.quantity("left", check.Volume), a.text("of")
		if left == nil {
			return
		}
		if a.Plan.Dig == nil {
			a.open("survey that the volumes are worked out from", "the surveyor")
			return
		}
		for _, l := range a.Plan.Dig.Legs {
			if l.Leg != a.leg().Name || len(l.Running) < 2 {
				continue
			}
			volume := func(i int) float64 {
				if of == "fill" {
					return l.Running[i].Fill
				}
				return l.Running[i].Stone
			}
			start := 0.0
			for i := 1; i < len(l.Running); i++ {
				from, to := measure.Length(l.Running[i-1].At), measure.Length(l.Running[i].At)
				if a.Spot.At >= from && a.Spot.At <= to && to > from {
					start = volume(i-1) + float64((volume(i)-volume(i-1))*((a.Spot.At-from).Metres()/(to-from).Metres()))
				}
			}
			whole := volume(len(l.Running)-1) - start
			a.say("from here to the end of leg %s the plan wants %s", l.Leg, check.Volume.Of(whole).Both(a.speech().Imperial))
			if left.SI >= whole {
				a.say("what is left lasts to the end of the leg, with %s over", check.Volume.Of(left.SI-whole).Both(a.speech().Imperial))
				return
			}
			for i := 1; i < len(l.Running); i++ {
				if end := start + left.SI; volume(i) >= end && measure.Length(l.Running[i].At) >= a.Spot.At {
					from, to := measure.Length(l.Running[i-1].At), measure.Length(l.Running[i].At)
					at := to
					if volume(i) > volume(i-1) {
						at = from + measure.FromMetres((to-from).Metres()*((end-volume(i-1))/(volume(i)-volume(i-1))))
					}
					stop := *a.Place
					stop.Spot.At, stop.Spot.Name = at, ""
					a.say("what is left lasts to %s, %s from here; %s are short for the leg", stop.Where(), at-a.Spot.At, check.Volume.Of(whole-left.SI).Both(a.speech().Imperial))
					return
				}
			}
		}
		a.out.Lines = append(a.out.Lines, "as planned, without what was dug too deep; measure that and add it")
	}}
