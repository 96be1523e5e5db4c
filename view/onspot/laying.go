package onspot

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/solve/check/cable"
)

var service = Moment{ID: "service", Name: "a buried service where a joint must stand", Stage: "dig",
	First: "STOP: dig by hand, mark it, and ask its owner before anything is laid over it. Nobody touches it",
	Fields: []Field{{Name: "width", Label: "how wide it is", Like: "110 mm", From: foundAs(func(_ *Place, s *field.ServiceState) *measure.Length {
		if s.Width != nil && *s.Width == 0 {
			return nil // nobody measured it
		}
		return s.Width
	})},
		{Name: "clear", Label: "no joint within, each side", Like: "300 mm", From: foundAs(func(_ *Place, s *field.ServiceState) *measure.Length { return s.Keep })},
		{Name: "depth", Label: "down to its top from the wall top", Like: "500 mm", Leave: true, From: foundAs(func(p *Place, s *field.ServiceState) *measure.Length {
			if wall := p.levels().Wall; s.Top != nil && wall != nil {
				return new(measure.FromMetres(*wall) - *s.Top)
			}
			return nil
		})}},
	answer: func(a *asking) {
		width, clear, depth := a.positive("width"), a.length("clear"), a.length("depth")
		if width == nil || clear == nil {
			return
		}
		half := *width/2 + *clear
		found := a.found()
		if found != nil && a.from("width") == "as typed" { // it may be another one
			a.say("recorded near here: %s; if it is that one, leave its figures out", cmp.Or(found.Name, found.What, "a service"))
			found = nil
		}
		if found != nil {
			stands := *a.Place
			stands.Spot.At, stands.Spot.Name = found.At, ""
			a.Place = &stands
			a.say("recorded: %s, its middle at %s: it is answered there", cmp.Or(found.Name, found.What, "a service"), stands.Where())
		}
		a.around(half, "the service with what is kept clear")
		s := a.supply()
		switch {
		case depth == nil && found != nil && found.Depth != "" && found.Depth != field.NotKnown:
			a.say("recorded: it lies %s", found.Depth)
		case depth == nil:
			a.open("depth of it", "its owner; a trial hole tells")
		case s.Unit.Outer.Known && *depth < s.Unit.Outer.Value.Height:
			a.out.Stop = append(a.out.Stop, a.speech().Reworded("its top lies within the height of the unit: moving joints does not answer that. Ask its owner: raise the run there, another supply, or have it diverted"))
		default:
			a.say("its top lies %s below the wall top, the underside of the unit %s below it", *depth, s.Unit.Outer.Value.Height)
		}
		switch {
		case found == nil:
			a.say("record it as found: the plan is then made again with the fewest changes, and offers up to three answers")
		case !a.waysOn():
			a.say("what is recorded of it asks for no other piece and no other gap on leg %s", a.leg().Name)
		}
	}}

// foundAs is a length of the service that was found where somebody stands.
func foundAs(of func(*Place, *field.ServiceState) *measure.Length) func(*Place) (string, string) {
	return func(p *Place) (string, string) {
		s := p.found()
		if s == nil {
			return "", ""
		}
		l := of(p, s)
		if l == nil {
			return "", ""
		}
		return p.typed(*l), p.by(s.By...)
	}
}

// around says how joints lie to a stretch of half a width on either side of the place, and by how much they would have to move.
func (a *asking) around(half measure.Length, what string) {
	inside := 0
	var before, after *planner.Joint
	for i := range a.Plan.Joints {
		j := &a.Plan.Joints[i]
		if j.Leg != a.leg().Name {
			continue
		}
		at := measure.Length(j.At+a.leg().StartSetback) - measure.Length(j.Gap)/2
		switch away := at - a.Spot.At; {
		case away.Abs() < half:
			inside++
			a.say("joint %s stands %s %s its middle, inside %s: it would have to move %s back or %s on", j.Name, away.Abs(), sideOf(away), what, half+away, half-away)
			a.laidAt(j)
		case away < 0:
			before = j
		case after == nil:
			after = j
		}
	}
	if inside == 0 {
		a.say("no joint stands inside %s", what)
	}
	for _, near := range []*planner.Joint{before, after} {
		if near != nil {
			at := measure.Length(near.At+a.leg().StartSetback) - measure.Length(near.Gap)/2
			a.say("the next joint %s is %s, %s away", sideOf(at-a.Spot.At), near.Name, (at - a.Spot.At).Abs())
		}
	}
}

