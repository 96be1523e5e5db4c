package drawing

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// bricklayer builds plans by hand, leg after leg, for sheets to be tried on. Positions are right to the millimetre, so
// that a drawing of them closes; nothing of it was solved or proven.
type bricklayer struct {
	plan  planner.Plan
	job   job.Job
	made  map[string]stock
	spots map[string]spot // of nodes
	gap   float64
	bay   float64 // of covers, with their gap
	unit  int     // of the cutting list
}

type stock struct{ length, width, cover float64 }

// end is how a leg ends: its set-back from the node and its cut.
type end struct{ setback, angle float64 }

func pointer[T any](x T) *T { return &x }

func newBricklayer(name string) *bricklayer {
	b := &bricklayer{made: map[string]stock{}, spots: map[string]spot{}, gap: 10, bay: 1000}
	b.plan.Format, b.plan.Core = planner.PlanFormat, "0.1.0"
	b.plan.Job = planner.JobHead{ID: "hand-built", Name: name, Owner: "an owner (invented)", By: "site engineer", On: "2026-03-02",
		Revision: "P02", Hash: "7d1f0c4a9be25583", DrawnLine: "centreline of the run, as drawn",
		Grid: "site grid (invented)", HeightDatum: notChecked + ": no height datum on file. Ask: the surveyor",
		ScaleFactor: notChecked + ": no combined scale factor on file; at 400 ppm this run would be 52 mm longer. Ask: the surveyor",
		Origin:      [2]float64{412300, 287600}}
	b.job.Name = name
	return b
}

// supply enters what is laid, with pads.
func (b *bricklayer) supply(id, title string, s stock) {
	b.made[id] = s
	kerf := length(5)
	b.plan.Supplies = append(b.plan.Supplies, planner.SupplyHead{ID: id, Title: title, Source: "data sheet D1, revision 3 (invented)",
		Lengths: []measure.MM{length(s.length)}, OuterWidth: pointer(length(s.width)), InnerWidth: pointer(length(s.width - 200)), CoverWidth: pointer(length(s.cover)),
		Rating: notChecked + ": no rating on file. Ask: the supplier", CoverRating: notChecked + ": no rating on file. Ask: the supplier",
		Ends: "plain", Bearing: "pads", Lifting: "inserts", CoverLift: "keys", Kerf: &kerf, SawTol: "3 mm (D3, page 11)"})
	b.job.Supplies = append(b.job.Supplies, job.Supply{ID: id, Title: title,
		Bearing: job.BearingMake{On: job.Known("pads"), PadAlong: job.Known(measure.Length(length(300)))},
		Joint:   job.JointMake{EndGap: job.Known(measure.Length(length(b.gap)))}})
}

func (b *bricklayer) node(n planner.Node) {
	if s, ok := b.spots[n.ID]; ok {
		n.At = [2]float64{s.e, s.n}
	}
	b.plan.Nodes = append(b.plan.Nodes, n)
}

// leg lays units of the given lengths between two nodes. Arc parts are given as straight, radius, turn in degrees.
func (b *bricklayer) leg(name, from, to, supply string, bearing float64, first, last end, lengths []float64, curve ...float64) float64 {
	clear := -b.gap
	for _, l := range lengths {
		clear += l + b.gap
	}
	node := clear + first.setback + last.setback
	l := planner.Leg{Name: name, From: from, To: to, Supply: supply, Verdict: "found", ClearLength: length(clear), NodeLength: length(node),
		StartSetback: length(first.setback), EndSetback: length(last.setback), LaidFrom: from}
	start := b.spots[from]
	bearing = b.axis(&l, start, bearing, node, curve)
	finish, _ := onAxis(l, node)
	b.spots[to] = finish
	b.lay(&l, first, last, lengths)
	b.plan.Legs = append(b.plan.Legs, l)
	return bearing
}

