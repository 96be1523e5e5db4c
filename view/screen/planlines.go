package screen

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/place/route"
)

// arcOff is how far the straight parts of a drawn curve may leave it, in metres.
const arcOff = 0.005

// line is a leg's centreline, straight between points.
func (d *draft) line(leg int) PlanLeg {
	out := PlanLeg{Strip: Numbers{}, Line: Numbers{}}
	add := func(chainage float64, p route.Point) {
		out.Strip, out.Line = append(out.Strip, d.begins[leg]+chainage), append(out.Line, p.E, p.N)
	}
	for i, part := range d.plan.Legs[leg].Axis {
		from, to := mm(part.FromChainage), mm(part.ToChainage)
		if i == 0 {
			add(from, point(part.Start))
		}
		n := 1
		if part.Radius != 0 {
			n = parts((to-from)/1000, math.Abs(part.Radius))
		}
		for k := 1; k < n; k++ {
			share := float64(k) / float64(n)
			add(from+float64((to-from)*share), arcPoint(part, share))
		}
		add(to, point(part.End))
	}
	out.Curves = d.curves(leg)
	return out
}

// parts is into how many an arc is cut so that its chords leave it by arcOff at most.
func parts(length, radius float64) int {
	if arcOff >= radius {
		return 4
	}
	half := math.Acos(1 - arcOff/radius) // of the angle over one chord
	return max(1, min(4096, int(math.Ceil(length/radius/(2*half)))))
}

func point(p [2]float64) route.Point { return route.Point{E: p[0], N: p[1]} }

// arcPoint is the point at a share of an arc.
func arcPoint(part planner.AxisPart, share float64) route.Point {
	from, to := point(part.Start), point(part.End)
	chord := to.Minus(from)
	sweep := 2 * math.Asin(math.Min(1, chord.Length()/2/math.Abs(part.Radius)))
	if (mm(part.ToChainage)-mm(part.FromChainage))/1000 > math.Pi*math.Abs(part.Radius) { // more than half a circle
		sweep = 2*math.Pi - sweep
	}
	turn := sweep // clockwise
	if part.Radius < 0 {
		turn = -sweep
	}
	radius := math.Abs(part.Radius)
	start := chord.Unit().Turned(-turn / 2) // the way in which it begins
	side := start.Right()
	if part.Radius < 0 {
		side = side.Times(-1)
	}
	centre := from.Plus(side.Times(radius))
	return centre.Plus(from.Minus(centre).Turned(turn * share))
}

// points are those of a line.
func (l PlanLeg) points() []route.Point {
	out := make([]route.Point, 0, len(l.Strip))
	for k := 0; k+1 < len(l.Line); k += 2 {
		out = append(out, route.Point{E: l.Line[k], N: l.Line[k+1]})
	}
	return out
}

// at is the point at a place of the strip, straight on beyond the ends.
func (l PlanLeg) at(strip float64) route.Point { p, _ := l.pose(strip); return p }

// pose is the point at a place of the strip, and the way in which the leg goes there.
func (l PlanLeg) pose(strip float64) (route.Point, route.Vector) {
	n := len(l.Strip)
	if n < 2 {
		return route.Point{}, route.Vector{E: 1}
	}
	k := 1
	for k < n-1 && l.Strip[k] < strip {
		k++
	}
	a, b := route.Point{E: l.Line[2*k-2], N: l.Line[2*k-1]}, route.Point{E: l.Line[2*k], N: l.Line[2*k+1]}
	way := b.Minus(a)
	span := l.Strip[k] - l.Strip[k-1]
	if span <= 0 {
		return a, way.Unit()
	}
	return a.Plus(way.Times((strip - l.Strip[k-1]) / span)), way.Unit()
}

func (d *draft) planView() Plan {
	out := Plan{Origin: d.plan.Job.Origin, Legs: []PlanLeg{}, Corners: make(Numbers, 0, 8*len(d.plan.Units)), Lines: []PlanLine{}, Contours: []Contour{}}
	d.planZones(&out)
	for _, leg := range d.order {
		out.Legs = append(out.Legs, d.lines[leg])
		for u := d.first[leg]; u < d.first[leg+1]; u++ {
			out.Corners = d.corners(out.Corners, u)
		}
		out.Lines = d.crossLines(out.Lines, leg)
	}
	out.Extent = extent(out.Legs)
	d.contours(&out)
	return out
}

// extent is the box round all legs.
func extent(legs []PlanLeg) [4]float64 {
	var box [4]float64
	seen := false
	for _, l := range legs {
		for _, p := range l.points() {
			if !seen {
				box, seen = [4]float64{p.E, p.N, p.E, p.N}, true
			}
			box = [4]float64{math.Min(box[0], p.E), math.Min(box[1], p.N), math.Max(box[2], p.E), math.Max(box[3], p.N)}
		}
	}
	return box
}

// corners adds a unit's corners in plan: left start, left end, right end, right start.
func (d *draft) corners(out Numbers, unit int) Numbers {
	u := &d.plan.Units[unit]
	half := d.widths[d.supply[u.Supply]] / 2000
	from, to := point(u.Axis[0]), point(u.Axis[1])
	along := to.Minus(from).Unit()
	left := along.Right().Times(-half)
	start, end := along.Times(half*slant(u.StartAngle)), along.Times(half*slant(u.EndAngle))
	for _, p := range [4]route.Point{from.Plus(left).Plus(start), to.Plus(left).Plus(end), to.Plus(left.Times(-1)).Plus(end.Times(-1)), from.Plus(left.Times(-1)).Plus(start.Times(-1))} {
		out = append(out, p.E, p.N)
	}
	return out
}

