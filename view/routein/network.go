package routein

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/route"
	"trenchwright/view/landxml"
)

// drawn is one line of a file that becomes part of the run.
type drawn struct {
	name     string
	line     route.Line
	profiles []landxml.Profile
}

// mesh is several lines on their way to one network: ends that lie in one place are one node.
type mesh struct {
	in     route.Input
	levels map[string]measure.Length // of nodes
	legs   map[string]bool           // names that are taken
	cells  map[[2]int64][]int        // nodes by the square of a centimetre that they lie in
	off    measure.Length
}

// together joins lines to one network. Several lines keep their names as the names of their legs, where a leg can be
// called so.
func together(lines []drawn, w Want) (mesh, finding.List) {
	m := mesh{levels: map[string]measure.Length{}, legs: map[string]bool{}, cells: map[[2]int64][]int{}}
	var faults finding.List
	for _, d := range lines {
		in, off, err := route.Declare(d.line, "N", route.Smooth)
		if err != nil {
			faults = append(faults, fault(w, "line", fmt.Sprintf("%q cannot be laid out: %v", d.name, err), "another export of it")...)
			continue
		}
		m.off = max(m.off, off)
		name := ""
		if len(lines) > 1 {
			name = d.name
		}
		m.add(in, d, name)
	}
	return m, faults
}

// add takes one line as it was declared, with the levels of its first profile.
func (m *mesh) add(in route.Input, d drawn, name string) {
	at := map[string]string{} // the node's name in the mesh
	for _, n := range in.Nodes {
		at[n.ID] = m.node(n.At)
	}
	ch := measure.Length(0)
	for i, part := range d.line.Split(route.Smooth) {
		l := in.Legs[i]
		leg := route.LegInput{ID: m.leg(name), From: at[l.From], To: at[l.To], Via: l.Via}
		m.in.Legs = append(m.in.Legs, leg)
		m.level(leg.From, d, ch)
		ch += part.Length()
		m.level(leg.To, d, ch)
		name = ""
	}
}

// fitsLeg says whether a leg can have a name: at most eight letters, figures and hyphens, with no hyphen at an end.
func fitsLeg(name string) bool {
	const signs = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-"
	return name != "" && len(name) <= 8 && strings.Trim(name, signs) == "" && strings.Trim(name, "-") == name
}

func (m *mesh) leg(name string) string {
	if !fitsLeg(name) || m.legs[name] {
		i := len(m.in.Legs)
		for name = route.LegName(i); m.legs[name]; name = route.LegName(i) {
			i++
		}
	}
	m.legs[name] = true
	return name
}

func (m *mesh) level(node string, d drawn, ch measure.Length) {
	if _, ok := m.levels[node]; ok || len(d.profiles) == 0 {
		return
	}
	if z, ok := d.profiles[0].Level(ch); ok {
		m.levels[node] = z
	}
}

// node is the node at a place, a new one where there is none within a millimetre.
func (m *mesh) node(at route.Point) string {
	const cell = 0.01
	x, y := int64(math.Floor(at.E/cell)), int64(math.Floor(at.N/cell))
	for dx := x - 1; dx <= x+1; dx++ {
		for dy := y - 1; dy <= y+1; dy++ {
			for _, i := range m.cells[[2]int64{dx, dy}] {
				if m.in.Nodes[i].At.Distance(at) <= measure.Millimetre.Metres() {
					return m.in.Nodes[i].ID
				}
			}
		}
	}
	id := fmt.Sprintf("N%d", len(m.in.Nodes)+1)
	m.cells[[2]int64{x, y}] = append(m.cells[[2]int64{x, y}], len(m.in.Nodes))
	m.in.Nodes = append(m.in.Nodes, route.NodeInput{ID: id, At: at})
	return id
}

// route writes the network as the route of a job.
func (m *mesh) route(origin route.Origin, s scale) job.Route {
	out := routeOf(m.in, origin, s)
	for i := range out.Nodes {
		if z, ok := m.levels[out.Nodes[i].ID]; ok {
			out.Nodes[i].Level = s.level(z)
		}
	}
	return out
}
