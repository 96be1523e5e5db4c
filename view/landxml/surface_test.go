package landxml

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"text/tabwriter"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

const ground = `<Surfaces><Surface name="G" state="existing">
<Definition surfType="TIN"><Pnts><P id="1">0 0 10</P><P id="7">0 10 11</P><P id="3">10 0 12.5</P><P id="4">10 10 12</P></Pnts>
<Faces><F>1 7 3</F></Faces><Faces><F n="0 0 1" i="1">7 4 3</F></Faces></Definition>
<SourceData><DataPoints><PntList3D>0 0 10 0 10 11</PntList3D></DataPoints>
<Breaklines><Breakline name="kerb" brkType="wall"><PntList3D>0 0 10 10 10 12</PntList3D></Breakline></Breaklines>
<Boundaries><Boundary bndType="void" edgeTrim="true"><PntList2D>1 1 1 2 2 2</PntList2D></Boundary></Boundaries>
<Contours><Contour elev="11.5"><PntList2D>5 0 0 15</PntList2D></Contour></Contours></SourceData></Surface></Surfaces>`

func surfaces(t testing.TB, text string) File {
	t.Helper()
	return read(t, text, Options{Surfaces: true, File: "g.xml"})
}

// Northing comes first, ids are names of points and no numbers of theirs, hidden faces stay and are marked.
func TestSurface(t *testing.T) {
	f := surfaces(t, file(ground))
	s := f.Surfaces[0]
	m := measure.Metre
	if s.Name != "G" || s.State != "existing" || len(s.Points) != 4 || s.Points[1] != vertex(10*m, 0, 11*m) || s.Points[2] != vertex(0, 10*m, 12500*measure.Millimetre) {
		t.Errorf("%+v", s)
	}
	if fmt.Sprint(s.Faces, s.Hidden) != "[[0 1 2] [1 3 2]] [false true]" {
		t.Errorf("faces %v, hidden %v", s.Faces, s.Hidden)
	}
	if len(s.Spots) != 2 || s.Spots[1] != vertex(10*m, 0, 11*m) {
		t.Errorf("spots %+v", s.Spots)
	}
	if len(s.Breaklines) != 2 || s.Breaklines[0].Kind != "wall" || s.Breaklines[0].Flat || s.Breaklines[1].Points[1] != vertex(15*m, 0, 11500*measure.Millimetre) {
		t.Errorf("breaklines %+v", s.Breaklines)
	}
	if len(s.Boundaries) != 1 || s.Boundaries[0].Kind != "void" || !s.Boundaries[0].Flat || len(s.Boundaries[0].Points) != 3 {
		t.Errorf("boundaries %+v", s.Boundaries)
	}
	if !strings.Contains(fmt.Sprint(f.Notes), `surface "G": 4 points, 2 faces, 1 of them hidden; of its survey 2 points, 2 breaklines, 1 boundaries`) {
		t.Errorf("notes %v", f.Notes)
	}
}

func vertex(e, n, level measure.Length) Vertex {
	v := Vertex{Level: level}
	v.At.E, v.At.N = e, n
	return v
}

