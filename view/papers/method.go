package papers

import (
	"cmp"
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
)

const formMethod = fromJob + "; its order is that of the programme where there is one"

// byNature is the order of works where nobody wrote another.
var byNature = []string{"set-out", "dig", "bed", "set", "fill", "cables", "cover", "test"}

// works are the works in the job's order, and where that comes from.
func (m *maker) works() ([]string, string) {
	if g := m.Job.Programme; g != nil && len(g.Works) > 0 {
		var out []string
		for _, w := range g.Works {
			out = append(out, w.Work)
		}
		return out, "the job, programme, works"
	}
	return byNature, none("order of works", "the site manager") + "; here by the nature of the work"
}

// method is the skeleton of a method statement: the order of the works with their quantities and the rules that were entered.
func (m *maker) method() []Paper {
	p := m.paper("", "the whole run")
	m.methodStops(&p)
	works, order := m.works()
	head := Part{Title: "What, where, by whom", Form: formMethod, Lines: []Line{{"job", m.Plan.Job.Name, "the job"}, {"built for", cmp.Or(m.Job.Owner, none("owner", "whoever has the contract")), orNothing(m.Job.Owner != "", "the job")},
		{"run", fmt.Sprintf("%s, %s in all, %s", counted(m.Plan.Totals.Legs, "leg", "legs"), m.far(measure.Length(m.Plan.Totals.ClearLength)), counted(m.Plan.Totals.Units, m.word(wording.Unit), m.word(wording.Units))), fromPlan}, {"order of works", strings.Join(works, ", "), order}}}
	if m.Job.Programme == nil || len(m.Job.Programme.Works) == 0 {
		head.Lines[len(head.Lines)-1] = Line{"order of works", order + ": " + strings.Join(works, ", "), ""}
	}
	head.Lines = append(head.Lines, blanks("written by, day, to be looked at again on", "supervisor", "first aid, emergency, muster point", "hours of work, access, neighbours", "risk assessments that go with this, by number")...)
	parts := []Part{head}
	for i, w := range works {
		parts = append(parts, m.methodOf(i+1, w))
	}
	parts = append(parts, Part{Title: "Open before work begins", Form: fromJob, Notes: m.openNotes()},
		Part{Title: "Told to those who do it", Form: "common practice: briefing sheet", Heads: []Head{{Name: "name", Wide: 4, Fill: true}, {Name: "firm", Wide: 4, Fill: true}, {Name: "signature", Wide: 4, Fill: true}, {Name: "day", Wide: 2, Fill: true}}, From: fromJob, Rows: empties(6, 4)},
		Part{Title: "Signed", Form: formMethod, Sign: []string{"written by", "looked at by", "agreed by, with authority"}})
	return []Paper{m.done(p, parts...)}
}

func empties(rows, cells int) [][]string {
	var out [][]string
	for range rows {
		out = append(out, make([]string, cells))
	}
	return out
}

// openNotes are what nobody entered, each once.
func (m *maker) openNotes() []string {
	var out []string
	for _, f := range m.Plan.Findings {
		if strings.HasPrefix(f.Text, "NOT CHECKED") {
			out = appendOnce(out, f.Text)
		}
	}
	if len(out) == 0 {
		return []string{"nothing recorded here"}
	}
	return out
}

