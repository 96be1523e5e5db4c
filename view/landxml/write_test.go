package landxml

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/route"
)

func written(t testing.TB, d Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// small is a document that can be read by eye: a straight, a right curve, a profile with a parabola, a surface with a
// hidden face, two set-out points.
func small(t testing.TB) Document {
	t.Helper()
	line, err := route.Chain([]route.Element{
		route.Straight(route.Point{E: 0, N: 0}, route.Point{E: 0, N: 30}),
		route.Arc(route.Point{E: 0, N: 30}, route.Point{E: 20, N: 50}, route.Point{E: 20, N: 30}, true),
	}, 1e-6)
	if err != nil {
		t.Fatal(err)
	}
	m := measure.Metre
	p := Profile{Name: "finished", PVIs: []PVI{{Level: 10 * m}, {Chainage: 20 * m, Level: 10200 * measure.Millimetre, Curve: Parabola, In: 5 * m, Out: 5 * m}, {Chainage: 60 * m, Level: 10 * m}}}
	return Document{
		Program: "Trenchwright", Version: "1", Project: "Yard <A> & B", Date: "2026-03-31", Time: "14:30:00",
		System: System{Name: "Site grid", Vertical: "Site datum"}, Note: "Made for a test.", Origin: route.Origin{E: 1000 * m, N: 2000 * m},
		Alignments: []Alignment{{Name: "A", State: "proposed", Line: line, StaStart: 100 * m, Profiles: []Profile{p}}},
		Surfaces: []Surface{{Name: "ground", State: "existing", Points: []Vertex{vertex(0, 0, m), vertex(m, 0, m), vertex(0, m, 2*m), vertex(m, m, 1)},
			Faces: [][3]int32{{0, 1, 2}, {1, 3, 2}}, Hidden: []bool{false, true},
			Breaklines: []Polyline{{Name: "edge", Kind: "standard", Points: []Vertex{vertex(0, 0, m), vertex(m, m, 1)}}}}},
		Points: []Point{{Name: "A-001", Code: "J", Groups: []string{"set-out", "leg A"}, At: route.Coordinates{E: 1000 * m, N: 2000 * m}, Level: -5 * m, HasLevel: true},
			{Name: "peg", At: route.Coordinates{E: 1, N: -1}}},
	}
}

const smallText = `<?xml version="1.0" encoding="UTF-8"?>
<LandXML xmlns="http://www.landxml.org/schema/LandXML-1.2" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="http://www.landxml.org/schema/LandXML-1.2 http://www.landxml.org/schema/LandXML-1.2/LandXML-1.2.xsd" date="2026-03-31" time="14:30:00" version="1.2" language="English" readOnly="false">
  <Units>
    <Metric areaUnit="squareMeter" linearUnit="meter" volumeUnit="cubicMeter" temperatureUnit="celsius" pressureUnit="milliBars" diameterUnit="millimeter" angularUnit="decimal degrees" directionUnit="decimal degrees" elevationUnit="meter"/>
  </Units>
  <CoordinateSystem desc="Northing before easting, in m. Made for a test." name="Site grid" verticalDatum="Site datum"/>
  <Project name="Yard &lt;A&gt; &amp; B"/>
  <Application name="Trenchwright" version="1"/>
  <Alignments>
    <Alignment name="A" length="61.415926536" staStart="100" state="proposed">
      <CoordGeom>
        <Line length="30">
          <Start>2000 1000</Start>
          <End>2030 1000</End>
        </Line>
        <Curve rot="cw" crvType="arc" length="31.415926536" radius="20">
          <Start>2030 1000</Start>
          <Center>2030 1020</Center>
          <End>2050 1020</End>
        </Curve>
      </CoordGeom>
      <Profile name="A">
        <ProfAlign name="finished">
          <PVI>100 10</PVI>
          <ParaCurve length="10">120 10.2</ParaCurve>
          <PVI>160 10</PVI>
        </ProfAlign>
      </Profile>
    </Alignment>
  </Alignments>
  <CgPoints>
    <CgPoint name="peg">-0.000000001 0.000000001</CgPoint>
  </CgPoints>
  <CgPoints name="set-out">
    <CgPoints name="leg A">
      <CgPoint name="A-001" code="J">2000 1000 -5</CgPoint>
    </CgPoints>
  </CgPoints>
  <Surfaces>
    <Surface name="ground" state="existing">
      <SourceData>
        <Breaklines>
          <Breakline brkType="standard" name="edge">
            <PntList3D>
              0 0 1
              1 1 0.000000001
            </PntList3D>
          </Breakline>
        </Breaklines>
      </SourceData>
      <Definition surfType="TIN">
        <Pnts>
          <P id="1">0 0 1</P>
          <P id="2">0 1 1</P>
          <P id="3">1 0 2</P>
          <P id="4">1 1 0.000000001</P>
        </Pnts>
        <Faces>
          <F>1 2 3</F>
          <F i="1">2 4 3</F>
        </Faces>
      </Definition>
    </Surface>
  </Surfaces>
</LandXML>
`

func TestWrittenText(t *testing.T) {
	if got := written(t, small(t)); got != smallText {
		t.Errorf("got\n%s", got)
	}
}

// Without a date the schema's date is a sign for none, and the file says so; the scale factor of a line is said too.
func TestWrittenNotes(t *testing.T) {
	d := small(t)
	d.Date, d.Time, d.Unit = "", "", measure.UnitSurveyFoot
	var err error
	if d.Alignments[0].Line, err = d.Alignments[0].Line.Scaled(0.9996); err != nil {
		t.Fatal(err)
	}
	got := written(t, d)
	for _, want := range []string{`date="0001-01-01" time="00:00:00"`, `desc="The document states no date; 0001-01-01 stands for none."`, `linearUnit="USSurveyFoot"`,
		"Lengths along a line are grid distances: distances on the ground times 0.9996.", "Levels are in US survey ft like the coordinates"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s in\n%s", want, got)
		}
	}
	// The point at 20 m on the ground stands at 20 m · 0.9996 behind station 100 m.
	back := read(t, got, Options{})
	if ch := back.Alignments[0].Profiles[0].PVIs[1].Chainage; ch != 19_992*measure.Millimetre {
		t.Errorf("chainage %v, want 19.992 m", ch)
	}
}

