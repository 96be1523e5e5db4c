package load

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Bed is what carries the run: a bed all along, or pads under its joints.
type Bed struct {
	Stands     *measure.LinearMass // everything that stands on it: unit, covers, cables, earth
	StandsFrom string
	More       *check.Quantity // a force besides, a wheel as the engineer counts it
	Over       *measure.Length // length of bed that it is counted over; pads: one pad
	MoreFrom   string

	Width *measure.Length // of the bed that bears
	Pad   Patch           // of one pad, across and along; zero: no pads
	Pads  int             // abreast; 0: one
	Apart *measure.Length // rows of pads along the run

	Allows     *check.Quantity // pressure that the ground is allowed
	AllowsFrom string

	Soil       *Soil    // for the pressure under which the ground gives way
	Factor     *float64 // against that
	FactorFrom string
}

// Soil is the ground below the bed.
type Soil struct {
	Cohesion check.Quantity
	Phi      measure.Angle
	Weight   check.Quantity // by volume; below water as it weighs there
	Deep     measure.Length // of the bed below the ground beside it
	From     string
}

var (
	bedRule = check.Rule{ID: "load.bed", Says: "what stands on a bed or a pad presses evenly on its area", Law: "statics", Source: "the pressure that the ground is allowed, as entered", Status: check.Closed, Tests: []string{"load.TestBedAndPads"}}

	bearingRule = check.Rule{ID: "load.bearing", Says: "ground gives way under cohesion x Nc + weight x depth x Nq + half of weight x width x Nγ, each with its factors of shape and depth", Law: "Vesić's factors, FHWA GEC-6",
		Source: "tables of a geotechnical circular and of textbooks, as read", Status: check.Read, Tests: []string{"load.TestBearingAsPublished"}}
)

func (b *Bed) bounds() []check.Bound {
	list := []check.Bound{check.Above("a force besides", b.More, 1e8), long("a length that it is counted over", b.Over), long("a width of the bed", b.Width), long("a distance of the pads", b.Apart), check.Above("a pressure that the ground is allowed", b.Allows, 1e8)}
	if b.Stands != nil {
		list = append(list, check.Between("a mass that stands on it", new(check.LineMass.Of(float64(*b.Stands)/1000)), 1e-3, 1e5, "a mass above 0, from the supplier's drawing"))
	}
	if b.Pad != (Patch{}) {
		list = append(list, long("a width of a pad", &b.Pad.Across), long("a length of a pad", &b.Pad.Along))
	}
	if b.Factor != nil {
		list = append(list, check.Between("a factor against giving way", new(check.Ratio.Of(*b.Factor)), 1, 10, "the engineer's factor, for example 3"))
	}
	if s := b.Soil; s != nil {
		list = append(list, check.Between("a cohesion", &s.Cohesion, 0, 1e6, "the engineer's figure, 0 and more"), check.Between("an angle of friction", new(check.Angle.Of(s.Phi.Degrees()*math.Pi/180)), 0, 50*math.Pi/180, "the engineer's angle, 0 to 50 deg"),
			check.Between("a weight of ground", &s.Weight, 5e3, 3e4, "the weight by volume, for example 19 kN/m³ or 120 pcf"), check.Between("a depth of the bed", check.Long(&s.Deep), 0, longest.Metres(), "below the ground beside it, 0 and more"))
	}
	return list
}

// Capacity is the pressure under which ground gives way, in its three parts, Pa.
type Capacity struct{ Cohesion, Depth, Width float64 }

// All is the whole of it.
func (c Capacity) All() float64 { return c.Cohesion + c.Depth + c.Width }

// Factors are Vesić's Nc, Nq and Nγ by the angle of friction in radians.
func Factors(phi float64) (nc, nq, ng float64) {
	if phi == 0 {
		return 2 + math.Pi, 1, 0
	}
	t := math.Tan(math.Pi/4 + float64(phi/2))
	nq = float64(check.Exp(math.Pi*math.Tan(phi)) * t * t)
	return (nq - 1) / math.Tan(phi), nq, 2 * (nq + 1) * math.Tan(phi)
}

