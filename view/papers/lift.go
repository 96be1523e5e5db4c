package papers

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/check"
)

// Where the labels of a lift plan come from.
const (
	formLift     = "USACE form 16-3 (EM 385-1-1, section 16), its parts, as read in a public copy"
	formOverhead = "29 CFR 1926.1408"
	formHand     = "assessment of manual handling, " + fromJob
)

const (
	liftPlanner    = "the lift planner"
	machineOwner   = "the owner of the machine"
	groundEngineer = "the engineer who answers for the ground at the stand"
)

// lifts are the plans of the kinds of lift that are asked for, one each.
func (m *maker) lifts() ([]Paper, error) {
	var out []Paper
	for i := range m.Job.Checks.Lifts {
		if l := &m.Job.Checks.Lifts[i]; m.Lift == "" || l.ID == m.Lift {
			out = append(out, m.lift(l))
		}
	}
	if len(out) == 0 && m.Lift != "" {
		var ids []string
		for _, l := range m.Job.Checks.Lifts {
			ids = append(ids, l.ID)
		}
		if len(ids) == 0 {
			return nil, fmt.Errorf("this job has no lifts: write them under checks, lifts")
		}
		return nil, fmt.Errorf("there is no lift %q; lifts of this job are %s", m.Lift, strings.Join(ids, ", "))
	}
	return out, nil
}

// piece is something that is lifted.
type piece struct {
	mark string
	mass *float64 // kg
	cut  bool
}

// pieces are all that one lift takes, in the order of the plan.
func (m *maker) pieces(l *job.Lift) []piece {
	var out []piece
	supply := map[string]string{}
	for i := range m.Plan.Units {
		u := &m.Plan.Units[i]
		supply[u.Mark] = u.Supply
		if l.Of == "units" && (l.Supply == "" || u.Supply == l.Supply) {
			out = append(out, piece{u.Mark, u.Mass, u.Cut})
		}
	}
	for i := range m.Plan.Covers {
		if c := &m.Plan.Covers[i]; l.Of == "covers" && (l.Supply == "" || supply[c.Unit] == l.Supply) {
			out = append(out, piece{c.Mark, c.Mass, c.Cut})
		}
	}
	for _, n := range m.Plan.Nodes {
		for _, s := range m.Job.Supplies {
			for _, f := range s.Fittings {
				if l.Of != "castings" || n.Made != "casting" || n.Fitting != f.ID || l.Supply != "" && s.ID != l.Supply {
					continue
				}
				one := piece{mark: f.ID + " at " + n.ID}
				if f.Mass.Known {
					one.mass = new(f.Mass.Value.Kilograms())
				}
				out = append(out, one)
			}
		}
	}
	return out
}

func (m *maker) lift(l *job.Lift) Paper {
	p := m.paper(l.ID, strung(", ", "lift "+l.ID, l.Name))
	m.liftStops(&p, l)
	var held []*check.Said
	hand := m.byHand(l)
	for i := range m.Plan.Checks {
		if c := &m.Plan.Checks[i]; liftOf(c) == l.ID {
			held = append(held, c)
		}
	}
	parts := []Part{m.liftLoad(l, hand)}
	if hand {
		parts = append(parts, m.liftHand(l))
	}
	if !hand {
		parts = append(parts, m.liftMachine(l), m.liftSling(l), m.liftOverhead(l))
	}
	if len(held) > 0 {
		parts = append(parts, m.liftHeld(held), m.liftWorking(held))
	}
	parts = append(parts, m.liftGround(l, hand), Part{Title: "Cautions", Form: fromJob, Notes: m.cautions(held)},
		Part{Title: "Who takes part, and who signs", Form: formLift, Notes: []string{"a change of piece, machine, place or tackle asks for this plan anew"},
			Sign: []string{"lift planner", "lift supervisor", "operator", "rigger", "signal person"}})
	if hand {
		parts[len(parts)-1].Sign = []string{"whoever assessed the handling", "supervisor"}
	}
	return m.done(p, parts...)
}

