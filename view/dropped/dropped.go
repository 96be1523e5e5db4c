// Package dropped says what a file holds that somebody dropped on the workspace, before anything is kept: a job with the
// surveys beside it, a route, ground for a run, services that cross it. It reads as the commands new, ground and services do.
//
//	dropped.go  what is dropped, what is answered     said.go      what the person says of it
//	job.go      a job and the files that it names     route.go     a route put into a job
//	ground.go   surveys clipped along a run           services.go  services on the legs that they cross
package dropped

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// What a file can be read as.
const (
	AsJob      = "job"
	AsRoute    = "route"
	AsGround   = "ground"
	AsServices = "services"
)

// File is one dropped file.
type File struct {
	Name  string `json:"name"`
	Bytes []byte `json:"bytes"`
}

// Drop is what came together, and what was said of it.
type Drop struct {
	As    string            `json:"as"`
	Files []File            `json:"files"`
	Said  map[string]string `json:"said"` // by the names that Fields gives
	// Job is the job that it is for. Ground and services need its run; a route takes its place in it.
	Job   *job.Job `json:"job"`
	Taken []string `json:"taken"` // ids of the jobs that are there already
	// Kept gives a file that is kept already, by its SHA-256; nil: none is.
	Kept func(sha256 string) ([]byte, error) `json:"-"`
}

// Preview is what was understood, and what would be kept.
type Preview struct {
	As         string          `json:"as"`
	Files      []string        `json:"files"` // names of those that were read
	Understood []Said          `json:"understood"`
	Counts     []Count         `json:"counts"`
	Extent     *Extent         `json:"extent,omitempty"`
	Missing    []string        `json:"missing"` // files that the job names and that did not come with it
	Faults     []Fault         `json:"faults"`  // with any of them there is no job
	Remarks    []Fault         `json:"remarks"` // worth looking at; nothing stands in the way
	Asked      []Field         `json:"asked"`   // what can be said of such a file
	Lines      []Line          `json:"lines,omitempty"`
	JobID      string          `json:"job_id,omitempty"`
	Job        json.RawMessage `json:"job,omitempty"` // canonical, to be kept as a revision
	Keep       []Kept          `json:"keep,omitempty"`
}

// Said is one thing that was understood.
type Said struct {
	Label string `json:"label"`
	Text  string `json:"text"`
}

// Count is how many of something there are.
type Count struct {
	Label  string `json:"label"`
	Number int    `json:"number"`
}

// Extent is how far something reaches, in the job's coordinates.
type Extent struct {
	West  float64 `json:"west"`
	South float64 `json:"south"`
	East  float64 `json:"east"`
	North float64 `json:"north"`
	Unit  string  `json:"unit"`
}

// Fault is a finding with its place in a file.
type Fault struct {
	Path   string `json:"path,omitempty"`
	File   string `json:"file,omitempty"`
	Line   int    `json:"line,omitempty"`
	Column int    `json:"column,omitempty"`
	Kind   string `json:"kind"`
	Text   string `json:"text"`
	Try    string `json:"try,omitempty"`
	Shown  string `json:"shown,omitempty"` // the line with a caret below the place
}

// Kept is a file to be kept by its hash, before the job that names it.
type Kept struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
	Size   int    `json:"size"`
	Bytes  []byte `json:"bytes"`
}

