package planner

import (
	"math"
	"reflect"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/ground"
	"trenchwright/solve/profile"
)

// writeLevels completes the set-out with what the profile says: the level of everything under each joint, and the grades
// that a laser is set to.
func (b *build) writeLevels(legs []laid) {
	if b.heights == nil {
		return
	}
	b.add(b.profile.Findings...)
	b.add(b.heights.said...)
	b.unheld()
	row := 0
	for i := range legs {
		rows := b.plan.SetOut[row : row+len(legs[i].units)+1]
		row += len(rows)
		for k, of := range b.heights.legs[i].joint {
			if of >= 0 {
				b.writeJoint(i, &legs[i], k, of, &rows[of])
			}
		}
		b.writeGrades(i, rows)
		b.writeDrain(i, rows)
	}
	b.writeDrainLows()
}

// unheld says what the job asks of its levels that they do not keep.
func (b *build) unheld() {
	v := &b.job.Levels
	for i := range b.net.Legs {
		id := b.leg(i).ID
		least, toward := v.Least.Known, false
		for _, s := range v.Stretches {
			if s.Leg == id {
				least, toward = least || s.Least.Known, toward || s.Toward != ""
			}
		}
		if least && !toward {
			b.add(finding.Finding{ID: "planner.fall-direction", Kind: finding.NotChecked, Where: finding.Where{Leg: id}, Ask: "whoever designed the drainage",
				Text: b.tell("NOT CHECKED: no word on file about which way the water runs on leg %s, so the least fall is not held there", id), Try: "levels.stretches: the leg, and toward which of its nodes"})
		}
	}
	said := func(kind finding.Kind, id, path, text, ask string) {
		b.add(finding.Finding{ID: "planner." + id, Kind: kind, Where: finding.Where{Path: path}, Text: text, Ask: ask})
	}
	if !v.Setting.Known {
		said(finding.Assumed, "setting-assumed", "levels.setting", "grades are whole numbers of "+settingStep.String()+": assumed, no figure on file (common practice, no source)", "")
	}
	if !v.Break.Known && b.priced() {
		said(finding.Assumed, "break-assumed", "levels.break", b.sayBreak(), "")
	}
	for _, p := range v.Pins {
		if s := b.supplyNamed(b.legNamed(p.Leg).Supply); p.Of == "invert" && !s.Unit.Inner.Known {
			said(finding.NotChecked, "pin-invert", "levels.pins."+p.ID, "NOT CHECKED: no inner section of supply "+s.ID+" on file, so pin "+p.ID+" of the invert is not held. Ask: the supplier", "the supplier")
		}
	}
	b.sayCasts()
	b.sayBranches()
	b.sayStepped()
	b.sayCoversOff()
}

// sayBreak is the price of a change of grade that is assumed, in words.
func (b *build) sayBreak() string {
	text := b.tell("a change of grade by 1 %% counts as much as one joint that lies %s off", b.breakPrice())
	if tol := b.job.Rules.CoverTol; tol.Known && b.breakPrice() < looseBreak {
		text += b.tell(", %d times as far as the top of a cover may lie off its level", tightBreak)
	}
	return text + ": assumed, no figure on file (common practice, no source)"
}

// priced tells whether a change of grade has a price anywhere: a run that follows the ground pays for none.
func (b *build) priced() bool {
	for _, l := range b.heights.problem.Legs {
		if slices.ContainsFunc(l.Joints, func(j profile.Joint) bool { return j.Break > 0 }) {
			return true
		}
	}
	return false
}

// writeJoint writes the levels under joint k of the profile, which is the place of a row.
func (b *build) writeJoint(leg int, l *laid, k, unit int, row *SetOut) {
	before, behind := b.profile.Faces(b.heights.problem, leg, k, nil)
	out := b.levelsOf(b.unitSupply(l, max(unit-1, 0)), b.unitSupply(l, min(unit, len(l.units)-1)), before, behind, true)
	out.Drain = metresOf(b.pipe.level(leg, k))
	b.groundUnder(leg, b.heights.problem.Legs[leg].Joints[k].At, &out)
	row.Levels = &out
	if unit > 0 && unit < len(l.units) { // where the run steps the row is the unit behind
		row.Level = metresOf(&behind.Level)
	}
}

// unitSupply is the supply of a unit of a leg.
func (b *build) unitSupply(l *laid, unit int) *supply { return &b.sup[l.supply[l.units[unit].Supply]] }

// groundUnder writes the ground on the centreline.
func (b *build) groundUnder(leg int, ch measure.Length, out *Levels) {
	at := b.planAt(leg, ch)
	for role, into := range map[ground.Role]**float64{ground.Existing: &out.Existing, ground.Finished: &out.Finished, ground.Rock: &out.Rock, ground.Water: &out.Water} {
		if g := b.ground.Of(role); g != nil {
			if z, ok := g.At(at); ok {
				level := ground.Record(z.Z)
				*into = metresOf(&level)
			}
		}
	}
}