func TestWriteRefuses(t *testing.T) {
	for want, spoil := range map[string]func(*Document){
		`date "2026-02-30" and time "14:30:00" are not such as 2026-03-31 and 14:30:00`:                                 func(d *Document) { d.Date = "2026-02-30" },
		"LandXML is written in m, ft or US survey ft, and mm was asked for":                                             func(d *Document) { d.Unit = measure.UnitMillimetre },
		"there is no alignment, no surface and no point to write":                                                       func(d *Document) { *d = Document{} },
		`alignment "A": two have this name`:                                                                             func(d *Document) { d.Alignments = append(d.Alignments, d.Alignments[0]) },
		`alignment "": it has no name`:                                                                                  func(d *Document) { d.Alignments[0].Name = "" },
		`alignment "A": it has no length`:                                                                               func(d *Document) { d.Alignments[0].Line = route.Line{} },
		`alignment "A": its state is "new"; LandXML knows abandoned, destroyed, existing and proposed`:                  func(d *Document) { d.Alignments[0].State = "new" },
		`alignment "A": its profile "finished" has 1 points; two are needed`:                                            func(d *Document) { p := &d.Alignments[0].Profiles[0]; p.PVIs = p.PVIs[:1] },
		`alignment "A": the stations of its profile "finished" do not rise`:                                             func(d *Document) { d.Alignments[0].Profiles[0].PVIs[2].Chainage = 0 },
		`alignment "A": a figure of its profile "finished" passes a million km`:                                         func(d *Document) { d.Alignments[0].Profiles[0].PVIs[2].Level = 1 << 62 },
		`surface "ground": its face 2 names point 9 of 4`:                                                               func(d *Document) { d.Surfaces[0].Faces[1][1] = 8 },
		`surface "ground": its face 2 has one corner twice`:                                                             func(d *Document) { d.Surfaces[0].Faces[1][1] = 1 },
		`surface "ground": it has 2 faces and says of 1 whether they are hidden`:                                        func(d *Document) { d.Surfaces[0].Hidden = d.Surfaces[0].Hidden[:1] },
		`surface "ground": a point of it lies further than a million km away`:                                           func(d *Document) { d.Surfaces[0].Points[0].Level = -1 << 63 },
		`surface "ground": the line "edge" of its survey needs two points, none of them further than a million km away`: func(d *Document) { d.Surfaces[0].Breaklines[0].Points = nil },
		`surface "ground": a boundary of it is of kind "hole"; LandXML knows outer, void and island`: func(d *Document) {
			d.Surfaces[0].Boundaries = []Polyline{{Kind: "hole", Points: d.Surfaces[0].Points}}
		},
		`two points of the group "leg A" are called "A-001"`: func(d *Document) { d.Points = append(d.Points, d.Points[0]) },
		`point "peg" lies in a group without a name`:         func(d *Document) { d.Points[1].Groups = []string{""} },
	} {
		d := small(t)
		spoil(&d)
		var b bytes.Buffer
		if err := Write(&b, d); err == nil || err.Error() != want || b.Len() != 0 {
			t.Errorf("%d bytes, got %v\nwant %s", b.Len(), err, want)
		}
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, fmt.Errorf("no room") }

func TestWriteTellsOfTheStream(t *testing.T) {
	if err := Write(full{}, small(t)); err == nil || err.Error() != "no room" {
		t.Errorf("got %v", err)
	}
}

// What is written reads back to the nanometre, in metres and both feet, at coordinates near and very far.
func TestWrittenReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		doc := randomDocument(d)
		var b bytes.Buffer
		if err := Write(&b, doc); err != nil {
			t.Fatal(err)
		}
		back, err := Read(bytes.NewReader(b.Bytes()), Options{Surfaces: true, Origin: &doc.Origin})
		if err != nil || back.Notes.Any(finding.Fault) {
			t.Fatalf("%v %v\n%s", err, back.Notes, b.String())
		}
		sameSurfaces(t, back.Surfaces, doc.Surfaces)
		for i := range back.Points {
			back.Points[i].Line = 0
		}
		if !reflect.DeepEqual(back.Points, doc.Points) {
			t.Fatalf("points %+v, want %+v", back.Points, doc.Points)
		}
		for i, a := range back.Alignments {
			want := doc.Alignments[i]
			if a.Name != want.Name || a.StaStart != want.StaStart || !reflect.DeepEqual(a.Profiles, want.Profiles) || !reflect.DeepEqual(a.Ground, want.Ground) {
				t.Fatalf("%+v, want %+v", a, want)
			}
			if l := a.Line.Length() - want.Line.Length(); l.Abs() > 5 || a.Line.End().At.Distance(want.Line.End().At) > 2e-9 {
				t.Fatalf("the line is %v longer", l)
			}
		}
		var again bytes.Buffer
		if err := Write(&again, doc); err != nil || !bytes.Equal(b.Bytes(), again.Bytes()) {
			t.Fatal("the same document gives other bytes")
		}
	})
}

