// Package flotation says whether an empty unit floats in standing water, from which level of water on, and what would hold it.
//
// A metre of run is a box that water presses on from below: it floats where the water that it pushes aside weighs as much as it does.
// Water that stands above the wall tops runs in, so nothing is pushed aside beyond them; that the unit is tight below is assumed, which
// is the worst case. Friction at the walls and fill above any toe are left out, which is the worst case too.
package flotation

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/solve/check"
)

// Problem is a metre of run and the water beside it. What is nil is not on file.
type Problem struct {
	Where  finding.Where
	Width  measure.Length // outer width
	Height measure.Length // from the underside to the wall tops
	Inside measure.Length // inner width; 0: not known
	Deep   measure.Length // inner height
	Mass   *measure.LinearMass
	Covers *measure.LinearMass // while they lie
	From   string              // where sizes and masses come from

	Water     *measure.Length // above the underside
	WaterPlus measure.Length  // what that is good for, either way
	WaterFrom string
	Density   float64 // of the water, kg/m3; 0: fresh water

	Factor     *float64 // weight against uplift that the engineer asks for
	FactorFrom string
	Words      wording.Speech
}

// Fresh is the density of fresh water, kg/m3: the round figure by which the worked example of the test counts (9.81 kN/m3 with its g).
// Fresh water is never denser (999.97 at 4 deg C, from memory), so that it lifts no more than this.
const Fresh = 1000.0

// Solution is what comes of it.
type Solution struct {
	Answers  []check.Answer
	Marks    []Mark
	Holds    []Hold
	Findings finding.List
}

// Mark is a level of water on the wall, above the underside, at which a unit floats.
type Mark struct {
	State string          // as the unit stands: "empty, without covers"
	At    *measure.Length // nil: water runs in over the wall tops before it floats
	Mass  measure.LinearMass
}

// Hold is what would hold a unit that does not have the weight it needs.
type Hold struct {
	State   string
	Mass    measure.LinearMass // more of it, on every metre
	Flooded *measure.Length    // or water let in, above the inner floor; nil: not enough, or the inside is not known
	Below   *measure.Length    // or water kept below this, above the underside
}

// Weight is the rule of floating.
var Weight = check.Rule{ID: "flotation.weight", Says: "a body floats where the water that it pushes aside weighs as much as the body",
	Law: "hydrostatics (Archimedes)", Status: check.Closed, Tests: []string{"flotation.TestPublishedTrough"}}

// Check says at which levels of water the unit floats, and holds the water on file against them.
func Check(p *Problem) Solution {
	var out Solution
	if !p.sound(&out) {
		return out
	}
	if p.Mass == nil {
		out.Findings = append(out.Findings, finding.NoneOnFile("mass of the unit", "the supplier", p.Where))
		return out
	}
	p.state(&out, "empty, without covers", "flotation.open", *p.Mass)
	switch {
	case p.Covers != nil:
		p.state(&out, "empty, with its covers", "flotation.covered", *p.Mass+*p.Covers)
	default:
		out.Findings = append(out.Findings, finding.NoneOnFile("mass of the covers", "the supplier", p.Where))
	}
	for i := range out.Answers {
		out.Findings = append(out.Findings, out.Answers[i].Findings(p.Words)...)
	}
	return out
}

func (p *Problem) sound(out *Solution) bool {
	say := func(text, try string) {
		out.Findings = append(out.Findings, finding.Finding{ID: "flotation.input", Kind: finding.Fault, Text: text, Where: p.Where, Try: try})
	}
	say1 := func(name string, l measure.Length) {
		say(fmt.Sprintf("%s of %s cannot be", name, p.Words.Length(l)), "a length above 0 and below 100 m")
	}
	const most = 100 * measure.Metre
	switch {
	case p.Width <= 0 || p.Width > most:
		say1("an outer width", p.Width)
	case p.Height <= 0 || p.Height > most:
		say1("an outer height", p.Height)
	case p.Inside < 0 || p.Inside >= p.Width:
		say1("an inner width", p.Inside)
	case p.Deep < 0 || p.Deep >= p.Height:
		say1("an inner height", p.Deep)
	case p.Mass != nil && *p.Mass <= 0 || p.Covers != nil && *p.Covers <= 0:
		say("a mass per length that is not above 0 cannot be", "the mass from the supplier's drawing, or none")
	case p.Water != nil && (*p.Water < 0 || *p.Water > most):
		say(fmt.Sprintf("water at %s above the underside cannot be", p.Words.Length(*p.Water)), "the level of the water above the underside, 0 and more")
	case p.Factor != nil && !(*p.Factor >= 1 && *p.Factor <= 10):
		say("a factor below 1 or above 10 cannot be", "the factor from the engineer's note, for example 1.1")
	case p.Density != 0 && !(p.Density >= 900 && p.Density <= 2000):
		say("water of that density cannot be", "kg per cubic metre: fresh water 1000, sea water and slurry more")
	default:
		return true
	}
	return false
}

