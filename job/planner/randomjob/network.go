package randomjob

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// tip is an open end of the network: a node and the bearing of the leg that arrives there, in degrees.
type tip struct {
	node    int // index of the job's nodes
	bearing float64
	leg     string
}

// network grows one to six legs from a first node. Legs run out on open ground far apart, so that none crosses another
// by accident; where two do, that is for the route to say.
func (m *maker) network() {
	most := 1 + m.below(6)
	start := m.node(one(&m.dice, 0.0, 4000, 250000)+m.number(0, 100), one(&m.dice, 0.0, 7000, 610000)+m.number(0, 100))
	tips := []tip{m.leg(start, m.number(0, 360))}
	for len(m.job.Route.Legs) < most && len(tips) > 0 {
		k := m.below(len(tips))
		t := tips[k]
		tips = append(tips[:k], tips[k+1:]...)
		tips = append(tips, m.grow(t, most-len(m.job.Route.Legs))...)
	}
	for i := range m.job.Route.Nodes {
		m.end(i)
	}
	if m.percent(35) {
		m.sawnBranch()
	}
	m.levels()
	m.drawn()
}

// drawn says, on some chains, that another line than the centreline was drawn.
func (m *maker) drawn() {
	for _, n := range m.job.Route.Nodes {
		if n.Fitting != "" || n.Sawn != nil {
			return
		}
	}
	if !m.percent(30) {
		return
	}
	// Left and right are told along each leg: all of them have to run one way.
	order := map[string]int{}
	for i, n := range m.job.Route.Nodes {
		order[n.ID] = i
	}
	for i := range m.job.Route.Legs {
		if g := &m.job.Route.Legs[i]; order[g.From] > order[g.To] {
			g.From, g.To = g.To, g.From
		}
	}
	l := job.DrawnLine{Kind: one(&m.dice, "inner-face", "outer-face", "trench-edge", "offset"), Side: one(&m.dice, "left", "right")}
	switch l.Kind {
	case "trench-edge":
		l.Offset = 600 * measure.Millimetre
	case "offset":
		l.Offset, l.From = 900*measure.Millimetre, "kerb"
	}
	m.job.Coordinates.Line = l
}

// grow goes on from a tip: a mitred or cast bend, straight on with a joint, a tee or a cross.
func (m *maker) grow(t tip, left int) []tip {
	n := &m.job.Route.Nodes[t.node]
	side := one(&m.dice, -1.0, 1)
	switch x := m.below(100); {
	case x < 55:
		turn := one(&m.dice, 3, 7.5, 12.5, 22.5, 30, 34, 45, 60, 75, 90, m.number(1, 60))
		return []tip{m.leg(t.node, t.bearing+side*turn)}
	case x < 65:
		angle := one(&m.dice, "30", "45", "90")
		n.Fitting = "std-bend-" + angle
		return []tip{m.leg(t.node, t.bearing+side*map[string]float64{"30": 30, "45": 45, "90": 90}[angle])}
	case x < 70:
		return []tip{m.leg(t.node, t.bearing)}
	case x < 88 && left >= 2:
		n.Fitting = "std-tee"
		on, branch := m.leg(t.node, t.bearing), m.leg(t.node, t.bearing+side*90)
		m.job.Route.Nodes[t.node].Through = []string{t.leg, on.leg}
		return []tip{on, branch}
	case left >= 3:
		n.Fitting = "std-cross"
		on := m.leg(t.node, t.bearing)
		return []tip{on, m.leg(t.node, t.bearing+90), m.leg(t.node, t.bearing-90)}
	}
	return []tip{m.leg(t.node, t.bearing+side*15)}
}

// node adds a node; coordinates are given to the tenth of a millimetre.
func (m *maker) node(e, n float64) int {
	m.job.Route.Nodes = append(m.job.Route.Nodes, job.Node{ID: m.id("N"), At: m.at(e, n)})
	return len(m.job.Route.Nodes) - 1
}

// metres is the job's coordinate unit in metres.
func (m *maker) metres() float64 {
	switch m.job.Coordinates.Unit {
	case job.CoordFeet:
		return 0.3048
	case job.CoordUSSurvey:
		return 1200.0 / 3937
	}
	return 1
}

func (m *maker) at(e, n float64) *[2]float64 {
	round := func(v float64) float64 { return math.Round(v/m.metres()*1e4) / 1e4 }
	return &[2]float64{round(e), round(n)}
}

