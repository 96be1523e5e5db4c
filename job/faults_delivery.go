package job

import (
	"fmt"
	"slices"

	"trenchwright/base/measure"
)

// delivery checks what holds between the figures of vehicles, places and bundles.
func (c *checker) delivery() {
	d, root := &c.job.Delivery, (*place)(nil).field("delivery")
	for i, t := range d.Terms {
		if slices.ContainsFunc(d.Terms[:i], func(o DeliveryTerms) bool { return o.Supply == t.Supply }) {
			c.say("twice", root.field("terms").item(i, t.Supply), fmt.Sprintf("the terms of supply %s are written already.", t.Supply), "Keep one of the two.")
		}
	}
	for i := range d.Vehicles {
		v := &d.Vehicles[i]
		if v.Axles != nil {
			c.axles(v.Axles, root.field("vehicles").item(i, v.ID).field("axles"))
		}
	}
	for i := range c.job.Supplies {
		s := &c.job.Supplies[i]
		at := (*place)(nil).field("supplies").item(i, s.ID).field("stacking")
		c.bundle(s.Stacking.Units, s.Stacking.UnitsPerBundle, "units_per_bundle", at.field("units"))
		c.bundle(s.Stacking.Covers, s.Stacking.CoversPerPallet, "covers_per_pallet", at.field("covers"))
	}
}

// axles: a group that bears its limit without a load leaves nothing to bring.
func (c *checker) axles(a *DeliveryAxles, p *place) {
	for _, g := range []struct {
		name         string
		empty, limit Entry[measure.Mass]
	}{{"front", a.FrontEmpty, a.FrontLimit}, {"rear", a.RearEmpty, a.RearLimit}} {
		if g.empty.Known && g.limit.Known && g.empty.Value >= g.limit.Value {
			one := c.say("axles", p.field(g.name+"_limit"), fmt.Sprintf("the %s axles bear %s without a load, and their limit is %s.", g.name, g.empty.Value, g.limit.Value), "Look at both figures again, in the vehicle's papers.")
			one.Value, one.Limit = g.empty.Value.String(), g.limit.Value.String()
		}
	}
}

func (c *checker) bundle(b *BundleMake, each Entry[int], field string, p *place) {
	if b == nil {
		return
	}
	if b.Wide.Known && each.Known && b.Wide.Value > each.Value {
		one := c.say("bundle", p.field("wide"), fmt.Sprintf("%d lie side by side, and %s says %d in all.", b.Wide.Value, field, each.Value), lookAgain)
		one.Value, one.Limit = fmt.Sprint(b.Wide.Value), fmt.Sprint(each.Value)
	}
	if len(b.On) > 0 && b.High.Known && b.High.Value == 1 {
		c.say("bundle", p.field("on"), "it says what a bundle may stand on, and high says that none stands on another.", lookAgain)
	}
}
