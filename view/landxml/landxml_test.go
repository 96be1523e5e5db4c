package landxml

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/route"
	"trenchwright/tools/published"
)

const head = `<?xml version="1.0"?><LandXML xmlns="http://www.landxml.org/schema/LandXML-1.2" version="1.2">`
const metric = `<Units><Metric linearUnit="meter" angularUnit="grads"/></Units>`

func file(body string) string { return head + metric + body + "</LandXML>" }

func alignment(geometry string) string {
	return file(`<Alignments><Alignment name="A" length="0" staStart="100"><CoordGeom>` + geometry + `</CoordGeom></Alignment></Alignments>`)
}

func read(t testing.TB, text string, opts Options) File {
	t.Helper()
	f, err := Read(strings.NewReader(text), opts)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Northing is written before easting; a straight north is a straight north.
func TestNorthingFirst(t *testing.T) {
	f := read(t, alignment(`<Line><Start>1000 500</Start><End>1100 500</End></Line>`), Options{})
	a := f.Alignments[0]
	if a.Line.Length() != 100*measure.Metre || a.Line.Start().Bearing() != 0 {
		t.Errorf("length %v, bearing %v, want 100 m north", a.Line.Length(), a.Line.Start().Bearing())
	}
	if f.Origin != (route.Origin{E: 0, N: 1000 * measure.Metre}) || f.Origin.Coordinates(a.Line.Start().At) != (route.Coordinates{E: 500 * measure.Metre, N: 1000 * measure.Metre}) {
		t.Errorf("origin %v", f.Origin)
	}
	if a.StaStart != 100*measure.Metre {
		t.Errorf("station %v", a.StaStart)
	}
}

func TestTurnsByCentreAndByRadius(t *testing.T) {
	for _, c := range []struct {
		curve  string
		length float64 // metres
		turn   measure.Angle
		note   string
	}{
		{`<Curve rot="cw"><Start>0 0</Start><Center>0 10</Center><End>10 10</End></Curve>`, 5 * math.Pi, 90 * measure.Degree, ""},
		{`<Curve rot="ccw"><Start>0 0</Start><Center>0 10</Center><End>10 10</End></Curve>`, 15 * math.Pi, 0, ""},
		{`<Curve rot="cw" radius="10"><Start>0 0</Start><End>10 10</End></Curve>`, 5 * math.Pi, 90 * measure.Degree, "has no centre"},
		{`<Curve rot="ccw" radius="10"><Start>10 10</Start><End>0 0</End></Curve>`, 5 * math.Pi, 0, "has no centre"},
		{`<Curve rot="cw" radius="10" length="47.1239"><Start>0 0</Start><End>10 10</End></Curve>`, 15 * math.Pi, 0, "has no centre"},
		{`<Curve rot="cw" radius="11"><Start>0 0</Start><Center>0 10</Center><End>10 10</End></Curve>`, 5 * math.Pi, 0, "the file says radius 11.0000 m, its centre gives 10.0000 m"},
	} {
		f := read(t, alignment(c.curve), Options{})
		near(t, c.curve, f.Alignments[0].Line.Length().Metres(), c.length, 1e-8)
		if c.turn != 0 {
			a, b := f.Alignments[0].Line.Start().Bearing(), f.Alignments[0].Line.End().Bearing()
			near(t, c.curve, (b - a).Degrees(), c.turn.Degrees(), 1e-6)
		}
		if !strings.Contains(fmt.Sprint(f.Notes), c.note) {
			t.Errorf("%s: notes %v", c.curve, f.Notes)
		}
	}
}

// NIST SP 811: a foot is 0.3048 m; a US survey foot is 1200/3937 m and is rounded once.
func TestUnits(t *testing.T) {
	line := `<Alignments><Alignment name="A"><CoordGeom><Line><Start>0 0</Start><End>0 3937</End></Line></CoordGeom></Alignment></Alignments></LandXML>`
	for unit, want := range map[string]measure.Length{
		`<Imperial linearUnit="USSurveyFoot"/>`: 1200 * measure.Metre,
		`<Imperial linearUnit="foot"/>`:         3937 * measure.Foot,
		`<Imperial linearUnit="inch"/>`:         3937 * measure.Inch,
		`<Metric linearUnit="meter"/>`:          3937 * measure.Metre,
		`<Metric linearUnit="millimeter"/>`:     3937 * measure.Millimetre,
		`<Metric linearUnit="centimeter"/>`:     39370 * measure.Millimetre,
		`<Metric linearUnit="kilometer"/>`:      3937 * measure.Kilometre,
	} {
		f := read(t, head+"<Units>"+unit+"</Units>"+line, Options{})
		if got := f.Alignments[0].Line.Length(); got != want {
			t.Errorf("%s: %v, want %v", unit, got, want)
		}
	}
	if f := read(t, head+line, Options{Unit: measure.UnitSurveyFoot}); f.Alignments[0].Line.Length() != 1200*measure.Metre || !f.Notes.Any(finding.Assumed) {
		t.Error("a unit stated by whoever imports is not taken, or not said")
	}
}

// A number of the standard (xs:double) becomes a Length in one rounding, half away from zero.
func TestNumbers(t *testing.T) {
	for text, want := range map[string]measure.Length{
		"6399036.784479916096": 6399036784479916, "1e-3": 1e6, "-1.5E+2": -150e9, "0.": 0, ".5": 5e8, "+2": 2e9, "0.0000000005": 1, "-0.0000000005": -1,
		"0.00000000049999": 0, "1e-999999999": 0, "0e999999999": 0,
	} {
		if got, ok := length(text, measure.UnitMetre); !ok || got != want {
			t.Errorf("%s: %d, %v, want %d", text, got, ok, want)
		}
	}
	for _, bad := range []string{"", "1,5", "0x10", "1_000", "NaN", "INF", "1e10", "1e99", "1e999999999", "5 ft", strings.Repeat("1", 65)} {
		if got, ok := length(bad, measure.UnitMetre); ok {
			t.Errorf("%q was read as %d", bad, got)
		}
	}
}

func TestRefusesWithASentence(t *testing.T) {
	deep := strings.Repeat("<a>", 100)
	for _, c := range []struct{ text, want string }{
		{"", "line 1: the file holds no XML"},
		{"hello", "line 1: the file holds no XML"},
		{"<a", "line 1: this is not XML: unexpected EOF"},
		{head + "<Units>", "line 1: this is not XML: unexpected EOF"},
		{head + "&bomb;</LandXML>", "line 1: this is not XML: invalid character entity &bomb;"},
		{`<!DOCTYPE a [<!ENTITY b "c">]><a/>`, "line 1: the file declares a document type; entities that it might define are not read; try: the same file without <!DOCTYPE …>"},
		{`<LandXML/>`, `line 1: the file states LandXML version ""; 1.0, 1.1 and 1.2 are read`},
		{`<?xml version="1.0" encoding="utf-16"?><LandXML/>`, `line 1: the file is written in "utf-16"; UTF-8, ISO-8859-1 and Windows-1252 are read`},
		{head + "</LandXML>", "the file does not say in which unit it measures; try: state the unit: metre, foot or US survey foot"},
		{head + `<Units><Imperial linearUnit="mile"/></Units></LandXML>`, `line 1: the file measures in "mile"; millimeter, centimeter, meter, kilometer, foot, USSurveyFoot and inch are read`},
		{head + deep, "line 1: elements lie more than 64 deep in each other"},
		{file(""), "the file holds no alignment, no plan feature and no point"},
		{file("<Alignments><Alignment name='A'/></Alignments>"), `nothing in the file can be used: line 1: "A": it has no geometry`},
		{file("<Alignments><Alignment name='A'><AlignPIs/></Alignment></Alignments>"), `nothing in the file can be used: line 1: "A": it is given by its intersection points alone, which are not read`},
		{alignment("<Line><Start>0 x</Start><End>1 1</End></Line>"), `nothing in the file can be used: line 1: "A": its Line, number 1: "x" is not a coordinate`},
		{alignment("<Line><Start>0</Start><End>1 1</End></Line>"), `nothing in the file can be used: line 1: "A": its Line, number 1: northing and easting were expected, and perhaps a level, and there are 1 numbers`},
		{alignment("<Line><End>1 1</End></Line>"), `nothing in the file can be used: line 1: "A": its Line, number 1: no coordinates`},
		{alignment("<Line><Start>0 0</Start><End>0 10</End></Line>\n<Line><Start>0 11</Start><End>0 20</End></Line>"),
			`nothing in the file can be used: line 2: "A": its Line, number 2: element 2 begins 1.000 m from the end of element 1; try: allow a greater gap, where the drawing is meant to be that coarse`},
		{alignment(`<Spiral length="80" radiusStart="INF" radiusEnd="400" rot="ccw" spiType="clothoid"><Start>0 0</Start><PI>1 1</PI><End>2 2</End></Spiral>`),
			`nothing in the file can be used: line 1: "A": its Spiral, number 1: a spiral cannot be laid out as it is; state how far arcs may leave it, for example 1 mm`},
		{alignment("<Chain>1 2 3</Chain>"), `nothing in the file can be used: line 1: "A": its Chain, number 1: this kind of element is not read`},
		{alignment(`<Curve><Start>0 0</Start><Center>0 10</Center><End>10 10</End></Curve>`), `nothing in the file can be used: line 1: "A": its Curve, number 1: it does not say which way it turns: rot is "", cw or ccw was expected`},
		{alignment(`<Curve rot="cw"><Start>0 0</Start><Center>0 10</Center><End>10 11</End></Curve>`),
			`nothing in the file can be used: line 1: "A": its Curve, number 1: element 1: the ends of the arc lie 49.876 mm off its radius of 10.000 m; try: allow a greater gap, where the drawing is meant to be that coarse`},
	} {
		_, err := Read(strings.NewReader(c.text), Options{})
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%.120s\n got %v\nwant %s", c.text, err, c.want)
		}
	}
}

