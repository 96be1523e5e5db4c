package planner

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/place/route"
)

// zone is a stretch of a leg's axis that asks something of what is laid there.
type zone struct {
	from, to measure.Length // on the axis; open
	why      string
	thing    string // what it is a part of, where that is more
	kind, id string
	noJoint  bool
	noCut    bool // no cut unit or cover may lie in it
	supply   int  // index of the supply that must lie under it; -1: none
}

// named is the thing that a zone belongs to.
func (z zone) named() string { return cmp.Or(z.thing, z.why) }

// zones gathers everything along one leg: crossings, entries, services, supports, sawn branches and zones of any kind.
func (b *build) zones(leg int) []zone {
	l, a := b.leg(leg), &b.axes[leg]
	var out []zone
	for _, c := range l.Crossings {
		out = append(out, b.crossing(leg, c)...)
	}
	where := map[string]string{"left": "on the left", "right": "on the right", "floor": "in the floor"}
	for _, e := range l.Entries {
		half := e.Diameter/2 + e.Clear
		out = append(out, around(a, e.At, half, "conduit "+e.ID+" "+where[e.Side], "entry", e.ID))
	}
	for _, s := range l.Services {
		out = append(out, b.service(leg, s))
	}
	for _, s := range l.Supports {
		out = append(out, supports(a, s)...)
	}
	for _, z := range l.Zones {
		out = append(out, zone{from: a.on(z.From), to: a.on(z.To), why: z.Why, kind: "zone", id: z.ID, noJoint: true, supply: -1})
	}
	out = append(out, b.sawnZones(leg)...)
	out = b.within(leg, out)
	sorting.By(out, func(x, y zone) int {
		return cmp.Or(cmp.Compare(x.from, y.from), cmp.Compare(x.to, y.to), cmp.Compare(x.id, y.id))
	})
	return out
}

// around is a zone of half a width on either side of a chainage.
func around(a *axis, chainage, half measure.Length, why, kind, id string) zone {
	return zone{from: a.on(chainage - half), to: a.on(chainage + half), why: why, kind: kind, id: id, noJoint: true, supply: -1}
}

// crossing is a forced supply, strips where no joint may stand, and no cut pieces unless the supplier says that these
// keep the rating. Without strips its whole width is free of joints.
func (b *build) crossing(leg int, c job.Crossing) []zone {
	a, name := &b.axes[leg], c.Name
	if name == "" {
		name = "crossing " + c.ID
	}
	skew := c.Skew
	if skew == 0 {
		skew = 90 * measure.Degree
	}
	width := b.legSupply(leg).width
	free, err := route.JointFree(c.Path, c.Margin, width, skew)
	if err != nil {
		b.refused("planner.crossing", "crossings."+c.ID, err)
		return nil
	}
	whole := zone{from: a.on(c.At - free/2), to: a.on(c.At + free/2), why: name, kind: "crossing", id: c.ID, noJoint: true, noCut: !c.MayCut, supply: -1}
	var out []zone
	if len(c.Strips) > 0 {
		whole.noJoint = false
		for i, s := range c.Strips {
			if s.Detail != "" {
				b.add(finding.Finding{ID: "planner.detailed-strip", Kind: finding.Note,
					Text:  b.tell("%s: joints are allowed from %s %s its middle to %s %s it", name, s.From.Abs(), side(s.From), s.To.Abs(), side(s.To)),
					Where: at(b.leg(leg).ID, c.At), Rule: "the joint detail of " + b.docText(s.Detail)})
				continue
			}
			out = append(out, zone{from: a.on(c.At + s.From), to: a.on(c.At + s.To), why: fmt.Sprintf("%s, strip %d", name, i+1), thing: name, kind: "crossing", id: c.ID, noJoint: true, supply: -1})
		}
	}
	if whole.noJoint || whole.noCut {
		out = append(out, whole)
	}
	if c.Supply != "" {
		reach, err := route.JointFree(c.Path, c.Reach, width, skew)
		if err != nil {
			return out
		}
		out = append(out, zone{from: a.on(c.At - reach/2), to: a.on(c.At + reach/2), why: name + " asks for supply " + c.Supply, thing: name, kind: "crossing", id: c.ID, supply: b.supplyNamed(c.Supply).index})
	}
	return out
}

// refused says why a width across the run cannot be found.
func (b *build) refused(id, path string, err error) {
	var all route.Refusals
	if !errors.As(err, &all) {
		b.fault(id, path, err.Error(), "")
		return
	}
	for _, r := range all {
		r = r.In(b.speech())
		b.add(finding.Finding{ID: id, Kind: finding.Fault, Text: r.Text, Where: finding.Where{Path: path}, Limit: r.Limit, Value: r.Value, Try: cmp.Or(r.Try, "another width or skew")})
	}
}

