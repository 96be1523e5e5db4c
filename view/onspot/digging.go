package onspot

import (
	"fmt"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/solve/check"
)

var deeper = Moment{ID: "deeper", Name: "the dig gets deeper than planned", Stage: "dig", First: "Nobody goes in before the competent person has looked at it as it is now",
	Fields: []Field{{Name: "depth", Label: "depth of the dig here", Like: "1600 mm", From: func(p *Place) (string, string) {
		i := p.Unit()
		if i < 0 {
			return "", ""
		}
		z, by, ok := p.corners(p.Plan.Units[i].Mark, "formation")
		if ground := p.levels().Existing; ok && ground != nil {
			return p.typed(measure.FromMetres(*ground) - z), "from the ground as it was to the level read, " + p.by(by...)
		}
		return "", ""
	}}},
	answer: func(a *asking) {
		depth := a.positive("depth")
		if depth == nil {
			return
		}
		if a.Answers == nil {
			a.open("plan of the dig", "the site engineer")
			return
		}
		h := a.Answers.Deeper(a.Spot, *depth)
		if h == nil {
			a.open("jurisdiction or survey that the dig is held by here", "the competent person")
			return
		}
		if h.Stopped {
			a.out.Stop = append(a.out.Stop, "HARD STOP at this depth: nothing goes on before the person named below has answered")
		}
		for _, r := range h.Results {
			text := r.What + ": " + r.Verdict
			switch {
			case r.Value != "" && r.Limit != "":
				text = fmt.Sprintf("%s: %s, limit %s: %s", r.What, r.Value, r.Limit, r.Verdict)
			case r.Value != "":
				text = fmt.Sprintf("%s: %s: %s", r.What, r.Value, r.Verdict)
			}
			a.say("%s (%s)", text, r.Rule)
		}
		if h.Ladder != nil {
			a.say("the nearest way out is %s away", measure.Length(h.Ladder.Away).Abs())
		}
		a.say("rules: %s, read %s", h.Rules, h.Read)
	}}

var stone = Moment{ID: "stone", Name: "stone or fill will not last", Stage: "bed",
	Fields: []Field{{Name: "left", Label: "what is left, in place", Like: "6 m3"}, {Name: "of", Label: "of what", Only: []string{"stone", "fill"}, Like: "stone", From: func(*Place) (string, string) { return "stone", "" }}},
	answer: func(a *asking) {
		left, of := a.quantity("left", check.Volume), a.text("of")
		if left == nil {
			return
		}
		parts := a.wants(of)
		if len(parts) == 0 {
			a.open("survey that the volumes of this leg are worked out from", "the surveyor")
			return
		}
		volume := func(m3 float64) string { return check.Volume.Of(m3).Both(a.speech().Imperial) }
		whole, over, there := 0.0, 0.0, 0
		for _, p := range parts {
			whole, over = whole+p.volume+p.over, over+p.over
			if p.there {
				there++
			}
		}
		end := a.leg().To
		if a.fromEnd() {
			end = a.leg().From
		}
		if whole == 0 && there > 0 {
			a.say("recorded: every unit from here to the end of leg %s at %s has its %s already: none is wanted", a.leg().Name, end, of)
			return
		}
		a.say("from here to the end of leg %s at %s, in the order of laying, %s are wanted", a.leg().Name, end, volume(whole))
		switch {
		case a.Site == nil && of == "stone":
			a.say("as planned, without what was dug too deep; measure that and add it")
		case over > 0:
			a.say("recorded: it was dug too deep; %s of that are for it, as deep as it was read and as wide as its bottom", volume(over))
		case of == "stone":
			a.say("recorded so far, no level of what was dug lies below its plan from here on")
		}
		if there > 0 {
			a.say("recorded: %s from here on with its %s in place already, not counted", counted(there, "unit", "units"), of)
		}
		if left.SI >= whole {
			a.say("what is left lasts to the end of the leg, with %s over", volume(left.SI-whole))
			return
		}
		rest := left.SI
		for _, p := range parts {
			want := p.volume + p.over
			if rest >= want {
				rest -= want
				continue
			}
			stop := *a.Place
			stop.Spot.At, stop.Spot.Name = p.from+measure.FromMetres((p.to-p.from).Metres()*(rest/want)), ""
			a.say("what is left lasts to %s, %s from here; %s are short for the leg", stop.Where(), (stop.Spot.At - a.Spot.At).Abs(), volume(whole-left.SI))
			return
		}
	}}

