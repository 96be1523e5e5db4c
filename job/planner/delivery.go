package planner

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"time"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/delivery"
)

// deliver says how what the bill orders comes, where the job asks for it.
func (b *build) deliver() {
	if b.job.Delivery.Asked() {
		d, found := b.delivery()
		b.plan.Delivery = d
		b.add(found...)
	}
}

// delivery works it out: deliverywhat.go says what comes, this file how.
func (b *build) delivery() (*Delivery, finding.List) {
	w := b.coming()
	d := &Delivery{Legs: w.legs, Items: w.items, Bundles: []DeliveryBundle{}, Loads: []DeliveryLoad{}, Vehicles: []DeliveryVehicle{}, Laydown: []DeliveryPlace{}, Nowhere: []string{}, Left: w.left, Ahead: measure.MM(b.job.Delivery.Ahead.Value)}
	p := delivery.Problem{Kinds: w.kinds, Pieces: w.pieces, Ahead: b.job.Delivery.Ahead.Value, Words: b.speech()}
	w.problem = &p
	w.vehicles(&p, d)
	s, bad := delivery.Solve(p)
	if len(bad) == 0 {
		bad = delivery.Check(&p, &s)
	}
	if len(bad) > 0 {
		for i := range bad {
			bad[i].Kind, bad[i].Where = finding.Attention, finding.Where{Path: "delivery"}
			bad[i].Text = "deliveries were not worked out: " + bad[i].Text
		}
		return d, bad
	}
	found := s.Findings
	w.bundles(&s, d)
	w.loads(&s, d)
	found = append(found, w.put(&s, d)...)
	found = append(found, w.lifted(&s, d)...)
	w.told(&s, d)
	return d, found
}

// vehicles gives the problem those whose payload is on file. Where one has no deck on file nothing is placed, and what axles bear is known
// to nobody.
func (w *coming) vehicles(p *delivery.Problem, d *Delivery) {
	entered := w.b.job.Delivery
	for i := range entered.Vehicles {
		v := &entered.Vehicles[i]
		d.Vehicles = append(d.Vehicles, DeliveryVehicle{ID: v.ID, Title: v.Title, Source: job.SourceFrom(w.b.job, cmp.Or(v.From, entered.From), v.Payload)})
		if !v.Payload.Known {
			continue
		}
		one := delivery.Vehicle{Name: v.ID, Payload: v.Payload.Value}
		if v.Decked() {
			one.Deck = &delivery.Deck{Length: v.Length.Value, Width: v.Width.Value, Height: v.Height.Value}
		}
		if v.Whole() {
			a := v.Axles
			one.Axles = &delivery.Axles{Ahead: a.Deck.Value, Apart: a.Apart.Value, Empty: [2]measure.Mass{a.FrontEmpty.Value, a.RearEmpty.Value}, Limit: [2]measure.Mass{a.FrontLimit.Value, a.RearLimit.Value}}
		}
		p.Vehicles = append(p.Vehicles, one)
	}
}

// bundles are told in the order of their turns until they have loads.
func (w *coming) bundles(s *delivery.Solution, d *Delivery) {
	for i := range s.Bundles {
		x := &s.Bundles[i]
		one := DeliveryBundle{Name: fmt.Sprint(i + 1), Item: w.of[x.Kind].Item, Mark: w.of[x.Kind].Mark, Supply: w.of[x.Kind].Supply, Pieces: []string{}, Count: len(x.Pieces), Mass: x.Mass.Kilograms(),
			Size: [3]measure.MM{measure.MM(x.Length), measure.MM(x.Width), measure.MM(x.Height)}}
		for _, k := range x.Pieces {
			one.Pieces = append(one.Pieces, w.pieces[k].Name)
		}
		d.Bundles = append(d.Bundles, one)
	}
}

