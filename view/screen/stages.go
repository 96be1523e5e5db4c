package screen

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/papers"
	"trenchwright/view/schedule"
)

// stageTables are the nine stages with the tables that belong to each.
var stageTables = [...]struct{ id, name, tables string }{
	{"route", "Route", "joints zones things services checks proof findings"},
	{"order", "Order", "cutting bill orders items loads bundles laydown receiving"},
	{"dig", "Dig", "dig services dig-strip excavation dig-running"},
	{"bed", "Bed", "grades set-out"},
	{"set", "Set", "schedule joints set-out checks checks-working"},
	{"fill", "Fill", "dig-fill dig-layers dig-balance dig-fabric checks"},
	{"cables", "Cables", "stretches things zones checks checks-working"},
	{"cover", "Cover", "covers cutting"},
	{"handover", "Hand over", "checks findings proof"},
}

// nothingYet is what stands under a stage of which only site could tell more.
const nothingYet = "nothing recorded yet"

func (d *draft) stages(found []Finding, heads []TableHead) []Stage {
	out := []Stage{}
	for _, of := range stageTables {
		s := Stage{ID: of.id, Name: of.name, Said: "not recorded yet", Tables: []string{}}
		for _, name := range strings.Fields(of.tables) {
			if slices.ContainsFunc(heads, func(h TableHead) bool { return h.Name == name }) {
				s.Tables = append(s.Tables, name)
			}
		}
		for _, f := range found {
			if f.Stage == of.id && f.Kind != string(finding.Note) && f.Kind != string(finding.Assumed) {
				s.Open++
			}
		}
		d.known(&s)
		out = append(out, s)
	}
	return out
}

// known says how much of a stage the plan knows.
func (d *draft) known(s *Stage) {
	p := &d.plan
	if d.early && s.ID != "route" {
		s.Said = "being planned"
		return
	}
	switch s.ID {
	case "route":
		s.Of = len(p.Legs)
		for _, l := range p.Legs {
			if l.Verdict == "found" {
				s.Done++
			}
		}
		s.Said = fmt.Sprintf("%d of %s", s.Done, count(s.Of, "leg", "legs"))
		if s.Done == s.Of && s.Of > 0 {
			s.Said = count(s.Of, "leg", "legs") + " laid out"
		}
		if s.Of == 0 {
			s.Said = "nothing to lay out yet"
		}
	case "order":
		s.Said = d.unitsText(p.Totals.Bought) + " to buy"
		if p.Totals.Units == 0 {
			s.Said = "nothing to order yet"
		}
	case "dig":
		if p.Dig == nil {
			s.Said = "NOT CHECKED"
			return
		}
		v, unit := d.format().Volume(measure.Volume(p.Dig.Total.Dug))
		s.Said = fmt.Sprintf("%.0f %s to dig", v, unit)
	case "bed":
		for _, r := range p.SetOut {
			s.Of++
			if r.Levels != nil && r.Levels.Wall != nil {
				s.Done++
			}
		}
		s.Said = fmt.Sprintf("%d of %d places with levels", s.Done, s.Of)
		if s.Done == s.Of && s.Of > 0 {
			s.Said = d.speech.Say("%d levels", s.Of)
		}
		if s.Of == 0 {
			s.Said = "no places yet"
		}
	case "set":
		s.Of = p.Totals.Units
		s.Said = fmt.Sprintf("0 of %d set", s.Of)
	case "cover":
		s.Of = p.Totals.Covers
		s.Said = fmt.Sprintf("0 of %d laid", s.Of)
	}
}

// stageOf is the stage that a finding asks something of.
func stageOf(f finding.Finding) string {
	id, path := f.ID, f.Where.Path
	begins := func(text string, with ...string) bool {
		return slices.ContainsFunc(with, func(w string) bool { return strings.HasPrefix(text, w) })
	}
	switch {
	case begins(path, "delivery") || begins(id, "delivery") || strings.Contains(path, ".stacking"):
		return "order"
	case begins(path, "dig.fabric", "dig.layer", "dig.method", "dig.bulking", "dig.reuse") || begins(id, "planner.passes"):
		return "fill"
	case begins(path, "dig") || begins(id, "excavation", "earthwork", "ground", "planner.peg"):
		return "dig"
	case begins(path, "levels", "ground", "set_out", "rules.bed", "rules.formation", "rules.lip") || begins(id, "profile", "planner.step", "drain", "planner.drain"):
		return "bed"
	case begins(id, "load", "flotation"):
		return "route"
	case begins(id, "lifting") || begins(path, "checks.lifts"):
		return "set"
	case begins(id, "cable") || begins(path, "checks.cables"):
		return "cables"
	case begins(id, "compaction"):
		return "fill"
	case begins(path, "rules.cover") || strings.Contains(path, ".cover") || strings.Contains(id, "cover-level"):
		return "cover"
	case begins(id, "cutstock", "cutting") || begins(path, "yard", "rules.spares", "rules.saw") || strings.Contains(path, ".loose_parts"):
		return "order"
	case strings.Contains(path, ".lifting") || strings.Contains(path, ".mass"):
		return "set"
	}
	return "route"
}