// part is a stretch of the leg in the order of laying, with what it takes of a material.
type part struct {
	from, to     measure.Length
	volume, over float64 // m³: as planned, and for what was dug too deep
	there        bool    // it has it already, by the records
}

// wants is what the leg takes of stone or fill from the place on, unit by unit; none: no volumes were worked out.
func (a *asking) wants(of string) []part {
	if a.Plan.Dig == nil {
		return nil
	}
	var out []part
	for i := range a.Plan.Dig.Legs {
		l := &a.Plan.Dig.Legs[i]
		if l.Leg != a.leg().Name || len(l.Running) < 2 {
			continue
		}
		begin, end := measure.Length(l.Running[0].At), measure.Length(l.Running[len(l.Running)-1].At)
		cells := []part{{from: begin}}
		var marks []string
		for k := range a.Plan.Units {
			if u := &a.Plan.Units[k]; u.Leg == l.Leg {
				if at := measure.Length(u.Chainage); len(marks) > 0 {
					cells[len(cells)-1].to = at
					cells = append(cells, part{from: at})
				}
				marks = append(marks, u.Mark)
			}
		}
		cells[len(cells)-1].to = end
		for k := range cells {
			c := &cells[k]
			mark := ""
			if k < len(marks) {
				mark = marks[k]
			}
			if a.fromEnd() {
				c.to = min(c.to, a.Spot.At)
			} else {
				c.from = max(c.from, a.Spot.At)
			}
			if c.to <= c.from {
				continue
			}
			if c.there = a.has(mark, of); !c.there {
				c.volume = taken(l, c.to, of) - taken(l, c.from, of)
				if of == "stone" {
					c.over = a.tooDeep(mark, c.from, c.to)
				}
			}
			out = append(out, *c)
		}
	}
	if a.fromEnd() {
		slices.Reverse(out)
		for k := range out {
			out[k].from, out[k].to = out[k].to, out[k].from
		}
	}
	return out
}

// taken is what a leg takes of stone or fill up to a chainage, m³.
func taken(l *planner.LegDig, at measure.Length, of string) float64 {
	volume := func(r planner.DigRunning) float64 {
		if of == "fill" {
			return r.Fill
		}
		return r.Stone
	}
	for i := 1; i < len(l.Running); i++ {
		from, to := measure.Length(l.Running[i-1].At), measure.Length(l.Running[i].At)
		if at <= to && to > from {
			share := max(0, (at-from).Metres()/(to-from).Metres())
			return volume(l.Running[i-1]) + float64((volume(l.Running[i])-volume(l.Running[i-1]))*share)
		}
	}
	return volume(l.Running[len(l.Running)-1])
}

// fromEnd tells whether the leg is laid from the node that it ends at.
func (p *Place) fromEnd() bool { return p.leg().LaidFrom == p.leg().To }

// has tells whether a unit has its stone or its fill by the records: its bed or its pads were levelled, its last layer was placed on both sides.
func (p *Place) has(mark, of string) bool {
	if of == "stone" {
		return p.read(mark, "bed", "pad")
	}
	s := p.seen(mark)
	if s == nil {
		return false
	}
	sides := map[string]bool{}
	for _, l := range s.Layers {
		if l.Top && l.Placed.Is == field.Yes {
			sides[l.Side] = true
		}
	}
	return sides["both"] || sides["left"] && sides["right"]
}

// tooDeep is what lies below the planned formation of a unit by the records, m³: the mean depth of its corners over the width of the bottom.
func (a *asking) tooDeep(mark string, from, to measure.Length) float64 {
	if a.Site == nil || a.Answers == nil {
		return 0
	}
	f, ok := a.Site.Book.FoundAt(mark, "formation")
	if !ok {
		return 0
	}
	low, n := 0.0, 0
	for _, c := range f.Corners {
		if c.Planned != nil {
			low, n = low+max(0, -c.Off.Metres()), n+1 // where it is high it is cut: that saves no stone
		}
	}
	here := a.Spot
	here.At = from + (to-from)/2
	dig := a.Answers.Depth(here).Dig
	if n == 0 || low <= 0 || dig == nil {
		return 0
	}
	return low / float64(n) * measure.Length(dig.Bottom).Metres() * (to - from).Metres()
}
