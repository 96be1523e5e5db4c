package compaction

import (
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Tests is how often fill is tested, as the contract has it, and how often it was.
type Tests struct {
	Run        *measure.Length // length that is filled
	Every      *measure.Length // along the run one test
	Layers     *int            // that are filled
	EachLayers *int            // one test in so many of them; nil: in each
	Least      *int            // for the whole of it
	Done       *int
	Last       *measure.Length // chainage of the last test
	From       string
}

// Held is what a density is held against.
type Held struct {
	Moisture  *check.Quantity // share of the dry mass
	Most      *check.Quantity // greatest dry density of the laboratory
	MostFrom  string
	Asked     *check.Quantity // share of it that the contract asks for
	AskedFrom string
}

// Cone is a test by the sand cone.
type Cone struct {
	Before, After *check.Quantity // mass of sand in the apparatus
	Sand          *check.Quantity // its density
	Volume        *check.Quantity // of cone and base plate
	Soil          *check.Quantity // wet mass out of the hole
	Held
}

// Gauge is a test by a nuclear gauge.
type Gauge struct {
	Wet *check.Quantity // density
	Held
}

const laboratory = "the laboratory"

var (
	testsRule = check.Rule{ID: "compaction.tests", Says: "one test on each stretch, begun ones too, of one in so many layers, and no fewer than the least", Law: "the contract", Source: "as entered", Status: check.Closed, Tests: []string{"compaction.TestCounts"}}
	coneRule  = check.Rule{ID: "compaction.cone", Says: "the hole holds the sand that ran out less that in the cone; wet density is soil / hole, dry density that / (1 + moisture), and is held as a share of the greatest, unrounded", Law: "sand cone test (ASTM D1556)",
		Source: "a worked test, inputs as read", Status: check.ReadIn, Tests: []string{"compaction.TestConeAsPublished"}}
	gaugeRule = check.Rule{ID: "compaction.gauge", Says: "dry density is wet density / (1 + moisture), and is held as a share of the greatest, unrounded", Law: "nuclear gauge test (ASTM D6938)", Source: "a worked test, as read", Status: check.Read,
		Tests: []string{"compaction.TestGaugeAsPublished"}}
)

func (h *Held) bounds() []check.Bound {
	return []check.Bound{check.Between("moisture", h.Moisture, 0, 3, "the share of the dry mass, 0 and more"), check.Above("a greatest dry density", h.Most, 5e3), check.Between("a share of the greatest density", h.Asked, 1e-6, 1.2, "what the contract asks for, for example 95 %")}
}

// Counted is how many tests a stretch of run and its layers need.
func Counted(run, every measure.Length, layers, each, least int) int {
	return max(least, int((run+every-1)/every)*((layers+each-1)/each))
}

// tests holds what was tested against what is due.
func (p *Problem) tests(out *Solution) {
	t := p.Tests
	if t == nil {
		return
	}
	a := p.answer("compaction.tests", "the tests that were made", testsRule, "test before the next layer hides it")
	run, one := a.Need("length that is filled", check.Long(t.Run), "", "whoever sets it out")
	_, two := a.Need("length of run to a test", check.Long(t.Every), t.From, engineer)
	layers, three := a.Need("layers that are filled", count(t.Layers), "", "whoever fills")
	done, four := a.Need("count of tests that were made", count(t.Done), "", laboratory)
	each, least := 1, 0
	if t.EachLayers != nil {
		each = *t.EachLayers
		a.Give("layers to a test", check.Count.Of(float64(each)), t.From)
	}
	if t.Least != nil {
		least = *t.Least
		a.Give("no fewer than", check.Count.Of(float64(least)), t.From)
	}
	if one && two && three {
		a.Work("stretches", "length / length to a test, begun ones too", check.Count.Of(float64((*t.Run+*t.Every-1) / *t.Every)))
		due := a.Work("tests that are due", "stretches x layers / layers to a test, no fewer than the least", check.Count.Of(float64(Counted(*t.Run, *t.Every, int(layers.SI), each, least))))
		if t.Last != nil {
			a.Give("the last test stands at", check.Length.Of(t.Last.Metres()), "")
			if next := *t.Last + *t.Every; next <= *t.Run {
				a.Work("the next one in this layer is due at", "last + length to a test", check.Length.Of(next.Metres()))
			} else {
				a.Work("the next one is due in the next layer, this one ends at", "last + length to a test is beyond it", run)
			}
		}
		if four {
			a.Hold(done, due, t.From, check.AtLeast(done.SI, 0, due.SI))
		}
	}
	out.Answers = append(out.Answers, a)
}

// reduce holds a wet density.
func (h *Held) reduce(a *check.Answer, wet check.Quantity) {
	moisture, one := a.Need("moisture of the soil", h.Moisture, "", laboratory)
	most, two := a.Need("greatest dry density", h.Most, h.MostFrom, laboratory)
	asked, three := a.Need("share of it that is asked for", h.Asked, h.AskedFrom, engineer)
	if !one {
		return
	}
	dry := a.Work("dry density", "wet density / (1 + moisture)", check.Density.Of(wet.SI/(1+moisture.SI)))
	if !two {
		return
	}
	share := a.Work("of the greatest", "dry density / greatest dry density", check.Percent.Of(dry.SI/most.SI))
	if three {
		a.Hold(share, asked, h.AskedFrom, check.AtLeast(share.SI, 0, asked.SI))
	}
}

// cone reduces a sand cone test.
func (p *Problem) cone(out *Solution) {
	c := p.Cone
	if c == nil {
		return
	}
	a := p.answer("compaction.cone", "the dry density by the sand cone, of the greatest", coneRule, "more passes at the right moisture, thinner layers, and another test")
	before, one := a.Need("mass of sand before", c.Before, "", laboratory)
	after, two := a.Need("mass of sand behind", c.After, "", laboratory)
	sand, three := a.Need("density of the sand", c.Sand, "", laboratory)
	cone, four := a.Need("volume of the cone", c.Volume, "", laboratory)
	soil, five := a.Need("wet mass out of the hole", c.Soil, "", laboratory)
	if one && two && three && four && five {
		hole := a.Work("hole", "(sand before - behind) / its density - cone", check.Volume.Of((before.SI-after.SI)/sand.SI-cone.SI))
		if hole.SI <= 0 {
			a.Missing = append(a.Missing, check.Missing{What: "hole by these figures: less sand ran out than the cone holds, and a figure that fits is", Ask: laboratory})
		} else {
			c.reduce(&a, a.Work("wet density", "wet mass / hole", check.Density.Of(soil.SI/hole.SI)))
		}
	}
	out.Answers = append(out.Answers, a)
}

// gauge reduces a reading of a nuclear gauge.
func (p *Problem) gauge(out *Solution) {
	g := p.Gauge
	if g == nil {
		return
	}
	a := p.answer("compaction.gauge", "the dry density by the gauge, of the greatest", gaugeRule, "more passes at the right moisture, thinner layers, and another test")
	a.Cautions = append([]string{"walls and cables beside a gauge mislead it; its own correction in a trench goes first"}, cautions...)
	if wet, ok := a.Need("wet density", g.Wet, "", laboratory); ok {
		g.reduce(&a, wet)
	}
	out.Answers = append(out.Answers, a)
}
