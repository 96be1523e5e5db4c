package plancheck

import (
	"math"
	"slices"
	"strconv"
)

// checkTotals: what is counted is what stands in the lists.
func (c *checker) checkTotals() {
	t := c.plan.Totals
	var clear nm
	cuts, cutCovers, hold := 0, 0, 0
	perLeg := map[string]*[3]int{}
	for i := range c.plan.Legs {
		clear += c.plan.Legs[i].ClearLength
		perLeg[c.plan.Legs[i].Name] = &[3]int{}
	}
	for i := range c.plan.Units {
		u := &c.plan.Units[i]
		n := perLeg[u.Leg]
		if n == nil {
			continue
		}
		n[0]++
		if u.Cut {
			cuts++
			n[1]++
		}
		if u.Cut && u.Hold {
			hold++
		}
		for _, lid := range c.lids[u.Mark] {
			if lid.Cut {
				cutCovers++
				n[2]++
			}
		}
	}
	c.same("legs", t.Legs, len(c.plan.Legs))
	c.same("units", t.Units, len(c.plan.Units))
	c.same("plain units", t.Plain, len(c.plan.Units)-cuts)
	c.same("cut units", t.Cuts, cuts)
	c.same("covers", t.Covers, len(c.plan.Covers))
	c.same("cut covers", t.CutCovers, cutCovers)
	c.same("joints", t.Joints, len(c.plan.Joints))
	if t.ClearLength != clear {
		c.say("totals say %v of clear length, the legs make %v", t.ClearLength, clear)
	}
	for i := range c.plan.Legs {
		l := &c.plan.Legs[i]
		if n := perLeg[l.Name]; l.Count.Units != n[0] || l.Count.Cuts != n[1] || l.Count.CutCovers != n[2] {
			c.say("leg %s counts %d units, %d cuts and %d cut covers; the lists hold %d, %d and %d", l.Name,
				l.Count.Units, l.Count.Cuts, l.Count.CutCovers, n[0], n[1], n[2])
		}
	}
	c.checkBought(len(c.plan.Units)-cuts, len(c.plan.Covers)-cutCovers, hold)
}

func (c *checker) same(what string, said, counted int) {
	if said != counted {
		c.say("totals say %d %s, the lists hold %d", said, what, counted)
	}
}

// checkBought: bought are the plain ones and the stock units that are cut.
func (c *checker) checkBought(plain, plainCovers, hold int) {
	units, covers := plain, plainCovers
	inPatterns := map[string]bool{}
	for _, cut := range c.plan.Cutting {
		if cut.Of == "units" {
			units += cut.Bought
		} else {
			covers += cut.Bought
		}
		for _, p := range cut.Patterns {
			for _, q := range p.Pieces {
				inPatterns[q.Mark] = true
			}
		}
	}
	// A closer on hold that is in no pattern is ordered as a whole unit.
	for i := range c.plan.Units {
		if u := &c.plan.Units[i]; u.Cut && u.Hold && !inPatterns[u.Mark] {
			units++
		}
	}
	c.checkUnitLines(units)
	inYard := c.unitsInYard()
	if t := c.plan.Totals; t.Bought > units || t.Bought < units-inYard {
		c.say("totals say %d units bought; %d are laid whole or cut up, and %d lie in the yard", t.Bought, units, inYard)
	}
	if t := c.plan.Totals; t.CoversBuy != covers {
		c.say("totals say %d covers bought; %d are laid whole or cut up", t.CoversBuy, covers)
	}
}

// checkUnitLines: the bill needs every unit that is laid whole, cut up or kept for a closer, no more and no fewer.
func (c *checker) checkUnitLines(units int) {
	need := 0
	for _, b := range c.plan.Bill {
		if b.Kind == "unit" {
			n, _ := strconv.Atoi(b.Need)
			need += n
		}
	}
	if need != units {
		c.say("the bill needs %d units, %d are laid whole or cut up", need, units)
	}
}

// unitsInYard counts whole units that need not be bought.
func (c *checker) unitsInYard() int {
	n := 0
	if c.job == nil {
		return n
	}
	for _, y := range c.job.Yard {
		s := c.supplies[y.Supply]
		if s != nil && isOneOf(nm(y.Length), s.Lengths) {
			n += max(1, y.Count)
		}
	}
	return n
}

// checkMasses: what a unit or cover weighs is its supply's mass per length over its axis, and masses add up.
func (c *checker) checkMasses() {
	sum, known := 0.0, true
	for i := range c.plan.Units {
		u := &c.plan.Units[i]
		if u.Mass == nil {
			known = false
		} else {
			sum += *u.Mass
		}
		if m := c.makes[u.Supply]; m != nil {
			c.checkMass(u.Mark, u.Mass, m.Unit.Mass.Known, float64(m.Unit.Mass.Value), u.Length)
		}
	}
	for i := range c.plan.Covers {
		lid := &c.plan.Covers[i]
		if lid.Mass == nil {
			known = false
		} else {
			sum += *lid.Mass
		}
		if u := c.units[lid.Unit]; u != nil && c.makes[u.Supply] != nil && c.makes[u.Supply].Cover != nil {
			m := c.makes[u.Supply].Cover
			c.checkMass(lid.Mark, lid.Mass, m.Mass.Known, float64(m.Mass.Value), lid.Length)
		}
	}
	total := c.plan.Totals.MassKG
	switch {
	case total != nil && !known:
		c.say("totals say %.3f kg, though a mass is missing", *total)
	case total != nil && *total < sum-0.5e-3*float64(len(c.plan.Units)+len(c.plan.Covers)+1):
		c.say("totals say %.3f kg, units and covers make %.3f", *total, sum)
	case total != nil && !c.anyCasting() && math.Abs(*total-sum) > 0.5e-3*float64(len(c.plan.Units)+len(c.plan.Covers)+1):
		c.say("totals say %.3f kg, units and covers make %.3f", *total, sum)
	case total == nil && known && len(c.plan.Units) > 0 && !c.anyCasting() && !c.refused():
		c.say("totals give no mass, though every unit and cover has one")
	}
}