func sameSurfaces(t interface{ Fatalf(string, ...any) }, got, want []Surface) {
	for i := range got {
		got[i].At = 0
		for k := range got[i].Breaklines {
			got[i].Breaklines[k].At = 0
		}
		for k := range got[i].Boundaries {
			got[i].Boundaries[k].At = 0
		}
		if len(want[i].Faces) == 0 {
			got[i].Faces = want[i].Faces
		}
	}
	if len(got) != len(want) || len(want) > 0 && !reflect.DeepEqual(got, want) {
		t.Fatalf("surfaces\n%+v\nwant\n%+v", got, want)
	}
}

func randomDocument(d *rand.Rand) Document {
	far := int64(1) << (20 + d.IntN(39))
	length := func() measure.Length { return measure.Length(d.Int64N(2*far) - far) }
	vertices := func(n int) []Vertex {
		out := make([]Vertex, n)
		for i := range out {
			out[i] = vertex(length(), length(), length())
		}
		return out
	}
	doc := Document{Unit: []measure.Unit{measure.UnitMetre, measure.UnitFoot, measure.UnitSurveyFoot}[d.IntN(3)], Project: "p"}
	doc.Origin = route.OriginNear(route.Coordinates{E: length(), N: length()})
	for i := range 1 + d.IntN(3) {
		doc.Points = append(doc.Points, Point{Name: fmt.Sprint("n", i), Code: "c<", At: route.Coordinates{E: length(), N: length()}})
	}
	doc.Points = append(doc.Points, Point{Name: "n0", Desc: "é", Groups: []string{"g", "h"}, At: route.Coordinates{E: length(), N: length()}, Level: length(), HasLevel: true})
	for i := range d.IntN(3) {
		n := 3 + d.IntN(6)
		s := Surface{Name: fmt.Sprint("s", i), Desc: `a "b"`, State: "proposed", Points: vertices(n)}
		for range 1 + d.IntN(5) {
			c := d.Perm(n)
			s.Faces = append(s.Faces, [3]int32{int32(c[0]), int32(c[1]), int32(c[2])})
		}
		if d.IntN(2) == 0 {
			s.Hidden = make([]bool, len(s.Faces))
			s.Hidden[d.IntN(len(s.Faces))] = true
		}
		if d.IntN(3) == 0 {
			s.Spots = vertices(2)
			s.Breaklines = []Polyline{{Name: "b", Kind: "wall", Points: vertices(3)}}
			flat := vertices(3)
			for i := range flat {
				flat[i].Level = 0
			}
			s.Boundaries = []Polyline{{Kind: "outer", Trim: true, Flat: true, Points: flat}}
		}
		doc.Surfaces = append(doc.Surfaces, s)
	}
	corner := route.Point{E: d.Float64() * 1000, N: d.Float64() * 1000}
	for i := range d.IntN(3) {
		along := route.Towards(measure.FromDegrees(float64(360 * d.Float64())))
		mid := corner.Plus(along.Times(5 + d.Float64()*100))
		end := mid.Plus(along.Turned(d.Float64() - 0.5).Times(5 + d.Float64()*50))
		line, err := route.Chain([]route.Element{route.Straight(corner, mid), route.ArcFrom(mid, along, end)}, 1e-6)
		if err != nil {
			continue
		}
		m := measure.Metre
		doc.Alignments = append(doc.Alignments, Alignment{Name: fmt.Sprint("A", i), Line: line, StaStart: length() / 4, Profiles: []Profile{{Name: "p", PVIs: []PVI{
			{Chainage: -m, Level: length()}, {Chainage: 40*m + 7, Level: length(), Curve: Parabola, In: 3 * m, Out: 3*m + 1},
			{Chainage: 60 * m, Level: length(), Curve: Parabola, In: 3 * m, Out: 4 * m}, {Chainage: 100 * m, Level: length()}}}},
			Ground: []Sampled{{Name: "ground", State: "existing", Stretches: [][]Sample{{{0, length()}, {9 * m, length()}, {9 * m, length()}}, {{50*m + 1, length()}}}}}})
	}
	return doc
}

