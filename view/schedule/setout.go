package schedule

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/view/table"
)

// SetOut is the set-out table: every joint's middle and both ends of every leg. Eastings, northings and levels are in the
// unit of the job's coordinates; US survey feet are not the feet that lengths are in, so metres stand beside them.
func (s Set) SetOut() table.Table {
	t := table.Table{Name: "set-out", Title: s.word("Setting out", "Layout"), Columns: []table.Column{
		text("leg", "leg"), text("place", "place"), text("pad", s.word("pad", "leveling pad")),
		s.surveyed("chainage", s.word("chainage from the leg's first node", "station from the leg's first node"))}}
	t.Columns = append(t.Columns, s.coordinate("easting", "easting")...)
	t.Columns = append(t.Columns, s.coordinate("northing", "northing")...)
	t.Columns = append(t.Columns, angle("bearing", s.word("bearing up-chainage", "bearing up-station")))
	t.Columns = append(t.Columns, s.coordinate("level", "wall top, where known")...)
	h := s.plan.Job
	t.Notes = s.notes(s.word("centreline", "centerline")+" of the run at the middle of each joint. "+s.word("Chainages", "Stations")+" are ground lengths; eastings and northings are grid",
		"coordinate system: "+h.Grid, "combined scale factor: "+h.ScaleFactor, "height datum: "+h.HeightDatum, h.DrawnLine)
	for _, r := range s.plan.SetOut {
		row := []table.Cell{table.Text(r.Leg), table.Text(r.Place), yes(r.Pad != "", "one"), mm(r.Chainage)}
		row = append(append(row, s.metres(&r.E)...), s.metres(&r.N)...)
		t.Rows = append(t.Rows, append(append(row, deg(math.Mod(r.Bearing, 360))), s.metres(r.Level)...))
	}
	return t
}

// surveyed is a length along the run: metres, or feet in an imperial job.
func (s Set) surveyed(key, head string) table.Column {
	c := table.Column{Key: key, Head: head, Kind: table.KindLength, Unit: "m", Places: 3}
	if s.imperial {
		c.Unit = "ft"
	}
	return c
}

// The columns of a coordinate, one or two.
func (s Set) coordinate(key, head string) []table.Column {
	metres := table.Column{Key: key, Head: head, Kind: table.KindLength, Unit: "m", Places: 3}
	switch s.coordinates {
	case job.CoordFeet:
		metres.Unit = "ft"
	case job.CoordUSSurvey:
		return []table.Column{{Key: key + "_usft", Head: head, Kind: table.KindDecimal, Unit: "US survey ft", Places: 3}, metres}
	}
	return []table.Column{metres}
}

// metres are the cells of a coordinate that the plan has in metres; none, where it has none.
func (s Set) metres(m *float64) []table.Cell {
	if m == nil {
		return make([]table.Cell, len(s.coordinate("", "")))
	}
	exact := table.Length(measure.FromMetres(*m))
	if s.coordinates == job.CoordUSSurvey {
		const places, unit = 6, 3937.0 / 1200 // US survey feet in a metre, by definition
		return []table.Cell{table.Decimal(int64(math.Round(*m*unit*1e6)), places), exact}
	}
	return []table.Cell{exact}
}