// Bearing is the pressure under which ground of a cohesion, an angle of friction in radians and a weight gives way below a footing of a width
// and a length at a depth; a length of 0 is endless. Where there is no friction, a square has 1.2 and the depth 0.4 of its share of the width.
func Bearing(width, length, depth, cohesion, phi, weight float64) Capacity {
	nc, nq, ng := Factors(phi)
	share := 0.0
	if length > 0 {
		width, length = min(width, length), max(width, length)
		share = width / length
	}
	k := depth / width
	if k > 1 {
		k = math.Atan(k)
	}
	sc, sq, sg, dc, dq := 1+float64(0.2*share), 1.0, 1-float64(0.4*share), 1+float64(0.4*k), 1.0
	if phi > 0 {
		sc, sq = 1+float64(share*nq)/nc, 1+float64(share*math.Tan(phi))
		held := 1 - math.Sin(phi)
		dq = 1 + float64(2*math.Tan(phi)*held*held*k)
		dc = dq - (1-dq)/(nc*math.Tan(phi))
	}
	return givesUnder(width, depth, cohesion, weight, parts{nc * sc * dc, nq * sq * dq, ng * sg})
}

// parts are the factors of cohesion, depth and width, each with those of shape and depth.
type parts struct{ c, q, g float64 }

// givesUnder is the pressure under which ground gives way, by its factors.
func givesUnder(width, depth, cohesion, weight float64, f parts) Capacity {
	return Capacity{cohesion * f.c, weight * depth * f.q, 0.5 * weight * width * f.g}
}

// bed holds the pressure on the ground against what it is allowed.
func (p *Problem) bed(out *Solution) {
	b := p.Bed
	if b == nil {
		return
	}
	what := "the pressure on the ground below the bed"
	if b.Pad.known() {
		what = "the pressure below a pad"
	}
	a := p.answer("load.bed", what, bedRule, engineer, "a wider bed, more pads or larger ones, better ground")
	a.Cautions = append([]string{"pressures are even ones: a bed that is high in the middle or a pad that rocks presses more"}, cautions...)
	pressure, ok := b.pressure(&a)
	if ok {
		b.below(&a, pressure)
	}
	allows, has := a.Need("pressure that the ground is allowed", b.Allows, b.AllowsFrom, engineer)
	if ok && has {
		a.Hold(pressure, allows, b.AllowsFrom, check.AtMost(pressure.SI, 0, allows.SI))
	}
	out.Answers = append(out.Answers, a)
	if b.Soil != nil && ok {
		p.givesWay(out, pressure)
	}
}

// pressure is what stands on the bed, or on one pad, over its area.
func (b *Bed) pressure(a *check.Answer) (check.Quantity, bool) {
	var stands *check.Quantity
	if b.Stands != nil {
		stands = new(check.LineMass.Of(float64(*b.Stands) / 1000))
	}
	mass, ok := a.Need("mass of all that stands on the bed", stands, b.StandsFrom, supplier)
	more := 0.0
	if b.More != nil {
		a.Give("a force besides", *b.More, b.MoreFrom)
		more = b.More.SI
	}
	if b.Pad.known() {
		apart, near := a.Need("distance of the pads along the run", check.Long(b.Apart), "", supplier)
		abreast := max(1, b.Pads)
		a.Give("pads abreast", check.Count.Of(float64(abreast)), "")
		a.Give("pad, across", check.Length.Of(b.Pad.Across.Metres()), "")
		a.Give("pad, along", check.Length.Of(b.Pad.Along.Metres()), "")
		if !ok || !near {
			return check.Quantity{}, false
		}
		load := a.Work("load on one pad", "mass x g x distance of the pads / pads abreast + the force besides", check.Force.Of(float64(mass.SI*check.Gravity*apart.SI)/float64(abreast)+more))
		return a.Work("pressure", "load / area of the pad", check.Pressure.Of(load.SI/(b.Pad.Across.Metres()*b.Pad.Along.Metres()))), true
	}
	width, wide := a.Need("width of the bed that bears", check.Long(b.Width), "", supplier)
	over := check.Quantity{SI: 1}
	if b.More != nil {
		is, has := a.Need("length of bed that the force besides is counted over", check.Long(b.Over), b.MoreFrom, engineer)
		over, wide = is, wide && has
	}
	if !ok || !wide {
		return check.Quantity{}, false
	}
	line := a.Work("load on a length of run", "mass x g + the force besides / its length", check.LineForce.Of(float64(mass.SI*check.Gravity)+more/over.SI))
	return a.Work("pressure", "load / width", check.Pressure.Of(line.SI/width.SI)), true
}

