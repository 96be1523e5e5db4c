// Package servicein finds where buried services that somebody recorded cross the run of a job: lines in GeoJSON, surveyed
// points that are on lines, pipes and plan features in LandXML. Each crossing is one service of the job, with its chainage
// and the angle it crosses at; how wide it is, how deep and how well its position is known is what the file says, or
// unknown. What does not cross is not looked at: nothing here says that a place is free of anything.
//
//	servicein.go  what has to be said, what comes out, and which reader a file goes to
//	lines.go      a file as lines: GeoJSON, points, LandXML
//	cross.go      where lines cross the run, as services of the job
package servicein

import (
	"bufio"
	"bytes"
	"fmt"
	"io"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/route"
)

// Want is what the person who imports has to say.
type Want struct {
	File    string         // its name, for findings
	Columns string         // points: the order of the columns; empty: from the heading
	Lines   []string       // points: the codes that are lines, each in the order of the file
	Unit    measure.Unit   // of a file that states none; measure.NoUnit: the job's
	Clear   measure.Length // each side of a service, where no joint may stand; the contract's figure, and no file's
	Width   measure.Length // of services whose width the file does not give; 0: such a service is a fault
	Quality string         // how well positions are known, where the file does not say
	Tops    bool           // points: their levels are those of the top of the service; otherwise they are not used
}

// OnLeg are the services that cross a leg, by chainage.
type OnLeg struct {
	Leg      string
	Services []job.Service
}

// Services is what came in.
type Services struct {
	Legs  []OnLeg  // in the job's order, those that something crosses
	Heard []string // what was understood, in sentences
}

// Read reads a file and finds what of it crosses the run of a job: LandXML where its text begins with <, GeoJSON where it
// begins with {, anything else as a list of points. With a fault among the findings there are no services.
func Read(r io.Reader, j job.Job, w Want) (Services, finding.List) {
	net, origin, found := planner.Run(j)
	if found.Any(finding.Fault) {
		return Services{}, found
	}
	if w.Clear <= 0 {
		return Services{}, fault(w, "clear", "nobody has said how far joints have to stand from a service, and no file says it", "the contract's distance, to each side")
	}
	s := site{Want: w, job: j, net: net, origin: origin}
	in := bufio.NewReader(r)
	read := s.points
	switch begin, _ := in.Peek(512); first(begin) {
	case '<':
		read = s.landxml
	case '{':
		read = s.geojson
	}
	lines, found := read(in)
	if found.Any(finding.Fault) {
		return Services{}, found
	}
	out, more := s.crossed(lines)
	if found = append(found, more...); found.Any(finding.Fault) {
		return Services{}, found
	}
	return out, found
}

// site is the run that is crossed.
type site struct {
	Want
	job    job.Job
	net    route.Network
	origin route.Origin
}

// first is the first sign of a text, behind blanks and the marks of UTF-8 and UTF-16.
func first(begin []byte) byte {
	if text := bytes.TrimLeft(begin, "\x00 \t\r\n\xef\xbb\xbf\xfe\xff"); len(text) > 0 {
		return text[0]
	}
	return 0
}

func fault(w Want, id, text, try string) finding.List {
	return finding.List{{ID: "servicein." + id, Kind: finding.Fault, Where: finding.Where{File: w.File}, Text: text, Try: try}}
}

func (s site) finding(kind finding.Kind, line int, id, text string, args ...any) finding.Finding {
	return finding.Finding{ID: "servicein." + id, Kind: kind, Where: finding.Where{File: s.File, Line: line}, Text: s.job.Speech().Say(text, args...)}
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