// A spiral is refused with a sentence whichever way it is wrong.
func TestRefusesSpirals(t *testing.T) {
	const good = `<Spiral length="80" radiusStart="INF" radiusEnd="400" rot="ccw" spiType="clothoid"><Start>0 0</Start><PI>53.3 0</PI><End>79.9 -2.66</End></Spiral>`
	for _, c := range []struct{ from, to, want string }{
		{`"clothoid"`, `"bloss"`, `a spiral of type "bloss" is not read, only a clothoid`},
		{`"ccw"`, `"up"`, `rot is "up", cw or ccw was expected`},
		{`"80"`, `"-80"`, `"-80" is not its length`},
		{`"400"`, `"0"`, `"0" is not a radius; INF is an infinite one`},
		{`"400"`, `"1"`, "it turns 2292°, more than once round"},
		{`53.3 0`, `0 0`, "its intersection point is one of its ends"},
		{`"80"`, `"81"`, "a clothoid of its length and radii ends 1.0"},
	} {
		_, err := Read(strings.NewReader(alignment(strings.Replace(good, c.from, c.to, 1))), Options{Spiral: measure.Millimetre, Gap: 100 * measure.Millimetre})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s for %s: got %v\nwant %s", c.to, c.from, err, c.want)
		}
	}
	if _, err := Read(strings.NewReader(alignment(good)), Options{Spiral: measure.Millimetre, Gap: 100 * measure.Millimetre}); err != nil {
		t.Error(err)
	}
}