// laidAt says which units at a joint lie already.
func (a *asking) laidAt(j *planner.Joint) {
	for _, mark := range strings.Split(j.Name, "/") {
		for i := range a.Plan.Units {
			if u := &a.Plan.Units[i]; u.Mark == mark {
				if lies, from := a.lies(u); lies {
					a.say("%s lies already (%s): the joint moves only when it is lifted again", mark, from)
				}
			}
		}
	}
}

func sideOf(away measure.Length) string {
	if away < 0 {
		return "before"
	}
	return "behind"
}

var short = Moment{ID: "short", Name: "units short or broken", Stage: "order",
	Fields: []Field{{Name: "missing", Label: "places or marks that are not there", Like: "A-004, A-009", Told: true}},
	answer: func(a *asking) {
		text := a.text("missing")
		if a.Answers == nil {
			a.open("layout of the run", "the site engineer")
			return
		}
		var state *field.State
		switch {
		case a.Site != nil:
			state = &a.Site.State
			set := 0
			for _, l := range state.Legs {
				set += l.Set
			}
			a.say("recorded: %d units lie, and what came, what is broken and what was cut is counted as recorded", set)
		case text == "":
			return
		}
		var missing []planner.Missing
		for _, mark := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' || r == ';' }) {
			missing = append(missing, planner.Missing{Mark: strings.ToUpper(mark)})
		}
		left, err := a.Answers.Short(missing, state, nil)
		if err != nil {
			a.fault("missing", err.Error())
			return
		}
		a.say("%s", left.Says)
		for _, l := range left.Legs {
			if l.Stop != "" {
				a.say("leg %s: %d of %d units can be laid; it stops at %s, which wants %s", l.Leg, l.Units, l.Of, l.Stop, l.Wants)
			}
		}
		for _, why := range left.Why {
			a.say("%s", why)
		}
	}}

var closer = Moment{ID: "closer", Name: "the closing piece does not fit", Stage: "set", First: "Measure both walls again before the saw starts: the piece is cut once",
	Fields: []Field{{Name: "left", Label: "clear at the left wall", Like: "1234 mm", Told: true}, {Name: "right", Label: "clear at the right wall", Like: "1230 mm", Told: true}, {Name: "before", Label: "unit before it that may be lifted again", Like: "3000 mm", Leave: true}, {Name: "after", Label: "unit after it that may be lifted again", Like: "3000 mm", Leave: true}},
	answer: func(a *asking) {
		left, right, before, after := a.positive("left"), a.positive("right"), a.length("before"), a.length("after")
		if a.Site != nil && len(a.out.Faults) == 0 {
			a.closerNow()
		}
		if left == nil || right == nil {
			if (left == nil) != (right == nil) {
				a.fault("left", "one wall alone says nothing of the piece: measure at both")
			}
			return
		}
		c := planner.Closing{Left: *left, Right: *right}
		if before != nil {
			c.Before = *before
		}
		if after != nil {
			c.After = *after
		}
		ways, why, try, err := c.Ways(*a.supply())
		if err != nil {
			a.out.Faults = append(a.out.Faults, err.Error())
			return
		}
		if why != "" {
			a.say("it cannot be closed as it is: %s", why)
		}
		for _, t := range try {
			a.say("try: %s", t)
		}
		for i, w := range ways {
			a.closing(i, w)
		}
	}}

// closerNow says which piece closes the leg by the records, and when it is cut.
func (a *asking) closerNow() {
	for _, d := range a.drift() {
		a.say("recorded: %d of %d units of leg %s lie, the end of %s %s", d.Set, d.Units, d.Leg, d.Last, a.saying().Off(measure.Length(d.Off)))
		if d.Set == d.Units {
			continue
		}
		a.say("gap to hold now %s", measure.Length(d.Hold))
		if b := d.Back; b != nil && b.Until != "" && b.Hold != d.Hold {
			a.say("or soonest back to the places, with the pieces as planned: hold %s up to joint %s, then %s", measure.Length(b.Hold), b.Until, measure.Length(b.Then))
		}
		c := d.Closer
		if c == nil {
			a.say("no piece of what is left of leg %s is cut", d.Leg)
			continue
		}
		a.say("%s closes the leg: by what lies now it is %s at the left wall and %s at the right, from %s", c.Place, measure.Length(c.Left), measure.Length(c.Right), measure.Length(c.Stock))
		switch {
		case !c.Known:
			a.open("scatter of the lengths of units", "the supplier; or measure units as they are set")
		case c.CutAt != "":
			a.say("it is cut once %s lies, from a measurement; until then %s before it", c.CutAt, counted(c.ToGo, "unit comes", "units come"))
		default:
			a.say("it may be cut now: the gaps beside it take up %s each way", measure.Length(c.Margin))
		}
	}
}

