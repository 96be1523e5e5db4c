package planner

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/solve/delivery"
)

// ShortAnswer says what can still be laid where some of what was ordered is not there.
type ShortAnswer struct {
	Says    string     `json:"says"` // in one line
	Missing []string   `json:"missing"`
	Units   int        `json:"units"` // that can be laid, over all legs
	Of      int        `json:"of"`    // that are still to be laid
	Legs    []ShortLeg `json:"legs"`  // in the order in which they are laid
	Why     []string   `json:"why"`
}

// ShortLeg is how far one leg can be laid.
type ShortLeg struct {
	Leg   string `json:"leg"`
	Units int    `json:"units"` // with what the legs before it leave
	Of    int    `json:"of"`
	From  string `json:"from,omitempty"` // first place that can be laid, and last
	To    string `json:"to,omitempty"`
	Stop  string `json:"stop,omitempty"`  // the first place whose piece is not there
	Wants string `json:"wants,omitempty"` // what that would be
	Alone int    `json:"alone"`           // units that could be laid if all that is there went into this leg
}

// Missing is what is not there: a place or a mark, or so many of one type.
type Missing struct {
	Mark  string
	Piece field.Piece
	Count int
}

// short gathers what is there and what is wanted.
type short struct {
	a      *Answers
	kinds  map[string]int
	names  []string
	there  []int
	marked map[string]bool // special pieces that are not there
	lids   []string        // covers that are not there
	why    []string
}

// kind is a kind by what it is; new ones are none of them there.
func (s *short) kind(key, name string) int {
	k, ok := s.kinds[key]
	if !ok {
		k = len(s.names)
		s.kinds[key], s.names, s.there = k, append(s.names, name), append(s.there, 0)
	}
	return k
}

func plainKey(supply string, length measure.Length) string { return supply + " " + length.MMString() }

func (s *short) plain(supply string, length measure.Length) int {
	return s.kind(plainKey(supply, length), s.a.b.tell("%s %s, %s", wording.Unit, length, supply))
}

// Short answers on the spot. State is what the records say of what lies and what came, nil without any; set is by leg the last place that
// lies, where no record says so. Where no record says what came, all that is planned is there but for what is missing.
func (a *Answers) Short(missing []Missing, state *field.State, set map[string]string) (ShortAnswer, error) {
	s := &short{a: a, kinds: map[string]int{}, marked: map[string]bool{}}
	w := a.b.coming()
	legs, dues := [][]delivery.Due{}, map[string][]*Unit{}
	from, err := a.firsts(state, set)
	if err != nil {
		return ShortAnswer{}, err
	}
	for _, id := range w.legs {
		units := a.inLayingOrder(id)
		dues[id] = units[min(from[id], len(units)):]
	}
	yard := a.yardOf(state)
	if yard == nil {
		s.planned(dues)
		if state != nil {
			s.why = append(s.why, "no record says what came: all that is planned is taken to be there, but for what is missing")
		}
	} else {
		s.fromYard(yard)
	}
	out := ShortAnswer{Missing: []string{}, Legs: []ShortLeg{}, Why: []string{}}
	blocked := map[string]string{}
	for _, m := range missing {
		said, err := s.take(m, blocked)
		if err != nil {
			return ShortAnswer{}, err
		}
		out.Missing = append(out.Missing, said)
	}
	for _, id := range w.legs {
		var leg []delivery.Due
		for _, u := range dues[id] {
			leg = append(leg, delivery.Due{Name: u.Mark, Kind: s.wants(u, yard)})
		}
		legs = append(legs, leg)
	}
	none := s.kind("casting", "casting") // never there
	for i, id := range w.legs {
		if k := a.legOf(id); k >= 0 && from[id] == 0 && len(legs[i]) > 0 && blocked[a.b.plan.Legs[k].LaidFrom] != "" {
			legs[i][0].Kind = none
		}
	}
	for i, x := range delivery.Short(legs, s.there) {
		one := ShortLeg{Leg: w.legs[i], Units: x.Units, Of: len(legs[i]), Alone: x.Alone}
		if x.Units > 0 {
			one.From, one.To = legs[i][0].Name, legs[i][x.Units-1].Name
		}
		if x.Stop >= 0 {
			stop := legs[i][x.Stop]
			one.Stop, one.Wants = stop.Name, s.names[stop.Kind]
			if stop.Kind == none {
				one.Wants = blocked[a.b.plan.Legs[a.legOf(one.Leg)].LaidFrom]
			}
		}
		out.Units, out.Of = out.Units+one.Units, out.Of+one.Of
		out.Legs = append(out.Legs, one)
	}
	s.say(&out)
	return out, nil
}