// Every limit is named in its sentence.
func TestLimits(t *testing.T) {
	many := file("<CgPoints>" + strings.Repeat("<CgPoint>1 2</CgPoint>", 50) + "</CgPoints>")
	for _, c := range []struct {
		limits Limits
		want   string
	}{
		{Limits{Elements: 20}, "more than 20 elements"},
		{Limits{Kept: 20}, "more than 20 points and parts of lines"},
		{Limits{Depth: 2}, "more than 2 deep"},
	} {
		if _, err := Read(strings.NewReader(many), Options{Limits: c.limits}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got %v, want %s", err, c.want)
		}
	}
	endless := strings.Repeat("<CgPoint>1 2</CgPoint>", 1<<17) // 2.8 MB
	if _, err := Read(strings.NewReader(file("<CgPoints>"+endless+"</CgPoints>")), Options{Limits: Limits{Bytes: 1 << 20}}); err == nil || !strings.Contains(err.Error(), "longer than 1 MB") {
		t.Errorf("got %v", err)
	}
	fat := file(`<CgPoints name="` + strings.Repeat("x", 3<<20) + `"/>`)
	if _, err := Read(strings.NewReader(fat), Options{Limits: Limits{Token: 1 << 20}}); err == nil || !strings.Contains(err.Error(), "one element or text is longer than 1 MB") {
		t.Errorf("got %v", err)
	}
}