// methodOf is one work.
func (m *maker) methodOf(n int, work string) Part {
	title := map[string]string{"set-out": m.word(wording.SetOut), "dig": "dig", "bed": m.word(wording.Bed), "set": "set", "fill": "fill", "cables": "cables", "cover": "cover", "test": "test"}[work]
	part := Part{Title: fmt.Sprintf("%d. %s%s", n, strings.ToUpper(title[:1]), title[1:]), Form: formMethod}
	var caution []string
	switch work {
	case "set-out":
		part.Lines = append(part.Lines, Line{m.word(wording.Benchmark) + " and control points on file", number(len(m.Plan.Benchmarks)) + " and " + number(len(m.Plan.Control)), fromPlan}, Line{"pegs", number(len(m.Plan.Pegs)), fromPlan})
		caution = append(caution, "levels from two benchmarks that agree, or none")
	case "dig":
		part.Lines = append(part.Lines, m.methodDig()...)
		caution = append(caution, "nobody in a dig whose sides are not protected as its rules ask; permit to dig and the inspection of the competent person first", m.word(wording.Services)+" on record: "+number(len(m.Plan.Services))+"; by hand near each")
	case "bed":
		part.Lines = append(part.Lines, entry(m, "thickness of the bed", m.Job.Dig.From, m.Job.Dig.Bed, m.length, "thickness of the bed", "the engineer"), m.volumeOf("stone in place", "stone"),
			entry(m, "tolerance of its level", m.Job.Rules.From, m.Job.Rules.BedTol, m.eachWay, "tolerance for the level of the bed", "the owner"))
	case "set":
		part.Lines = append(part.Lines, m.methodSet()...)
		caution = append(caution, "lift plans go with this; nobody under a load or between it and the trench", "sawing concrete: water on the blade, breathing protection by the assessment (29 CFR 1926.1153, from memory)")
	case "fill":
		part.Lines = append(part.Lines, m.methodFill()...)
		caution = append(caution, "both sides up together; nothing heavy beside walls before the engineer has said so")
	case "cables":
		part.Lines = append(part.Lines, m.methodCables()...)
	case "cover":
		part.Lines = append(part.Lines, Line{"covers", number(m.Plan.Totals.Covers) + ", of them cut " + number(m.Plan.Totals.CutCovers), fromPlan}, entry(m, "step from one cover to the next", m.Job.Rules.From, m.Job.Rules.CoverStep, m.length, "limit for the step between covers", "the owner"))
		caution = append(caution, "covers by tool and by people's limits; an open trench is fenced")
	case "test":
		part.Lines = append(part.Lines, Line{"inspection and test plan", "goes with this", "paper inspection"})
	}
	part.Lines = append(part.Lines, m.before(work)...)
	part.Lines = append(part.Lines, m.gangs(work)...)
	part.Lines = append(part.Lines, blanks("how it is done", "plant and tools", "hazards, and what is done against them")...)
	for _, c := range caution {
		part.Notes = append(part.Notes, "caution: "+c)
	}
	return part
}

func (m *maker) eachWay(l measure.Length) string { return "± " + m.length(l) }

// volumeOf is a volume of the whole dig.
func (m *maker) volumeOf(name, of string) Line {
	if m.Plan.Dig == nil {
		return Line{Name: name, Is: none("volumes (no ground was surveyed, or no levels were solved)", excavating)}
	}
	t := m.Plan.Dig.Total
	return Line{name, m.volume(map[string]float64{"dug": t.Dug, "rock": t.Rock, "stone": t.Stone, "fill": t.Fill}[of]), fromPlan}
}

func (m *maker) methodDig() []Line {
	out := []Line{m.volumeOf("dug, in the ground", "dug"), m.volumeOf("of it rock", "rock")}
	if m.Plan.Dig != nil {
		most, at := measure.MM(0), ""
		for _, l := range m.Plan.Dig.Legs {
			if l.Deepest > most {
				most, at = l.Deepest, "leg "+l.Leg+" at "+m.chainage(l.DeepestAt)
			}
		}
		if at != "" {
			out = append(out, Line{"deepest", m.deep(most) + ", " + at, fromPlan})
		}
	}
	return append(out, Line{"sides", m.sides(m.Job.Dig), m.document(m.Job.Dig.From)}, m.soil(m.Job.Dig),
		entry(m, "free edge before spoil and plant", m.Job.Dig.From, m.Job.Dig.Strip.Setback, m.length, "free edge of the dig before spoil and plant", competent),
		entry(m, "tolerance of the "+m.word(wording.Formation), m.Job.Rules.From, m.Job.Rules.FormationTol, m.eachWay, "tolerance for the level of the "+m.word(wording.Formation), "the owner"))
}

