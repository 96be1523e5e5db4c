package job

import (
	"fmt"

	"trenchwright/base/measure"
)

// ground checks what holds between surfaces, levels and the dig.
func (c *checker) ground() {
	j := c.job
	var root *place
	roles := map[SurfaceRole]string{}
	for i, s := range j.Ground.Surfaces {
		at := root.fields("ground", "surfaces").item(i, s.ID)
		if first, twice := roles[s.Role]; twice && s.Role != "" {
			c.say("surface-twice", at.field("role"), fmt.Sprintf("surfaces %s and %s are both %s.", first, s.ID, s.Role), "Keep one of the two, or put both into one file.")
		}
		roles[s.Role] = s.ID
	}
	c.levels(&j.Levels, root.field("levels"))
	c.dig(&j.Dig, root.field("dig"))
}

func (c *checker) levels(l *Levels, p *place) {
	c.between(l.Least, l.Most, p)
	if l.Drain != nil {
		c.drain(l.Drain, p.field("drain"))
	}
	for i, o := range l.Outlets {
		if o.Drain != nil && l.Drain == nil {
			c.say("no-drain", p.field("outlets").item(i, o.ID).field("drain"), fmt.Sprintf("outlet %s has a level of the drain, and the run has no drain.", o.ID), "Write levels.drain, or take the level away.")
		}
	}
	for i, s := range l.Stretches {
		at := p.field("stretches").item(i, "")
		if s.To != 0 {
			c.forward(s.From, s.To, at)
		}
		c.between(s.Least, s.Most, at)
		leg := c.legNamed(s.Leg)
		if leg != nil && s.Toward != "" && s.Toward != leg.From && s.Toward != leg.To && c.names["node"].has[s.Toward] {
			c.say("toward", at.field("toward"), fmt.Sprintf("the water is to run to node %s, which is no end of leg %s.", s.Toward, s.Leg), fmt.Sprintf("Write %s or %s.", leg.From, leg.To))
		}
		for k, other := range l.Stretches[:i] {
			if s.Leg == other.Leg && overlap(s, other) {
				c.say("stretches-overlap", at, fmt.Sprintf("on leg %s it overlaps stretch number %d.", s.Leg, k+1), "Let one end where the other starts.")
			}
		}
	}
	at := map[string]Pin{}
	for i, pin := range l.Pins {
		where := fmt.Sprint(pin.Leg, " ", pin.At)
		if other, twice := at[where]; twice {
			c.say("pins-meet", p.field("pins").item(i, pin.ID), fmt.Sprintf("pins %s and %s stand at the same place.", other.ID, pin.ID), "Keep the one that is right.")
		}
		at[where] = pin
	}
}

// drain checks what holds between the figures of the drain in the bed.
func (c *checker) drain(d *Drain, p *place) {
	c.between(d.Least, d.Most, p)
	if d.Deepest.Known && d.Deepest.Value < d.Below {
		one := c.say("drain-depth", p.field("deepest"), fmt.Sprintf("the drain may lie at most %s below the unit, and has to lie at least %s below it.", d.Deepest.Value, d.Below), "Look at the two figures.")
		one.Value, one.Limit = d.Deepest.Value.String(), d.Below.String()
	}
	if d.Wall.Known && 2*d.Wall.Value >= d.Diameter {
		c.say("drain-wall", p.field("wall"), fmt.Sprintf("a pipe of %s with a wall of %s has no bore.", d.Diameter, d.Wall.Value), "Look at the two figures.")
	}
	if wide := d.Diameter + 2*d.Surround.Value; d.Trench.Known && d.Trench.Value < wide {
		one := c.say("drain-trench", p.field("trench"), fmt.Sprintf("its trench is %s wide, pipe and surround take %s.", d.Trench.Value, wide), "A wider trench.")
		one.Value, one.Limit = d.Trench.Value.String(), wide.String()
	}
	for i, w := range d.Ways {
		at := p.field("ways").item(i, "")
		if w.To != 0 {
			c.forward(w.From, w.To, at)
		}
		leg := c.legNamed(w.Leg)
		if leg != nil && w.Toward != leg.From && w.Toward != leg.To && c.names["node"].has[w.Toward] {
			c.say("toward", at.field("toward"), fmt.Sprintf("the drain is to run to node %s, which is no end of leg %s.", w.Toward, w.Leg), fmt.Sprintf("Write %s or %s.", leg.From, leg.To))
		}
		for _, other := range d.Ways[:i] {
			if other.Leg == w.Leg && overlap(LevelStretch{From: w.From, To: w.To}, LevelStretch{From: other.From, To: other.To}) {
				c.say("twice", at, fmt.Sprintf("the way of the drain on leg %s is written twice.", w.Leg), "Keep one of the two, or let one end where the other starts.")
			}
		}
	}
}

// overlap tells whether two stretches of one leg have more than a point in common. A stretch without an end runs to the end.
func overlap(a, b LevelStretch) bool {
	return (a.To == 0 || b.From < a.To) && (b.To == 0 || a.From < b.To)
}

// between checks that a least grade is no steeper than the steepest.
func (c *checker) between(least, most Entry[measure.Grade], p *place) {
	if least.Known && most.Known && least.Value.Cmp(most.Value) > 0 {
		one := c.say("grades", p.field("least"), fmt.Sprintf("the least fall of %s is steeper than the steepest grade of %s.", least.Value, most.Value), "Look at the two figures.")
		one.Value, one.Limit = least.Value.String(), most.Value.String()
	}
}

// legNamed is the leg of that id; nil where there is none.
func (c *checker) legNamed(id string) *Leg {
	for i := range c.job.Route.Legs {
		if c.job.Route.Legs[i].ID == id {
			return &c.job.Route.Legs[i]
		}
	}
	return nil
}

func (c *checker) dig(d *Dig, p *place) {
	if d.Sides == "benched" && d.Bench == nil && c.sound(p, "bench") {
		c.say("missing-field", p.field("bench"), `"bench" is missing: how high and wide is a step?`, "Write bench: {height: 1200 mm, width: 1200 mm}.")
	}
	for i, s := range d.Stretches {
		at := p.field("stretches").item(i, "")
		if s.To != 0 {
			c.forward(s.From, s.To, at)
		}
		if here := d.as(&s); here.Sides == "benched" && here.Bench == nil && c.sound(at, "bench") && d.Sides != "benched" {
			c.say("missing-field", at.field("bench"), `"bench" is missing: how high and wide is a step?`, "Write bench: {height: 1200 mm, width: 1200 mm}.")
		}
		for k, other := range d.Stretches[:i] {
			if s.Leg == other.Leg && overlap(LevelStretch{From: s.From, To: s.To}, LevelStretch{From: other.From, To: other.To}) {
				c.say("stretches-overlap", at, fmt.Sprintf("on leg %s it overlaps stretch number %d.", s.Leg, k+1), "Let one end where the other starts.")
			}
		}
	}
	for i, b := range d.Bulking {
		for _, other := range d.Bulking[:i] {
			if b.Of == other.Of {
				c.say("twice", p.field("bulking").item(i, ""), fmt.Sprintf("the bulking of %s is written twice.", b.Of), "Keep the one that has a document.")
			}
		}
	}
}