// sheets are the files of the pack that people ask for; single sheets and cards as drawings are not among them.
func (d *draft) sheets(heads []TableHead) []Sheet {
	out := []Sheet{{Name: "sheets-A3.pdf", About: "all sheets on A3", Stage: "route"}, {Name: "sheets-A1.pdf", About: "the same on A1", Stage: "route"},
		{Name: "tables.xlsx", About: "all tables as a workbook", Stage: "order", Server: true}}
	if slices.ContainsFunc(d.plan.Cutting, func(c planner.Cutting) bool { return len(c.Patterns) > 0 }) {
		out = append(out, Sheet{Name: "cut-cards-A4.pdf", About: "a card for each piece that is cut, four on a page, to be cut apart", Stage: "order"})
	}
	if d.levelled() {
		out = append(out, Sheet{Name: "set-out-cards-A4.pdf", About: "the levels of every joint, six joints of one grade on a card, four on a page, to be cut apart", Stage: "bed"},
			Sheet{Name: "checking-pages-A4.pdf", About: "pages to be filled in on site: the levels wanted at every joint beside empty columns, before the bed, before the setting, after the covers", Stage: "set"})
	}
	out = append(out, Sheet{Name: "method-statement.pdf", Kind: papers.Method, About: "method statement, a skeleton: the works in the job's order with their quantities and rules, blank where a person decides", Stage: "route"},
		Sheet{Name: "delivery-checks.pdf", Kind: papers.Delivery, About: "delivery checks, a paper a load: what is counted and looked at before anything is unloaded", Stage: "order"},
		Sheet{Name: "permit-to-dig.pdf", Kind: papers.Permit, About: "permits to dig, one a leg: services, tickets, where is dug by hand, who issues and takes over", Stage: "dig"},
		Sheet{Name: "excavation-inspection.pdf", Kind: papers.Excavation, About: "excavation inspection, stretch by stretch, and what asks for another look", Stage: "dig"})
	if len(d.job.Checks.Lifts) > 0 {
		out = append(out, Sheet{Name: "lift-plans.pdf", Kind: papers.Lift, About: "lift plans, one for each kind of lift, with both figures of every check", Stage: "set"})
	}
	out = append(out, Sheet{Name: "inspection-plan.pdf", Kind: papers.Inspection, About: "inspection and test plan with hold and witness points and notices", Stage: "handover"}, Sheet{Name: "papers.json", About: "the papers under their stages as data, each figure with its source", Stage: "handover"})
	if d.job.Programme != nil {
		out = append(out, Sheet{Name: "programme-A3.pdf", About: "the programme, time against chainage, and the days ahead", Stage: "order"},
			Sheet{Name: "csv/programme.csv", About: schedule.ProgrammeTitles[0], Stage: "order"}, Sheet{Name: "csv/ahead.csv", About: schedule.ProgrammeTitles[1], Stage: "order"})
	}
	for _, h := range heads {
		out = append(out, Sheet{Name: "csv/" + h.Name + ".csv", About: h.Title, Stage: firstStage(h.Name)})
	}
	if d.plan.Totals.Units > 0 {
		out = append(out, Sheet{Name: "interchange/plan.xml", About: "alignments with their levels, ground and set-out points as LandXML 1.2", Stage: "handover"})
	}
	return append(out, Sheet{Name: "plan.json", About: "the plan as data; its schema is in docs/plan.schema.json", Stage: "handover"},
		Sheet{Name: "job.json", About: "the job in its canonical form", Stage: "handover"},
		Sheet{Name: "job.yaml", About: "the job as text, to read and to edit by hand", Stage: "handover"},
		Sheet{Name: "findings.txt", About: "what the program has to say", Stage: "handover"})
}

// firstStage is the first stage that a table belongs to.
func firstStage(table string) string {
	for _, s := range stageTables {
		if slices.Contains(strings.Fields(s.tables), table) {
			return s.id
		}
	}
	return "handover"
}

// levelled tells whether the plan has the level of anything under a joint.
func (d *draft) levelled() bool {
	return slices.ContainsFunc(d.plan.SetOut, func(r planner.SetOut) bool { return r.Levels != nil && r.Levels.Wall != nil })
}

// format is how figures are shown.
func (d *draft) format() measure.Format {
	if d.speech.Imperial {
		return measure.Format{System: measure.Imperial}
	}
	return measure.Format{}
}