func (w *coming) loads(s *delivery.Solution, d *Delivery) {
	d.Placed, d.Least, d.LeastBy = s.Sized && len(s.Loads) > 0, s.Bound.Loads, s.Bound.By
	if s.Bound.Of > 0 {
		d.Nearer = float64(s.Bound.Sum*100/s.Bound.Of) / 100
	}
	total := measure.Mass(0)
	for n := range s.Loads {
		l := &s.Loads[n]
		v := &w.problem.Vehicles[l.Vehicle]
		one := DeliveryLoad{Number: n + 1, Vehicle: v.Name, Bundles: []string{}, Mass: l.Mass.Kilograms(), Payload: v.Payload.Kilograms()}
		first, last := -1, -1
		for _, x := range l.Placed {
			bundle := &d.Bundles[x.Bundle]
			bundle.Load = n + 1
			one.Bundles, one.Pieces = append(one.Bundles, bundle.Name), one.Pieces+bundle.Count
			if s.Sized {
				bundle.Places = &[3]measure.MM{measure.MM(x.X), measure.MM(x.Y), measure.MM(x.Z)}
			}
			for _, k := range s.Bundles[x.Bundle].Pieces {
				if first < 0 || k < first {
					first = k
				}
				last = max(last, k)
			}
		}
		one.First, one.Last = w.pieces[first].Name, w.pieces[last].Name
		if s.Sized {
			one.Deck, one.DeckOf = mmp(l.Used), mmp(v.Deck.Length)
		}
		if l.Axles != nil {
			one.Axles = &[2]float64{l.Axles[0].Kilograms(), l.Axles[1].Kilograms()}
			one.AxlesOf = &[2]float64{v.Axles.Limit[0].Kilograms(), v.Axles.Limit[1].Kilograms()}
		}
		d.Loads = append(d.Loads, one)
		total += l.Mass
	}
	d.Mass = total.Kilograms()
	too := map[int]bool{}
	for _, b := range s.Left {
		k := s.Bundles[b].Kind
		if too[k] {
			continue
		}
		too[k] = true
		why := "larger than any vehicle on file brings"
		switch {
		case w.kinds[k].Mass == 0:
			why = finding.NoneOnFile("mass of "+w.kinds[k].Name, "the supplier", finding.Where{}).Text
		case len(w.problem.Vehicles) == 0:
			why = finding.NoneOnFile("payload of any vehicle", "the haulier", finding.Where{}).Text
		}
		d.Left = append(d.Left, DeliveryLeft{Item: w.of[k].Item, Mark: w.of[k].Mark, Why: why})
	}
}

// put says what is put down where.
func (w *coming) put(s *delivery.Solution, d *Delivery) (found finding.List) {
	b, entered := w.b, &w.b.job.Delivery
	var places []delivery.Place
	for i := range entered.Laydown {
		l := &entered.Laydown[i]
		from, to := l.Ends()
		one := delivery.Place{Name: l.ID, Leg: slices.Index(w.legs, l.Leg), From: from, To: to}
		if l.Edge.Known {
			one.Edge = &l.Edge.Value
		}
		if l.Bears.Known {
			one.Bears = &l.Bears.Value
		}
		if l.Wide.Known {
			if area, err := measure.AreaOf(l.Long, l.Wide.Value); err == nil {
				one.Area = &area
			}
		}
		if l.Supports.Known {
			one.Supports = &l.Supports.Value
		}
		places = append(places, one)
		if leg := b.legAtName(l.Leg); leg >= 0 {
			if end := b.net.Legs[leg].Line.Length(); to > end || from < 0 {
				found = append(found, finding.Finding{ID: "delivery.beyond", Kind: finding.Attention, Text: "laydown " + l.ID + " reaches beyond its leg", Where: at(l.Leg, l.At),
					Value: b.say(from) + " to " + b.say(to), Limit: "0 to " + b.say(end), Try: "the chainages of the stretch beside which it lies"})
			}
		}
	}
	keep := (*measure.Length)(nil)
	if setback := b.job.Dig.Strip.Setback; setback.Known {
		keep = &setback.Value
	}
	laid := delivery.Lay(w.problem, s, places, entered.OnSite.Value, keep)
	for i := range laid.At {
		lies, l := &laid.At[i], &entered.Laydown[i]
		from, to := l.Ends()
		one := DeliveryPlace{ID: l.ID, Name: l.Name, Leg: l.Leg, Start: measure.MM(from), End: measure.MM(to), Side: l.Side, Bundles: []string{}, Most: lies.Most, Source: b.docText(cmp.Or(l.From, entered.From))}
		for _, x := range lies.Bundles {
			one.Bundles = append(one.Bundles, d.Bundles[x].Name)
			d.Bundles[x].Laydown = l.ID
		}
		one.Holds = w.held(lies, &places[i], l, keep)
		for _, h := range one.Holds {
			if h.Verdict == string(finding.DoesNot) {
				found = append(found, finding.Finding{ID: "delivery.laydown", Kind: finding.Attention, Text: h.What + " of laydown " + l.ID + ": " + h.Verdict, Where: at(l.Leg, l.At), Value: h.Value, Limit: h.Limit, Try: "another place for it, or ask who stated the figure"})
			}
		}
		d.Laydown = append(d.Laydown, one)
	}
	for _, x := range laid.Nowhere {
		d.Nowhere = append(d.Nowhere, d.Bundles[x].Name)
	}
	if len(laid.Nowhere) > 0 {
		loads := "with all loads on site at once"
		if entered.OnSite.Known {
			loads = fmt.Sprintf("with %s on site at once", plural(entered.OnSite.Value, "load", "loads"))
		}
		found = append(found, finding.Finding{ID: "delivery.no-room", Kind: finding.Attention, Text: fmt.Sprintf("%s of %d cannot be put down at any laydown place, %s", plural(len(laid.Nowhere), "bundle", "bundles"), len(s.Bundles), loads),
			Where: finding.Where{Path: "delivery.laydown"}, Try: "another place, fewer loads at once, or set them from the vehicle"})
	}
	return found
}

