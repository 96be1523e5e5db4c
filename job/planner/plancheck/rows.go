package plancheck

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

func (c *checker) checkLegs() {
	for i := range c.plan.Legs {
		l := &c.plan.Legs[i]
		for _, end := range []string{l.From, l.To} {
			if c.nodes[end] == nil {
				c.say("leg %s: its node %s is not in the plan", l.Name, end)
			}
		}
		c.checkNodeLength(l)
		switch l.Verdict {
		case "found":
			c.checkRow(l)
			if !slices.ContainsFunc(c.plan.Proof.Legs, func(p legProof) bool { return p.Leg == l.Name && p.Verified }) {
				c.say("leg %s is found, and no verified proof stands behind it", l.Name)
			}
		case "impossible", "undecided":
			if l.Why == "" {
				c.say("leg %s is %s and does not say why", l.Name, l.Verdict)
			}
			if len(c.row[l.Name]) > 0 {
				c.say("leg %s is %s and has units", l.Name, l.Verdict)
			}
			if !c.anyFinding(func(f finding) bool { return f.Where.Leg == l.Name && f.Kind != "note" }) {
				c.say("leg %s is %s and no finding says so", l.Name, l.Verdict)
			}
		default:
			c.say("leg %s has the verdict %q", l.Name, l.Verdict)
		}
	}
	for name := range c.row {
		if c.legs[name] == nil {
			c.say("%s lies on leg %s, which is not in the plan", c.row[name][0].Mark, name)
		}
	}
}

// checkNodeLength: the two set-backs and the clear length are the way from node to node, along the grades.
func (c *checker) checkNodeLength(l *leg) {
	sum := l.StartSetback + l.ClearLength + l.EndSetback
	want := nm(math.Round(c.axes[l.Name].slope.along(float64(l.NodeLength))))
	if (sum - want).abs() > c.rounding(l) {
		c.say("leg %s: set-backs %v and %v and clear length %v make %v, from node to node it is %v",
			l.Name, l.StartSetback, l.EndSetback, l.ClearLength, sum, want)
	}
	if len(l.Axis) == 0 {
		c.say("leg %s has no axis", l.Name)
		return
	}
	ground := 0.0
	for i, p := range l.Axis {
		if i > 0 && (p.From != l.Axis[i-1].To || at(p.Start).minus(at(l.Axis[i-1].End)).length() > 1e-6) {
			c.say("leg %s: part %d of its axis does not begin where part %d ends", l.Name, i+1, i)
		}
		long := at(p.End).minus(at(p.Start)).length()
		if r := math.Abs(p.Radius); r > 0 {
			long = 2 * r * math.Asin(math.Min(1, long/(2*r)))
		}
		ground += long / c.scale()
	}
	if math.Abs(ground-l.NodeLength.metres()) > 2e-6 {
		c.say("leg %s: its axis is %.6f m on the ground, node_length_mm is %v", l.Name, ground, l.NodeLength)
	}
}

// checkRow: the units of one leg lie one behind the other from 0 to the clear length, with their gaps between them.
func (c *checker) checkRow(l *leg) {
	row, joints := c.row[l.Name], c.joints[l.Name]
	if len(row) == 0 {
		c.say("leg %s is found and has no units", l.Name)
		return
	}
	if row[0].Start != 0 {
		c.say("%s: the first unit of leg %s starts at %v, not at 0", row[0].Mark, l.Name, row[0].Start)
	}
	if len(joints) != len(row)-1 {
		c.say("leg %s has %d units and %d joints", l.Name, len(row), len(joints))
		return
	}
	for i, u := range row[:len(row)-1] {
		next, j := row[i+1], joints[i]
		if j.At != next.Start {
			c.say("%s: the joint is at %v, %s starts at %v", u.Mark, j.At, next.Mark, next.Start)
		}
		if j.Name != u.Mark+"/"+next.Mark {
			c.say("the joint between %s and %s is called %s", u.Mark, next.Mark, j.Name)
		}
		if u.EndAngle != 0 || next.StartAngle != 0 {
			c.say("%s: its faces stand at %v° and %v°; inside a leg they are square", j.Name, u.EndAngle, next.StartAngle)
		}
		c.checkReach(l, u, j.At-j.Gap)
	}
	c.checkReach(l, row[len(row)-1], l.ClearLength)
	c.checkMarks(l, row)
}