func (b *bricklayer) axis(l *planner.Leg, start spot, bearing, node float64, curve []float64) float64 {
	straight := func(from, to float64) {
		end := start.add(heading(bearing).times((to - from) / 1000))
		l.Axis = append(l.Axis, planner.AxisPart{FromChainage: length(from), ToChainage: length(to), Start: [2]float64{start.e, start.n}, End: [2]float64{end.e, end.n}})
		start = end
	}
	if len(curve) == 0 {
		straight(0, node)
		return bearing
	}
	straight(0, curve[0])
	sweep := math.Abs(curve[2]) * math.Pi / 180
	arc := math.Abs(curve[1]) * sweep * 1000
	end := start.add(heading(bearing + curve[2]/2).times(2 * math.Abs(curve[1]) * math.Sin(sweep/2)))
	l.Axis = append(l.Axis, planner.AxisPart{FromChainage: length(curve[0]), ToChainage: length(curve[0] + arc),
		Start: [2]float64{start.e, start.n}, End: [2]float64{end.e, end.n}, Radius: math.Copysign(curve[1], curve[2])})
	start, bearing = end, bearing+curve[2]
	straight(curve[0]+arc, node)
	return bearing
}

func (b *bricklayer) lay(l *planner.Leg, first, last end, lengths []float64) {
	x := 0.0
	s := b.made[l.Supply]
	for i, long := range lengths {
		u := planner.Unit{Mark: fmt.Sprintf("%s-%03d", l.Name, i+1), Leg: l.Name, Supply: l.Supply, Start: length(x), Length: length(long),
			Stock: length(s.length), Cut: long != s.length, Mass: pointer(long * 0.435), Chainage: length(x + first.setback)}
		if i == 0 {
			u.StartAngle = first.angle
		}
		if i == len(lengths)-1 {
			u.EndAngle = last.angle
		}
		from, _ := onAxis(*l, x+first.setback)
		to, _ := onAxis(*l, x+first.setback+long)
		u.Axis = [2][2]float64{{from.e, from.n}, {to.e, to.n}}
		u.Bearing = to.sub(from).bearing()
		u.Cut = u.Cut || u.StartAngle != 0 || u.EndAngle != 0
		if u.Cut {
			b.piece(&u, s)
			l.Count.Cuts++
		}
		l.Count.Units++
		b.cover(u, s)
		b.plan.Units = append(b.plan.Units, u)
		if i > 0 {
			b.plan.Joints = append(b.plan.Joints, planner.Joint{Name: fmt.Sprintf("%s-%03d/%s", l.Name, i, u.Mark), Leg: l.Name,
				At: length(x), Gap: length(b.gap), GapMin: length(6), GapMax: length(16)})
		}
		x += long + b.gap
	}
}

// piece says how a cut unit is cut, from a stock unit of its own.
func (b *bricklayer) piece(u *planner.Unit, s stock) {
	b.unit++
	name := fmt.Sprintf("U%d", b.unit)
	st, et := math.Tan(u.StartAngle*math.Pi/180), math.Tan(u.EndAngle*math.Pi/180)
	half, long := s.width/2, mm(u.Length)
	left, right := long+half*(et-st), long-half*(et-st)
	diagonal := func(x0, x1 float64) measure.MM { return length(math.Hypot(x1-x0, s.width)) }
	kept := "start"
	if u.StartAngle != 0 {
		kept = "end"
	}
	p := planner.Piece{LeftSide: length(left), RightSide: length(right),
		DiagonalA: diagonal(half*st, long-half*et), DiagonalB: diagonal(-half*st, long+half*et),
		KeptEnd: kept, CutFrom: name, Turned: kept == "end", CentreX: length(long/2 + (et-st)*12), CentreY: length((left - right) / 12),
		CentreNote: "walls and floor as solid prisms", Lift: notChecked + ": one pair of inserts remains. Ask: the supplier"}
	if left != right {
		p.Hand = "long side left"
		if right > left {
			p.Hand = "long side right"
		}
	}
	near := 620.0
	if p.Turned {
		near = long - 620
	}
	if long > 700 {
		p.Inserts = []planner.InsertLeft{{Name: "lifting insert", Side: "left", X: length(near)}, {Name: "lifting insert", Side: "right", X: length(near)}}
	}
	u.Piece = &p
	place := planner.CutPlace{Mark: u.Mark, From: 0, To: u.Length, Turned: p.Turned}
	if p.Turned {
		place.ToTan = st
	} else {
		place.ToTan = et
	}
	pattern := planner.CutPattern{Name: name, Stock: length(s.length), Pieces: []planner.CutPlace{place}, Saws: 1, SawLoss: length(5)}
	if rest := s.length - long - 5; rest > 0 {
		pattern.Left = []planner.LeftOver{{Mark: u.Mark + "/a", From: length(long + 5), To: length(s.length), Usable: rest >= 600}}
	}
	b.pattern(u.Supply, "units", pattern)
}

