package schedule

import (
	"fmt"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// Dig are the tables of what is dug, filled, brought in and carried off; none where the plan has no dig.
func (s Set) Dig() []table.Table {
	if s.plan.Dig == nil {
		return nil
	}
	all := []table.Table{s.digQuantities(), s.digFill(), s.digBalances(), s.digFabric(), s.digLayers(), s.digStrip(), s.digRunning()}
	return slices.DeleteFunc(all, func(t table.Table) bool { return len(t.Rows) == 0 })
}

func (s Set) format() measure.Format {
	if s.speech.Imperial {
		return measure.Format{System: measure.Imperial}
	}
	return measure.Format{}
}

// volume is a column of volumes: cubic metres, or cubic yards.
func (s Set) volume(key, head string) table.Column {
	_, unit := s.format().Volume(0)
	return table.Column{Key: key, Head: head, Kind: table.KindDecimal, Unit: unit, Places: 2}
}

func (s Set) surface(key, head string) table.Column {
	_, unit := s.format().Surface(0)
	return table.Column{Key: key, Head: head, Kind: table.KindDecimal, Unit: unit, Places: 1}
}

// sixth is a figure to its sixth decimal: a cubic centimetre of a cubic metre. More stands in plan.json.
func sixth(v float64) table.Cell { return table.Decimal(int64(math.Round(v*1e6)), 6) }

func (s Set) cubic(m3 float64) table.Cell {
	v, _ := s.format().Volume(measure.Volume(m3))
	return sixth(v)
}

func (s Set) square(m2 float64) table.Cell {
	v, _ := s.format().Surface(m2)
	return sixth(v)
}

// cubics are the cells of volumes.
func (s Set) cubics(m3 ...float64) []table.Cell {
	out := make([]table.Cell, len(m3))
	for i, v := range m3 {
		out[i] = s.cubic(v)
	}
	return out
}

// yards says what a cubic yard is, where volumes are in cubic yards.
func (s Set) yards() []string {
	if !s.speech.Imperial {
		return nil
	}
	return []string{"1 yd³ is 27 ft³, 1 yd² is 9 ft²"}
}

// WholeRun stands in place of a leg in a row that is the sum of all.
const WholeRun = "the whole run"

// digQuantities are what is dug on each leg, its exact volume beside the two approximations, and where the dig is deepest.
func (s Set) digQuantities() table.Table {
	t := table.Table{Name: "dig", Title: "What is dug, as it lies in the ground", Columns: []table.Column{
		text("leg", "leg"), s.surveyed("run", "run in plan"), s.volume("dug", "dug"), s.volume("topsoil", "topsoil"), s.volume("soil", "soil"), s.volume("rock", "rock"), s.surface("opened", "ground opened"),
		s.volume("exact", "exact, without ends and bends"), s.volume("end_area", "average end area"), s.volume("prismoidal", "prismoidal"), s.length("deepest", "deepest"), s.surveyed("deepest_at", "deepest at"),
	}}
	t.Notes = s.notes(append(s.yards(), "dug: exactly, over the triangles of the survey, with the room at the ends of the run and what bends add or take; exact, average end area and prismoidal: the same dig without these, three ways",
		s.say("deepest: from the higher edge of the dig to its bottom; %s along the leg from its first node", wording.Chainage))...)
	for _, l := range s.plan.Dig.Legs {
		v := l.Volumes
		row := append([]table.Cell{table.Text(l.Leg), run(v)}, s.cubics(v.Dug, v.Topsoil, v.Soil, v.Rock)...)
		row = append(append(row, s.square(v.Opened)), s.cubics(l.Exact, l.EndArea, l.Prismoidal)...)
		t.Rows = append(t.Rows, append(row, mm(l.Deepest), mm(l.DeepestAt)))
	}
	v := s.plan.Dig.Total
	total := append([]table.Cell{table.Text(WholeRun), run(v)}, s.cubics(v.Dug, v.Topsoil, v.Soil, v.Rock)...)
	t.Rows = append(t.Rows, append(append(total, s.square(v.Opened)), make([]table.Cell, 5)...))
	return t
}

func run(v planner.DigVolumes) table.Cell { return table.Length(measure.FromMetres(v.Run)) }

// digFill are what fills the dig again.
func (s Set) digFill() table.Table {
	t := table.Table{Name: "dig-fill", Title: "What fills the dig again, in place", Columns: []table.Column{
		text("leg", "leg"), s.volume("stone", s.say("%s, in place", wording.Bed)), s.volume("pads", s.speech.Word(wording.Pads)), s.volume("pipe", "drain"), s.volume("unit", s.say("%s take", wording.Units)),
		s.volume("fill", "fill"), s.volume("topsoil_back", "topsoil back"),
	}}
	t.Notes = s.notes(append(s.yards(), s.say("in place, compacted. %s take: what their outer bodies take below the finished ground; the stone is what %s and drain leave of it", capital(s.units()), wording.Pads))...)
	row := func(name string, v planner.DigVolumes) {
		t.Rows = append(t.Rows, append([]table.Cell{table.Text(name)}, s.cubics(v.Stone, v.Pads, v.Pipe, v.Unit, v.Fill, v.TopsoilBack)...))
	}
	for _, l := range s.plan.Dig.Legs {
		row(l.Leg, l.Volumes)
	}
	row(WholeRun, s.plan.Dig.Total)
	return t
}

// digLayers are the layers of fill, left and right of the run.
func (s Set) digLayers() table.Table {
	layer := s.speech.Word(wording.Layer)
	t := table.Table{Name: "dig-layers", Title: capital(s.speech.Word(wording.Layers)) + " of fill, left and right", Columns: []table.Column{
		text("leg", "leg"), count("layer", layer), s.volume("left", "left"), s.volume("right", "right"), s.volume("both", "both"),
	}}
	t.Notes = s.notes(append(s.yards(), s.say("in place, compacted; numbered from the underside of the %s up, both sides up together. Left and right looking %s", wording.Unit, wording.UpChainage))...)
	add := func(name string, v planner.DigVolumes) {
		for i, l := range v.Layers {
			t.Rows = append(t.Rows, append([]table.Cell{table.Text(name), table.Count(i + 1)}, s.cubics(l[0], l[1], l[0]+l[1])...))
		}
		if len(v.Layers) == 0 && v.Fill > 0 {
			t.Rows = append(t.Rows, append([]table.Cell{table.Text(name), {}, table.Text(s.say("NOT CHECKED: no %s thickness of the fill on file. Ask: the engineer", wording.Layer)), {}}, s.cubic(v.Fill)))
		}
	}
	for _, l := range s.plan.Dig.Legs {
		add(l.Leg, l.Volumes)
	}
	add(WholeRun, s.plan.Dig.Total)
	return t
}

// digBalances are what becomes of each material: dug and brought in is back and leaves.
func (s Set) digBalances() table.Table {
	t := table.Table{Name: "dig-balance", Title: "What becomes of what is dug", Columns: []table.Column{
		text("of", "of"), text("what", "what"), s.volume("bank", "in the ground"), s.volume("loose", "loose"), s.volume("compacted", "compacted"), count("loads", "loads"), text("source", "factors from"),
	}}
	t.Notes = s.notes(append(s.yards(), "of each material: dug and brought in, in the ground, are what goes back and what leaves", "loads are of what leaves, loose")...)
	for _, b := range s.plan.Dig.Balances {
		known := b.Dug.Loose != nil
		settled := known || b.Leaves.Bank != nil && *b.Leaves.Bank > 0 // without a factor nobody can tell what is left over
		factor := func(v *float64) table.Cell {
			switch {
			case v != nil:
				return s.cubic(*v)
			case known: // of what was dug: of what is brought in instead of it nothing is
				return table.Text("NOT CHECKED: no bulking of the fill that is brought in on file. Ask: whoever supplies it")
			}
			return table.Text(fmt.Sprintf("NOT CHECKED: no bulking of %s on file. Ask: the engineer who looked at the ground", b.Of))
		}
		for _, one := range []struct {
			what  string
			state planner.DigState
		}{{"dug", b.Dug}, {"goes back", b.Back}, {"brought in", b.In}, {"leaves", b.Leaves}} {
			h := one.state
			nothing := h.Bank != nil && *h.Bank == 0
			if nothing && (known || settled) {
				h = planner.DigState{Bank: h.Bank, Loose: h.Bank, Compacted: h.Bank}
			} else if nothing {
				h = planner.DigState{}
			}
			t.Rows = append(t.Rows, []table.Cell{table.Text(b.Of), table.Text(one.what), factor(h.Bank), factor(h.Loose), factor(h.Compacted), s.loads(b, one.what, h), said(b.Source)})
		}
	}
	return t
}

// loads are those in which something leaves.
func (s Set) loads(b planner.DigBalance, what string, h planner.DigState) table.Cell {
	switch {
	case what != "leaves" || h.Bank != nil && *h.Bank == 0:
		return table.Cell{}
	case b.Loads != nil:
		return table.Count(*b.Loads)
	case h.Loose == nil:
		return table.Text(fmt.Sprintf("NOT CHECKED: no bulking of %s on file. Ask: the engineer who looked at the ground", b.Of))
	}
	if s.weighed {
		return table.Text(fmt.Sprintf("NOT CHECKED: no loose density of %s on file, and loads are given by mass. Ask: the engineer who looked at the ground", b.Of))
	}
	return table.Text("NOT CHECKED: no size of a load on file. Ask: whoever carts it away")
}

// digFabric is the separation fabric; no rows where none is asked for.
func (s Set) digFabric() table.Table {
	t := table.Table{Name: "dig-fabric", Title: "Separation fabric", Columns: []table.Column{
		s.surface("covered", "covered"), s.surface("order", "to order, with laps"), count("sheets", "sheets"), count("laps", "laps"),
	}, Notes: s.notes(s.yards()...)}
	if f := s.plan.Dig.Fabric; f != nil {
		t.Rows = [][]table.Cell{{s.square(f.Covered), s.square(f.Order), table.Count(f.Sheets), table.Count(f.Laps)}}
	}
	return t
}

// digRunning is the running curve as figures: how much was dug and filled from the start of each leg.
func (s Set) digRunning() table.Table {
	t := table.Table{Name: "dig-running", Title: "Dug and filled so far, from the start of each leg", Columns: []table.Column{
		text("leg", "leg"), s.surveyed("at", s.speech.Word(wording.Chainage)), s.volume("dug", "dug up to here"), s.volume("fill", "filled up to here, topsoil too"), s.length("deepest", "deepest to the next"),
	}}
	t.Notes = s.notes(append(s.yards(), "dug as it lies in the ground; filled, topsoil too, as it is compacted")...)
	for _, l := range s.plan.Dig.Legs {
		for _, r := range l.Running {
			deepest := table.Cell{}
			if r.Deepest != nil {
				deepest = mm(*r.Deepest)
			}
			t.Rows = append(t.Rows, []table.Cell{table.Text(l.Leg), mm(r.At), s.cubic(r.Dug), s.cubic(r.Fill), deepest})
		}
	}
	return t
}
