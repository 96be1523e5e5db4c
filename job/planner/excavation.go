package planner

import (
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
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
	for i, leg := range s.Legs {
		spans := p.Legs[i].Spans[:len(leg.Deep)]
		parts := b.digParts(leg.Name, spans)
		ask := func(part digPart) excavation.Problem {
			q := b.askExcavation(leg.Name, (spans[part.from].From+spans[part.from].To)/2)
			for k := part.from; k < part.to; k++ {
				q.Stretch = append(q.Stretch, excavation.Stretch{From: spans[k].From, To: spans[k].To, Depth: leg.Deep[k].Depth})
			}
			return q
		}
		if len(parts) == 0 {
			continue
		}
		q := ask(digPart{0, len(spans)})
		whole := excavation.Check(&q)
		if len(parts) == 1 {
			b.writeExcavation(Excavation{Leg: leg.Name}, &whole)
			continue
		}
		for _, part := range parts {
			q := ask(part)
			from, to := spans[part.from].From, spans[part.to-1].To
			q.Where.Chainage = &from
			q.Crossings = slices.DeleteFunc(q.Crossings, func(c excavation.Crossing) bool { return c.At < from || c.At > to })
			sol := excavation.Check(&q)
			waysOfLeg(&sol, &whole, part.from == 0)
			b.writeExcavation(Excavation{Leg: leg.Name, From: mmp(from), To: mmp(to)}, &sol)
		}
	}
}

// waysOfLeg puts what was found of the ways out of the whole leg in place of what was found of a part: people walk on along the
// trench. They stand once, with the first part.
func waysOfLeg(part, leg *excavation.Solution, first bool) {
	part.Results = slices.DeleteFunc(part.Results, func(r excavation.Result) bool { return r.ID == wayOut })
	part.Findings = slices.DeleteFunc(part.Findings, func(f finding.Finding) bool { return f.ID == wayOut })
	part.Ladders = nil
	if !first {
		return
	}
	part.Ladders = leg.Ladders
	for _, r := range leg.Results {
		if r.ID == wayOut {
			part.Results = append(part.Results, r)
		}
	}
	for _, f := range leg.Findings {
		if f.ID == wayOut {
			part.Findings = append(part.Findings, f)
		}
	}
}

// askExcavation is what the job states of the dig at a chainage of a leg, and of the leg's ways out and over.
func (b *build) askExcavation(leg string, at measure.Length) excavation.Problem {
	d := b.job.Dig.At(leg, at)
	q := excavation.Problem{Profile: d.Jurisdiction, Where: finding.Where{Leg: leg}, Soil: d.Soil.Value, Form: excavation.Form(d.Sides),
		Slope: entered(d.Slope), Plumb: entered(d.Upright), OpenFor: entered(d.Hours), Spoil: entered(d.Strip.Setback), Above: entered(d.LadderAbove),
		Wet: entered(d.Wet), Air: entered(d.Oxygen), Beside: entered(d.Beside), Support: b.sideDocument(d.Support), Engineer: b.sideDocument(d.Engineer), Words: b.speech()}
	if d.Signs.Known {
		q.NoSigns = new(!d.Signs.Value)
	}
	if s := d.Shield; s != nil {
		q.Shield = &excavation.Shield{AboveUpright: s.Above, DugBelow: s.Below}
	}
	if len(d.Ladders) > 0 { // stated: a leg that has none has none
		q.Ladders = []measure.Length{}
	}
	for _, l := range d.Ladders {
		if l.Leg == leg {
			q.Ladders = append(q.Ladders, l.At)
		}
	}
	for _, w := range d.Walkways {
		if w.Leg == leg {
			q.Crossings = append(q.Crossings, excavation.Crossing{At: w.At, Guardrail: entered(w.Guardrail)})
		}
	}
	return q
}

// sideDocument is a document that answers for the sides, with who wrote it.
func (b *build) sideDocument(d *job.SideDocument) *excavation.Document {
	if d == nil {
		return nil
	}
	out := excavation.Document{Name: "document " + b.docText(d.Document) + " by " + d.By}
	if d.Until > 0 {
		out.Until = &d.Until
	}
	return &out
}

func (b *build) writeExcavation(out Excavation, s *excavation.Solution) {
	out.Deepest, out.Stopped, out.Results, out.Ladders = measure.MM(s.Depth), s.Stopped, []ExcavationResult{}, []float64{}
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
