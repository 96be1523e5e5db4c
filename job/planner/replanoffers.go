package planner

import (
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/layout"
)

// mostWays is how many ways on are offered of one leg.
const mostWays = 3

// ways are the ways on from a measured end, the one that changes least first. Every one was looked at by the checker.
func (h *ahead) ways(r *LegReplan, end measure.Length, there *inYard) []Offer {
	var out []Offer
	add := func(units []layout.Unit) {
		if o, ok := h.offer(r, units, end); ok {
			out = append(out, o)
		}
	}
	take := func(units []layout.Unit, ok bool) {
		if ok && len(units) > 0 && h.checked(r.Set, units, end) {
			add(units)
		}
	}
	if end == h.starts[r.Set-1]+h.takes[r.Set-1] && h.asDrawn && h.lotsFit() && len(h.found)+len(h.moved) == 0 {
		if add(laidUnits(&h.q.problem, h.planned(r.Set), false, true)); len(out) > 0 { // as the plan has it, and was checked
			return out
		}
	}
	same := func(spared bool) {
		if units, ok := h.samePieces(r.Set, end, spared); ok && h.fit(units, end, wholeWindows(h.q.problem)) {
			add(units)
		}
	}
	same(end != h.starts[r.Set-1]+h.takes[r.Set-1] || !h.asDrawn || !h.lotsFit())
	take(h.fewestChanges(r.Set, end))
	take(h.fewest(r.Set, end))
	take(h.fromYard(r.Set, end, there))
	if len(out) == 0 {
		same(false)
	}
	return out
}

// samePieces are the units that were planned, with other gaps; spared: with what is spared of windows for levels that are solved again.
func (h *ahead) samePieces(n int, end measure.Length, spared bool) ([]layout.Unit, bool) {
	if h.spare = 0; spared {
		h.spare = h.settles()
	}
	starts, ok := h.kept(n, end)
	if !ok {
		return nil, false
	}
	list := h.planned(n)
	for k := range list {
		list[k].unit.Start = starts[k]
	}
	return laidUnits(&h.q.problem, list, n == 0, true), true
}

// settled is what a leg's levels may move it by when they are solved again; a rest that fits to the last nanometre would not any more.
const settled = 50 * measure.Micrometre

// settles is what is spared of windows for that.
func (h *ahead) settles() measure.Length {
	if h.b == nil || h.b.heights == nil {
		return 0
	}
	return settled
}

// planned are the units from the n-th on as they were planned.
func (h *ahead) planned(n int) []brick {
	var list []brick
	for k := n; k < len(h.units); k++ {
		u := &h.units[k]
		of := slices.IndexFunc(h.q.problem.Supplies, func(s layout.Supply) bool { return s.Name == u.Supply })
		list = append(list, brick{name: u.Mark, cut: u.Cut, unit: layout.Unit{Supply: max(of, 0), Start: h.starts[k], Advance: h.takes[k], Length: measure.Length(u.Length), Stock: measure.Length(u.Stock), Cut: u.Cut}})
	}
	return list
}

// fewest are the fewest units, cuts and cut covers from a measured end, by the cost to go of every start.
func (h *ahead) fewest(n int, end measure.Length) ([]layout.Unit, bool) {
	for range mostTurns {
		units, ok := h.fewestSo(n, end)
		if !ok || !h.faces(units) {
			return units, ok
		}
	}
	return nil, false
}

// mostChanges is up to how many places that change are looked for: with more of them, whatever is cheapest to lay will do.
const mostChanges = 4

// fewestChanges are units to come of which as few are not as planned as can be, in other places or with other lengths.
func (h *ahead) fewestChanges(n int, end measure.Length) ([]layout.Unit, bool) {
	var planned []layout.Placed
	for _, k := range h.planned(n) {
		planned = append(planned, layout.Placed{Supply: k.unit.Supply, Length: k.unit.Length, Cut: k.cut})
	}
	for range mostTurns {
		before := slices.IndexFunc(h.q.problem.Supplies, func(s layout.Supply) bool { return s.Name == h.units[n-1].Supply })
		units, _, ok := h.spared().Stay(end, max(before, 0), planned, mostChanges)
		if !ok || !h.faces(units) {
			return units, ok
		}
	}
	return nil, false
}

func (h *ahead) fewestSo(n int, end measure.Length) ([]layout.Unit, bool) {
	q := h.spared()
	q.First = nil // they lie
	costs := h.costs(q, end)
	supply := slices.IndexFunc(q.Supplies, func(s layout.Supply) bool { return s.Name == h.units[n-1].Supply })
	if costs == nil || supply < 0 {
		return nil, false
	}
	start, _, ok := costs.After(end, supply)
	if !ok {
		return nil, false
	}
	units, _, ok := costs.Ahead(start, 0)
	return units, ok
}