func (c *checker) anyCasting() bool {
	return slices.ContainsFunc(c.plan.Nodes, func(n node) bool { return n.Made == "casting" })
}

// checkMass compares a mass with grams per metre over its length; a gram either way is rounding.
func (c *checker) checkMass(mark string, stated *float64, known bool, gramsPerMetre float64, length nm) {
	switch {
	case stated == nil && known:
		c.say("%s has no mass, its supply states one", mark)
	case stated != nil && !known:
		c.say("%s weighs %.3f kg, and its supply states no mass", mark, *stated)
	case stated != nil && math.Abs(*stated-gramsPerMetre/1000*length.metres()) > 1e-3:
		c.say("%s weighs %.3f kg, its length makes %.3f", mark, *stated, gramsPerMetre/1000*length.metres())
	}
}

// checkSetOut: one row for each joint and each end of a leg, where the leg's axis has it.
func (c *checker) checkSetOut() {
	rows := map[string][]setOut{}
	for _, s := range c.plan.SetOut {
		rows[s.Leg] = append(rows[s.Leg], s)
	}
	for i := range c.plan.Legs {
		l := &c.plan.Legs[i]
		if l.Verdict != "found" {
			continue
		}
		type mark struct {
			place string
			at    nm
		}
		row := c.row[l.Name]
		if len(row) == 0 {
			continue
		}
		want := []mark{{"start of " + row[0].Mark, 0}}
		for _, j := range c.joints[l.Name] {
			want = append(want, mark{j.Name, j.At - j.Gap/2})
		}
		want = append(want, mark{"end of " + row[len(row)-1].Mark, l.ClearLength})
		if len(rows[l.Name]) != len(want) {
			c.say("leg %s has %d rows of set-out for %d joints and two ends", l.Name, len(rows[l.Name]), len(want)-2)
			continue
		}
		for k, s := range rows[l.Name] {
			if s.Place != want[k].place || (s.At-want[k].at).abs() > 1 {
				c.say("set-out %s at %v: it is %s at %v", s.Place, s.At, want[k].place, want[k].at)
			}
			c.checkPeg(l, s)
		}
	}
}

func (c *checker) checkPeg(l *leg, s setOut) {
	if (s.Chainage - c.axes[l.Name].chainage(s.At)).abs() > 1+c.rounding(l) {
		c.say("set-out %s: chainage %v, but it lies at %v and the leg is set back by %v", s.Place, s.Chainage, s.At, l.StartSetback)
	}
	a := c.axes[l.Name]
	origin := at(c.plan.Job.Origin)
	want, along := a.place(s.At)
	// On a curve the joint stands between two chords, a little inside the arc.
	allowed := 2e-6
	if a.curved() {
		allowed = 5e-3
	}
	if off := at([2]float64{s.E, s.N}).minus(origin).minus(want).length(); off > allowed {
		c.say("set-out %s: it lies %.6f m from where %v is on the leg", s.Place, off, s.At)
	}
	if math.Abs(turn(s.Bearing, along.bearing())) > 0.5 || (!a.curved() && math.Abs(turn(s.Bearing, along.bearing())) > 1e-4) {
		c.say("set-out %s: bearing %.6f°, the leg lies at %.6f°", s.Place, s.Bearing, along.bearing())
	}
	if len(c.runs[l.Name]) == 0 {
		c.checkLevel(l, s, a)
	}
}

// checkBill: what is ordered is at least what is needed, in whole packs, and units have a length that is made.
func (c *checker) checkBill() {
	for _, b := range c.plan.Bill {
		if s := c.supplies[b.Supply]; b.Kind == "unit" && (s == nil || b.Length == nil || !isOneOf(*b.Length, s.Lengths)) {
			c.say("bill: %s has no length that supply %q makes", b.Item, b.Supply)
		}
		need, err1 := strconv.ParseFloat(b.Need, 64)
		order, err2 := strconv.ParseFloat(b.Order, 64)
		if err1 != nil || err2 != nil {
			if b.Kind != "spare" || err2 != nil {
				c.say("bill: %s needs %q and orders %q", b.Item, b.Need, b.Order)
			}
			continue
		}
		spare, _ := strconv.ParseFloat(b.Spare, 64)
		there := 0.0
		if b.Kind == "unit" {
			there = float64(c.unitsInYard())
		}
		if order+there+1e-9 < need+spare {
			c.say("bill: %s: %s are ordered and %g lie in the yard, %s and %s spare are needed", b.Item, b.Order, there, b.Need, b.Spare)
		}
		if whole := float64(b.Pack * b.Packs); b.Pack > 0 && (whole < order-1e-9 || whole-float64(b.Pack) >= order) {
			c.say("bill: %s: %s are ordered in %d packs of %d", b.Item, b.Order, b.Packs, b.Pack)
		}
	}
}
