package job

import (
	"slices"
	"strings"

	"trenchwright/base/wording"
)

// ground is what is not known of the ground, of the levels and of the dig, where the job asks for any of them.
func (m *missing) ground() {
	j := m.job
	if len(j.Ground.Surfaces) == 0 {
		return
	}
	have := map[SurfaceRole]bool{}
	for _, s := range j.Ground.Surfaces {
		have[s.Role] = true
	}
	surfaces := (*place)(nil).fields("ground", "surfaces")
	for _, one := range []struct {
		role SurfaceRole
		what string
		ask  string
	}{
		{ExistingGround, "survey of the ground as it is", surveyor},
		{FinishedGround, "surface of the finished ground", engineer},
		{RockHead, "surface of rock", engineer},
		{WaterLevel, "level of ground water", engineer},
	} {
		if !have[one.role] {
			m.say("surface-"+string(one.role), surfaces, one.what, one.ask)
		}
	}
	m.setOut()
	m.levels()
	m.dig()
}

// contract is one figure of the contract or the site that may be missing.
type contract struct {
	known            bool
	field, what, ask string
}

func (m *missing) contract(id string, p *place, list []contract) {
	for _, one := range list {
		if !one.known {
			m.say(id+"-"+strings.ReplaceAll(one.field, "_", "-"), p.field(one.field), one.what, one.ask)
		}
	}
}

func (m *missing) levels() {
	l := &m.job.Levels
	m.contract("levels", (*place)(nil).field("levels"), []contract{
		{l.Above.Known, "above", "word on file about how far covers end above the finished ground", owner},
		{l.Least.Known, "least", "least fall of the invert", owner},
		{l.Most.Known, "most", "steepest grade of the run", supplier},
		{len(l.Outlets) > 0, "outlets", "outlet for water", engineer},
		{l.Beam.Known, "beam", "height of the laser's beam", "whoever sets the laser"},
	})
	m.tolerances()
	if d := l.Drain; d != nil {
		m.contract("drain", (*place)(nil).fields("levels", "drain"), []contract{
			{d.Least.Known, "least", "least fall of the drain in the " + m.word(wording.Bed), owner},
			{d.Wall.Known, "wall", "thickness of the drain's wall", supplier},
			{d.Deepest.Known, "deepest", "word on file about how deep the drain may lie", engineer},
		})
		for i, o := range l.Outlets {
			if o.Of != "run" && o.Drain == nil {
				m.say("outlet-drain", (*place)(nil).fields("levels", "outlets").item(i, o.ID).field("drain"), "level of the drain at outlet "+o.ID, engineer)
			}
		}
	}
}

// tolerances is what nobody said about how true things have to lie in height, and about what takes its part of that.
func (m *missing) tolerances() {
	r := &m.job.Rules
	m.contract("rules", (*place)(nil).field("rules"), []contract{
		{r.FormationTol.Known, "formation_tolerance", "tolerance for the level of the " + m.word(wording.Formation), owner},
		{r.BedTol.Known, "bed_tolerance", "tolerance for the level of what " + m.word(wording.Units) + " stand on", owner},
		{r.CoverTol.Known, "cover_tolerance", "tolerance for the level of covers", owner},
	})
	m.contract("levels", (*place)(nil).field("levels"), []contract{
		{m.job.Levels.Reading.Known, "reading", "tolerance for one " + m.word(wording.RodReading), surveyor},
	})
	for i := range m.job.Supplies {
		s := &m.job.Supplies[i]
		p, of := (*place)(nil).field("supplies").item(i, s.ID), "supply "+s.ID
		m.figures("unit", p.field("unit"), of, []wanted{{s.Unit.HeightTol.Known, "height_tolerance", "tolerance for the height of the " + m.word(wording.Unit) + " of %s"}})
		if s.Cover != nil {
			m.figures("cover", p.field("cover"), of, []wanted{{s.Cover.ThickTol.Known, "thickness_tolerance", "tolerance for the thickness of the cover of %s"}})
		}
	}
}