// One alignment that cannot be read does not take the others with it.
func TestGoodBesideBad(t *testing.T) {
	f := read(t, file(`<Alignments>
<Alignment name="bad"><CoordGeom><Line><Start>0 0</Start><End>nowhere</End></Line></CoordGeom></Alignment>
<Alignment name="good" length="10.5"><CoordGeom><Line length="10.1"><Start>0 0</Start><End>0 10</End></Line></CoordGeom><StaEquation staAhead="5"/></Alignment>
</Alignments>
<Surfaces><Surface/><Surface/></Surfaces><other:thing xmlns:other="x"/>`), Options{File: "job.xml"})
	if len(f.Alignments) != 1 || f.Alignments[0].Name != "good" || f.Alignments[0].At != 3 {
		t.Fatalf("alignments %+v", f.Alignments)
	}
	var got []string
	for _, n := range f.Notes {
		got = append(got, fmt.Sprintf("%s %s:%d %s", n.Kind, n.Where.File, n.Where.Line, n.Text))
	}
	want := []string{
		"note job.xml:0 LandXML 1.2 in m, northing before easting; angles in the file (grads) are not used",
		"note job.xml:0 passed over: Surfaces, with 2 in it",
		`fault job.xml:2 "bad": its Line, number 1: northing and easting were expected, and perhaps a level, and there are 1 numbers`,
		`attention job.xml:3 "good" has 1 station equations; chainages here count on without them`,
		`attention job.xml:3 "good": the file says that its Line, number 1, is 10.1000 m long, its coordinates give 10.0000 m`,
		`attention job.xml:3 "good": the file says that the whole is 10.5000 m long, its coordinates give 10.0000 m`,
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestNamespacesAndLetters(t *testing.T) {
	body := "<CgPoints><CgPoint name=\"Pfosten \xfc\x80\">1 2 3</CgPoint></CgPoints></LandXML>"
	latin := `<?xml version="1.0" encoding="windows-1252"?><LandXML version="1.1">` + metric + body
	f := read(t, latin, Options{})
	if f.Points[0].Name != "Pfosten ü€" || f.Version != "1.1" {
		t.Errorf("name %q, version %s", f.Points[0].Name, f.Version)
	}
	for _, v := range []string{"1.0", "1.1", "1.2"} {
		f := read(t, `<l:LandXML xmlns:l="http://www.landxml.org/schema/LandXML-`+v+`"><l:Units><l:Metric linearUnit="meter"/></l:Units><l:CgPoints><l:CgPoint>1 2</l:CgPoint></l:CgPoints></l:LandXML>`, Options{})
		if f.Version != v || len(f.Points) != 1 {
			t.Errorf("version %s: %+v", v, f)
		}
	}
}

// A place may be the name of a point, written before it or after.
func TestPointsByName(t *testing.T) {
	points := `<CgPoints name="g"><CgPoint name="1">0 0 7</CgPoint><CgPoint name="2">0 30</CgPoint><CgPoint name="3" pntRef="2"/><CgPoint name="4">1 1</CgPoint><CgPoint name="4">2 2</CgPoint></CgPoints>`
	f := read(t, file(`<PlanFeatures><PlanFeature name="kerb"><CoordGeom><Line><Start pntRef="1"/><End pntRef="3"/></Line></CoordGeom></PlanFeature></PlanFeatures>`+points), Options{})
	if len(f.Features) != 1 || f.Features[0].Line.Length() != 30*measure.Metre || len(f.Points) != 5 || !f.Points[0].HasLevel || f.Points[1].HasLevel {
		t.Errorf("features %+v, points %+v", f.Features, f.Points)
	}
	for ref, want := range map[string]string{"9": `refers to point "9", which the file does not hold`, "4": "a name that stands for more than one place"} {
		f := read(t, file(`<PlanFeatures><PlanFeature name="kerb"><CoordGeom><Line><Start pntRef="1"/><End pntRef="`+ref+`"/></Line></CoordGeom></PlanFeature></PlanFeatures>`+points), Options{})
		if len(f.Features) != 0 || !strings.Contains(fmt.Sprint(f.Notes), want) {
			t.Errorf("%s: %v", ref, f.Notes)
		}
	}
}

func TestIrregularLine(t *testing.T) {
	f := read(t, alignment(`<IrregularLine><Start>0 0</Start><End>10 10</End><PntList3D>0 0 1 0 10 1 0 10 1 10 10 1</PntList3D></IrregularLine>`), Options{})
	if got := f.Alignments[0].Line.Length(); got != 20*measure.Metre {
		t.Errorf("length %v", got)
	}
}

// The five points integrate powers up to the ninth exactly.
func TestGauss(t *testing.T) {
	for n := range 10 {
		sum := 0.0
		for i, x := range gaussAt {
			sum += gaussWeight[i] * math.Pow(x, float64(n))
		}
		want := 0.0
		if n%2 == 0 {
			want = 2 / float64(n+1)
		}
		near(t, fmt.Sprint("power ", n), sum, want, 1e-15)
	}
}

// Slow twin: a clothoid summed in short straights stays within the tolerance of the arcs, which end where it ends, join
// without a kink and are as long as it to the tolerance.
func TestSpiralAgainstSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		within := func(a, b float64) float64 { return a + d.Float64()*(b-a) }
		radius := func() float64 {
			if d.IntN(3) == 0 {
				return math.Inf(1)
			}
			return within(15, 800)
		}
		r0, r1, hand := radius(), radius(), math.Copysign(1, d.Float64()-0.5)
		if math.IsInf(r0, 1) && math.IsInf(r1, 1) {
			r1 = 50
		}
		l := within(5, 60)
		start, from := within(0, 360), route.Point{E: within(-1e4, 1e4), N: within(-1e4, 1e4)}
		c := clothoid{from: from, along: route.Towards(measure.FromDegrees(start)), k0: hand / r0, k1: hand / r1, length: l}
		allowed := within(0.0001, 0.01)
		var arcs []route.Element
		off := math.Inf(1)
		for n := 1; off > allowed; n *= 2 {
			arcs, off = c.arcs(n)
		}
		line, err := route.Chain(arcs, 1e-6)
		if err != nil {
			t.Fatal(err)
		}
		const n = 20_000
		at := from
		for i := range n {
			s := (float64(i) + 0.5) * l / n
			turn := hand * (s/r0 + (1/r1-1/r0)*s*s/(2*l))
			at = at.Plus(c.along.Turned(turn).Times(l / n))
			if i%500 == 250 {
				if feet := line.Nearest(at, 0); feet[0].Distance.Metres() > allowed*1.05+1e-6 {
					t.Fatalf("at %v m the arcs leave the clothoid by %v m, %v were allowed", s, feet[0].Distance.Metres(), allowed)
				}
			}
		}
		if m := line.End().At.Distance(at); m > 1e-6 {
			t.Fatalf("the arcs end %v m from the clothoid", m)
		}
		if k := line.Kinks(measure.Degree / 10_000); len(k) > 0 {
			t.Fatalf("kinks %+v", k)
		}
		if m := math.Abs(line.Length().Metres() - l); m > allowed {
			t.Fatalf("the arcs are %v m longer than the clothoid", m)
		}
	})
}

