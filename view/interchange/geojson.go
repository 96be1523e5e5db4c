package interchange

import (
	"cmp"
	"encoding/json"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/route"
	"trenchwright/view/geojson"
)

// bow is how far a chord may leave a curve in GeoJSON, in metres: 1 mm, finer than the decimals that are written.
const bow = 0.001

// GeoJSON is a plan as features in WGS 84: legs as lines, units as polygons, joints, pegs, benchmarks, control points and buried services as points, stretches
// without joints and the edges of the dig as lines. Levels are properties, in metres above the height datum: a third number
// of a position would be one above the ellipsoid. Where the job's coordinates do not lead to WGS 84 there are no features,
// and why says so.
func GeoJSON(p planner.Plan, j job.Job) (features []geojson.Feature, why string) {
	r := of(p, j)
	earth, why := r.earth()
	if why != "" {
		return nil, why
	}
	m := mapper{run: r, earth: earth}
	m.legs()
	m.units()
	m.joints()
	m.services()
	m.zones()
	m.setOutFrom()
	m.pegs()
	m.digEdges()
	if m.err != nil {
		return nil, "No GeoJSON is written: " + m.err.Error()
	}
	return m.features, ""
}

// mapper collects features; the first place that is none on earth ends it.
type mapper struct {
	run
	earth    geojson.FromPlan
	features []geojson.Feature
	err      error
}

func (m *mapper) add(id string, kind geojson.Kind, line []route.Point, properties ...geojson.Property) {
	g, err := geojson.Shape{Kind: kind, Bodies: [][][]route.Point{{line}}}.OnEarth(m.earth)
	if err != nil && m.err == nil {
		m.err = err
	}
	m.features = append(m.features, geojson.Feature{ID: id, Geometry: g, Properties: properties})
}

func (m *mapper) legs() {
	for _, l := range m.Legs {
		line, ok := m.line(l.Name)
		if !ok {
			continue
		}
		m.add("leg "+l.Name, geojson.LineString, line.Points(0, line.Length(), bow), geojson.Text("what", "leg"), geojson.Text("leg", l.Name),
			geojson.Text("from", l.From), geojson.Text("to", l.To), geojson.Text("supply", l.Supply), geojson.Text("verdict", l.Verdict),
			metres("length_m", l.NodeLength), geojson.Number("units", float64(l.Count.Units)), geojson.Number("cuts", float64(l.Count.Cuts)),
			geojson.Text("coordinates", m.Job.Grid), geojson.Text("height_datum", m.Job.HeightDatum))
	}
}

// units are drawn by their outer faces; where no width is on file, by their axis.
func (m *mapper) units() {
	width := map[string]*measure.MM{}
	for _, s := range m.Supplies {
		width[s.ID] = s.OuterWidth
	}
	at := map[string]int{} // how many units of a leg came before
	for _, u := range m.Units {
		k := at[u.Leg]
		at[u.Leg]++
		props := []geojson.Property{geojson.Text("what", "unit"), geojson.Text("mark", u.Mark), geojson.Text("leg", u.Leg), geojson.Text("supply", u.Supply),
			millimetres("length_mm", u.Length), truth("cut", u.Cut), metres("chainage_m", u.Chainage)}
		if rows := m.rows[u.Leg]; k+1 < len(rows) {
			props = append(props, levels("start", rows[k])...)
			props = append(props, levels("end", rows[k+1])...)
		}
		a, b := route.Point{E: u.Axis[0][0], N: u.Axis[0][1]}, route.Point{E: u.Axis[1][0], N: u.Axis[1][1]}
		if w := width[u.Supply]; w != nil {
			m.add(u.Mark, geojson.Polygon, outline(a, b, m.half(u.Leg, *w), u.StartAngle, u.EndAngle), props...)
		} else {
			m.add(u.Mark, geojson.LineString, []route.Point{a, b}, props...)
		}
	}
}

// half is half a width on the ground in grid metres.
func (m *mapper) half(leg string, w measure.MM) float64 {
	scale := 1.0
	if line, ok := m.line(leg); ok {
		scale = line.Scale()
	}
	return float64(measure.Length(w).Metres() * scale / 2)
}

// outline is the ring round a unit: its ends are the lines x = a + tan(angle)·y, y to its left.
func outline(a, b route.Point, half, start, end float64) []route.Point {
	along := b.Minus(a).Unit()
	side := along.Right()
	corner := func(at route.Point, angle, y float64) route.Point {
		return at.Plus(along.Times(float64(math.Tan(angle*math.Pi/180) * y))).Plus(side.Times(-y))
	}
	first := corner(a, start, half)
	return []route.Point{first, corner(a, start, -half), corner(b, end, -half), corner(b, end, half), first}
}