// Read says what was dropped. The error is of the question: a kind that is not there, a job that was not given.
func Read(d Drop) (Preview, error) {
	r := reading{Drop: d, out: Preview{As: d.As, Files: []string{}, Understood: []Said{}, Counts: []Count{}, Missing: []string{},
		Faults: []Fault{}, Remarks: []Fault{}, Asked: Fields(d.As)}}
	read := map[string]func(){AsJob: r.asJob, AsRoute: r.asRoute, AsGround: r.asGround, AsServices: r.asServices}[d.As]
	switch {
	case read == nil:
		return Preview{}, fmt.Errorf("a file is read as %s, %s, %s or %s, not as %q", AsJob, AsRoute, AsGround, AsServices, d.As)
	case len(d.Files) == 0:
		return Preview{}, errors.New("no file came")
	case d.Job == nil && d.As != AsJob:
		return Preview{}, fmt.Errorf("%s belong to a job, and none was given", d.As)
	}
	if r.Job != nil {
		r.speech = r.Job.Speech()
	}
	for i, f := range r.Files {
		r.Files[i].Name = oneLine(f.Name)
		r.out.Files = append(r.out.Files, r.Files[i].Name)
	}
	r.unknown()
	if len(r.out.Faults) == 0 {
		read()
	}
	if len(r.out.Faults) > 0 {
		r.out.Job, r.out.Keep, r.out.Lines = nil, nil, nil
	}
	return r.out, nil
}

// reading is one Read under way.
type reading struct {
	Drop
	speech wording.Speech
	out    Preview
}

func (r *reading) understood(label, form string, args ...any) {
	r.out.Understood = append(r.out.Understood, Said{label, r.speech.Say(form, args...)})
}

func (r *reading) heard(file string, sentences []string) {
	for _, h := range sentences {
		r.understood(file, "%s", h)
	}
}

func (r *reading) count(label string, n int) {
	if n > 0 {
		r.out.Counts = append(r.out.Counts, Count{label, n})
	}
}

// found parts findings into what stands in the way and what is worth looking at, and tells whether nothing stands in it.
func (r *reading) found(list finding.List) bool {
	clean := true
	for _, f := range list {
		w := f.Where
		v := Fault{Path: w.Path, File: w.File, Line: w.Line, Column: w.Column, Kind: string(f.Kind), Text: f.Sentence(), Try: f.Try, Shown: w.Excerpt}
		if v.Path == "" && w.Leg != "" {
			v.Path = "route.legs." + w.Leg
		}
		switch f.Kind {
		case finding.Fault:
			r.out.Faults, clean = append(r.out.Faults, v), false
		case finding.Attention:
			r.out.Remarks = append(r.out.Remarks, v)
		}
	}
	return clean
}

func (r *reading) fault(path, text, try string) {
	r.out.Faults = append(r.out.Faults, Fault{Path: path, Kind: string(finding.Fault), Text: text, Try: try})
}

func (r *reading) remark(path, text, try string) {
	r.out.Remarks = append(r.out.Remarks, Fault{Path: path, Kind: string(finding.Attention), Text: text, Try: try})
}

// one is the file, where exactly one belongs to such a drop.
func (r *reading) one() (File, bool) {
	if len(r.Files) == 1 {
		return r.Files[0], true
	}
	r.fault("file", fmt.Sprintf("%d files came, and %s are read from one at a time", len(r.Files), r.As), "one of them")
	return File{}, false
}

// open opens a file that came, as a job names it, or one that is kept.
func (r *reading) open(of job.Job) func(string) (io.ReadCloser, error) {
	return func(name string) (io.ReadCloser, error) {
		for _, f := range r.Files {
			if same(f.Name, name) {
				return io.NopCloser(bytes.NewReader(f.Bytes)), nil
			}
		}
		for _, a := range of.Attachments {
			if a.Name == name && r.Kept != nil {
				if b, err := r.Kept(a.SHA256); err == nil {
					return io.NopCloser(bytes.NewReader(b)), nil
				}
			}
		}
		return nil, errors.New("its file " + name + " did not come with it")
	}
}