// levelsOf are the levels between two faces, of a unit of supply last and one of supply next; pads lie at joints alone.
func (b *build) levelsOf(last, next *supply, before, behind profile.Face, atJoint bool) Levels {
	was, c := b.section(last).At(before, before), b.section(next).At(before, behind)
	under, other := b.under(next, c.LeftBehind), b.under(last, was.LeftBefore)
	out := Levels{
		Cover: under.Cover, Wall: under.Wall, Underside: under.Underside, PadTop: under.PadTop, PadBase: under.PadBase,
		UnderPad: under.UnderPad, Formation: under.Formation, Invert: under.Invert,
		Walls: [4]*float64{metresOf(was.LeftBefore.Top), metresOf(was.RightBefore.Top), metresOf(c.LeftBehind.Top), metresOf(c.RightBehind.Top)},
	}
	if !reflect.DeepEqual(other, under) {
		out.Before = &other
	}
	if atJoint {
		out.PadFall = [2]*measure.MM{mmOf(c.PadFall[0]), mmOf(c.PadFall[1])}
	} else {
		out.PadTop, out.PadBase, out.UnderPad = nil, nil, nil
	}
	return out
}

// under is what stands over and under one wall of a unit.
func (b *build) under(s *supply, c profile.Corner) Before {
	out := Before{Wall: metresOf(c.Top), Underside: metresOf(c.Underside), PadTop: metresOf(c.PadTop), PadBase: metresOf(c.PadBase),
		UnderPad: metresOf(c.UnderPad), Formation: metresOf(c.Between), Invert: metresOf(c.Invert)}
	if c.Top != nil && s.Cover != nil && s.Cover.Thickness.Known {
		z := *c.Top + s.Cover.Thickness.Value
		out.Cover = metresOf(&z)
	}
	return out
}

// section is the thicknesses of a supply under the top of its walls; what nobody entered stays away.
func (b *build) section(s *supply) profile.Section {
	var out profile.Section
	if o := s.Unit.Outer; o.Known {
		out.Width, out.Height = &o.Value.Width, &o.Value.Height
		if in := s.Unit.Inner; in.Known {
			base := o.Value.Height - in.Value.Height
			out.Base = &base
		}
	}
	if bed := b.job.Dig.Bed; bed.Known {
		between := bed.Value
		if s.Bearing.On.Value == "pads" {
			out.BedPad = &bed.Value
			if s.Bearing.PadThick.Known {
				between += s.Bearing.PadThick.Value // the bed between pads reaches up to the unit
				out.Bed = &between
			}
		} else {
			out.Bed = &between
		}
	}
	if out.Pads = s.Bearing.On.Value == "pads"; out.Pads {
		if s.Bearing.PadThick.Known {
			out.Pad = &s.Bearing.PadThick.Value
		}
		if s.Bearing.PadAlong.Known {
			out.Length = &s.Bearing.PadAlong.Value
		}
	}
	return out
}

// writeGrades lists the grades of a leg, each from place to place. A pin inside a unit parts a run of the profile, never a
// grade: the unit is straight.
func (b *build) writeGrades(leg int, rows []SetOut) {
	way, joints := b.heights.legs[leg].joint, b.heights.problem.Legs[leg].Joints
	var runs []profile.Run
	for _, r := range b.profile.Runs {
		n := len(runs)
		switch {
		case r.Leg != leg:
		case way[r.From] < 0 || n > 0 && b.goesOn(runs[n-1], r):
			runs[n-1].To, runs[n-1].OnStep, runs[n-1].Stepped = r.To, runs[n-1].OnStep && r.OnStep, r.Stepped
		default:
			runs = append(runs, r)
		}
	}
	for _, r := range runs {
		end, _ := b.profile.Faces(b.heights.problem, leg, r.To, nil)
		g := GradeRun{
			Leg: b.leg(leg).ID, From: rows[way[r.From]].Place, To: rows[way[r.To]].Place,
			FromMM: measure.MM(joints[r.From].At), ToMM: measure.MM(joints[r.To].At),
			Grade: r.Grade.Percent(4), Rise: measure.MM(end.Level - b.profile.Levels[leg][r.From]), OnStep: r.OnStep, Stepped: r.Stepped,
		}
		if r.Stepped {
			g.Step = mmp(b.profile.Levels[leg][r.To] - end.Level)
		}
		b.plan.Grades = append(b.plan.Grades, g)
	}
}

// goesOn tells whether one run goes on in the next: their grades are one, and so is their line at every joint but for the rounding of levels.
func (b *build) goesOn(one, next profile.Run) bool {
	if one.Stepped || next.Stepped || one.Grade.Cmp(next.Grade) != 0 {
		return false
	}
	joints, levels := b.heights.problem.Legs[one.Leg].Joints, b.profile.Levels[one.Leg]
	for j := next.From; j <= next.To; j++ {
		off := float64(levels[j]-levels[one.From]) - float64(ratio(one.Grade)*float64(joints[j].At-joints[one.From].At))
		if math.Abs(off) >= float64(rounding) {
			return false
		}
	}
	return true
}

func metresOf(l *measure.Length) *float64 {
	if l == nil {
		return nil
	}
	m := l.Metres()
	return &m
}

func mmOf(l *measure.Length) *measure.MM {
	if l == nil {
		return nil
	}
	return mmp(*l)
}

// Of is the level of what a record names; nil: there is none here.
func (l *Levels) Of(what string) *float64 {
	switch what {
	case "formation":
		return l.Formation
	case "pad":
		return l.PadTop
	case "bed":
		return l.Underside
	case "wall":
		return l.Wall
	case "invert":
		return l.Invert
	case "drain":
		return l.Drain
	}
	return nil
}
