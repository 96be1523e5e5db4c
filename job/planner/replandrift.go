package planner

import (
	"cmp"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/job/field"
	"trenchwright/solve/drift"
)

// LegDrift is how a leg wanders while it is laid, from its records, and what to do about it now.
type LegDrift struct {
	Leg      string       `json:"leg"`
	Set      int          `json:"set"`
	Units    int          `json:"units"`
	Last     string       `json:"last"`
	Off      measure.MM   `json:"off_mm"`    // of its end: ahead above 0, behind below
	Hold     measure.MM   `json:"hold_mm"`   // the gap to hold now, as the first way on of Replan has it
	Until    string       `json:"until"`     // the last joint that this way on holds otherwise than drawn; empty: none
	Back     *BackNow     `json:"back"`      // the soonest way back with the pieces as planned; null: nothing is off its place
	Bias     measure.MM   `json:"bias_mm"`   // what each unit to come adds on average; 0: none, or none told from chance
	Band     *measure.MM  `json:"band_mm"`   // how far each way the closer's joint may come to lie, in 999 of 1000; null: no scatter on file
	Ahead    *int         `json:"set_ahead"` // units that may be set before pads have to be moved; null: any number
	Move     bool         `json:"move_pads"` // the last joint lies further off than any gap to come takes up
	Closer   *CloserNow   `json:"closer"`    // null: nothing is cut any more
	Lots     []LotDrift   `json:"lots"`      // of units that were measured
	Covers   []CoverOver  `json:"covers"`    // that would leave their unit
	Findings finding.List `json:"findings"`
}

// BackNow is how joints come back to their places soonest, with the pieces as planned: every gap takes up what it can.
type BackNow struct {
	Hold  measure.MM `json:"hold_mm"`
	Until string     `json:"until"`   // the last joint that is held so
	Then  measure.MM `json:"then_mm"` // the gap to hold behind that, against what the lot adds
	Left  measure.MM `json:"left_mm"` // what no gap takes up
}

// CloserNow is the piece that closes a leg, as it would be cut now.
type CloserNow struct {
	Place  string     `json:"place"`
	Length measure.MM `json:"length_mm"`
	Left   measure.MM `json:"left_mm"` // along its walls, looking up-chainage
	Right  measure.MM `json:"right_mm"`
	Stock  measure.MM `json:"stock_mm"`
	ToGo   int        `json:"to_go"`     // units to be laid before it
	Margin measure.MM `json:"margin_mm"` // what the gaps to its sides take up, each way
	CutAt  string     `json:"cut_at"`    // it is cut once this unit lies, from a measurement; empty: it may be cut now
	Known  bool       `json:"known"`     // false: no scatter on file, so that nobody can say when
}

// LotDrift is what measured units say of their lot.
type LotDrift struct {
	Supply  string     `json:"supply"`
	Length  measure.MM `json:"length_mm"`
	Batch   string     `json:"batch"`
	Units   int        `json:"units"`
	Mean    measure.MM `json:"mean_mm"`
	Verdict string     `json:"verdict"`  // biased, scatters, cannot say
	More    int        `json:"more"`     // cannot say: so many units measured in all would tell; 0: not asked
	Band    measure.MM `json:"band_mm"`  // each way: how well the mean is known, in 95 of 100 lots; 0: not known
	By      []string   `json:"by"`       // the records that measured them
	Takes   measure.MM `json:"takes_mm"` // what a gap takes up of it
	Never   bool       `json:"never"`    // it adds as much as a gap can take up, or more: it never comes right
}

// CoverOver is a cover that does not lie on its unit any more, which came shorter than its length.
type CoverOver struct {
	Cover string     `json:"cover"`
	Over  measure.MM `json:"over_mm"` // with the covers of the unit as close as they may lie
	Trim  measure.MM `json:"trim_mm"` // to this length; 0: it does not go on at all
}

