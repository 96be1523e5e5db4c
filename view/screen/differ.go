package screen

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// differ is what changed in this plan against an earlier one, place by place. A place is known by its name.
func (d *draft) differ(was planner.Plan) Difference {
	out := Difference{Said: []string{}, Places: []Change{}}
	before := newDraft(was, job.Job{Coordinates: d.job.Coordinates}, nil, d.view)
	d.differLegs(before, &out)
	d.differUnits(before, &out)
	d.differCovers(before, &out)
	d.differNodes(before, &out)
	d.differBill(before, &out)
	d.differFindings(before, &out)
	out.Same = len(out.Places) == 0
	order := []string{"leg", "node", "unit", "cover", "bill", "finding"}
	for _, of := range order {
		n := map[string]int{}
		for _, c := range out.Places {
			if c.Of == of {
				n[c.Kind]++
			}
		}
		var parts []string
		for _, kind := range []string{"new", "gone", "changed", "moved"} {
			if n[kind] > 0 {
				parts = append(parts, fmt.Sprintf("%d %s", n[kind], kind))
			}
		}
		if len(parts) > 0 {
			out.Said = append(out.Said, d.manyOf(of)+": "+strings.Join(parts, ", "))
		}
	}
	return out
}

func (d *draft) manyOf(of string) string {
	switch of {
	case "unit":
		return d.words().Units
	case "bill":
		return "lines of the bill"
	}
	return of + "s"
}

// movedLeast is how far something has to lie from where it was to be called moved: less nobody could tell on site.
const movedLeast = 1.0 // mm

func (d *draft) differLegs(before *draft, out *Difference) {
	for i, l := range d.plan.Legs {
		c := Change{Of: "leg", Key: "leg/" + l.Name, Name: l.Name, Leg: d.rank[i], From: d.begins[i], To: d.begins[i] + mm(l.NodeLength)}
		k, ok := before.legs[l.Name]
		if !ok {
			c.Kind, c.Now = "new", d.far(l.NodeLength)
			out.Places = append(out.Places, c)
			continue
		}
		o := before.plan.Legs[k]
		now, old := joined(", ", l.Verdict, d.exact(l.ClearLength)), joined(", ", o.Verdict, d.exact(o.ClearLength))
		if now != old || l.ClearLength != o.ClearLength {
			c.Kind, c.Was, c.Now = "changed", old, now
			out.Places = append(out.Places, c)
		}
	}
	for k, o := range before.plan.Legs {
		if _, ok := d.legs[o.Name]; !ok {
			out.Places = append(out.Places, Change{Kind: "gone", Of: "leg", Name: o.Name, Leg: -1, From: before.begins[k], To: before.begins[k] + mm(o.NodeLength), Was: before.far(o.NodeLength)})
		}
	}
}

// unitSaid is everything by which a unit is told from another one of its place, but for where it lies.
func (d *draft) unitSaid(u *planner.Unit) string {
	text := u.Supply + ", " + d.exact(u.Length)
	if u.Hold {
		text += ", HOLD"
	} else if u.Cut {
		text += ", cut"
	}
	if u.StartAngle != 0 || u.EndAngle != 0 {
		text += ", " + degrees(u.StartAngle) + " and " + degrees(u.EndAngle)
	}
	if p := u.Piece; p != nil && p.CutFrom != "" {
		text += ", from " + p.CutFrom
	}
	return text
}

// legOf is the number of a unit's leg on the screen.
func (d *draft) legOf(u *planner.Unit) int { return d.rank[d.legs[u.Leg]] }

func (d *draft) differUnits(before *draft, out *Difference) {
	for _, i := range d.drawn {
		u := &d.plan.Units[i]
		from, to := d.ends(i)
		c := Change{Of: "unit", Key: "unit/" + u.Mark, Name: u.Mark, Leg: d.legOf(u), From: from, To: to, Now: d.unitSaid(u)}
		k, ok := before.unitAt[u.Mark]
		if !ok {
			c.Kind = "new"
			out.Places = append(out.Places, c)
			continue
		}
		o := &before.plan.Units[k]
		switch c.Was = d.unitSaid(o); {
		case c.Was != c.Now || o.Length != u.Length:
			c.Kind = "changed"
		case movedBy(u.Chainage, o.Chainage):
			by := measure.Length(u.Chainage - o.Chainage)
			way := " further along"
			if by < 0 {
				way = " further back"
			}
			c.Kind, c.Was, c.Now = "moved", d.chainage(o.Chainage), d.chainage(u.Chainage)+", "+d.speech.Length(by.Abs())+way
		default:
			continue
		}
		out.Places = append(out.Places, c)
	}
	for _, k := range before.drawn {
		o := &before.plan.Units[k]
		if _, ok := d.unitAt[o.Mark]; !ok {
			from, to := before.ends(k)
			out.Places = append(out.Places, Change{Kind: "gone", Of: "unit", Name: o.Mark, Leg: -1, From: from, To: to, Was: d.unitSaid(o)})
		}
	}
}

func movedBy(a, b measure.MM) bool {
	return mm(a)-mm(b) > movedLeast || mm(b)-mm(a) > movedLeast
}

