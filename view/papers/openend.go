package papers

import (
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

const formOpen = fromJob + ": what is open where the work stops"

// openEnd is what has to be closed, marked, covered and drained where the work stops at a place.
func (m *maker) openEnd() ([]Paper, error) {
	s, err := m.spot()
	if err != nil {
		return nil, err
	}
	d := m.Answers.Depth(s)
	where := m.where(s, d)
	p := m.paper(where[0].Is, where[0].Is)
	good := Part{Title: "Made good", Form: formOpen, Heads: []Head{{Name: "what", Wide: 5}, {Name: "how, with what", Wide: 6, Fill: true}, {Name: "by, hour", Wide: 3, Fill: true}}, From: formOpen}
	for _, what := range []string{"open face of the " + m.word(wording.Unit) + " closed, against ground, water and animals", "joint, seal and tongue kept from dirt and blows", "open covers closed, or fenced", "end of the drain stopped, or led to an outlet",
		"way for water: where it goes while nobody is here", "edge protected, lit, signed", "ladders out, way barred", "sides held, or dig filled", "plant and stacks off the edge", "levels carried to marks that stay", "marks and places painted on what stands"} {
		good.Rows = append(good.Rows, []string{what, "", ""})
	}
	return []Paper{m.done(p, Part{Title: "Where the work stops", Form: formOpen, Lines: append(where, blanks("day and hour, why, until when")...)}, m.openFace(s, d), m.openWater(d), m.openDig(d), m.openMarks(d), good,
		Part{Title: "Who looks after it", Form: formOpen, Lines: blanks("looked at next, when and by whom", "called when it rains, or when water stands", "telephone on the fence"), Sign: []string{"made good by", "seen by"}})}, nil
}

// openFace is what stands on both sides of the place, by the plan and by the records.
func (m *maker) openFace(s planner.Spot, d planner.DepthAnswer) Part {
	part := Part{Title: "What is open", Form: formOpen, Heads: []Head{{Name: "place", Wide: 2}, {Name: "set", Wide: 2}, {Name: "covers", Wide: 3}, {Name: "fill beside it", Wide: 3}, {Name: "lacks its record", Wide: 5}}, From: fromRecords}
	for _, mark := range m.beside(s) {
		u, ok := m.book.Unit(mark)
		if !ok {
			continue
		}
		laid := 0
		for _, c := range u.Covers {
			if c.Laid.Is == field.Yes {
				laid++
			}
		}
		layers := "none recorded"
		if n := len(u.Layers); n > 0 {
			layers = counted(n, m.word(wording.Layer), m.word(wording.Layers)) + " recorded"
		}
		var lacks []string
		for _, l := range m.book.LacksAt(m.asks, mark) {
			for _, w := range l.Wants {
				lacks = appendOnce(lacks, m.nameOf(w))
			}
		}
		part.Rows = append(part.Rows, []string{mark, map[bool]string{true: "set", false: "not recorded"}[u.Set.Is == field.Yes], number(laid) + " of " + number(len(u.Covers)) + " laid", layers, orDash(strings.Join(lacks, ", "))})
	}
	for _, s := range m.Job.Supplies {
		if s.ID != d.Supply {
			continue
		}
		part.Lines = append(part.Lines, entry(m, "open face, outside", s.From, s.Unit.Outer, m.section, "outer section of supply "+s.ID, "the supplier"), entry(m, "clear inside", s.From, s.Unit.Inner, m.section, "inner section of supply "+s.ID, "the supplier"))
	}
	for _, j := range d.Joints {
		part.Lines = append(part.Lines, Line{"joint " + j.Name, m.chainage(j.Chainage) + m.gapOf(j.Name), fromPlan})
	}
	return part
}

// gapOf is the planned gap of a joint with its window.
func (m *maker) gapOf(name string) string {
	for _, j := range m.Plan.Joints {
		if j.Name == name {
			return ", gap " + m.sized(j.Gap) + " in " + m.sized(j.GapMin) + " to " + m.sized(j.GapMax)
		}
	}
	return ""
}

func (m *maker) section(s job.Section) string {
	return m.length(s.Width) + " wide, " + m.length(s.Height) + " high"
}

// beside are the units at a place: that which holds it, or those of its joint.
func (m *maker) beside(s planner.Spot) []string {
	var out []string
	leg := m.Plan.Legs[s.Leg].Name
	const near = 100 * measure.Millimetre
	for i := range m.Plan.Units {
		if u := &m.Plan.Units[i]; u.Leg == leg && measure.Length(u.Chainage)-near <= s.At && s.At <= measure.Length(u.Chainage+u.Length)+near {
			out = append(out, u.Mark)
		}
	}
	return out
}

// openWater is the drain, and when an empty run floats.
func (m *maker) openWater(d planner.DepthAnswer) Part {
	part := Part{Title: "Water", Form: formOpen}
	switch {
	case d.Levels.Drain != nil:
		part.Lines = append(part.Lines, Line{"drain in the " + m.word(wording.Bed) + ", underside", m.level(*d.Levels.Drain), fromPlan})
	case m.Plan.Drain == nil:
		part.Lines = append(part.Lines, Line{Name: "drain", Is: none("drain in the bed", "the engineer")})
	}
	if w := d.Levels.Water; w != nil {
		part.Lines = append(part.Lines, Line{"level of ground water, as surveyed", m.level(*w), fromPlan})
	} else {
		part.Lines = append(part.Lines, Line{Name: "level of ground water", Is: none("level of ground water here", excavating)})
	}
	held := false
	for i := range m.Plan.Checks {
		c := &m.Plan.Checks[i]
		if strings.HasPrefix(c.ID, "flotation.") && strings.HasPrefix(c.What, "supply "+d.Supply+" ") {
			held = true
			part.Lines = append(part.Lines, Line{c.What, strung(": ", against(c.Value, c.Limit), verdict(c)), c.Rule})
			for _, w := range c.Working {
				if strings.Contains(w.Name, "float") {
					part.Lines = append(part.Lines, Line{w.Name, w.Is, w.How})
				}
			}
		}
	}
	if !held {
		part.Lines = append(part.Lines, Line{Name: "level of water at which the empty run floats", Is: none("check of floating for supply "+d.Supply, "the engineer")})
	}
	part.Lines = append(part.Lines, blanks("water is pumped, led, or let in: who decides")...)
	return part
}

// openDig is the dig that stays open.
func (m *maker) openDig(d planner.DepthAnswer) Part {
	part := Part{Title: "Dig and edge", Form: formOpen}
	if g := d.Dig; g != nil {
		part.Lines = append(part.Lines, Line{"deepest, from the higher edge", m.deep(g.Deepest), fromPlan}, Line{"open at the top", m.deep(g.Top) + " Wide: " + m.deep(g.Left) + " left and " + m.deep(g.Right) + " right of the " + m.word(wording.Centreline), fromPlan})
	} else {
		part.Lines = append(part.Lines, Line{Name: "depth", Is: none(noneDug, excavating)})
	}
	dig := m.Job.Dig.At(d.Place.Leg, measure.Length(d.Place.Chainage))
	part.Lines = append(part.Lines, Line{"sides", m.sides(dig), m.document(dig.From)}, m.soil(dig), entry(m, "free edge before spoil and plant", dig.From, dig.Strip.Setback, m.length, "free edge of the dig before spoil and plant", competent))
	if d.Rules != nil {
		for _, r := range d.Rules.Results {
			if r.Verdict != string(finding.Meets) {
				part.Lines = append(part.Lines, Line{m.speech.Reworded(r.What), against(r.Value, r.Limit) + ": " + r.Verdict, r.Rule})
			}
		}
	}
	if len(d.Services) > 0 { // the nearest first
		s := d.Services[0]
		part.Lines = append(part.Lines, Line{"nearest " + m.word(wording.Service) + " on record, " + s.Name, m.chainage(s.Chainage), fromPlan})
	}
	return part
}

// openMarks are benchmarks that the next gang begins from.
func (m *maker) openMarks(d planner.DepthAnswer) Part {
	part := Part{Title: "Levels to go on from", Form: formOpen}
	for _, b := range m.Plan.Benchmarks {
		if b.Level != nil {
			part.Lines = append(part.Lines, Line{m.word(wording.Benchmark) + " " + b.ID, m.level(*b.Level), b.Source})
		}
	}
	if len(part.Lines) == 0 {
		part.Lines = []Line{{m.word(wording.Benchmark), none(m.word(wording.Benchmark)+" with a level", "the surveyor"), ""}}
	}
	part.Lines = append(part.Lines, blanks("temporary mark on what stands: where, level, from which two", "last joint as measured, ahead or behind")...)
	return part
}