func (b *bricklayer) pattern(supply, of string, p planner.CutPattern) {
	for i, c := range b.plan.Cutting {
		if c.Supply == supply && c.Of == of {
			b.plan.Cutting[i].Patterns = append(c.Patterns, p)
			b.plan.Cutting[i].Bought++
			return
		}
	}
	b.plan.Cutting = append(b.plan.Cutting, planner.Cutting{Supply: supply, Of: of, Patterns: []planner.CutPattern{p}, Bought: 1})
}

// cover lays covers of one bay, and one cut cover for what is left. A first or last cover with a slanted end is at least
// 300 mm long on its short side; where a bay is too short for that, one cover lies on the whole unit.
func (b *bricklayer) cover(u planner.Unit, s stock) {
	long := mm(u.Length)
	tan := func(degrees float64) float64 { return math.Abs(math.Tan(degrees * math.Pi / 180)) }
	first, last := 300+s.cover/2*tan(u.StartAngle), 300+s.cover/2*tan(u.EndAngle)
	size := b.bay - 4
	var sizes []float64
	switch {
	case size < first || size < last || long < b.bay+last:
		sizes = []float64{long}
	default:
		for long > b.bay+last+4 {
			sizes = append(sizes, size)
			long -= b.bay
		}
		if long > size {
			sizes = append(sizes, long-last-4)
			long = last
		}
		sizes = append(sizes, long)
	}
	x := 0.0
	for n, size := range sizes {
		c := planner.Cover{Mark: fmt.Sprintf("%s.%d", u.Mark, n+1), Unit: u.Mark, Start: length(x), Length: length(size), Stock: length(b.bay - 4),
			Mass: pointer(size * 0.11)}
		if size > b.bay-4 {
			c.Stock = length(size + 500)
		}
		if n == 0 {
			c.StartAngle = u.StartAngle
		}
		if n == len(sizes)-1 {
			c.EndAngle = u.EndAngle
		}
		st, et := math.Tan(c.StartAngle*math.Pi/180), math.Tan(c.EndAngle*math.Pi/180)
		lean := s.cover / 2 * (et - st)
		c.LeftSide, c.RightSide = length(size+lean), length(size-lean)
		if c.Cut = size != b.bay-4 || lean != 0; c.Cut {
			b.unit++
			c.CutFrom = fmt.Sprintf("C%d", b.unit)
			low := s.cover / 2 * math.Abs(st)
			b.pattern(u.Supply, "covers", planner.CutPattern{Name: c.CutFrom, Stock: length(mm(c.Stock) + low + s.cover/2*math.Abs(et)), Saws: 1,
				Pieces: []planner.CutPlace{{Mark: c.Mark, From: length(low), To: length(low + size), FromTan: st, ToTan: et}}})
		}
		b.plan.Covers = append(b.plan.Covers, c)
		x += size + 4
	}
}