// What is wrong with one surface leaves that one out, with a sentence; the others stay.
func TestSurfaceFaults(t *testing.T) {
	const good = `<Surface name="good"><SourceData><DataPoints><PntList3D>0 0 1</PntList3D></DataPoints></SourceData></Surface>`
	const points = `<Pnts><P id="1">0 0 1</P><P id="2">0 1 1</P><P id="3">1 0 1</P></Pnts>`
	tin := func(body string) string { return `<Definition surfType="TIN">` + body + `</Definition>` }
	source := func(body string) string { return `<SourceData>` + body + `</SourceData>` }
	for body, want := range map[string]string{
		``: "holds no face, no point of a survey and no breakline",
		`<Definition surfType="mesh">` + points + `</Definition>`:                                  `it is of kind "mesh"; TIN and grid are read`,
		tin(points + `<Faces><F>1 2 9</F></Faces>`):                                                "a face names point 9, which the surface does not hold",
		tin(points + `<Faces><F>1 2 3 1 2</F></Faces>`):                                            "its face 1 has 5 corners; faces of three and of four are read",
		tin(points + `<Faces><F>1 2 x</F></Faces>`):                                                `its face 1 names the point "x", which is no whole number`,
		tin(`<Pnts><P id="1">0 0</P></Pnts>`):                                                      "its point 1: northing, easting and level were expected, and there are 2 numbers",
		tin(`<Pnts><P id="1">0 0 NaN</P></Pnts>`):                                                  `its point 1: "NaN" is not a coordinate`,
		tin(`<Pnts><P id="1">0 0 1e99</P></Pnts>`):                                                 `its point 1: "1e99" is not a coordinate`,
		tin(`<Pnts><P>0 0 1</P></Pnts>`):                                                           `the id "" of a point is no whole number`,
		tin(`<Pnts><P id="1">0 0 1</P><P id="1">0 0 2</P></Pnts>`):                                 "its point 1 stands twice, at two places",
		tin(`<Pnts><P id="99999999999999999999">0 0 1</P></Pnts>`):                                 "of a point is no whole number",
		source(`<DataPoints><PntList3D>1 2 3 4</PntList3D></DataPoints>`):                          "4 numbers are no list of points with 3 numbers each",
		source(`<DataPoints><PntList3D>1 2 z</PntList3D></DataPoints>`):                            `point 1 of a list: "z" is not a coordinate`,
		source(`<Breaklines><Breakline name="k"/></Breaklines>`):                                   `the line "k" of its survey has 0 points; two are needed`,
		source(`<Contours><Contour elev="up"><PntList2D>0 0 1 1</PntList2D></Contour></Contours>`): `"up" is not the level of a contour`,
	} {
		f := surfaces(t, file(`<Surfaces><Surface name="bad">`+body+`</Surface>`+good+`</Surfaces>`))
		if len(f.Surfaces) != 1 || f.Surfaces[0].Name != "good" || !strings.Contains(fmt.Sprint(f.Notes), want) || !f.Notes.Any(finding.Fault) {
			t.Errorf("%s: %d surfaces, %v\nwant %s", body, len(f.Surfaces), f.Notes, want)
		}
	}
	for body, want := range map[string]string{
		tin(points + `<Faces><F>1 2 2</F><F>1 2 3</F></Faces>`):                                                                                                                 "1 faces with one corner twice",
		source(`<DataPoints pntRef="7"/><PointFiles/><DataPoints><PntList3D>0 0 1</PntList3D></DataPoints>`):                                                                    "names 2 points or files without their coordinates",
		source(`<Breaklines><RetWall name="w"><RetWallPnt height="1" offset="0">0 0 1</RetWallPnt><RetWallPnt height="1" offset="0">0 5 1</RetWallPnt></RetWall></Breaklines>`): `retaining wall "w" is read by its foot alone`,
	} {
		if f := surfaces(t, file(`<Surfaces><Surface name="odd">`+body+`</Surface></Surfaces>`)); len(f.Surfaces) != 1 || !strings.Contains(fmt.Sprint(f.Notes), want) {
			t.Errorf("%s: %d surfaces, %v\nwant %s", body, len(f.Surfaces), f.Notes, want)
		}
	}
}

func TestSurfacesWithinLimits(t *testing.T) {
	_, err := Read(strings.NewReader(file(ground)), Options{Surfaces: true, Limits: Limits{Ground: 5}})
	if err == nil || !strings.Contains(err.Error(), "more than 5 points and faces; try: the part along the route") {
		t.Errorf("got %v", err)
	}
	f := read(t, file(ground+`<CgPoints><CgPoint>1 2</CgPoint></CgPoints>`), Options{})
	if len(f.Surfaces) != 0 || !strings.Contains(fmt.Sprint(f.Notes), "passed over: Surfaces, with 1 in it") {
		t.Errorf("surfaces that nobody asked for: %v", f.Notes)
	}
}

