package plancheck

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// checkDeclared holds the plan against the job: what was asked for along each leg is there.
func (c *checker) checkDeclared() {
	if c.job == nil || c.refused() {
		return
	}
	c.checkYard()
	c.checkNodesDeclared()
	for i := range c.job.Route.Legs {
		d := &c.job.Route.Legs[i]
		l := c.legs[d.ID]
		if l == nil {
			c.say("leg %s of the job is not in the plan", d.ID)
			continue
		}
		if l.From != d.From || l.To != d.To {
			c.say("leg %s runs from %s to %s, the job says %s to %s", d.ID, l.From, l.To, d.From, d.To)
		}
		if l.Verdict != "found" {
			continue
		}
		c.checkSetbacks(l)
		for _, k := range c.keptFree(d, l) {
			c.checkKept(l, k)
		}
		c.checkForced(d, l)
	}
	for i := range c.plan.Joints {
		c.checkWindow(&c.plan.Joints[i])
	}
}

// refused tells whether the job could not be laid out at all, and the plan says why.
func (c *checker) refused() bool {
	return len(c.plan.Legs) == 0 && c.anyFinding(func(f finding) bool { return f.Kind == "fault" })
}

// kept is a stretch that the job keeps free of joints, of cut pieces, or both.
type kept struct {
	from, to       nm
	why            string
	joints, pieces bool
}

// keptFree recomputes what the job keeps free along a leg.
func (c *checker) keptFree(d *job.Leg, l *leg) []kept {
	var out []kept
	on := c.axes[l.Name].on
	around := func(at measure.Length, half float64, why string, pieces bool) {
		h := measure.Length(half) // what lies across the run is as wide in plan, not along the grade
		out = append(out, kept{on(at - h), on(at + h), why, true, pieces})
	}
	for _, e := range d.Entries {
		around(e.At, float64(e.Diameter)/2+float64(e.Clear), "conduit "+e.ID, false)
	}
	for _, s := range d.Services {
		around(s.At, c.swept(l, s.Width, s.Clear, s.Skew)/2, "service "+s.ID, false)
	}
	for _, s := range d.Supports {
		for at := s.At; on(at) < l.ClearLength; at += s.Every {
			around(at, float64(s.Width)/2+float64(s.Clear), fmt.Sprintf("support %s at %v", s.ID, at), false)
			if s.Every <= 0 {
				break
			}
		}
	}
	for _, z := range d.Zones {
		out = append(out, kept{on(z.From), on(z.To), "zone " + z.ID, true, false})
	}
	for _, x := range d.Crossings {
		half := measure.Length(c.swept(l, x.Path, x.Margin, x.Skew) / 2)
		out = append(out, kept{on(x.At - half), on(x.At + half), "crossing " + x.ID, len(x.Strips) == 0, !x.MayCut})
		for _, s := range x.Strips {
			if s.Detail == "" {
				out = append(out, kept{on(x.At + s.From), on(x.At + s.To), "a strip of crossing " + x.ID, true, false})
			}
		}
	}
	return out
}

// swept is the length of run that a skewed path with its margins takes, for the outer width of the leg's supply.
func (c *checker) swept(l *leg, path, margin measure.Length, skew measure.Angle) float64 {
	φ := skew.Radians()
	if skew == 0 {
		φ = math.Pi / 2
	}
	width := 0.0
	if s := c.supplies[l.Supply]; s != nil && s.OuterWidth != nil {
		width = float64(*s.OuterWidth)
	}
	return (float64(path)+2*float64(margin))/math.Sin(φ) + width*math.Abs(math.Cos(φ))/math.Sin(φ)
}

func (c *checker) checkKept(l *leg, k kept) {
	for _, j := range c.joints[l.Name] {
		if k.joints && j.At > k.from+slack && j.At-j.Gap < k.to-slack {
			c.say("%s: joint from %v to %v, and %s keeps %v to %v free", j.Name, j.At-j.Gap, j.At, k.why, k.from, k.to)
		}
	}
	if !k.pieces {
		return
	}
	for _, u := range c.row[l.Name] {
		if u.Start+u.Length > k.from+slack && u.Start < k.to-slack {
			c.checkWhole(u, zone{From: k.from + slack, To: k.to - slack, Why: k.why})
		}
	}
}

// checkForced: supplies, joints and first lengths that the job asks for.
func (c *checker) checkForced(d *job.Leg, l *leg) {
	usual := d.Supply
	if usual == "" && len(c.job.Supplies) > 0 {
		usual = c.job.Supplies[0].ID
	}
	asked, on := map[*unit]string{}, c.axes[l.Name].on
	for _, x := range d.Crossings {
		if x.Supply == "" {
			continue
		}
		half := measure.Length(c.swept(l, x.Path, x.Reach, x.Skew) / 2)
		from, to := on(x.At-half), on(x.At+half)
		for _, u := range c.row[l.Name] {
			if u.Start+u.Length > from+slack && u.Start < to-slack {
				asked[u] = x.Supply
			}
		}
	}
	for _, u := range c.row[l.Name] {
		want, ok := asked[u]
		if !ok {
			want = usual
		}
		if u.Supply != want {
			c.say("%s is of supply %s, the job asks for %s there", u.Mark, u.Supply, want)
		}
	}
	for _, f := range d.Joints {
		m := on(f.At)
		if !slices.ContainsFunc(c.joints[l.Name], func(j *joint) bool { return (j.At - j.Gap/2 - m).abs() <= nm(f.Tol)+slack }) {
			c.say("leg %s: no joint within %v of %v, where %s asks for one", l.Name, nm(f.Tol), m, f.ID)
		}
	}
	row := slices.Clone(c.row[l.Name])
	if laidBack(d) {
		slices.Reverse(row)
	}
	for i, long := range d.First {
		if i >= len(row) || row[i].Length != nm(long) {
			c.say("leg %s: unit %d in laying order is not of %v, as the job asks", l.Name, i+1, nm(long))
		}
	}
	held := 0
	for _, u := range row {
		if u.Hold {
			held++
		}
	}
	if held > 1 || (held == 1 && !d.Hold) {
		c.say("leg %s has %d closers on hold", l.Name, held)
	}
}