// mitre is the end of a leg at a mitred bend: into a right bend the cut leans forward on the left.
func mitre(deflection float64, leaving bool) end {
	e := end{setback: 6 / math.Cos(deflection*math.Pi/360), angle: deflection / 2}
	if leaving {
		e.angle = -e.angle
	}
	return e
}

func (b *bricklayer) bend(id string, deflection, width float64, in, out string, legs ...string) {
	a := math.Abs(deflection) / 2 * math.Pi / 180
	b.node(planner.Node{ID: id, Kind: "bend", Legs: legs, Made: "mitred", Deflection: deflection,
		Headings: []float64{math.NaN(), math.NaN()},
		Bend: &planner.BendDetail{SawAngle: math.Abs(deflection) / 2, Gap: length(12), Setback: length(6 / math.Cos(a)), LongShort: length(width * math.Tan(a)),
			PadAcross: length(width / math.Cos(a)), In: in, Out: out, CoverIn: in + ".3", CoverOut: out + ".1",
			Seams: "the covers are cut along the mitre; the seam lies over the joint"}})
}

// finish fills the headings of every node from the legs.
func (b *bricklayer) finish(findings ...finding.Finding) (planner.Plan, job.Job) {
	for i := range b.plan.Nodes {
		n := &b.plan.Nodes[i]
		n.Headings = nil
		for _, name := range n.Legs {
			for _, l := range b.plan.Legs {
				if l.Name != name {
					continue
				}
				_, way := onAxis(l, 0)
				if l.To == n.ID {
					_, way = onAxis(l, mm(l.NodeLength))
					way = way.times(-1)
				}
				n.Headings = append(n.Headings, way.bearing())
			}
		}
		if s, ok := b.spots[n.ID]; ok {
			n.At = [2]float64{s.e, s.n}
		}
	}
	b.plan.Findings = findings
	b.plan.Totals.Legs, b.plan.Totals.Units, b.plan.Totals.Joints = len(b.plan.Legs), len(b.plan.Units), len(b.plan.Joints)
	return b.plan, b.job
}

func several(n int, l float64, more ...float64) []float64 {
	var out []float64
	for range n {
		out = append(out, l)
	}
	return append(out, more...)
}

func chained(l float64) *measure.Length { return pointer(measure.Length(length(l))) }

// smallRun is two straight legs with a bend of 45° to the right, one of 90° to the left into a curve, and a cast tee.
func smallRun() (planner.Plan, job.Job) {
	b := newBricklayer("Small run, built by hand")
	b.supply("standard", "Standard trough", stock{3000, 700, 640})
	b.supply("heavy", "Heavy trough", stock{3000, 760, 700})
	b.spots["S"] = spot{120, 80}
	end1, end2 := end{260, 0}, end{10, 0}
	w := b.leg("A", "S", "B1", "standard", 75, end1, mitre(45, false), several(7, 3000, 1253))
	w = b.leg("B", "B1", "B2", "standard", w+45, mitre(45, true), mitre(-90, false), []float64{1870, 3000, 3000, 3000, 3000, 3000, 2410})
	w = b.leg("C", "B2", "T1", "standard", w-90, mitre(-90, true), end{910, 0}, several(1, 1960, several(12, 3000, 2216)...), 9500, 60, 22)
	b.leg("D", "T1", "E1", "standard", w, end{910, 0}, end{90, 0}, several(5, 3000))
	b.leg("E", "T1", "E2", "standard", w+90, end{760, 0}, end2, several(3, 3000, 1540))
	b.node(planner.Node{ID: "S", Kind: "end", Legs: []string{"A"}, Made: "building", Note: "substation wall"})
	b.bend("B1", 45, 700, "A-008", "B-001", "A", "B")
	b.bend("B2", -90, 700, "B-007", "C-001", "B", "C")
	b.node(planner.Node{ID: "T1", Kind: "tee", Legs: []string{"C", "D", "E"}, Made: "casting", Fitting: "tee-500", Note: "branch square"})
	b.node(planner.Node{ID: "E1", Kind: "end", Legs: []string{"D"}, Made: "end plate"})
	b.node(planner.Node{ID: "E2", Kind: "end", Legs: []string{"E"}, Made: "temporary", Note: "goes on later"})
	b.smallThings()
	return b.finish(
		finding.Finding{ID: "supply.rating", Kind: finding.NotChecked, Text: notChecked + ": no rating of the standard trough on file", Ask: "the supplier"},
		finding.Finding{ID: "lift.one-pair", Kind: finding.NotChecked, Text: notChecked + ": one pair of inserts remains on this piece", Where: finding.Where{Leg: "B", Place: "B-001", Chainage: chained(6)}, Ask: "the supplier for a way to lift it"},
		finding.Finding{ID: "service.depth", Kind: finding.NotChecked, Text: notChecked + ": no depth of old drain on file. It counts as lying in the unit's envelope until somebody has measured it", Where: finding.Where{Leg: "C", Chainage: chained(15800)}, Ask: "the owner of the service; expose it by hand before any machine digs"},
		finding.Finding{ID: "zone.no-clearance", Kind: finding.Attention, Text: "the joint B-003/B-004 touches the edge of the zone of access road: no clearance", Where: finding.Where{Leg: "B", Place: "B-003", Chainage: chained(7900)}},
		finding.Finding{ID: "supply.gap", Kind: finding.Assumed, Text: "supply standard gives no gap between mitred faces; its nominal joint gap is used for it", Ask: "the supplier"},
	)
}

