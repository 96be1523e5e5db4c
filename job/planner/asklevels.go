package planner

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/ground"
	"trenchwright/place/route"
	"trenchwright/solve/profile"
)

// What steers the choice of levels where the job says nothing; unheld says so as assumed. Common practice, no source.
var (
	settingStep = measure.Grade{Rise: 1, Run: 2000} // 0.05 %, as lasers are set
	looseBreak  = 2 * measure.Metre                 // a change of grade by 1 % is worth one joint this far off
)

// tightBreak is what a change of grade by 1 % is worth where the job says how far covers may lie off their level: so many
// joints that lie just so far off. Common practice, no source: covers that have to be flush buy more changes of grade.
const tightBreak = 20

// breakPrice is how far off one joint lies that counts as much as a change of grade by 1 %.
func (b *build) breakPrice() measure.Length {
	switch tol := b.job.Rules.CoverTol; {
	case b.job.Levels.Break.Known:
		return b.job.Levels.Break.Value
	case tol.Known:
		return min(tightBreak*tol.Value, looseBreak)
	}
	return looseBreak
}

// pricePerMetre is the price of a metre off the wanted level at one joint of weight 1.
const pricePerMetre = 1000

// askLevels puts the profile's problem together from the legs as they are laid out.
func (b *build) askLevels(legs []laid, how holding) heights {
	q := heights{legs: make([]legHeights, len(legs)), how: how}
	q.problem = profile.Problem{Step: settingStep, Apart: b.job.Levels.Apart, Show: b.show(), Words: b.speech()}
	if b.job.Levels.Setting.Known {
		q.problem.Step = b.job.Levels.Setting.Value
	}
	for i := range legs {
		leg, way := b.askLeg(i, &legs[i], &q)
		q.problem.Legs, q.legs[i] = append(q.problem.Legs, leg), way
	}
	for i := range b.net.Nodes {
		q.problem.Nodes = append(q.problem.Nodes, b.askNode(&b.net.Nodes[i]))
	}
	b.liftPins(&q)
	b.between(&q)
	for i := range legs {
		b.keepGrades(i, &legs[i], &q)
	}
	return q
}

// station is a place of the profile along a leg.
type station struct {
	at   measure.Length // chainage
	unit int            // the unit before which it lies, 0 to their number
	pin  *job.Pin       // it stands for a pin; inside a unit the unit stays straight there
	in   bool           // inside a unit
}

func (b *build) askLeg(i int, l *laid, q *heights) (profile.Leg, legHeights) {
	a := &b.axes[i]
	var way legHeights
	if q.how.lies {
		way.bedded = b.beddingOf(i, l)
	}
	stations := []station{{at: b.legStart(i)}}
	for k := 1; k < len(l.units); k++ {
		stations = append(stations, station{at: a.chainage(l.middle(k)), unit: k})
	}
	was := len(way.bedded.joints)
	stations = b.pins(i, way.bedded.stations(append(stations, station{at: b.legEnd(i), unit: len(l.units)})))
	if len(way.bedded.joints) < was {
		q.said = append(q.said, b.unkept(i))
	}
	out := profile.Leg{Name: b.leg(i).ID}
	for k, s := range stations {
		out.Joints = append(out.Joints, b.askJoint(i, l, s))
		if s.in {
			way.joint = append(way.joint, -1)
		} else {
			way.joint = append(way.joint, s.unit)
		}
		if k == 0 {
			continue
		}
		u := s.unit - 1
		if s.in {
			u = s.unit
		}
		ask := b.askUnit(i, stations[k-1].at, s.at)
		ask.Below = b.deep(l, u)
		out.Units = append(out.Units, ask)
		way.supply, way.unit = append(way.supply, l.supply[l.units[u].Supply]), append(way.unit, u)
	}
	b.steps(i, l, &out, way.unit)
	q.said = append(q.said, b.hold(i, l, &out, &way)...)
	b.outlets(i, out.Joints)
	return out, way
}

// deep is how far the invert of a unit lies below its wall top. Where the inside of any supply is not on file, wall tops
// stand for inverts everywhere, for nothing is known of their differences.
func (b *build) deep(l *laid, unit int) measure.Length {
	for i := range b.sup {
		if !b.sup[i].Unit.Inner.Known {
			return 0
		}
	}
	return b.unitSupply(l, unit).Unit.Inner.Value.Height
}

// outlets names the outlets of a leg at the joints nearest to them.
func (b *build) outlets(i int, joints []profile.Joint) {
	for _, o := range b.job.Levels.Outlets {
		if o.Leg != b.leg(i).ID || o.Of == "drain" {
			continue
		}
		near := 0
		for k := range joints {
			if (joints[k].At - o.At).Abs() < (joints[near].At - o.At).Abs() {
				near = k
			}
		}
		joints[near].Outlet = cmp.Or(o.Into, o.ID)
	}
}

// legStart is where the profile of a leg starts: at its node where the run goes on there, else at the face of its first unit.
func (b *build) legStart(i int) measure.Length {
	if a := &b.axes[i]; !runsThrough(a.start) {
		return a.chainage(0)
	}
	return 0
}

