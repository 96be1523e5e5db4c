package planner

import (
	"cmp"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/place/ground"
	"trenchwright/solve/profile"
)

// DepthAnswer is what stands, lies and is dug at one place.
type DepthAnswer struct {
	Place      PlaceAt       `json:"place"`
	Unit       string        `json:"unit"` // that stands there; "" where none does, in a fitting or beyond an end
	Supply     string        `json:"supply"`
	Fitting    string        `json:"fitting"` // the node whose fitting or end lies here, where no unit stands
	E          float64       `json:"easting_m"`
	N          float64       `json:"northing_m"`
	Bearing    float64       `json:"bearing_deg"`
	Levels     Levels        `json:"levels"`    // as in the plan's set-out; pads alone at a joint
	Grade      string        `json:"grade"`     // of the unit, up-chainage; "" where no levels were solved
	NoGround   []string      `json:"no_ground"` // surfaces that are on file and do not reach this place
	Dig        *DigHere      `json:"dig"`       // null: none was computed, or there is no ground here
	Rules      *RulesHere    `json:"rules"`     // null: no dig, or no jurisdiction on file
	Joints     []JointNear   `json:"joints"`    // the nearest one each way; at a joint that one
	Services   []ServiceNear `json:"services"`  // recorded on this leg, nearest in plan first
	NotChecked []string      `json:"not_checked"`
	Findings   finding.List  `json:"findings"` // that concern this place
}

// PlaceAt is a Spot as answers give it back.
type PlaceAt struct {
	Kind     string     `json:"kind"`
	Name     string     `json:"name"`
	Leg      string     `json:"leg"`
	Chainage measure.MM `json:"chainage_mm"`
}

// JointNear is a joint beside a place.
type JointNear struct {
	Name     string     `json:"name"`
	Chainage measure.MM `json:"chainage_mm"`
	Away     measure.MM `json:"away_mm"` // up-chainage above nought
	PadTop   *float64   `json:"pad_top_m"`
}

func (a *Answers) placeAt(s Spot) PlaceAt {
	return PlaceAt{Kind: s.Kind, Name: s.Name, Leg: a.legs[s.Leg].id, Chainage: measure.MM(s.At)}
}

// Depth answers what is at a place.
func (a *Answers) Depth(s Spot) DepthAnswer {
	b := a.b
	pose := b.axes[s.Leg].line.At(s.At)
	c := b.net.origin.Coordinates(pose.At)
	out := DepthAnswer{Place: a.placeAt(s), E: c.E.Metres(), N: c.N.Metres(), Bearing: pose.Bearing().Degrees(),
		NoGround: []string{}, Services: a.servicesNear(s), NotChecked: []string{}, Findings: a.concerning(s)}
	if x := b.axes[s.Leg].on(s.At); x >= 0 && x <= b.axes[s.Leg].clear && a.legs[s.Leg].units > 0 {
		u := b.plan.Units[a.legs[s.Leg].unit+a.unitAt(s.Leg, s.At)]
		out.Unit, out.Supply = u.Mark, u.Supply
	} else if out.Fitting = b.plan.Legs[s.Leg].From; 2*s.At > a.legs[s.Leg].length {
		out.Fitting = b.plan.Legs[s.Leg].To
	}
	row, atRow := a.rowAt(s.Leg, s.At)
	if out.Levels, out.Grade = a.levels(s); atRow && row.Levels != nil {
		out.Levels = *row.Levels
	}
	a.groundAt(s, &out, atRow && row.Levels != nil)
	out.Joints = a.jointsNear(s)
	a.digHere(s, &out)
	out.NotChecked = append(out.NotChecked, a.missing(&out)...)
	return out
}

// rowAt is the row of the set-out at a chainage, if that is the place of one: its levels are those of the answer.
func (a *Answers) rowAt(leg int, at measure.Length) (SetOut, bool) {
	l := &a.legs[leg]
	if l.units == 0 {
		return SetOut{}, false
	}
	rows := a.b.plan.SetOut[l.row : l.row+l.units+1]
	k, ok := slices.BinarySearchFunc(rows, measure.MM(at), func(r SetOut, at measure.MM) int { return cmp.Compare(r.Chainage, at) })
	if !ok {
		return SetOut{}, false
	}
	return rows[k], true
}

// levels are those of the unit at a place, straight on from its joint, with its grade. Where no profile was solved there may
// still be a wall top.
func (a *Answers) levels(s Spot) (Levels, string) {
	b := a.b
	if b.heights == nil {
		out := Levels{Wall: b.levelAt(s.Leg, s.At)}
		out.Walls = [4]*float64{out.Wall, out.Wall, out.Wall, out.Wall}
		return out, ""
	}
	joints := b.heights.problem.Legs[s.Leg].Joints
	k, _ := slices.BinarySearchFunc(joints, s.At, func(j profile.Joint, at measure.Length) int { return cmp.Compare(j.At, at) })
	if k == len(joints) || joints[k].At > s.At {
		k--
	}
	if k < 0 || s.At > joints[len(joints)-1].At {
		return Levels{}, ""
	}
	unit := min(k, len(joints)-2)
	before, behind := b.profile.Faces(b.heights.problem, s.Leg, k, nil)
	if rise, err := behind.Grade.Over(s.At - joints[k].At); err == nil && k == unit {
		behind.Level += rise
		before = behind
	}
	sup := &b.sup[b.heights.legs[s.Leg].supply[unit]]
	out := b.levelsOf(sup, sup, before, behind, false)
	out.Drain = metresOf(b.pipe.between(s.Leg, s.At))
	return out, behind.Grade.Percent(2)
}