func (d *draft) differCovers(before *draft, out *Difference) {
	said := func(c *planner.Cover) string {
		text := d.exact(c.Length)
		if c.Cut {
			text = joined(", ", text+", cut", c.CutFrom)
		}
		return text
	}
	had := map[string]*planner.Cover{}
	for k := range before.plan.Covers {
		had[before.plan.Covers[k].Mark] = &before.plan.Covers[k]
	}
	for k := range d.plan.Covers {
		c := &d.plan.Covers[k]
		o := had[c.Mark]
		delete(had, c.Mark)
		i, ok := d.unitAt[c.Unit]
		if !ok {
			continue
		}
		from, _ := d.ends(i)
		at := from + float64(mm(c.Start)*d.scales[i])
		x := Change{Of: "cover", Key: "cover/" + c.Mark, Name: c.Mark, Leg: d.legOf(&d.plan.Units[i]), From: at, To: at + float64(mm(c.Length)*d.scales[i]), Now: said(c)}
		switch {
		case o == nil:
			x.Kind = "new"
		case said(o) != x.Now || o.Length != c.Length:
			x.Kind, x.Was = "changed", said(o)
		default:
			continue
		}
		out.Places = append(out.Places, x)
	}
	for k := range before.plan.Covers {
		if o := &before.plan.Covers[k]; had[o.Mark] == o {
			out.Places = append(out.Places, Change{Kind: "gone", Of: "cover", Name: o.Mark, Leg: -1, Was: said(o)})
		}
	}
}

func (d *draft) differNodes(before *draft, out *Difference) {
	said := func(n planner.Node) string {
		return joined(", ", n.Kind, n.Made, degrees(n.Deflection))
	}
	was := map[string]planner.Node{}
	for _, n := range before.plan.Nodes {
		was[n.ID] = n
	}
	strip := map[string]Node{}
	for _, n := range d.nodes() {
		strip[n.ID] = n
	}
	at := func(d *draft, n planner.Node) (e, f float64) {
		return n.At[0] + d.plan.Job.Origin[0], n.At[1] + d.plan.Job.Origin[1]
	}
	for _, n := range d.plan.Nodes {
		s := strip[n.ID]
		c := Change{Of: "node", Key: s.Key, Name: n.ID, Leg: -1, Now: said(n)}
		if len(s.Strip) > 0 {
			c.From, c.To = s.Strip[0], s.Strip[0]
		}
		if len(s.Legs) > 0 {
			c.Leg = s.Legs[0]
		}
		o, ok := was[n.ID]
		delete(was, n.ID)
		e, f := at(d, n)
		g, h := at(before, o)
		switch {
		case !ok:
			c.Kind = "new"
		case said(o) != c.Now:
			c.Kind, c.Was = "changed", said(o)
		case float64((e-g)*(e-g))+float64((f-h)*(f-h)) > 1e-6:
			c.Kind, c.Was, c.Now = "moved", before.coordinates(o.At[0], o.At[1]), d.coordinates(n.At[0], n.At[1])
		default:
			continue
		}
		out.Places = append(out.Places, c)
	}
	for _, o := range before.plan.Nodes {
		if _, gone := was[o.ID]; gone {
			out.Places = append(out.Places, Change{Kind: "gone", Of: "node", Name: o.ID, Leg: -1, Was: said(o)})
		}
	}
}

func (d *draft) differBill(before *draft, out *Difference) {
	was := map[string]planner.BillLine{}
	for _, b := range before.plan.Bill {
		was[b.Supply+"/"+b.Item] = b
	}
	for _, b := range d.plan.Bill {
		o, ok := was[b.Supply+"/"+b.Item]
		delete(was, b.Supply+"/"+b.Item)
		c := Change{Of: "bill", Name: b.Item, Leg: -1, Now: b.Order + " " + b.Unit}
		switch {
		case !ok:
			c.Kind = "new"
		case o.Order != b.Order || o.Unit != b.Unit:
			c.Kind, c.Was = "changed", o.Order+" "+o.Unit
		default:
			continue
		}
		out.Places = append(out.Places, c)
	}
	for _, b := range before.plan.Bill {
		if _, gone := was[b.Supply+"/"+b.Item]; gone {
			out.Places = append(out.Places, Change{Kind: "gone", Of: "bill", Name: b.Item, Leg: -1, Was: b.Order + " " + b.Unit})
		}
	}
}

func (d *draft) differFindings(before *draft, out *Difference) {
	key := func(f Finding) string { return f.ID + "\n" + f.Text }
	was := map[string]int{}
	for _, f := range before.findings() {
		was[key(f)]++
	}
	for _, f := range d.findings() {
		if was[key(f)]--; was[key(f)] >= 0 {
			continue
		}
		c := Change{Kind: "new", Of: "finding", Key: "finding/" + f.Name, Name: f.Name, Leg: f.Leg, Now: f.Text}
		if f.At != nil {
			c.From, c.To = *f.At, *f.At
		}
		out.Places = append(out.Places, c)
	}
	now := map[string]int{}
	for _, f := range d.findings() {
		now[key(f)]++
	}
	for _, f := range before.findings() {
		if now[key(f)]--; now[key(f)] < 0 {
			out.Places = append(out.Places, Change{Kind: "gone", Of: "finding", Name: f.Name, Leg: -1, Was: f.Text})
		}
	}
}