// inLayingOrder are the units of a leg as they are laid.
func (a *Answers) inLayingOrder(id string) []*Unit {
	k := a.legOf(id)
	if k < 0 {
		return nil
	}
	at, l := &a.legs[k], &a.b.plan.Legs[k]
	units := make([]*Unit, at.units)
	for i := range units {
		units[i] = &a.b.plan.Units[at.unit+i]
	}
	if l.LaidFrom == l.To && l.From != l.To {
		slices.Reverse(units)
	}
	return units
}

// firsts are by leg how many units lie already, counted in laying order up to the first that does not.
func (a *Answers) firsts(state *field.State, set map[string]string) (map[string]int, error) {
	from := map[string]int{}
	for i := range a.legs {
		id := a.legs[i].id
		units := a.inLayingOrder(id)
		for from[id] < len(units) && units[from[id]].Lies {
			from[id]++
		}
		if state != nil {
			for _, l := range state.Legs {
				if l.ID != id {
					continue
				}
				n := 0
				for n < len(l.Units) && l.Units[n].Set.Is == field.Yes {
					n++
				}
				from[id] = max(from[id], n)
			}
		}
	}
	for leg, place := range set {
		k := a.legOf(leg)
		if k < 0 {
			return nil, fmt.Errorf("there is no leg %s", leg)
		}
		units := a.inLayingOrder(a.legs[k].id)
		n := slices.IndexFunc(units, func(u *Unit) bool { return folded(u.Mark) == folded(place) })
		if n < 0 {
			return nil, fmt.Errorf("there is no place %s on leg %s", place, a.legs[k].id)
		}
		from[a.legs[k].id] = n + 1
	}
	return from, nil
}

// yardOf is what lies in the yard; nil: no record says what came.
func (a *Answers) yardOf(state *field.State) []field.Stock {
	if state == nil || !slices.ContainsFunc(state.Yard, func(k field.Stock) bool { return k.Came > k.Cut || len(k.By) > 0 }) {
		return nil
	}
	return state.Yard
}

// planned: all that is to be laid is there.
func (s *short) planned(dues map[string][]*Unit) {
	for _, units := range dues {
		for _, u := range units {
			s.there[s.wants(u, nil)]++
		}
	}
}

// fromYard: what the records say is there.
func (s *short) fromYard(yard []field.Stock) {
	for _, k := range yard {
		switch {
		case k.What != "unit":
		case k.Mark == "":
			s.there[s.plain(k.Supply, k.Length)] += max(0, k.Have)
		case k.Have > 0:
			s.there[s.kind("mark "+folded(k.Mark), k.Mark)] += k.Have
		}
	}
}

// special tells whether a place takes one piece alone: what is sawn, and what is bored unless it is bored on site.
func (s *short) special(u *Unit) bool {
	return u.Cut && !u.Hold || s.a.b.job.Delivery.CutBy.Value != "site" && len((&coming{b: s.a.b}).entries(u)) > 0
}

// wants is the kind that goes into a place: any plain one, or the special one that was made for it; where it does not lie in the yard and is
// sawn on site, a whole one.
func (s *short) wants(u *Unit, yard []field.Stock) int {
	key, special := "mark "+folded(u.Mark), s.special(u)
	if special && yard != nil && !s.marked[folded(u.Mark)] && s.a.b.job.Delivery.CutBy.Value != "supplier" {
		if k, ok := s.kinds[key]; !ok || s.there[k] == 0 {
			special = false
		}
	}
	if special || s.marked[folded(u.Mark)] {
		return s.kind(key, u.Mark)
	}
	return s.plain(u.Supply, measure.Length(u.Stock))
}

