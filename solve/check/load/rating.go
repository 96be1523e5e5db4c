package load

import (
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Rated is what the supplier declares that a unit or a cover bears: a class of test load, a design vehicle, or a wheel on a patch.
type Rated struct {
	Class   string          // "D400"
	Vehicle string          // "hs20"
	Wheel   *check.Quantity // force
	On      Patch           // that it is declared on
	Opening *measure.Length // clear, that a cover of a class spans; nil: not on file
	From    string
	Piece   string // what was done to the piece: "" whole, else cut, mitred, cored
	Keeps   *bool  // word of the supplier that such a piece keeps the rating

	Asked     string // class that the place asks for
	AskedFrom string
}

// classes are those of EN 124 and EN 1433 with their test loads, kN; the groups of places are numbered in the same order, from 1.
var classes = []struct {
	name string
	kN   float64
}{{"A15", 15}, {"B125", 125}, {"C250", 250}, {"D400", 400}, {"E600", 600}, {"F900", 900}}

// TestLoad is the test load of a class, and the group of places that it is the least class of; 0, 0: no such class.
func TestLoad(class string) (newtons float64, group int) {
	for i, c := range classes {
		if strings.EqualFold(c.name, strings.ReplaceAll(class, " ", "")) {
			return c.kN * 1000, i + 1
		}
	}
	return 0, 0
}

var (
	classRule = check.Rule{ID: "load.class", Only: "a class against a class: meets or does not; a wheel against a test load: does not, or cannot say", Says: "test load by class, kN: A15 15, B125 125, C250 250, D400 400, E600 600, F900 900; groups of places 1 to 6 ask for no less than these, in this order, and the designer chooses",
		Law: "EN 1433:2002, clauses 4 and 5; EN 124", Source: "an excerpt of BS EN 1433, as read", Status: check.Read, Tests: []string{"load.TestClasses"}}
	openingRule = check.Rule{ID: "load.class-opening", Says: "over a clear opening below 250 mm a class is tested with its test load x opening / 250 mm, no less than 0.6 of it", Law: "EN 124", Status: check.Memory, Tests: []string{"load.TestNarrowOpening"}}
	wheelRule   = check.Rule{ID: "load.wheel", Says: "a wheel bears on no less than the patch that the rating is declared for, and weighs no more", Law: "the supplier's declaration", Source: "as entered",
		Status: check.Closed, Tests: []string{"load.TestWheelAgainstRating"}}
	likeRule = check.Rule{ID: "load.like", Says: "a rating by a design vehicle holds for what has no heavier wheel, no smaller tyre and no closer axles and wheels than that vehicle", Law: "the supplier's declaration",
		Source: "as entered; the vehicle as in load.vehicle", Status: check.Closed, Tests: []string{"load.TestRatedAsVehicle"}}
)

// narrow is the clear opening from which on a class is tested with the whole of its test load.
const narrow = 250 * measure.Millimetre

// OpeningShare is the share of its test load that a class is tested with over a clear opening; from memory.
func OpeningShare(opening measure.Length) float64 {
	return min(1, max(0.6, float64(opening)/float64(narrow)))
}

func (p *Problem) named(out *Solution, r *Rated) {
	for _, class := range []string{r.Class, r.Asked} {
		if n, _ := TestLoad(class); class != "" && n == 0 {
			p.fault(out, "there is no class "+class, "one of A15, B125, C250, D400, E600 and F900")
		}
	}
	if r.Vehicle != "" && Design(r.Vehicle) == nil {
		p.fault(out, "there is no design vehicle "+r.Vehicle+" on file", "hs20 or hl93, or the vehicle's own axles")
	}
	switch r.Piece {
	case "", "whole", "cut", "mitred", "cored":
	default:
		p.fault(out, "a piece that is "+r.Piece+" is none that can be told", "whole, cut, mitred or cored")
	}
}

// rating holds the heaviest wheel against what is declared.
func (p *Problem) rating(out *Solution) {
	r := p.Rated
	if r == nil {
		return
	}
	a := p.answer("load.wheel", "the heaviest wheel against the rating that is declared", wheelRule, engineer, "another way across, a lighter vehicle, a unit or cover with another rating, or a bridge over it")
	a.Stop = true
	v, force, on, crosses := p.wheel(&a)
	r.inherits(&a)
	switch {
	case r.Class != "":
		p.byClass(out, a, force, crosses)
		return
	case r.Vehicle != "":
		p.byVehicle(&a, v, force, on, crosses)
	case r.Wheel != nil:
		a.Give("rated wheel", *r.Wheel, r.From)
		moving, ok := p.moving(&a, force)
		if !r.On.known() {
			a.Missing = append(a.Missing, check.Missing{What: "patch that the rated wheel is declared on", Ask: supplier})
		} else {
			a.Give("declared on, across", check.Length.Of(r.On.Across.Metres()), r.From)
			a.Give("declared on, along", check.Length.Of(r.On.Along.Metres()), r.From)
		}
		if crosses && ok {
			verdict := check.AtMost(moving.SI, 0, r.Wheel.SI)
			if verdict == finding.Meets && !r.On.within(on) {
				verdict = finding.CannotSay // a smaller tyre presses harder than what was declared
			}
			a.Hold(moving, *r.Wheel, r.From, verdict)
		}
	default:
		a.Missing = append(a.Missing, check.Missing{What: "load rating of unit and cover at the crossing", Ask: supplier})
	}
	out.Answers = append(out.Answers, a)
}

// inherits notes that a piece that is not whole has no rating, unless the supplier says that it keeps it.
func (r *Rated) inherits(a *check.Answer) {
	if r.Piece == "" || r.Piece == "whole" || r.Keeps != nil && *r.Keeps {
		return
	}
	what := "word on file that a " + r.Piece + " piece keeps the rating; it does not inherit it, and none of its own is"
	a.Missing = append(a.Missing, check.Missing{What: what, Ask: supplier})
}

// within tells whether a tyre covers no less than the patch, to a hundredth: the specification itself writes 20 in as 510 mm.
func (p Patch) within(tyre Patch) bool {
	return tyre.Across >= p.Across-p.Across/100 && tyre.Along >= p.Along-p.Along/100
}

// byClass holds the class that is declared against the one that is asked for, and the wheel against the test load: a wheel below the
// test load says nothing yet, for places ask for classes, not for loads.
func (p *Problem) byClass(out *Solution, a check.Answer, force check.Quantity, crosses bool) {
	r := p.Rated
	declared, _ := TestLoad(r.Class)
	a.Rule = classRule
	a.Give("test load of class "+strings.ToUpper(r.Class), check.Force.Of(declared), r.From)
	if crosses {
		verdict := finding.CannotSay
		if force.SI > declared {
			verdict = finding.DoesNot
		}
		a.What = "the heaviest wheel against the test load of the class; places ask for a class, not for a wheel"
		a.Hold(force, check.Force.Of(declared), r.From, verdict)
	}
	b := p.answer("load.class", "the class that is declared against the class that the place asks for", classRule, "the designer", "a unit and cover of the class that is asked for")
	b.Give("test load of class "+strings.ToUpper(r.Class), check.Force.Of(declared), r.From)
	r.inherits(&b)
	if asked, group := TestLoad(r.Asked); group > 0 {
		b.Give("test load of class "+strings.ToUpper(r.Asked)+", which is asked for", check.Force.Of(asked), r.AskedFrom)
		b.Hold(check.Force.Of(declared), check.Force.Of(asked), r.AskedFrom, check.AtLeast(declared, 0, asked))
	} else {
		b.Missing = append(b.Missing, check.Missing{What: "class that this place asks for (EN 1433, groups 1 to 6)", Ask: "the designer"})
	}
	out.Answers = append(out.Answers, a, b)
	if r.Opening != nil && *r.Opening < narrow && crosses {
		c := p.answer("load.class-opening", "the heaviest wheel against the test load of the class over its narrow opening, from memory", openingRule, supplier, "the load that covers of this opening were tested with, from the supplier")
		c.Give("heaviest wheel", force, "above")
		c.Give("test load of class "+strings.ToUpper(r.Class), check.Force.Of(declared), r.From)
		c.Give("clear opening", check.Length.Of(r.Opening.Metres()), r.From)
		tested := c.Work("tested with", "test load x opening / 250 mm, no less than 0.6 of it", check.Force.Of(declared*OpeningShare(*r.Opening)))
		c.Hold(force, tested, c.Rule.Law, check.AtMost(force.SI, 0, tested.SI))
		out.Answers = append(out.Answers, c)
	}
}

// byVehicle holds a vehicle against the design vehicle that a rating is declared for, without dynamic allowance: both move.
func (p *Problem) byVehicle(a *check.Answer, v *Vehicle, force check.Quantity, on Patch, crosses bool) {
	a.Rule = likeRule
	rated, from := 0.0, p.Rated.From
	var apart, wheels *measure.Length
	for _, d := range Design(p.Rated.Vehicle) {
		rated = max(rated, d.heaviest())
		wheels = d.Apart
		for _, x := range d.Axles[1:] {
			if x.Load.SI == 2*d.heaviest() && (apart == nil || x.Behind < *apart) {
				apart = new(x.Behind)
			}
		}
	}
	limit := check.Force.Of(rated)
	a.Give("heaviest wheel of the vehicle that the rating names", limit, from)
	if !crosses {
		return
	}
	verdict := check.AtMost(force.SI, 0, rated*(1+1e-12))
	like := (Patch{20 * measure.Inch, 10 * measure.Inch}).within(on) && v.Apart != nil && *v.Apart >= *wheels
	for _, x := range v.Axles[1:] {
		like = like && x.Behind >= *apart
	}
	if verdict == finding.Meets && !like {
		verdict = finding.CannotSay
	}
	a.Hold(force, limit, from, verdict)
}
