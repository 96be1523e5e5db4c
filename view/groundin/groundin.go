// Package groundin makes surfaces of the ground from what somebody surveyed or drew: a surface in LandXML, or a list of
// points with the lines that they are on. It says what it understood, and triangulates only what has no faces of its own.
//
//	groundin.go   what has to be said, what comes out, and which reader a file goes to
//	faces.go      surfaces of LandXML: their faces, or the survey that they were made of
//	geo.go        points and lines in GeoJSON
//	pointlist.go  a list of points, by lines and by codes
//	survey.go     the ground of a job: its files clipped along the run, or the clips that it carries
package groundin

import (
	"bufio"
	"bytes"
	"fmt"
	"io"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/place/ground"
	"trenchwright/place/route"
)

// Want is what has to be said of a file. The zero value takes everything from the file.
type Want struct {
	File    string         // its name, for findings
	Surface string         // LandXML: which one; empty: all of them
	Columns string         // points: the order of the columns, PENZ or P,E,N,Z; empty: from the heading
	Lines   []string       // points: the codes that are lines, each in the order of the file
	Unit    measure.Unit   // of a file that states none
	Edge    measure.Length // longest edge at the rim of what is triangulated here; 0: none is too long
	Origin  *route.Origin  // that coordinates become relative to; nil: near the file's first point
	System  string         // the job's coordinate system, which GeoJSON has to come to; empty, without an Origin: there is no job
	// Ellipsoid says that levels are heights above the ellipsoid of WGS 84, as those of GeoJSON are.
	Ellipsoid bool
	Speech    wording.Speech
}

// Ground is what came in.
type Ground struct {
	Surfaces []*ground.Surface
	Origin   route.Origin
	Unit     measure.Unit // of the file's coordinates
	Heard    []string     // what was understood, in sentences
}

// Read reads a file: LandXML where its text begins with <, GeoJSON where it begins with {, anything else as a list of points. With a fault among the
// findings there are no surfaces.
func Read(r io.Reader, w Want) (Ground, finding.List) {
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
		return Ground{}, found
	}
	return out, found
}

// first is the first sign of a text, behind blanks and the marks of UTF-8 and UTF-16.
func first(begin []byte) byte {
	if text := bytes.TrimLeft(begin, "\x00 \t\r\n\xef\xbb\xbf\xfe\xff"); len(text) > 0 {
		return text[0]
	}
	return 0
}

func fault(w Want, id, text, try string) finding.List {
	return finding.List{{ID: "groundin." + id, Kind: finding.Fault, Where: finding.Where{File: w.File}, Text: text, Try: try}}
}

// heard says in a sentence what a surface is.
func heard(s *ground.Surface, how string) string {
	m := s.Measures()
	text := fmt.Sprintf("%q: %s, %s%s, levels %.3f to %.3f m", s.Name, plural(m.Points, "point", "points"), plural(m.Faces, "face", "faces"), how, m.ZMin, m.ZMax)
	if m.Invisible > 0 {
		text += fmt.Sprintf("; %s marked as no ground", plural(m.Invisible, "face", "faces"))
	}
	return text
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
