package drawing

import (
	"cmp"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// draft is a plan as it is drawn: the plan and its job with everything found by name.
type draft struct {
	plan   planner.Plan
	job    job.Job
	style  Style
	words  lexicon
	legs   map[string]int // by name
	nodes  map[string]int
	units  map[string]int
	of     [][]int                       // units of each leg, in order
	covers map[string][]int              // covers of each unit, in order
	made   map[string]maker              // supplies
	asked  map[string]job.Leg            // what was declared of a leg; a job told as a walk declares none
	chains [][]int                       // legs end to end, each chain as long as it goes
	things []thing                       // along the legs
	grades map[string][]planner.GradeRun // of each leg, along it

	windowOf []int // of each unit: the plan sheet's window that shows it, once there are windows
}

// maker is what the drawings need of a supply.
type maker struct {
	head  planner.SupplyHead
	width float64 // outer, mm; 0: not on file
	cover float64 // width of a cover, mm; 0: not on file
	pads  bool
	job   job.Supply
}

func newDraft(p planner.Plan, j job.Job, style Style) *draft {
	d := &draft{plan: p, job: j, style: style, words: style.words(),
		legs: map[string]int{}, nodes: map[string]int{}, units: map[string]int{}, covers: map[string][]int{},
		made: map[string]maker{}, asked: map[string]job.Leg{}, of: make([][]int, len(p.Legs))}
	for i, l := range p.Legs {
		d.legs[l.Name] = i
		if last := len(d.chains) - 1; last >= 0 && p.Legs[i-1].To == l.From {
			d.chains[last] = append(d.chains[last], i)
			continue
		}
		d.chains = append(d.chains, []int{i})
	}
	for i, n := range p.Nodes {
		d.nodes[n.ID] = i
	}
	for i, u := range p.Units {
		d.units[u.Mark] = i
		if l, ok := d.legs[u.Leg]; ok {
			d.of[l] = append(d.of[l], i)
		}
	}
	for _, units := range d.of {
		sorting.By(units, func(a, b int) int { return cmp.Compare(p.Units[a].Start, p.Units[b].Start) })
	}
	for i, c := range p.Covers {
		d.covers[c.Unit] = append(d.covers[c.Unit], i)
	}
	for _, s := range j.Supplies {
		d.made[s.ID] = maker{job: s, pads: s.Bearing.On.Value == "pads"}
	}
	for _, h := range p.Supplies {
		m := d.made[h.ID]
		m.head, m.width, m.cover = h, millimetres(h.OuterWidth), millimetres(h.CoverWidth)
		d.made[h.ID] = m
	}
	for _, l := range j.Route.Legs {
		d.asked[l.ID] = l
	}
	d.things = d.thingsAlong()
	d.grades = map[string][]planner.GradeRun{}
	for _, g := range p.Grades {
		d.grades[g.Leg] = append(d.grades[g.Leg], g)
	}
	return d
}

func millimetres(l *measure.MM) float64 {
	if l == nil {
		return 0
	}
	return mm(*l)
}

// mm is a length in millimetres, for drawing.
func mm(l measure.MM) float64 { return measure.Length(l).Millimetres() }

// unitWidth is the outer width that a unit is drawn with in mm. Without one on file it is drawn a third of a metre wide;
// what then stands beside it says NOT CHECKED.
func (d *draft) unitWidth(supply string) float64 {
	if w := d.made[supply].width; w > 0 {
		return w
	}
	return 333
}

// node is a node of the plan by its id.
func (d *draft) node(id string) planner.Node {
	if i, ok := d.nodes[id]; ok {
		return d.plan.Nodes[i]
	}
	return planner.Node{ID: id}
}

// place is a unit of the plan by its mark.
func (d *draft) place(mark string) (planner.Unit, bool) {
	i, ok := d.units[mark]
	if !ok {
		return planner.Unit{}, false
	}
	return d.plan.Units[i], true
}

// spot is a place in plan, in metres east and north of the job's origin.
type spot struct{ e, n float64 }

func (s spot) add(t spot) spot           { return spot{s.e + t.e, s.n + t.n} }
func (s spot) sub(t spot) spot           { return spot{s.e - t.e, s.n - t.n} }
func (s spot) times(k float64) spot      { return spot{float64(s.e * k), float64(s.n * k)} }
func (s spot) left() spot                { return spot{-s.n, s.e} }
func (s spot) length() float64           { return math.Sqrt(float64(s.e*s.e) + float64(s.n*s.n)) }
func (s spot) to(t spot, k float64) spot { return s.add(t.sub(s).times(k)) }
func at(p [2]float64) spot               { return spot{p[0], p[1]} }

// heading is the unit vector of a bearing in degrees, clockwise from north.
func heading(bearing float64) spot {
	s, c := math.Sincos(bearing * math.Pi / 180)
	return spot{s, c}
}

// bearing is the direction of a vector, clockwise from north, from 0 to under 360.
func (s spot) bearing() float64 {
	b := math.Atan2(s.e, s.n) * 180 / math.Pi
	if b < 0 {
		b += 360
	}
	return b
}

// stretch is how much longer the laying axis is than the chainage: 1 on the level.
func stretch(l planner.Leg) float64 {
	plan := mm(l.NodeLength)
	if plan <= 0 {
		return 1
	}
	return (mm(l.ClearLength) + mm(l.StartSetback) + mm(l.EndSetback)) / plan
}

// chainageAt is the chainage of a station on a leg's laying axis, in mm.
func chainageAt(l planner.Leg, at float64) float64 { return (at + mm(l.StartSetback)) / stretch(l) }

// stationAt is the station on the laying axis of a chainage, in mm.
func stationAt(l planner.Leg, chainage float64) float64 {
	return float64(chainage*stretch(l)) - mm(l.StartSetback)
}

// onAxis is the place and the direction of a leg's centreline at a chainage in mm.
func onAxis(l planner.Leg, chainage float64) (spot, spot) {
	if len(l.Axis) == 0 {
		return spot{}, spot{1, 0}
	}
	part := l.Axis[0]
	for _, p := range l.Axis {
		if chainage >= mm(p.FromChainage) {
			part = p
		}
	}
	from, to := at(part.Start), at(part.End)
	span := mm(part.ToChainage) - mm(part.FromChainage)
	k := 0.0
	if span > 0 {
		k = (chainage - mm(part.FromChainage)) / span
	}
	chord := to.sub(from)
	if part.Radius == 0 || span == 0 || chord.length() == 0 {
		return from.to(to, k), unitVector(chord)
	}
	return arcPoint(from, chord, span/1000/math.Abs(part.Radius), part.Radius > 0, k)
}

// arcPoint is a point at the part k of an arc over a chord that turns by sweep radians.
func arcPoint(from, chord spot, sweep float64, right bool, k float64) (spot, spot) {
	side := 1.0 // the centre lies to the left
	if right {
		side = -1
	}
	radius := chord.length() / (2 * math.Sin(sweep/2))
	start := unitVector(turned(chord, -side*sweep/2))
	centre := from.add(start.left().times(side * radius))
	turn := float64(side*sweep) * k
	return centre.add(turned(from.sub(centre), turn)), turned(start, turn)
}

// turned is a vector turned counter-clockwise by radians.
func turned(v spot, radians float64) spot {
	s, c := math.Sincos(radians)
	return spot{float64(v.e*c) - float64(v.n*s), float64(v.e*s) + float64(v.n*c)}
}

func unitVector(v spot) spot {
	l := v.length()
	if l == 0 {
		return spot{1, 0}
	}
	return v.times(1 / l)
}

// corners are a unit's four corners in plan: left start, left end, right end, right start.
func (d *draft) corners(u planner.Unit) [4]spot {
	return footprint(at(u.Axis[0]), at(u.Axis[1]), d.unitWidth(u.Supply)/2000, u.StartAngle, u.EndAngle)
}

// footprint is a piece of a half width in metres along an axis with its two ends cut at angles in degrees.
func footprint(from, to spot, half, startAngle, endAngle float64) [4]spot {
	along := unitVector(to.sub(from))
	left := along.left().times(half)
	slant := func(degrees float64) spot { return along.times(half * math.Tan(degrees*math.Pi/180)) }
	s, e := slant(startAngle), slant(endAngle)
	return [4]spot{
		from.add(left).add(s), to.add(left).add(e),
		to.sub(left).sub(e), from.sub(left).sub(s),
	}
}

// special reports whether a unit has to be told from its plain neighbours.
func (d *draft) special(u planner.Unit) bool {
	return u.Cut || u.Hold || u.Demands != "" || u.StartAngle != 0 || u.EndAngle != 0 || u.Supply != d.legSupply(u.Leg)
}

func (d *draft) legSupply(leg string) string {
	if i, ok := d.legs[leg]; ok {
		return d.plan.Legs[i].Supply
	}
	return ""
}

// findingName is what a sheet calls a finding: №1 is the first of the plan's list.
func findingName(i int) string { return finding.Number(i) }

// general reports whether a finding speaks of the whole job, and not of a place on it.
func general(f finding.Finding) bool { return f.Where.Leg == "" && f.Where.Place == "" }

// concern is a finding with its number in the plan.
type concern struct {
	index int
	name  string
	finding.Finding
}

// concerns are the findings that ask something of a reader and of which keep says yes.
func (d *draft) concerns(keep func(finding.Finding) bool) []concern {
	var out []concern
	for _, kind := range []finding.Kind{finding.Fault, finding.Impossible, finding.NotChecked, finding.Attention, finding.Assumed} {
		for i, f := range d.plan.Findings {
			if f.Kind == kind && keep(f) {
				out = append(out, concern{i, findingName(i), f})
			}
		}
	}
	return out
}
