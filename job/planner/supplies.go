package planner

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
)

// supply is one supply as the planner uses it: the figures that are known, and which are not.
type supply struct {
	job.Supply
	index  int
	width  measure.Length // outer width; 0: not on file
	speech wording.Speech // how its texts are worded
	mayCut bool           // the saw figures that cutting needs are all on file
	cutWhy string         // why nothing can be cut, where mayCut is false
}

func supplies(j job.Job) []supply {
	out := make([]supply, len(j.Supplies))
	for i, s := range j.Supplies {
		f := supply{Supply: s, index: i, speech: j.Speech(), width: s.Unit.Outer.Value.Width}
		f.mayCut, f.cutWhy = sawFigures(s.Saw, f.speech)
		out[i] = f
	}
	return out
}

// sawFigures tells whether everything that a saw cut needs is on file.
func sawFigures(s job.SawRule, speech wording.Speech) (bool, string) {
	switch {
	case s.NoCuts:
		return false, "the supplier forbids cutting"
	case !s.Shortest.Known:
		return false, speech.Say("no shortest cut %s on file", wording.Unit)
	case !s.Kerf.Known:
		return false, "no saw kerf on file"
	case !s.KeepFactoryEnd.Known:
		return false, "nothing on file about factory ends on cut pieces"
	}
	return true, ""
}

// leastSlice is the least slice that the saw can take off: the kerf where nothing else is on file.
func (s supply) leastSlice() measure.Length {
	if s.Saw.LeastSlice.Known {
		return s.Saw.LeastSlice.Value
	}
	return s.Saw.Kerf.Value
}

// mitreGap is the joint between two mitred faces: the joint's own nominal gap where the supplier gives no other.
func (s supply) mitreGap() measure.Length {
	if s.Joint.MitreGap.Known {
		return s.Joint.MitreGap.Value
	}
	return s.Joint.Gap.Value.Nominal
}

// endGap is the gap to a casting, an end plate or a wall.
func (s supply) endGap() measure.Length {
	if s.Joint.EndGap.Known {
		return s.Joint.EndGap.Value
	}
	return s.Joint.Gap.Value.Nominal
}

// gapNotes says where a gap stands in for one that nobody entered.
func (s supply) gapNotes(path string) finding.List {
	var l finding.List
	add := func(known bool, form string, what wording.Word) {
		if known {
			return
		}
		l = append(l, finding.Finding{
			ID: "supply.gap-stands-in", Kind: finding.Assumed,
			Text:  s.speech.Say("the nominal joint gap of supply %s, %s, stands in for its gap "+form, s.ID, s.Joint.Gap.Value.Nominal, what),
			Where: finding.Where{Path: path}, Ask: "the supplier",
		})
	}
	add(s.Joint.MitreGap.Known, "between %s faces", wording.Mitred)
	add(s.Joint.EndGap.Known, "to castings, %s and walls", wording.EndPlates)
	return l
}

// longest is the longest unit that is made.
func (s supply) longest() measure.Length {
	var l measure.Length
	for _, x := range s.Unit.Lengths.Value {
		l = max(l, x)
	}
	return l
}
