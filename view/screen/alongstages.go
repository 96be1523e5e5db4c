package screen

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
)

// How a piece comes about, in a word and a hatch.
const (
	isCut    = "cut"
	isOnHold = "on hold, cut from measurement"
	isWhole  = "whole"
)

// made is a unit's kind by how it comes about; whole ones by name.
func (a *along) made(u *planner.Unit, whole, hatch string) int {
	switch {
	case u.Hold:
		return a.kind("unit", isOnHold, "upright")
	case u.StartAngle != 0 || u.EndAngle != 0:
		return a.kind("unit", isCut+", "+a.speech.Word(wording.Mitred), "crossed")
	case u.Cut:
		return a.kind("unit", isCut, "falling")
	}
	return a.kind("unit", whole, hatch)
}

// route shows what each leg came out as.
func (a *along) route() {
	a.out.Said, a.out.Stop = "what each leg came out as, and what asks something of it", "bend or end"
	for _, i := range a.draft.order {
		l := &a.plan.Legs[i]
		from, to := a.begins[i], a.begins[i]+mm(l.NodeLength)
		text := l.Name + ": " + a.unitsText(l.Count.Units) + ", " + count(l.Count.Cuts, "cut", "cuts")
		if l.Verdict == "found" {
			a.stretch(from, to, a.kind("row", "laid out", "paper"), text)
		} else {
			a.stretch(from, to, a.kind("row", l.Verdict, "crossed"), l.Name+": "+l.Verdict)
		}
	}
	for _, u := range a.drawn {
		whole, hatch := isWhole, "paper"
		if a.plan.Units[u].Demands != "" {
			whole, hatch = "another supply, as something here asks", "stone"
		}
		a.out.Units = append(a.out.Units, a.made(&a.plan.Units[u], whole, hatch))
	}
	a.nodeStops(func(n Node) bool { return true })
}

// nodeStops stops at nodes in the order of the strip.
func (a *along) nodeStops(keep func(Node) bool) {
	names := map[string]Node{}
	for _, n := range a.nodes() {
		names[n.ID] = n
	}
	said := map[string]bool{}
	for _, i := range a.draft.order {
		l := &a.plan.Legs[i]
		for _, e := range []struct {
			id string
			at float64
		}{{l.From, a.begins[i]}, {l.To, a.begins[i] + mm(l.NodeLength)}} {
			if n, ok := names[e.id]; ok && !said[e.id] && keep(n) {
				said[e.id] = true
				a.stop(e.at, n.Key, n.ID)
			}
		}
	}
}

// order shows each unit as it is bought.
func (a *along) order() {
	a.out.Said, a.out.Stop = "each "+a.speech.Word(wording.Unit)+" as it is bought", "cut piece"
	a.out.Open = "No order and no delivery is recorded yet."
	hatches := a.wholes()
	var s series
	for _, u := range a.drawn {
		one := &a.plan.Units[u]
		name := a.bought(one)
		k := a.made(one, name, hatches[name])
		a.out.Units = append(a.out.Units, k)
		from, to := a.ends(u)
		s.add(a, a.legs[one.Leg], from, to, k, a.size(one.Length))
		if one.Cut {
			a.unitStop(u)
		}
	}
	s.end(a)
}

// bought is a whole unit by what it is bought as.
func (a *along) bought(u *planner.Unit) string {
	if len(a.plan.Supplies) > 1 {
		return u.Supply + " " + a.size(u.Stock)
	}
	return a.size(u.Stock)
}

// wholes are the hatches of whole units: what most of the run is made of has none.
func (a *along) wholes() map[string]string {
	n, names := map[string]int{}, []string{}
	for i := range a.plan.Units {
		if u := &a.plan.Units[i]; !u.Cut {
			name := a.bought(u)
			if n[name]++; n[name] == 1 {
				names = append(names, name)
			}
		}
	}
	slices.SortStableFunc(names, func(x, y string) int { return n[y] - n[x] })
	out, hatches := map[string]string{}, []string{"paper", "stone", "dots", "level"}
	for i, name := range names {
		out[name] = hatches[min(i, len(hatches)-1)]
	}
	return out
}

// dig shows how deep is dug, and where rock is reached.
func (a *along) dig() {
	a.out.Said, a.out.Shape, a.out.Stop = "depth of the dig below its higher edge, and what it is dug in", "hang", "mark"
	if a.plan.Dig == nil {
		a.out.Open = "NOT CHECKED: no dig on file. Ask: whoever has the survey and the levels"
		return
	}
	a.out.Open = "No digging is recorded yet."
	far, unit := 1.0, "m"
	if a.speech.Imperial {
		far, unit = 0.3048, "ft"
	}
	a.out.Said += "; depths in " + unit
	by := map[string]*planner.LegDig{}
	for i := range a.plan.Dig.Legs {
		by[a.plan.Dig.Legs[i].Leg] = &a.plan.Dig.Legs[i]
	}
	for _, i := range a.draft.order {
		l := by[a.plan.Legs[i].Name]
		if l == nil || len(l.Marks) == 0 {
			continue
		}
		a.place(a.begins[i], a.soil(&l.Marks[0]), "", none) // legs do not hang together
		for n := range l.Marks {
			m := &l.Marks[n]
			at := a.strip(i, m.At)
			a.place(at, a.soil(m), fixed(mm(m.Depth)/1000/far, 2), mm(m.Depth))
			a.stop(at, fmt.Sprintf("place/%s/%g", l.Leg, math.Round(mm(m.At))), l.Leg+" "+a.nearly(m.At))
			if n+1 < len(l.Marks) {
				a.stretch(at, a.strip(i, l.Marks[n+1].At), a.kind("row", "width at the bottom", "paper"), a.size(m.BottomRight-m.BottomLeft)+" wide")
			}
		}
	}
	a.alike()
}

