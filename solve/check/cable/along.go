package cable

import (
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Cut is what is cut from a drum for one length of cable.
type Cut struct {
	Route *measure.Length // along the run
	Slack *check.Quantity // share of it besides
	Ends  *measure.Length // for both ends together: entries, terminations, tests
	From  string
	Drum  *measure.Length // on the drum
}

// Supports are what cables hang or lie on inside a unit.
type Supports struct {
	Apart *measure.Length
	Bears *check.Quantity // force that one is declared for
	Share *check.Quantity // of all cables that lies on one row of them; nil: all
	From  string
}

var (
	cutRule     = check.Rule{ID: "cable.length", Says: "a cable is cut to route x (1 + slack) + what its ends need", Law: "arithmetic", Source: "slack and ends as entered", Status: check.Closed, Tests: []string{"cable.TestLengthsAndSupports"}}
	supportRule = check.Rule{ID: "cable.support", Says: "one support bears the mass of the cables on the distance to the next", Law: "statics", Source: "what it bears as the supplier has it", Status: check.Closed, Tests: []string{"cable.TestLengthsAndSupports"}}
)

func (q *Cut) bounds() []check.Bound {
	if q == nil {
		return nil
	}
	return []check.Bound{long("a route", q.Route), check.Between("slack", q.Slack, 0, 1, "the share besides, 0 to 100 %"), check.Between("a length for the ends", check.Long(q.Ends), 0, 1e5, "0 and more"), long("a length on the drum", q.Drum)}
}

func (q *Supports) bounds() []check.Bound {
	if q == nil {
		return nil
	}
	return []check.Bound{long("a distance of supports", q.Apart), check.Above("what a support bears", q.Bears, 1e7), check.Between("a share of the cables", q.Share, 1e-6, 1, "above 0 and no more than all of them")}
}

func (p *Problem) lengths(out *Solution) {
	q := p.Cut
	if q == nil {
		return
	}
	a := p.answer("cable.length", "the length that is cut from the drum", cutRule, "whoever orders cables", "another drum, or a joint where the owner allows one")
	route, one := a.Need("length of the route", check.Long(q.Route), "", "whoever sets it out")
	slack, two := a.Need("slack", q.Slack, q.From, owner)
	ends, three := a.Need("length for both ends", check.Long(q.Ends), q.From, owner)
	drum, has := a.Need("length on the drum", check.Long(q.Drum), "", "whoever orders cables")
	if one && two && three {
		cut := a.Work("it is cut to", "route x (1 + slack) + ends", check.Length.Of(float64(route.SI*(1+slack.SI))+ends.SI))
		if has {
			a.Hold(cut, drum, "", check.AtMost(cut.SI, 0, drum.SI))
		}
	}
	out.Answers = append(out.Answers, a)
}

func (p *Problem) supports(out *Solution) {
	q := p.Supports
	if q == nil {
		return
	}
	a := p.answer("cable.support", "what one support bears of the cables", supportRule, supplier, "supports nearer to each other, or stronger ones")
	a.Cautions = append([]string{"people who stand on supports, and cables that are pulled over them, are not in it"}, cautions...)
	sum, known := 0.0, true
	for i := range p.Cables {
		c := &p.Cables[i]
		n := float64(c.Count)
		if c.Trefoil {
			n *= 3
		}
		if mass, ok := a.Need("mass of "+c.Name, lineMass(c.Mass), c.From, maker); ok {
			sum += float64(n * mass.SI)
		} else {
			known = false
		}
	}
	apart, near := a.Need("distance of the supports", check.Long(q.Apart), q.From, supplier)
	bears, has := a.Need("figure for what one support is declared to bear", q.Bears, q.From, supplier)
	if known && near {
		share := 1.0
		if q.Share != nil {
			share = q.Share.SI
			a.Give("share of the cables on this row", *q.Share, q.From)
		}
		all := a.Work("mass of all cables", "sum, three to a bundle", check.LineMass.Of(sum))
		load := a.Work("on one support", "mass x g x distance x share", check.Force.Of(all.SI*check.Gravity*apart.SI*share))
		if has {
			a.Hold(load, bears, q.From, check.AtMost(load.SI, 0, bears.SI))
		}
	}
	out.Answers = append(out.Answers, a)
}
