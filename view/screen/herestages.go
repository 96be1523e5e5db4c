package screen

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
)

func (h *hereMaker) route() {
	l := &h.plan.Legs[h.leg]
	h.out.Key, h.out.Title = "leg/"+l.Name, "leg "+l.Name
	if ahead := l.NodeLength - h.at; ahead >= measure.MM(measure.Millimetre) {
		h.say("to "+l.To+", ahead", h.far(ahead), walked(h.other, measure.Length(ahead)))
		for _, n := range h.nodes() {
			if n.ID == l.To {
				h.say(l.To, strings.TrimPrefix(n.Label, n.ID+" "), "")
			}
		}
	}
	if a, ok := h.depth(); ok {
		h.level("wall top", a.Levels.Wall)
		h.level("ground as it is", a.Levels.Existing)
	}
	if l.Verdict != "found" {
		h.say("leg "+l.Name, l.Verdict+": "+l.Why, "")
		return
	}
	h.say("leg "+l.Name, h.unitsText(l.Count.Units), count(l.Count.Cuts, "cut", "cuts"))
	x := h.strip(h.leg, h.at)
	for _, z := range h.zones() {
		if z.Leg == h.rank[h.leg] && z.From <= x && x <= z.To {
			h.say("here", z.Label, "")
			break
		}
	}
}

func (h *hereMaker) order() {
	if h.unit < 0 {
		return
	}
	u := &h.plan.Units[h.unit]
	switch {
	case u.Hold:
		h.say("on hold: cut from measurement", h.draft.size(u.Length), "expected, from one of "+h.draft.size(u.Stock))
	case u.Cut:
		h.size("length on the axis, cut", u.Length)
	default:
		h.size("bought whole", u.Length)
	}
	if u.Piece != nil {
		h.say("cut from", u.Piece.CutFrom, h.draft.size(u.Stock)+" "+h.speech.Word(wording.Unit))
	}
	if u.StartAngle != 0 {
		h.say("saw angle at its start", degrees(u.StartAngle), "")
	}
	if u.EndAngle != 0 {
		h.say("saw angle at its end", degrees(u.EndAngle), "")
	}
	for _, b := range h.plan.Bill {
		if b.Kind == "unit" && b.Supply == u.Supply && b.Length != nil && *b.Length == u.Stock {
			h.say("to order of "+h.draft.size(u.Stock), b.Order, needed(&b))
		}
	}
	h.mass(u.Mass)
}

// needed is what an order rests on, without its long account.
func needed(b *planner.BillLine) string {
	out := "needed " + b.Need
	if b.Spare != "" {
		out += ", spare " + b.Spare
	}
	for part := range strings.SplitSeq(b.Why, "; ") {
		if strings.Contains(part, "already") {
			out += ", " + part
		}
	}
	return out
}

func (h *hereMaker) dig() {
	h.out.Title = h.plan.Legs[h.leg].Name + " " + h.chainage(h.at)
	a, ok := h.depth()
	if !ok || a.Dig == nil {
		h.say("dig", "NOT CHECKED: no dig on file here. Ask: whoever has the survey and the levels", "")
		return
	}
	g := a.Dig
	h.size("deepest, from the higher edge", g.Deepest)
	h.size("wide at the bottom", g.Bottom)
	h.level(h.speech.Word(wording.Formation), a.Levels.Formation)
	switch {
	case g.InRock == nil:
		h.say("rock", "NOT CHECKED: no level of rock on file here. Ask: whoever has the trial holes", "")
	case *g.InRock > 0:
		h.size("of it in rock", *g.InRock)
	default:
		h.size("rock is below the bottom by", -*g.InRock)
	}
	h.size("wide at the top", g.Top)
	h.say("sides", joined(", ", g.Form, g.Slope), "")
	if len(a.Services) > 0 {
		v := a.Services[0]
		text := v.Name + ", " + h.far(max(v.Away, 0)) + " away"
		if v.Depth == nil {
			h.out.Open = append(h.out.Open, "NOT CHECKED: no depth of "+v.Name+" on file. Ask: whoever owns it")
		} else {
			text += ", " + h.draft.size(*v.Depth) + " deep"
		}
		h.say("nearest "+h.speech.Word(wording.Service)+" recorded", text, "")
	}
	if r := a.Rules; r != nil {
		for _, x := range r.Results {
			h.say(x.What, joined("; ", x.Verdict, joined(" against ", x.Value, x.Limit)), x.Rule)
			if x.Stop {
				h.out.Stop = append(h.out.Stop, "STOP: nothing goes on here before the person named has answered: "+x.What+".")
			}
		}
	}
}

