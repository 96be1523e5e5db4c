package screen

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/place/route"
)

// Curve is an arc of a leg with a stated radius, as a hand drags it: on it, or where it begins and ends. How far each of the three
// lies from the corner goes with the radius; it is told of one of reach, so that it does not suffer from being written short.
type Curve struct {
	Key    string     `json:"key"`      // curve/F/1
	Name   string     `json:"name"`     // curve 1 of leg F
	Label  string     `json:"label"`    // its radius, as texts have it
	Path   string     `json:"path"`     // of the radius in the job
	Radius float64    `json:"radius_m"` // on the ground
	Corner [2]float64 `json:"corner_m"`
	Begin  [2]float64 `json:"begin_m"`  // from the corner to where it would begin with a radius of 1,000 km
	Middle [2]float64 `json:"middle_m"` // likewise to its middle
	End    [2]float64 `json:"end_m"`    // and to its end
	Strip  [3]float64 `json:"strip"`    // where it begins, its middle, its end
	Hand   string     `json:"hand"`     // left or right: which way it turns
	Turn   float64    `json:"turn_deg"`
}

const reach = 1e6 // m: of the radius that a curve's three places are told for

// curves are those of a leg.
func (d *draft) curves(leg int) []Curve {
	out := []Curve{}
	name := d.plan.Legs[leg].Name
	via := d.asked[name].Via
	if len(via) == 0 {
		return out
	}
	corners := d.cornersOf(leg)
	scale := d.gridScale(leg)
	at := 0.0 // chainage of the corner before, on the ground, less what its curve cuts off
	for k, v := range via {
		in, on := corners[k+1].Minus(corners[k]), corners[k+2].Minus(corners[k+1])
		at += in.Length() / scale
		turn := math.Abs(math.Atan2(float64(in.E*on.N)-float64(in.N*on.E), float64(in.E*on.E)+float64(in.N*on.N)))
		if v.Radius <= 0 || turn < leastTurn || turn > math.Pi-leastTurn {
			continue
		}
		hand := "right"
		if float64(in.E*on.N) > float64(in.N*on.E) {
			hand = "left"
		}
		radius := v.Radius.Metres()
		in, on = in.Unit(), on.Unit()
		inward := route.Vector{E: on.E - in.E, N: on.N - in.N}.Unit()
		touch, arc := math.Tan(turn/2), radius*turn
		begins := d.begins[leg] + (at-float64(touch*radius))*1000
		c := Curve{Key: "curve/" + name + "/" + strconv.Itoa(k+1), Name: fmt.Sprintf("curve %d of leg %s", k+1, name), Label: "R " + d.far(measure.MM(v.Radius)),
			Path: "route.legs[" + name + "].via[" + strconv.Itoa(k) + "].radius", Radius: radius, Corner: pair(corners[k+1]), Hand: hand, Turn: turn * 180 / math.Pi,
			Begin: way(in.Times(-touch * scale * reach)), Middle: way(inward.Times((1/math.Cos(turn/2) - 1) * scale * reach)), End: way(on.Times(touch * scale * reach)),
			Strip: [3]float64{begins, begins + arc*500, begins + arc*1000}}
		out = append(out, c)
		at += arc - 2*float64(touch*radius)
	}
	return out
}

// leastTurn is the turn in radians that a curve has at least: less is a straight.
const leastTurn = 1e-6

// cornersOf are the corners of a leg from node to node, in plan.
func (d *draft) cornersOf(leg int) []route.Point {
	at := map[string][2]float64{}
	for _, n := range d.plan.Nodes {
		at[n.ID] = n.At
	}
	l := &d.plan.Legs[leg]
	out := []route.Point{point(at[l.From])}
	for _, v := range d.asked[l.Name].Via {
		out = append(out, route.Point{E: float64(v.At[0]*d.metres) - d.plan.Job.Origin[0], N: float64(v.At[1]*d.metres) - d.plan.Job.Origin[1]})
	}
	return append(out, point(at[l.To]))
}

// gridScale is how many metres of the plan a metre on the ground is along a leg.
func (d *draft) gridScale(leg int) float64 {
	var grid, ground float64
	for _, part := range d.plan.Legs[leg].Axis {
		if part.Radius == 0 {
			grid, ground = grid+point(part.Start).Distance(point(part.End)), ground+(mm(part.ToChainage)-mm(part.FromChainage))/1000
		}
	}
	if ground < 0.1 {
		return 1
	}
	return grid / ground
}

func pair(p route.Point) [2]float64 { return [2]float64{p.E, p.N} }
func way(v route.Vector) [2]float64 { return [2]float64{v.E, v.N} }

// forCurve is the card of a curve: its radius is typed there.
func (m *maker) forCurve(id string) bool {
	name, number, _ := strings.Cut(id, "/")
	leg, ok := m.legs[name]
	k, err := strconv.Atoi(number)
	via := m.asked[name].Via
	if !ok || err != nil || k < 1 || k > len(via) {
		return false
	}
	v := via[k-1]
	m.card.Title, m.card.Lead = fmt.Sprintf("Curve %d of leg %s", k, name), "radius "+m.far(measure.MM(v.Radius))+" on the axis"
	for _, c := range m.curves(leg) {
		if c.Key != m.card.Key {
			continue
		}
		at := func(x float64) measure.MM { return measure.MM(measure.FromMillimetres(x - m.begins[leg])) }
		m.card.Strip = [2]float64{c.Strip[0], c.Strip[2]}
		m.group("where it is")
		m.linked("on leg", name, "leg/"+name)
		m.row("begins at", m.chainage(at(c.Strip[0])), "")
		m.row("ends at", m.chainage(at(c.Strip[2])), "")
		m.group("the curve")
		m.distance("along it", at(c.Strip[2])-at(c.Strip[0]))
		m.row("turns", degrees(c.Turn)+" to the "+c.Hand, "")
	}
	m.card.Fields = m.fields(&v, "route.legs["+name+"].via["+strconv.Itoa(k-1)+"]", "")
	first, last := "", ""
	for u := m.first[leg]; u < m.first[leg+1]; u++ {
		if a, b := m.ends(u); a <= m.card.Strip[1] && b >= m.card.Strip[0] {
			first, last = orID(first, m.plan.Units[u].Mark), m.plan.Units[u].Mark
		}
	}
	if first != "" {
		m.group("what lies in it")
		m.linked("first "+m.speech.Word(wording.Unit), first, "unit/"+first)
		m.linked("last "+m.speech.Word(wording.Unit), last, "unit/"+last)
	}
	return true
}