func laidBack(d *job.Leg) bool { return d.LayFrom == d.To && d.LayFrom != "" && d.From != d.To }

// checkWindow: a joint's window is that of a supply beside it.
func (c *checker) checkWindow(j *joint) {
	for i, u := range c.row[j.Leg] {
		if u.Start != j.At || i == 0 {
			continue
		}
		for _, side := range []*unit{c.row[j.Leg][i-1], u} {
			if m := c.makes[side.Supply]; m == nil || (nm(m.Joint.Gap.Value.Min) == j.GapMin && nm(m.Joint.Gap.Value.Max) == j.GapMax) {
				return
			}
		}
		c.say("%s: a window from %v to %v is no supply's", j.Name, j.GapMin, j.GapMax)
	}
}

// checkSetbacks: what stands at each end of a leg takes its length off it.
func (c *checker) checkSetbacks(l *leg) {
	m := c.makes[l.Supply]
	if m == nil {
		return
	}
	gap := m.Joint.Gap.Value.Nominal
	if m.Joint.EndGap.Known {
		gap = m.Joint.EndGap.Value
	}
	for _, end := range []struct {
		id     string
		stated nm
	}{{l.From, l.StartSetback}, {l.To, l.EndSetback}} {
		d := c.declaredNode(end.id)
		if d == nil {
			continue
		}
		want := []nm{}
		switch {
		case d.Fitting != "":
			for _, arm := range c.arms(d.Fitting) {
				want = append(want, nm(arm+gap))
			}
		case d.End != nil:
			want = append(want, endSetback(d.End, gap))
		}
		if len(want) > 0 && !slices.ContainsFunc(want, func(w nm) bool { return (w - end.stated).abs() <= slack }) {
			c.say("leg %s is set back by %v at %s, what stands there makes %v", l.Name, end.stated, end.id, want)
		}
	}
}

// endSetback is what an end takes: a plate's thickness, a wall's where the node stands on its inner face, and the gap.
func endSetback(e *job.End, gap measure.Length) nm {
	if e.Gap != nil {
		gap = *e.Gap
	}
	switch e.Kind {
	case "open":
		return 0
	case "plate", "temporary":
		return nm(gap + e.Thickness)
	case "building":
		if e.Face == "inner" {
			return nm(gap + e.Thickness)
		}
	case "existing":
		return nm(math.Round(float64(gap) / math.Cos(e.Skew.Radians())))
	}
	return nm(gap)
}

func (c *checker) declaredNode(id string) *job.Node {
	for i := range c.job.Route.Nodes {
		if c.job.Route.Nodes[i].ID == id {
			return &c.job.Route.Nodes[i]
		}
	}
	return nil
}

func (c *checker) arms(fitting string) []measure.Length {
	var out []measure.Length
	for _, s := range c.job.Supplies {
		for _, f := range s.Fittings {
			if f.ID != fitting {
				continue
			}
			for _, a := range f.Arms {
				out = append(out, a.Length)
			}
		}
	}
	return out
}

// checkNodesDeclared: nodes lie where the job puts them, where the centreline was drawn.
func (c *checker) checkNodesDeclared() {
	metres := c.coordinateUnit()
	kind := c.job.Coordinates.Line.Kind
	for i := range c.job.Route.Nodes {
		d := &c.job.Route.Nodes[i]
		n := c.nodes[d.ID]
		if n == nil {
			c.say("node %s of the job is not in the plan", d.ID)
			continue
		}
		if d.At != nil && (kind == "" || kind == "centreline") {
			want := at(*d.At).times(metres)
			if off := at(n.At).plus(at(c.plan.Job.Origin)).minus(want).length(); off > 1e-6 {
				c.say("node %s lies %.6f m from where the job puts it", d.ID, off)
			}
		}
		if (d.Level == nil) != (n.Level == nil) || d.Level != nil && apart(*n.Level, metresUp(*d.Level*metres)) > 1 {
			c.say("node %s: its level is not the job's", d.ID)
		}
	}
}

// coordinateUnit is how many metres the job's coordinates and levels count by.
func (c *checker) coordinateUnit() float64 {
	return map[job.CoordUnit]float64{"": 1, job.CoordMetres: 1, job.CoordFeet: 0.3048, job.CoordUSSurvey: 1200.0 / 3937}[c.job.Coordinates.Unit]
}

// checkYard: no offcut is used more often than it is there.
func (c *checker) checkYard() {
	there, used := map[string]int{}, map[string]int{}
	for _, y := range c.job.Yard {
		there[y.Mark] += max(1, y.Count)
	}
	for _, cut := range c.plan.Cutting {
		for _, p := range cut.Patterns {
			if p.Offcut {
				used[p.Name]++
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(used)) {
		if used[name] > there[name] {
			c.say("the offcut %s is used %d times, the yard holds %d", name, used[name], there[name])
		}
	}
}
