package groundin

import (
	"crypto/sha256"
	"fmt"
	"io"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
)

// Surveyed is a job with its ground: what it is planned with, and what has to be kept with the plan.
type Surveyed struct {
	Job      job.Job // with the clips among its attachments
	Surfaces []*ground.Surface
	Clips    []Clip
}

// Clip is ground along the run, as an attachment.
type Clip struct {
	Name  string
	Bytes []byte
}

// Survey gives a job its ground. A job that carries clips is planned with them; otherwise the files of its surfaces are read
// and clipped along the run. open opens a file beside the job, or an attachment. With a fault there is no ground.
func Survey(j job.Job, open func(string) (io.ReadCloser, error)) (Surveyed, finding.List) {
	read := func(name string) ([]byte, error) {
		f, err := open(name)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		return io.ReadAll(f)
	}
	if slices.ContainsFunc(j.Attachments, func(a job.Attachment) bool { return a.Role == planner.GroundRole }) {
		out := Surveyed{Job: j}
		var err error
		if out.Surfaces, err = planner.Surfaces(j, func(name string) ([]byte, error) {
			text, err := read(name)
			out.Clips = append(out.Clips, Clip{name, text})
			return text, err
		}); err != nil {
			return Surveyed{Job: j}, finding.List{{ID: "groundin.attachment", Kind: finding.Fault, Text: err.Error(), Where: finding.Where{Path: "attachments"},
				Try: "the files that the job was planned with, or a job without them and with its surveys"}}
		}
		return out, nil
	}
	out := Surveyed{Job: j}
	out.Job.Attachments = slices.Clone(j.Attachments)
	origin := planner.Origin(j)
	var found finding.List
	for _, s := range j.Ground.Surfaces {
		one, more := surfaceFile(j, s, Want{File: s.File, Surface: s.Name, Columns: s.Columns, Unit: unitOf(s.Unit, j.Coordinates.Unit), Edge: s.Edge, Origin: &origin, System: j.Coordinates.System, Ellipsoid: strings.Contains(strings.ToLower(j.Coordinates.HeightDatum), "ellipsoid"), Speech: j.Speech()}, open)
		found = append(found, more...)
		if one != nil {
			found = append(found, out.keep(s, one)...)
		}
	}
	if found.Any(finding.Fault) {
		return Surveyed{Job: j}, found
	}
	return out, found
}

// surfaceFile reads the file of one surface.
func surfaceFile(j job.Job, s job.Surface, w Want, open func(string) (io.ReadCloser, error)) (*ground.Surface, finding.List) {
	path := finding.Where{Path: "ground.surfaces." + s.ID}
	f, err := open(s.File)
	if err != nil {
		return nil, finding.List{{ID: "groundin.file", Kind: finding.Fault, Text: fmt.Sprintf("surface %s: %v", s.ID, err), Where: path, Try: "its file stands beside the job's own"}}
	}
	defer f.Close()
	g, found := Read(f, w)
	switch len(g.Surfaces) {
	case 0:
		return nil, found
	case 1:
		return g.Surfaces[0], found
	}
	return nil, append(found, finding.Finding{ID: "groundin.which", Kind: finding.Fault, Where: path,
		Text: fmt.Sprintf("surface %s: file %s holds %d surfaces", s.ID, s.File, len(g.Surfaces)), Try: "name the one that is meant: name: …"})
}

// keep clips a surface along the run, and plans with what anybody reads who has the clip. Of ground that lies elsewhere all
// is kept, so that the plan can say where.
func (o *Surveyed) keep(as job.Surface, s *ground.Surface) finding.List {
	if c := planner.Clip(o.Job, s); c != nil {
		s = c
	}
	s.Name, s.Role = as.ID, ground.Role(as.Role)
	clip := Clip{"ground/" + as.ID + ".clip", s.Encode()}
	again, err := ground.Decode(clip.Bytes)
	if err != nil {
		return finding.List{{ID: "groundin.clip", Kind: finding.Fault, Text: fmt.Sprintf("surface %s cannot be kept: %v", as.ID, err), Where: finding.Where{Path: "ground.surfaces." + as.ID}, Try: "report it, with the file"}}
	}
	o.Surfaces, o.Clips = append(o.Surfaces, again), append(o.Clips, clip)
	o.Job.Attachments = append(o.Job.Attachments, job.Attachment{Name: clip.Name, SHA256: fmt.Sprintf("%x", sha256.Sum256(clip.Bytes)), Role: planner.GroundRole})
	return nil
}

// unitOf is the unit of a survey that states none: as its surface says, else as the job's own coordinates.
func unitOf(of, job job.CoordUnit) measure.Unit {
	if of == "" {
		of = job
	}
	switch of {
	case "ft":
		return measure.UnitFoot
	case "usft":
		return measure.UnitSurveyFoot
	}
	return measure.UnitMetre
}