// slant is how far a face leans for a width of 1.
func slant(degrees float64) float64 {
	if degrees == 0 {
		return 0
	}
	return math.Tan(degrees * math.Pi / 180)
}

// How far what crosses the run is drawn to either side of its middle, and a conduit out of its wall, in metres.
const (
	crossReach = 6.0
	entryReach = 1.5
)

// crossLines adds services, crossings and entries of a leg where they lie. A skew is turned clockwise from the leg.
func (d *draft) crossLines(out []PlanLine, leg int) []PlanLine {
	l := d.asked[d.plan.Legs[leg].Name]
	line := func(t Thing, at float64) (a, b route.Point) {
		p, way := d.lines[leg].pose(at)
		out := way.Turned(t.Skew * math.Pi / 180).Times(crossReach)
		return p.Plus(out), p.Plus(out.Times(-1))
	}
	for _, c := range l.Crossings {
		t := d.thing(leg, "crossing", c.ID, c.At, c.Path, c.Skew, "")
		a, b := line(t, t.From)
		e, f := line(t, t.To)
		out = append(out, PlanLine{Key: t.Key, Kind: "crossing", Name: orID(c.Name, c.ID), Closed: true, Line: Numbers{a.E, a.N, b.E, b.N, f.E, f.N, e.E, e.N}})
	}
	for _, v := range l.Services {
		t := d.thing(leg, "service", v.ID, v.At, v.Width, v.Skew, "")
		a, b := line(t, t.At)
		out = append(out, PlanLine{Key: t.Key, Kind: "service", Name: orID(v.Name, v.ID), Line: Numbers{a.E, a.N, b.E, b.N}})
	}
	half := d.drawnWidth(d.plan.Legs[leg].Supply) / 2000
	out = d.acrossLines(out, leg, half)
	for _, e := range l.Entries {
		t := d.thing(leg, "entry", e.ID, e.At, e.Diameter, 0, "")
		p, way := d.lines[leg].pose(t.At)
		side := way.Right()
		if e.Side == "left" {
			side = side.Times(-1)
		}
		a, b := p.Plus(side.Times(half)), p.Plus(side.Times(half+entryReach))
		if e.Side == "floor" {
			a, b = p, p
		}
		out = append(out, PlanLine{Key: t.Key, Kind: "entry", Name: e.ID, Line: Numbers{a.E, a.N, b.E, b.N}})
	}
	return out
}

// Beyond its walls a zone is drawn this far, and a joint that is asked for, in metres.
const zoneReach, forcedReach = 0.35, 0.6

// planZones adds stretches that the job keeps free of joints: a band along the run, wider than it.
func (d *draft) planZones(p *Plan) {
	for leg := range d.plan.Legs {
		half := d.drawnWidth(d.plan.Legs[leg].Supply)/2000 + zoneReach
		for _, z := range d.asked[d.plan.Legs[leg].Name].Zones {
			from, to := d.strip(leg, measure.MM(z.From)), d.strip(leg, measure.MM(z.To))
			p.Lines = append(p.Lines, PlanLine{Key: thingKey("zone", d.plan.Legs[leg].Name, z.ID), Kind: "zone", Name: orID(z.Why, z.ID), Closed: true, Line: d.lines[leg].band(from, to, half)})
		}
	}
}

// band is what lies within so many metres beside a stretch of the leg.
func (l PlanLeg) band(from, to, half float64) Numbers {
	at := []float64{from}
	for _, s := range l.Strip {
		if s > from && s < to {
			at = append(at, s)
		}
	}
	var right, left Numbers
	for _, s := range append(at, to) {
		p, way := l.pose(s)
		out := way.Right().Times(half)
		r, f := p.Plus(out), p.Plus(out.Times(-1))
		right, left = append(right, r.E, r.N), append(Numbers{f.E, f.N}, left...)
	}
	return append(right, left...)
}

// acrossLines adds what stands square across the run: supports within it, and joints that the job asks for, a little wider.
func (d *draft) acrossLines(out []PlanLine, leg int, half float64) []PlanLine {
	l := d.asked[d.plan.Legs[leg].Name]
	add := func(t Thing, kind, name string, reach float64) {
		p, way := d.lines[leg].pose(t.At)
		a, b := p.Plus(way.Right().Times(-reach)), p.Plus(way.Right().Times(reach))
		out = append(out, PlanLine{Key: t.Key, Kind: kind, Name: name, Line: Numbers{a.E, a.N, b.E, b.N}})
	}
	for _, v := range l.Supports {
		for n, at := 1, v.At; measure.MM(at) <= d.plan.Legs[leg].NodeLength; n, at = n+1, at+v.Every {
			add(d.thing(leg, "support", v.ID, at, v.Width, 0, d.supportLabel(v, n)), "support", v.ID, half)
			if v.Every <= 0 {
				break
			}
		}
	}
	for _, f := range l.Joints {
		add(d.thing(leg, "forced", f.ID, f.At, 0, 0, joined(": ", "joint asked for", f.Why)), "forced", orID(f.Why, f.ID), half+forcedReach)
	}
	return out
}

func orID(name, id string) string {
	if name == "" {
		return id
	}
	return name
}
