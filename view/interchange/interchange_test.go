package interchange

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/planner/randomjob"
	"trenchwright/place/ground"
	"trenchwright/place/ground/local"
	"trenchwright/place/route"
	"trenchwright/view/geojson"
	"trenchwright/view/groundin"
	"trenchwright/view/jobtext"
	"trenchwright/view/landxml"
	"trenchwright/view/routein"
)

// planned is a demo job on its ground, with its plan.
type planned struct {
	plan     planner.Plan
	job      job.Job
	surfaces []*ground.Surface
}

func demoJob(t testing.TB, name string) job.Job {
	t.Helper()
	text, err := demo.File(name)
	if err != nil {
		t.Fatal(err)
	}
	j, faults := jobtext.Read(name, bytes.NewReader(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return j
}

func onGround(t testing.TB, j job.Job) planned {
	t.Helper()
	g, found := groundin.Survey(j, demo.Open)
	if found.Any(finding.Fault) {
		t.Fatal(found)
	}
	return planned{planner.Make(g.Job, g.Surfaces...), g.Job, g.Surfaces}
}

func (p planned) xml(t testing.TB) []byte {
	t.Helper()
	d, ok := LandXML(p.plan, p.job, p.surfaces...)
	if !ok {
		t.Fatal("nothing to write")
	}
	var b bytes.Buffer
	if err := landxml.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func (p planned) readXML(t testing.TB) landxml.File {
	t.Helper()
	d, _ := LandXML(p.plan, p.job, p.surfaces...)
	f, err := landxml.Read(bytes.NewReader(p.xml(t)), landxml.Options{Surfaces: true, Origin: &d.Origin, File: "plan.xml"})
	if err != nil || f.Notes.Any(finding.Fault) {
		t.Fatalf("%v %v", err, f.Notes)
	}
	return f
}

// Our own reader finds the run again: every leg to the nanometre of its grid length, the level of every place of the
// set-out on the profile, the ground with its faces and areas, and every point.
func TestLandXMLReadsBack(t *testing.T) {
	for _, name := range demo.Names() {
		p := onGround(t, demoJob(t, name))
		f := p.readXML(t)
		if len(f.Alignments) != len(p.plan.Legs) || len(f.Surfaces) != len(p.surfaces) || len(f.Points) != len(p.plan.SetOut)+len(p.plan.Nodes)+len(p.located())+len(p.plan.Pegs)+len(p.edges()) {
			t.Errorf("%s: %d alignments, %d surfaces, %d points", name, len(f.Alignments), len(f.Surfaces), len(f.Points))
		}
		worst := measure.Length(0)
		levels, ground := 0, 0
		for i, a := range f.Alignments {
			leg := p.plan.Legs[i]
			scale := 1.0
			if s, err := strconv.ParseFloat(p.job.Coordinates.ScaleFactor, 64); err == nil {
				scale = s
			}
			if off := a.Line.Length() - measure.FromMetres(measure.Length(leg.NodeLength).Metres()*scale); off.Abs() > 3 || a.Name != leg.Name {
				t.Errorf("%s: leg %s comes back as %s, %d nm longer or shorter", name, leg.Name, a.Name, off)
			}
			n, off := p.held(t, a, scale)
			levels, worst = levels+n, max(worst, off)
			for _, g := range a.Ground {
				for _, s := range g.Stretches {
					ground += len(s)
				}
			}
		}
		for i, s := range f.Surfaces {
			again, found := groundAgain(s, f.Origin)
			want, got := p.surfaces[i].Measures(), again.Measures()
			if found.Any(finding.Fault) || got.Faces != want.Faces || math.Abs(got.Area2D-want.Area2D) > 1e-6 || got.ZMin != want.ZMin || got.ZMax != want.ZMax {
				t.Errorf("%s: surface %s comes back as %+v, want %+v: %v", name, s.Name, got, want, found)
			}
		}
		if len(p.surfaces) > 0 && (levels < len(p.plan.SetOut)*4 || ground == 0) {
			t.Errorf("%s: %d levels, %d places on the ground", name, levels, ground)
		}
		t.Logf("%s: %d legs, %d levels within %d nm, %d places on the ground, %d points", name, len(f.Alignments), levels, worst, ground, len(f.Points))
	}
}

// edges are the places at which the plan marks the edges of the dig, both sides, once each.
func (p planned) edges() map[string]planner.DigMark {
	out := map[string]planner.DigMark{}
	if p.plan.Dig != nil {
		for _, l := range p.plan.Dig.Legs {
			for _, m := range l.Marks {
				for _, side := range []string{"left", "right"} {
					out[fmt.Sprintf("%s %s %s", l.Leg, of(p.plan, p.job).station(m.At), side)] = m
				}
			}
		}
	}
	return out
}

func groundAgain(s landxml.Surface, o route.Origin) (*ground.Surface, finding.List) {
	m := ground.Mesh{Source: ground.Source{Name: s.Name, Origin: o}}
	for _, v := range s.Points {
		m.Points = append(m.Points, ground.Recorded(o, v.At, v.Level))
	}
	for _, f := range s.Faces {
		m.Faces = append(m.Faces, [3]int{int(f[0]), int(f[1]), int(f[2])})
	}
	return ground.FromMesh(m)
}

// held holds the profiles of a leg against its set-out: every level that the plan gives, at its own chainage.
func (p planned) held(t testing.TB, a landxml.Alignment, scale float64) (n int, worst measure.Length) {
	t.Helper()
	r := of(p.plan, p.job)
	for _, l := range r.layers() {
		for _, row := range r.rows[a.Name] {
			z := l.level(row)
			if z == nil {
				continue
			}
			at := measure.FromMetres(measure.Length(row.Chainage).Metres() * scale)
			if scale == 1 {
				at = measure.Length(row.Chainage)
			}
			got, ok := measure.Length(0), false
			for _, prof := range a.Profiles {
				if prof.Name != l.name {
					continue
				}
				for _, ch := range []measure.Length{at, at + 1, at - 1} { // an end may be rounded across by the grid
					if got, ok = prof.Level(ch); ok {
						break
					}
				}
			}
			// 2 nm: the written grade may pass 1 nm beside a place between its ends, and both are rounded.
			if off := (got - measure.FromMetres(*z)).Abs(); !ok || off > 2 {
				t.Errorf("leg %s, %s: %s reads back as %s (%v), the set-out has %.9f m", a.Name, row.Place, l.name, got, ok, *z)
			} else {
				n, worst = n+1, max(worst, off)
			}
		}
	}
	return n, worst
}

// Alignments are read as a route by new --from, and planned: the same legs between the same places, the same layout.
func TestLandXMLIsTheSameRun(t *testing.T) {
	for _, name := range demo.Names() {
		j := demoJob(t, name)
		p := planned{plan: planner.Make(j), job: j}
		in, found := routein.Read(bytes.NewReader(p.xml(t)), routein.Want{File: "plan.xml", Line: job.DrawnLine{Kind: "centreline"}, Together: true})
		if found.Any(finding.Fault) {
			t.Fatal(found.Render(measure.Metric))
		}
		j.Route.Walk, j.Route.Nodes, j.Route.Legs = nil, in.Route.Nodes, in.Route.Legs
		if got, want := in.Coordinates.Unit, p.job.Coordinates.Unit; got != want && !(want == "" && got == job.CoordMetres) {
			t.Errorf("%s: in %s, want %s", name, got, want)
		}
		j.Coordinates.Line = in.Coordinates.Line
		if s, err := strconv.ParseFloat(j.Coordinates.ScaleFactor, 64); err == nil { // the file has radii on the grid, a job on the ground
			for _, l := range j.Route.Legs {
				for k := range l.Via {
					l.Via[k].Radius = measure.FromMetres(l.Via[k].Radius.Metres() / s)
				}
			}
		}
		want, _, _ := planner.Run(p.job)
		got, _, faults := planner.Run(j)
		if faults.Any(finding.Fault) || len(got.Legs) != len(want.Legs) || len(got.Nodes) != len(want.Nodes) {
			t.Fatalf("%s: %d legs, %d nodes: %v", name, len(got.Legs), len(got.Nodes), faults)
		}
		worst := measure.Length(0)
		for _, l := range want.Legs {
			again, ok := got.Leg(l.ID)
			off := (again.Line.Length() - l.Line.Length()).Abs()
			if worst = max(worst, off); !ok || off > 100 || len(again.Line.Elements()) != len(l.Line.Elements()) {
				t.Errorf("%s: leg %s comes back %d nm longer or shorter, %v", name, l.ID, off, ok)
			}
			if at := want.Nodes[l.From].At.Distance(got.Nodes[again.From].At); at > 1e-8 {
				t.Errorf("%s: the start of leg %s lies %v m off", name, l.ID, at)
			}
		}
		t.Logf("%s: %d legs within %d nm", name, len(want.Legs), worst)
	}
}

// files are the plans that other readers are given: the demos, one of them on its ground, and random networks.
func files(t testing.TB) map[string]planned {
	out := map[string]planned{}
	for _, name := range demo.Names() {
		out[name] = onGround(t, demoJob(t, name))
	}
	for seed := range uint64(12) {
		j := randomjob.Job(2000 + seed)
		switch seed % 3 {
		case 1:
			j.Coordinates.Unit = job.CoordFeet
		case 2:
			j.Coordinates.Unit, j.On = job.CoordUSSurvey, ""
		}
		out[fmt.Sprintf("seed %d", 2000+seed)] = planned{plan: planner.Make(j), job: j}
	}
	return out
}

func schema(t *testing.T) string {
	t.Helper()
	name := filepath.Join("..", "..", "..", "shared", "data", "landxml", "xsd", "LandXML-1.2.xsd")
	if _, err := os.Stat(name); err != nil {
		t.Skip("SKIPPED, NOT CHECKED AGAINST THE SCHEMA: no ../shared/data/landxml/xsd")
	}
	return name
}

func tool(t *testing.T, name, from string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("SKIPPED, NOT CHECKED BY A SECOND READER: no %s here; it comes with %s", name, from)
	}
	return path
}

func inFile(t *testing.T, name string, text []byte) string {
	t.Helper()
	name = filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(name, text, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// xmllint finds every document valid against the schema of LandXML 1.2.
func TestLandXMLIsValid(t *testing.T) {
	xmllint := tool(t, "xmllint", "libxml2-utils")
	args := []string{"--nonet", "--noout", "--schema", schema(t)}
	n := 0
	for _, p := range files(t) {
		if _, ok := LandXML(p.plan, p.job, p.surfaces...); ok {
			args = append(args, inFile(t, "plan.xml", p.xml(t)))
			n++
		}
	}
	out, err := exec.Command(xmllint, args...).CombinedOutput()
	if got := strings.Count(string(out), " validates\n"); err != nil || got != n || n < 12 {
		t.Errorf("%d of %d are valid: %v\n%.2000s", got, n, err, out)
	}
	t.Logf("xmllint finds %d files valid", n)
}

// GDAL, which knows the schema and nothing of ours, finds the same lengths, levels and units.
func TestLandXMLReadByAnother(t *testing.T) {
	ogrinfo := tool(t, "ogrinfo", "gdal-bin")
	xsd := schema(t)
	p := onGround(t, demoJob(t, "tram-depot"))
	name := inFile(t, "plan.xml", p.xml(t))
	ask := func(layer string) string {
		out, err := exec.Command(ogrinfo, "-ro", "-q", "GMLAS:"+name, layer, "-al", "-oo", "XSD="+xsd).CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		return string(out)
	}
	lengths := numbers(ask("alignment"), `length \(Real\) = ([0-9.]+)`)
	if len(lengths) != len(p.plan.Legs) {
		t.Fatalf("%d lengths of %d legs", len(lengths), len(p.plan.Legs))
	}
	for i, l := range p.plan.Legs {
		if want := measure.Length(l.NodeLength).Metres() * 0.99972; math.Abs(lengths[i]-want) > 2e-9 {
			t.Errorf("leg %s: %.9f m, want %.9f", l.Name, lengths[i], want)
		}
	}
	points := ask("cgpoints_cgpoint")
	for _, s := range p.plan.SetOut {
		want := fmt.Sprintf("%s %s %s", trimmed(s.N), trimmed(s.E), trimmed(*s.Levels.Wall))
		if !strings.Contains(points, want) {
			t.Errorf("no point %q for %s", want, s.Place)
		}
	}
	if got := strings.Count(ask("faces_f"), "OGRFeature"); got != faceCount(p.surfaces) {
		t.Errorf("%d faces, want %d", got, faceCount(p.surfaces))
	}
}

func trimmed(v float64) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.9f", measure.FromMetres(v).Metres()), "0"), ".")
}

func faceCount(all []*ground.Surface) int {
	n := 0
	for _, s := range all {
		n += s.FaceCount()
	}
	return n
}

func numbers(text, pattern string) []float64 {
	var out []float64
	for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(text, -1) {
		v, err := strconv.ParseFloat(m[1], 64)
		if err == nil {
			out = append(out, v)
		}
	}
	return out
}

// The unit of the job is the unit of the file, and both feet are told apart.
func TestUnitsAreSaidRightly(t *testing.T) {
	for unit, want := range map[job.CoordUnit][2]string{
		"": {`<Metric `, `linearUnit="meter"`}, job.CoordMetres: {`<Metric `, `linearUnit="meter"`},
		job.CoordFeet: {`<Imperial `, `linearUnit="foot"`}, job.CoordUSSurvey: {`<Imperial `, `linearUnit="USSurveyFoot"`},
	} {
		j := randomjob.Job(1)
		j.Coordinates.Unit = unit
		text := string(planned{plan: planner.Make(j), job: j}.xml(t))
		if !strings.Contains(text, want[0]) || !strings.Contains(text, want[1]) {
			t.Errorf("%q: no %v", unit, want)
		}
	}
	j := randomjob.Job(1)
	j.Coordinates.System, j.Coordinates.HeightDatum = "Zone 19 (EPSG 3878)", ""
	text := string(planned{plan: planner.Make(j), job: j}.xml(t))
	for _, want := range []string{`name="Zone 19" epsgCode="3878"`, "NOT CHECKED: no height datum on file. Ask: the surveyor."} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s in %.900s", want, text)
		}
	}
}

// middle is where the invented depot is put on earth for these tests.
var middle = local.Position{Latitude: 47.5, Longitude: 8.25}

// onEarth is the depot with its coordinates on a local grid: the same run, its places relative to the grid's middle.
func onEarth(t testing.TB) (planned, local.Grid) {
	t.Helper()
	g, err := local.New(middle, 430)
	if err != nil {
		t.Fatal(err)
	}
	j := demoJob(t, "tram-depot")
	survey, found := groundin.Survey(j, demo.Open)
	if found.Any(finding.Fault) {
		t.Fatal(found)
	}
	j.Coordinates.System, j.Coordinates.ScaleFactor, j.Coordinates.ScaleFrom, j.Coordinates.Origin = g.Name(), "ground", "", [2]float64{}
	shift := func(at *[2]float64) { at[0], at[1] = at[0]-412000, at[1]-287000 }
	for i := range j.Route.Nodes {
		shift(j.Route.Nodes[i].At)
	}
	for i := range j.Route.Legs {
		for k := range j.Route.Legs[i].Via {
			shift(&j.Route.Legs[i].Via[k].At)
		}
	}
	for i := range j.SetOut.Benchmarks {
		if at := j.SetOut.Benchmarks[i].At; at != nil {
			shift(at)
		}
	}
	for i := range j.SetOut.Control {
		shift(&j.SetOut.Control[i].At)
	}
	var moved []*ground.Surface // all coordinates are relative to an origin, which moves with them
	for _, s := range survey.Surfaces {
		one := *s
		one.Origin = planner.Origin(j)
		moved = append(moved, &one)
	}
	return planned{planner.Make(j, moved...), j, moved}, g
}

func (p planned) geojson(t testing.TB) []byte {
	t.Helper()
	features, why := GeoJSON(p.plan, p.job)
	if why != "" {
		t.Fatal(why)
	}
	var b bytes.Buffer
	if err := geojson.Write(&b, features); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Where nothing leads to WGS 84 there is no GeoJSON, and one sentence says why.
func TestNoGeoJSONOfAnUnknownGrid(t *testing.T) {
	for _, name := range demo.Names() {
		j := demoJob(t, name)
		features, why := GeoJSON(planner.Make(j), j)
		if features != nil || len(why) < 60 || !strings.Contains(why, "no GeoJSON is written") {
			t.Errorf("%s: %d features, %q", name, len(features), why)
		}
	}
}

// number is a property that holds a number.
func number(f geojson.Feature, name string) float64 {
	for _, p := range f.Properties {
		if p.Name == name {
			var v float64
			if json.Unmarshal(p.Value, &v) == nil {
				return v
			}
		}
	}
	return math.NaN()
}

// Back on the grid, legs are as long and units as large as the plan has them, within what seven decimals leave.
func TestGeoJSONReadsBack(t *testing.T) {
	p, g := onEarth(t)
	f, err := geojson.Read(bytes.NewReader(p.geojson(t)), geojson.Options{})
	if err != nil || f.Notes.Any(finding.Fault) {
		t.Fatalf("%v %v", err, f.Notes)
	}
	count, r := map[string]int{}, of(p.plan, p.job)
	for _, one := range f.Features {
		what, _ := one.Text("what")
		count[what]++
		if r.surveyedOrPeg(t, one); one.Geometry.Kind == geojson.Nowhere {
			continue
		}
		s, err := one.Geometry.InPlan(func(lon, lat float64) (route.Point, error) {
			return g.To(local.Position{Latitude: lat, Longitude: lon})
		})
		if err != nil {
			t.Fatal(err)
		}
		line := s.Bodies[0][0]
		switch what {
		case "leg":
			long := 0.0
			for i := 1; i < len(line); i++ {
				long += line[i].Distance(line[i-1])
			}
			if want := number(one, "length_m"); !(math.Abs(long-want) < 0.02) {
				t.Errorf("%s is %.4f m long, want %.4f", one.ID, long, want)
			}
		case "dig edge": // as far from the leg as the plan says, at every mark
			leg, _ := one.Text("leg")
			side, _ := one.Text("side")
			axis, _ := r.line(leg)
			for _, l := range p.plan.Dig.Legs {
				for i, m := range l.Marks {
					off := m.EdgeLeft
					if side == "right" {
						off = m.EdgeRight
					}
					if at := axis.Beside(measure.Length(m.At), measure.Length(off)); l.Leg == leg && !(at.Distance(line[i]) < 0.01) {
						t.Errorf("%s: mark %d lies at %v, want %v", one.ID, i, line[i], at)
					}
				}
			}
		case "joint", "peg", "benchmark", "control point":
			e, n := number(one, "easting_m"), number(one, "northing_m")
			if !(line[0].Distance(route.Point{E: e, N: n}) < 0.01) {
				t.Errorf("%s lies at %v, want %v, %v", one.ID, line[0], e, n)
			}
		}
	}
	digs := 0
	for _, l := range p.plan.Dig.Legs {
		if len(l.Marks) > 1 {
			digs += 2
		}
	}
	want := map[string]int{"dig edge": digs, "leg": len(p.plan.Legs), "unit": len(p.plan.Units), "joint": len(p.plan.SetOut),
		"peg": len(p.plan.Pegs), "benchmark": len(p.plan.Benchmarks), "control point": len(p.plan.Control)}
	for what, n := range want {
		if count[what] != n {
			t.Errorf("%d of %q, want %d", count[what], what, n)
		}
	}
	if count["service"] == 0 || count["no joint"] == 0 {
		t.Errorf("%v", count)
	}
	t.Logf("%v", count)
}

// GDAL takes the file back to the same grid by PROJ's transverse Mercator, and finds the areas of the units and the
// lengths of the legs: factor 1 at 430 m above the ellipsoid is 1 + 430/R there.
func TestGeoJSONReadByAnother(t *testing.T) {
	ogr2ogr, ogrinfo := tool(t, "ogr2ogr", "gdal-bin"), tool(t, "ogrinfo", "gdal-bin")
	p, _ := onEarth(t)
	in, out := inFile(t, "plan.geojson", p.geojson(t)), filepath.Join(t.TempDir(), "plan.csv")
	srs := fmt.Sprintf("+proj=tmerc +lat_0=%v +lon_0=%v +k_0=%.12f +ellps=WGS84 +units=m", middle.Latitude, middle.Longitude, 1+430/6380e3)
	sql := `SELECT what, mark, supply, length_mm FROM plan`
	if b, err := exec.Command(ogr2ogr, "-f", "CSV", "-t_srs", srs, "-lco", "GEOMETRY=AS_WKT", "-sql", sql, out, in).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, b)
	}
	b, err := exec.Command(ogrinfo, "-ro", "-q", out, "-sql", "SELECT what, mark, supply, length_mm, OGR_GEOM_AREA AS area FROM plan").CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, b)
	}
	units, worst := 0, 0.0
	width := map[string]float64{}
	for _, s := range p.plan.Supplies {
		width[s.ID] = measure.Length(*s.OuterWidth).Metres()
	}
	for _, one := range strings.Split(string(b), "OGRFeature")[1:] {
		if !strings.Contains(one, "what (String) = unit") {
			continue
		}
		units++
		area, long := numbers(one, `area \(Real\) = ([0-9.]+)`), numbers(one, `length_mm \(String\) = ([0-9.]+)`)
		if len(area) != 1 || len(long) != 1 {
			t.Fatalf("no area in %s", one)
		}
		supply := regexp.MustCompile(`supply \(String\) = (\S+)`).FindStringSubmatch(one)[1]
		// Mitred or square, a unit covers its axis times its width. Seven decimals of a degree are up to 6 mm at every corner.
		l, w := long[0]/1000, width[supply]
		worst = max(worst, math.Abs(area[0]-l*w))
		if math.Abs(area[0]-l*w) > 0.012*(l+w) {
			t.Errorf("%s: %.4f m², want %.4f", one, area[0], l*w)
		}
	}
	if units != len(p.plan.Units) {
		t.Errorf("GDAL finds %d units of %d", units, len(p.plan.Units))
	}
	t.Logf("GDAL finds the areas of %d units within %.4f m²", units, worst)
}

// The legs of our GeoJSON come back as the route of a job, on a grid whose name GeoJSON can be written of again.
func TestGeoJSONIsARouteAgain(t *testing.T) {
	p, _ := onEarth(t)
	height := 430 * measure.Metre
	in, found := routein.Read(bytes.NewReader(p.geojson(t)), routein.Want{File: "plan.geojson", Line: job.DrawnLine{Kind: "centreline"}, Together: true, Height: &height})
	if found.Any(finding.Fault) {
		t.Fatal(found.Render(measure.Metric))
	}
	if _, ok := local.Named(in.Coordinates.System); !ok {
		t.Errorf("the coordinates are in %q", in.Coordinates.System)
	}
	want := 0.0
	for _, l := range p.plan.Legs {
		want += measure.Length(l.NodeLength).Metres()
	}
	if got := in.Length.Metres(); math.Abs(got-want) > 0.05 {
		t.Errorf("%.4f m, want %.4f", got, want)
	}
}
