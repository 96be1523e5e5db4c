// Package longrun makes long routes up for benchmarks: the same length and seed always give the same job. The route runs
// north-east across open ground, leg after leg of some 400 to 900 m with a mitred bend between, now and then a wide curve,
// and about four things a kilometre where no joint may stand. Every figure is invented; every leg can be laid.
package longrun

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
	"trenchwright/job"
)

const mm = measure.Millimetre

// Job is a run of a stated length, made up from a seed. Legs are called A0001, A0002, … in order; nodes N0000, N0001, …
func Job(kilometres float64, seed uint64) job.Job {
	m := &maker{dice: dice{seed}, bearing: 45}
	m.job = job.Job{
		Format: job.Format, ID: fmt.Sprintf("long-run-%d", seed),
		Name:        fmt.Sprintf("Long run of %g km, made up from seed %d", kilometres, seed),
		Coordinates: job.Coordinates{System: "made-up grid", ScaleFactor: "ground", Line: job.DrawnLine{Kind: "centreline"}},
		Documents:   []job.Document{{ID: "D1", Title: "invented for benchmarks"}},
		Supplies:    []job.Supply{supply()},
		Rules:       job.Rules{From: "D1", DriftReserve: job.Known(mm / 2)},
	}
	m.node(&job.End{Kind: "plate", Thickness: 80 * mm})
	const least = 60.0 // m; what is left is added to the last leg
	for left := math.Max(kilometres*1000, least); left > 0; {
		long := math.Floor(m.number(400, 900))
		if left-long < least {
			long = left
		}
		m.leg(long)
		left -= long
	}
	return m.job
}

// supply is a trough whose every cover, mitre and curve fits: bends turn by 30° at most, curves have 1,200 m or more.
func supply() job.Supply {
	return job.Supply{
		ID: "trough", Title: "invented trough", From: "D1",
		Unit: job.UnitMake{
			Lengths: job.Known([]measure.Length{3000 * mm}),
			Inner:   job.Known(job.Section{Width: 420 * mm, Height: 380 * mm}), Outer: job.Known(job.Section{Width: 600 * mm, Height: 500 * mm}),
			Mass: job.Known(measure.LinearMass(350_000)), Ends: job.Known("plain"), MayTurn: job.Known(true), OutOfSquare: job.Known(1 * mm),
		},
		Joint: job.JointMake{
			Gap:      job.Known(measure.Window{Nominal: 10 * mm, Min: 6 * mm, Max: 15 * mm}),
			MitreGap: job.Known(12 * mm), EndGap: job.Known(10 * mm),
		},
		Saw: job.SawRule{Shortest: job.Known(600 * mm), Kerf: job.Known(5 * mm), LeastSlice: job.Known(5 * mm), KeepFactoryEnd: job.Known(true)},
		Cover: &job.CoverMake{
			Lengths: job.Known([]measure.Length{996 * mm}), Gap: job.Known(measure.Window{Nominal: 4 * mm, Min: 2 * mm, Max: 6 * mm}),
			Width: job.Known(520 * mm), Shortest: job.Known(300 * mm), Mass: job.Known(measure.LinearMass(80_000)), LiftedBy: job.Known("keys"),
		},
		Bearing: job.BearingMake{On: job.Known("bed")},
		Lifting: job.LiftingMake{By: job.Known("clamp")},
	}
}

// maker is one run in the making: it stands at a point with a bearing in degrees.
type maker struct {
	dice
	job     job.Job
	e, n    float64 // metres, whole millimetres
	bearing float64
}

func (m *maker) node(end *job.End) {
	m.job.Route.Nodes = append(m.job.Route.Nodes, job.Node{ID: fmt.Sprintf("N%04d", len(m.job.Route.Nodes)), At: &[2]float64{m.e, m.n}, End: end})
}

