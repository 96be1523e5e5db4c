package lifting

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Sling is what hangs between the hook and the piece.
type Sling struct {
	Legs      int
	Equalised bool            // a device shares the load out among all legs
	Angle     *measure.Angle  // of each leg to the horizontal
	Spread    *measure.Length // or: how far the two lifting points of a pair stand apart,
	Height    *measure.Length // and the hook above them
	Near      *measure.Length // and where the centre of gravity is not half way: how far it is from the first of them
	Lengths   [2]measure.Length
	Limit     *measure.Mass // working load limit of one leg
	LimitFrom string
	Point     *measure.Mass // what the supplier says that one lifting point carries at this angle
	PointFrom string
	Eyebolt   *measure.Length // nominal size of shouldered eyebolts, where the points are such
	Strut     string          // spreader or strut between the walls, by the supply; "" none on file
}

// least is the angle to the horizontal below which no leg is worked out.
const least = 30

var (
	legs = check.Rule{ID: "lifting.legs", Says: "each of n legs that carry pulls with the load / (n x sine of its angle to the horizontal)",
		Law: "statics", Source: "factors as printed in rigging tables of a university and of suppliers", Status: check.Closed, Tests: []string{"lifting.TestSlingFactors"}}
	unequal = check.Rule{ID: "lifting.unequal", Says: "where the centre of gravity is not half way, the steeper leg pulls more: load x distance of the other point x length of the leg / (height x spread)",
		Law: "statics", Source: "a shipping handbook's formula, as read", Status: check.Closed, Tests: []string{"lifting.TestUnequalLegs"}}
)

func (s *Sling) sound(p *Problem, out *Solution) bool {
	ok := true
	if s.Legs < 1 || s.Legs > 4 {
		ok = p.fault(out, fmt.Sprintf("a sling of %d legs cannot be", s.Legs), "1 to 4 legs")
	}
	for _, l := range []struct {
		name string
		is   *measure.Length
	}{{"a spread of the lifting points", s.Spread}, {"a height of the hook", s.Height}, {"a distance of the centre of gravity", s.Near}} {
		if l.is != nil && (*l.is <= 0 || *l.is > longest) {
			ok = p.fault(out, fmt.Sprintf("%s of %s cannot be", l.name, p.Words.Length(*l.is)), "a length above 0")
		}
	}
	if s.Near != nil && s.Spread != nil && *s.Near >= *s.Spread {
		ok = p.fault(out, "the centre of gravity does not lie between the lifting points", "another pair of points: the piece would tip")
	}
	if !ok {
		return false
	}
	for i, want := range s.drawn() {
		if got := s.Lengths[i]; got != 0 && (got-want).Abs() > want/100 {
			ok = p.fault(out, fmt.Sprintf("leg %d of %s does not fit: height and distance make it %s", i+1, p.Words.Length(got), p.Words.Length(want)), "measure height, distances and legs again; they belong together")
		}
	}
	for _, at := range s.angles() {
		if at < least || at > 90 {
			ok = p.fault(out, fmt.Sprintf("a leg at %.1f deg to the horizontal: below %d deg nothing is worked out", at, least), "longer legs, or a beam")
		}
	}
	return ok
}

// drawn are the lengths of the legs of one pair by height and distances; none where these are not known.
func (s *Sling) drawn() []measure.Length {
	if s.Spread == nil || s.Height == nil {
		return nil
	}
	a, b := s.reach()
	h := s.Height.Metres()
	return []measure.Length{measure.FromMetres(math.Hypot(h, a)), measure.FromMetres(math.Hypot(h, b))}
}

// reach are the distances of the two points of a pair from below the hook, which stands over the centre of gravity.
func (s *Sling) reach() (a, b float64) {
	spread := s.Spread.Metres()
	if s.Near == nil {
		return spread / 2, spread / 2
	}
	return s.Near.Metres(), spread - s.Near.Metres()
}

// angles are those of the legs to the horizontal, in degrees; none where they are not known.
func (s *Sling) angles() []float64 {
	switch {
	case s.Legs == 1:
		return []float64{90}
	case s.Angle != nil:
		return []float64{s.Angle.Degrees()}
	case s.Spread == nil || s.Height == nil:
		return nil
	}
	a, b := s.reach()
	deg := func(x float64) float64 { return math.Atan2(s.Height.Metres(), x) * (180 / math.Pi) }
	if a == b {
		return []float64{deg(a)}
	}
	return []float64{deg(a), deg(b)}
}