// spared is the leg's problem with what is spared of its windows.
func (h *ahead) spared() layout.Problem {
	q, spare := h.q.problem, h.settles()
	narrow := func(w measure.Window) measure.Window {
		w.Min, w.Max = within(w.Min, w.Max, spare)
		w.Nominal = min(max(w.Nominal, w.Min), w.Max)
		return w
	}
	q.Joints = slack(q.Joints, -spare)
	q.Supplies, q.Stretches = slices.Clone(q.Supplies), slices.Clone(q.Stretches)
	lot := func(name string, w measure.Window) measure.Window {
		for of, mean := range h.lots { // several lengths of a supply: each narrows it
			if of.supply == name {
				w, _ = lotWindow(w, mean)
			}
		}
		return w
	}
	for i := range q.Supplies {
		q.Supplies[i].Gap = lot(q.Supplies[i].Name, narrow(q.Supplies[i].Gap))
	}
	for i := range q.Stretches {
		if w := &q.Stretches[i].Gap; *w != (measure.Window{}) {
			*w = lot(q.Supplies[0].Name, narrow(*w))
		}
	}
	return q
}

// checked has the checker look at a rest that starts behind a measured end, and at the joint between.
func (h *ahead) checked(set int, units []layout.Unit, end measure.Length) bool {
	before := slices.IndexFunc(h.q.problem.Supplies, func(s layout.Supply) bool { return s.Name == h.units[set-1].Supply })
	return h.q.problem.MayOpen(end, units[0].Start, max(before, 0)) && h.fit(units, end, h.q.problem)
}

// fit has the checker look at a rest behind a measured end, as a leg of its own.
func (h *ahead) fit(units []layout.Unit, end measure.Length, p layout.Problem) bool {
	from := units[0].Start
	moved := slices.Clone(units)
	for i := range moved {
		moved[i].Start -= from
	}
	inZone := func(z layout.Zone) bool { return end < z.To && from > z.From }
	return from >= end && !slices.ContainsFunc(p.Zones, inZone) && len(layout.CheckLaid(p.Behind(from), moved)) == 0
}

// offer tells a rest as people read it, with what taking it makes of the job; false: it does not close a gap at both walls.
func (h *ahead) offer(r *LegReplan, units []layout.Unit, end measure.Length) (Offer, bool) {
	o := Offer{Answer: AsPlanned, Gaps: []GapHeld{}, Pieces: []PieceNow{}, Withdrawn: []string{}, Services: append([]job.Service{}, h.found...), Moved: append([]ServiceMoved{}, h.moved...),
		Closes: []Closes{}, Count: Count(countOf(units)), Hold: measure.MM(h.q.problem.Width(units[0].Start, units[0].Start-end))}
	o.Count.Units -= len(h.beyond)
	planned := h.planned(r.Set)
	used := usedOn(h.leg.Built)
	for _, b := range h.all {
		used[b.name] = true
	}
	called, match, changed := named(r.Last, planned, units, used, h.lastOf())
	o.called = called
	if o.Changed = changed; changed > 0 {
		o.Answer = OtherPiece
	}
	if !h.closing(r, &o, units, end) {
		return o, false
	}
	h.tellPieces(&o, units, planned, match, called)
	h.tellGaps(&o, r, units, called, end)
	o.Built = h.takenAs(r, &o, units, called)
	o.Built.Grades = h.keptGrades(r.Set, match, called)
	o.units, o.called = h.toLay(units, called)
	o.Cut, o.Yard = []CutOf{}, []job.YardItem{}
	return o, true
}

// inTurn are the units to come that are not as planned, one after the other.
func (h *ahead) inTurn(set int, units []layout.Unit) []PieceNow {
	list := []PieceNow{}
	for k := range max(len(units), len(h.units)-set) {
		var now, was PieceNow
		if k < len(units) {
			u := units[k]
			now = PieceNow{Stock: measure.MM(u.Stock), Length: measure.MM(u.Length), Cut: u.Cut, Supply: h.q.problem.Supplies[u.Supply].Name}
		}
		if set+k < len(h.units) {
			u := h.units[set+k]
			was = PieceNow{Place: u.Mark, Length: u.Length, Cut: u.Cut}
		}
		if now.Length != was.Length || now.Cut != was.Cut {
			now.Place, now.Was = was.Place, was.Length
			list = append(list, now)
		}
	}
	return list
}