// service is what a buried service keeps free of joints.
func (b *build) service(leg int, s job.Service) zone {
	free, err := route.JointFree(s.Width, s.Clear, b.legSupply(leg).width, crossed(s))
	if err != nil {
		b.refused("planner.service", "services."+s.ID, err)
		return zone{supply: -1}
	}
	return around(&b.axes[leg], s.At, free/2, s.Name+keptFree, "service", s.ID)
}

// keptFree is what a service with what it keeps free of joints is called by, behind its name.
const keptFree = " with its clearance"

// supports stand inside the units, one after another where a spacing is stated.
func supports(a *axis, s job.Support) []zone {
	var out []zone
	half := s.Width/2 + s.Clear
	for ch, n := s.At, 1; a.on(ch) < a.clear; ch, n = ch+s.Every, n+1 {
		if s.Every <= 0 && n > 1 {
			break
		}
		why := "support " + s.ID
		if s.Every > 0 {
			why = fmt.Sprintf("support %s, number %d", s.ID, n)
		}
		out = append(out, around(a, ch, half, why, "support", s.ID))
		if s.Every <= 0 {
			break
		}
	}
	return out
}

// sawnZones are the openings of branches that are sawn into this leg's wall.
func (b *build) sawnZones(leg int) []zone {
	var out []zone
	for _, n := range b.net.Nodes {
		if n.On == nil || n.On.Leg != leg {
			continue
		}
		s := b.node(n.ID).Sawn
		if s == nil {
			continue
		}
		z := around(&b.axes[leg], n.On.Chainage, s.Opening/2+s.Clear, "opening for the branch at "+n.ID, "tee", n.ID)
		z.noCut = true
		out = append(out, z)
	}
	return out
}

// within drops what lies off the leg and says so, once for each thing; a zone that reaches over the leg's end lies over a
// fitting or a bend.
func (b *build) within(leg int, zs []zone) []zone {
	a := &b.axes[leg]
	var out []zone
	var off, over strays
	for _, z := range zs {
		switch {
		case z.to <= z.from:
			continue
		case z.to <= 0 || z.from >= a.clear:
			off.add(z)
			continue
		case z.from < 0 && a.start.beside || z.to > a.clear && a.end.beside:
			over.add(z)
		}
		out = append(out, z)
	}
	for _, z := range off {
		if !slices.ContainsFunc(out, func(o zone) bool { return o.named() == z.named() }) {
			b.offLeg(leg, z)
		} else if !over.has(z) {
			over = append(over, z)
		}
	}
	for _, z := range over {
		b.overNode(leg, z)
	}
	return out
}

// strays are zones that do not lie on their leg, those of one thing as one.
type strays []zone

func (s *strays) add(z zone) {
	for i := range *s {
		if o := &(*s)[i]; o.named() == z.named() {
			o.from, o.to, o.noJoint = min(o.from, z.from), max(o.to, z.to), o.noJoint || z.noJoint
			return
		}
	}
	*s = append(*s, z)
}

func (s strays) has(z zone) bool {
	return slices.ContainsFunc(s, func(o zone) bool { return o.named() == z.named() })
}

func (b *build) offLeg(leg int, z zone) {
	a, id := &b.axes[leg], b.leg(leg).ID
	b.add(finding.Finding{ID: "planner.zone-off-leg", Kind: finding.Attention,
		Text:  b.tell("%s, from %s to %s: nothing of it is on leg %s, whose %s reach from 0 to %s", z.named(), z.from, z.to, id, wording.Units, a.clear),
		Where: at(id, a.chainage(z.from)), Try: b.tell("its %s on the leg that it is meant for", wording.Chainage)})
}

func (b *build) overNode(leg int, z zone) {
	a, id := &b.axes[leg], b.leg(leg).ID
	end, n := "start", b.net.Nodes[b.net.Legs[leg].From].ID
	if z.from >= 0 {
		end, n = "end", b.net.Nodes[b.net.Legs[leg].To].ID
	}
	so := "what lies beyond " + n + " is not seen to on this leg"
	if z.noJoint && z.from < a.clear && z.to > 0 {
		so = "the joint at " + n + " lies in it"
	}
	b.add(finding.Finding{ID: "planner.zone-over-node", Kind: finding.Attention,
		Text:  b.tell("%s, from %s to %s, reaches over the %s of leg %s: %s", z.named(), z.from, z.to, end, id, so),
		Where: at(id, a.chainage(z.from)), Limit: b.tell("from 0 to %s", a.clear), Value: b.tell("from %s to %s", z.from, z.to), Try: "move the node or what crosses here"})
}

// side tells on which side of a crossing's middle a strip begins or ends, along the leg.
func side(l measure.Length) string {
	if l < 0 {
		return "before"
	}
	return "after"
}