// alike joins stretches that say the same one after another.
func (a *along) alike() {
	r, out := &a.out.Row, Stretches{Numbers{}, Numbers{}, []int{}, []string{}}
	for i := range r.From {
		if n := len(out.From); n > 0 && out.To[n-1] == r.From[i] && out.Kind[n-1] == r.Kind[i] && out.Texts[n-1] == r.Texts[i] {
			out.To[n-1] = r.To[i]
			continue
		}
		out.From, out.To, out.Kind, out.Texts = append(out.From, r.From[i]), append(out.To, r.To[i]), append(out.Kind, r.Kind[i]), append(out.Texts, r.Texts[i])
	}
	*r = out
}

// nearly is a chainage to the hundredth, or the tenth of a foot: to find the place by.
func (a *along) nearly(l measure.MM) string {
	if a.speech.Imperial {
		return measure.Chainage(measure.Length(l), measure.Imperial, 1)
	}
	return measure.Chainage(measure.Length(l), measure.Metric, 2)
}

// soil is what is dug at a mark.
func (a *along) soil(m *planner.DigMark) int {
	switch {
	case m.Rock == nil:
		return a.kind("place", "dig; rock NOT CHECKED", "level")
	case *m.Rock > m.Formation:
		return a.kind("place", "rock above the "+a.speech.Word(wording.Formation), "crossed")
	}
	return a.kind("place", "soil", "paper")
}

// bed shows grades, and what the bed is made to at every joint.
func (a *along) bed() {
	a.out.Said, a.out.Stop = "stretches on one grade, and the level that the "+a.speech.Word(wording.Bed)+" is made to", "joint"
	if !a.levelled() {
		a.out.Open = "NOT CHECKED: no levels on file. Ask: whoever has the levels"
	} else {
		a.out.Open = "No reading is recorded yet."
	}
	for _, g := range a.plan.Grades {
		i, ok := a.legs[g.Leg]
		if !ok {
			continue
		}
		k := a.kind("row", "one grade", "paper")
		if g.Stepped {
			k = a.kind("row", "stepped", "upright")
		}
		a.stretch(a.strip(i, g.FromMM), a.strip(i, g.ToMM), k, gradeLabel(g.Grade))
	}
	for _, i := range a.draft.order {
		for r := a.draft.rows[i]; r < a.draft.rows[i+1]; r++ {
			row := &a.plan.SetOut[r]
			at := a.strip(i, row.Chainage)
			a.stop(at, a.placeKey(row.Place), row.Place)
			if row.Levels == nil {
				continue
			}
			switch l := row.Levels; {
			case row.Pad != "" && l.PadTop != nil:
				a.place(at, a.kind("place", "top of "+a.speech.Word(wording.Pad)+", "+a.unit, "stone"), fixed(*l.PadTop/a.metres, a.places), none)
			case l.Underside != nil:
				a.place(at, a.kind("place", "underside, no "+a.speech.Word(wording.Pad)+", "+a.unit, "paper"), fixed(*l.Underside/a.metres, a.places), none)
			}
		}
	}
}

// set shows the gap to hold at every joint, and what is left of its window for the gang.
func (a *along) set() {
	per, unit, places := 1.0, "millimetres", 1
	if a.speech.Imperial {
		per, unit, places = 25.4, "inches", 3
	}
	a.out.Said, a.out.Shape, a.out.Stop = "gap to hold at each joint, in "+unit+"; the bar is what its window leaves for the gang", "bar", a.speech.Word(wording.Unit)
	a.out.Open = "No " + a.speech.Word(wording.Unit) + " is recorded as set yet."
	for _, u := range a.drawn {
		a.out.Units = append(a.out.Units, a.made(&a.plan.Units[u], isWhole, "paper"))
		a.unitStop(u)
	}
	for _, i := range a.draft.order {
		for k := a.draft.joints[i]; k < a.draft.joints[i+1]; k++ {
			j := &a.plan.Joints[k]
			next := a.draft.first[i] + k - a.draft.joints[i] + 1
			at := a.strip(i, a.plan.Units[next].Chainage) - float64(mm(j.Gap)/2*a.scales[next])
			left, gap := math.Max(0, mm(j.Budget.Left)), strings.TrimSuffix(fixed(mm(j.Gap)/per, places), ".0")
			switch {
			case len(j.Budget.Missing) > 0:
				a.place(at, a.kind("place", "window NOT CHECKED", "level"), gap, none)
			case j.Budget.Left < 0 && j.GapMin < j.GapMax:
				a.place(at, a.kind("place", "window overspent", "crossed"), gap, left)
			default:
				a.place(at, a.kind("place", "left for the gang", "stone"), gap, left)
			}
		}
	}
}
