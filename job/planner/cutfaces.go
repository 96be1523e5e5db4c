package planner

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
)

// cutFaces marks the joints at which a saw cut meets a tongue, a groove or a rebate: such a joint takes a gap of its own, or
// the tongue comes off, and only the supplier can say which.
func (b *build) cutFaces(legs []laid) {
	joint, found := 0, make([][]string, len(b.sup))
	for li := range legs {
		l := &legs[li]
		for i := range len(l.units) - 1 {
			from, to := &b.plan.Units[l.first+i], &b.plan.Units[l.first+i+1]
			j := &b.plan.Joints[joint]
			joint++
			s := b.supplyNamed(from.Supply)
			if ends := s.Unit.Ends; !ends.Known || ends.Value == "plain" || !sawn(from, "end") && !sawn(to, "start") {
				continue
			}
			j.Note = "a cut face at a " + s.Unit.Ends.Value + " joint: NOT CHECKED: no gap for cut faces on file. Ask: the supplier"
			found[s.index] = append(found[s.index], j.Name)
		}
	}
	for i, names := range found {
		if len(names) > 0 {
			b.add(finding.Finding{ID: "planner.cut-face", Kind: finding.NotChecked,
				Text:  fmt.Sprintf("NOT CHECKED: no gap for cut faces at %s joints on file (%s). Such a joint takes its own gap, or the tongue comes off. Ask: the supplier", b.sup[i].Unit.Ends.Value, strings.Join(names, ", ")),
				Where: finding.Where{Path: "supplies." + b.sup[i].ID}, Ask: "the supplier"})
		}
	}
}

// sawn tells whether a unit's end was cut.
func sawn(u *Unit, end string) bool {
	return u.Piece != nil && u.Piece.KeptEnd != end && u.Piece.KeptEnd != "both"
}
