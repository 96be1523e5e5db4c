package profile

import (
	"math/big"
	"sort"

	"trenchwright/base/measure"
)

// Section is the thicknesses under the top of the walls, all taken vertical; nil: not on file, and whatever hangs on it is nil
// too, never a default. At a grade of 5 % a thickness of 750 mm taken square to the unit would be 0.94 mm more.
type Section struct {
	Width  *measure.Length // across the walls, outer
	Height *measure.Length // of the unit, wall top to underside
	Base   *measure.Length // thickness of the unit's base: the invert lies so far above the underside
	Pads   bool            // it stands on pads under its joints; else on a bed, and there is no top of a pad
	Pad    *measure.Length // thickness of the pad under a joint; nil: none on file
	Length *measure.Length // of the pad along the run
	BedPad *measure.Length // bed under the pad
	Bed    *measure.Length // bed under the unit, between pads
	Drain  *measure.Length // the drain's invert below the underside of the bed between pads, where it has no profile of its own
}

// Corner is the levels at one wall at one joint; nil: a thickness is not on file.
type Corner struct {
	Top       *measure.Length // of the wall
	Underside *measure.Length // of the unit
	PadTop    *measure.Length // at the joint line
	PadBase   *measure.Length
	UnderPad  *measure.Length // formation under the pad
	Between   *measure.Length // formation between pads
	Invert    *measure.Length
	Drain     *measure.Length
}

// Corners is what stands at one joint: the four corners that meet there, left and right of the unit before it and of the
// one behind it, looking up-chainage. PadFall is how far the pad's top falls over its own length, up-chainage positive when
// rising, on the grade of the unit before and of the unit behind; PadAcross how far it falls from left to right.
type Corners struct {
	LeftBefore, RightBefore, LeftBehind, RightBehind Corner
	PadFall                                          [2]*measure.Length
	PadAcross                                        *measure.Length
}

// Face is the unit at one side of a joint: the level of its wall top on the axis at the joint line, its grade up-chainage and
// its crossfall, falling to the right positive.
type Face struct {
	Level        measure.Length
	Grade, Cross measure.Grade
}

// At is the levels at a joint between two units; at an end of a leg both are the one that is there.
func (s Section) At(before, behind Face) Corners {
	var c Corners
	c.LeftBefore, c.RightBefore = s.corner(before, -1), s.corner(before, 1)
	c.LeftBehind, c.RightBehind = s.corner(behind, -1), s.corner(behind, 1)
	for k, f := range []Face{before, behind} {
		if s.Length != nil {
			fall := nearest(new(big.Rat).Mul(fraction(f.Grade), big.NewRat(int64(*s.Length), 1)))
			c.PadFall[k] = &fall
		}
	}
	if s.Width != nil {
		across := nearest(new(big.Rat).Mul(fraction(behind.Cross), big.NewRat(int64(*s.Width), 1)))
		c.PadAcross = &across
	}
	return c
}

// corner is one wall: side −1 is left, +1 right.
func (s Section) corner(f Face, side int64) Corner {
	var c Corner
	switch {
	case f.Cross.Rise == 0:
		c.Top = &f.Level
	case s.Width != nil:
		off := nearest(new(big.Rat).Mul(fraction(f.Cross), big.NewRat(side*int64(*s.Width), 2)))
		top := f.Level - off
		c.Top = &top
	}
	c.Underside = lower(c.Top, s.Height)
	c.Invert = higher(c.Underside, s.Base)
	if s.Pads {
		c.PadTop = c.Underside
	}
	c.PadBase = lower(c.PadTop, s.Pad)
	c.UnderPad = lower(c.PadBase, s.BedPad)
	c.Between = lower(c.Underside, s.Bed)
	c.Drain = lower(c.Between, s.Drain)
	return c
}

// lower is a level less a thickness; nil where either is not on file.
func lower(level, by *measure.Length) *measure.Length {
	if level == nil || by == nil {
		return nil
	}
	v := *level - *by
	return &v
}

func higher(level, by *measure.Length) *measure.Length {
	if level == nil || by == nil {
		return nil
	}
	v := *level + *by
	return &v
}

// runOf is the run that a unit lies in; runs stand by leg and chainage.
func (s Solution) runOf(leg, unit int) Run {
	k := sort.Search(len(s.Runs), func(k int) bool { return s.Runs[k].Leg > leg || s.Runs[k].Leg == leg && s.Runs[k].To > unit })
	return s.Runs[k]
}

// Faces are the units at both sides of a joint of a solution. With datum (nil: nought), the wall's top is so far above the
// levels of record.
func (s Solution) Faces(p Problem, leg, joint int, datum *measure.Length) (before, behind Face) {
	face := func(unit int) Face {
		run := s.runOf(leg, unit)
		f := Face{Level: s.Levels[leg][joint], Grade: run.Grade, Cross: p.Legs[leg].Units[unit].Cross}
		if unit < joint && run.Stepped { // the unit before ends where its own grade leads
			f.Level = s.Levels[leg][unit] + climb(run.Grade, p.Legs[leg].length(unit))
		}
		if datum != nil {
			f.Level += *datum
		}
		return f
	}
	last := len(p.Legs[leg].Units) - 1
	return face(max(joint-1, 0)), face(min(joint, last))
}