// drift is how the leg creeps by the records; none: it is not begun, or nobody can say.
func (a *asking) drift() []planner.LegDrift {
	if a.Site == nil || a.Answers == nil {
		return nil
	}
	return slices.DeleteFunc(a.Answers.Drift(a.Site.State), func(d planner.LegDrift) bool { return d.Leg != a.leg().Name })
}

// closing says one way to close.
func (a *asking) closing(i int, w planner.ClosingWay) {
	what := "as it is"
	if len(w.TakenOut) > 0 {
		var out []string
		for _, l := range w.TakenOut {
			out = append(out, a.speech().Say("the one %s it, %s,", l.Side, measure.Length(l.Length)))
		}
		what = "with " + strings.Join(out, " and ") + " lifted again"
	}
	pieces := []string{}
	for k, p := range w.Pieces {
		one := a.speech().Say("gap %s, %s", measure.Length(w.Gaps[k]), measure.Length(p.Length))
		if p.Cut {
			one += a.speech().Say(" cut from %s", measure.Length(p.Stock))
		}
		if p.Left != p.Right {
			one += a.speech().Say(", left wall %s, right wall %s", measure.Length(p.Left), measure.Length(p.Right))
		}
		pieces = append(pieces, one)
	}
	a.say("%d: %s: %s, gap %s", i+1, what, strings.Join(pieces, "; "), measure.Length(w.Gaps[len(w.Gaps)-1]))
}

var covers = Moment{ID: "covers", Name: "covers drift until one bridges a joint", Stage: "cover",
	Fields: []Field{{Name: "gap", Label: "gap between covers as they are laid", Like: "6 mm"}, {Name: "unit", Label: "length of the unit with its joint", Like: "3010 mm", From: func(p *Place) (string, string) {
		i := p.Unit()
		if i < 0 {
			return "", ""
		}
		from := "the plan: " + p.Plan.Units[i].Mark
		gap := measure.Length(0)
		for k := range p.Job.Supplies {
			if p.Job.Supplies[k].ID == p.Plan.Units[i].Supply {
				gap = p.Job.Supplies[k].Joint.Gap.Value.Nominal
			}
		}
		long := measure.Length(p.Plan.Units[i].Length)
		if s := p.seen(p.Plan.Units[i].Mark); s != nil && s.Length != nil && s.Length.Known {
			long, from = s.Length.Value, p.by(s.Length.Readings[0].By)+", with the gap of the plan"
		}
		return p.typed(long + gap), from
	}}},
	answer: func(a *asking) {
		gap, unit := a.length("gap"), a.positive("unit")
		s := a.supply()
		if gap == nil || unit == nil {
			return
		}
		if s.Cover == nil || len(s.Cover.Lengths.Value) == 0 {
			a.open("length of the covers", "the supplier")
			return
		}
		a.coversNow()
		long, n, all := slices.Max(s.Cover.Lengths.Value), measure.Length(0), measure.Length(0)
		if here := a.coversHere(); len(here) > 0 && a.from("unit") != "as typed" {
			cut := 0
			for _, l := range here {
				if n, all = n+1, all+l; l != long {
					cut++
				}
			}
			a.say("by the plan %d covers lie on %s, %d of them of another length than %s", len(here), a.Plan.Units[a.unit()].Mark, cut, long)
		} else {
			n = (*unit + (long+*gap)/2) / (long + *gap)
			all = n * long
		}
		if n == 0 {
			a.say("one cover of %s is longer than the unit: it needs a cover of its own", long)
			return
		}
		off := all + n**gap - *unit
		a.say("%d covers, %s in all, with %s between them come to %s, a unit with its joint to %s", int64(n), all, *gap, all+n**gap, *unit)
		switch {
		case off == 0:
			a.say("they come out with every unit")
		default:
			a.say("laid on without a break they are %s %s behind every unit; behind 12 units %s", off.Abs(), map[bool]string{true: "ahead", false: "back"}[off > 0], (12 * off).Abs())
			joint := s.Joint.Gap.Value.Nominal
			if reach := (off.Abs() + joint/2) / off.Abs(); reach > 0 {
				a.say("a cover bridges a joint behind unit %d from here at the latest: begin anew at the end of each unit, every cover wholly on its own", int64(max(1, reach)))
			}
		}
		want := *unit - s.Joint.Gap.Value.Nominal - all
		if n > 1 {
			hold := want / (n - 1)
			a.say("held to the unit alone the gap would be %s", hold)
			if w := s.Cover.Gap.Value; hold < w.Min {
				a.say("that is below the least of %s: trim the last cover of each unit by %s", w.Min, (n-1)*w.Min-want)
			} else if hold > w.Max {
				a.say("that is above the most of %s: a cover more, cut to %s", w.Max, want-n*w.Nominal)
			}
		}
	}}