func (m *maker) methodSet() []Line {
	t := m.Plan.Totals
	out := []Line{{m.word(wording.Units), fmt.Sprintf("%d, of them %d whole and %d cut", t.Units, t.Plain, t.Cuts), fromPlan}}
	for _, s := range m.Job.Supplies {
		out = append(out, entry(m, "gap of joints, supply "+s.ID, s.From, s.Joint.Gap, m.window, "gap of joints of supply "+s.ID, "the supplier"))
	}
	return append(out, entry(m, "off the line", m.Job.Rules.From, m.Job.Rules.LineTol, m.eachWay, "tolerance for the line", "the owner"),
		entry(m, "end ahead or behind", m.Job.Rules.From, m.Job.Rules.EndTol, m.eachWay, "tolerance for where the end of a "+m.word(wording.Unit)+" lies", "the owner"),
		entry(m, "lip at a joint", m.Job.Rules.From, m.Job.Rules.LipLimit, m.length, "limit for the lip at a joint", "the owner"))
}

// window is a gap with its window, or alone.
func (m *maker) window(w measure.Window) string {
	if w.Min == w.Max {
		return m.length(w.Nominal)
	}
	return m.length(w.Nominal) + " in " + m.length(w.Min) + " to " + m.length(w.Max)
}

func (m *maker) methodFill() []Line {
	out := []Line{m.volumeOf("fill in place", "fill"), entry(m, "thickness of a "+m.word(wording.Layer), m.Job.Dig.From, m.Job.Dig.Layer, m.length, "thickness of a "+m.word(wording.Layer)+" of fill", "the engineer")}
	if m.Job.Dig.Compactor != "" {
		out = append(out, Line{"compactor", m.Job.Dig.Compactor, m.document(m.Job.Dig.From)})
	} else {
		out = append(out, Line{Name: "compactor", Is: none("compactor", "the site manager")})
	}
	if p := m.Plan.Dig; p != nil && p.Passes != nil {
		out = append(out, Line{"passes", number(p.Passes.Passes), p.Passes.Rule})
	} else {
		out = append(out, Line{Name: "passes", Is: none("passes of the compactor", "the engineer")})
	}
	return out
}

func (m *maker) methodCables() []Line {
	if len(m.Job.Checks.Cables.Laid) == 0 {
		return []Line{{Name: "cables", Is: none("cable schedule", "the owner")}}
	}
	var out []Line
	for _, c := range m.Job.Checks.Cables.Laid {
		out = append(out, Line{c.Name, c.Is, m.document(cmp.Or(c.From, m.Job.Checks.Cables.From))})
	}
	return out
}

// before is what has to be on record before a work begins.
func (m *maker) before(work string) []Line {
	var out []Line
	for _, s := range m.Job.Rules.Steps {
		if s.Step == work && len(s.Wants) > 0 {
			var wants []string
			for _, w := range s.Wants {
				wants = append(wants, m.nameOf(w))
			}
			out = append(out, Line{"on record before it", strings.Join(wants, ", "), job.SourceFrom(m.Job, cmp.Or(s.From, m.Job.Rules.From), job.Known(""))})
		}
	}
	return out
}

// gangs are those who do a work.
func (m *maker) gangs(work string) []Line {
	var out []Line
	if m.Job.Programme != nil {
		for _, g := range m.Job.Programme.Gangs {
			for _, d := range g.Does {
				if d.Work != work {
					continue
				}
				is := cmp.Or(g.Title, g.ID)
				if g.People.Known {
					is += ", " + counted(g.People.Value, "person", "people")
				}
				rate := none("rate of "+g.ID, "the site manager")
				if d.Rate.Known {
					rate = d.Rate.Value
				}
				out = append(out, Line{"gang " + g.ID, is + ", " + rate, strung("; ", "the job, programme", m.document(m.Job.Programme.From))})
			}
		}
	}
	if len(out) == 0 {
		out = []Line{{Name: "gang"}}
	}
	return out
}