// smallThings are a crossing, services, entries and supports along the small run.
func (b *bricklayer) smallThings() {
	l := func(x float64) measure.Length { return measure.Length(length(x)) }
	for i := range b.plan.Units {
		u := &b.plan.Units[i]
		if u.Mark == "B-003" || u.Mark == "B-004" {
			u.Supply, u.Demands = "heavy", "crossing B-x1"
		}
		if u.Mark == "E-004" {
			u.Hold = true
		}
	}
	b.job.Route.Legs = []job.Leg{
		{ID: "A", From: "S", To: "B1", Entries: []job.ConduitEntry{
			{ID: "A-e1", At: l(4900), Side: "left", Diameter: l(110), Clear: l(200)},
			{ID: "A-e2", At: l(16400), Side: "right", Diameter: l(160), Clear: l(200)}}},
		{ID: "B", From: "B1", To: "B2", Crossings: []job.Crossing{{ID: "B-x1", Name: "access road", At: l(7890), Path: l(3600), Margin: l(300), Skew: 70 * measure.Degree, Supply: "heavy", Vehicle: "18 t (invented)"}}},
		{ID: "C", From: "B2", To: "T1", Services: []job.Service{{ID: "C-w1", Name: "old drain", At: l(15800), Width: l(300), Clear: l(400)}},
			Supports: []job.Support{{ID: "C-s1", At: l(20750), Every: l(1500), Width: l(60), Clear: l(150)}}},
		{ID: "D", From: "T1", To: "E1"}, {ID: "E", From: "T1", To: "E2"},
	}
	zone := func(leg string, from, to float64, kind, id, why string) {
		b.plan.Zones = append(b.plan.Zones, planner.Zone{Leg: leg, From: length(from), To: length(to), Kind: kind, ID: id, Why: why})
	}
	zone("A", 4385, 4895, "entry", "A-e1", "conduit A-e1 on the left")
	zone("A", 15860, 16420, "entry", "A-e2", "conduit A-e2 on the right")
	zone("B", 6400, 7300, "crossing", "B-x1", "access road, strip 1")
	zone("B", 8400, 9300, "crossing", "B-x1", "access road, strip 2")
	zone("C", 15250, 16350, "service", "C-w1", "old drain with its clearance")
	for i := range 6 {
		x := 20750 + 1500*float64(i)
		zone("C", x-180, x+180, "support", "C-s1", fmt.Sprintf("support C-s1, number %d", i+1))
	}
}

