package dropped

import (
	"bytes"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/routein"
)

// asRoute reads a route and puts it into the job in place of its own.
func (r *reading) asRoute() {
	f, ok := r.one()
	if !ok {
		return
	}
	w := r.routeWant(f.Name)
	if len(r.out.Faults) > 0 {
		return
	}
	in, found := routein.Read(bytes.NewReader(f.Bytes), w)
	if !r.found(found) {
		return
	}
	r.heard(f.Name, in.Heard)
	j := Routed(*r.Job, in, job.Attachment{Name: f.Name, SHA256: hashOf(f.Bytes), Role: "survey"})
	if j.ID == "" { // a job to start from
		j.Name = "Run from " + f.Name
		if in.Name != "" {
			j.Name += ", " + oneLine(in.Name)
		}
	}
	r.coordinates(j)
	r.understood("length", "%s", wording.Far(in.Length))
	if had := len(r.Job.Attachments) - len(j.Attachments) + 1; had > 0 && slices.ContainsFunc(r.Job.Attachments, isGround) {
		r.remark("ground", "the ground of the job was kept along its old run, and is left out", "dropping its surveys again")
	}
	if !r.found(onlyFaults(planner.Look(j))) {
		return
	}
	r.keep(f.Name, f.Bytes)
	r.result(j)
}

// Routed is a job with another route: where the run goes and the coordinates that say so. Ground that was kept along the
// old run is left out; file is where the route came from.
func Routed(j job.Job, in routein.Route, file job.Attachment) job.Job {
	j.Coordinates, j.Route = in.Coordinates, in.Route
	j.Attachments = slices.DeleteFunc(slices.Clone(j.Attachments), func(a job.Attachment) bool { return isGround(a) || a.Name == file.Name })
	j.Attachments = append(j.Attachments, file)
	j.On = "" // of this state of the job: nobody has said it
	return j
}

func isGround(a job.Attachment) bool { return a.Role == planner.GroundRole }

func (r *reading) routeWant(file string) routein.Want {
	w := routein.Want{File: file, Alignment: r.Said["alignment"], Together: r.Said["together"] == "yes", Points: r.Said["points"], Columns: r.Said["columns"],
		Unit: r.unit(), Spiral: r.length("spiral"), Speech: r.speech,
		Line: job.DrawnLine{Kind: r.Said["line"], Side: r.Said["side"], Offset: r.length("offset"), From: r.Said["of"]}}
	if text := strings.TrimSpace(r.Said["height"]); text != "" {
		h, err := measure.ParseIn(text, measure.UnitMetre)
		if err != nil {
			r.found(finding.List{{Kind: finding.Fault, Text: err.Error(), Where: finding.Where{Path: "height"}, Try: "for example 430 m"}})
		}
		w.Height = &h.Length
	}
	return w
}