// leg goes on for so many metres and ends at a new node; before it, where it is not the first, the run bends.
func (m *maker) leg(long float64) {
	nodes := len(m.job.Route.Nodes)
	if nodes > 1 {
		m.job.Route.Nodes[nodes-1].End = nil
		m.bend()
	}
	id := fmt.Sprintf("A%04d", len(m.job.Route.Legs)+1)
	l := job.Leg{ID: id, From: m.job.Route.Nodes[nodes-1].ID, To: fmt.Sprintf("N%04d", nodes)}
	if long > 400 && m.below(4) == 0 {
		m.walk(long / 2)
		turn := m.away() * float64(1+m.below(4))
		l.Via = []job.Vertex{{At: [2]float64{m.e, m.n}, Radius: measure.Length(1200+200*m.below(10)) * measure.Metre}}
		m.bearing += turn
		m.walk(long / 2)
	} else {
		m.walk(long)
	}
	m.along(&l, long)
	m.job.Route.Legs = append(m.job.Route.Legs, l)
	m.node(&job.End{Kind: "open"})
}

// bend turns the run by one of a few angles, back towards north-east when it has strayed.
func (m *maker) bend() {
	turns := [...]float64{5, 10, 15, 22.5, 30}
	m.bearing += m.away() * turns[m.below(len(turns))]
}

// away is the side to turn to: right (1) or left (-1), never further from north-east than 45° or so.
func (m *maker) away() float64 {
	switch {
	case m.bearing > 60:
		return -1
	case m.bearing < 30, m.below(2) == 0:
		return 1
	}
	return -1
}

func (m *maker) walk(long float64) {
	sin, cos := math.Sincos(m.bearing * math.Pi / 180)
	m.e = math.Round((m.e+float64(long*sin))*1000) / 1000
	m.n = math.Round((m.n+float64(long*cos))*1000) / 1000
}

// along lays one thing every 150 to 350 m where no joint may stand, none nearer than 30 m to a bend.
func (m *maker) along(l *job.Leg, long float64) {
	for at := m.number(40, 250); at < long-40; at += m.number(150, 350) {
		here := measure.FromMetres(math.Round(at*100) / 100)
		n := len(l.Services) + len(l.Entries) + len(l.Crossings) + len(l.Zones) + 1
		id := fmt.Sprintf("%s-%d", l.ID, n)
		switch m.below(4) {
		case 0:
			depth := measure.Length(800+50*m.below(20)) * mm
			l.Services = append(l.Services, job.Service{
				ID: id, Name: "buried service", At: here, Width: measure.Length(100+50*m.below(6)) * mm, Clear: measure.Length(200+50*m.below(6)) * mm,
				Skew: measure.Angle(50+5*m.below(9)) * measure.Degree, Depth: &depth,
			})
		case 1:
			l.Entries = append(l.Entries, job.ConduitEntry{ID: id, At: here, Side: [...]string{"left", "right"}[m.below(2)], Diameter: 110 * mm, Clear: 200 * mm})
		case 2:
			l.Crossings = append(l.Crossings, job.Crossing{
				ID: id, Name: "track", At: here, Path: 3500 * mm, Margin: 250 * mm,
				Strips: []job.Strip{{From: -1200 * mm, To: -500 * mm}, {From: 500 * mm, To: 1200 * mm}},
			})
		case 3:
			l.Zones = append(l.Zones, job.Zone{ID: id, From: here, To: here + measure.Length(400+100*m.below(12))*mm, Why: "kept free"})
		}
	}
}

// dice is splitmix64 (Steele, Lea, Flood 2014).
type dice struct{ state uint64 }

func (d *dice) next() uint64 {
	d.state += 0x9e3779b97f4a7c15
	z := d.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// below is one of 0 … n-1.
func (d *dice) below(n int) int { return int(d.next() % uint64(n)) }

// number is between low and high.
func (d *dice) number(low, high float64) float64 {
	return low + float64((high-low)*(float64(d.next()>>11)/(1<<53)))
}
