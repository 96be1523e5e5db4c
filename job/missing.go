package job

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/wording"
)

// Who can answer for a figure that is not on file.
const (
	supplier = "the supplier"
	surveyor = "the surveyor"
	owner    = "the owner"
	engineer = "the site engineer"
)

// Missing is every figure that nobody entered and that something in the program needs: NOT CHECKED, and whom to ask. The
// text is whole; Ask says the same once more for programs. Nothing of it keeps a job from being planned.
func Missing(j Job) finding.List {
	m := missing{job: &j, speech: j.Speech()}
	for i := range j.Supplies {
		m.supply(&j.Supplies[i], (*place)(nil).field("supplies").item(i, j.Supplies[i].ID))
	}
	m.documents()
	m.rules()
	m.coordinates()
	m.route()
	m.ground()
	m.delivery()
	m.checks()
	m.programme()
	return m.list
}

type missing struct {
	job    *Job
	speech wording.Speech
	list   finding.List
}

// say adds one figure that is not on file. A what that says itself what is on file about something stays as it is.
func (m *missing) say(id string, p *place, what, ask string) {
	if !strings.Contains(what, " on file") {
		what += " on file"
	}
	m.list = append(m.list, finding.Finding{
		ID: "job.missing." + id, Kind: finding.NotChecked, Ask: ask, Where: finding.Where{Path: p.path()},
		Text: "NOT CHECKED: no " + what + ". Ask: " + ask,
	})
}

func (m *missing) word(w wording.Word) string { return m.speech.Word(w) }

// wanted is one entry of a supply that may be missing; in what %s stands for the supply.
type wanted struct {
	known bool
	field string
	what  string
}

// figures says those of a supply that are missing, all from the group at p.
func (m *missing) figures(id string, p *place, of string, list []wanted) {
	for _, w := range list {
		if !w.known {
			m.say(id+"-"+strings.ReplaceAll(w.field, "_", "-"), p.field(w.field), fmt.Sprintf(w.what, of), supplier)
		}
	}
}

func (m *missing) supply(s *Supply, p *place) {
	of, unit, units := "supply "+s.ID, m.word(wording.Unit), m.word(wording.Units)
	u := &s.Unit
	m.figures("unit", p.field("unit"), of, []wanted{
		{u.Inner.Known, "inner", "inner section of the " + unit + " of %s"},
		{u.Outer.Known, "outer", "outer section of the " + unit + " of %s"},
		{u.Mass.Known, "mass", "mass of the " + unit + " of %s"},
		{u.Ends.Known, "ends", "kind of end of the " + unit + " of %s"},
		{u.MayTurn.Known, "may_turn", "word on file about turning " + units + " of %s end for end"},
		{u.OutOfSquare.Known, "out_of_square", "figure on file for how far out of square ends of %s may be"},
	})
	m.joint(s, p.field("joint"), of)
	if !s.Saw.NoCuts {
		m.figures("saw", p.field("saw"), of, []wanted{
			{s.Saw.Shortest.Known, "shortest", "shortest cut " + unit + " of %s"},
			{s.Saw.Kerf.Known, "kerf", "kerf of the saw for %s"},
			{s.Saw.KeepFactoryEnd.Known, "keep_factory_end", "word on file about keeping a factory end on every cut " + unit + " of %s"},
		})
	}
	m.cover(s, p, of)
	m.bearing(s, p.field("bearing"), of)
	m.lifting(s, p, of)
	rated := []wanted{{s.Rating.Known, "rating", "load rating of the " + unit + " of %s"}}
	if !s.Saw.NoCuts {
		rated = append(rated, wanted{s.CutRating.Known, "cut_keeps_rating", "word on file about the load rating of cut " + units + " of %s"})
	}
	m.figures("supply", p, of, rated)
	for i := range s.Fittings {
		m.fitting(&s.Fittings[i], p.field("fittings").item(i, s.Fittings[i].ID), of)
	}
	if len(s.LooseParts) == 0 {
		m.say("supply-loose-parts", p.field("loose_parts"), "list of loose parts of "+of, supplier)
	}
	m.stacking(s, p.field("stacking"), of)
}

func (m *missing) joint(s *Supply, p *place, of string) {
	if gap := s.Joint.Gap; gap.Known && gap.Value.Min == gap.Value.Max {
		m.say("joint-window", p.field("gap"), m.speech.Say("window of the joint gap of %s on file (fixed gap %s)", of, gap.Value.Nominal), supplier)
	}
	m.figures("joint", p, of, []wanted{
		{s.Joint.MitreGap.Known || !mitred(m.job), "mitre_gap", "gap between " + m.word(wording.Mitred) + " ends of %s"},
		{s.Joint.EndGap.Known, "end_gap", "gap of %s to " + m.word(wording.EndPlates) + ", castings and walls"},
	})
}

// mitred tells whether a bend of j is made by sawing: two legs meet without a casting, or a walk turns.
func mitred(j *Job) bool {
	for _, step := range j.Route.Walk {
		if strings.Contains(step, "left") || strings.Contains(step, "right") {
			return true
		}
	}
	legs := map[string]int{}
	for _, l := range j.Route.Legs {
		legs[l.From]++
		legs[l.To]++
	}
	for _, n := range j.Route.Nodes {
		if legs[n.ID] == 2 && n.Fitting == "" {
			return true
		}
	}
	return false
}

