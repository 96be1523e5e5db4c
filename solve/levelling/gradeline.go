package levelling

import (
	"fmt"
	"math/big"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// GradeJoint is one joint of a grade: the level wanted there, along one wall.
type GradeJoint struct {
	Name     string
	Chainage measure.Length
	Level    measure.Length
}

// Wall is the side that a grade is told for, looking up-chainage.
type Wall string

// The walls.
const (
	LeftWall  Wall = "left"
	RightWall Wall = "right"
)

// GradeLine is a stretch of one grade that a laser is to hold, so that one reading serves all of its joints.
type GradeLine struct {
	Joints    []GradeJoint // by chainage, rising; two at least
	Wall      Wall
	AtLast    bool            // the laser stands at the last joint, looking down-chainage; else at the first, looking up-chainage
	Beam      measure.Length  // how high the beam runs above the wanted level at that joint
	DialStep  measure.Grade   // what the laser's dial moves by; zero: it takes every grade exactly
	Tolerance *measure.Length // of a level, either way; nil: none on file
}

// GradeSetting is what is set and read: one card.
type GradeSetting struct {
	From, To string
	Wall     Wall
	Laser    string           // the joint that the laser stands at
	Up       bool             // it looks up-chainage
	Grade    measure.Grade    // of the stretch, rising up-chainage, exactly
	Dial     measure.Grade    // what is set: rising away from the laser is above nought
	Reading  measure.Length   // the one rod reading, at every joint along the wall
	Off      []measure.Length // of each joint: the level that the reading gives less the one that is wanted
	Worst    int              // the joint that is furthest off; of several the first
	Verdict  Verdict
	Missing  *finding.Finding // what is not on file, where the verdict cannot be said
}

// Set works a grade out. The beam rises by the dial from the level wanted at the laser's joint, so whoever holds the reading
// there is right; at the others the dial's step, and levels that lie off the straight grade, tell.
func (g GradeLine) Set() (GradeSetting, finding.List) {
	if f := g.faults(); f != nil {
		return GradeSetting{}, finding.List{*f}
	}
	first, last := g.Joints[0], g.Joints[len(g.Joints)-1]
	s := GradeSetting{From: first.Name, To: last.Name, Wall: g.Wall, Laser: first.Name, Up: true, Reading: g.Beam,
		Grade: measure.Grade{Rise: last.Level - first.Level, Run: last.Chainage - first.Chainage}}
	from, seen := first, s.Grade
	if g.AtLast {
		s.Laser, s.Up, from = last.Name, false, last
		seen.Rise = -seen.Rise
	}
	s.Dial = stepped(seen, g.DialStep)
	for i, j := range g.Joints {
		rise, err := s.Dial.Over((j.Chainage - from.Chainage).Abs())
		if err != nil {
			return GradeSetting{}, finding.List{*g.fault("grade", "the grade is too steep to be set on a laser", "a stepped run")}
		}
		s.Off = append(s.Off, from.Level+rise-j.Level)
		if s.Off[i].Abs() > s.Off[s.Worst].Abs() {
			s.Worst = i
		}
	}
	switch {
	case g.Tolerance == nil:
		s.Verdict = CannotSay
		s.Missing = new(finding.NoneOnFile("tolerance for the level of a joint", "whoever wrote the specification of the works", g.where()))
	case s.Off[s.Worst].Abs() > *g.Tolerance:
		s.Verdict = DoesNot
	default:
		s.Verdict = Meets
	}
	return s, nil
}

// stepped is the multiple of step that lies nearest to g, half away from level.
func stepped(g, step measure.Grade) measure.Grade {
	if step.Rise <= 0 || step.Run <= 0 {
		return g
	}
	n := new(big.Int).Mul(big.NewInt(int64(g.Rise)), big.NewInt(int64(step.Run)))
	d := new(big.Int).Mul(big.NewInt(int64(g.Run)), big.NewInt(int64(step.Rise)))
	k := rounded(n, d)
	return measure.Grade{Rise: measure.Length(k.Int64()) * step.Rise, Run: step.Run}
}

func (g GradeLine) where() finding.Where {
	if len(g.Joints) == 0 {
		return finding.Where{Path: "grade"}
	}
	return finding.Where{Place: g.Joints[0].Name}
}

func (g GradeLine) fault(id, text, try string) *finding.Finding {
	return &finding.Finding{ID: "levelling." + id, Kind: finding.Fault, Text: text, Where: g.where(), Try: try}
}

func (g GradeLine) faults() *finding.Finding {
	if len(g.Joints) < 2 {
		return g.fault("grade", "a grade needs two joints", "the joints where it begins and ends")
	}
	for i, j := range g.Joints {
		if beyond(j.Level, highestLevel) || beyond(j.Chainage, 1000*highestLevel) {
			return g.fault("out-of-reach", fmt.Sprintf("level or chainage of %q lie out of reach", j.Name), "its decimal point and its unit")
		}
		if i > 0 && j.Chainage-g.Joints[i-1].Chainage < measure.Millimetre {
			return g.fault("grade", fmt.Sprintf("%q does not lie up-chainage of the joint before it", j.Name), "the joints in the order of their chainages")
		}
	}
	if beyond(g.Last().Level-g.Joints[0].Level, g.Last().Chainage-g.Joints[0].Chainage) {
		return g.fault("grade", "the grade is steeper than 1:1, and no laser is set to that", "a stepped run")
	}
	if g.Beam <= 0 || g.Beam > longestReading {
		return g.fault("beam", fmt.Sprintf("the beam runs %s above the wanted level, and is read on a rod", g.Beam), "a height above nought that the rod reaches")
	}
	if g.DialStep.Rise < 0 || g.DialStep.Run < 0 || (g.DialStep.Rise > 0) != (g.DialStep.Run > 0) || g.DialStep.Run > measure.Kilometre || g.DialStep.Rise > g.DialStep.Run {
		return g.fault("dial", "the step of the dial is no grade", "for example 0.01 % or 0.001 %")
	}
	return nil
}

// Last is the last joint.
func (g GradeLine) Last() GradeJoint { return g.Joints[len(g.Joints)-1] }