// published.md 3.10 and 3.11: vertical curves, elevations at stations.
func TestVerticalCurvesAsPublished(t *testing.T) {
	for _, v := range published.Values(t, "vertical_curve", 2) {
		var in struct {
			PVI, El, L float64
			G1         float64 `json:"g1_pct"`
			G2         float64 `json:"g2_pct"`
			Stations   []float64
		}
		var want struct {
			El      []float64
			Turning [2]float64
		}
		published.Decode(t, v.Input, &in)
		published.Decode(t, v.Expect, &want)
		f := read(t, file(fmt.Sprintf(`<Alignments><Alignment name="A" staStart="%v"><CoordGeom><Line><Start>0 0</Start><End>0 4000</End></Line></CoordGeom>
<Profile><ProfAlign name="p"><PVI>%v %v</PVI><ParaCurve length="%v">%v %v</ParaCurve><PVI>%v %v</PVI></ProfAlign></Profile></Alignment></Alignments>`,
			in.PVI-2000, in.PVI-1000, in.El-10*in.G1, in.L, in.PVI, in.El, in.PVI+1000, in.El+10*in.G2)), Options{})
		p := f.Alignments[0].Profiles[0]
		level := func(station float64) float64 {
			l, ok := p.Level(measure.FromMetres(station) - f.Alignments[0].StaStart)
			if !ok {
				t.Fatalf("no level at %v", station)
			}
			return l.Metres()
		}
		for i, s := range in.Stations {
			near(t, fmt.Sprint(v.ID, " at ", s), level(s), want.El[i], v.Tol)
		}
		near(t, v.ID+" turning point", level(want.Turning[0]), want.Turning[1], v.Tol)
		if a, b, c := level(want.Turning[0]-1), level(want.Turning[0]), level(want.Turning[0]+1); (a-b)*(c-b) < 0 {
			t.Errorf("%s: %v does not turn at %v", v.ID, []float64{a, b, c}, want.Turning[0])
		}
	}
}