// leg adds a leg from a node along a bearing, straight or with one curve, and answers with its other end. Its chainage
// may run either way.
func (m *maker) leg(from int, bearing float64) tip {
	start := m.place(from)
	long := m.number(7, 45)
	l := job.Leg{ID: string(rune('A' + len(m.job.Route.Legs)))}
	to := walk(start, bearing, long)
	if long > 20 && m.percent(25) {
		turn := one(&m.dice, -1.0, 1) * m.number(1, 9)
		corner := walk(start, bearing, long/2)
		to = walk(corner, bearing+turn, long/2)
		most := long / 2 * one(&m.dice, 0.9, 0.6, 0.5, 0.4) / math.Tan(math.Abs(turn)/2*math.Pi/180) // both tangents have to fit
		radius := math.Min(most, one(&m.dice, 60.0, 150, 400, 900, 2000))
		l.Via = []job.Vertex{{At: *m.at(corner[0], corner[1]), Radius: measure.FromMetres(math.Floor(radius*1000) / 1000)}}
		bearing += turn
	}
	end := m.node(to[0], to[1])
	l.From, l.To = m.job.Route.Nodes[from].ID, m.job.Route.Nodes[end].ID
	if m.percent(30) {
		l.From, l.To = l.To, l.From
	}
	if m.percent(25) {
		l.LayFrom = one(&m.dice, l.From, l.To)
	}
	m.job.Route.Legs = append(m.job.Route.Legs, l)
	return tip{end, bearing, l.ID}
}

// place is where a node lies, in metres.
func (m *maker) place(node int) [2]float64 {
	at := *m.job.Route.Nodes[node].At
	return [2]float64{at[0] * m.metres(), at[1] * m.metres()}
}

func walk(from [2]float64, bearing, long float64) [2]float64 {
	sin, cos := math.Sincos(bearing * math.Pi / 180)
	return [2]float64{from[0] + float64(long*sin), from[1] + float64(long*cos)}
}

// legsAt counts the legs that meet at a node.
func (m *maker) legsAt(id string) int {
	n := 0
	for _, l := range m.job.Route.Legs {
		if l.From == id || l.To == id {
			n++
		}
	}
	return n
}

// end says how the run ends at a node where one leg ends.
func (m *maker) end(i int) {
	n := &m.job.Route.Nodes[i]
	if m.legsAt(n.ID) != 1 {
		return
	}
	e := &job.End{Kind: one(&m.dice, "plate", "building", "temporary", "existing", "open")}
	switch e.Kind {
	case "plate", "temporary":
		e.Thickness = m.length(40*measure.Millimetre, 120*measure.Millimetre, m.step)
	case "building":
		e.Thickness, e.Face = m.length(150*measure.Millimetre, 400*measure.Millimetre, m.step), one(&m.dice, "", "outer", "inner")
	case "existing":
		if m.percent(40) {
			e.Skew = measure.FromDegrees(one(&m.dice, -3.0, 1.5, 4))
		}
	}
	if e.Kind != "open" || m.percent(50) {
		n.End = e
	}
}

// sawnBranch opens the wall of one straight leg for a branch of its own.
func (m *maker) sawnBranch() {
	main := m.job.Route.Legs[m.below(len(m.job.Route.Legs))]
	a, b := m.nodeAt(main.From), m.nodeAt(main.To)
	long := math.Hypot(b[0]-a[0], b[1]-a[1])
	if len(main.Via) > 0 || long < 15 || len(m.job.Route.Legs) >= 6 {
		return
	}
	bearing := math.Atan2(b[0]-a[0], b[1]-a[1]) * 180 / math.Pi
	at := walk(a, bearing, m.number(6, long-6))
	n := m.node(at[0], at[1])
	m.job.Route.Nodes[n].Sawn = &job.SawnTee{Into: main.ID, Opening: 500 * measure.Millimetre, Clear: m.length(50*measure.Millimetre, 200*measure.Millimetre, m.step)}
	t := m.leg(n, bearing+one(&m.dice, 90.0, -90, 90, 70, -60))
	m.end(t.node)
}

func (m *maker) nodeAt(id string) [2]float64 {
	for i := range m.job.Route.Nodes {
		if m.job.Route.Nodes[i].ID == id {
			return m.place(i)
		}
	}
	return [2]float64{}
}

// levels gives some nodes a level, with grades up to a few per cent.
func (m *maker) levels() {
	if m.percent(55) {
		return
	}
	for i := range m.job.Route.Nodes {
		if m.percent(80) {
			z := math.Round((30+m.number(0, 0.8))/m.metres()*1000) / 1000
			m.job.Route.Nodes[i].Level = &z
		}
	}
}