// same tells whether a dropped file is what a job means: whoever drops a file drops no folder with it.
func same(dropped, named string) bool {
	return dropped == named || path.Base(strings.ReplaceAll(dropped, `\`, "/")) == path.Base(strings.ReplaceAll(named, `\`, "/"))
}

// result is the job that would be kept, with where its run lies.
func (r *reading) result(j job.Job) {
	r.name(&j)
	if _, faults := job.FromJSON(job.CanonicalJSON(j)); !r.found(unplaced(faults)) { // what it says elsewhere may name legs that are gone
		return
	}
	net, _, _ := planner.Run(j)
	r.understood("run", "%s in %s", wording.Far(net.Length()), plural(len(net.Legs), "leg", "legs"))
	r.count("legs", len(net.Legs))
	r.count("nodes", len(net.Nodes))
	r.out.Extent = extent(j)
	r.out.Job, r.out.JobID = bytes.TrimSpace(job.CanonicalJSON(j)), j.ID
}

// name gives a job its id: what was said, or what it has; without either one of its own, which no other job has.
func (r *reading) name(j *job.Job) {
	switch {
	case r.As == AsJob && r.Said["id"] != "":
		j.ID = r.Said["id"]
	case j.ID == "":
		j.ID = idFrom(j.Name)
		for n := 2; slices.Contains(r.Taken, j.ID); n++ {
			j.ID = fmt.Sprintf("%.36s-%d", idFrom(j.Name), n)
		}
		r.understood("id", "%s, made from its name; a job keeps it for good", j.ID)
	}
	if r.As == AsJob && slices.Contains(r.Taken, j.ID) {
		r.remark("id", "a job "+j.ID+" is here already; kept under this id it is a further state of that job", "another id, for a job of its own")
	}
}

// unplaced are faults of a text that nobody sees.
func unplaced(list finding.List) finding.List {
	for i := range list {
		list[i].Where.Line, list[i].Where.Column, list[i].Where.Excerpt = 0, 0, ""
	}
	return list
}

func (r *reading) keep(name string, b []byte) {
	r.out.Keep = append(r.out.Keep, Kept{name, fmt.Sprintf("%x", sha256.Sum256(b)), len(b), b})
}

// extent is the box round the run, as the job's coordinates have it; nil where it lies nowhere.
func extent(j job.Job) *Extent {
	net, origin, found := planner.Run(j)
	if found.Any(finding.Fault) || len(net.Legs) == 0 {
		return nil
	}
	const step = 1.0 // metres that a chord may leave a curve
	var e *Extent
	metres := metresIn(j.Coordinates.Unit)
	for _, l := range net.Legs {
		for _, p := range l.Line.Points(0, l.Line.Length(), step) {
			c := origin.Coordinates(p)
			east, north := c.E.Metres()/metres, c.N.Metres()/metres
			if e == nil {
				e = &Extent{east, north, east, north, cmp.Or(string(j.Coordinates.Unit), "m")}
			}
			e.West, e.South, e.East, e.North = min(e.West, east), min(e.South, north), max(e.East, east), max(e.North, north)
		}
	}
	return e
}

func metresIn(u job.CoordUnit) float64 {
	switch u {
	case job.CoordFeet:
		return measure.Foot.Metres()
	case job.CoordUSSurvey:
		return 1200.0 / 3937
	}
	return 1
}

// idFrom is an id that a name could have been meant as: letters, digits and dashes, 40 at most.
func idFrom(name string) string {
	const most = 40
	var b strings.Builder
	for _, c := range strings.ToLower(name) {
		switch {
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			b.WriteRune(c)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
		if b.Len() == most {
			break
		}
	}
	return cmp.Or(strings.Trim(b.String(), "-"), "job")
}

// oneLine keeps what somebody else wrote on one line.
func oneLine(text string) string {
	return strings.Map(func(c rune) rune {
		if c < ' ' || c == 0x7f || c == 0x85 || c == 0x2028 || c == 0x2029 {
			return ' '
		}
		return c
	}, text)
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Ask is Read for a page: a Drop as JSON in, a Preview as JSON out.
func Ask(question []byte, kept func(sha256 string) ([]byte, error)) ([]byte, error) {
	d := Drop{Kept: kept}
	if err := json.Unmarshal(question, &d); err != nil {
		return nil, fmt.Errorf("what was dropped cannot be read: %w", err)
	}
	p, err := Read(d)
	if err != nil {
		return nil, err
	}
	return json.Marshal(p)
}