func (m *missing) dig() {
	d := &m.job.Dig
	const competent = "the competent person"
	p := (*place)(nil).field("dig")
	m.contract("dig", p, []contract{
		{d.Jurisdiction != "", "jurisdiction", "jurisdiction for the excavation", engineer},
		{d.Soil.Known, "soil", "class of soil", competent},
		{d.Sides != "", "sides", "word on file about the sides of the dig", competent},
		{d.Slope.Known || d.Sides != "sloped", "slope", "slope of the sides", competent},
		{d.Room.Known, "room", "working room beside the unit", engineer},
		{d.Topsoil.Known, "topsoil", "thickness of the topsoil (0 where there is none)", engineer},
		{d.Bed.Known, "bed", "thickness of the " + m.word(wording.Bed), engineer},
		{d.Layer.Known, "layer", m.word(wording.Layer) + " thickness of the fill", engineer},
		{d.Method != nil || !d.Layer.Known, "method", "compactor and kind of fill, from which the number of passes would follow", engineer},
		{len(d.Bulking) > 0, "bulking", "bulking of what is dug", engineer},
		{d.Load.Known || len(d.Bulking) == 0, "load", "size of a load", engineer},
		{d.Strip.Left.Known && d.Strip.Right.Known, "strip", "width of land that may be used", owner},
	})
	for i := range d.Stretches {
		here := d.as(&d.Stretches[i])
		m.contract("dig-stretch", p.field("stretches").item(i, ""), []contract{
			{here.Slope.Known || here.Sides != "sloped" || d.Sides == "sloped", "slope", "slope of the sides on a stretch of leg " + d.Stretches[i].Leg, competent},
		})
	}
	for _, l := range m.job.Route.Legs {
		if len(l.Services) > 0 && !d.Tolerance.Known {
			m.say("dig-tolerance", p.field("tolerance"), "tolerance zone round recorded services", "their owners")
			return
		}
	}
}

// finished tells whether the levels follow from a surface of the finished ground.
func (m *missing) finished() bool {
	return slices.ContainsFunc(m.job.Ground.Surfaces, func(s Surface) bool { return s.Role == FinishedGround })
}

// setOut is what nobody can set the run out without: one benchmark or one control point alone is held against nothing.
func (m *missing) setOut() {
	s, p := &m.job.SetOut, (*place)(nil).field("set_out")
	benchmark := m.word(wording.Benchmark)
	switch len(s.Benchmarks) {
	case 0:
		m.say("benchmarks", p.field("benchmarks"), benchmark, surveyor)
	case 1:
		m.say("benchmark-second", p.field("benchmarks"), "second "+benchmark+" to check "+s.Benchmarks[0].ID+" against", surveyor)
	}
	switch len(s.Control) {
	case 0:
		m.say("control", p.field("control"), "control point", surveyor)
	case 1:
		m.say("control-second", p.field("control"), "second control point to look back to from "+s.Control[0].ID, surveyor)
	}
	if len(s.Pegs) == 0 {
		m.say("pegs", p.field("pegs"), m.speech.Say("offset peg on file, and those on the %s are dug away", wording.Centreline), surveyor)
	}
	for i, b := range s.Benchmarks {
		if b.From == "" && s.From == "" {
			m.say("benchmark-from", p.field("benchmarks").item(i, b.ID).field("from"), "document for "+benchmark+" "+b.ID, surveyor)
		}
	}
	for i, c := range s.Control {
		if c.From == "" && s.From == "" {
			m.say("control-from", p.field("control").item(i, c.ID).field("from"), "document for control point "+c.ID, surveyor)
		}
	}
	for i, g := range s.Pegs {
		if g.From == "" && s.From == "" {
			m.say("pegs-from", p.field("pegs").item(i, "").field("from"), "document for the offset of the pegs", surveyor)
		}
	}
}