// take takes what is missing off what is there.
func (s *short) take(m Missing, blocked map[string]string) (string, error) {
	a := s.a
	if m.Mark == "" {
		if m.Piece.What == "cover" {
			name := a.b.tell("%d of cover %s, %s", m.Count, m.Piece.Length, m.Piece.Supply)
			s.lids = append(s.lids, name)
			return name, nil
		}
		k, ok := s.kinds[plainKey(m.Piece.Supply, m.Piece.Length)]
		if !ok {
			return "", fmt.Errorf("no %s %s of supply %s is laid here", a.b.speech().Word(wording.Unit), a.b.say(m.Piece.Length), m.Piece.Supply)
		}
		s.there[k] = max(0, s.there[k]-m.Count)
		return fmt.Sprintf("%d of %s", m.Count, s.names[k]), nil
	}
	if k, ok := a.unit[folded(m.Mark)]; ok {
		u := &a.b.plan.Units[k]
		if s.special(u) {
			s.marked[folded(u.Mark)] = true
			s.there[s.kind("mark "+folded(u.Mark), u.Mark)] = 0
			return u.Mark, nil
		}
		p := s.plain(u.Supply, measure.Length(u.Stock))
		s.there[p] = max(0, s.there[p]-1)
		s.why = append(s.why, fmt.Sprintf("%s is plain: any %s goes there, so one of them is missing and not that place", u.Mark, s.names[p]))
		return u.Mark, nil
	}
	for _, c := range a.b.plan.Covers {
		if folded(c.Mark) == folded(m.Mark) {
			s.lids = append(s.lids, c.Mark)
			return c.Mark, nil
		}
	}
	for _, n := range a.b.plan.Nodes {
		if n.Fitting != "" && (folded(n.ID) == folded(m.Mark) || folded(n.Fitting) == folded(m.Mark)) {
			blocked[n.ID] = "casting " + n.Fitting + " at " + n.ID
			return blocked[n.ID], nil
		}
	}
	return "", fmt.Errorf("%q is no unit, cover or casting of this plan; write for example A-003, or \"SUPPLY unit 3000mm=4\"", m.Mark)
}

// say puts the answer into one line, and behind it why.
func (s *short) say(out *ShortAnswer) {
	a := s.a
	units := plural(out.Of, a.b.speech().Word(wording.Unit), a.b.speech().Word(wording.Units))
	var stops, whole []string
	for _, l := range out.Legs {
		wants := l.Stop + " has not come"
		if l.Wants != l.Stop {
			wants = l.Stop + " lacks a " + l.Wants
		}
		switch {
		case l.Of == 0:
		case l.Units == l.Of:
			whole = append(whole, l.Leg)
		case l.Units == 0:
			stops = append(stops, fmt.Sprintf("leg %s nothing (%s)", l.Leg, wants))
		case l.Units == 1:
			stops = append(stops, fmt.Sprintf("leg %s only %s (%s)", l.Leg, l.From, wants))
		default:
			stops = append(stops, fmt.Sprintf("leg %s from %s to %s (%s)", l.Leg, l.From, l.To, wants))
		}
	}
	if len(whole) > 0 {
		stops = append(stops, "all of "+strings.Join(whole, ", "))
	}
	out.Says = fmt.Sprintf("%d of %s can be laid", out.Units, units)
	if out.Of == 0 {
		out.Says = "nothing is left to lay"
	}
	if len(stops) > 0 {
		out.Says += ": " + strings.Join(stops, "; ")
	}
	if len(s.lids) > 0 {
		s.why = append(s.why, "covers do not hold laying back: "+strings.Join(s.lids, ", ")+" can follow")
	}
	for _, l := range out.Legs {
		if l.Alone > l.Units {
			s.why = append(s.why, fmt.Sprintf("if all that is there went into leg %s, %d could be laid there", l.Leg, l.Alone))
		}
	}
	s.why = append(s.why, "legs count in the order in which they are laid; what one takes the next does not have")
	out.Why = append(out.Why, s.why...)
}

// Delivery is how what is ordered comes; worked out here where the plan has none, because the job says nothing about deliveries.
func (a *Answers) Delivery() Delivery {
	if d := a.b.plan.Delivery; d != nil {
		return *d
	}
	d, _ := a.b.delivery()
	return *d
}
