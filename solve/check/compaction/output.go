package compaction

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Output is what one machine puts in place.
type Output struct {
	Width      *measure.Length
	Speed      *check.Quantity
	Layer      *measure.Length // compacted
	Efficiency *check.Quantity // share of the hour that it works
	Passes     *int
	Shrink     *check.Quantity // what a bank volume comes to compacted; nil: not told
	Demand     *check.Quantity // compacted volume that comes in an hour; with Shrink, as it was in the bank
	From       string
}

var outputRule = check.Rule{ID: "compaction.output", Says: "width x speed x layer x efficiency / passes, compacted; 16.3 W S L E / P in yd³/h, ft, mph and in is that", Law: "production formula of plant handbooks", Source: "a worked example, as read", Status: check.Read,
	Tests: []string{"compaction.TestOutputAsPublished"}}

// output holds what machines put in place against what comes.
func (p *Problem) output(out *Solution) {
	o := p.Output
	if o == nil {
		return
	}
	const planner = "whoever plans the work"
	a := p.answer("compaction.output", "what one machine compacts in an hour", outputRule, "another machine beside it, a wider one, or less that comes")
	a.Decides = planner
	width, one := a.Need("width of the machine", check.Long(o.Width), o.From, "whoever brings it")
	speed, two := a.Need("its speed", o.Speed, o.From, "whoever brings it")
	layer, three := a.Need("thickness of a layer, compacted", check.Long(o.Layer), o.From, engineer)
	share, four := a.Need("share of the hour that it works", o.Efficiency, o.From, planner)
	passes, five := a.Need("passes", count(o.Passes), o.From, engineer)
	demand, six := a.Need("what comes in an hour", o.Demand, o.From, planner)
	if one && two && three && four && five {
		is := a.Work("it compacts", "width x speed x layer x share / passes", check.VolumeRate.Of(width.SI*speed.SI*layer.SI*share.SI/passes.SI))
		if o.Shrink != nil {
			a.Give("a bank volume comes to, compacted", *o.Shrink, o.From)
			is = a.Work("which was in the bank", "/ that share", check.VolumeRate.Of(is.SI/o.Shrink.SI))
		}
		if six {
			a.Work("machines that it takes", "what comes / that, rounded up", check.Count.Of(math.Ceil(demand.SI/is.SI-1e-9)))
			a.Hold(is, demand, o.From, check.AtLeast(is.SI, 0, demand.SI))
		}
	}
	out.Answers = append(out.Answers, a)
}