// Surfaces are read as they come, so their unit must be known: by the file, ahead of them, or by whoever imports.
func TestUnitsOfSurfaces(t *testing.T) {
	at := func(units, behind string, u measure.Unit) (Vertex, string) {
		f, err := Read(strings.NewReader(head+units+ground+behind+"</LandXML>"), Options{Surfaces: true, Unit: u})
		if err != nil {
			return Vertex{}, err.Error()
		}
		return f.Surfaces[0].Points[1], fmt.Sprint(f.Notes)
	}
	feet := `<Units><Imperial linearUnit="USSurveyFoot" elevationUnit="feet"/></Units>`
	for _, c := range []struct {
		units, behind string
		unit          measure.Unit
		e, level      measure.Length
		want          string
	}{
		{feet, "", 0, 3048006096, 3352806706, "one word for both feet; read in US survey ft like its coordinates"},
		{`<Units><Imperial linearUnit="foot" elevationUnit="feet"/></Units>`, "", 0, 10 * measure.Foot, 11 * measure.Foot, "LandXML 1.2 in ft"},
		{`<Units><Imperial linearUnit="foot" elevationUnit="meter"/></Units>`, "", 0, 10 * measure.Foot, 11 * measure.Metre, "LandXML 1.2 in ft"},
		{"", "", measure.UnitFoot, 10 * measure.Foot, 11 * measure.Foot, "read in ft, as stated by whoever imported it"},
		{"", "", 0, 0, 0, "does not say in which unit it measures ahead of its surfaces"},
		{"", feet, measure.UnitSurveyFoot, 3048006096, 3352806706, "one word for both feet"},
		{"", feet, measure.UnitMetre, 0, 0, "the file states its units behind its surfaces, which were read in m with levels in m: it says US survey ft"},
	} {
		v, said := at(c.units, c.behind, c.unit)
		if v.At.E != c.e || v.Level != c.level || !strings.Contains(said, c.want) {
			t.Errorf("%s%s %v: %v %v, %s\nwant %v %v, %s", c.units, c.behind, c.unit, v.At.E, v.Level, said, c.e, c.level, c.want)
		}
	}
}

// The fast way to read a number gives what the slow one gives, digit by digit.
func TestPlainLengthAgainstFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		for range 200 {
			text := strconv.FormatUint(d.Uint64()>>d.IntN(64), 10)
			if i := d.IntN(len(text) + 3); i <= len(text) {
				text = text[:i] + "." + text[i:]
			}
			if d.IntN(2) == 0 {
				text = "-" + text
			}
			for _, u := range []measure.Unit{measure.UnitMetre, measure.UnitFoot, measure.UnitSurveyFoot, measure.UnitMillimetre, measure.UnitKilometre} {
				num, den, _ := nanometres(u)
				fast, ok := plainLength(text, uint64(num), uint64(den))
				slow, slowOK := exactLength(text, num, den)
				if ok && (!slowOK || fast != slow) {
					t.Fatalf("%s %s: %d, and in fractions %d %v", text, u, fast, slow, slowOK)
				}
				if got, gotOK := length(text, u); slowOK != gotOK || slowOK && got != slow {
					t.Fatalf("%s %s: %d %v, and in fractions %d %v", text, u, got, gotOK, slow, slowOK)
				}
			}
		}
	})
}

// truth is a line of tin_truth.json, in the file's own unit.
type truth struct {
	Points, Faces, Invisible int
	Area2d, Area3d, Vol0     float64
	Zmin, Zmax               float64
}

// figures of a surface in the unit of its file: area in plan and on the slope, volume down to zero, range of levels. The
// points that no face uses count in the range as well.
func (s Surface) figures(across, above measure.Unit) truth {
	unit := func(l measure.Length, u measure.Unit) float64 {
		num, den, _ := nanometres(u)
		return float64(l) * float64(den) / float64(num)
	}
	out := truth{Points: len(s.Points), Zmin: math.Inf(1), Zmax: math.Inf(-1)}
	for _, p := range s.Points {
		z := unit(p.Level, above)
		out.Zmin, out.Zmax = min(out.Zmin, z), max(out.Zmax, z)
	}
	for i, f := range s.Faces {
		if s.Hidden != nil && s.Hidden[i] {
			out.Invisible++
			continue
		}
		out.Faces++
		a, b, c := s.Points[f[0]], s.Points[f[1]], s.Points[f[2]]
		ux, uy, uz := unit(b.At.E-a.At.E, across), unit(b.At.N-a.At.N, across), unit(b.Level-a.Level, above)
		vx, vy, vz := unit(c.At.E-a.At.E, across), unit(c.At.N-a.At.N, across), unit(c.Level-a.Level, above)
		nx, ny, nz := uy*vz-uz*vy, uz*vx-ux*vz, ux*vy-uy*vx
		plan := math.Abs(nz) / 2
		out.Area2d += plan
		out.Area3d += math.Sqrt(nx*nx+ny*ny+nz*nz) / 2
		out.Vol0 += plan * (unit(a.Level, above) + unit(b.Level, above) + unit(c.Level, above)) / 3
	}
	return out
}