func (b *build) legEnd(i int) measure.Length {
	a := &b.axes[i]
	if !runsThrough(a.end) {
		return a.chainage(a.clear)
	}
	return a.line.Length()
}

// runsThrough tells whether the units themselves meet at a node, mitred or with a joint.
func runsThrough(f face) bool { return f.made == "mitred" || f.made == "joint" }

// pins puts the pins of a leg between its stations. One within a millimetre of a joint is that joint's.
func (b *build) pins(i int, stations []station) []station {
	for k := range b.job.Levels.Pins {
		p := &b.job.Levels.Pins[k]
		if p.Leg != b.leg(i).ID {
			continue
		}
		near := slices.IndexFunc(stations, func(s station) bool { return (s.at - p.At).Abs() <= measure.Millimetre })
		if near >= 0 {
			stations[near].pin = p
			continue
		}
		at := slices.IndexFunc(stations, func(s station) bool { return s.at > p.At })
		if at <= 0 {
			b.pinOff(p)
			continue
		}
		stations = slices.Insert(stations, at, station{at: p.At, unit: stations[at].unit - 1, pin: p, in: true})
		if stations[at+1].in {
			stations[at].unit = stations[at+1].unit
		}
	}
	return stations
}

func (b *build) askJoint(i int, l *laid, s station) profile.Joint {
	v := &b.job.Levels
	j := profile.Joint{At: s.at, Above: weight(v.AboveWeight), Below: weight(v.BelowWeight)}
	if z, ok := b.wanted(i, l, s); ok {
		j.Wanted = &z
	}
	if z, name, ok := b.nodePin(i, l, s); ok {
		j.Pin, j.Name = &z, name
	}
	if s.pin != nil && (s.pin.Of != "invert" || b.sup[l.supply[l.units[min(s.unit, len(l.units)-1)].Supply]].Unit.Inner.Known) {
		z := b.wallTop(i, l, s, measure.FromMetres(s.pin.Level*b.net.unit), s.pin.Of)
		j.Pin, j.Name = &z, pinName(s.pin)
	}
	if b.gradesAt(i, s.at) == job.StraightGrades {
		j.Break = int64(math.Round(b.breakPrice().Metres() * 100 * pricePerMetre))
	}
	switch {
	case s.in:
		j.Change = &measure.Grade{Run: 1} // a unit is straight
	case s.unit > 0 && s.unit < len(l.units):
		j.Change = b.changeAt(i, l, s.unit)
	}
	return j
}

// weight is the price of a metre by the decimal text of the job; 1 where nothing is said.
func weight(text string) int64 {
	w, err := strconv.ParseFloat(text, 64)
	if err != nil {
		w = 1
	}
	return int64(math.Round(w * pricePerMetre))
}

// wanted is the wall top that puts the covers where the job wants them, at a station.
func (b *build) wanted(i int, l *laid, s station) (measure.Length, bool) {
	at, ok := b.ground.Of(ground.Finished).At(b.planAt(i, s.at))
	if !ok {
		return 0, false
	}
	return ground.Record(at.Z) + b.job.Levels.Above.Value - b.coverAt(i, l, s), true
}

// coverAt is the thickness of the cover at a station: of the unit that starts there, else of the last one.
func (b *build) coverAt(i int, l *laid, s station) measure.Length {
	u := min(s.unit, len(l.units)-1)
	return b.sup[l.supply[l.units[u].Supply]].Cover.Thickness.Value
}

// wallTop is the wall top that belongs to a level of something else.
func (b *build) wallTop(i int, l *laid, s station, z measure.Length, of string) measure.Length {
	u := min(s.unit, len(l.units)-1)
	switch of {
	case "wall":
		return z
	case "invert":
		return z + b.sup[l.supply[l.units[u].Supply]].Unit.Inner.Value.Height
	}
	return z - b.coverAt(i, l, s)
}

// nodePin is the wall top that the job gives an end of a leg: at its node, or of the trench that it runs on from.
func (b *build) nodePin(i int, l *laid, s station) (measure.Length, string, bool) {
	id := b.leg(i).From
	switch {
	case s.in || s.unit > 0 && s.unit < len(l.units):
		return 0, "", false
	case s.unit > 0:
		id = b.leg(i).To
	}
	n := b.node(id)
	if e := n.End; e != nil && e.Level != nil {
		return measure.FromMetres(*e.Level * b.net.unit), "the existing trench at " + id, true
	}
	if n.Level != nil {
		return measure.FromMetres(*n.Level * b.net.unit), nodeLevel(id), true
	}
	return 0, "", false
}

// liftPins puts what the job gives as the level of a node, where a casting that falls stands there, to the face of each arm.
func (b *build) liftPins(q *heights) {
	for i := range b.net.Nodes {
		for _, a := range q.problem.Nodes[i].Arms {
			joints := q.problem.Legs[a.Leg].Joints
			at := 0
			if a.End {
				at = len(joints) - 1
			}
			if j := &joints[at]; a.Rise != 0 && j.Pin != nil && j.Name == nodeLevel(b.net.Nodes[i].ID) {
				j.Pin = new(*j.Pin + a.Rise)
			}
		}
	}
}