// byHand tells whether people carry what the lift takes.
func (m *maker) byHand(l *job.Lift) bool {
	if l.People > 0 || l.Each.Known {
		return true
	}
	return l.Of == "units" && slices.ContainsFunc(m.Job.Supplies, func(s job.Supply) bool { return (l.Supply == "" || l.Supply == s.ID) && s.Lifting.By.Value == "hand" })
}

// cautions are those of checks, each once.
func (m *maker) cautions(held []*check.Said) []string {
	out := []string{"this is a calculator's record of what was entered: local codes, the machine's papers and the lift planner come first"}
	for _, c := range held {
		for _, one := range c.Cautions {
			out = appendOnce(out, one)
		}
	}
	return out
}

// liftLoad is what is lifted.
func (m *maker) liftLoad(l *job.Lift, hand bool) Part {
	doc := cmp.Or(l.From, m.Job.Checks.From)
	all := m.pieces(l)
	part := Part{Title: "Load", Form: formLift + ", part A", Lines: []Line{{"what is lifted", strung(", ", l.Name, strung(" of supply ", l.Of, l.Supply)), "the job, checks, lift " + l.ID},
		{"pieces of this kind in the plan", number(len(all)), fromPlan}}}
	for _, cut := range []bool{false, true} {
		var most *piece
		for i := range all {
			if one := &all[i]; one.cut == cut && one.mass != nil && (most == nil || *one.mass > *most.mass) {
				most = one
			}
		}
		name := map[bool]string{false: "heaviest whole piece", true: "heaviest cut piece"}[cut]
		if most != nil {
			part.Lines = append(part.Lines, Line{name, most.mark + ", " + m.mass(*most.mass), fromPlan + ", by the supply's mass: " + m.massFrom(l, most.mark)})
		}
	}
	if i := slices.IndexFunc(all, func(p piece) bool { return p.mass == nil }); i >= 0 {
		part.Lines = append(part.Lines, Line{Name: "mass of " + all[i].mark, Is: none("mass of "+all[i].mark, "the supplier")})
	}
	if len(all) == 0 {
		part.Lines = append(part.Lines, Line{"mass", none("piece of this kind in the plan", liftPlanner), ""})
	}
	if hand {
		return part
	}
	part.Lines = append(part.Lines, entry(m, "hook block, slings, clutches and beam", doc, l.Tackle, m.entered, "mass of hook block and tackle", liftPlanner),
		entry(m, "load multiplied for movement by", doc, l.More, text, "factor for movement", liftPlanner))
	return part
}

// massFrom is where the mass of a piece comes from.
func (m *maker) massFrom(l *job.Lift, mark string) string {
	of := ""
	for _, u := range m.Plan.Units {
		if u.Mark == mark || strings.HasPrefix(mark, u.Mark+".") {
			of = u.Supply
		}
	}
	for _, s := range m.Job.Supplies {
		switch {
		case l.Of == "castings":
			for _, f := range s.Fittings {
				if strings.HasPrefix(mark, f.ID+" at ") {
					return job.SourceFrom(m.Job, cmp.Or(f.From, s.From), f.Mass)
				}
			}
		case s.ID == of && l.Of == "covers" && s.Cover != nil:
			return job.Source(m.Job, s, s.Cover.Mass)
		case s.ID == of:
			return job.Source(m.Job, s, s.Unit.Mass)
		}
	}
	return none("source of its mass", "the supplier")
}

func (m *maker) entered(x measure.Mass) string { return m.mass(x.Kilograms()) }