func (h *hereMaker) bed(height string) {
	row, ok := h.row()
	if !ok || row.Levels == nil {
		h.say("levels", "NOT CHECKED: no levels here. Ask: whoever has the levels", "")
		return
	}
	h.out.Key, h.out.Title = h.placeKey(row.Place), row.Place
	l := row.Levels
	if row.Pad != "" {
		h.level("top of "+h.speech.Word(wording.Pad), l.PadTop)
	}
	h.reading(height, row)
	h.level("underside", l.Underside)
	h.level(h.speech.Word(wording.Formation), l.Formation)
	if row.Pad != "" {
		h.level(h.speech.Word(wording.Formation)+" under the "+h.speech.Word(wording.Pad), l.UnderPad)
	}
	for _, g := range h.plan.Grades {
		if g.Leg == row.Leg && g.FromMM <= row.Chainage && row.Chainage <= g.ToMM {
			h.say("grade", gradeLabel(g.Grade), g.From+" to "+g.To)
			break
		}
	}
}

// reading is what a rod shows on the bed here, where somebody said how high the instrument stands.
func (h *hereMaker) reading(height string, row *planner.SetOut) {
	if strings.TrimSpace(height) == "" {
		return
	}
	of := "underside"
	if row.Pad != "" && row.Levels.PadTop != nil {
		of = "pad"
	}
	r, err := h.rod(height, "", of, row.Leg, h.answers)
	if err != nil {
		h.out.Open = append(h.out.Open, "The height of the instrument was not understood: "+err.Error())
		return
	}
	for _, one := range r.Rows {
		if one.Place == row.Place {
			label := h.speech.Word(wording.RodReading) + ", " + r.Title
			if one.Why != "" {
				h.say(label, one.Why, one.Left)
				return
			}
			h.say(label, one.Left, one.Right)
		}
	}
}

func (h *hereMaker) set() {
	if h.unit < 0 {
		return
	}
	u := &h.plan.Units[h.unit]
	if j, row, ok := h.joint(); ok {
		other := fine(h.other, measure.Length(j.Gap))
		if j.GapMin < j.GapMax {
			other += " · " + h.small(j.GapMin) + " to " + h.small(j.GapMax) + " allowed"
		}
		h.say("gap to hold behind it", h.small(j.Gap), other)
		if len(j.Budget.Missing) > 0 {
			h.say("its window leaves", "NOT CHECKED: no "+strings.Join(j.Budget.Missing, ", ")+" on file. Ask: the supplier", "")
		} else {
			h.say("its window leaves", h.small(j.Budget.Left), fine(h.other, measure.Length(j.Budget.Left)))
		}
		if row.Levels != nil {
			h.level("wall top at that joint", row.Levels.Wall)
		}
	}
	h.mass(u.Mass)
	if u.Piece != nil {
		h.say("lifting", u.Piece.Lift, "")
	} else {
		h.say("lifting", h.plan.Supplies[h.supply[u.Supply]].Lifting, "")
	}
}

func (h *hereMaker) fill() {
	h.out.Title = h.plan.Legs[h.leg].Name + " " + h.chainage(h.at)
	if h.answers == nil {
		return
	}
	s, ok := h.answers.At(h.plan.Legs[h.leg].Name, measure.Length(h.at))
	if !ok {
		return
	}
	cut, ok := h.answers.Across(s)
	if !ok {
		h.say("fill", "NOT CHECKED: no dig on file here. Ask: whoever has the survey and the levels", "")
		return
	}
	h.layers(&cut)
	for _, a := range cut.Areas {
		if a.Of == "fill" {
			v, unit := h.format().Surface(a.Area)
			h.say("fill across", fmt.Sprintf("%.2f %s", v, unit), "")
		}
	}
	if p := h.plan.Dig; p != nil && p.Passes != nil {
		h.say("passes on each "+h.speech.Word(wording.Layer), fmt.Sprint(p.Passes.Passes), p.Passes.Rule)
	} else {
		h.say("passes", "NOT CHECKED: no compactor, fill and "+h.speech.Word(wording.Layer)+" of a stated method on file. Ask: whoever compacts", "")
	}
}