func nodeLevel(id string) string { return "the level of node " + id }

// pinOff says that a pin lies beyond its leg.
func (b *build) pinOff(p *job.Pin) {
	b.fault("planner.pin-off", "levels.pins."+p.ID, b.tell("pin %s lies beyond the units of leg %s", p.ID, p.Leg), "look at its chainage")
}

func pinName(p *job.Pin) string {
	if p.Why != "" {
		return p.Why
	}
	return "pin " + p.ID
}

// stretchAt is what the job says of a place on a leg; nil: nothing.
func (b *build) stretchAt(i int, ch measure.Length) *job.LevelStretch {
	for k := range b.job.Levels.Stretches {
		s := &b.job.Levels.Stretches[k]
		if s.Leg == b.leg(i).ID && s.From <= ch && (s.To == 0 || ch <= s.To) {
			return s
		}
	}
	return nil
}

func (b *build) gradesAt(i int, ch measure.Length) job.Grades {
	g := b.job.Levels.Grades
	if s := b.stretchAt(i, ch); s != nil && s.Grades != "" {
		g = s.Grades
	}
	if g == "" {
		return job.StraightGrades
	}
	return g
}

// changeAt is the most that the grade may change at a joint: what its one budget leaves at the gap that is aimed at, shared
// over the height of the unit that owns it; nil where no window or no height is on file.
func (b *build) changeAt(i int, l *laid, unit int) *measure.Grade {
	s := &b.sup[l.supply[l.owner(unit-1).Supply]]
	w, h := s.Joint.Gap.Value, s.Unit.Outer.Value.Height
	if w.Min == w.Max || h == 0 {
		return nil
	}
	a, sh := &b.axes[i], b.shares(s)
	at := l.units[unit].Start
	turn := measure.Length(0)
	for _, c := range a.curves() {
		if c.radius != 0 && c.from-s.longest() < at && at < c.to+s.longest() {
			turn = max(turn, opening(turnOnCurve(c.radius, s.longest()+w.Max), s.width))
		}
	}
	left := max(0, room(w.Nominal, w)-turn-sh.square-sh.reserve)
	return &measure.Grade{Rise: 2 * left, Run: h}
}

// askUnit is what a unit between two chainages has to keep.
func (b *build) askUnit(i int, from, to measure.Length) profile.Unit {
	v := &b.job.Levels
	least, most := v.Least, v.Most
	var u profile.Unit
	toward := ""
	if s := b.stretchAt(i, (from+to)/2); s != nil {
		if s.Least.Known {
			least = s.Least
		}
		if s.Most.Known {
			most = s.Most
		}
		toward, u.Cross = s.Toward, s.Crossfall.Value
	}
	grade := func(g measure.Grade, sign measure.Length) *measure.Grade {
		if g.Run == 0 {
			g.Run = 1
		}
		return &measure.Grade{Rise: sign * g.Rise, Run: g.Run}
	}
	fall := measure.Length(0) // +1: it rises up-chainage, for the water runs to the from node
	switch toward {
	case b.leg(i).From:
		fall = 1
	case b.leg(i).To:
		fall = -1
	}
	if most = b.steepest(most); most.Known {
		u.Least, u.Most = grade(most.Value, -1), grade(most.Value, 1)
	}
	if fall != 0 && least.Known {
		if fall > 0 {
			u.Least = grade(least.Value, 1)
		} else {
			u.Most = grade(least.Value, -1)
		}
	}
	return u
}

func (b *build) askNode(n *route.Node) profile.Node {
	out := profile.Node{Name: n.ID}
	d := b.node(n.ID)
	if n.Kind == route.Branch {
		return out // the leg that goes on knows nothing of it
	}
	if d.Fitting != "" {
		p, _ := b.castPlane(n)
		for _, arm := range n.Arms {
			out.Arms = append(out.Arms, b.mouth(p, arm))
		}
		return out
	}
	for _, arm := range n.Arms {
		out.Arms = append(out.Arms, profile.Arm{Leg: arm.Leg, End: !arm.Away})
	}
	if len(n.Arms) != 2 {
		return out
	}
	through := profile.Through{In: 0, Out: 1}
	if n.Arms[0].Away {
		through.In, through.Out = 1, 0
	}
	in := n.Arms[through.In].Leg
	s := b.legSupply(in)
	if n.Bend != nil {
		c := route.Corner{Deflection: n.Bend.Deflection, Width: s.width}
		through.Change = &measure.Grade{Run: 1} // by default grades change at the joints before and after a bend
		through.Bend = &profile.Bend{Tan: math.Abs(c.Tan()), Width: s.width}
		if b.job.Rules.LipLimit.Known {
			through.Bend.Lip = &b.job.Rules.LipLimit.Value
		}
	}
	out.Throughs = append(out.Throughs, through)
	return out
}