// A profile is smooth where a curve rounds it and follows its grades elsewhere; its curves leave each point as they
// should: E = L·(g2-g1)/8 for a parabola, R·(sec(turn/2)-1) square to the bisector for a circle, here with small turns.
func TestProfileCurves(t *testing.T) {
	text := `<Alignments><Alignment name="A" staStart="50"><CoordGeom><Line><Start>0 0</Start><End>0 400</End></Line></CoordGeom><Profile><ProfAlign name="p">
<PVI>50 10</PVI><ParaCurve length="40">150 11</ParaCurve><UnsymParaCurve lengthIn="10" lengthOut="30">250 9</UnsymParaCurve><CircCurve radius="-500" length="9">350 10</CircCurve><PVI>450 8</PVI></ProfAlign></Profile></Alignment></Alignments>`
	f := read(t, file(text), Options{})
	p := f.Alignments[0].Profiles[0]
	at := func(ch float64) float64 {
		l, ok := p.Level(measure.FromMetres(ch))
		if !ok {
			t.Fatalf("no level at %v", ch)
		}
		return l.Metres()
	}
	near(t, "on the first grade", at(50), 10.5, 1e-9)
	near(t, "parabola", at(100), 11+40*(-0.02-0.01)/8, 1e-9)
	near(t, "two parabolas", at(200), 9+10*30/(2*40.0)*(0.01+0.02), 1e-9)
	turn := math.Atan(0.01) + math.Atan(0.02) // the grades before and behind 350 are +1 % and -2 %
	near(t, "circle", at(300), 10-500*(1/math.Cos(turn/2)-1), 2e-6)
	last, slope := at(0), 0.01
	for ch := 0.01; ch < 400; ch += 0.01 {
		now := at(ch)
		if d := (now - last) / 0.01; math.Abs(d-slope) > 0.01*0.03/10+1e-4 {
			t.Fatalf("the grade jumps from %v to %v at %v", slope, d, ch)
		} else {
			slope = d
		}
		last = now
	}
	if _, ok := p.Level(-1); ok {
		t.Error("a level before the profile")
	}
	if _, ok := p.Level(400*measure.Metre + 1); ok {
		t.Error("a level behind the profile")
	}
}

