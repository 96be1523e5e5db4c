package levelling

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// Plane is where the line of sight or the beam runs: a height of instrument, or the plane that a laser sweeps. With the zero
// Grade it is level, and At and Towards say nothing.
type Plane struct {
	At      route.Point    // a place in it, metres from the job's origin
	Level   measure.Length // of the plane there
	Grade   measure.Grade  // rise over run, seen along Towards
	Towards measure.Angle  // bearing in which Grade is told, clockwise from grid north
}

// InstrumentAt is the level plane of a height of instrument.
func InstrumentAt(level measure.Length) Plane { return Plane{Level: level} }

// LevelAt is the level of the plane at a place, rounded once to the nanometre. The run is taken in grid metres.
func (p Plane) LevelAt(at route.Point) measure.Length {
	if p.Grade.Rise == 0 || p.Grade.Run == 0 {
		return p.Level
	}
	run := at.Minus(p.At).Dot(route.Towards(p.Towards))
	return p.Level + measure.FromMetres(float64(run*p.Grade.Rise.Metres())/p.Grade.Run.Metres())
}

// Target is a point that a level is asked of.
type Target struct {
	Name  string
	At    route.Point
	Level measure.Length
}

// RodReading is what the rod shows at a target when its foot stands at the target's level.
type RodReading struct {
	Target
	Reading measure.Length
	Seen    bool // the plane meets the rod
}

// RodReadings are the readings for all targets. Where the plane runs below a target, or above a rod of the stated length (0:
// none on file), that is said, and how far off it is.
func RodReadings(p Plane, rod measure.Length, targets []Target) ([]RodReading, finding.List) {
	var said finding.List
	if p.Grade.Rise != 0 && p.Grade.Run <= 0 {
		return nil, finding.List{{ID: "levelling.plane", Kind: finding.Fault, Text: "the grade of the plane has no run", Where: finding.Where{Path: "plane.grade"}, Try: "a rise over a run above nought"}}
	}
	out := make([]RodReading, len(targets))
	for i, t := range targets {
		r := RodReading{Target: t, Reading: p.LevelAt(t.At) - t.Level}
		r.Seen = r.Reading >= 0 && (rod == 0 || r.Reading <= rod)
		out[i] = r
		f := finding.Finding{ID: "levelling.not-seen", Kind: finding.Attention, Where: finding.Where{Place: t.Name}}
		switch {
		case r.Reading < 0:
			f.Text, f.Limit, f.Value = "the instrument stands too low: no rod can be read here", "0 mm above the point", r.Reading.String()
			f.Try = fmt.Sprintf("set it up more than %s higher, or hold the rod upside down where there is something overhead", r.Reading.Abs())
		case !r.Seen:
			f.Text, f.Limit, f.Value = "the line of sight passes above the rod", "rod of "+rod.String(), r.Reading.String()
			f.Try = fmt.Sprintf("set the instrument up %s lower, or carry the level down by a change point", r.Reading-rod)
		default:
			continue
		}
		said = append(said, f)
	}
	return out, said
}