// checkReach: a unit reaches from its start to where the joint behind it begins; on a curve it is a chord from one to the
// other.
func (c *checker) checkReach(l *leg, u *unit, end nm) {
	a := c.axes[l.Name]
	p, _ := a.place(u.Start)
	q, _ := a.place(end)
	long, allowed := end-u.Start, nm(0)
	if a.curved() {
		long = nm(math.Round(q.minus(p).length() / a.scale((u.Start+end)/2) * 1e9))
		allowed = slack + nm(a.bent(u.Start, end))
	}
	if (long - u.Length).abs() > allowed {
		c.say("%s: from %v to %v it has to be %v long, its length is %v", u.Mark, u.Start, end, long, u.Length)
	}
	if off := at(u.Axis[1]).minus(q).length(); off > 2e-6+allowed.metres() {
		c.say("%s: it ends %.6f m from where %v lies on the leg", u.Mark, off, end)
	}
}

var placeName = regexp.MustCompile(`^([A-Za-z0-9_.-]+)-(\d{3,})([A-Z]*)$`)

// checkMarks: places are, … in laying order.
func (c *checker) checkMarks(l *leg, row []*unit) {
	back := l.LaidFrom == l.To && l.From != l.To
	if l.LaidFrom != l.From && l.LaidFrom != l.To {
		c.say("leg %s is laid from %s, which is not one of its ends", l.Name, l.LaidFrom)
	}
	for i, u := range row {
		number := i + 1
		if back {
			number = len(row) - i
		}
		m := placeName.FindStringSubmatch(u.Mark)
		if m == nil || m[1] != l.Name {
			c.say("%s is no name of a place on leg %s", u.Mark, l.Name)
			continue
		}
		if n, _ := strconv.Atoi(m[2]); m[3] == "" && n != number {
			c.say("%s is the place number %d of leg %s", u.Mark, number, l.Name)
		}
	}
}

func (c *checker) checkUnits() {
	for i := range c.plan.Units {
		u := &c.plan.Units[i]
		s := c.supplies[u.Supply]
		switch {
		case s == nil:
			c.say("%s: its supply %s is not in the plan", u.Mark, u.Supply)
			continue
		case u.Length <= 0:
			c.say("%s has the length %v", u.Mark, u.Length)
		case !u.Cut && (u.Length != u.Stock || u.StartAngle != 0 || u.EndAngle != 0):
			c.say("%s is not cut, but its length is %v of %v with ends at %v° and %v°", u.Mark, u.Length, u.Stock, u.StartAngle, u.EndAngle)
		case !u.Cut && !isOneOf(u.Stock, s.Lengths):
			c.say("%s: no unit of %v is made by supply %s", u.Mark, u.Stock, u.Supply)
		case u.Cut && u.Piece == nil:
			c.say("%s is cut and nothing says how", u.Mark)
		}
		if u.Cut {
			c.checkCutUnit(u, s)
		}
		c.checkLie(u)
	}
}

// checkCutUnit: a cut unit's sides follow from its axis and its faces x = a + tan·y; none is too short or too long.
func (c *checker) checkCutUnit(u *unit, s *supplyHead) {
	t1, t2 := tangent(u.StartAngle), tangent(u.EndAngle)
	if s.OuterWidth == nil {
		if t1 != 0 || t2 != 0 {
			c.say("%s is mitred and the outer width of its supply is unknown", u.Mark)
		}
		return
	}
	w := float64(*s.OuterWidth)
	left, right := sides(u.Length, w, t1, t2)
	// What the piece takes of its stock: from its first corner to its last.
	reach := float64(u.Length) + w/2*(math.Abs(t1)+math.Abs(t2))
	if reach > float64(u.Stock)+slack {
		c.say("%s: cut from %v, but it reaches over %v", u.Mark, u.Stock, nm(reach))
	}
	if m := c.makes[u.Supply]; m != nil && m.Saw.Shortest.Known {
		if least := nm(m.Saw.Shortest.Value); min(left, right) < least-slack {
			c.say("%s: its short side is %v, the shortest cut unit of %s is %v", u.Mark, min(left, right), u.Supply, least)
		}
	}
	p := u.Piece
	if p == nil {
		return
	}
	if (p.LeftSide-left).abs() > slack || (p.RightSide-right).abs() > slack {
		c.say("%s: left and right side are %v and %v, its faces make %v and %v", u.Mark, p.LeftSide, p.RightSide, left, right)
	}
	a := math.Hypot(float64(u.Length)-w/2*(t1+t2), w) // left start corner (y = +w/2) to right end corner (y = -w/2)
	b := math.Hypot(float64(u.Length)+w/2*(t1+t2), w)
	if math.Abs(float64(p.DiagonalA)-a) > slack || math.Abs(float64(p.DiagonalB)-b) > slack {
		c.say("%s: its diagonals are %v and %v, its corners make %v and %v", u.Mark, p.DiagonalA, p.DiagonalB, nm(a), nm(b))
	}
}