// tool finds a program; without it the test is skipped, loudly.
func tool(t *testing.T, name, from string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("SKIPPED, NOT CHECKED BY A SECOND READER: no %s here; it comes with %s", name, from)
	}
	return path
}

func inFile(t *testing.T, text string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "f.xml")
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// Whatever Write writes is valid against the LandXML 1.2 schema: the small document, fifty random ones, and every file
// from outside that Read reads, which moreover reads back as it was read.
func TestWrittenIsValid(t *testing.T) {
	files := outside(t)
	xmllint := tool(t, "xmllint", "libxml2-utils")
	args := []string{"--nonet", "--noout", "--schema", filepath.Join(filepath.Dir(files[0]), "xsd", "LandXML-1.2.xsd"), inFile(t, written(t, small(t)))}
	for seed := range 50 {
		args = append(args, inFile(t, written(t, randomDocument(rand.New(rand.NewPCG(uint64(seed), 2))))))
	}
	n := 0
	for _, name := range files {
		f, err := readFile(t, name, Options{Surfaces: true, Spiral: measure.Millimetre})
		if err != nil {
			continue
		}
		n++
		d := Document{Unit: f.Unit, System: f.System, Origin: f.Origin, Alignments: append(f.Alignments, f.Features...), Surfaces: f.Surfaces, Points: f.Points}
		text := written(t, d)
		back := read(t, text, Options{Surfaces: true, Origin: &f.Origin})
		sameSurfaces(t, back.Surfaces, withoutLines(f.Surfaces))
		if len(back.Points) != len(f.Points) || len(back.Alignments) != len(d.Alignments) {
			t.Errorf("%s: %d points and %d alignments came back", name, len(back.Points), len(back.Alignments))
		}
		for i, a := range back.Alignments {
			want := d.Alignments[i]
			// The arcs of a spiral are rounded to the nanometre at every joint.
			if off := (a.Line.Length() - want.Line.Length()).Abs(); off > 100 || !reflect.DeepEqual(a.Profiles, want.Profiles) || a.StaStart != want.StaStart {
				t.Errorf("%s: %q comes back %d nm longer or shorter, with %+v for %+v", name, a.Name, off, a.Profiles, want.Profiles)
			}
		}
		args = append(args, inFile(t, text))
	}
	out, err := exec.Command(xmllint, args...).CombinedOutput()
	if got := strings.Count(string(out), " validates\n"); err != nil || got != n+51 || n != 18 {
		t.Errorf("%d of %d files are valid, %d of them from outside: %v\n%.3000s", got, n+51, n, err, out)
	}
	t.Logf("xmllint finds %d files valid", n+51)
}

