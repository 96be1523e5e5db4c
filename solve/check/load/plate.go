package load

import (
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Plate is a steel plate over an open crossing.
type Plate struct {
	Thick   *measure.Length
	Span    *measure.Length // clear, from side to side of the trench
	Long    *measure.Length // along the trench
	Bearing *measure.Length // on the ground beyond each side
	Edges   bool            // all four edges rest, not two
	Stress  *check.Quantity // bending stress that its grade is allowed
	From    string          // of that, and of the grade
}

var (
	plateRule = check.Rule{ID: "load.plate", Says: "a plate on two edges is stressed by no more than the strip below the wheel alone would be, and by no less than if its whole length helped evenly", Law: "statics and beam theory",
		Source: "the allowed stress as entered", Status: check.Closed, Tests: []string{"load.TestPlateBetweenItsBounds", "load.TestTwoAxlesOnPlate"}}
	seriesRule = check.Rule{ID: "load.plate-series", Says: "a plate on four edges bends as the double sine series has it, with a Poisson's ratio of 0.3", Law: "theory of thin plates (Navier)",
		Source: "held against Table 11.4 of a handbook of formulas for stress and strain, as read", Status: check.Closed, Tests: []string{"load.TestPlateAsPublished"}}
	plateEdges = check.Rule{ID: "load.plate-bearing", Says: "a plate in a street reaches 12 in beyond each side of the trench", Law: "a Californian city's standard provisions for work in streets, 5-7.8", Source: "a stored copy, as read",
		Status: check.Read, Tests: []string{"load.TestPlateByRoadAuthorities"}}
	plateSpan = check.Rule{ID: "load.plate-span", Says: "a plate over more than 5 ft 3 in is an engineer's design", Law: "a Californian city's standard provisions for work in streets, 5-7.8", Source: "a stored copy, as read",
		Status: check.Read, Tests: []string{"load.TestPlateByRoadAuthorities"}}
	plateTable = check.Rule{ID: "load.plate-thickness", Says: "thickness by span under a design truck: 10 in 1/2, 23 in 3/4, 31 in 7/8, 41 in 1, 63 in 1 1/4 in; a span between two takes the thicker", Law: "a state road authority's provisions for plates over trenches (California)",
		Status: check.Memory, Tests: []string{"load.TestPlateByRoadAuthorities"}}
)

func (t *Plate) bounds() []check.Bound {
	return []check.Bound{long("a thickness of the plate", t.Thick), long("a span of the plate", t.Span), long("a length of the plate", t.Long), long("a bearing of the plate", t.Bearing), check.Above("an allowed bending stress", t.Stress, 1e9)}
}

// ByTable is how thick a plate over a span is by a road authority's table, from memory; 0: the span is not in it.
func ByTable(span measure.Length) measure.Length {
	for _, row := range []struct{ span, thick measure.Length }{{10, 32}, {23, 48}, {31, 56}, {41, 64}, {63, 80}} { // inches, 64ths
		if span <= row.span*measure.Inch {
			return row.thick * measure.Inch / 64
		}
	}
	return 0
}

const poisson, terms = 0.3, 151

// Navier is the middle of a plate on four edges, long x span, under a pressure of 1 on a rectangle u x v at its middle: the moments per
// length along (mx) and across (my), and the deflection times its stiffness. Sides in m.
func Navier(long, span, u, v float64) (mx, my, w float64) {
	for m := 1; m < terms; m += 2 {
		a := float64(m) / long
		for n := 1; n < terms; n += 2 {
			b := float64(n) / span
			// the odd sines are 1 or -1 at the middle, where the load stands and the answer is asked for: their product with themselves is 1
			q := 16 / (math.Pi * math.Pi * float64(m) * float64(n)) * math.Sin(float64(m)*math.Pi*u/(2*long)) * math.Sin(float64(n)*math.Pi*v/(2*span))
			aa, bb := a*a, b*b
			s := float64(aa) + float64(bb)
			d := q / (s * s)
			w += d / (math.Pi * math.Pi * math.Pi * math.Pi)
			mx += d * (float64(aa) + float64(poisson*bb)) / (math.Pi * math.Pi)
			my += d * (float64(bb) + float64(poisson*aa)) / (math.Pi * math.Pi)
		}
	}
	return mx, my, w
}

// strip is the bending stress of a strip of a width and a thickness on two edges under a force on a length in its middle.
func strip(force, span, on, width, thick float64) float64 {
	on = min(on, span)
	return force * (span - float64(on/2)) / 4 / (width * thick * thick / 6)
}

// plate holds a plate over a crossing.
func (p *Problem) plate(out *Solution) {
	t := p.Plate
	if t == nil {
		return
	}
	a := p.answer("load.plate", "the bending stress of the plate below the heaviest wheel", plateRule, engineer, "a thicker plate, a shorter span, a lighter vehicle")
	a.Stop = true
	a.Cautions = append([]string{"a screening: one wheel in the middle, a new plate lying flat; edges, corners, wear, holes, lifting and how the plate is kept in place are not in it",
		"a plate stands on the ground beyond the walls, never on covers or wall tops that were not declared for it"}, cautions...)
	v, force, on, crosses := p.wheel(&a)
	moving, ok := p.moving(&a, force)
	thick, one := a.Need("thickness of the plate", check.Long(t.Thick), t.From, "whoever hires it out")
	span, two := a.Need("clear span of the plate", check.Long(t.Span), "", "whoever sets it out")
	length, three := a.Need("length of the plate along the trench", check.Long(t.Long), t.From, "whoever hires it out")
	allowed, has := a.Need("allowed bending stress of its grade", t.Stress, t.From, engineer)
	if crosses && ok && one && two && three {
		t.stress(&a, moving, on, thick, span, length, allowed, has)
		if a.Verdict == finding.Meets && v.crowds(span.SI) {
			a.Verdict = finding.CannotSay
			a.Cautions = append([]string{"two axles of this vehicle stand on the plate at once; one wheel alone does not say enough"}, a.Cautions...)
		}
	}
	out.Answers = append(out.Answers, a)
	p.byAuthority(out)
}

// crowds tells whether two axles stand so near that together they bend a plate over a span, m, more than one in its middle: nearer than
// 2 - √2 of the span, by statics for two equal ones.
func (v *Vehicle) crowds(span float64) bool {
	for _, a := range v.Axles[1:] {
		if a.Behind.Metres() < (2-math.Sqrt2)*span {
			return true
		}
	}
	return false
}

// stress works out how far the plate bends, and holds it: in two ways that the truth lies between, or by the series.
func (t *Plate) stress(a *check.Answer, force check.Quantity, on Patch, thick, span, length, allowed check.Quantity, has bool) {
	along, across := on.Across.Metres(), on.Along.Metres() // the wheel rolls across the trench: its axle lies along it
	along, across = min(along, length.SI), min(across, span.SI)
	if t.Edges {
		a.Rule = seriesRule
		q := force.SI / (along * across)
		mx, my, w := Navier(length.SI, span.SI, along, across)
		moment := max(mx, my) * q
		a.Work("moment in the middle", "double sine series, 75 terms each way", check.LineMoment.Of(moment))
		stress := a.Work("bending stress", "6 x moment / thickness²", check.Stress.Of(6*moment/(thick.SI*thick.SI)))
		a.Work("deflection, with a modulus of 200 GPa", "series / (E x thickness³ / (12 x (1 - 0.3²)))", check.Length.Of(w*q*12*(1-poisson*poisson)/(200e9*thick.SI*thick.SI*thick.SI)))
		if has {
			a.Hold(stress, allowed, t.From, check.AtMost(stress.SI, 0, allowed.SI))
		}
		return
	}
	most := a.Work("stress at most", "wheel x (span - tyre / 2) / 4 / (tyre's width x thickness² / 6)", check.Stress.Of(strip(force.SI, span.SI, across, along, thick.SI)))
	least := a.Work("stress at least", "the same with the whole length of the plate", check.Stress.Of(strip(force.SI, span.SI, across, length.SI, thick.SI)))
	a.Work("common practice, no source", "the same with tyre's width + span, no more than the plate is long", check.Stress.Of(strip(force.SI, span.SI, across, min(length.SI, along+span.SI), thick.SI)))
	if !has {
		return
	}
	switch {
	case most.SI <= allowed.SI:
		a.Hold(most, allowed, t.From, finding.Meets)
	case least.SI > allowed.SI:
		a.Hold(least, allowed, t.From, finding.DoesNot)
	default:
		a.Hold(most, allowed, t.From, finding.CannotSay)
	}
}

// byAuthority holds a plate against what road authorities ask for, where that could be read.
func (p *Problem) byAuthority(out *Solution) {
	t := p.Plate
	const decides = "the owner of the road"
	a := p.answer("load.plate-bearing", "the bearing of the plate beyond each side", plateEdges, decides, "a longer plate, or a narrower trench")
	limit := check.Length.Of(12 * 0.0254)
	if is, ok := a.Need("bearing of the plate beyond each side", check.Long(t.Bearing), "", "whoever sets it out"); ok {
		a.Hold(is, limit, a.Rule.Law, check.AtLeast(is.SI, 0, limit.SI))
	}
	out.Answers = append(out.Answers, a)
	if t.Span == nil {
		return
	}
	span := check.Length.Of(t.Span.Metres())
	b := p.answer("load.plate-span", "the span of the plate without an engineer's design", plateSpan, decides, "a design by an engineer")
	b.Give("clear span", span, "")
	limit = check.Length.Of((63 * measure.Inch).Metres())
	b.Hold(span, limit, b.Rule.Law, check.AtMost(span.SI, 0, limit.SI))
	out.Answers = append(out.Answers, b)
	if by := ByTable(*t.Span); by > 0 && t.Thick != nil {
		c := p.answer("load.plate-thickness", "the thickness of the plate against a road authority's table, from memory", plateTable, decides, "the table of the authority of this road")
		c.Give("clear span", span, "")
		c.Give("thickness", check.Length.Of(t.Thick.Metres()), t.From)
		is, asked := check.Length.Of(t.Thick.Metres()), check.Length.Of(by.Metres())
		c.Hold(is, asked, c.Rule.Law, check.AtLeast(is.SI, 0, asked.SI))
		out.Answers = append(out.Answers, c)
	}
}