// Drift is what the records say of the creeping of every leg that is begun and not ended.
func (a *Answers) Drift(s field.State) []LegDrift {
	lots := a.lots(s)
	list := []LegDrift{}
	for i, r := range a.Replan(s) {
		if r.Set == 0 || r.Answer == CannotSay {
			continue
		}
		h := a.ahead(i)
		d := LegDrift{Leg: r.Leg, Set: r.Set, Units: r.Units, Last: r.Last, Off: r.Off, Hold: r.Hold, Lots: []LotDrift{}, Covers: a.coversOver(s, r.Leg), Findings: finding.List{}}
		for _, l := range lots {
			if slices.ContainsFunc(h.units, func(u Unit) bool { return u.Supply == l.Supply && u.Stock == l.Length }) {
				d.Lots = append(d.Lots, l)
			}
		}
		if r.Set < r.Units {
			h.drifts(&d, r)
		}
		list = append(list, d)
	}
	return list
}

// drifts says what to hold and when to cut.
func (h *ahead) drifts(d *LegDrift, r LegReplan) {
	for _, l := range d.Lots {
		if u := h.units[r.Set]; l.Verdict == string(drift.Biased) && l.Supply == u.Supply && l.Length == u.Stock {
			d.Bias = l.Mean
		}
	}
	var gaps []drift.Gap
	var room measure.Length
	for k := r.Set - 1; k < len(h.joints); k++ {
		if slices.Contains(r.Apart, h.units[k].Mark) {
			break // from there on units lie
		}
		least, most := h.window(k)
		drawn := measure.Length(h.joints[k].Gap)
		gaps = append(gaps, drift.Gap{Drawn: drawn, May: measure.Window{Nominal: drawn, Min: least, Max: most}})
		room += most - least
	}
	held := drift.Hold(measure.Length(d.Off), measure.Length(d.Bias), gaps)
	if held.Until > 0 || held.Left != 0 {
		d.Back = &BackNow{Hold: measure.MM(held.Hold), Then: measure.MM(held.Then), Left: measure.MM(held.Left)}
	}
	if held.Until > 0 {
		d.Back.Until = h.joints[r.Set-2+held.Until].Name
	}
	if (r.Answer == NoAnswer || r.Answer == Stopped) && d.Back != nil { // nothing else is known
		d.Hold, d.Until = d.Back.Hold, d.Back.Until
	} else if len(r.Offers) > 0 && len(r.Offers[0].Gaps) > 0 {
		d.Until = r.Offers[0].Gaps[len(r.Offers[0].Gaps)-1].Joint
	}
	d.Move = held.Left != 0
	if len(gaps) > 0 {
		takes := min(gaps[0].Drawn-gaps[0].May.Min, gaps[0].May.Max-gaps[0].Drawn)
		most := takes * measure.Length(len(gaps))
		if n, forever := drift.Ahead(measure.Length(d.Off), measure.Length(d.Bias), takes, most); !forever {
			d.Ahead = &n
		}
	}
	h.closes(d, r, gaps)
}

// closes says when the piece that closes the leg is cut, and how long it would be now.
func (h *ahead) closes(d *LegDrift, r LegReplan, gaps []drift.Gap) {
	units, called := h.toCome(r)
	at := -1
	for i, u := range units {
		if u.cut {
			at = i
		}
	}
	if at < 0 {
		return
	}
	u := units[at]
	c := &CloserNow{Place: called[at], Length: measure.MM(u.unit.Length), Stock: measure.MM(u.unit.Stock), ToGo: at}
	width := h.b.supplyNamed(h.q.problem.Supplies[u.unit.Supply].Name).width
	start, end := u.unit.StartTan, u.unit.EndTan
	if h.q.back {
		start, end = end, start
	}
	left, right := sides(u.unit.Length, start, end, width)
	c.Left, c.Right = measure.MM(left), measure.MM(right)
	for _, k := range []int{at, at + 1} {
		if k < len(gaps) {
			c.Margin += measure.MM(min(gaps[k].Drawn-gaps[k].May.Min, gaps[k].May.Max-gaps[k].Drawn))
		}
	}
	scatter := h.b.job.Rules.UnitScatter
	if c.Known = scatter.Known; c.Known {
		spread := drift.Spread{Gap: scatter.Value}
		band := spread.Band(at)
		d.Band = (*measure.MM)(&band)
		if cut := spread.Cut(measure.Length(c.Margin), measure.Length(d.Bias), at); cut.Most < at {
			c.CutAt = called[at-1-cut.Most]
		}
	} else {
		d.Findings = append(d.Findings, finding.NoneOnFile("scatter of the lengths of units", "the site engineer", finding.Where{Leg: d.Leg, Path: "rules.unit_scatter"}))
	}
	d.Closer = c
}

