package load

import (
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Wall is a wall of a unit with earth beside it, and what stands on that.
type Wall struct {
	Height      *measure.Length
	Weight      *check.Quantity // of the earth, by volume
	Phi         *measure.Angle  // its angle of friction
	SoilFrom    string
	K           *float64 // coefficient that the engineer asks for; nil: Rankine's, which can only say no
	KFrom       string
	Surcharge   *check.Quantity // even pressure on the ground beside it
	Strip       *Beam           // plant, spoil or a track beside it
	Traffic     bool            // vehicles pass beside it
	Bears       *check.Quantity // pressure that the wall is declared for
	BearsFrom   string
	StandsUnder string // who said what stands beside it
}

// Beam is a pressure on a strip along the run.
type Beam struct {
	Pressure  check.Quantity
	Near, Far measure.Length // of its edges, from the face of the wall
}

var (
	wallRule = check.Rule{ID: "load.wall", Says: "earth and an even surcharge press on a wall with a coefficient x (weight x depth + surcharge)", Law: "Rankine's theory of earth pressure", Source: "worked example of a textbook, inputs as read, with the engineer's coefficient",
		Status: check.Closed, Tests: []string{"load.TestRankineAsPublished"}}
	restRule = check.Rule{ID: "load.wall-active", Only: "does not, or cannot say", Says: "the same with Rankine's coefficient for a wall that gives way: one that does not bears more (1 - sine of the angle of friction, Jaky), so that this can say no and never yes", Law: "Rankine's theory of earth pressure",
		Source: "worked example of a textbook, inputs as read", Status: check.ReadIn, Tests: []string{"load.TestRankineAsPublished", "load.TestWallThatDoesNotGiveWay"}}
	stripRule = check.Rule{ID: "load.strip", Only: "gives its figure to load.wall", Says: "a strip beside a wall that does not give way presses on it twice what the half space has there: 2q/pi x (angle - sine of it x cosine of twice the angle to its middle)", Law: "theory of elasticity (Boussinesq)",
		Source: "formula as read", Status: check.Closed, Tests: []string{"load.TestSoilAsPublished", "load.TestStripAgainstPoints"}}
	trafficRule = check.Rule{ID: "load.traffic", Only: "gives its figure to load.wall", Says: "where vehicles pass beside a dig, no less than 72 lbf/ft² presses on its side, down to 10 ft", Law: "California Trenching and Shoring Manual, 4.8.1", Source: "a stored copy, as read",
		Status: check.Read, Tests: []string{"load.TestTrafficBesideWall"}}
)

// traffic is the least pressure where vehicles pass, Pa, and how deep it goes, m.
const (
	traffic     = 72 * check.Pound * check.Gravity / (0.3048 * 0.3048)
	trafficDeep = 10 * 0.3048
)

func (w *Wall) bounds() []check.Bound {
	list := []check.Bound{long("a height of the wall", w.Height), check.Between("a weight of earth", w.Weight, 5e3, 3e4, "the weight by volume, for example 19 kN/m³ or 120 pcf"), check.Between("a surcharge", w.Surcharge, 0, 1e6, "the pressure on the ground, 0 and more"),
		check.Above("a pressure that the wall bears", w.Bears, 1e8)}
	if w.Phi != nil {
		list = append(list, check.Between("an angle of friction", new(check.Angle.Of(w.Phi.Degrees()*math.Pi/180)), 0, 50*math.Pi/180, "the engineer's angle, 0 to 50 deg"))
	}
	if w.K != nil {
		list = append(list, check.Between("a coefficient of earth pressure", new(check.Ratio.Of(*w.K)), 0.1, 5, "the engineer's coefficient, for example 0.5"))
	}
	if s := w.Strip; s != nil {
		list = append(list, check.Above("a pressure of the strip", &s.Pressure, 1e7), check.Between("a distance of the strip", check.Long(&s.Near), 0, longest.Metres(), "the nearer edge of it from the wall, 0 and more"),
			check.Between("a far edge of the strip", check.Long(&s.Far), s.Near.Metres()+1e-6, longest.Metres(), "the nearer edge first: 1m..3m"))
	}
	return list
}

// coefficient is the engineer's, or Rankine's.
func (w *Wall) coefficient(a *check.Answer) (k float64, ok bool) {
	if w.K != nil {
		a.Give("coefficient of earth pressure", check.Ratio.Of(*w.K), w.KFrom)
		return *w.K, true
	}
	var phi *check.Quantity
	if w.Phi != nil {
		phi = new(check.Angle.Of(w.Phi.Degrees() * math.Pi / 180))
	}
	is, ok := a.Need("angle of friction of the earth, or the coefficient that counts", phi, w.SoilFrom, engineer)
	if !ok {
		return 0, false
	}
	a.Rule = restRule
	a.Work("at rest it would be, from memory", "1 - sine of the angle of friction (Jaky)", check.Ratio.Of(AtRest(is.SI)))
	return a.Work("coefficient where the wall gives way", "tangent² of (45 deg - angle / 2)", check.Ratio.Of(Active(is.SI))).SI, true
}

// slices is how finely a wall is looked at from its top to its foot.
const slices = 400

// wall holds the pressure on a wall against what it is declared for.
func (p *Problem) wall(out *Solution) {
	w := p.Wall
	if w == nil {
		return
	}
	a := p.answer("load.wall", "the highest pressure on the wall", wallRule, engineer, "keep plant, spoil and vehicles further away, fill both sides alike, or brace the walls as the supplier draws it")
	a.Cautions = append([]string{"earth is taken to be drained and level behind the wall; water behind it presses with its full weight besides"}, cautions...)
	height, one := a.Need("height of earth at the wall", check.Long(w.Height), "", supplier)
	weight, two := a.Need("weight of the earth by volume", w.Weight, w.SoilFrom, engineer)
	k, three := w.coefficient(&a)
	bears, has := a.Need("pressure that the wall is declared for", w.Bears, w.BearsFrom, supplier)
	if !one || !two || !three {
		out.Answers = append(out.Answers, a)
		return
	}
	even := 0.0
	if w.Surcharge != nil {
		even = w.Surcharge.SI
		a.Give("even surcharge", *w.Surcharge, w.StandsUnder)
	}
	if s := w.Strip; s != nil {
		a.Give("strip beside it", s.Pressure, w.StandsUnder)
		a.Give("its edges from the wall", check.Length.Of(s.Near.Metres()), w.StandsUnder)
		a.Give("and", check.Length.Of(s.Far.Metres()), w.StandsUnder)
	}
	at := func(z float64) float64 {
		on := float64(k * even)
		if s := w.Strip; s != nil {
			on += float64(Beside(s.Pressure.SI, s.Near.Metres(), s.Far.Metres(), z))
		}
		if w.Traffic && z <= trafficDeep {
			on = max(on, traffic)
		}
		return on + float64(k*weight.SI*z)
	}
	a.Work("earth at the foot", "coefficient x weight x height", check.Pressure.Of(k*weight.SI*height.SI))
	if even > 0 {
		a.Work("surcharge", "coefficient x surcharge, at every depth", check.Pressure.Of(k*even))
	}
	if w.Traffic {
		a.Work("vehicles beside it, no less than", "to a depth of 10 ft ("+trafficRule.Law+")", check.Pressure.Of(traffic))
	}
	if w.Strip != nil {
		a.Work("strip at the foot", "2q/pi x (angle - sine x cosine of twice the angle to its middle)", check.Pressure.Of(Beside(w.Strip.Pressure.SI, w.Strip.Near.Metres(), w.Strip.Far.Metres(), height.SI)))
	}
	worst, where, thrust, moment := at(0), 0.0, 0.0, 0.0
	step := height.SI / slices
	for i := 1; i <= slices; i++ {
		z := height.SI * float64(i) / slices
		if q := at(z); q > worst {
			worst, where = q, z
		}
		above, below := at(z-step), at(z)
		part, arm := float64((above+below)/2*step), height.SI-z+float64(step/3*(float64(2*above)+below)/max(above+below, 1e-30))
		thrust += part
		moment += float64(part * arm)
	}
	highest := a.Work("highest pressure", "all of it, at the depth where it is most", check.Pressure.Of(worst))
	a.Work("at a depth of", "below the top of the earth", check.Length.Of(where))
	a.Work("thrust on a length of run", "all of it, over the height", check.LineForce.Of(thrust))
	if thrust > 0 {
		a.Work("which acts above the foot", "moment about the foot / thrust", check.Length.Of(moment/thrust))
	}
	if has {
		verdict := check.AtMost(highest.SI, 0, bears.SI)
		if w.K == nil && verdict == finding.Meets {
			verdict = finding.CannotSay // a wall that does not give way bears more than this
		}
		a.Hold(highest, bears, w.BearsFrom, verdict)
	}
	out.Answers = append(out.Answers, a)
}
