package load

import (
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Vehicle is what crosses: its axles from front to back.
type Vehicle struct {
	Name  string
	Axles []Axle
	Apart *measure.Length // middle of the wheels of one axle, from side to side
	Tyre  Patch           // contact of one wheel; zero: by the guideline of tyreRule
	From  string
}

// Axle is one axle: two wheels, or two pairs that count as one each.
type Axle struct {
	Load   check.Quantity // force of both wheels
	Behind measure.Length // the axle before it; 0 for the first
}

// Patch is a rectangle that a wheel presses on: across is along the axle.
type Patch struct{ Across, Along measure.Length }

func (p Patch) known() bool { return p.Across > 0 && p.Along > 0 }

var vehicleRule = check.Rule{ID: "load.vehicle", Only: "gives its figures to load.like, load.spread and load.plate", Says: "design truck 8, 32 and 32 kip with 14 ft and 14 to 30 ft between its axles, design tandem two axles of 25 kip 4 ft apart; wheels 6 ft apart, each on 20 in x 10 in; the truck of 1944 (HS20-44) is that truck",
	Law: "AASHTO LRFD 3.6.1.2.2, 3.6.1.2.3, 3.6.1.2.5", Source: "a stored page of the specification and a summary of HL-93, as read", Status: check.Read, Tests: []string{"load.TestVehicles"}}

var tyreRule = check.Rule{ID: "load.tyre", Only: "gives its figures to load.wheel, load.spread and load.plate", Says: "a wheel of P kip that is no design wheel presses on P/0.8 in across and 6.4 in along, without load factor and dynamic allowance, which lengthen it",
	Law: "AASHTO LRFD C3.6.1.2.5", Source: "a stored page of the specification, as read", Status: check.Read, Tests: []string{"load.TestTyre"}}

const kip = 1000 * check.Pound * check.Gravity

// Design are the vehicles of a published design load by its name: "hs20", "hl93" (truck or tandem, whichever is worse); nil: none of that name.
func Design(name string) []Vehicle {
	vehicle := func(name string, kips []float64, apart []measure.Length) Vehicle {
		v := Vehicle{Name: name, Apart: new(6 * measure.Foot), Tyre: Patch{20 * measure.Inch, 10 * measure.Inch}, From: vehicleRule.Law}
		for i, k := range kips {
			v.Axles = append(v.Axles, Axle{check.Force.Of(k * kip), apart[i]})
		}
		return v
	}
	truck := vehicle("design truck", []float64{8, 32, 32}, []measure.Length{0, 14 * measure.Foot, 14 * measure.Foot})
	switch name {
	case "hs20":
		truck.Name = "HS20-44 truck"
		return []Vehicle{truck}
	case "hl93":
		return []Vehicle{truck, vehicle("design tandem", []float64{25, 25}, []measure.Length{0, 4 * measure.Foot})}
	}
	return nil
}

func (v *Vehicle) bounds() []check.Bound {
	list := []check.Bound{long("a distance of the wheels of an axle", v.Apart)}
	for i := range v.Axles {
		list = append(list, check.Above("an axle load", &v.Axles[i].Load, 5e6))
		if i > 0 {
			list = append(list, long("a distance between axles", &v.Axles[i].Behind))
		}
	}
	if v.Tyre != (Patch{}) {
		list = append(list, long("a tyre's width", &v.Tyre.Across), long("a tyre's length", &v.Tyre.Along))
	}
	return list
}

// heaviest is the force of the heaviest wheel.
func (v *Vehicle) heaviest() float64 {
	most := 0.0
	for _, a := range v.Axles {
		most = max(most, a.Load.SI/2)
	}
	return most
}

// patch is the contact of the heaviest wheel, by the guideline where nobody entered it.
func (v *Vehicle) patch() (p Patch, guided bool) {
	if v.Tyre.known() {
		return v.Tyre, false
	}
	return Patch{measure.FromMetres(v.heaviest() / kip / 0.8 * 0.0254), 64 * measure.Inch / 10}, true
}

// worst is the vehicle with the heaviest wheel; of equal ones the first.
func (p *Problem) worst() *Vehicle {
	var worst *Vehicle
	for i := range p.Vehicles {
		if v := &p.Vehicles[i]; worst == nil || v.heaviest() > worst.heaviest() {
			worst = v
		}
	}
	return worst
}

// wheel takes in the heaviest wheel and its contact; false: nothing is on file that crosses.
func (p *Problem) wheel(a *check.Answer) (v *Vehicle, force check.Quantity, on Patch, ok bool) {
	v = p.worst()
	if v == nil || len(v.Axles) == 0 {
		a.Missing = append(a.Missing, check.Missing{What: "vehicle that crosses, by its axles", Ask: "the owner"})
		return nil, force, on, false
	}
	force = check.Force.Of(v.heaviest())
	a.Give("heaviest wheel of "+v.Name, force, v.From)
	on, guided := v.patch()
	from := v.From
	if guided {
		from = tyreRule.Law + ", a guideline"
	}
	a.Give("its tyre, across", check.Length.Of(on.Across.Metres()), from)
	a.Give("its tyre, along", check.Length.Of(on.Along.Metres()), from)
	return v, force, on, true
}

// moving is a force with what a moving wheel weighs more; false: nobody said how much.
func (p *Problem) moving(a *check.Answer, force check.Quantity) (check.Quantity, bool) {
	share, ok := a.Need("dynamic allowance of a moving wheel (0 where the rating has it in)", p.Dynamic, p.DynamicFrom, engineer)
	if !ok || force.SI <= 0 { // no wheel is on file, and that was said
		return force, false
	}
	return a.Work("wheel as it moves", "wheel x (1 + dynamic allowance)", check.Force.Of(force.SI*(1+share.SI))), true
}