func withoutLines(all []Surface) []Surface {
	for i := range all {
		all[i].At = 0
		for k := range all[i].Breaklines {
			all[i].Breaklines[k].At = 0
		}
	}
	return all
}

// A second reader, which knows the schema and nothing of ours, finds the same figures.
func TestWrittenIsReadByAnother(t *testing.T) {
	files := outside(t)
	ogrinfo := tool(t, "ogrinfo", "gdal-bin")
	name := inFile(t, written(t, small(t)))
	xsd := filepath.Join(filepath.Dir(files[0]), "xsd", "LandXML-1.2.xsd")
	ask := func(layer string) string {
		out, err := exec.Command(ogrinfo, "-ro", "-q", "GMLAS:"+name, layer, "-al", "-oo", "XSD="+xsd).CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		return string(out)
	}
	for layer, wants := range map[string][]string{
		"line":             {"length (Real) = 30\n", "start (String) = 2000 1000\n", "end (String) = 2030 1000\n"},
		"curve":            {"rot (String) = cw\n", "radius (Real) = 20\n", "length (Real) = 31.415926536\n", "center (String) = 2030 1020\n"},
		"alignment":        {"name (String) = A\n", "stastart (Real) = 100\n", "state (String) = proposed\n"},
		"surface":          {"name (String) = ground\n", "state (String) = existing\n"},
		"pnts_p":           {"id (Integer) = 4\n", "value (String) = 1 1 0.000000001\n"},
		"faces_f":          {"value (String) = 1 2 3\n", "i (Integer) = 1\n", "value (String) = 2 4 3\n"},
		"cgpoints_cgpoint": {"name (String) = A-001\n", "code (String) = J\n", "value (String) = 2000 1000 -5\n"},
	} {
		got := ask(layer)
		for _, want := range wants {
			if !strings.Contains(got, want) {
				t.Errorf("%s: no %q in\n%s", layer, want, got)
			}
		}
	}
}

func FuzzWrite(f *testing.F) {
	f.Add("A", "proposed", "x<y", int64(5), int64(-7), int64(1)<<40, byte(0))
	f.Add("", "", "\x00\xff", int64(1)<<62, int64(-1)<<63, int64(0), byte(8))
	f.Fuzz(func(t *testing.T, name, state, note string, e, n, z int64, unit byte) {
		m := measure.Metre
		doc := Document{Unit: measure.Unit(unit % 10), Note: note, Project: note, Points: []Point{{Name: name, At: route.Coordinates{E: measure.Length(e), N: measure.Length(n)}}},
			Surfaces: []Surface{{Name: name, State: state, Points: []Vertex{vertex(measure.Length(e), 0, measure.Length(z)), vertex(m, 0, 0), vertex(0, m, 0)}, Faces: [][3]int32{{0, 1, 2}}}}}
		var b bytes.Buffer
		if Write(&b, doc) != nil {
			return
		}
		back, err := Read(&b, Options{Surfaces: true})
		if err != nil {
			t.Fatalf("%v\n%s", err, written(t, doc))
		}
		if got := back.Surfaces[0].Points[0]; got != doc.Surfaces[0].Points[0] {
			t.Fatalf("%v, want %v", got, doc.Surfaces[0].Points[0])
		}
	})
}
