package planner

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"trenchwright/base/measure"
	"trenchwright/place/ground"
	"trenchwright/solve/check/excavation"
	"trenchwright/solve/earthwork"
)

// DigHere is the section of the dig at one chainage. Depths are from the ground as it is.
type DigHere struct {
	Centre   measure.MM  `json:"centre_depth_mm"` // at the centreline
	Deepest  measure.MM  `json:"deepest_mm"`      // from the higher edge, as the rules count it: down to the trench of the drain where that lies lower
	Side     string      `json:"deepest_side"`    // on which the higher edge is
	Bottom   measure.MM  `json:"bottom_width_mm"`
	Top      measure.MM  `json:"top_width_mm"`
	Left     measure.MM  `json:"left_edge_mm"` // from the centreline
	Right    measure.MM  `json:"right_edge_mm"`
	Low      float64     `json:"bottom_m"` // level at the centreline
	Form     string      `json:"sides"`    // vertical, supported, sloped, benched
	Slope    string      `json:"slope"`    // 1:1.5, rise to run; "" where there is none
	ToRock   *measure.MM `json:"rock_below_ground_mm"`
	InRock   *measure.MM `json:"rock_above_bottom_mm"`  // below nought: so far below the bottom
	InWater  *measure.MM `json:"water_above_bottom_mm"` // likewise
	DugArea  float64     `json:"dug_m2"`
	RockArea float64     `json:"rock_m2"`
}

// RulesHere is the dig at one place held against the rules of the jurisdiction. It calculates and keeps record: the soil's
// class and the release for entry are the competent person's.
type RulesHere struct {
	Rules   string             `json:"rules"`
	Read    string             `json:"read"`
	Needed  *bool              `json:"protection_needed"` // null: cannot say
	Stopped bool               `json:"stopped"`
	Results []ExcavationResult `json:"results"`
	Ladder  *LadderNear        `json:"ladder"` // null: no ways out were planned on this leg
}

// LadderNear is the nearest way out on the leg: one that the job states, else one where the fewest stand evenly.
type LadderNear struct {
	Chainage measure.MM `json:"chainage_mm"`
	Away     measure.MM `json:"away_mm"` // up-chainage above nought
	Stated   bool       `json:"stated"`  // in the job
}

// section is the section of the dig at a place, from the one span that holds it: its neighbours do not change it.
func (a *Answers) section(leg int, at measure.Length) (earthwork.Sheet, *earthwork.Span, bool) {
	if a.b.asked == nil {
		return earthwork.Sheet{}, nil, false
	}
	p := *a.b.asked
	l := p.Legs[leg]
	n := len(l.Spans)
	if n == 0 || at < l.Spans[0].From || at > l.Spans[n-1].To {
		return earthwork.Sheet{}, nil, false
	}
	k := min(sort.Search(n, func(k int) bool { return l.Spans[k].To > at }), n-1)
	l.Spans, l.Pads, l.Services = l.Spans[k:k+1], nil, nil
	p.Legs, p.Nodes = []earthwork.Leg{l}, nil
	sheet, said := earthwork.SectionAt(&p, 0, at)
	if said.Any("fault") || sheet.Areas.Dug() == 0 {
		return sheet, &l.Spans[0], false
	}
	for _, edge := range []measure.Length{sheet.Left.Offset, sheet.Right.Offset, sheet.BottomLeft.Offset, sheet.BottomRight.Offset} {
		if _, ok := a.b.ground.Of(ground.Existing).At(a.b.axes[leg].line.Beside(at, edge)); !ok {
			return sheet, &l.Spans[0], false
		}
	}
	return sheet, &l.Spans[0], true
}

