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
		c.between(l.Drain.Least, l.Most, p.field("drain"))
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
	for i, b := range d.Bulking {
		for _, other := range d.Bulking[:i] {
			if b.Of == other.Of {
				c.say("twice", p.field("bulking").item(i, ""), fmt.Sprintf("the bulking of %s is written twice.", b.Of), "Keep the one that has a document.")
			}
		}
	}
}