func (m *missing) cover(s *Supply, p *place, of string) {
	c := s.Cover
	if c == nil {
		m.say("cover", p.field("cover"), "cover of "+of, supplier)
		return
	}
	list := []wanted{
		{c.Width.Known, "width", "width of the cover of %s"},
		{c.Thickness.Known, "thickness", "thickness of the cover of %s"},
		{c.Shortest.Known, "shortest", "shortest cut cover of %s"},
		{c.Mass.Known, "mass", "mass of the cover of %s"},
		{c.MayTurnOver.Known, "may_turn_over", "word on file about turning covers of %s over"},
		{c.Rating.Known, "rating", "load rating of the cover of %s"},
		{c.CutRating.Known, "cut_keeps_rating", "word on file about the load rating of cut covers of %s"},
		{c.LiftedBy.Known, "lifted_by", "way of lifting the cover of %s"},
	}
	m.figures("cover", p.field("cover"), of, list)
}

func (m *missing) bearing(s *Supply, p *place, of string) {
	b := &s.Bearing
	pads, pad := b.On.Known && b.On.Value == "pads", m.word(wording.Pad)
	m.figures("bearing", p, of, []wanted{
		{b.On.Known, "on", "word on file about what %s lies on, bed or " + m.word(wording.Pads)},
		{b.PadAlong.Known || !pads, "pad_along", "size along the run of a " + pad + " of %s"},
		{b.PadAcross.Known || !pads, "pad_across", "size across the run of a " + pad + " of %s"},
		{b.PadThick.Known || !pads, "pad_thick", "thickness of a " + pad + " of %s"},
	})
}

func (m *missing) lifting(s *Supply, p *place, of string) {
	l := &s.Lifting
	by := l.By.Value
	inserts, unit := by == "inserts", m.word(wording.Unit)
	m.figures("lifting", p.field("lifting"), of, []wanted{
		{l.By.Known, "by", "way of lifting the " + unit + " of %s"},
		{l.Hook.Known || !inserts, "hook", "lifting hardware for the inserts of %s"},
		{l.CutLift.Known || !inserts || s.Saw.NoCuts, "cut_lift", "word on file about lifting cut pieces of %s (cast to length with inserts, slinging detail, rated clamp, new anchors)"},
		{l.OffCentre.Known || !inserts, "off_centre", "limit on file for how far the hook may stand off the " + m.word(wording.Centre) + " of gravity of a " + unit + " of %s"},
		{l.HandPeople.Known || by != "hand", "hand_people", "number of people who lay a " + unit + " of %s by hand"},
	})
	if !inserts {
		return
	}
	for _, length := range s.Unit.Lengths.Value {
		found := false
		for _, in := range s.Unit.CastIn {
			found = found || in.Kind == "insert" && in.Of == length
		}
		if !found {
			m.say("unit-inserts", p.fields("unit", "cast_in"), m.speech.Say("insert positions of the %s %s of %s", length, wording.Unit, of), supplier)
		}
	}
}

func (m *missing) fitting(f *Fitting, p *place, of string) {
	name := "fitting " + f.ID + " of " + of
	if !f.Mass.Known {
		m.say("fitting-mass", p.field("mass"), "mass of "+name, supplier)
	}
	if len(f.Covers) == 0 && f.Kind != "end" {
		m.say("fitting-covers", p.field("covers"), "cover kit of "+name, supplier)
	}
	if !f.Fall.Known && (f.Kind == "tee" || f.Kind == "cross") {
		m.say("fitting-fall", p.field("fall"), "fall of "+name, supplier)
	}
	for i, kit := range f.Covers {
		if !kit.Mass.Known {
			m.say("fitting-cover-mass", p.field("covers").item(i, kit.Name).field("mass"), "mass of cover "+kit.Name+" of "+name, supplier)
		}
	}
}

func (m *missing) stacking(s *Supply, p *place, of string) {
	m.figures("stacking", p, of, []wanted{
		{s.Stacking.UnitsPerBundle.Known, "units_per_bundle", "number of " + m.word(wording.Units) + " in a bundle of %s"},
		{s.Stacking.CoversPerPallet.Known || s.Cover == nil, "covers_per_pallet", "number of covers on a pallet of %s"},
		{s.Stacking.PadsPerPallet.Known || s.Bearing.On.Value != "pads", "pads_per_pallet", "number of " + m.word(wording.Pads) + " on a pallet of %s"},
	})
}

// rules are the contract's figures that are missing, and where its figures have no document.
func (m *missing) rules() {
	r := &m.job.Rules
	p := (*place)(nil).field("rules")
	for _, one := range []struct {
		known            bool
		field, what, ask string
	}{
		{r.DriftReserve.Known, "drift_reserve", "reserve for drift", engineer},
		{r.LipLimit.Known, "lip_limit", "limit for the lip at a joint", owner},
		{r.SawTolerance.Known, "saw_tolerance", "tolerance of the saw", owner},
		{r.UnitScatter.Known, "unit_scatter", "scatter of the lengths of " + m.word(wording.Units), engineer},
		{len(r.Spares) > 0, "spares", "rule for spares", owner},
	} {
		if !one.known {
			m.say("rules-"+strings.ReplaceAll(one.field, "_", "-"), p.field(one.field), one.what, one.ask)
		}
	}
	for i, one := range r.Points {
		m.point(&one, p.field("points").item(i, one.Name))
	}
}

// point is what a hold or witness point of the contract does not say.
func (m *missing) point(one *Point, p *place) {
	m.contract("point", p, []contract{
		{one.Kind != "", "kind", "word on file whether point " + one.Name + " is a hold or a witness point", owner},
		{one.Before != "", "before", "work that waits for point " + one.Name, owner},
		{one.Notice != "", "notice", "period of notice for point " + one.Name, owner},
		{one.To != "", "to", "word on file about who gets notice of point " + one.Name, owner},
		{one.Release != "", "release", "word on file about who releases point " + one.Name, owner},
		{one.From != "" || m.job.Rules.From != "", "from", "document of point " + one.Name, owner},
	})
}