// liftMachine is the machine with its chart and both radii.
func (m *maker) liftMachine(l *job.Lift) Part {
	doc := cmp.Or(l.From, m.Job.Checks.From)
	part := Part{Title: "Machine", Form: formLift + ", part B"}
	machine := Line{Name: "machine and configuration", Is: none("machine and its configuration", liftPlanner)}
	if l.Machine != "" {
		machine = Line{"machine and configuration", l.Machine, m.document(doc)}
	}
	chart := Line{Name: "chart", Is: none("chart of the machine for this configuration", machineOwner)}
	if len(l.Chart) > 0 {
		var rows []string
		for _, r := range l.Chart {
			rows = append(rows, m.entered(r.Lifts)+" at "+m.far(r.Radius))
		}
		chart = Line{"chart", strings.Join(rows, "; "), m.document(doc)}
	}
	shared := Line{Name: "machines that lift together"}
	if l.Shared > 0 {
		shared = Line{shared.Name, number(l.Shared), "the job, checks, lift " + l.ID}
	}
	part.Lines = []Line{machine, chart, entry(m, "radius where the piece is picked up", doc, l.Pick, m.far, "radius where the piece is picked up", liftPlanner),
		entry(m, "radius where it is set", doc, l.Set, m.far, "radius where the piece is set", liftPlanner),
		entry(m, "share of the chart kept free", doc, l.Reserve, func(s string) string { return s + " %" }, "share of the chart to be kept free", liftPlanner), shared}
	part.Lines = append(part.Lines, entry(m, "greatest wind, from the machine's papers", doc, l.Wind, text, "greatest wind for this machine", machineOwner))
	part.Lines = append(part.Lines, blanks("inspection of the machine, last and by whom")...)
	return part
}

// liftSling is what the piece hangs on.
func (m *maker) liftSling(l *job.Lift) Part {
	doc := cmp.Or(l.From, m.Job.Checks.From)
	legs := Line{Name: "legs of the sling", Is: none("number of legs of the sling", liftPlanner)}
	if l.Legs > 0 {
		legs = Line{"legs of the sling", number(l.Legs), m.document(doc)}
		if l.Legs > 2 && !l.Equalised {
			legs.Is += ", of which two are counted to carry: nothing shares the load out among all"
		}
	}
	part := Part{Title: "Sling and lifting points", Form: formLift + ", part D", Lines: []Line{legs}}
	if l.Spread.Known || l.Height.Known {
		part.Lines = append(part.Lines, entry(m, "points of a pair apart", doc, l.Spread, m.far, "distance of the lifting points", liftPlanner), entry(m, "hook above them", doc, l.Height, m.far, "height of the hook above the points", liftPlanner))
	} else {
		part.Lines = append(part.Lines, entry(m, "legs to the horizontal", doc, l.Angle, func(a measure.Angle) string { return a.String() }, "angle of the sling's legs", liftPlanner))
	}
	part.Lines = append(part.Lines, entry(m, "working load limit of a leg", doc, l.Limit, m.entered, "working load limit of a leg, from its tag", liftPlanner),
		entry(m, "a lifting point carries at this angle", doc, l.Point, m.entered, "load that one lifting point carries at this angle", "the supplier"),
		entry(m, "spreader or strut between the walls", doc, l.Strut, text, "word on a spreader or strut between the walls", "the supplier"))
	part.Lines = append(part.Lines, blanks("tackle inspected, by whom and when")...)
	return part
}

// liftHand is what people carry.
func (m *maker) liftHand(l *job.Lift) Part {
	doc := cmp.Or(l.From, m.Job.Checks.From)
	people := Line{Name: "people who carry", Is: none("number of people who carry", liftPlanner)}
	if l.People > 0 {
		people = Line{"people who carry", number(l.People), m.document(doc)}
	} else {
		for _, s := range m.Job.Supplies {
			if n := s.Lifting.HandPeople; n.Known && l.Of == "units" && (l.Supply == "" || l.Supply == s.ID) {
				people = Line{"people who carry", number(n.Value), job.Source(m.Job, s, n)}
			}
		}
	}
	return Part{Title: "Carried by hand", Form: formHand, Lines: append([]Line{people, entry(m, "what one of them may be given", doc, l.Each, m.entered, "mass that one person may be given", "whoever assesses manual handling on this site")},
		blanks("how far it is carried, and over what", "how often in a shift", "aids: keys, trolley, vacuum")...)}
}