// layers are those that reach into the fill here, from the lowest up.
func (h *hereMaker) layers(cut *planner.DigSection) {
	high, n := filledTo(cut)
	word := h.speech.Word(wording.Layer)
	if n == 0 {
		h.say(h.speech.Word(wording.Layers), "NOT CHECKED: no height of a "+word+" on file. Ask: whoever wrote the specification", "")
		return
	}
	h.say(h.speech.Word(wording.Layers)+" on both sides", fmt.Sprint(n), "")
	for k, z := range cut.Layers[:n] {
		label := fmt.Sprintf("top of %s %d", word, k+1)
		if z > high {
			z, label = high, fmt.Sprintf("%s %d, up to the top of the fill", word, k+1)
		}
		h.level(label, new(measure.Length(z).Metres()))
	}
}

func (h *hereMaker) cables() {
	l := &h.plan.Legs[h.leg]
	h.out.Title = l.Name + " " + h.chainage(h.at)
	ahead := l.NodeLength - h.at
	h.say("to "+l.To+", ahead", h.far(ahead), walked(h.other, measure.Length(ahead)))
	h.say("to "+l.From+", back", h.far(h.at), walked(h.other, measure.Length(h.at)))
	for _, n := range h.nodes() {
		if n.ID == l.To && n.Hand != "" {
			h.say("turn at "+n.ID, n.Angle+" "+n.Hand, "")
		}
	}
	if s, ok := h.supply[l.Supply]; ok {
		if p := h.plan.Supplies[s]; p.InnerWidth != nil && p.InnerHeight != nil {
			h.say("inside, wide × high", h.draft.size(*p.InnerWidth)+" × "+h.draft.size(*p.InnerHeight), "supply "+p.ID)
		} else {
			h.say("inside", "NOT CHECKED: no inner section of supply "+p.ID+" on file. Ask: the supplier", "")
		}
	}
	for _, e := range h.asked[l.Name].Entries {
		if far, near := measure.MM(e.At)-h.at, measure.MM(5*measure.Metre); far < near && far > -near {
			h.say("near here", h.entryLabel(e), h.chainage(measure.MM(e.At)))
		}
	}
}

func (h *hereMaker) cover() {
	if h.unit < 0 {
		return
	}
	u := &h.plan.Units[h.unit]
	var texts []string
	for k := h.covers[h.unit]; k < h.covers[h.unit+1]; k++ {
		c := &h.plan.Covers[k]
		text := h.draft.size(c.Length)
		if c.Cut {
			text += " cut"
		}
		if n := len(texts); n > 0 && texts[n-1] == text {
			continue
		}
		texts = append(texts, text)
	}
	n := h.covers[h.unit+1] - h.covers[h.unit]
	h.say("covers on "+u.Mark, fmt.Sprint(n), strings.Join(texts, ", "))
	for k := h.covers[h.unit]; k < h.covers[h.unit+1]; k++ {
		if c := &h.plan.Covers[k]; c.Cut {
			h.size(c.Mark+", cut from "+orElse(c.CutFrom, h.draft.size(c.Stock)), c.Length)
		}
	}
	if _, row, ok := h.joint(); ok && row.Levels != nil {
		h.level("top of cover at the joint behind", row.Levels.Cover)
	}
	p := h.plan.Supplies[h.supply[u.Supply]]
	if n > 0 {
		h.mass(h.plan.Covers[h.covers[h.unit]].Mass)
		h.out.Big[len(h.out.Big)-1].Label = "mass of " + h.plan.Covers[h.covers[h.unit]].Mark
	}
	h.say("lifting", p.CoverLift, "")
	h.say("load rating", p.CoverRating, "")
}

func (h *hereMaker) handover() {
	l := &h.plan.Legs[h.leg]
	h.out.Key, h.out.Title = "leg/"+l.Name, "leg "+l.Name
	for _, p := range h.plan.Proof.Legs {
		if p.Leg != l.Name {
			continue
		}
		said := "not verified"
		if p.Verified {
			said = fmt.Sprintf("verified by a separate checker over %d intervals", p.Intervals)
		}
		h.say("proven of leg "+l.Name, p.Claim, said)
	}
	open, unchecked := 0, 0
	for _, f := range h.plan.Findings {
		switch f.Kind {
		case finding.NotChecked:
			unchecked++
		case finding.Fault, finding.Impossible, finding.Attention:
			open++
		}
	}
	h.say("NOT CHECKED on this run", fmt.Sprint(unchecked), "each says whom to ask: table Findings")
	h.say("somebody has to look at", fmt.Sprint(open), "")
}
