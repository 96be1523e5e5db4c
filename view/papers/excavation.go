package papers

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/recorded"
)

const (
	formDug    = "29 CFR 1926.651(k); CDM 2015, regulation 24 and schedule 3 (particulars from memory: look them up)"
	competent  = "the competent person"
	noneDug    = "depth of the dig (no ground was surveyed, or no levels were solved)"
	excavating = "whoever surveys the ground"
)

// excavation is the inspection of the dig of the legs that are asked for.
func (m *maker) excavation() []Paper {
	p := m.paper(m.Leg, m.ofLegs())
	p.Stops = []Stop{}
	grid := m.digGrid("By stretch")
	grid.Heads = append(grid.Heads, Head{Name: "found", Wide: 3, Fill: true}, Head{Name: "done, by", Wide: 3, Fill: true})
	for i := range grid.Rows {
		grid.Rows[i] = append(grid.Rows[i], "", "")
	}
	return []Paper{m.done(p, Part{Title: "Inspection", Form: formDug, Lines: append(blanks("for whom it is made, and their address"), append([]Line{{"place", m.Plan.Job.Name + ", " + m.ofLegs(), "the job"}}, blanks("day and hour", "why: before work, during the shift, after which event", "weather since the last one")...)...)},
		grid, m.digRules(), m.reopens(),
		Part{Title: "Looked at", Form: formDug, Heads: []Head{{Name: "what", Wide: 4}, {Name: "found", Wide: 5, Fill: true}, {Name: "done, by whom, when", Wide: 5, Fill: true}}, From: formDug, Rows: m.lookedAt()},
		Part{Title: "Released for entry", Form: formDug, Notes: []string{"the release for entry and the daily inspection are the competent person's, and no figure here stands for them"}, Lines: blanks("people taken out, and until when", "what is still to be done"), Sign: []string{"competent person"}})}
}

// lookedAt are the things that somebody looks at, each with room to write.
func (m *maker) lookedAt() [][]string {
	var out [][]string
	for _, what := range []string{"sides, faces, cracks at the edge", "support or shield, its document at hand", "water, seepage, pumps", "spoil, plant and stacks from the edge", "ways in and out", m.word(wording.Services) + " exposed, held up", "structures, kerbs and poles beside it", "air, where it may be bad", "guard rails, walkways, what falls in", "vehicles near the edge"} {
		out = append(out, []string{what, "", ""})
	}
	return out
}

// digGrid is the dig stretch by stretch: its depth, what protects it, as entered.
func (m *maker) digGrid(title string) Part {
	part := Part{Title: title, Form: fromJob,
		Heads: []Head{{Name: "leg", Wide: 0.8}, {Name: "from, to", Wide: 3.4}, {Name: "deepest", Wide: 1.6}, {Name: "sides", Wide: 3}, {Name: "soil", Wide: 3}}}
	var soils []string
	for _, l := range m.legs() {
		from := measure.MM(0)
		for _, to := range m.digBreaks(l) {
			middle := measure.Length(from+to) / 2
			d := m.Job.Dig.At(l.Name, middle)
			soil := m.soil(d)
			if soil.From != "" {
				soils = appendOnce(soils, soil.From)
			}
			part.Rows = append(part.Rows, []string{l.Name, m.stretch(from, to), m.deepest(l, from, to), m.sides(d), soil.Is})
			from = to
		}
	}
	part.From = strung("; ", "depth: "+fromPlan, strung(": ", "sides", m.document(m.Job.Dig.From)), strung(": ", "class of soil", strings.Join(soils, ", ")))
	return part
}

// digBreaks are the chainages of a leg where it begins to be dug otherwise, and its end.
func (m *maker) digBreaks(l planner.Leg) []measure.MM {
	out := []measure.MM{l.NodeLength}
	for _, s := range m.Job.Dig.Stretches {
		if s.Leg == l.Name {
			for _, at := range []measure.MM{measure.MM(s.From), measure.MM(s.To)} {
				if at > 0 && at < l.NodeLength && !slices.Contains(out, at) {
					out = append(out, at)
				}
			}
		}
	}
	slices.Sort(out)
	return out
}

// deepest is the greatest depth between two chainages of a leg.
func (m *maker) deepest(l planner.Leg, from, to measure.MM) string {
	if m.Plan.Dig == nil {
		return none(noneDug, excavating)
	}
	for _, d := range m.Plan.Dig.Legs {
		if d.Leg != l.Name {
			continue
		}
		most := measure.MM(-1)
		for _, r := range d.Running {
			if r.Deepest != nil && r.At >= from && r.At < to {
				most = max(most, *r.Deepest)
			}
		}
		if d.DeepestAt >= from && d.DeepestAt <= to {
			most = max(most, d.Deepest)
		}
		if most >= 0 {
			return m.deep(most)
		}
	}
	return none(noneDug, excavating)
}

