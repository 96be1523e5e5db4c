package planner

import (
	"cmp"
	"fmt"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
)

// head is what a title block says of the job.
func (b *build) head() JobHead {
	j, own := b.job, b.job
	own.System, own.Words = b.own.System, b.own.Words
	h := JobHead{
		ID: j.ID, Name: j.Name, Owner: j.Owner, By: j.By, On: j.On, Hash: job.Hash(own), System: string(j.System), Words: string(j.Words),
		Grid: j.Coordinates.System, HeightDatum: j.Coordinates.HeightDatum, ScaleFactor: j.Coordinates.ScaleFactor,
		Origin: [2]float64{b.net.origin.E.Metres(), b.net.origin.N.Metres()}, Surveys: []Survey{},
	}
	if h.ScaleFactor != "" {
		h.ScaleSource = b.docText(j.Coordinates.ScaleFrom)
	}
	for _, s := range j.Ground.Surfaces {
		h.Surveys = append(h.Surveys, Survey{string(s.Role), s.File, b.docText(cmp.Or(s.From, j.Ground.From))})
	}
	if j.Revision != nil {
		h.Revision = j.Revision.ID
	}
	if h.System == "" {
		h.System = string(job.Metric)
	}
	if h.Words == "" {
		h.Words = string(job.UK)
	}
	none := func(s *string, what, ask string) {
		if *s == "" {
			*s = "NOT CHECKED: no " + what + " on file. Ask: " + ask
		}
	}
	none(&h.Grid, "coordinate system", "the surveyor")
	none(&h.HeightDatum, "height datum", "the surveyor")
	none(&h.ScaleFactor, "combined scale factor", "the surveyor")
	if d, err := drawn(j.Coordinates.Line, b.sup); err == nil && j.Coordinates.Line.Kind != "" {
		h.DrawnLine = d.In(b.speech())
	} else {
		h.DrawnLine = b.tell("NOT CHECKED: no word on file about which line was drawn; it is taken as the %s. Ask: whoever drew the route", wording.Centreline)
	}
	return h
}

// source says where a supply's figures come from.
func (b *build) source(s *supply) string { return b.docText(s.From) }

// docText names a document with its revision and who entered it.
func (b *build) docText(id string) string {
	if id == "" {
		return "NOT CHECKED: no document on file. Ask: whoever entered it"
	}
	for _, d := range b.job.Documents {
		if d.ID != id {
			continue
		}
		t := d.ID + " " + d.Title
		if d.Revision != "" {
			t += ", rev " + d.Revision
		}
		if d.EnteredBy != "" {
			t += ", entered by " + d.EnteredBy
		}
		if d.EnteredOn != "" {
			t += " on " + d.EnteredOn
		}
		return t
	}
	return id
}

func (b *build) supplyHeads() []SupplyHead {
	var out []SupplyHead
	for i := range b.sup {
		s := &b.sup[i]
		h := SupplyHead{ID: s.ID, Title: s.Title, Source: b.source(s), Ends: word(s.Unit.Ends, "kind of end"), Bearing: word(s.Bearing.On, "bearing"),
			Lifting: word(s.Lifting.By, "way of lifting"), Rating: word(s.Rating, "load rating of "+b.speech().Word(wording.Units)), Kerf: length(s.Saw.Kerf), SawTol: "NOT CHECKED: no saw tolerance on file. Ask: the site engineer"}
		for _, l := range s.Unit.Lengths.Value {
			h.Lengths = append(h.Lengths, measure.MM(l))
		}
		if s.Unit.Outer.Known {
			h.OuterWidth, h.OuterHeight = mmp(s.Unit.Outer.Value.Width), mmp(s.Unit.Outer.Value.Height)
		}
		if s.Unit.Inner.Known {
			h.InnerWidth, h.InnerHeight = mmp(s.Unit.Inner.Value.Width), mmp(s.Unit.Inner.Value.Height)
		}
		if t := b.job.Rules.SawTolerance; t.Known {
			h.SawTol = b.say(t.Value)
		}
		h.CoverRating, h.CoverLift, h.CutCoverLift = "no covers", "no covers", "no covers"
		if c := s.Cover; c != nil {
			h.CoverWidth, h.CoverRating, h.CoverLift = length(c.Width), word(c.Rating, "load rating of covers"), word(c.LiftedBy, "way of lifting covers")
			h.CutCoverLift = cutCoverLift(c.LiftedBy)
		}
		out = append(out, h)
	}
	return out
}

// cutCoverLift says how a cut cover is lifted. What grips a whole cover may have been sawn off.
func cutCoverLift(by job.Entry[string]) string {
	switch {
	case !by.Known:
		return word(by, "way of lifting covers")
	case by.Value == "hand":
		return "by hand"
	}
	return "whole covers: " + by.Value + ". NOT CHECKED: nothing about lifting cut ones on file. Ask: the supplier"
}

