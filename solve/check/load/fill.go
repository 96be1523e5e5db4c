package load

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Fill is earth over covers or units, through which wheels press.
type Fill struct {
	Depth      *measure.Length // over what bears
	Weight     *check.Quantity // of the earth, by volume
	WeightFrom string
	Width      *measure.Length // outer width of the unit
	Spread     *float64        // how much wider a wheel has become, across both sides, for each unit of depth; nil: the figure from memory
	SpreadFrom string
	Bears      *check.Quantity // pressure on its top that it is declared for
	BearsFrom  string
}

func (f *Fill) bounds() []check.Bound {
	list := []check.Bound{long("a depth of fill", f.Depth), long("an outer width", f.Width), check.Above("a pressure that the top bears", f.Bears, 1e8), check.Between("a weight of earth", f.Weight, 5e3, 3e4, "the weight by volume, for example 19 kN/m³ or 120 pcf")}
	if f.Spread != nil {
		list = append(list, check.Between("a spread by depth", new(check.Ratio.Of(*f.Spread)), 0.5, 3, "how much wider a wheel becomes for each unit of depth, for example 1.15"))
	}
	return list
}

// lldf is how much wider a wheel becomes by depth of fill (AASHTO LRFD 3.6.1.2.6), from memory.
const lldf = 1.15

var (
	spreadRule = check.Rule{ID: "load.spread", Says: "a wheel presses on its tyre, made longer and wider by a factor x depth; where rectangles touch, all of their wheels press on the one that holds them", Law: "AASHTO LRFD 3.6.1.2.6",
		Source: "the factor and the dynamic allowance as the engineer entered them", Status: check.Closed, Tests: []string{"load.TestSpreadAsPublished", "load.TestSpreadAgainstTwin"}}
	spreadMemory = check.Rule{ID: "load.spread-memory", Says: "the same with a factor of 1.15 and a dynamic allowance of 33 % x (1 - 0.125 x depth in feet), not below 0", Law: "AASHTO LRFD 3.6.1.2.6, 3.6.2.2",
		Status: check.Memory, Tests: []string{"load.TestSpreadAsPublished"}}
	earthRule = check.Rule{ID: "load.earth", Only: "gives its figure to load.spread", Says: "earth over a rigid buried unit weighs on it 1 + 0.20 x depth / outer width times, at most 1.15 times", Law: "AASHTO LRFD 12.11.2.2.1", Source: "a state's culvert manual (CM 3.4), as read",
		Status: check.Read, Tests: []string{"load.TestEarthOverRigidUnit"}}
)

// BuriedDynamic is the dynamic allowance below a depth of fill, m, as a share; from memory.
func BuriedDynamic(depth float64) float64 { return max(0, 0.33*(1-0.125*depth/0.3048)) }

// EarthFactor is by how much earth over a rigid buried unit weighs on it more than itself.
func EarthFactor(depth, width float64) float64 { return min(1.15, 1+float64(0.20*depth)/width) }

// spreadTo is what presses below fill: which wheels, on which rectangle.
type spreadTo struct {
	force, along, across float64 // N, m
	axles, wheels        int
}

func (s spreadTo) pressure() float64 { return s.force / (s.along * s.across) }

// through is the highest pressure of a vehicle below a depth of fill, m: of each row of axles whose rectangles touch, and of the wheels of
// an axle where those do.
func (v *Vehicle) through(depth, spread float64) spreadTo {
	on, _ := v.patch()
	along, across := on.Along.Metres()+float64(spread*depth), on.Across.Metres()+float64(spread*depth)
	wide, wheels := across, 1
	if v.Apart != nil && v.Apart.Metres() <= across {
		wide, wheels = across+v.Apart.Metres(), 2
	}
	var worst spreadTo
	for from := range v.Axles {
		force, reach := 0.0, along
		for to := from; to < len(v.Axles); to++ {
			if to > from {
				gap := v.Axles[to].Behind.Metres()
				if gap > along {
					break
				}
				reach += gap
			}
			force += float64(v.Axles[to].Load.SI / 2 * float64(wheels))
			if s := (spreadTo{force, reach, wide, to - from + 1, wheels}); worst.axles == 0 || s.pressure() > worst.pressure() {
				worst = s
			}
		}
	}
	return worst
}