// coversHere are the lengths of the covers on the unit of the place, as planned.
func (a *asking) coversHere() (out []measure.Length) {
	i := a.unit()
	for k := range a.Plan.Covers {
		if c := &a.Plan.Covers[k]; i >= 0 && c.Unit == a.Plan.Units[i].Mark {
			out = append(out, measure.Length(c.Length))
		}
	}
	return out
}

// coversNow says which covers lie by the records, and which would leave their unit.
func (a *asking) coversNow() {
	for i := range a.siteState().Legs {
		l := &a.siteState().Legs[i]
		if l.ID != a.leg().Name {
			continue
		}
		last := ""
		for _, u := range l.Units {
			if lie, _ := covered(u); lie > 0 {
				last = u.Place
			}
		}
		if last == "" {
			a.say("recorded: no cover of leg %s lies yet", l.ID)
			continue
		}
		a.say("recorded: %d of %d covers of leg %s lie, the last of them on %s", l.Laid, l.Lids, l.ID, last)
	}
	for _, d := range a.drift() {
		for _, c := range d.Covers {
			if c.Trim == 0 {
				a.say("cover %s leaves its unit by %s, as the unit was measured: it does not go on at all; look at the length that was recorded", c.Cover, measure.Length(c.Over))
				continue
			}
			a.say("cover %s leaves its unit by %s, as the unit was measured: trim it to %s", c.Cover, measure.Length(c.Over), measure.Length(c.Trim))
		}
	}
}

var conduit = Moment{ID: "conduit", Name: "a conduit comes in where a joint or an insert is", Stage: "cables",
	Fields: []Field{{Name: "diameter", Label: "outside diameter", Like: "110 mm", From: func(p *Place) (string, string) {
		if e := p.entry(); e != nil && e.Diameter != nil {
			return p.typed(*e.Diameter), p.by(e.By...)
		}
		return "", ""
	}}, {Name: "clear", Label: "from its edge to a joint, at least", Like: "100 mm"}},
	answer: func(a *asking) {
		d, clear := a.positive("diameter"), a.length("clear")
		if d == nil || clear == nil {
			return
		}
		i, e := a.unit(), a.entry()
		if e != nil && e.At != nil && a.from("diameter") != "as typed" && i >= 0 {
			stands := *a.Place
			stands.Spot.At = measure.Length(a.Plan.Units[i].Chainage) + *e.At
			a.Place = &stands
			a.say("recorded: an entry at %s of %s (%s): it is answered there", *e.At, e.Place, a.by(e.By...))
		}
		a.around(*d/2+*clear, "the conduit with what is kept clear")
		if i < 0 {
			a.say("no unit stands here")
			return
		}
		u := &a.Plan.Units[i]
		from := a.Spot.At - measure.Length(u.Chainage)
		a.say("it enters %s, %s from its start and %s from its end", u.Mark, from, measure.Length(u.Length)-from)
		s := a.supply()
		nearest, away := "", measure.Length(0)
		for _, c := range s.Unit.CastIn {
			if c.Of != measure.Length(u.Stock) || u.Cut {
				continue
			}
			at := c.At
			if c.End == "B" {
				at = measure.Length(u.Length) - c.At
			}
			if far := (at - from).Abs(); nearest == "" || far < away {
				nearest, away = c.Kind+" at the "+c.Side, far
			}
		}
		if nearest != "" {
			a.say("the nearest thing cast into it, the %s, stands %s from its middle along the run", nearest, away)
		}
		a.open("word of the supplier that a wall of supply "+s.ID+" may be cored here, and how near to an end", "the supplier")
		if lies, from := a.lies(u); lies {
			a.say("%s lies already (%s): move the conduit, or lift the unit again", u.Mark, from)
			return
		}
		a.say("moving the conduit costs one entry; moving the joint changes the pieces beside it: record the entry, and the plan offers both")
	}}