// toCome are the units to come by the first offer, or as planned.
func (h *ahead) toCome(r LegReplan) (list []brick, called []string) {
	if len(r.Offers) > 0 {
		for i, u := range r.Offers[0].units {
			list, called = append(list, brick{unit: u, cut: u.Cut}), append(called, r.Offers[0].called[i])
		}
		return list, called
	}
	planned := h.planned(r.Set)
	for i, u := range laidUnits(&h.q.problem, planned, false, true) {
		list, called = append(list, brick{unit: u, cut: u.Cut}), append(called, planned[i].name)
	}
	return list, called
}

// lots are the units whose length was measured, by supply, length and batch.
func (a *Answers) lots(s field.State) []LotDrift {
	type lot struct {
		supply string
		length measure.MM
		batch  string
	}
	off, by := map[lot][]measure.Length{}, map[lot][]string{}
	for _, l := range s.Legs {
		for _, u := range l.Units {
			if u.Length == nil || !u.Length.Known {
				continue
			}
			i, ok := a.unit[folded(u.Place)]
			if !ok || a.b.plan.Units[i].Cut {
				continue
			}
			p := &a.b.plan.Units[i]
			k := lot{p.Supply, p.Stock, u.Batch}
			off[k] = append(off[k], u.Length.Value-measure.Length(p.Length))
			by[k] = append(by[k], u.Length.Readings[0].By)
		}
	}
	list := []LotDrift{}
	for k, of := range off {
		w := a.b.supplyNamed(k.supply).Joint.Gap.Value
		worth := min(w.Nominal-w.Min, w.Max-w.Nominal)
		b := drift.LotOf(of, worth)
		list = append(list, LotDrift{Supply: k.supply, Length: k.length, Batch: k.batch, Units: b.Units, Mean: measure.MM(b.Mean), Verdict: string(b.Verdict), More: b.MoreFor,
			Band: measure.MM(max(0, b.Possible-b.Mean.Abs())), By: by[k], Takes: measure.MM(worth), Never: b.Verdict == drift.Biased && b.Mean.Abs() >= worth})
	}
	sorting.By(list, func(x, y LotDrift) int {
		return cmp.Or(strings.Compare(x.Supply, y.Supply), cmp.Compare(y.Length, x.Length), strings.Compare(x.Batch, y.Batch))
	})
	return list
}

// coversOver are covers of units that came shorter than their length, as far as their gaps do not take that up.
func (a *Answers) coversOver(s field.State, leg string) []CoverOver {
	out := []CoverOver{}
	for _, l := range s.Legs {
		if l.ID != leg {
			continue
		}
		for _, u := range l.Units {
			i, ok := a.unit[folded(u.Place)]
			if !ok || u.Length == nil || !u.Length.Known {
				continue
			}
			covers := a.b.plan.Covers[a.cover[i]:a.cover[i+1]]
			made := a.b.supplyNamed(a.b.plan.Units[i].Supply).Cover
			if len(covers) == 0 || made == nil || a.b.plan.Units[i].StartAngle != 0 || a.b.plan.Units[i].EndAngle != 0 {
				continue
			}
			var sum measure.Length
			at := len(covers) - 1
			for k, c := range covers {
				if sum += measure.Length(c.Length) + made.Gap.Value.Min; c.Cut {
					at = k // it is sawn anyway
				}
			}
			if over := sum - u.Length.Value; over > 0 {
				out = append(out, CoverOver{Cover: covers[at].Mark, Over: measure.MM(over), Trim: max(0, covers[at].Length-measure.MM(over))})
			}
		}
	}
	return out
}