// yardRun is in feet and inches with US words: a cast bend, a mitred one and no coordinate system.
func yardRun() (planner.Plan, job.Job) {
	const in = 25.4
	b := newBricklayer("Yard trench, built by hand")
	b.gap, b.bay = 3.0/8*in, 24*in
	b.job.System, b.job.Words = job.Imperial, job.US
	b.job.Coordinates.Unit = job.CoordFeet
	b.plan.Job.System, b.plan.Job.Words, b.plan.Job.Grid = "imperial", "us", notChecked+": no coordinate system on file. Ask: the surveyor"
	b.plan.Job.Origin = [2]float64{1524, 914.4}
	b.supply("yard", "Yard trench", stock{96 * in, 30 * in, 26 * in})
	b.job.Supplies[0].Bearing = job.BearingMake{On: job.Known("bed")}
	b.spots["N1"] = spot{}
	w := b.leg("A", "N1", "B1", "yard", 90, end{3.375 * in, 0}, mitre(-30, false), several(9, 96*in, 61.25*in))
	w = b.leg("B", "B1", "B2", "yard", w-30, mitre(-30, true), end{30.375 * in, 0}, []float64{70 * in, 96 * in, 96 * in, 96 * in, 41.5 * in})
	b.leg("C", "B2", "N2", "yard", w+90, end{30.375 * in, 0}, end{0, 0}, several(6, 96*in))
	b.node(planner.Node{ID: "N1", Kind: "end", Legs: []string{"A"}, Made: "end plate"})
	b.bend("B1", -30, 30*in, "A-010", "B-001", "A", "B")
	b.node(planner.Node{ID: "B2", Kind: "bend", Legs: []string{"B", "C"}, Made: "casting", Fitting: "bend-90", Deflection: 90})
	b.node(planner.Node{ID: "N2", Kind: "end", Legs: []string{"C"}, Made: "existing", Note: "trench of the first phase"})
	b.job.Route.Legs = []job.Leg{{ID: "A", Entries: []job.ConduitEntry{{ID: "A-e1", At: measure.Length(length(162 * in)), Side: "floor", Diameter: measure.Length(length(4 * in))}}}}
	return b.finish(finding.Finding{ID: "supply.rating", Kind: finding.NotChecked, Text: notChecked + ": no rating of the yard trench on file", Ask: "the supplier"})
}

// longRun is some 400 m in ten legs with bends of many angles, so that a strip breaks and a plan needs windows.
func longRun() (planner.Plan, job.Job) {
	b := newBricklayer("Long run, built by hand")
	b.supply("standard", "Standard trough", stock{3000, 700, 640})
	turns := []float64{12.5, -73, 45, 4, -8.25, 63, -90, 22.5, 101}
	w, before := 85.0, end{260, 0}
	b.spots["N0"] = spot{0, 0}
	b.node(planner.Node{ID: "N0", Kind: "end", Legs: []string{"A"}, Made: "building"})
	for i := range 10 {
		name := string(rune('A' + i))
		after, next := end{90, 0}, end{}
		if i < len(turns) {
			after, next = mitre(turns[i], false), mitre(turns[i], true)
		}
		lengths := several(7+(i*5)%13, 3000, 1150+137*float64(i))
		w = b.leg(name, fmt.Sprintf("N%d", i), fmt.Sprintf("N%d", i+1), "standard", w, before, after, lengths)
		if i < len(turns) {
			w += turns[i]
			b.bend(fmt.Sprintf("N%d", i+1), turns[i], 700, fmt.Sprintf("%s-%03d", name, len(lengths)), fmt.Sprintf("%c-001", 'B'+i), name, string(rune('B'+i)))
		}
		before = next
	}
	b.node(planner.Node{ID: "N10", Kind: "end", Legs: []string{"J"}, Made: "end plate"})
	return b.finish()
}
