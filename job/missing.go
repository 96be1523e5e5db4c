package job

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
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
	m := missing{job: &j}
	for i := range j.Supplies {
		m.supply(&j.Supplies[i], (*place)(nil).field("supplies").item(i, j.Supplies[i].ID))
	}
	m.documents()
	m.rules()
	m.coordinates()
	m.route()
	return m.list
}

type missing struct {
	job  *Job
	list finding.List
}

// say adds one figure that is not on file.
func (m *missing) say(id string, p *place, what, ask string) {
	m.list = append(m.list, finding.Finding{
		ID: "job.missing." + id, Kind: finding.NotChecked, Ask: ask, Where: finding.Where{Path: p.path()},
		Text: fmt.Sprintf("NOT CHECKED: no %s on file. Ask: %s.", what, ask),
	})
}

// wanted is one entry of a supply that may be missing.
type wanted struct {
	known bool
	field string
	what  string
}

// figures says those of a supply that are missing, all from the group at p.
func (m *missing) figures(id string, p *place, of string, list []wanted) {
	for _, w := range list {
		if !w.known {
			m.say(id+"-"+strings.ReplaceAll(w.field, "_", "-"), p.field(w.field), w.what+" of "+of, supplier)
		}
	}
}

func (m *missing) supply(s *Supply, p *place) {
	of := "supply " + s.ID
	u := &s.Unit
	m.figures("unit", p.field("unit"), of, []wanted{
		{u.Inner.Known, "inner", "inside section of the unit"},
		{u.Outer.Known, "outer", "outside section of the unit"},
		{u.Mass.Known, "mass", "mass of the unit"},
		{u.Ends.Known, "ends", "kind of unit end"},
		{u.MayTurn.Known, "may_turn", "word on turning units end for end"},
		{u.OutOfSquare.Known, "out_of_square", "figure for ends out of square"},
	})
	m.joint(s, p.field("joint"), of)
	if !s.Saw.NoCuts {
		m.figures("saw", p.field("saw"), of, []wanted{
			{s.Saw.Shortest.Known, "shortest", "shortest cut unit"},
			{s.Saw.Kerf.Known, "kerf", "kerf"},
			{s.Saw.KeepFactoryEnd.Known, "keep_factory_end", "word on keeping a factory end on every cut unit"},
		})
	}
	m.cover(s, p, of)
	m.bearing(s, p.field("bearing"), of)
	m.lifting(s, p, of)
	rated := []wanted{{s.Rating.Known, "rating", "load rating of the unit"}}
	if !s.Saw.NoCuts {
		rated = append(rated, wanted{s.CutRating.Known, "cut_keeps_rating", "word on the load rating of cut units"})
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
		m.list = append(m.list, finding.Finding{
			ID: "job.missing.joint-window", Kind: finding.NotChecked, Ask: supplier, Where: finding.Where{Path: p.field("gap").path()},
			Text: fmt.Sprintf("NOT CHECKED: no window of the joint gap of %s on file (fixed gap %s). Ask: %s.", of, shownLength(gap.Value.Nominal), supplier),
		})
	}
	m.figures("joint", p, of, []wanted{
		{s.Joint.MitreGap.Known || !mitred(m.job), "mitre_gap", "gap between mitred ends"},
		{s.Joint.EndGap.Known, "end_gap", "gap to an end plate, a casting or a wall"},
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
		{c.Width.Known, "width", "width of the cover"},
		{c.Thickness.Known, "thickness", "thickness of the cover"},
		{c.Shortest.Known, "shortest", "shortest cut cover"},
		{c.Mass.Known, "mass", "mass of the cover"},
		{c.MayTurnOver.Known, "may_turn_over", "word on turning covers over"},
		{c.Rating.Known, "rating", "load rating of the cover"},
		{c.CutRating.Known, "cut_keeps_rating", "word on the load rating of cut covers"},
		{c.LiftedBy.Known, "lifted_by", "way of lifting the cover"},
	}
	m.figures("cover", p.field("cover"), of, list)
}

func (m *missing) bearing(s *Supply, p *place, of string) {
	b := &s.Bearing
	pads := b.On.Known && b.On.Value == "pads"
	m.figures("bearing", p, of, []wanted{
		{b.On.Known, "on", "word on bed or pads"},
		{b.PadAlong.Known || !pads, "pad_along", "size of a pad along the run"},
		{b.PadAcross.Known || !pads, "pad_across", "size of a pad across the run"},
		{b.PadThick.Known || !pads, "pad_thick", "thickness of a pad"},
	})
}

func (m *missing) lifting(s *Supply, p *place, of string) {
	l := &s.Lifting
	by := l.By.Value
	inserts := by == "inserts"
	m.figures("lifting", p.field("lifting"), of, []wanted{
		{l.By.Known, "by", "way of lifting the unit"},
		{l.Hook.Known || !inserts, "hook", "lifting hardware for the inserts"},
		{l.CutLift.Known || !inserts || s.Saw.NoCuts, "cut_lift", "word on lifting cut pieces"},
		{l.OffCentre.Known || !inserts, "off_centre", "figure how far the hook may stand off the centre of gravity"},
		{l.HandPeople.Known || by != "hand", "hand_people", "number of people for a unit laid by hand"},
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
			m.say("unit-inserts", p.fields("unit", "cast_in"), fmt.Sprintf("insert positions of the %s unit of %s", shownLength(length), of), supplier)
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
		{s.Stacking.UnitsPerBundle.Known, "units_per_bundle", "number of units in a bundle"},
		{s.Stacking.CoversPerPallet.Known || s.Cover == nil, "covers_per_pallet", "number of covers on a pallet"},
		{s.Stacking.PadsPerPallet.Known || s.Bearing.On.Value != "pads", "pads_per_pallet", "number of pads on a pallet"},
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
		{r.UnitScatter.Known, "unit_scatter", "scatter of unit lengths", engineer},
		{len(r.Spares) > 0, "spares", "rule for spares", owner},
	} {
		if !one.known {
			m.say("rules-"+strings.ReplaceAll(one.field, "_", "-"), p.field(one.field), one.what, one.ask)
		}
	}
}