// groundAt fills in what the surfaces are at a place; told: the levels have them already, and only what they lack is said.
func (a *Answers) groundAt(s Spot, out *DepthAnswer, told bool) {
	at := a.b.planAt(s.Leg, s.At)
	for _, of := range []struct {
		role ground.Role
		into **float64
	}{{ground.Existing, &out.Levels.Existing}, {ground.Finished, &out.Levels.Finished}, {ground.Rock, &out.Levels.Rock}, {ground.Water, &out.Levels.Water}} {
		g := a.b.ground.Of(of.role)
		if g == nil {
			continue
		}
		z, ok := g.At(at)
		if told {
			ok = *of.into != nil
		}
		if !ok {
			*of.into, out.NoGround = nil, append(out.NoGround, string(of.role))
			continue
		}
		if level := ground.Record(z.Z); !told {
			*of.into = metresOf(&level)
		}
	}
}

// jointsNear are the joints beside a place.
func (a *Answers) jointsNear(s Spot) []JointNear {
	out := []JointNear{}
	l := &a.legs[s.Leg]
	for k := 1; k < l.units; k++ {
		r := &a.b.plan.SetOut[l.row+k]
		j := JointNear{Name: r.Place, Chainage: r.Chainage, Away: r.Chainage - measure.MM(s.At)}
		if r.Levels != nil && r.Pad != "" {
			j.PadTop = r.Levels.PadTop
		}
		switch {
		case j.Away == 0:
			return []JointNear{j}
		case j.Away < 0:
			out = []JointNear{j}
		default:
			return append(out, j)
		}
	}
	return out
}

// concerning are the findings about a place or the unit that stands there.
func (a *Answers) concerning(s Spot) finding.List {
	from, to, unit := s.From, s.To, ""
	if k := a.unitAt(s.Leg, s.At); k >= 0 {
		from, to = min(from, a.unitFrom(s.Leg, k)), max(to, a.unitFrom(s.Leg, k+1))
		unit = a.b.plan.Units[a.legs[s.Leg].unit+k].Mark
	}
	out := finding.List{}
	for _, f := range a.b.plan.Findings {
		here := f.Where.Chainage != nil && f.Where.Leg == a.legs[s.Leg].id && *f.Where.Chainage >= from && *f.Where.Chainage <= to
		if here || unit != "" && f.Where.Place == unit {
			out = append(out, f)
		}
	}
	return out
}

// missing is what nobody entered and what would stand in the answer.
func (a *Answers) missing(d *DepthAnswer) []string {
	b := a.b
	var out []string
	none := func(gone bool, what, ask string) {
		if gone {
			out = append(out, finding.NoneOnFile(what, ask, finding.Where{Leg: d.Place.Leg}).Sentence())
		}
	}
	none(b.ground.Of(ground.Existing) == nil, "survey of the ground as it is", "the surveyor")
	none(b.ground.Of(ground.Finished) == nil, "levels of the finished ground", "the surveyor")
	none(b.ground.Of(ground.Rock) == nil, "top of rock", "the engineer who looked at the ground")
	none(b.ground.Of(ground.Water) == nil, "level of ground water", "the engineer who looked at the ground")
	if d.Unit != "" && d.Levels.Wall != nil {
		of := " of supply " + d.Supply
		none(d.Levels.Cover == nil, "thickness of covers"+of, "the supplier")
		none(d.Levels.Underside == nil, "outer height"+of, "the supplier")
		none(d.Levels.Underside != nil && d.Levels.Invert == nil, "inner section"+of, "the supplier")
		none(d.Levels.Underside != nil && d.Levels.Formation == nil, b.tell("thickness of the %s, or of %s,", wording.Bed, wording.Pads), "the engineer")
		none(d.Levels.Formation != nil && d.Levels.Drain == nil && b.job.Levels.Drain != nil, "level of the drain", "whoever designed the drainage")
	} else if d.Unit != "" {
		none(true, "levels of the run", "whoever set them out")
	}
	none(b.job.Dig.Jurisdiction == "", "jurisdiction for the excavation", "the engineer")
	if b.asked == nil { // what kept the dig from being computed
		for _, f := range b.plan.Findings {
			if f.Kind == finding.NotChecked && strings.HasPrefix(f.Where.Path, "dig.") {
				out = append(out, f.Sentence())
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
