package landxml

import (
	"bufio"
	"encoding/xml"
	"io"
	"math/bits"
	"strconv"
	"strings"
	"time"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// Document is what Write writes, in the words of what Read answers. The same document gives the same bytes.
type Document struct {
	Program, Version string       // of whoever writes
	Project          string       // its name
	Date, Time       string       // 2026-03-31 and 14:30:00, as the document states them; both empty: it has none, and the file says so
	Unit             measure.Unit // metre, foot or US survey foot, of coordinates, stations and levels alike; NoUnit: metre
	System           System
	Note             string       // what whoever reads the coordinates has to know
	Origin           route.Origin // that Lines are relative to
	Alignments       []Alignment  // Name, Desc, State, Line, StaStart, Profiles and Ground are written
	Surfaces         []Surface
	Points           []Point // in their groups
}

// undated stands where the schema demands a date and the document has none.
const undated, midnight = "0001-01-01", "00:00:00"

// Write writes LandXML 1.2. Nothing is written of a document that the schema or Read would refuse: the error, a Refusal,
// says why. Coordinates, stations and lengths are grid figures; where a line has a scale factor its ground chainages are
// turned into grid stations, and the file says so.
func Write(out io.Writer, d Document) error {
	if d.Unit == measure.NoUnit {
		d.Unit = measure.UnitMetre
	}
	if why := d.fault(); why != "" {
		return &Refusal{finding.Finding{ID: "landxml.write", Kind: finding.Fault, Text: why}}
	}
	w := &writer{out: bufio.NewWriter(out), unit: d.Unit}
	w.document(d)
	return w.out.Flush() // a bufio.Writer keeps its first error
}

// writer writes elements, one a line, each as far in as it lies deep.
type writer struct {
	out   *bufio.Writer
	unit  measure.Unit
	depth int
}

// start begins an element: names and values of its attributes in turn; those without a value are left out.
func (w *writer) start(name string, attrs ...string) { w.tag(name, ">\n", attrs); w.depth++ }

// empty is an element without content.
func (w *writer) empty(name string, attrs ...string) { w.tag(name, "/>\n", attrs) }

// text is an element that holds nothing but text.
func (w *writer) text(name, text string, attrs ...string) {
	w.tag(name, ">", attrs)
	w.put(escaped(text), "</", name, ">\n")
}

func (w *writer) end(name string) {
	w.depth--
	w.indent()
	w.put("</", name, ">\n")
}

func (w *writer) tag(name, close string, attrs []string) {
	w.indent()
	w.put("<", name)
	for i := 0; i < len(attrs); i += 2 {
		if attrs[i+1] != "" {
			w.put(" ", attrs[i], `="`, escaped(attrs[i+1]), `"`)
		}
	}
	w.put(close)
}

func (w *writer) indent() {
	for range w.depth {
		w.put("  ")
	}
}

func (w *writer) put(parts ...string) {
	for _, p := range parts {
		_, _ = w.out.WriteString(p) // Flush tells
	}
}

// escaped is text as XML holds it; letters that XML cannot hold become \ufffd.
func escaped(text string) string {
	plain := true
	for _, c := range text {
		plain = plain && c >= ' ' && c < 0x7f && !strings.ContainsRune(`<>&"'`, c)
	}
	if plain {
		return text
	}
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text)) // a Builder takes everything
	return b.String()
}

func (w *writer) document(d Document) {
	w.put(xml.Header)
	date, clock := d.Date, d.Time
	if date == "" {
		date, clock = undated, midnight
	}
	w.start("LandXML", "xmlns", standard+"1.2", "xmlns:xsi", "http://www.w3.org/2001/XMLSchema-instance",
		"xsi:schemaLocation", standard+"1.2 "+standard+"1.2/LandXML-1.2.xsd",
		"date", date, "time", clock, "version", "1.2", "language", "English", "readOnly", "false")
	w.units()
	w.empty("CoordinateSystem", "desc", d.note(), "name", d.System.Name, "epsgCode", d.System.EPSG,
		"horizontalDatum", d.System.Horizontal, "verticalDatum", d.System.Vertical)
	if d.Project != "" || d.Date == "" {
		desc := ""
		if d.Date == "" {
			desc = "The document states no date; " + undated + " stands for none."
		}
		w.projectNamed(d.Project, desc)
	}
	if d.Program != "" {
		w.empty("Application", "name", d.Program, "version", d.Version)
	}
	w.alignments(d)
	w.groups(d.Points)
	w.surfaces(d.Surfaces)
	w.end("LandXML")
}

