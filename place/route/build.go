package route

import (
	"errors"
	"fmt"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// builder carries one Build: the input, the network as far as it is made, and everything found wrong.
type builder struct {
	in     Input
	smooth measure.Angle
	net    Network
	node   map[string]int // index by id
	leg    map[string]int
	list   finding.List
}

// Build makes the network of what people declare. All faults are found at once; with any fault among the findings the
// network is empty. Other findings (no scale factor on file, legs that cross without a node) leave it whole.
func Build(in Input) (Network, finding.List) {
	b := &builder{in: in, smooth: in.Smooth, node: map[string]int{}, leg: map[string]int{}}
	if b.smooth <= 0 {
		b.smooth = Smooth
	}
	b.scale()
	b.nodes()
	b.legs()
	b.unused()
	if b.sound() {
		b.toCentreline()
	}
	if b.sound() {
		b.scaleLines()
		b.meetings()
		b.branches()
		b.connected()
		b.crossings()
	}
	if f, missing := in.Scale.finding(b.net.Length(), in.Speech); missing && b.sound() {
		b.list = append(b.list, f)
	}
	if !b.sound() {
		return Network{}, b.list
	}
	return b.net, b.list
}

// sound tells whether no fault was found so far.
func (b *builder) sound() bool { return !b.list.Any(finding.Fault, finding.Impossible) }

func (b *builder) fault(id, path, leg, text string, args ...any) *finding.Finding {
	return b.find(finding.Fault, id, path, leg, text, args...)
}

func (b *builder) find(kind finding.Kind, id, path, leg, text string, args ...any) *finding.Finding {
	b.list = append(b.list, finding.Finding{
		ID: "route." + id, Kind: kind, Text: b.say(text, args...),
		Where: finding.Where{Path: "route." + path, Leg: leg},
	})
	return &b.list[len(b.list)-1]
}

// say words a sentence as the job has it.
func (b *builder) say(form string, args ...any) string { return phrase{form, args}.in(b.in.Speech) }

// refused turns the reasons of a line into findings; place says where vertex i of the line was declared. A leg is named with the
// node from which its points are counted.
func (b *builder) refused(err error, leg string, place func(vertex int) string) {
	var all Refusals
	if !errors.As(err, &all) {
		return
	}
	counted := ""
	if i := slices.IndexFunc(b.in.Legs, func(l LegInput) bool { return l.ID == leg }); i >= 0 {
		counted = fmt.Sprintf("leg %s, its points counted from %s: ", leg, b.in.Legs[i].From)
	}
	for _, r := range all {
		r = r.In(b.in.Speech)
		r.Text = counted + r.Text
		b.list = append(b.list, finding.Finding{
			ID: r.ID, Kind: finding.Fault, Text: r.Text, Limit: r.Limit, Value: r.Value, Try: r.Try,
			Where: finding.Where{Path: "route." + place(r.Vertex), Leg: leg},
		})
	}
}

func (b *builder) scale() {
	if !b.in.Scale.Stated {
		return
	}
	b.refused(checkFactor(b.in.Scale.Factor), "", func(int) string { return "scale" })
}

func (b *builder) nodes() {
	for i, n := range b.in.Nodes {
		path := fmt.Sprintf("nodes[%d]", i)
		if n.ID == "" {
			b.fault("no-id", path, "", "node %d has no id", i+1).Try = "an id that stays for good, such as N1"
		} else if first, twice := b.node[n.ID]; twice {
			b.fault("same-id", path, "", "node id %q is used twice: nodes %d and %d", n.ID, first+1, i+1)
		} else {
			b.node[n.ID] = i
		}
		if !n.At.Usable() {
			b.fault("bad-point", path, "", "node %q at (%v, %v) is not a place within %.0f km of the origin", n.ID, n.At.E, n.At.N, Reach/1000)
		}
		b.net.Nodes = append(b.net.Nodes, Node{ID: n.ID, At: n.At})
	}
}

func (b *builder) legs() {
	if len(b.in.Legs) == 0 {
		b.fault("no-legs", "legs", "", "the run has no legs").Try = "at least one leg between two nodes"
	}
	for i, l := range b.in.Legs {
		path := fmt.Sprintf("legs[%d]", i)
		if l.ID == "" {
			b.fault("no-id", path, "", "leg %d has no id", i+1).Try = "an id that stays for good, such as A"
		} else if first, twice := b.leg[l.ID]; twice {
			b.fault("same-id", path, l.ID, "leg id %q is used twice: legs %d and %d", l.ID, first+1, i+1)
		} else {
			b.leg[l.ID] = i
		}
		leg := Leg{ID: l.ID, From: b.end(l.From, path+".from", l.ID), To: b.end(l.To, path+".to", l.ID)}
		if leg.From >= 0 && leg.To >= 0 {
			if leg.From == leg.To {
				b.fault("leg-in-circle", path, l.ID, "leg %s begins and ends at node %s", l.ID, l.From).Try = "a node half way, and two legs"
			} else {
				leg.Line = b.drawnLine(l, leg, path)
			}
		}
		b.net.Legs = append(b.net.Legs, leg)
	}
}

func (b *builder) end(id, path, leg string) int {
	i, ok := b.node[id]
	if !ok {
		b.fault("no-such-node", path, leg, "leg %s names node %q, which is not declared", leg, id)
		return -1
	}
	return i
}

// drawnLine is the leg as it was drawn: from node to node through its vertices.
func (b *builder) drawnLine(l LegInput, leg Leg, path string) Line {
	from, to := b.net.Nodes[leg.From].At, b.net.Nodes[leg.To].At
	if !from.Usable() || !to.Usable() {
		return Line{} // said of the node
	}
	vertices := append([]Vertex{{At: from}}, l.Via...)
	vertices = append(vertices, Vertex{At: to})
	place := func(vertex int) string {
		if vertex < 1 || vertex > len(l.Via) {
			return path
		}
		return fmt.Sprintf("%s.via[%d]", path, vertex-1)
	}
	line, err := Polyline(vertices)
	if err != nil {
		b.refused(err, l.ID, place)
		return Line{}
	}
	for _, k := range line.Kinks(b.smooth) {
		v := nearestVertex(vertices, k.At)
		f := b.fault("leg-turns", place(v), l.ID, "leg %s turns %.3f° at point %d and has no radius there; a leg is laid through without a break",
			l.ID, absolute(k.Deflection).Degrees(), v)
		f.Limit, f.Value = fmt.Sprintf("%.3f°", b.smooth.Degrees()), fmt.Sprintf("%.3f°", absolute(k.Deflection).Degrees())
		f.Try = "a radius at that point, or a node there and a leg on either side of it"
	}
	return line
}

func nearestVertex(vertices []Vertex, at Point) int {
	best := 0
	for i, v := range vertices {
		if v.At.Distance(at) < vertices[best].At.Distance(at) {
			best = i
		}
	}
	return best
}

// unused finds nodes that no leg begins or ends at.
func (b *builder) unused() {
	used := map[string]bool{}
	for _, l := range b.in.Legs {
		used[l.From], used[l.To] = true, true
	}
	for i, n := range b.in.Nodes {
		if n.ID != "" && !used[n.ID] {
			b.fault("lonely-node", fmt.Sprintf("nodes[%d]", i), "", "no leg begins or ends at node %s", n.ID).Try = "a leg to it, or leave it out"
		}
	}
}

func (b *builder) scaleLines() {
	for i := range b.net.Legs {
		b.net.Legs[i].Line = newLine(b.net.Legs[i].Line.elements, b.in.Scale.factor())
	}
}