// elastic is the highest vertical stress below the middle of a wheel at a depth, m, in an elastic half space: of that wheel by its tyre, of all
// others as points.
func (v *Vehicle) elastic(depth float64) float64 {
	on, _ := v.patch()
	along, across := on.Along.Metres(), on.Across.Metres()
	own := 4 * Corner(along/2/depth, across/2/depth) / (along * across)
	at := make([]float64, len(v.Axles))
	for i := range at {
		if at[i] = v.Axles[i].Behind.Metres(); i > 0 {
			at[i] += at[i-1]
		}
	}
	worst := 0.0
	for i := range at {
		sum := float64(v.Axles[i].Load.SI / 2 * own)
		for k := range at {
			if k != i {
				sum += Point(v.Axles[k].Load.SI/2, depth, at[k]-at[i])
			}
			if v.Apart != nil {
				sum += Point(v.Axles[k].Load.SI/2, depth, math.Hypot(at[k]-at[i], v.Apart.Metres()))
			}
		}
		worst = max(worst, sum)
	}
	return worst
}

// fill holds the pressure below fill against what the top is declared for.
func (p *Problem) fill(out *Solution) {
	f := p.Fill
	if f == nil {
		return
	}
	a := p.answer("load.fill", "wheels and earth on the top of the unit, through the fill", spreadRule, engineer, "more fill where its weight allows, another unit, or another way across")
	_, _, _, crosses := p.wheel(&a)
	depth, deep := a.Need("depth of the fill over it", check.Long(f.Depth), "", "whoever levels")
	spread := lldf
	if f.Spread != nil {
		spread = *f.Spread
		a.Give("spread by depth", check.Ratio.Of(spread), f.SpreadFrom)
	} else {
		a.Rule = spreadMemory
		a.Give("spread by depth", check.Ratio.Of(spread), "memory")
	}
	bears, has := a.Need("pressure that the top of the unit is declared for", f.Bears, f.BearsFrom, supplier)
	earth, weighed := p.over(&a, depth, deep)
	if !crosses || !deep {
		out.Answers = append(out.Answers, a)
		return
	}
	worst, of := spreadTo{}, ""
	for i := range p.Vehicles {
		if s := p.Vehicles[i].through(depth.SI, spread); of == "" || s.pressure() > worst.pressure() {
			worst, of = s, p.Vehicles[i].Name
		}
	}
	a.Give("axles of "+of+" whose rectangles touch", check.Count.Of(float64(worst.axles)), "")
	a.Give("wheels of each that press together", check.Count.Of(float64(worst.wheels)), "")
	a.Work("rectangle along", "tyre along + spread x depth + distances of those axles", check.Length.Of(worst.along))
	a.Work("rectangle across", "tyre across + spread x depth + distance of those wheels", check.Length.Of(worst.across))
	a.Work("their load", "sum of those wheels", check.Force.Of(worst.force))
	still := a.Work("pressure standing", "load / rectangle", check.Pressure.Of(worst.pressure()))
	elastic := 0.0
	for i := range p.Vehicles {
		elastic = max(elastic, p.Vehicles[i].elastic(depth.SI))
	}
	a.Work("beside it, in an elastic half space", "the wheel above by its tyre, all others as points; nothing is held against it", check.Pressure.Of(elastic))
	share := check.Percent.Of(BuriedDynamic(depth.SI))
	if p.Dynamic != nil {
		share = *p.Dynamic
		a.Give("dynamic allowance", share, p.DynamicFrom)
	} else {
		a.Rule = spreadMemory
		a.Give("dynamic allowance at this depth", share, "memory")
	}
	wheels := a.Work("pressure moving", "standing x (1 + dynamic allowance)", check.Pressure.Of(float64(still.SI*(1+share.SI))))
	if weighed {
		total := a.Work("wheels and earth", "pressure moving + earth", check.Pressure.Of(wheels.SI+earth.SI))
		if has {
			a.Hold(total, bears, f.BearsFrom, check.AtMost(total.SI, 0, bears.SI))
		}
	}
	out.Answers = append(out.Answers, a)
}

// over is the pressure of the earth over the unit.
func (p *Problem) over(a *check.Answer, depth check.Quantity, deep bool) (check.Quantity, bool) {
	f := p.Fill
	weight, one := a.Need("weight of the earth by volume", f.Weight, f.WeightFrom, engineer)
	width, two := a.Need("outer width of the unit", check.Long(f.Width), "", supplier)
	if !one || !two || !deep {
		return check.Quantity{}, false
	}
	factor := a.Work("factor of the earth over a rigid unit", "1 + 0.20 x depth / outer width, at most 1.15 ("+earthRule.Law+")", check.Ratio.Of(EarthFactor(depth.SI, width.SI)))
	return a.Work("earth", "weight x depth x factor", check.Pressure.Of(float64(weight.SI*depth.SI*factor.SI))), true
}
