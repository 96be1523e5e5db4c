package planner

import (
	"cmp"
	"math"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// ServiceNear is something buried that a survey recorded on the leg.
type ServiceNear struct {
	ID       string      `json:"id"`
	Name     string      `json:"name"`
	Chainage measure.MM  `json:"chainage_mm"`
	Along    measure.MM  `json:"along_mm"` // from the place to where its middle crosses the leg, along the leg
	Ahead    bool        `json:"ahead"`    // up-chainage
	Away     measure.MM  `json:"away_mm"`  // in plan, from the place to its nearer side; 0: the place lies over it
	InZone   bool        `json:"in_zone"`  // nearer than the tolerance that was entered
	Depth    *measure.MM `json:"depth_mm"`
	Top      *float64    `json:"top_m"`   // level; null: neither it nor a depth on file, or no ground there
	Quality  string      `json:"quality"` // how its position is known
}

func (a *Answers) servicesNear(s Spot) []ServiceNear {
	out := []ServiceNear{}
	for _, v := range a.b.leg(s.Leg).Services {
		n := ServiceNear{ID: v.ID, Name: v.Name, Chainage: measure.MM(v.At), Along: measure.MM((v.At - s.At).Abs()), Ahead: v.At > s.At, Quality: v.Quality}
		n.Away = measure.MM(max(0, a.offLine(s, v.At, v.Skew)-v.Width/2))
		if t := a.b.job.Dig.Tolerance; t.Known {
			n.InZone = measure.Length(n.Away) <= t.Value
		}
		n.Depth = mmOf(v.Depth)
		if top, ok := a.b.serviceTop(s.Leg, v); ok {
			n.Top = metresOf(&top)
		}
		out = append(out, n)
	}
	sorting.By(out, func(x, y ServiceNear) int { return cmp.Compare(x.Away, y.Away) })
	return out
}

// offLine is how far a place lies in plan, on the ground, from a straight line that crosses its leg at a chainage at an angle;
// 0: square. The record does not say to which hand the line leans: where that makes a difference, in a curve, the nearer of
// both counts.
func (a *Answers) offLine(s Spot, at measure.Length, skew measure.Angle) measure.Length {
	if skew == 0 {
		skew = measure.FromDegrees(90)
	}
	line := a.b.axes[s.Leg].line
	on := min(max(at, 0), a.legs[s.Leg].length)
	pose := line.At(on)
	way := line.At(s.At).At.Minus(pose.At)
	scale := line.Scale()
	along := float64(way.E*pose.Along.E) + float64(way.N*pose.Along.N) // grid metres, as seen from the crossing
	beside := float64(way.E*pose.Along.N) - float64(way.N*pose.Along.E)
	along -= float64((at - on).Metres() * scale) // a crossing beyond the leg's end lies straight on
	sin, cos := math.Sincos(skew.Radians())
	off := min(math.Abs(float64(along*sin)-float64(beside*cos)), math.Abs(float64(along*sin)+float64(beside*cos)))
	return measure.FromMetres(off / scale)
}