// sides is how the sides stand, as entered.
func (m *maker) sides(d job.Dig) string {
	if d.Sides == "" {
		return none("word on the sides of the dig", competent)
	}
	out := d.Sides
	switch {
	case d.Sides == "sloped" && d.Slope.Known:
		out += " " + d.Slope.Value.Ratio() + ", rise to run"
	case d.Sides == "sloped":
		out += "; " + none("slope of the sides", competent)
	case d.Sides == "supported" && d.Support != nil:
		out += ", " + m.document(d.Support.Document) + " by " + d.Support.By
	case d.Sides == "supported":
		out += "; " + none("document of the support", "its designer")
	}
	if d.Engineer != nil {
		out += "; engineer's document " + m.document(d.Engineer.Document) + " by " + d.Engineer.By
	}
	return out
}

func (m *maker) soil(d job.Dig) Line {
	return entry(m, "class of soil", d.From, d.Soil, text, "class of soil", competent)
}

// digRules are the rules of the jurisdiction with both figures; legs of which the same is said share a row.
func (m *maker) digRules() Part {
	part := Part{Title: "Held against the rules of the place", Form: fromJob, Heads: []Head{{Name: "what", Wide: 4}, {Name: "figure, by leg", Wide: 4.4}, {Name: "limit", Wide: 3}, {Name: "verdict", Wide: 2.4}, {Name: "rule", Wide: 4}}}
	at := map[[4]string]int{}
	for _, e := range m.Plan.Excavation {
		if !m.onLeg(e.Leg) {
			continue
		}
		leg := e.Leg
		if e.From != nil && e.To != nil {
			leg += " " + m.stretch(*e.From, *e.To)
		}
		for _, r := range e.Results {
			key := [4]string{m.speech.Reworded(r.What), r.Limit, r.Verdict + map[bool]string{true: ": HARD STOP"}[r.Stop], r.Rule}
			i, ok := at[key]
			if !ok {
				i = len(part.Rows)
				at[key], part.Rows = i, append(part.Rows, []string{key[0], "", key[1], key[2], key[3]})
			}
			part.Rows[i][1] = strung("; ", part.Rows[i][1], leg+": "+cmp.Or(r.Value, "no figure"))
		}
	}
	if len(part.Rows) == 0 {
		part.Heads, part.Lines = nil, []Line{{"excavation rules", none("dig with a jurisdiction", "whoever answers for the excavation"), ""}}
	}
	return part
}

// pointName is a point with its stretch, where its own name does not say it.
func pointName(s field.PointState) string {
	if s.From != "" && strings.Contains(s.Point, s.From) {
		return s.Point
	}
	return strung(", ", s.Point, strung(" to ", s.From, s.To))
}

// lately tells whether a record was made in the week before.
func (m *maker) lately(made string) bool {
	now, err := time.Parse(time.RFC3339, m.Now)
	at, err2 := time.Parse(time.RFC3339, made)
	return err == nil && err2 == nil && now.Sub(at) < 7*24*time.Hour
}

// reopens is what asks for another look.
func (m *maker) reopens() Part {
	part := Part{Title: "Looked at anew after", Form: formDug, Lines: []Line{{"before work each day or shift", "asked for", "29 CFR 1926.651(k)(1)"}, {"through the shift as needed", "asked for", "29 CFR 1926.651(k)(1)"}, {"rain, or what else makes it worse: frost, thaw, water, vibration", "asked for", "29 CFR 1926.651(k)(1)"}, {"a fall of ground", "asked for", "CDM 2015, regulation 24, from memory"}}}
	var ended []string
	for _, s := range m.state.Points {
		if len(s.Lapsed) > 0 && s.Open() && (m.Leg == "" || strings.HasPrefix(s.From, m.Leg+"-")) {
			ended = append(ended, pointName(s))
		}
	}
	if len(ended) > 0 {
		part.Lines = append(part.Lines, Line{"releases that HAVE ENDED", strings.Join(ended, "; "), fromRecords})
	}
	for _, r := range m.book.Standing(field.Event) {
		if m.Now == "" || m.lately(r.Made) {
			part.Lines = append(part.Lines, Line{"event on record", m.saying().Said(&r), recorded.By(&r)})
		}
	}
	part.Lines = append(part.Lines, Line{Name: "other events that " + m.word(wording.Units) + " or people beside the dig ask for"})
	return part
}