func (m *mapper) joints() {
	for _, s := range m.SetOut {
		props := []geojson.Property{geojson.Text("what", "joint"), geojson.Text("name", s.Place), geojson.Text("leg", s.Leg), metres("chainage_m", s.Chainage),
			geojson.Number("easting_m", s.E), geojson.Number("northing_m", s.N), geojson.Number("bearing_deg", s.Bearing)}
		if g, ok := m.gaps[s.Place]; ok {
			props = append(props, millimetres("gap_mm", g.Gap))
		}
		if s.Levels == nil {
			props = append(props, level("wall_m", s.Level))
		} else {
			props = append(props, levels("", s)...)
		}
		m.add(s.Place, geojson.Point, []route.Point{m.pointAt(s.E, s.N)}, props...)
	}
}

// levels are what the plan says of the height of a place, by the names that plan.json has for them.
func levels(which string, s planner.SetOut) []geojson.Property {
	if which != "" {
		which += "_"
	}
	if s.Levels == nil {
		return []geojson.Property{level(which+"wall_m", s.Level)}
	}
	l := s.Levels
	return []geojson.Property{level(which+"cover_m", l.Cover), level(which+"wall_m", l.Wall), level(which+"underside_m", l.Underside), level(which+"formation_m", l.Formation),
		level(which+"invert_m", l.Invert)}
}

// services are points on the centreline: the job knows under what angle a service crosses, and not which way round.
func (m *mapper) services() {
	for _, l := range m.job.Route.Legs {
		line, ok := m.line(l.ID)
		if !ok {
			continue
		}
		for _, s := range l.Services {
			quality := s.Quality
			if quality == "" {
				quality = "NOT CHECKED: no word on file about how its position is known. Ask: " + "whoever located the " + m.Job.Speech().Word(wording.Services)
			}
			props := []geojson.Property{geojson.Text("what", "service"), geojson.Text("name", s.Name), geojson.Text("leg", l.ID), metres("chainage_m", measure.MM(s.At)),
				millimetres("width_mm", measure.MM(s.Width)), geojson.Text("quality", quality)}
			if s.Depth != nil {
				props = append(props, millimetres("depth_mm", measure.MM(*s.Depth)))
			} else {
				props = append(props, geojson.Text("depth", "unknown"))
			}
			m.add("service "+l.ID+" "+s.ID, geojson.Point, []route.Point{line.At(s.At).At}, props...)
		}
	}
}

// zones are the stretches of the run in which no joint may stand. They are measured along the laying axis.
func (m *mapper) zones() {
	seen := map[string]bool{}
	for _, z := range m.Zones {
		line, ok := m.line(z.Leg)
		from, to := m.chainage(z.Leg, z.From), m.chainage(z.Leg, z.To)
		points := line.Points(from, to, bow)
		id := strings.Join([]string{z.Kind, z.Leg, z.ID, z.Why}, " ")
		if !ok || len(points) < 2 || points[0] == points[len(points)-1] || seen[id] {
			continue
		}
		seen[id] = true
		m.add(id, geojson.LineString, points, geojson.Text("what", "no joint"), geojson.Text("why", z.Why), geojson.Text("of", z.Kind), geojson.Text("id", z.ID),
			geojson.Text("leg", z.Leg), metres("from_m", measure.MM(from)), metres("to_m", measure.MM(to)))
	}
}

// chainage is the chainage of a station on the laying axis, which runs on the slope: straight between the places of the set-out.
func (m *mapper) chainage(leg string, at measure.MM) measure.Length {
	rows := m.rows[leg]
	if len(rows) < 2 {
		return measure.Length(at)
	}
	i, _ := slices.BinarySearchFunc(rows, at, func(s planner.SetOut, at measure.MM) int { return cmp.Compare(s.At, at) })
	i = min(max(i, 1), len(rows)-1)
	a, b := rows[i-1], rows[i]
	return measure.Length(a.Chainage) + measure.Length(math.Round(float64(at-a.At)*(float64(b.Chainage-a.Chainage)/float64(b.At-a.At))))
}

// Figures as properties: exact decimals, or null where nobody knows.

func millimetres(name string, l measure.MM) geojson.Property {
	text, _ := json.Marshal(l) // a length has nothing that JSON could refuse
	return geojson.Property{Name: name, Value: text}
}

func metres(name string, l measure.MM) geojson.Property {
	return geojson.Number(name, measure.Length(l).Metres())
}

func level(name string, z *float64) geojson.Property {
	if z == nil {
		return geojson.Property{Name: name, Value: json.RawMessage("null")}
	}
	return geojson.Number(name, *z)
}

func truth(name string, is bool) geojson.Property {
	text := "false"
	if is {
		text = "true"
	}
	return geojson.Property{Name: name, Value: json.RawMessage(text)}
}
