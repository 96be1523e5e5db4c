package planner

import (
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/check/excavation"
	"trenchwright/solve/earthwork"
)

// excavate holds the dig of every leg against the rules of the job's jurisdiction. What is the same on all legs is said once.
func (b *build) excavate(p *earthwork.Problem, s *earthwork.Solution) {
	d := &b.job.Dig
	if d.Jurisdiction == "" {
		return // job.Missing says so
	}
	if _, ok := excavation.Find(d.Jurisdiction); !ok {
		var ids []string
		for _, one := range excavation.Profiles() {
			ids = append(ids, one.ID)
		}
		b.fault("planner.jurisdiction", "dig.jurisdiction", "no excavation rules are on file for "+d.Jurisdiction, "one of "+strings.Join(ids, ", "))
		return
	}
	b.ruled = map[int]excavation.Problem{}
	for i, leg := range s.Legs {
		q := excavation.Problem{Profile: d.Jurisdiction, Where: finding.Where{Leg: leg.Name}, Soil: d.Soil.Value, Form: excavation.Form(d.Sides),
			Slope: entered(d.Slope), Spoil: entered(d.Strip.Setback), Words: b.speech()}
		for k, deep := range leg.Deep {
			span := p.Legs[i].Spans[k]
			q.Stretch = append(q.Stretch, excavation.Stretch{From: span.From, To: span.To, Depth: deep.Depth})
		}
		if len(q.Stretch) == 0 {
			continue
		}
		b.ruled[i] = q
		sol := excavation.Check(&q)
		b.writeExcavation(leg.Name, &sol)
	}
}

func (b *build) writeExcavation(leg string, s *excavation.Solution) {
	out := Excavation{Leg: leg, Deepest: measure.MM(s.Depth), Stopped: s.Stopped, Results: []ExcavationResult{}, Ladders: []float64{}}
	if s.Profile != nil {
		out.Rules, out.Read = s.Profile.Name+", "+s.Profile.Law, s.Profile.Read
	}
	for _, r := range s.Results {
		out.Results = append(out.Results, ExcavationResult{ID: r.ID, What: r.What, Verdict: string(r.Verdict), Value: r.Value, Limit: r.Limit, Rule: r.Rule, Stop: r.Stop})
	}
	if s.Ladders != nil {
		for _, t := range s.Ladders.Trenches {
			for _, at := range t.Even {
				out.Ladders = append(out.Ladders, at.Metres())
			}
		}
	}
	b.plan.Excavation = append(b.plan.Excavation, out)
	for _, f := range s.Findings {
		same := func(g finding.Finding) bool { return g.ID == f.ID && g.Text == f.Text && g.Value == f.Value }
		if !slices.ContainsFunc(b.found, same) {
			b.add(f)
		}
	}
	for _, c := range s.Cautions {
		f := finding.Finding{ID: "excavation.caution", Kind: finding.Note, Text: c, Where: finding.Where{Path: "dig"}}
		if !slices.ContainsFunc(b.found, func(g finding.Finding) bool { return g.Text == c }) {
			b.add(f)
		}
	}
}
