package schedule

import (
	"math"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/view/table"
)

// SetOut is the set-out table: every joint's middle and both ends of every leg. Eastings, northings and levels are in the
// unit of the job's coordinates; US survey feet are not the feet that lengths are in, so metres stand beside them.
func (s Set) SetOut() table.Table {
	t := table.Table{Name: "set-out", Title: capital(s.speech.Word(wording.SetOut)), Columns: []table.Column{
		text("leg", "leg"), text("place", "place"), text("pad", s.speech.Word(wording.Pad)),
		s.surveyed("chainage", s.say("%s from the leg's first node", wording.Chainage))}}
	t.Columns = append(t.Columns, s.coordinate("easting", "easting")...)
	t.Columns = append(t.Columns, s.coordinate("northing", "northing")...)
	t.Columns = append(t.Columns, angle("bearing", s.say("bearing %s", wording.UpChainage)))
	t.Columns = append(t.Columns, s.coordinate("level", "wall top, where known")...)
	h := s.plan.Job
	t.Notes = s.notes(s.say("%s of the run at the middle of each joint. %s are ground lengths; eastings and northings are grid", wording.Centreline, capital(s.speech.Word(wording.Chainages))),
		"coordinate system: "+h.Grid, "combined scale factor: "+h.ScaleFactor, "height datum: "+h.HeightDatum, h.DrawnLine)
	for _, r := range s.plan.SetOut {
		row := []table.Cell{table.Text(r.Leg), table.Text(r.Place), yes(r.Pad != "", "one"), mm(r.Chainage)}
		row = append(append(row, s.metres(&r.E)...), s.metres(&r.N)...)
		t.Rows = append(t.Rows, append(append(row, deg(math.Mod(r.Bearing, 360))), s.metres(r.Level)...))
	}
	return t
}

// capital begins a title or a sentence with a word.
func capital(word string) string { return strings.ToUpper(word[:1]) + word[1:] }

// surveyed is a length along the run: metres, or feet in an imperial job.
func (s Set) surveyed(key, head string) table.Column {
	c := table.Column{Key: key, Head: head, Kind: table.KindLength, Unit: "m", Places: 3}
	if s.speech.Imperial {
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