func mmp(l measure.Length) *measure.MM { m := measure.MM(l); return &m }

func length(e job.Entry[measure.Length]) *measure.MM {
	if !e.Known {
		return nil
	}
	return mmp(e.Value)
}

// word is an entered text, marked where it was assumed, or that nobody entered it.
func word(e job.Entry[string], what string) string {
	switch {
	case !e.Known:
		return "NOT CHECKED: no " + what + " on file. Ask: the supplier"
	case e.Assumed:
		return e.Value + " (assumed, no supplier's figure)"
	}
	return e.Value
}

func withdrawn(l job.Leg) []string {
	if l.Built == nil {
		return nil
	}
	return slices.Clone(l.Built.Withdrawn)
}

// legs writes the legs' heads into the plan.
func (b *build) legHeads(legs []laid) {
	for i, l := range b.net.Legs {
		a, d := &b.axes[i], b.leg(i)
		out := Leg{
			Name: d.ID, From: d.From, To: d.To, Supply: b.legSupply(i).ID, LaidFrom: d.From,
			Verdict: string(legs[i].solution.Verdict), Why: legs[i].solution.Why, Try: legs[i].solution.Try,
			ClearLength: measure.MM(a.clear), NodeLength: measure.MM(l.Line.Length()),
			Withdrawn: withdrawn(d), StartSetback: measure.MM(a.start.setback), EndSetback: measure.MM(a.end.setback), SlopeRise: measure.MM(a.lie.rise()),
			Count: Count(legs[i].solution.Count),
		}
		if d.LayFrom != "" {
			out.LaidFrom = d.LayFrom
		}
		for _, e := range l.Line.Elements() {
			out.Axis = append(out.Axis, AxisPart{
				FromChainage: measure.MM(e.Start), ToChainage: measure.MM(e.End()),
				Start: [2]float64{e.From.E, e.From.N}, End: [2]float64{e.To.E, e.To.N}, Radius: e.Radius,
			})
		}
		b.plan.Legs = append(b.plan.Legs, out)
		for _, z := range legs[i].zones {
			list := &b.plan.Zones
			if !z.noJoint {
				list = &b.plan.NoCuts
			}
			if z.noJoint || z.noCut {
				*list = append(*list, Zone{Leg: d.ID, From: measure.MM(z.from), To: measure.MM(z.to), Why: z.why, Kind: z.kind, ID: z.id, NoCut: z.noCut})
			}
		}
	}
}

func (b *build) totals() {
	t := &b.plan.Totals
	t.Legs, t.Units, t.Covers, t.Joints = len(b.plan.Legs), len(b.plan.Units), len(b.plan.Covers), len(b.plan.Joints)
	mass, known := 0.0, true
	for _, l := range b.plan.Legs {
		t.ClearLength += l.ClearLength
	}
	for _, u := range b.plan.Units {
		if u.Cut {
			t.Cuts++
		} else {
			t.Plain++
		}
		if u.Mass == nil {
			known = false
			continue
		}
		mass += *u.Mass
	}
	for _, c := range b.plan.Covers {
		if c.Cut {
			t.CutCovers++
		}
		if c.Mass == nil {
			known = false
			continue
		}
		mass += *c.Mass
	}
	if known && t.Units > 0 { // nothing laid out weighs nothing that anybody could order by
		t.MassKG = &mass
	}
}

// notChecked says what nobody entered, what was assumed, and what a missing scale factor means on this run.
func (b *build) notChecked() {
	water := slices.ContainsFunc(b.found, func(f finding.Finding) bool { return f.Where.Path == "dig.water" })
	for _, f := range job.Missing(b.written) {
		if water && f.ID == "job.missing.surface-water" {
			continue // the dig says so, to whom it matters
		}
		if f.Where.Path != "coordinates.scale_factor" { // the route says it with what it means on this run
			b.add(f)
		}
	}
	b.add(job.Assumptions(b.written)...)
	b.add(job.Overridden(b.written)...)
	for i := range b.sup {
		b.add(b.sup[i].gapNotes("supplies." + b.sup[i].ID)...)
		if !b.sup[i].mayCut {
			b.add(finding.Finding{ID: "planner.no-cutting", Kind: finding.Attention,
				Text:  fmt.Sprintf("nothing of supply %s is laid out that needs a cut: %s", b.sup[i].ID, b.sup[i].cutWhy),
				Where: finding.Where{Path: "supplies." + b.sup[i].ID + ".saw"}, Ask: "the supplier"})
		}
	}
}
