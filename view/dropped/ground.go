package dropped

import (
	"cmp"
	"crypto/sha256"
	"fmt"
	"slices"

	"trenchwright/job"
	"trenchwright/view/groundin"
)

// asGround reads surveys and clips them along the run of the job. A file that the job names is read as the job says; any
// other is one surface more, or takes the place of the one with its id.
func (r *reading) asGround() {
	j := *r.Job
	j.Attachments, j.Ground.Surfaces = slices.Clone(j.Attachments), slices.Clone(j.Ground.Surfaces)
	var meant []job.Surface
	for _, f := range r.Files {
		s, ok := r.surface(j, f)
		if !ok {
			return
		}
		if i := slices.IndexFunc(j.Ground.Surfaces, func(o job.Surface) bool { return o.ID == s.ID }); i >= 0 {
			j.Ground.Surfaces[i] = s
		} else {
			j.Ground.Surfaces = append(j.Ground.Surfaces, s)
		}
		meant = append(meant, s)
	}
	alone := j // with these surfaces only, so that no kept clip stands for them
	alone.Ground.Surfaces = meant
	alone.Attachments = slices.DeleteFunc(slices.Clone(j.Attachments), isGround)
	s, found := groundin.Survey(alone, r.open(alone))
	if !r.found(found) {
		return
	}
	for _, a := range s.Job.Attachments {
		if isGround(a) {
			j.Attachments = append(slices.DeleteFunc(j.Attachments, func(o job.Attachment) bool { return o.Name == a.Name }), a)
		}
	}
	r.clips(s)
	r.left(j)
	r.result(j)
}

// surface is what a file stands for: as the job has it, else as was said.
func (r *reading) surface(j job.Job, f File) (job.Surface, bool) {
	role := job.SurfaceRole(r.Said["role"])
	i := slices.IndexFunc(j.Ground.Surfaces, func(s job.Surface) bool { return same(f.Name, s.File) })
	if i >= 0 && role == "" {
		return j.Ground.Surfaces[i], true
	}
	switch {
	case len(r.Files) > 1:
		r.fault("role", fmt.Sprintf("the job names no file %s, and what one of several stands for cannot be said", f.Name), "this file by itself")
	case role == "":
		r.fault("role", fmt.Sprintf("nobody has said what %s stands for", f.Name), "existing, finished, rock or water")
	default:
		edge := r.length("edge")
		s := job.Surface{ID: cmp.Or(r.Said["id"], string(role)), Role: role, File: f.Name, Name: r.Said["surface"], Columns: r.Said["columns"], Unit: job.CoordUnit(r.Said["unit"]), Edge: edge}
		for _, o := range j.Ground.Surfaces {
			if o.Role == role && r.Said["id"] == "" {
				s.ID = o.ID // the surface that it is for is on file already
			}
		}
		return s, len(r.out.Faults) == 0
	}
	return job.Surface{}, false
}

// clips says what the ground is, and keeps it.
func (r *reading) clips(s groundin.Surveyed) {
	for _, g := range s.Surfaces {
		m := g.Measures()
		metres := metresIn(s.Job.Coordinates.Unit)
		unit := cmp.Or(string(s.Job.Coordinates.Unit), "m")
		r.understood("surface "+g.Name, "%s: %s, %s along the run, levels %.2f to %.2f %s", string(g.Role), plural(m.Points, "point", "points"), plural(m.Faces, "face", "faces"), m.ZMin/metres, m.ZMax/metres, unit)
		r.count("points of "+g.Name, m.Points)
		r.count("faces of "+g.Name, m.Faces)
	}
	for _, c := range s.Clips {
		r.keep(c.Name, c.Bytes)
	}
}

// left says which surfaces of the job are still without their files.
func (r *reading) left(j job.Job) {
	for _, s := range j.Ground.Surfaces {
		if !slices.ContainsFunc(j.Attachments, func(a job.Attachment) bool { return isGround(a) && a.Name == "ground/"+s.ID+".clip" }) {
			r.out.Missing = append(r.out.Missing, s.File)
		}
	}
}

func hashOf(b []byte) string { return fmt.Sprintf("%x", sha256.Sum256(b)) }
