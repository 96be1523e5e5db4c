package planner

import (
	"fmt"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/solve/drift"
	"trenchwright/solve/layout"
)

// A lot whose units come longer or shorter, told apart from scatter, is planned with: a joint behind such a unit is laid out wider or
// narrower by as much, so that joints come to lie where they are laid out, and its gap is held by the rest. Where the windows of the
// joints leave that, no place and no piece changes; where they do not, joints wander with the lot, and the pieces to come are laid for
// that.

// expect has a leg know the lots of its units to come: of several, that of the last unit that is set.
func (h *ahead) expect(r *LegReplan, s field.State, lots []LotDrift) {
	if len(lots) == 0 || r.Set == 0 {
		return
	}
	batch := ""
	for l := range s.Legs {
		for _, u := range s.Legs[l].Units {
			if u.Place == r.Last {
				batch = u.Batch
			}
		}
	}
	for _, of := range h.lengthsToCome(r) {
		var mine []LotDrift
		for _, l := range lots {
			if l.Supply == of.supply && l.Length == measure.MM(of.length) {
				mine = append(mine, l)
			}
		}
		i := slices.IndexFunc(mine, func(l LotDrift) bool { return l.Batch == batch })
		if len(mine) == 1 && (batch == "" || mine[0].Batch == "") {
			i = 0
		}
		if i < 0 || mine[i].Verdict != string(drift.Biased) {
			continue
		}
		h.told(r, of, mine[i])
	}
}

// lengthsToCome are the lengths of whole units to come.
func (h *ahead) lengthsToCome(r *LegReplan) (list []made) {
	for _, u := range h.units[min(r.Set, len(h.units)):] {
		if of := (made{u.Supply, measure.Length(u.Stock)}); !u.Cut && !slices.Contains(list, of) {
			list = append(list, of)
		}
	}
	return list
}

// told takes a lot up and says so.
func (h *ahead) told(r *LegReplan, of made, l LotDrift) {
	b, mean := h.b, measure.Length(l.Mean)
	way := "longer"
	if mean < 0 {
		way = "shorter"
	}
	name := "Whole " + b.speech().Word(wording.Units)
	if l.Batch != "" {
		name += " of batch " + l.Batch
	}
	f := finding.Finding{ID: "replan.lot", Kind: finding.Note, Where: finding.Where{Leg: r.Leg},
		Rule: fmt.Sprintf("mean of %d measured, 95 of 100 such means within ± %s of the lot's own (Student's law); records %s", l.Units, b.say(measure.Length(l.Band)), recordsOf(l.By))}
	w := b.supplyNamed(of.supply).Joint.Gap.Value
	if _, ok := lotWindow(w, mean); !ok {
		f.Kind = finding.Attention
		f.Text = b.tell("%s come %s %s than %s (%s measured): no gap from %s to %s takes that up, and they are planned as they are on paper.", name, mean.Abs(), way, of.length, fmt.Sprint(l.Units), w.Min, w.Max)
		f.Try = "Show it to the supplier; and measure every joint."
		r.Findings = append(r.Findings, f)
		return
	}
	f.Text = b.tell("%s come %s %s than %s (%s measured, ± %s): behind each the gap is held %s %s than it is laid out.", name, mean.Abs(), way, of.length, fmt.Sprint(l.Units), measure.Length(l.Band), mean.Abs(),
		map[bool]string{true: "narrower", false: "wider"}[mean > 0])
	if h.lots == nil {
		h.lots = map[made]measure.Length{}
	}
	h.lots[of] = mean
	if mean < 0 { // a joint begins by so much sooner than it is laid out
		for _, zones := range []*[]layout.Zone{&h.q.problem.Zones, &h.asked} {
			*zones = slices.Clone(*zones)
			for i := range *zones {
				(*zones)[i].To -= mean
			}
		}
	}
	r.Lots = append(r.Lots, l)
	r.Findings = append(r.Findings, f)
}

// onPaper plans a leg as its units are on paper, where no layout has every joint within its window with what they come longer: joints
// then wander with the lot, and that is said.
func (a *Answers) onPaper(h *ahead, r, was *LegReplan, s field.State, end measure.Length, there *inYard) {
	h.asked = slices.Clone(h.asked)
	h.q.problem.Zones = slices.Clone(h.q.problem.Zones)
	if a.replanLeg(h, r, s, end, there); r.Answer == NoAnswer || r.Answer == Stopped {
		return
	}
	for _, l := range was.Lots {
		mean := measure.Length(l.Mean)
		r.Findings = append(r.Findings, finding.Finding{ID: "replan.lot", Kind: finding.Attention, Where: finding.Where{Leg: r.Leg, Place: r.Last},
			Text: a.b.tell("Whole %s come %s %s than %s (%s measured), and no layout from here takes that up at every joint: they are planned as they are on paper, and each joint comes to lie %s further %s than the one before.",
				a.b.speech().Word(wording.Units), mean.Abs(), map[bool]string{true: "longer", false: "shorter"}[mean > 0], measure.Length(l.Length), fmt.Sprint(l.Units), mean.Abs(), map[bool]string{true: "ahead", false: "behind"}[mean > 0]),
			Try: a.b.tell("hold each gap as %s as its window lets it be, measure every joint, and cut the %s last, from a measurement; show the lot to the supplier", map[bool]string{true: "narrow", false: "wide"}[mean > 0], wording.Closer)})
	}
	*was = *r
}

// recordsOf names the first records of a list.
func recordsOf(ids []string) string {
	const most = 3
	text := ""
	for i, id := range ids {
		if i == most {
			return text + fmt.Sprintf(" and %d more", len(ids)-most)
		}
		if i > 0 {
			text += ", "
		}
		text += id
	}
	return text
}

// lotWindow is how a joint behind a unit may be laid out that comes so much longer: what is held is that less the mean, and both lie
// within the window. False: nothing does; then it is what holds the gap within it, whatever that asks of the layout.
func lotWindow(w measure.Window, mean measure.Length) (measure.Window, bool) {
	held := w
	w.Min, w.Max = max(w.Min, w.Min+mean), min(w.Max, w.Max+mean)
	ok := w.Min <= w.Max
	switch {
	case !ok && mean > 0:
		w.Min, w.Max = held.Min+mean, held.Min+mean
	case !ok:
		w.Min, w.Max = max(0, held.Max+mean), max(0, held.Max+mean)
	}
	w.Nominal = min(max(w.Nominal, w.Min), w.Max)
	return w, ok
}

// longer is by how much the i-th unit comes longer than on paper, by its lot; 0 for one that lies or is cut.
func (h *ahead) longer(i int) measure.Length {
	if h.lots == nil || i < h.set || h.units[i].Cut {
		return 0
	}
	return h.lots[made{h.units[i].Supply, measure.Length(h.units[i].Stock)}]
}

// lotsFit tells whether all joints to come may stay where they are drawn.
func (h *ahead) lotsFit() bool {
	for i := h.set; h.lots != nil && i < len(h.joints); i++ {
		j := &h.joints[i]
		if held := j.Gap - measure.MM(h.longer(i)); h.longer(i) != 0 && (held < j.GapMin || held > j.GapMax) {
			return false
		}
		end := h.starts[i] + h.takes[i]
		if slices.ContainsFunc(h.q.problem.Zones, func(z layout.Zone) bool { return end < z.To && h.starts[i+1] > z.From }) {
			return false
		}
	}
	return true
}