func TestProfileFaults(t *testing.T) {
	for pvis, want := range map[string]string{
		`<PVI>0 1</PVI>`:                                      "it needs two points, and has 1",
		`<PVI>0 1</PVI><PVI>0 2</PVI>`:                        "its stations do not rise",
		`<PVI>0 1</PVI><PVI>5</PVI>`:                          "a station and a level were expected, and there are 1 numbers",
		`<PVI>0 1</PVI><ParaCurve>5 1</ParaCurve>`:            "a curve has no length",
		`<PVI>0 1</PVI><CircCurve>5 1</CircCurve>`:            "a circular curve has no radius",
		`<CircCurve radius="5">0 1</CircCurve><PVI>5 1</PVI>`: "it begins or ends with a curve",
		`<PVI>0 1</PVI><ParaCurve length="8">5 1</ParaCurve><ParaCurve length="8">9 2</ParaCurve><PVI>20 1</PVI>`: "its curves overlap",
	} {
		f := read(t, file(`<Alignments><Alignment name="A"><CoordGeom><Line><Start>0 0</Start><End>0 400</End></Line></CoordGeom><Profile><ProfAlign name="p">`+pvis+`</ProfAlign></Profile></Alignment></Alignments>`), Options{})
		if len(f.Alignments[0].Profiles) != 0 || !strings.Contains(fmt.Sprint(f.Notes), "is left out: "+want) {
			t.Errorf("%s: %v", pvis, f.Notes)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(alignment(`<Line length="100"><Start>1000 500</Start><End>1100 500</End></Line><Curve rot="cw" radius="10"><Start>1100 500</Start><Center>1100 510</Center><End>1110 510</End></Curve>`))
	f.Add(alignment(`<Spiral length="80" radiusStart="INF" radiusEnd="400" rot="ccw" spiType="clothoid"><Start>0 0</Start><PI>53.3 0</PI><End>79.9 -2.66</End></Spiral>`))
	f.Add(file(`<CgPoints name="g"><CgPoint name="1">0 0 7</CgPoint><CgPoint name="3" pntRef="2"/></CgPoints>`))
	f.Add(file(`<Alignments><Alignment name="A" staStart="50"><CoordGeom><Line><Start>0 0</Start><End>0 400</End></Line></CoordGeom><Profile><ProfAlign name="p"><PVI>50 10</PVI><ParaCurve length="40">150 11</ParaCurve><CircCurve radius="-500">350 10</CircCurve><PVI>450 8</PVI></ProfAlign></Profile></Alignment></Alignments>`))
	f.Add(file(network))
	f.Add(file(`<Alignments><Alignment name="A"><CoordGeom><Line><Start>0 0</Start><End>0 400</End></Line></CoordGeom><Profile><ProfSurf name="g"><PntList2D>0 1 5 2</PntList2D><PntList2D>7 1</PntList2D></ProfSurf></Profile></Alignment></Alignments>`))
	f.Add(`<?xml version="1.0" encoding="iso-8859-1"?><!DOCTYPE x>`)
	f.Fuzz(func(t *testing.T, text string) {
		got, err := Read(strings.NewReader(text), Options{Spiral: measure.Millimetre, Gap: measure.Metre, Unit: measure.UnitMetre, Pipes: true})
		if err != nil {
			if err.Error() == "" {
				t.Fatal("refused without a sentence")
			}
			return
		}
		for _, a := range append(got.Alignments, got.Features...) {
			if a.Line.Length() <= 0 {
				t.Fatalf("an alignment of %v", a.Line.Length())
			}
			for _, g := range a.Ground {
				for _, s := range g.Stretches {
					for i := 1; i < len(s); i++ {
						if s[i].Chainage < s[i-1].Chainage {
							t.Fatalf("stations fall: %v", s)
						}
					}
				}
			}
			for _, p := range a.Profiles {
				first, last := p.PVIs[0].Chainage, p.PVIs[len(p.PVIs)-1].Chainage
				for _, ch := range []measure.Length{first, first + (last-first)/2, last} {
					if _, ok := p.Level(ch); !ok {
						t.Fatalf("no level at %v within %v to %v", ch, first, last)
					}
				}
			}
		}
	})
}

func BenchmarkPassOverSurface(b *testing.B) {
	text := file("<Surfaces><Surface><Definition><Pnts>" + strings.Repeat(`<P id="1">6399036.784479916096 148078.627592507284 1.85</P>`, 10_000) +
		"</Pnts></Definition></Surface></Surfaces><CgPoints><CgPoint>1 2</CgPoint></CgPoints>")
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := Read(strings.NewReader(text), Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