// below says how much of the pressure arrives one width further down, for whoever knows of a softer layer there.
func (b *Bed) below(a *check.Answer, pressure check.Quantity) {
	if b.Pad.known() {
		along := b.Pad.Along.Metres() / 2 / b.Pad.Across.Metres()
		a.Work("of which arrives one width below its middle", "elastic half space, four corners at the pad's middle", check.Pressure.Of(pressure.SI*4*Corner(along, 0.5)))
		return
	}
	width := b.Width.Metres()
	a.Work("of which arrives one width below its middle", "elastic half space, endless strip", check.Pressure.Of(Strip(pressure.SI, width, width, 0)))
	a.Work("and below its edge", "the same", check.Pressure.Of(Strip(pressure.SI, width, width, width/2)))
}

// givesWay holds the pressure under which the ground gives way against the pressure and the engineer's factor.
func (p *Problem) givesWay(out *Solution, pressure check.Quantity) {
	b, s := p.Bed, p.Bed.Soil
	a := p.answer("load.bearing", "what the ground bears before it gives way, over the pressure", bearingRule, engineer, "a wider bed, more pads or larger ones, better ground")
	a.Cautions = append([]string{"this is of giving way alone: settlement is another matter, and commonly the narrower one", "level ground, level base and an upright load are taken"}, cautions...)
	width, length := 0.0, 0.0
	if b.Pad.known() {
		width, length = b.Pad.Across.Metres(), b.Pad.Along.Metres()
		a.Give("pad, along", check.Length.Of(length), "")
	} else {
		width = b.Width.Metres()
	}
	a.Give("width", check.Length.Of(width), "")
	phi := s.Phi.Degrees() * math.Pi / 180
	a.Give("cohesion", s.Cohesion, s.From)
	a.Give("angle of friction", check.Angle.Of(phi), s.From)
	a.Give("weight of the ground by volume", s.Weight, s.From)
	a.Give("depth below the ground beside it", check.Length.Of(s.Deep.Metres()), s.From)
	nc, nq, ng := Factors(phi)
	c := Bearing(width, length, s.Deep.Metres(), s.Cohesion.SI, phi, s.Weight.SI)
	a.Work("by cohesion", fmt.Sprintf("cohesion x Nc (%.2f) x shape x depth", nc), check.Pressure.Of(c.Cohesion))
	a.Work("by depth", fmt.Sprintf("weight x depth x Nq (%.2f) x shape x depth", nq), check.Pressure.Of(c.Depth))
	a.Work("by width", fmt.Sprintf("half of weight x width x Nγ (%.2f) x shape", ng), check.Pressure.Of(c.Width))
	all := a.Work("it gives way under", "the sum", check.Pressure.Of(c.All()))
	a.Give("pressure", pressure, "above")
	ratio := a.Work("over the pressure", "gives way under / pressure", check.Ratio.Of(all.SI/pressure.SI))
	var factor *check.Quantity
	if b.Factor != nil {
		factor = new(check.Ratio.Of(*b.Factor))
	}
	if asked, ok := a.Need("factor against giving way", factor, b.FactorFrom, engineer); ok {
		a.Hold(ratio, asked, b.FactorFrom, check.AtLeast(ratio.SI, 0, asked.SI))
	}
	out.Answers = append(out.Answers, a)
}
