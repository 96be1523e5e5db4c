package screen

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// Differ is what changed in a plan of a job against an earlier one, in the words of the job.
func Differ(was, now planner.Plan, j job.Job) Difference {
	return newDraft(now, j, nil, View{}).differ(was)
}

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
	alike := 0
	out.Places = slices.DeleteFunc(out.Places, func(c Change) bool {
		same := c.Was == c.Now && (c.Kind == "changed" || c.Kind == "moved")
		if same {
			alike++
		}
		return same
	})
	out.Same = len(out.Places)+alike == 0
	order := []string{"leg", "node", "unit", "cover", "bill", "finding", "note"}
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
	if alike > 0 {
		out.Said = append(out.Said, many(alike, "1 more differs", "%d more differ")+" by less than can be read here: left out")
	}
	return out
}

func (d *draft) manyOf(of string) string {
	switch of {
	case "unit":
		return d.words().Units
	case "bill":
		return "to buy"
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
			c.Kind, c.Now = "new", d.legSaid(&l)
			out.Places = append(out.Places, c)
			continue
		}
		o := before.plan.Legs[k]
		if l.Verdict != o.Verdict || l.ClearLength != o.ClearLength {
			c.Kind, c.Was, c.Now = "changed", d.legSaid(&o), d.legSaid(&l)
			out.Places = append(out.Places, c)
		}
	}
	for k, o := range before.plan.Legs {
		if _, ok := d.legs[o.Name]; !ok {
			out.Places = append(out.Places, Change{Kind: "gone", Of: "leg", Name: o.Name, Leg: -1, From: before.begins[k], To: before.begins[k] + mm(o.NodeLength), Was: d.legSaid(&o)})
		}
	}
}

// legSaid is what came of a leg, and over what length: laid out, 71922 mm between its ends.
func (d *draft) legSaid(l *planner.Leg) string {
	came := map[string]string{"found": "laid out", "undecided": "not laid out"}[l.Verdict]
	return joined(", ", cmp.Or(came, l.Verdict), d.exact(l.ClearLength)+" between its ends")
}

// unitSaid is everything by which a unit is told from another one of its place, but for where it lies.
func (d *draft) unitSaid(u *planner.Unit) string {
	cut := ""
	switch {
	case u.Hold:
		cut = "HOLD, cut from measurement"
	case u.Piece != nil && u.Piece.CutFrom != "":
		cut = "cut from " + u.Piece.CutFrom
	case u.Cut:
		cut = "cut"
	}
	return joined(", ", u.Supply, d.exact(u.Length), cut, sawn("start", u.StartAngle), sawn("end", u.EndAngle))
}

func sawn(end string, angle float64) string {
	if angle == 0 {
		return ""
	}
	return "its " + end + " sawn at " + degrees(angle)
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
			c.Kind, c.Was, c.Now = "moved", d.chainage(o.Chainage), d.chainage(u.Chainage)
			if c.Was != c.Now {
				c.Now += ", " + d.farther(o.Chainage, u.Chainage)
			}
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

// farther is how far one place is from another along a leg, in the whole millimetres in which both are read.
func (d *draft) farther(was, now measure.MM) string {
	by, way := measure.Length(now)-measure.Length(was), "further along"
	if !d.speech.Imperial {
		by = whole(now) - whole(was)
	}
	if by < 0 {
		way = "further back"
	}
	return d.size(measure.MM(by.Abs())) + " " + way
}

func whole(l measure.MM) measure.Length {
	return measure.Length(math.Round(mm(l))) * measure.Millimetre
}

func movedBy(a, b measure.MM) bool {
	return mm(a)-mm(b) > movedLeast || mm(b)-mm(a) > movedLeast
}

func (d *draft) differCovers(before *draft, out *Difference) {
	said := func(c *planner.Cover) string {
		text := d.exact(c.Length)
		if c.Cut {
			text += ", " + strings.TrimSuffix("cut from "+c.CutFrom, " from ")
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
	said := func(d *draft, n Node) string {
		_, text, _ := strings.Cut(d.nodeLabel(n), " ")
		return text
	}
	was := map[string]Node{}
	for _, n := range before.nodes() {
		was[n.ID] = n
	}
	at := func(d *draft, n Node) (e, f float64) {
		return n.At[0] + d.plan.Job.Origin[0], n.At[1] + d.plan.Job.Origin[1]
	}
	for _, n := range d.nodes() {
		c := Change{Of: "node", Key: n.Key, Name: n.ID, Leg: -1, Now: said(d, n)}
		if len(n.Strip) > 0 {
			c.From, c.To = n.Strip[0], n.Strip[0]
		}
		if len(n.Legs) > 0 {
			c.Leg = n.Legs[0]
		}
		o, ok := was[n.ID]
		delete(was, n.ID)
		e, f := at(d, n)
		g, h := at(before, o)
		switch {
		case !ok:
			c.Kind = "new"
		case said(d, o) != c.Now:
			c.Kind, c.Was = "changed", said(d, o)
		case float64((e-g)*(e-g))+float64((f-h)*(f-h)) > 1e-6:
			c.Kind, c.Was, c.Now = "moved", before.coordinates(o.At[0], o.At[1]), d.coordinates(n.At[0], n.At[1])
		default:
			continue
		}
		out.Places = append(out.Places, c)
	}
	for _, o := range before.nodes() {
		if _, gone := was[o.ID]; gone {
			out.Places = append(out.Places, Change{Kind: "gone", Of: "node", Name: o.ID, Leg: -1, Was: said(d, o)})
		}
	}
}

// ordered is how much of a line of the bill is bought: 131 pieces.
func ordered(b planner.BillLine) string {
	if b.Unit == "piece" && b.Order != "1" {
		return b.Order + " pieces"
	}
	return b.Order + " " + b.Unit
}

func (d *draft) differBill(before *draft, out *Difference) {
	was := map[string]planner.BillLine{}
	for _, b := range before.plan.Bill {
		was[b.Supply+"/"+b.Item] = b
	}
	for _, b := range d.plan.Bill {
		o, ok := was[b.Supply+"/"+b.Item]
		delete(was, b.Supply+"/"+b.Item)
		c := Change{Of: "bill", Name: b.Item, Leg: -1, Now: ordered(b)}
		switch {
		case !ok:
			c.Kind = "new"
		case o.Order != b.Order || o.Unit != b.Unit:
			c.Kind, c.Was = "changed", ordered(o)
		default:
			continue
		}
		out.Places = append(out.Places, c)
	}
	for _, b := range before.plan.Bill {
		if _, gone := was[b.Supply+"/"+b.Item]; gone {
			out.Places = append(out.Places, Change{Kind: "gone", Of: "bill", Name: b.Item, Leg: -1, Was: ordered(b)})
		}
	}
}