// projectNamed writes the project; the schema wants its name even where it is empty.
func (w *writer) projectNamed(name, desc string) {
	w.indent()
	w.put(`<Project name="`, escaped(name), `"`)
	if desc != "" {
		w.put(` desc="`, escaped(desc), `"`)
	}
	w.put("/>\n")
}

func (w *writer) units() {
	w.start("Units")
	if w.unit == measure.UnitMetre {
		w.empty("Metric", "areaUnit", "squareMeter", "linearUnit", "meter", "volumeUnit", "cubicMeter", "temperatureUnit", "celsius",
			"pressureUnit", "milliBars", "diameterUnit", "millimeter", "angularUnit", "decimal degrees", "directionUnit", "decimal degrees", "elevationUnit", "meter")
	} else {
		linear := map[measure.Unit]string{measure.UnitFoot: "foot", measure.UnitSurveyFoot: "USSurveyFoot"}[w.unit]
		w.empty("Imperial", "areaUnit", "squareFoot", "linearUnit", linear, "volumeUnit", "cubicYard", "temperatureUnit", "fahrenheit",
			"pressureUnit", "inchHG", "diameterUnit", "inch", "angularUnit", "decimal degrees", "directionUnit", "decimal degrees", "elevationUnit", "feet")
	}
	w.end("Units")
}

// note says what the figures of the file are.
func (d Document) note() string {
	text := "Northing before easting, in " + d.Unit.String() + "."
	if d.Unit == measure.UnitSurveyFoot {
		text += " Levels are in US survey ft like the coordinates; the word for their unit, feet, is the only one that LandXML has."
	}
	for _, a := range d.Alignments {
		if s := a.Line.Scale(); s != 1 {
			text += " Lengths along a line are grid distances: distances on the ground times " + strconv.FormatFloat(s, 'f', -1, 64) + "."
			break
		}
	}
	if d.Note != "" {
		text += " " + d.Note
	}
	return text
}

// figure is a length in the file's unit with at most nine decimals: exact in metres, and in feet within 0.16 nm, so that
// reading gives back the same nanometre. This is the one place where lengths are rounded on the way out.
func (w *writer) figure(l measure.Length) string {
	num, den, _ := nanometres(w.unit)
	hi, lo := bits.Mul64(uint64(l.Abs()), uint64(den)*1e9)
	lo, carry := bits.Add64(lo, uint64(num)/2, 0)
	n, _ := bits.Div64(hi+carry, lo, uint64(num))
	text := strconv.FormatUint(n, 10)
	text = strings.Repeat("0", max(0, 10-len(text))) + text
	text = strings.TrimRight(strings.TrimRight(text[:len(text)-9]+"."+text[len(text)-9:], "0"), ".")
	if l < 0 && n != 0 {
		text = "-" + text
	}
	return text
}

// place is a point as the standard orders it.
func (w *writer) place(c route.Coordinates) string { return w.figure(c.N) + " " + w.figure(c.E) }

func (w *writer) vertex(v Vertex) string { return w.place(v.At) + " " + w.figure(v.Level) }

// dated tells whether date and time are none or such as the schema takes.
func (d Document) dated() bool {
	if d.Date == "" && d.Time == "" {
		return true
	}
	_, bad := time.Parse(time.DateOnly, d.Date)
	_, worse := time.Parse(time.TimeOnly, d.Time)
	return bad == nil && worse == nil
}
