package schedule

import (
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// Points are the benchmarks and control points that the run is set out from; none: the job has neither.
func (s Set) Points() []table.Table {
	if len(s.plan.Benchmarks)+len(s.plan.Control) == 0 {
		return nil
	}
	t := table.Table{Name: "points", Title: "Points to set out from", Columns: []table.Column{text("kind", "kind"), text("name", "name")}}
	t.Columns = append(append(t.Columns, s.grid()...), s.level("level", "level")...)
	t.Columns = append(t.Columns, text("where", "where"), text("source", "from"))
	h := s.plan.Job
	t.Notes = s.notes("coordinate system: "+h.Grid, "height datum: "+h.HeightDatum)
	t.Notes = append(t.Notes, s.ownUnits()...)
	for _, kind := range []struct {
		name   string
		points []planner.SurveyPoint
	}{{s.speech.Word(wording.Benchmark), s.plan.Benchmarks}, {"control point", s.plan.Control}} {
		for _, p := range kind.points {
			row := []table.Cell{table.Text(kind.name), table.Text(p.ID)}
			row = append(append(append(row, s.metres(p.E)...), s.metres(p.N)...), s.levelCell(p.Level)...)
			t.Rows = append(t.Rows, append(row, table.Text(p.Where), table.Text(p.Source)))
		}
	}
	return []table.Table{t}
}

// Pegs are the pegs beside the run; none: the job asks for none.
func (s Set) Pegs() []table.Table {
	if len(s.plan.Pegs) == 0 {
		return nil
	}
	formation, depth := s.speech.Word(wording.Formation), func(key, head string) table.Column {
		c := s.surveyed(key, head)
		if s.speech.Imperial {
			c.Unit = "ft-in"
		}
		return c
	}
	t := table.Table{Name: "pegs", Title: "Pegs beside the run", Columns: []table.Column{text("leg", "leg"), text("place", "place"), s.surveyed("chainage", s.say("%s from the leg's first node", wording.Chainage)),
		text("side", s.say("side of the %s", wording.Centreline)), depth("offset", "offset, measured level")}}
	t.Columns = append(t.Columns, s.grid()...)
	for _, one := range [][2]string{{"ground", "ground at the peg"}, {"formation", formation}, {"wall_top", "wall top"}} {
		t.Columns = append(t.Columns, s.level(one[0], one[1])...)
	}
	t.Columns = append(t.Columns, text("formation_way", "cut or fill to "+formation), depth("to_formation", "to "+formation), text("wall_way", "cut or fill to wall top"), depth("to_wall", "to wall top"),
		depth("edge", "edge of the dig on that side"), text("lost", "does not last"), text("source", "from"))
	t.Notes = s.notes(s.say("left and right looking %s; cut and fill from the ground at the peg, not from its top", wording.UpChainage))
	t.Notes = append(t.Notes, s.ownUnits()...)
	for _, f := range s.plan.Findings {
		if f.ID == "planner.pegs-few" || f.ID == "planner.peg-near" {
			t.Notes = append(t.Notes, f.Text)
		}
	}
	for _, p := range s.plan.Pegs {
		row := []table.Cell{table.Text(p.Leg), table.Text(p.Place), mm(p.Chainage), table.Text(p.Arrow + " " + p.Side), mm(p.Offset)}
		row = append(append(row, s.metres(&p.E)...), s.metres(&p.N)...)
		for _, m := range []*float64{p.Ground, p.Formation, p.Wall} {
			row = append(row, s.levelCell(m)...)
		}
		row = append(append(row, pegCells(p.ToFormation, p.Ground)...), pegCells(p.ToWall, p.Ground)...)
		edge := table.Cell{}
		if p.Edge != nil {
			edge = mm(*p.Edge)
		}
		t.Rows = append(t.Rows, append(row, edge, table.Text(strings.Join(p.Lost, ", ")), table.Text(p.Source)))
	}
	return []table.Table{t}
}

// pegCells are which way a level lies from the ground at a peg, and how far.
func pegCells(f *planner.PegFigure, ground *float64) []table.Cell {
	switch {
	case ground == nil:
		return []table.Cell{table.Text("no ground here"), {}}
	case f == nil:
		return []table.Cell{{}, {}}
	}
	return []table.Cell{table.Text(f.Way + " " + f.Arrow), table.Length(measure.Length(f.Amount))}
}