func (a *Answers) digHere(s Spot, out *DepthAnswer) {
	sheet, span, ok := a.section(s.Leg, s.At)
	if !ok || out.Levels.Existing == nil {
		if span != nil && a.b.asked != nil && len(out.NoGround) == 0 && sheet.Areas.Dug() > 0 {
			out.NoGround = append(out.NoGround, "existing, over the whole width of the dig")
		}
		return
	}
	low := sheet.BottomLeft.Level + (sheet.BottomRight.Level-sheet.BottomLeft.Level)/2
	ground := measure.FromMetres(*out.Levels.Existing)
	d := DigHere{Centre: measure.MM(ground - low), Bottom: measure.MM(sheet.Bottom), Top: measure.MM(sheet.Right.Offset - sheet.Left.Offset),
		Left: measure.MM(-sheet.Left.Offset), Right: measure.MM(sheet.Right.Offset), Low: low.Metres(), Form: string(span.Section.Sides.Form), DugArea: sheet.Areas.Dug(), RockArea: sheet.Areas.Rock}
	d.Deepest, d.Side = measure.MM(sheet.Depth()), "left"
	if sheet.Right.Level > sheet.Left.Level {
		d.Side = "right"
	}
	if g := span.Section.Sides.Slope; g != nil && d.Form != string(earthwork.Vertical) && d.Form != string(earthwork.Supported) {
		d.Slope = riseToRun(*g)
	}
	if r := out.Levels.Rock; r != nil {
		rock := measure.FromMetres(*r)
		d.ToRock, d.InRock = mmp(ground-rock), mmp(rock-low)
	}
	if w := out.Levels.Water; w != nil {
		d.InWater = mmp(measure.FromMetres(*w) - low)
	}
	out.Dig = &d
	out.Rules = a.rulesHere(s, span, measure.Length(d.Deepest))
}

// rulesHere holds the depth at a place against the rules, with everything else as the leg was held against them. Ways out
// serve a whole trench: where this place is deep enough for them, what was found for the leg stands.
func (a *Answers) rulesHere(s Spot, span *earthwork.Span, depth measure.Length) *RulesHere {
	id := a.legs[s.Leg].id
	leg := slices.IndexFunc(a.b.plan.Excavation, func(e Excavation) bool { return e.Leg == id }) // the first part has the ways out
	if leg < 0 {
		return nil
	}
	q := a.b.askExcavation(id, (span.From+span.To)/2)
	q.Stretch = []excavation.Stretch{{From: span.From, To: span.To, Depth: depth}}
	q.Crossings = slices.DeleteFunc(q.Crossings, func(c excavation.Crossing) bool { return c.At < span.From || c.At > span.To })
	stated := q.Ladders
	q.Ladders = nil
	sol := excavation.Check(&q)
	out := &RulesHere{Needed: sol.Needed, Stopped: sol.Stopped, Results: []ExcavationResult{}}
	if sol.Profile != nil {
		out.Rules, out.Read = sol.Profile.Name+", "+sol.Profile.Law, sol.Profile.Read
	}
	for _, r := range sol.Results {
		one := ExcavationResult{ID: r.ID, What: r.What, Verdict: string(r.Verdict), Value: r.Value, Limit: r.Limit, Rule: r.Rule, Stop: r.Stop}
		if r.ID == wayOut {
			k := slices.IndexFunc(a.b.plan.Excavation[leg].Results, func(x ExcavationResult) bool { return x.ID == wayOut })
			if k < 0 {
				continue
			}
			one = a.b.plan.Excavation[leg].Results[k]
		}
		out.Results = append(out.Results, one)
	}
	near := func(at measure.Length, stated bool) {
		if way := at - s.At; out.Ladder == nil || way.Abs() < measure.Length(out.Ladder.Away).Abs() {
			out.Ladder = &LadderNear{Chainage: measure.MM(at), Away: measure.MM(way), Stated: stated}
		}
	}
	for _, at := range stated {
		near(at, true)
	}
	if len(stated) == 0 {
		for _, at := range a.b.plan.Excavation[leg].Ladders {
			near(measure.FromMetres(at), false)
		}
	}
	return out
}

// wayOut is the check of the ways out of a trench.
const wayOut = "excavation.way-out"

// riseToRun is a slope as it is dug: 1:1.5, rise to run.
func riseToRun(g measure.Grade) string {
	if g.Rise == 0 {
		return g.String()
	}
	return fmt.Sprintf("1:%g", math.Round(float64(g.Run)/float64(g.Rise)*1000)/1000)
}

// Deeper is a place held against the rules as if it were dug to a depth: everything else as the leg is dug; nil: no dig was computed
// there, or no jurisdiction is on file.
func (a *Answers) Deeper(s Spot, depth measure.Length) *RulesHere {
	if a.b.asked == nil {
		return nil
	}
	for i := range a.b.asked.Legs[s.Leg].Spans {
		if span := &a.b.asked.Legs[s.Leg].Spans[i]; span.From <= s.At && s.At <= span.To {
			return a.rulesHere(s, span, depth)
		}
	}
	return nil
}