// level is the water at which the uplift is a share of a mass per length: the mass over the factor, the density and the width.
func (p *Problem) level(mass measure.LinearMass, factor float64) measure.Length {
	return measure.FromMetres(float64(mass) / 1000 / (factor * p.density() * p.Width.Metres()))
}

func (p *Problem) density() float64 {
	if p.Density == 0 {
		return Fresh
	}
	return p.Density
}

// lift is the mass of the water that a metre of run pushes aside, kg/m.
func (p *Problem) lift(water measure.Length) float64 {
	return p.density() * p.Width.Metres() * min(water, p.Height).Metres()
}

// state works one state of the unit out.
func (p *Problem) state(out *Solution, state, id string, mass measure.LinearMass) {
	mark := Mark{State: state, Mass: mass}
	if at := p.level(mass, 1); at <= p.Height {
		mark.At = &at
	}
	out.Marks = append(out.Marks, mark)
	a := check.Answer{ID: id, What: "the weight of the unit, " + state + ", over the uplift", Where: p.Where, Rule: Weight, Decides: "the engineer", Try: "let water in, ballast it, or keep the water lower",
		Cautions: []string{"the unit is taken to be tight below its wall tops, friction and fill beside it to hold nothing: both are the worst case",
			"a unit that floats moves the ones beside it; nobody in the trench while water rises"}}
	a.Give("outer width", check.Length.Of(p.Width.Metres()), p.From)
	a.Give("outer height", check.Length.Of(p.Height.Metres()), p.From)
	a.Give("mass, "+state, check.LineMass.Of(float64(mass)/1000), p.From)
	name, from := "density of the water", "as entered"
	if p.Density == 0 {
		name, from = "density of fresh water", "the round figure; none was entered"
	}
	a.Give(name, check.Density.Of(p.density()), from)
	a.Work("it floats from a level of", "mass / (density x outer width), above the underside", check.Length.Of(p.level(mass, 1).Metres()))
	water, factor := p.given(&a)
	if p.Water == nil {
		out.Answers = append(out.Answers, a)
		return
	}
	under := a.Work("height under water", "the lower of water level and outer height", check.Length.Of(min(*p.Water, p.Height).Metres()))
	up := a.Work("uplift", "density x g (9.80665 m/s²) x outer width x height under water", check.LineForce.Of(p.lift(*p.Water)*check.Gravity))
	down := a.Work("weight", "mass x g", check.LineForce.Of(float64(mass)/1000*check.Gravity))
	if under.SI == 0 {
		a.Verdict, a.Missing = finding.Meets, nil
		a.Value, a.Limit, a.From = water, a.Working[0].Is, "no water stands above the underside"
		a.What = "the water at the unit, " + state + ", below the level at which it floats"
		out.Answers = append(out.Answers, a)
		return
	}
	ratio := a.Work("weight over uplift", "weight / uplift", check.Ratio.Of(down.SI/up.SI))
	if factor.Kind != nil {
		plus := ratio.SI - down.SI/(p.lift(*p.Water+p.WaterPlus)*check.Gravity)
		a.Hold(ratio, factor, p.FactorFrom, check.AtLeast(ratio.SI, plus, factor.SI))
	} else if down.SI < up.SI {
		// Without a factor nobody can say that it is held; that it floats needs none.
		a.Missing = nil
		a.Hold(ratio, check.Ratio.Of(1), "it floats below that, whatever the factor", finding.DoesNot)
	}
	out.Answers = append(out.Answers, a)
	p.holds(out, state, mass)
}

func (p *Problem) given(a *check.Answer) (water, factor check.Quantity) {
	var level, asked *check.Quantity
	if p.Water != nil {
		level = new(check.Length.Of(p.Water.Metres()))
	}
	if p.Factor != nil {
		asked = new(check.Ratio.Of(*p.Factor))
	}
	water, _ = a.Need("level of the water at the unit", level, p.WaterFrom, "whoever keeps the water, by day and by season")
	factor, _ = a.Need("factor against floating", asked, p.FactorFrom, "the engineer")
	return water, factor
}

// holds says what would hold a unit that has not the weight it needs.
func (p *Problem) holds(out *Solution, state string, mass measure.LinearMass) {
	factor := 1.0
	if p.Factor != nil {
		factor = *p.Factor
	}
	lacks := float64(factor*p.lift(*p.Water)) - float64(mass)/1000
	if lacks <= 0 {
		return
	}
	h := Hold{State: state, Mass: measure.LinearMass(float64(lacks*1000) + 0.5), Below: new(p.level(mass, factor))}
	if p.Inside > 0 && p.Deep > 0 {
		if flooded := measure.FromMetres(lacks / (p.density() * p.Inside.Metres())); flooded <= p.Deep {
			h.Flooded = &flooded
		}
	}
	out.Holds = append(out.Holds, h)
}

// Rules are those that this check goes by.
func Rules() []check.Rule { return []check.Rule{Weight} }