// liftOverhead is how near lines overhead are.
func (m *maker) liftOverhead(l *job.Lift) Part {
	doc := cmp.Or(l.From, m.Job.Checks.From)
	return Part{Title: "Lines overhead", Form: formOverhead, Lines: append([]Line{entry(m, "voltage of the line", doc, l.Voltage, func(s string) string { return s + " kV" }, "line overhead, nor its voltage,", "the owner of the line"),
		entry(m, "nearest that machine, load or tackle can come", doc, l.Line, m.far, "distance to a line overhead", liftPlanner)},
		blanks("looked up on site by, and when", "spotter, and how the distance is marked")...)}
}

// liftHeld are the checks with both figures.
func (m *maker) liftHeld(held []*check.Said) Part {
	part := Part{Title: "Held against what was entered", Form: fromJob, Heads: []Head{{Name: "what", Wide: 5}, {Name: "figure", Wide: 3}, {Name: "limit", Wide: 3}, {Name: "limit from", Wide: 4}, {Name: "verdict", Wide: 4}}}
	for _, c := range held {
		part.Rows = append(part.Rows, []string{m.afterName(c), c.Value, c.Limit, c.From, verdict(c)})
		part.Notes = appendOnce(part.Notes, "rule: "+c.Rule)
	}
	return part
}

// afterName is what a check is of, without the name of its lift.
func (m *maker) afterName(c *check.Said) string {
	for _, l := range m.Job.Checks.Lifts {
		if l.ID == liftOf(c) {
			return strings.TrimPrefix(c.What, cmp.Or(l.Name, "lift "+l.ID)+", ")
		}
	}
	return c.What
}

// liftWorking is how the figures of checks came about, each once.
func (m *maker) liftWorking(held []*check.Said) Part {
	part := Part{Title: "Worked out", Form: fromJob, Heads: []Head{{Name: "figure", Wide: 4}, {Name: "is", Wide: 3}, {Name: "how, or from", Wide: 6}}}
	said := map[string]bool{}
	row := func(cells ...string) {
		if key := strings.Join(cells, "|"); !said[key] {
			said[key] = true
			part.Rows = append(part.Rows, cells)
		}
	}
	for _, c := range held {
		for _, g := range c.Given {
			row(g.Name, g.Is, g.From)
		}
		for _, w := range c.Working {
			row(w.Name, w.Is, "= "+w.How)
		}
	}
	return part
}

// liftGround is what the machine stands on, and what else somebody has to look at on site.
func (m *maker) liftGround(l *job.Lift, hand bool) Part {
	if hand {
		return Part{Title: "On site", Form: formHand, Lines: blanks("way and footing", "weather", "keep-out area")}
	}
	doc := cmp.Or(l.From, m.Job.Checks.From)
	part := Part{Title: "Stand, ground and way of the load", Form: formLift + ", part E", Lines: blanks("place of the stand, and from the edge of the dig")}
	if l.Pressure.Known {
		part.Lines = append(part.Lines, entry(m, "pressure under tracks or mats", doc, l.Pressure, text, "", ""))
	} else {
		part.Lines = append(part.Lines, entry(m, "reaction of the outrigger that presses most", doc, l.Outrigger, text, "reaction of an outrigger, nor pressure under tracks,", machineOwner),
			entry(m, "its pad", doc, l.Pad, func(s job.Section) string { return m.length(s.Width) + " x " + m.length(s.Height) }, "size of the pad under an outrigger", liftPlanner))
	}
	part.Lines = append(part.Lines, entry(m, "pressure that the ground there is allowed", doc, l.Ground, text, "pressure that the ground at the stand is allowed", groundEngineer))
	part.Lines = append(part.Lines, blanks("mats, level", "obstructions to lift and swing", "path, set-down, who keeps others out", "signals, radio channel", "trial lift, by whom", "wind as measured, where and when; other weather")...)
	return part
}
