package job

import (
	"slices"

	"trenchwright/base/wording"
)

const (
	haulier = "the haulier"
	lifts   = "whoever plans the lifts"
)

// delivery is what nobody said about deliveries, where the job asks for them.
func (m *missing) delivery() {
	d, p := &m.job.Delivery, (*place)(nil).field("delivery")
	if !d.Asked() {
		return
	}
	m.contract("delivery", p, []contract{
		{d.CutBy.Known, "cut_by", "word on file about who saws and bores what is not plain", supplier},
		{d.Lift.Known, "lift", "mass that the plant on site may lift", lifts},
		{d.OnSite.Known || len(d.Laydown) == 0, "loads_on_site", "number of loads that lie on site at once", engineer},
		{len(d.Vehicles) > 0, "vehicles", "vehicle that brings the loads", haulier},
		{len(d.Laydown) > 0, "laydown", "laydown place", engineer},
	})
	if len(d.Laydown) > 0 && !m.job.Dig.Strip.Setback.Known {
		m.say("delivery-setback", (*place)(nil).fields("dig", "strip", "setback"), "distance that what is put down keeps from the edge of the dig", "the competent person")
	}
	if late := m.unordered(); len(late) > 0 && len(m.job.Route.Legs) > 1 {
		m.say("delivery-order", p.field("order"), "word on file about when "+choose(len(late) == 1, "leg ", "legs ")+listed(late)+choose(len(late) == 1, " is", " are")+" laid (here as the job writes them, behind the others)", engineer)
	}
	for i := range d.Vehicles {
		v := &d.Vehicles[i]
		at := p.field("vehicles").item(i, v.ID)
		m.contract("vehicle", at, []contract{
			{v.Payload.Known, "payload", "payload of vehicle " + v.ID, haulier},
			{v.Length.Known && v.Width.Known && v.Height.Known, "deck", "length, width and height of the deck of vehicle " + v.ID, haulier},
			{v.Axles.whole(), "axles", "whole set of axle figures of vehicle " + v.ID, haulier},
		})
	}
	for i := range d.Laydown {
		l := &d.Laydown[i]
		m.contract("laydown", p.field("laydown").item(i, l.ID), []contract{
			{l.Edge.Known, "edge", "distance of laydown " + l.ID + " from the edge of the dig", engineer},
			{l.Wide.Known, "wide", "width of laydown " + l.ID, engineer},
			{l.Bears.Known, "bears", "mass that may lie at laydown " + l.ID, engineer},
			{l.Supports.Known, "supports", "number of bearers at laydown " + l.ID, engineer},
		})
	}
	for i := range m.job.Supplies {
		s := &m.job.Supplies[i]
		of, at := "supply "+s.ID, (*place)(nil).field("supplies").item(i, s.ID).field("stacking")
		t := d.TermsOf(s.ID)
		m.contract("delivery-terms", p.field("terms"), []contract{
			{t.Change.Known, "change_days", "number of days until which specials of " + of + " may be changed", supplier},
			{t.First.Known, "first_load", "date of the first load of " + of, engineer},
		})
		m.bundle(s.Stacking.Units, s.Stacking.UnitsPerBundle.Value, at.field("units"), "bundle of "+m.word(wording.Units)+" of "+of)
		if s.Cover != nil {
			m.bundle(s.Stacking.Covers, s.Stacking.CoversPerPallet.Value, at.field("covers"), "pallet of covers of "+of)
		}
		for k := range s.Fittings {
			f := &s.Fittings[k]
			if f.Mass.Known && !f.Lies.Whole() && m.used(f.ID) {
				m.say("fitting-size", at.up.field("fittings").item(k, f.ID), "size on file of fitting "+f.ID+" of "+of+" as it lies on a vehicle: it stands on none of these loads", supplier)
			}
		}
	}
}

// unordered are the legs that the order of laying leaves out.
func (m *missing) unordered() (late []string) {
	for _, l := range m.job.Route.Legs {
		if !slices.Contains(m.job.Delivery.Order, DeliveryLeg{l.ID}) {
			late = append(late, l.ID)
		}
	}
	return late
}

// used tells whether a node asks for a fitting.
func (m *missing) used(id string) bool {
	for _, n := range m.job.Route.Nodes {
		if n.Fitting == id {
			return true
		}
	}
	return false
}

func (m *missing) bundle(b *BundleMake, each int, p *place, of string) {
	if b == nil {
		b = &BundleMake{}
	}
	m.contract("bundle", p, []contract{
		{each < 2 || b.Wide.Known, "wide", "number side by side in a " + of, supplier},
		{each < 2 || b.Bearer.Known, "bearer", "thickness of the bearers in a " + of, supplier},
		{b.Bearers.Known || len(m.job.Delivery.Laydown) == 0, "bearers", "number of bearers under a " + of, supplier},
		{each < 2 || b.Packing.Known, "packing", "mass of the packing of a " + of, supplier},
		{b.High.Known, "high", "word on file about what may stand on a " + of, supplier},
	})
}

// whole tells whether every figure of the axles is on file.
func (a *DeliveryAxles) whole() bool {
	return a != nil && a.Deck.Known && a.Apart.Known && a.FrontEmpty.Known && a.FrontLimit.Known && a.RearEmpty.Known && a.RearLimit.Known
}

// Whole tells whether everything is on file that says what the axles of v bear under a load.
func (v *DeliveryVehicle) Whole() bool { return v.Decked() && v.Axles.whole() }

// Decked tells whether all of the deck is on file.
func (v *DeliveryVehicle) Decked() bool { return v.Length.Known && v.Width.Known && v.Height.Known }

// TermsOf are the terms of a supply; nothing known where none are written.
func (d *Delivery) TermsOf(supply string) DeliveryTerms {
	for _, t := range d.Terms {
		if t.Supply == supply {
			return t
		}
	}
	return DeliveryTerms{Supply: supply}
}