// sides are the two long sides of a piece of width w whose faces are x = t1·y and x = length + t2·y, y to the left.
func sides(length nm, w, t1, t2 float64) (left, right nm) {
	d := nm(math.Round(w / 2 * (t2 - t1)))
	return length + d, length - d
}

// checkLie: where a unit lies in plan follows from its leg's axis.
func (c *checker) checkLie(u *unit) {
	l := c.legs[u.Leg]
	if l == nil {
		return
	}
	if (u.Chainage - c.axes[u.Leg].chainage(u.Start)).abs() > 1+c.rounding(l) {
		c.say("%s: chainage %v, but it starts at %v and the leg is set back by %v", u.Mark, u.Chainage, u.Start, l.StartSetback)
	}
	a := c.axes[u.Leg]
	p, q := at(u.Axis[0]), at(u.Axis[1])
	if want, _ := a.place(u.Start); want.minus(p).length() > 2e-6 {
		c.say("%s: it starts %.6f m from where %v lies on the leg", u.Mark, want.minus(p).length(), u.Start)
	}
	if long := q.minus(p).length() / a.scale(u.Start+u.Length/2); math.Abs(long-u.Length.metres()) > 2e-6 {
		c.say("%s: its axis is %.6f m long in plan, its length is %v", u.Mark, long, u.Length)
	}
	if off := turn(u.Bearing, q.minus(p).bearing()); math.Abs(off) > 1e-4 {
		c.say("%s: bearing %.6f°, its axis lies at %.6f°", u.Mark, u.Bearing, q.minus(p).bearing())
	}
}

func (c *checker) checkJoints() {
	for i := range c.plan.Joints {
		j := &c.plan.Joints[i]
		if c.legs[j.Leg] == nil || c.legs[j.Leg].Verdict != "found" {
			c.say("joint %s lies on leg %s, which is not laid out", j.Name, j.Leg)
		}
		if j.Gap < j.GapMin || j.Gap > j.GapMax {
			c.say("%s: gap %v, allowed %v to %v", j.Name, j.Gap, j.GapMin, j.GapMax)
		}
	}
}

// checkZones: a joint fills [at - gap, at] and may touch an open zone, not enter it; where cut pieces are forbidden, none lies.
func (c *checker) checkZones() {
	for _, z := range c.plan.Zones {
		if c.legs[z.Leg] == nil {
			c.say("zone %s lies on leg %s, which is not in the plan", z.ID, z.Leg)
		}
		if z.To < z.From || strings.TrimSpace(z.Why) == "" {
			c.say("zone %s on leg %s runs from %v to %v for the reason %q", z.ID, z.Leg, z.From, z.To, z.Why)
		}
		for _, j := range c.joints[z.Leg] {
			if !z.NoCut && j.At > z.From && j.At-j.Gap < z.To {
				c.say("%s: joint from %v to %v in the zone from %v to %v (%s)", j.Name, j.At-j.Gap, j.At, z.From, z.To, z.Why)
			}
		}
		for _, u := range c.row[z.Leg] {
			if z.NoCut && u.Start+u.Length > z.From && u.Start < z.To {
				c.checkWhole(u, z)
			}
		}
	}
}

func (c *checker) checkWhole(u *unit, z zone) {
	if u.Cut {
		c.say("%s: a cut unit where no cut piece may lie (%s)", u.Mark, z.Why)
	}
	for _, lid := range c.lids[u.Mark] {
		if lid.Cut && u.Start+lid.Start+lid.Length > z.From && u.Start+lid.Start < z.To {
			c.say("%s: a cut cover where no cut piece may lie (%s)", lid.Mark, z.Why)
		}
	}
}

func isOneOf(n nm, list []nm) bool {
	for _, v := range list {
		if v == n {
			return true
		}
	}
	return false
}