var bend = Moment{ID: "bend", Name: "the bend is not the drawn angle", Stage: "set",
	Fields: []Field{{Name: "angle", Label: "angle by which the run turns, measured", Like: "43.6", From: func(p *Place) (string, string) {
		if s := p.measured(); s != nil {
			return measure.Angle(s.Angle).Show(2), p.by(s.By...)
		}
		return "", ""
	}}, {Name: "cable", Label: "stiffest cable: how many and how thick, least bend in diameters", Like: "3 x 42mm, bend 12", Leave: true}},
	answer: func(a *asking) {
		angle := a.degrees("angle")
		if angle == nil {
			return
		}
		turn := math.Abs(angle.Degrees())
		if turn <= 0 || turn > 170 {
			a.fault("angle", "an angle above 0 and at most 170° is wanted: by how much the run turns, not the angle between its legs")
			return
		}
		s := a.supply()
		outer := s.Unit.Outer.Value.Width
		if !s.Unit.Outer.Known {
			a.open("outer width of the unit", "the supplier")
			return
		}
		half := turn / 2 * math.Pi / 180
		a.say("each face is sawn %s from square: the outer wall is %s longer than the inner one", measure.FromDegrees(turn/2).Show(2), measure.FromMetres(outer.Metres()*math.Tan(half)))
		if n := a.nodeHere(); n != nil && n.Bend != nil {
			drawn := math.Abs(n.Deflection)
			a.say("drawn were %s: the faces were %s from square, %s longer outside", measure.FromDegrees(drawn).Show(2), measure.FromDegrees(drawn/2).Show(2), measure.Length(n.Bend.LongShort))
			open := measure.FromMetres(outer.Metres() / 2 * math.Tan(math.Abs(turn-drawn)*math.Pi/180))
			a.say("left as they are sawn, the joint would open by %s at one wall more than at the axis, and close by as much at the other", open)
			if !a.bendNow(n.ID) {
				a.say("first answer: take the difference up over joints with room left; record the angle, and the plan says over how many")
			}
		}
		if text := a.text("cable"); text != "" && s.Unit.Inner.Known {
			c, _, err := cable.ReadCable(text)
			if err != nil {
				a.fault("cable", err.Error())
				return
			}
			c.From = "as typed"
			q := cable.Problem{Words: a.speech(), Cables: []cable.Cable{c}, Section: &cable.Section{Width: s.Unit.Inner.Value.Width, Depth: s.Unit.Inner.Value.Height}, Bends: []cable.Bend{{Name: "the corner", Turn: measure.FromDegrees(turn)}}}
			sol := cable.Check(&q)
			for i := range sol.Answers {
				if sol.Answers[i].ID == "cable.bend" {
					a.checked(sol.Answers[i:i+1], nil)
				}
			}
			a.checked(nil, sol.Findings)
		}
	}}

// bendNow says what the plan makes of a bend as it was measured; false: nobody measured it.
func (a *asking) bendNow(node string) bool {
	if a.measured() == nil || a.Answers == nil {
		return false
	}
	for _, b := range a.Answers.Bends(a.Site.State) {
		if b.Node != node {
			continue
		}
		a.say("recorded: %s measured, %s drawn: %s", measure.FromDegrees(b.Measured).Show(2), measure.FromDegrees(b.Drawn).Show(2), b.Answer)
		for _, j := range b.Swing {
			a.say("joint %s turns by %s: it opens by %s at one wall, and %s of its budget are left", j.Joint, measure.FromDegrees(math.Abs(j.Turn)).Show(2), measure.Length(j.Opens).Abs(), measure.Length(j.Left))
		}
		for _, w := range b.Ways {
			a.say("way on %d: %s", w.Number, w.Name)
		}
		for _, f := range b.Findings {
			a.say("%s", f.Text)
		}
		return true
	}
	return false
}

// nodeHere is the node of a bend at the end of the leg that is nearer to the place; nil: there is none.
func (p *Place) nodeHere() *planner.Node {
	id := p.leg().From
	if 2*p.Spot.At > measure.Length(p.leg().NodeLength) {
		id = p.leg().To
	}
	for i := range p.Plan.Nodes {
		if p.Plan.Nodes[i].ID == id {
			return &p.Plan.Nodes[i]
		}
	}
	return nil
}