// carrying is how many legs are counted: a rigid piece hangs on two of three or four, unless a device shares the load out.
func (s *Sling) carrying() int {
	if s.Legs > 2 && !s.Equalised {
		return 2
	}
	return s.Legs
}

// sling works the legs out, and holds them.
func (p *Problem) sling(out *Solution) {
	s := p.Sling
	for _, each := range []struct {
		id, what  string
		limit     *measure.Mass
		from, ask string
		missing   string
	}{
		{"lifting.leg", "the load in one leg of the sling", s.Limit, s.LimitFrom, "whoever keeps the lifting gear, from the tag of the sling", "working load limit of the sling"},
		{"lifting.point", "the load on one lifting point", s.Point, s.PointFrom, "the supplier", "capacity of the lifting points at this angle"},
	} {
		a := p.answer(each.id, each.what, legs, "longer legs, a beam, another sling or other lifting points")
		a.Stop = each.id == "lifting.point"
		load := p.load(&a)
		worst, ok := p.worst(&a, load)
		limit, has := a.Need(each.missing, some(each.limit, mass), each.from, each.ask)
		if each.id == "lifting.point" && s.Eyebolt != nil && ok {
			limit, has = p.eyebolt(&a, limit, has)
		}
		if ok && has {
			a.Hold(worst, limit, each.from, check.AtMost(worst.SI, 0, limit.SI))
		}
		out.Answers = append(out.Answers, a)
	}
	if s.Legs > 1 && s.Strut == "" {
		out.Findings = append(out.Findings, finding.NoneOnFile("word of the supplier whether legs at an angle may pull the walls inwards, or need a spreader or strut", "the supplier", p.Where))
	}
}

// load is the mass that hangs in the sling, with what the planner adds for movement.
func (p *Problem) load(a *check.Answer) check.Quantity {
	if p.More == nil {
		return mass(*p.Mass)
	}
	a.Give("factor for movement", check.Ratio.Of(*p.More), p.MoreBy)
	return a.Work("load with movement", "mass x factor for movement", check.Mass.Of(p.Mass.Kilograms()**p.More))
}

// worst is the load in the leg that pulls most, as a mass.
func (p *Problem) worst(a *check.Answer, load check.Quantity) (check.Quantity, bool) {
	s := p.Sling
	angles := s.angles()
	if len(angles) == 0 {
		a.Missing = append(a.Missing, check.Missing{What: "angle of the legs, or spread of the lifting points and height of the hook", Ask: planner})
		return check.Quantity{}, false
	}
	n := s.carrying()
	if len(angles) == 2 {
		a.Rule = unequal
		x, y := s.reach()
		h, pairs := s.Height.Metres(), float64(max(1, n/2))
		a.Give("height of the hook above the points", length(*s.Height), "")
		a.Give("distance of the first point from the centre of gravity", check.Length.Of(x), "")
		a.Give("distance of the second point", check.Length.Of(y), "")
		first := a.Work("first leg", "load x second distance x length of the leg / (height x spread)", check.Mass.Of(load.SI*y*math.Hypot(h, x)/(h*(x+y))/pairs))
		second := a.Work("second leg", "load x first distance x length of the leg / (height x spread)", check.Mass.Of(load.SI*x*math.Hypot(h, y)/(h*(x+y))/pairs))
		if first.SI > second.SI {
			return first, true
		}
		return second, true
	}
	a.Give("angle of the legs to the horizontal", check.Angle.Of(angles[0]*math.Pi/180), "")
	legs := "legs that carry"
	if n < s.Legs {
		legs = fmt.Sprintf("legs that are counted, of %d on a rigid piece", s.Legs)
	}
	a.Give(legs, check.Count.Of(float64(n)), "")
	f := a.Work("factor of the angle", "1 / sine of the angle", check.Ratio.Of(1/math.Sin(angles[0]*math.Pi/180)))
	return a.Work("load in one leg", "load x factor / legs", check.Mass.Of(load.SI*f.SI/float64(n))), true
}
