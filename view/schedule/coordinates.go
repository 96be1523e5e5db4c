package schedule

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/view/table"
)

// grid are the columns of an easting and a northing. They are names of places, so they stay in the unit of the job's coordinates
// where a view shows lengths in another system, and say so.
func (s Set) grid() []table.Column {
	own := ""
	if s.viewed {
		own = ", the job's own unit"
	}
	return append(s.coordinate("easting", "easting"+own), s.coordinate("northing", "northing"+own)...)
}

// level are the columns of a level: in the unit of the job's coordinates, or in that of a view of another system.
func (s Set) level(key, head string) []table.Column {
	if s.viewed {
		return []table.Column{s.surveyed(key, head)}
	}
	return s.coordinate(key, head)
}

// levelCell are the cells of a level that the plan has in metres; none, where it has none.
func (s Set) levelCell(m *float64) []table.Cell {
	if !s.viewed {
		return s.metres(m)
	}
	if m == nil {
		return make([]table.Cell, 1)
	}
	return []table.Cell{table.Length(measure.FromMetres(*m))}
}

// ownUnits says what a view of another system shows otherwise than the files have it.
func (s Set) ownUnits() []string {
	if !s.viewed {
		return nil
	}
	own, shown := map[job.CoordUnit]string{job.CoordFeet: "ft", job.CoordUSSurvey: "US survey ft"}[s.coordinates], "metres"
	if own == "" {
		own = "m"
	}
	if s.speech.Imperial {
		shown = "feet (0.3048 m)"
	}
	return []string{"levels are shown in " + shown + " here; the job has them in " + own + ", and so have its files. Eastings and northings stay as the job has them"}
}

// coordinate are the columns of a coordinate, one or two.
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
