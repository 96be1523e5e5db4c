package ground

import (
	"cmp"
	"math"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/place/ground/exact"
)

// meeting is where one leg of a breakline would cross an edge that another one holds.
type meeting struct {
	line, leg int // the leg ends in the line's vertex of that number
	other     [2]int32
}

// spot is a new vertex on one leg of a line.
type spot struct {
	line, leg int
	vertex    int32
	along     float64
}

// part gives both lines of each meeting a vertex where they cross, with the level of the line that was given first.
func (d *draft) part(meetings []meeting) {
	var spots []spot
	for _, m := range meetings {
		holder, leg := d.holder(m.other)
		a, b := d.leg(holder, leg)
		e, f := d.leg(m.line, m.leg)
		along, level1 := onLeg(a, b, e, f)
		other, level2 := onLeg(e, f, a, b)
		v := vertex{exact.XY{X: a.X + int64(math.Round(float64(along*float64(b.X-a.X)))), Y: a.Y + int64(math.Round(float64(along*float64(b.Y-a.Y))))}, level1}
		n := int32(len(d.vertices))
		d.vertices = append(d.vertices, v)
		spots = append(spots, spot{holder, leg, n, along}, spot{m.line, m.leg, n, other})
		d.tellCrossing(holder, m.line, v, level1, level2)
	}
	slices.SortStableFunc(spots, func(a, b spot) int {
		return cmp.Or(cmp.Compare(a.line, b.line), cmp.Compare(a.leg, b.leg), cmp.Compare(a.along, b.along))
	})
	for len(spots) > 0 {
		n := 1
		for n < len(spots) && spots[n].line == spots[0].line {
			n++
		}
		d.thread(&d.chains[spots[0].line], spots[:n])
		spots = spots[n:]
	}
}

// thread puts new vertices of one line between its others.
func (d *draft) thread(c *chain, spots []spot) {
	old := c.through
	c.through = make([]int32, 0, len(old)+len(spots))
	for k, v := range old {
		for len(spots) > 0 && spots[0].leg == k {
			c.through = append(c.through, spots[0].vertex)
			spots = spots[1:]
		}
		c.through = append(c.through, v)
	}
}

// leg is where a leg of a line begins and ends.
func (d *draft) leg(line, leg int) (a, b vertex) {
	t := d.chains[line].through
	return d.vertices[t[leg-1]], d.vertices[t[leg]]
}

// held is an edge that lies on a leg of a line, its ends in ascending order.
type held struct {
	ends      [2]int32
	line, leg int32
}

// hold notes that an edge lies on a leg.
func (d *draft) hold(a, b int32, line, leg int) {
	d.edges = append(d.edges, held{[2]int32{min(a, b), max(a, b)}, int32(line), int32(leg)})
}

// sortEdges sorts what is held so that holder finds it; of several legs on one edge the first comes first.
func (d *draft) sortEdges() {
	slices.SortStableFunc(d.edges, func(a, b held) int { return compareEnds(a.ends, b.ends) })
}

func compareEnds(a, b [2]int32) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) }

// holder is the first leg that an edge lies on.
func (d *draft) holder(edge [2]int32) (line, leg int) {
	ends := [2]int32{min(edge[0], edge[1]), max(edge[0], edge[1])}
	i, ok := slices.BinarySearchFunc(d.edges, ends, func(h held, e [2]int32) int { return compareEnds(h.ends, e) })
	if !ok {
		panic("ground: a fixed edge on no breakline")
	}
	return int(d.edges[i].line), int(d.edges[i].leg)
}

// onLeg is how far along the leg from a to b, as a share of it, the line through e and f crosses it, and its level there.
func onLeg(a, b, e, f vertex) (along float64, z int64) {
	before, behind := exact.Cross(e.XY, f.XY, a.XY).Float(), exact.Cross(e.XY, f.XY, b.XY).Float()
	along = before / (before - behind)
	return along, a.Z + int64(math.Round(float64(along*float64(b.Z-a.Z))))
}

// tellCrossing tells of a crossing once.
func (d *draft) tellCrossing(first, second int, v vertex, level1, level2 int64) {
	key := meeting{line: first, leg: second, other: [2]int32{int32(v.X / 1000), int32(v.Y / 1000)}} // µm apart is the same
	if d.seen[key] {
		return
	}
	d.seen[key] = true
	text := d.say("breaklines %q and %q cross at %s, where their levels are %s and %s; the first holds", d.chains[first].name, d.chains[second].name, d.at(v), level(level1), level(level2))
	if first == second {
		text = d.say("breakline %q crosses itself at %s, at levels %s and %s; the first holds", d.chains[first].name, d.at(v), level(level1), level(level2))
	}
	d.add(finding.Finding{ID: "ground.lines-cross", Kind: finding.Attention, Text: text,
		Rule: "where breaklines cross, both get a point there with the level of the one given first",
		Try:  "give both lines a point there, or part them"}, d.whole())
}

// refuse tells of what still crosses.
func (d *draft) refuse(meetings []meeting) {
	for _, m := range meetings {
		holder, _ := d.holder(m.other)
		d.add(finding.Finding{ID: "ground.line-refused", Kind: finding.Fault,
			Text: d.say("a piece of breakline %q is left out near %s: it crosses breakline %q so often within a few nanometres that it cannot be parted", d.chains[m.line].name, d.at(d.vertices[m.other[0]]), d.chains[holder].name),
			Try:  "give both lines a point where they cross"}, d.whole())
	}
}
