// Package routein makes the route of a job from what somebody else drew or measured: alignments in LandXML, lines in
// GeoJSON, or a list of points. It says what it understood, and refuses to guess which line was drawn.
//
//	routein.go     what has to be said, what comes out, and which reader a file goes to
//	drawn.go       which line was drawn: what it means, what is missing
//	alignment.go   an alignment as nodes, legs and curves, with the levels of its profile
//	geo.go         lines in WGS 84 on a grid of the job's own
//	network.go     several lines as one network
//	pointlist.go   a list of points, or a group of points in LandXML, as nodes in the order of the file
package routein

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/place/route"
)

// Want is what the person who imports has to say.
type Want struct {
	File      string          // its name, for findings
	Line      job.DrawnLine   // which line was drawn; its Kind is required
	Alignment string          // LandXML and GeoJSON: which line, by its name; needed where there are several
	Together  bool            // LandXML and GeoJSON: all lines together are the run, joined where their ends meet
	Points    string          // LandXML: the run goes through the points of this group, in the order of the file; AllPoints: through all
	Columns   string          // points: the order of the columns, PENZ or P,E,N,Z; empty: from the heading
	Unit      measure.Unit    // of a file that states none
	Spiral    measure.Length  // how far arcs that stand for a spiral may leave it; 0: a spiral is refused
	Height    *measure.Length // GeoJSON: of the job above the ellipsoid of WGS 84; nil: nobody said
	Speech    wording.Speech
}

// Route is what came in: the part of a job that says where the run goes, and what was understood.
type Route struct {
	Name        string // of the alignment; empty: the file gives none
	Coordinates job.Coordinates
	Route       job.Route
	Heard       []string       // what was understood, in sentences
	Length      measure.Length // of all legs, as the coordinates have it
}

// Read reads a file: LandXML where its text begins with <, GeoJSON where it begins with {, anything else as a list of points. With a fault among the
// findings the route is empty.
func Read(r io.Reader, w Want) (Route, finding.List) {
	if faults := w.Faults(); len(faults) > 0 {
		return Route{}, faults
	}
	in := bufio.NewReader(r)
	read := fromPoints
	switch begin, _ := in.Peek(512); first(begin) {
	case '<':
		read = fromLandXML
	case '{':
		read = fromGeoJSON
	}
	out, found := read(in, w)
	if found.Any(finding.Fault) {
		return Route{}, found
	}
	out.Coordinates.Line = w.Line
	out.Heard = append(out.Heard, Said(w.Line))
	return out, append(found, smallTurns(out, w)...)
}

// first is the first sign of a text, behind blanks and the marks of UTF-8 and UTF-16.
func first(begin []byte) byte {
	if text := bytes.TrimLeft(begin, "\x00 \t\r\n\xef\xbb\xbf\xfe\xff"); len(text) > 0 {
		return text[0]
	}
	return 0
}

func fault(w Want, id, text, try string) finding.List {
	return finding.List{{ID: "routein." + id, Kind: finding.Fault, Where: finding.Where{File: w.File}, Text: text, Try: try}}
}

// slight is a turn that hardly anybody means: common practice, no source.
const slight = measure.Degree

// smallTurns says where the run turns so little that the mitre which stands for it may not be meant.
func smallTurns(in Route, w Want) finding.List {
	at := map[string]*job.Node{}
	for i := range in.Route.Nodes {
		at[in.Route.Nodes[i].ID] = &in.Route.Nodes[i]
	}
	var where []string
	legs := in.Route.Legs
	for i := 1; i < len(legs); i++ {
		a, b := legs[i-1], legs[i]
		if a.To != b.From || len(a.Via)+len(b.Via) > 0 {
			continue // curves end in their tangents: a turn beside one is the file's own
		}
		turn := math.Abs(bearing(at[b.From], at[b.To]) - bearing(at[a.From], at[a.To]))
		turn = math.Min(turn, 2*math.Pi-turn)
		if turn > route.Smooth.Radians() && turn < slight.Radians() {
			where = append(where, fmt.Sprintf("%s by %.2f°", a.To, turn*180/math.Pi))
		}
	}
	if len(where) == 0 {
		return nil
	}
	return finding.List{{ID: "routein.slight-turns", Kind: finding.Attention, Where: finding.Where{File: w.File},
		Text: "the run turns by less than 1° at " + firstFew(where) + "; each of these becomes a sawn mitre",
		Try:  "leave these points out where the run goes straight on"}}
}

// bearing is the direction from one node to another, radians clockwise from north.
func bearing(a, b *job.Node) float64 {
	return math.Atan2(b.At[0]-a.At[0], b.At[1]-a.At[1])
}

// firstFew names five things and counts the rest.
func firstFew(all []string) string {
	const few = 5
	text, rest := "", len(all)-few
	for i, one := range all[:min(few, len(all))] {
		switch {
		case i == 0:
		case rest <= 0 && i == len(all)-1:
			text += " and "
		default:
			text += ", "
		}
		text += one
	}
	if rest > 0 {
		text += fmt.Sprintf(" and %d more", rest)
	}
	return text
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// metres shows a length that was computed from coordinates.
func metres(l measure.Length) string { return measure.Format{Survey: true, Places: 3}.Length(l) }

// scale is the unit that a job's coordinates are written in. A file in any other unit is written in metres.
type scale struct {
	unit   job.CoordUnit
	metres float64 // in one
	places float64 // 1 over the last decimal that is written
}

// scaleOf rounds coordinates to a whole nanometre, or to 1e-8 ft (3 nm): what the file's own decimals come back as.
func scaleOf(u measure.Unit) scale {
	switch u {
	case measure.UnitFoot:
		return scale{job.CoordFeet, 0.3048, 1e8}
	case measure.UnitSurveyFoot:
		return scale{job.CoordUSSurvey, 1200.0 / 3937, 1e8}
	}
	return scale{job.CoordMetres, 1, 1e9}
}

// written is a length as a number in the job's coordinate unit.
func (s scale) written(l measure.Length) float64 {
	return math.Round(l.Metres()/s.metres*s.places) / s.places
}

func (s scale) point(c route.Coordinates) *[2]float64 {
	return &[2]float64{s.written(c.E), s.written(c.N)}
}

func (s scale) level(l measure.Length) *float64 {
	z := s.written(l)
	return &z
}