// held are the figures of a place beside what lies there.
func (w *coming) held(lies *delivery.Lies, p *delivery.Place, l *job.Laydown, keep *measure.Length) []Held {
	b, none := w.b, func(what, ask string) string { return finding.NoneOnFile(what, ask, finding.Where{}).Text }
	const engineer = "the site engineer"
	mass := func(m measure.Mass) string { return b.massText(m) }
	area := func(a measure.Area) string { return b.areaText(a) }
	out := []Held{{What: "mass", Value: mass(lies.Mass), Verdict: string(lies.Held[0])}, {What: "room", Value: area(lies.Area), Verdict: string(lies.Held[1])},
		{What: "bearers", Value: fmt.Sprint(lies.Bearers), Verdict: string(lies.Held[2])}, {What: "distance from the edge of the dig", Verdict: string(lies.KeptAway)}}
	if p.Bears != nil {
		out[0].Limit = mass(*p.Bears)
	} else {
		out[0].Verdict = none("mass that may lie at laydown "+l.ID, engineer)
	}
	switch {
	case p.Area == nil:
		out[1].Verdict = none("width of laydown "+l.ID, engineer)
	case lies.Held[1] == "":
		out[1].Limit, out[1].Value, out[1].Verdict = area(*p.Area), "", none("size of everything that lies at laydown "+l.ID, "the supplier")
	default:
		out[1].Limit = area(*p.Area)
	}
	switch {
	case p.Supports == nil:
		out[2].Verdict = none("number of bearers at laydown "+l.ID, engineer)
	case lies.Held[2] == "":
		out[2].Limit, out[2].Value, out[2].Verdict = fmt.Sprint(*p.Supports), "", none("number of bearers under everything that lies at laydown "+l.ID, "the supplier")
	default:
		out[2].Limit = fmt.Sprint(*p.Supports)
	}
	if p.Edge != nil {
		out[3].Value = b.say(*p.Edge)
	}
	if keep != nil {
		out[3].Limit = b.say(*keep)
	}
	switch {
	case p.Edge == nil:
		out[3].Verdict = none("distance of laydown "+l.ID+" from the edge of the dig", engineer)
	case keep == nil:
		out[3].Verdict = none("distance that what is put down keeps from the edge of the dig", "the competent person")
	}
	return out
}

