package job

import (
	"fmt"
	"slices"

	"trenchwright/base/measure"
)

// checks checks what holds between the figures of the checks.
func (c *checker) checks(p *place) {
	k := &c.job.Checks
	for i := range k.Vehicles {
		c.vehicle(&k.Vehicles[i], p.field("vehicles").item(i, k.Vehicles[i].ID))
	}
	if b := k.Earth.Beside; b != nil && b.Near >= b.Far {
		one := c.say("strip", p.fields("earth", "beside", "far"), fmt.Sprintf("the strip ends at %s, and begins at %s.", c.length(b.Far), c.length(b.Near)), "Write its nearer edge as near, its further one as far.")
		one.Value, one.Limit = c.length(b.Far), c.length(b.Near)
	}
	for i := range k.Lifts {
		c.lift(&k.Lifts[i], p.field("lifts").item(i, k.Lifts[i].ID))
	}
	c.cables(&k.Cables, p.field("cables"))
}

func (c *checker) vehicle(v *Vehicle, p *place) {
	switch {
	case v.Design != "" && len(v.Axles) > 0:
		c.say("vehicle", p.field("axles"), "vehicle "+v.ID+" has a published design, which has axles of its own.", "Write design, or axles.")
	case v.Design == "" && len(v.Axles) == 0 && c.sound(p, "axles"):
		c.say("vehicle", p, "vehicle "+v.ID+" has neither axles nor a design.", "Write its axles from front to back, or design: hs20.")
	}
	for i, a := range v.Axles {
		at := p.field("axles").item(i, "")
		if i == 0 && a.Behind > 0 {
			c.say("axle", at.field("behind"), "there is no axle before the first.", "Leave behind out, or write the axle that is in front first.")
		} else if i > 0 && a.Behind == 0 && c.sound(at, "behind") {
			c.say("axle", at, "it does not say how far it is behind the one before.", "Write behind: 4.2 m.")
		}
	}
}

func (c *checker) lift(l *Lift, p *place) {
	if l.Angle.Known && (l.Spread.Known || l.Height.Known) {
		c.say("sling", p.field("angle"), "the angle is given, and spread or height as well.", "Write the angle, or spread and height.")
	}
	if l.Pressure.Known && (l.Outrigger.Known || l.Pad.Known) {
		c.say("stand", p.field("pressure"), "the pressure on the ground is given, and outrigger or pad as well.", "Write the pressure under tracks or mats, or outrigger and pad.")
	}
	for i, row := range l.Chart {
		at := p.field("chart").item(i, "")
		if i > 0 && row.Radius <= l.Chart[i-1].Radius {
			one := c.say("chart", at.field("radius"), fmt.Sprintf("radius %s stands behind %s.", c.length(row.Radius), c.length(l.Chart[i-1].Radius)), "Write the chart by rising radius, each once.")
			one.Value, one.Limit = c.length(row.Radius), c.length(l.Chart[i-1].Radius)
		} else if i > 0 && row.Lifts > l.Chart[i-1].Lifts {
			c.say("chart", at.field("lifts"), fmt.Sprintf("further out it lifts %s, and nearer %s.", row.Lifts, l.Chart[i-1].Lifts), "Look at the chart again: no machine lifts more further out.")
		}
	}
}

func (c *checker) cables(k *Cables, p *place) {
	var last measure.Length
	for i, d := range k.Dividers {
		if d.At <= last && d.At > 0 {
			c.say("dividers", p.field("dividers").item(i, ""), fmt.Sprintf("a divider at %s stands behind one at %s.", c.length(d.At), c.length(last)), "Write dividers from the left wall on.")
		}
		last = d.At
	}
	var names []string
	for i, one := range k.Laid {
		if slices.Contains(names, one.Name) && one.Name != "" {
			c.say("twice", p.field("laid").item(i, one.Name).field("name"), fmt.Sprintf("cable %s is written twice.", quoted(one.Name)), "Give every kind of cable a name of its own.")
		}
		names = append(names, one.Name)
	}
	for i, pull := range k.Pulls {
		if at := p.field("pulls").item(i, ""); !slices.Contains(names, pull.Cable) && pull.Cable != "" {
			c.say("reference", at.field("cable"), fmt.Sprintf("cable names %s, which is not in the schedule.", quoted(pull.Cable))+didYouMean(pull.Cable, names), choose(len(names) == 0, "No cable is written in this job.", "Cables of this job: "+listed(names)+"."))
		}
	}
}
