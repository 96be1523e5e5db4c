package planner

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/earthwork"
)

// DigPit is what is dug for a casting: from each of its legs to its middle, as the trench beside it is dug, all in one pit.
type DigPit struct {
	Node    string   `json:"node"`
	E       float64  `json:"easting_m"` // of its middle
	N       float64  `json:"northing_m"`
	Arms    []PitArm `json:"arms"`
	Missing []string `json:"missing"` // what of the casting is not on file, so that nobody can say whether it stands in it
}

// PitArm is the part of a pit along one leg, from the middle of the casting to the leg's end at its face. Levels are those of the
// formation in metres above the height datum.
type PitArm struct {
	Leg    string     `json:"leg"`
	FromMM measure.MM `json:"from_mm"` // chainage
	ToMM   measure.MM `json:"to_mm"`
	Middle float64    `json:"middle_m"` // at the middle of the casting
	Face   float64    `json:"face_m"`   // at the end of the leg
	Bottom measure.MM `json:"bottom_mm"`
	Depth  measure.MM `json:"depth_mm"` // at the middle, from the higher edge to the formation
}

// digPits are the pits of all castings that are dug, in the order of the nodes.
func (b *build) digPits(p *earthwork.Problem) []DigPit {
	out := []DigPit{}
	for i := range b.net.Nodes {
		n := &b.net.Nodes[i]
		var pit DigPit
		for _, a := range n.Arms {
			face, at := b.axes[a.Leg].start, measure.Length(0)
			if !a.Away {
				face, at = b.axes[a.Leg].end, b.axes[a.Leg].line.Length()
			}
			arm, ok := b.pitArm(p, a.Leg, at)
			if face.made != "casting" || !ok {
				continue
			}
			c := b.net.origin.Coordinates(b.axes[a.Leg].line.At(at).At)
			pit.Node, pit.E, pit.N = n.ID, c.E.Metres(), c.N.Metres()
			pit.Arms = append(pit.Arms, arm)
		}
		if pit.Node == "" {
			continue
		}
		for _, what := range []string{"outline of the underside of the casting at " + n.ID, "thickness of its floor"} {
			pit.Missing = append(pit.Missing, finding.NoneOnFile(what, "the supplier", finding.Where{}).Text)
		}
		out = append(out, pit)
	}
	return out
}

// pitArm is the part of a pit along a leg whose casting has its middle at a chainage, the leg's first or last.
func (b *build) pitArm(p *earthwork.Problem, leg int, at measure.Length) (PitArm, bool) {
	spans := p.Legs[leg].Spans
	if len(spans) == 0 {
		return PitArm{}, false
	}
	s := &spans[0]
	middle, face := s.Start.Formation, s.End.Formation
	if at > 0 {
		s = &spans[len(spans)-1]
		middle, face = s.End.Formation, s.Start.Formation
	}
	if s.From != at && s.To != at {
		return PitArm{}, false
	}
	sheets, _ := earthwork.Sections(p, []earthwork.Place{{Leg: leg, At: at}}, pegReach)
	if len(sheets) == 0 || nothingDug(sheets[0]) {
		return PitArm{}, false
	}
	return PitArm{Leg: b.leg(leg).ID, FromMM: measure.MM(s.From), ToMM: measure.MM(s.To), Middle: middle.Metres(), Face: face.Metres(),
		Bottom: measure.MM(sheets[0].Bottom), Depth: measure.MM(max(0, max(sheets[0].Left.Level, sheets[0].Right.Level)-middle))}, true
}