// tellPieces says which places get another piece.
func (h *ahead) tellPieces(o *Offer, units []layout.Unit, planned []brick, match []int, called []string) {
	next := 0
	none := func(until int) {
		for ; next < until; next++ {
			u := planned[next]
			o.Withdrawn = append(o.Withdrawn, u.name)
			o.Pieces = append(o.Pieces, PieceNow{Place: u.name, Was: measure.MM(u.unit.Length), Supply: h.q.problem.Supplies[u.unit.Supply].Name})
		}
	}
	for i, u := range units {
		now := PieceNow{Place: called[i], Stock: measure.MM(u.Stock), Length: measure.MM(u.Length), Cut: u.Cut, Supply: h.q.problem.Supplies[u.Supply].Name}
		if k := match[i]; k >= 0 {
			none(k)
			next = k + 1
			if pieceLaid(planned[k].unit) == pieceLaid(u) {
				continue
			}
			now.Was = measure.MM(planned[k].unit.Length)
		}
		o.Pieces = append(o.Pieces, now)
	}
	none(len(planned))
}

// tellGaps says which joints are held otherwise than drawn: those between places that were neighbours in the plan.
func (h *ahead) tellGaps(o *Offer, r *LegReplan, units []layout.Unit, called []string, end measure.Length) {
	drawn := map[[2]string]Joint{}
	for k, j := range h.joints {
		drawn[[2]string{h.units[k].Mark, h.units[k+1].Mark}] = j
	}
	before := r.Last
	for i, u := range units {
		gap := measure.MM(h.q.problem.Width(u.Start, u.Start-end))
		if j, ok := drawn[[2]string{before, called[i]}]; ok && gap != j.Gap {
			if i > 0 && !units[i-1].Cut {
				gap -= measure.MM(h.lots[made{h.q.problem.Supplies[units[i-1].Supply].Name, units[i-1].Stock}])
			}
			o.Gaps = append(o.Gaps, GapHeld{j.Name, gap, j.Gap})
			if o.Answer == AsPlanned {
				o.Answer = OtherGaps
			}
		}
		before, end = called[i], u.Start+u.Advance
	}
}

// takenAs is the leg's built part once a rest is taken: what lies where it was measured, the rest as it was offered.
func (h *ahead) takenAs(r *LegReplan, o *Offer, units []layout.Unit, called []string) job.Built {
	p := &h.q.problem
	var list []brick
	for _, b := range h.all[:r.Set] { // its end was measured; its length is what it is
		b.with, b.of = h.with[b.name], h.a.of[b.name]
		list = append(list, b)
	}
	list = append(list, h.laidFully(o, units, called)...)
	made := job.Built{To: r.Last, Beyond: h.beyondAs(), Bedded: r.bedded, Counted: slices.Clone(h.read), Withdrawn: slices.Clone(o.Withdrawn)}
	if was := h.leg.Built; was != nil {
		made.Counted = append(slices.Clone(was.Counted), made.Counted...)
		made.Withdrawn = append(slices.Clone(was.Withdrawn), made.Withdrawn...)
	}
	slices.Sort(made.Counted)
	made.Counted = slices.Compact(made.Counted)
	made.Courses = courses(list, func(i int) string {
		if i == 0 {
			return "" // the leg's own
		}
		return p.Supplies[i].Name
	})
	return made
}

// keptGrades are the grades of what lies and of what is to come: a unit has that of the place it stands for, one that was not planned
// that of the one before it.
func (h *ahead) keptGrades(set int, match []int, called []string) []job.Held {
	if h.grades == nil {
		return nil
	}
	var names []string
	grades := slices.Clone(h.grades[:set])
	for _, b := range h.all[:set] {
		names = append(names, b.name)
	}
	at := func(k int) int { // of all units
		if h.full == nil {
			return k
		}
		return h.full[k]
	}
	for i, k := range match {
		g := unitGrade{}
		if k >= 0 {
			g = h.grades[at(set+k)]
		} else if n := len(grades); n > 0 {
			g = grades[n-1]
		}
		grades, names = append(grades, g), append(names, called[i])
		if v := slices.IndexFunc(h.beyond, func(v gang) bool { return v.place == called[i] }); v >= 0 {
			for _, b := range h.all[h.beyond[v].from+1 : h.beyond[v].to] {
				grades, names = append(grades, h.grades[slices.IndexFunc(h.all, func(o brick) bool { return o.name == b.name })]), append(names, b.name)
			}
		}
	}
	return heldAs(names, grades)
}

// spendsLess tells whether an offer spends no more than another one in anything: then the other is not worth a choice.
func (o Offer) spendsLess(than Offer) bool {
	return o.Changed <= than.Changed && o.Count.Units <= than.Count.Units && o.Count.Cuts <= than.Count.Cuts && o.Count.CutCovers <= than.Count.CutCovers && o.ToOrder <= than.ToOrder && o.Waiting <= than.Waiting
}