// Every file from outside is read or refused with a sentence, and its surfaces have the points, faces, hidden faces,
// areas, volume and levels that other code found in it (tin_truth.json, given to 4 decimals of the file's unit). The
// figures must agree to half a unit of that last decimal, and areas and volumes of millions to 1 in 10^9.
func TestOutsideSurfaces(t *testing.T) {
	files := outside(t)
	data, err := os.ReadFile(filepath.Join(filepath.Dir(files[0]), "tin_truth.json"))
	if err != nil {
		t.Skip("SKIPPED, NOT CHECKED AGAINST THE OUTSIDE: no ../shared/data/landxml/tin_truth.json")
	}
	var known map[string]map[string]truth
	if err := json.Unmarshal(data, &known); err != nil {
		t.Fatal(err)
	}
	var table strings.Builder
	w := tabwriter.NewWriter(&table, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "file\tsurface\tunit\tpoints\tfaces\thidden\tarea in plan\ton the slope\tvolume to 0\tlowest\thighest\tbreaklines\tworst off\t")
	compared := 0
	for _, name := range files {
		id := filepath.Base(name)
		f, err := readFile(t, name, Options{Surfaces: true, Spiral: measure.Millimetre})
		switch {
		case err != nil && len(err.Error()) < 20:
			t.Errorf("%s was refused without a sentence: %v", id, err)
		case err != nil && known[id] != nil:
			t.Errorf("%s: %v", id, err)
		case err == nil && strings.HasPrefix(id, "bad_"):
			t.Errorf("%s was read", id)
		case err != nil:
			fmt.Fprintf(w, "%s\t-\t\t\t\t\t\t\t\t\t\t\t\trefused: %v\n", id, err)
			continue
		}
		if len(f.Surfaces) != len(known[id]) {
			t.Errorf("%s: %d surfaces, want %d", id, len(f.Surfaces), len(known[id]))
		}
		if len(f.Surfaces) == 0 {
			fmt.Fprintf(w, "%s\t-\t\t\t\t\t\t\t\t\t\t\t\tread: no surface; %d alignments, %d plan features, %d points\n", id, len(f.Alignments), len(f.Features), len(f.Points))
		}
		for _, s := range f.Surfaces {
			want, ok := known[id][s.Name]
			if !ok {
				t.Errorf("%s: surface %q is not in the truth", id, s.Name)
				continue
			}
			got := s.figures(f.Unit, f.Elevations)
			off := got.off(want)
			if off > 1 || got.Points != want.Points || got.Faces != want.Faces || got.Invisible != want.Invisible {
				t.Errorf("%s, %s: %+v, want %+v", id, s.Name, got, want)
			}
			compared++
			fmt.Fprintf(w, "%s\t%.12s\t%s\t%d\t%d\t%d\t%.4f\t%.4f\t%.4f\t%.4f\t%.4f\t%d\t%.0f %%\t\n", id, s.Name, f.Unit, got.Points, got.Faces, got.Invisible,
				got.Area2d, got.Area3d, got.Vol0, got.Zmin, got.Zmax, len(s.Breaklines), 100*off)
		}
		if f.Notes.Any(finding.Fault) {
			t.Errorf("%s: %v", id, f.Notes)
		}
	}
	if compared != 14 {
		t.Errorf("%d surfaces compared, want 14", compared)
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	t.Log("\n" + table.String())
}

// off is how much of the tolerance the worst figure uses.
func (got truth) off(want truth) float64 {
	worst := 0.0
	for _, pair := range [][2]float64{{got.Area2d, want.Area2d}, {got.Area3d, want.Area3d}, {got.Vol0, want.Vol0}, {got.Zmin, want.Zmin}, {got.Zmax, want.Zmax}} {
		allowed := max(0.5e-4*(1+1e-6), 1e-9*math.Abs(pair[1]))
		worst = max(worst, math.Abs(pair[0]-pair[1])/allowed)
	}
	return worst
}

func FuzzReadSurfaces(f *testing.F) {
	f.Add(file(ground))
	f.Add(file(`<Surfaces><Surface name="a"><Definition><Faces><F>1 2 3</F></Faces><Pnts><P id="1">0 0 1</P><P id="2">0 1 1</P><P id="3">1 0 1</P></Pnts></Definition></Surface></Surfaces>`))
	f.Add(file(`<Surfaces><Surface><SourceData><Breaklines><RetWall><RetWallPnt>1 2 3</RetWallPnt><RetWallPnt>1 3 3</RetWallPnt></RetWall></Breaklines></SourceData></Surface></Surfaces>`))
	f.Fuzz(func(t *testing.T, text string) {
		got, err := Read(strings.NewReader(text), Options{Surfaces: true, NoLines: true, Unit: measure.UnitSurveyFoot})
		if err != nil {
			if err.Error() == "" {
				t.Fatal("refused without a sentence")
			}
			return
		}
		for _, s := range got.Surfaces {
			if s.Hidden != nil && len(s.Hidden) != len(s.Faces) {
				t.Fatalf("%d faces, %d of them told", len(s.Faces), len(s.Hidden))
			}
			for _, face := range s.Faces {
				for _, i := range face {
					if i < 0 || int(i) >= len(s.Points) {
						t.Fatalf("face %v of %d points", face, len(s.Points))
					}
				}
			}
			for _, p := range append(s.Breaklines, s.Boundaries...) {
				if len(p.Points) < 2 {
					t.Fatalf("a line of %d points", len(p.Points))
				}
			}
		}
	})
}

func BenchmarkReadSurface(b *testing.B) {
	var text strings.Builder
	text.WriteString(`<Surfaces><Surface name="G"><Definition surfType="TIN"><Pnts>`)
	for i := range 10_000 {
		fmt.Fprintf(&text, `<P id="%d">6399036.784479 148078.62759%d 1.85</P>`, i+1, i)
	}
	text.WriteString("</Pnts><Faces>")
	for i := range 20_000 {
		fmt.Fprintf(&text, "<F>%d %d %d</F>", i%9998+1, i%9998+2, i%9998+3)
	}
	text.WriteString("</Faces></Definition></Surface></Surfaces>")
	all := file(text.String())
	b.SetBytes(int64(len(all)))
	for b.Loop() {
		if _, err := Read(strings.NewReader(all), Options{Surfaces: true}); err != nil {
			b.Fatal(err)
		}
	}
}

// A face with four corners becomes two triangles, and the file is told that it does not say which way the face bends.
func TestFacesWithFourCornersAreSplit(t *testing.T) {
	f := surfaces(t, file(`<Surfaces><Surface name="G"><Definition surfType="grid"><Pnts><P id="1">0 0 1</P><P id="2">0 4 1</P><P id="3">4 4 2</P><P id="4">4 0 3</P></Pnts>`+
		`<Faces><F>1 2 3 4</F><F i="1">4 3 2 1</F></Faces></Definition></Surface></Surfaces>`))
	s := f.Surfaces[0]
	if fmt.Sprint(s.Faces, s.Hidden) != "[[0 2 3] [0 1 2] [3 1 0] [3 2 1]] [false false true true]" {
		t.Errorf("faces %v, hidden %v", s.Faces, s.Hidden)
	}
	if !strings.Contains(fmt.Sprint(f.Notes), "2 faces with four corners; each is split in two from its first corner to its third") {
		t.Errorf("notes %v", f.Notes)
	}
}
