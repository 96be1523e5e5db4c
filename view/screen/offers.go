package screen

import (
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/edit"
	"trenchwright/job/planner"
)

// What would make an impossible leg possible is offered as edits, each of which was sketched and found possible: a thing on the
// leg moved no further than needed, taken out where moving does not help, or an end of the leg moved along it. What only the
// supplier could allow stands among the leg's own words.

// Offers are looked for within these limits.
const (
	mostQuestions = 300 // of one leg for all offers together
	mostOffers    = 5
)

// shifts are how far things are moved, in millimetres, the least first.
var shifts = [...]float64{20, 50, 100, 200, 300, 450, 600, 800, 1000, 1300, 1600, 2000}

// offering looks for edits that make one leg possible.
type offering struct {
	*draft
	leg    string
	sketch planner.Sketch
	left   int // questions that may still be asked
	out    []Try
}

// tries are the edits that make a leg possible.
func (d *draft) tries(leg string) []Try {
	o := &offering{draft: d, leg: leg, left: mostQuestions, out: []Try{}}
	o.sketch.Open(d.job)
	l := d.asked[leg]
	for _, c := range l.Crossings {
		o.thing("crossing", c.ID, c.At, d.crossingLabel(c))
	}
	for _, v := range l.Services {
		o.thing("service", v.ID, v.At, d.serviceLabel(v))
	}
	for _, e := range l.Entries {
		o.thing("entry", e.ID, e.At, d.entryLabel(e))
	}
	for _, s := range l.Supports {
		o.thing("support", s.ID, s.At, d.supportLabel(s, 1))
	}
	for _, z := range l.Zones {
		o.thing("zone", z.ID, z.From, joined(": ", "zone "+z.ID, z.Why))
	}
	for _, f := range l.Joints {
		o.thing("joint", f.ID, f.At, joined(": ", "joint asked for, "+f.ID, f.Why))
	}
	for _, node := range []string{l.To, l.From} {
		o.end(l, node)
	}
	return o.out
}

// possible tells whether the leg can be laid after an edit.
func (o *offering) possible(e edit.Edit) bool {
	if o.left--; o.left < 0 || len(o.out) >= mostOffers {
		return false
	}
	r := edit.Apply(o.job, []edit.Edit{e})
	if !r.Changed {
		return false
	}
	return o.sketch.Possible(r.Job)
}

// laid tells whether the leg is laid after an edit, to the last word.
func (o *offering) laid(e edit.Edit) bool {
	r := edit.Apply(o.job, []edit.Edit{e})
	p, _ := o.sketch.Lay(r.Job)
	ok := r.Changed && !p.Findings.Any(finding.Fault)
	for _, l := range p.Legs { // no other leg may pay for it
		ok = ok && l.Verdict != "impossible" && (l.Name != o.leg || l.Verdict == "found")
	}
	return ok
}

// offer keeps an edit with its words, once it was laid.
func (o *offering) offer(e edit.Edit, form string, args ...any) {
	if !o.laid(e) {
		return
	}
	o.out = append(o.out, Try{Said: o.speech.Say(form, args...), Edits: []edit.Edit{e}})
}

// nearest is the edit with the least shift, either way, that makes the leg possible.
func (o *offering) nearest(moved func(by float64) edit.Edit) (edit.Edit, float64, bool) {
	best, by := edit.Edit{}, 0.0
	for _, sign := range [2]float64{1, -1} {
		last := 0.0
		for _, s := range shifts {
			if by != 0 && s >= math.Abs(by) {
				break
			}
			e := moved(sign * s)
			if !o.possible(e) {
				last = s
				continue
			}
			for s-last > 10 { // as little as will do, to the centimetre
				mid := math.Round((s+last)/20) * 10
				if mid <= last || mid >= s {
					break
				}
				if m := moved(sign * mid); o.possible(m) {
					e, s = m, mid
				} else {
					last = mid
				}
			}
			best, by = e, sign*s
			break
		}
	}
	return best, by, by != 0
}

func (o *offering) thing(kind, id string, at measure.Length, label string) {
	e, by, ok := o.nearest(func(by float64) edit.Edit {
		return edit.Edit{Op: edit.Move, Kind: kind, Leg: o.leg, ID: id, AtMM: new(at.Millimetres() + by)}
	})
	way := "further along"
	if by < 0 {
		way = "further back"
	}
	if ok {
		o.offer(e, "%s %s by %s", label, way, measure.FromMillimetres(math.Abs(by)))
		return
	}
	if kind == "zone" && o.shorter(id) {
		return
	}
	if e := (edit.Edit{Op: edit.Remove, Kind: kind, Leg: o.leg, ID: id}); o.possible(e) {
		o.offer(e, "without %s", label)
	}
}

// shorter ends a zone earlier, or begins it later, by as little as will do, to the centimetre; false: neither helps.
func (o *offering) shorter(id string) bool {
	var z job.Zone
	for _, one := range o.asked[o.leg].Zones {
		if one.ID == id {
			z = one
		}
	}
	const step = 10 * measure.Millimetre
	try := func(field string, good, bad measure.Length) (edit.Edit, measure.Length, bool) {
		set := func(l measure.Length) edit.Edit {
			return edit.Edit{Op: edit.Set, Path: "route.legs[" + o.leg + "].zones[" + id + "]." + field, Text: l.String()}
		}
		if !o.possible(set(good)) {
			return edit.Edit{}, 0, false
		}
		for (bad - good).Abs() > step {
			mid := good + (bad-good)/2/step*step
			if mid == good {
				break
			}
			if o.possible(set(mid)) {
				good = mid
			} else {
				bad = mid
			}
		}
		return set(good), good, true
	}
	e, to, ok := try("to", z.From+step, z.To)
	f, from, also := try("from", z.To-step, z.From)
	switch {
	case ok && (!also || z.To-to <= from-z.From):
		o.offer(e, "zone %s ending at %s %s instead of %s", id, wording.Chainage, wording.Far(to), wording.Far(z.To))
	case also:
		o.offer(f, "zone %s beginning at %s %s instead of %s", id, wording.Chainage, wording.Far(from), wording.Far(z.From))
	}
	return ok || also
}

// end moves a node along the leg.
func (o *offering) end(l job.Leg, node string) {
	i, ok := o.legs[o.leg]
	if !ok || len(o.plan.Legs[i].Axis) == 0 {
		return
	}
	axis := o.plan.Legs[i].Axis
	part := axis[len(axis)-1]
	at, back := part.End, part.Start
	if node == l.From {
		at, back = axis[0].Start, axis[0].End
	}
	if part.Radius != 0 {
		return
	}
	way := point(at).Minus(point(back)).Unit()
	e, by, ok := o.nearest(func(by float64) edit.Edit {
		p := point(at).Plus(way.Times(by / 1000))
		return edit.Edit{Op: edit.MoveNode, Node: node, Place: &[2]float64{p.E, p.N}, Origin: o.plan.Job.Origin}
	})
	if !ok {
		return
	}
	longer := "longer"
	if by < 0 {
		longer = "shorter"
	}
	o.offer(e, "node %s moved so that leg %s is %s %s", node, o.leg, measure.FromMillimetres(math.Abs(by)), longer)
}