// lifted holds bundles against what the plant on site may lift.
func (w *coming) lifted(s *delivery.Solution, d *Delivery) (found finding.List) {
	lift := w.b.job.Delivery.Lift
	if lift.Known {
		d.Lift = job.SourceFrom(w.b.job, w.b.job.Delivery.From, lift)
	}
	said := map[int]bool{}
	for i := range s.Bundles {
		x, one := &s.Bundles[i], &d.Bundles[i]
		switch {
		case x.Mass == 0:
			one.Lift = finding.NoneOnFile("mass of "+one.Item, "the supplier", finding.Where{}).Text
		case !lift.Known:
			one.Lift = finding.NoneOnFile("mass that the plant on site may lift", "whoever plans the lifts", finding.Where{}).Text
		case x.Mass <= lift.Value:
			one.Lift = string(finding.Meets)
		default:
			one.Lift = string(finding.DoesNot)
			if !said[x.Kind] {
				said[x.Kind] = true
				found = append(found, finding.Finding{ID: "delivery.lift", Kind: finding.Attention, Text: one.Item + " is heavier than the plant on site may lift (" + d.Lift + ")",
					Where: finding.Where{Place: w.pieces[x.Pieces[0]].Name}, Value: w.b.massText(x.Mass), Limit: w.b.massText(lift.Value), Ask: "whoever plans the lifts", Try: "a larger machine for it, or set it from the vehicle"})
			}
		}
	}
	return found
}

// told names bundles by the order in which they come: load by load, and on one from the front.
func (w *coming) told(s *delivery.Solution, d *Delivery) {
	order := []int{}
	for n := range s.Loads {
		for _, x := range s.Loads[n].Placed {
			order = append(order, x.Bundle)
		}
	}
	order = append(order, s.Left...)
	name := map[string]string{}
	bundles := make([]DeliveryBundle, len(order))
	for i, x := range order {
		bundles[i] = d.Bundles[x]
		name[d.Bundles[x].Name] = fmt.Sprint("B", i+1)
	}
	rename := func(list []string) {
		for i := range list {
			list[i] = name[list[i]]
		}
	}
	for i := range bundles {
		bundles[i].Name = name[bundles[i].Name]
	}
	for i := range d.Loads {
		rename(d.Loads[i].Bundles)
	}
	for i := range d.Laydown {
		rename(d.Laydown[i].Bundles)
	}
	rename(d.Nowhere)
	d.Bundles = bundles
}

// changeUntil is the last day on which a special piece of a supply may be changed.
func (b *build) changeUntil(supply string) string {
	t := b.job.Delivery.TermsOf(supply)
	switch {
	case !t.Change.Known:
		return finding.NoneOnFile("number of days until which specials of supply "+supply+" may be changed", "the supplier", finding.Where{}).Text
	case !t.First.Known:
		return finding.NoneOnFile("date of the first load of supply "+supply, "the site engineer", finding.Where{}).Text
	}
	day, err := time.Parse("2006-01-02", t.First.Value)
	if err != nil || t.Change.Value > 36_500 {
		return finding.NoneOnFile("day that can be counted from the first load of supply "+supply, "the supplier", finding.Where{}).Text
	}
	return day.AddDate(0, 0, -t.Change.Value).Format("2006-01-02")
}

// massText is a mass in the job's system.
func (b *build) massText(m measure.Mass) string {
	f := measure.Format{}
	if b.imperial() {
		f.System = measure.Imperial
	}
	return f.Mass(m)
}

// areaText is an area in the job's system, to a tenth.
func (b *build) areaText(a measure.Area) string {
	if b.imperial() {
		return strconv.FormatFloat(float64(a)/1e6/squareFoot, 'f', 1, 64) + " ft²"
	}
	return strconv.FormatFloat(float64(a)/1e6, 'f', 1, 64) + " m²"
}

const squareFoot = 0.3048 * 0.3048 // m², exact (NIST SP 811)

// legAtName is a leg of the network by its id; -1: there is none.
func (b *build) legAtName(id string) int {
	if i, ok := b.legAt[id]; ok && i < len(b.net.Legs) {
		return i
	}
	return -1
}
