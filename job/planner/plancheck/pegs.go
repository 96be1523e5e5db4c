package plancheck

import (
	"math"
	"slices"
	"strings"
)

// peg is a peg beside the run as plan.json has it.
type peg struct {
	Leg         string     `json:"leg"`
	Place       string     `json:"place"`
	Chainage    nm         `json:"chainage_mm"`
	Side        string     `json:"side"`
	Arrow       string     `json:"arrow"`
	Offset      nm         `json:"offset_mm"`
	E           float64    `json:"easting_m"`
	N           float64    `json:"northing_m"`
	Ground      *elevation `json:"ground_m"`
	Formation   *elevation `json:"formation_m"`
	Wall        *elevation `json:"wall_m"`
	ToFormation *pegFigure `json:"to_formation"`
	ToWall      *pegFigure `json:"to_wall"`
	Edge        *nm        `json:"edge_mm"`
	Lost        []string   `json:"lost"`
}

type pegFigure struct {
	Way    string `json:"way"`
	Arrow  string `json:"arrow"`
	Amount nm     `json:"amount_mm"`
}

// surveyPoint is a benchmark or a control point as plan.json has it.
type surveyPoint struct {
	ID    string     `json:"id"`
	E     *float64   `json:"easting_m"`
	N     *float64   `json:"northing_m"`
	Level *elevation `json:"level_m"`
}

// checkPegs: pegs stand square to the line at their offset, their cut and fill are the difference of two levels, and one
// that the dig reaches is said to be lost.
func (c *checker) checkPegs() {
	rows := map[string]*setOut{}
	for i := range c.plan.SetOut {
		rows[c.plan.SetOut[i].Place] = &c.plan.SetOut[i]
	}
	for i := range c.plan.Pegs {
		p := &c.plan.Pegs[i]
		name := p.Place
		if name == "" {
			name = p.Leg + " " + p.Chainage.String()
		}
		c.checkPegFigure(name, "formation", p.Ground, p.Formation, p.ToFormation)
		c.checkPegFigure(name, "wall top", p.Ground, p.Wall, p.ToWall)
		if arrow := map[string]string{"left": "←", "right": "→"}[p.Side]; arrow == "" || arrow != p.Arrow {
			c.say("peg %s stands on the side %q with the arrow %q", name, p.Side, p.Arrow)
		}
		if s := rows[p.Place]; p.Place != "" && (s == nil || s.Leg != p.Leg) {
			c.say("peg %s stands at no place of the set-out", name)
		} else if s != nil {
			c.checkPegPlace(p, s)
		}
		c.checkPegEdge(name, p)
	}
	c.checkPoints()
}

// checkPegPlace: the way from the place on the line to its peg is the offset, square to the bearing, on the grid.
func (c *checker) checkPegPlace(p *peg, s *setOut) {
	along := towards(s.Bearing)
	off := at([2]float64{p.E, p.N}).minus(at([2]float64{s.E, s.N}))
	want := p.Offset.metres() * c.scale()
	if p.Side == "left" {
		want = -want
	}
	if right := -off.dot(along.left()); math.Abs(right-want) > 2e-6 || math.Abs(off.dot(along)) > 2e-6 {
		c.say("peg %s stands %.6f m to the right of its place and %.6f m along it; its offset makes %.6f m", p.Place, right, off.dot(along), want)
	}
	if (p.Chainage - s.Chainage).abs() > 0 {
		c.say("peg %s: chainage %v, its place lies at %v", p.Place, p.Chainage, s.Chainage)
	}
	if s.Levels != nil {
		c.level(p.Place+", peg", "the formation", p.Formation, s.Levels.Formation)
		c.level(p.Place+", peg", "the wall", p.Wall, s.Levels.Wall)
	}
}

func (c *checker) checkPegFigure(name, what string, ground, wanted *elevation, f *pegFigure) {
	if ground == nil || wanted == nil {
		if f != nil {
			c.say("peg %s: %v to the %s, and a level for that is missing", name, f.Amount, what)
		}
		return
	}
	if f == nil {
		c.say("peg %s has no figure to the %s", name, what)
		return
	}
	way, arrow, d := "level with the peg", "=", nm(*ground-*wanted)
	switch {
	case d > 0:
		way, arrow = "cut", "↓"
	case d < 0:
		way, arrow = "fill", "↑"
	}
	if f.Way != way || f.Arrow != arrow || f.Amount != d.abs() {
		c.say("peg %s: %s %s %v to the %s, its levels make %s %v", name, f.Way, f.Arrow, f.Amount, what, way, d.abs())
	}
}

// checkPegEdge: the edge of the dig beside a peg is that of the dig's mark there, and a peg inside it is said to be lost.
func (c *checker) checkPegEdge(name string, p *peg) {
	if p.Edge == nil {
		return
	}
	const beside = 10_000_000 // nm: of marks further off the ground may lie otherwise
	if c.plan.Dig != nil {
		for i := range c.plan.Dig.Legs {
			for _, m := range c.plan.Dig.Legs[i].Marks {
				edge := m.EdgeRight
				if p.Side == "left" {
					edge = -m.EdgeLeft
				}
				if c.plan.Dig.Legs[i].Leg == p.Leg && (m.At-p.Chainage).abs() <= beside && (edge-*p.Edge).abs() > 2*(m.At-p.Chainage).abs()+slack {
					c.say("peg %s: the edge of the dig comes out to %v, its mark has %v", name, *p.Edge, edge)
				}
			}
		}
	}
	if p.Offset <= *p.Edge && !slices.Contains(p.Lost, "dug away") {
		c.say("peg %s stands %v from the line, the dig comes out to %v, and nothing says so", name, p.Offset, *p.Edge)
	}
	if len(p.Lost) > 0 && !c.anyFinding(func(f finding) bool { return strings.HasPrefix(f.ID, "planner.peg-") && f.Where.Leg == p.Leg }) {
		c.say("peg %s does not last, and no finding says so", name)
	}
}

// checkPoints: what the run is set out from is the job's; where there is none, a finding says NOT CHECKED.
func (c *checker) checkPoints() {
	if c.job == nil || c.refused() {
		return
	}
	s, unit := &c.job.SetOut, c.coordinateUnit()
	if len(c.plan.Benchmarks) != len(s.Benchmarks) || len(c.plan.Control) != len(s.Control) {
		c.say("%d benchmarks and %d control points, the job has %d and %d", len(c.plan.Benchmarks), len(c.plan.Control), len(s.Benchmarks), len(s.Control))
		return
	}
	if len(c.job.Ground.Surfaces) > 0 { // who surveyed the ground set points up
		for _, none := range []struct {
			n    int
			word string
		}{{len(s.Benchmarks), "benchmark"}, {len(s.Control), "control point"}, {len(s.Pegs), "peg"}} {
			if none.n == 0 {
				c.needsFinding("the job", none.word)
			}
		}
	}
	same := func(p surveyPoint, at *[2]float64, level *float64) {
		if (at == nil) != (p.E == nil) || at != nil && math.Hypot(*p.E-at[0]*unit, *p.N-at[1]*unit) > 1e-6 {
			c.say("%s does not stand where the job puts it", p.ID)
		}
		if (level == nil) != (p.Level == nil) || level != nil && (nm(*p.Level)-nm(math.Round(*level*unit*1e9))).abs() > 1 {
			c.say("%s does not have the level of the job", p.ID)
		}
	}
	for i, b := range s.Benchmarks {
		same(c.plan.Benchmarks[i], b.At, &b.Level)
	}
	for i, p := range s.Control {
		same(c.plan.Control[i], &p.At, p.Level)
	}
}
