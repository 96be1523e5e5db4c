package dropped

import (
	"bytes"
	"path"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/groundin"
	"trenchwright/view/jobtext"
)

// asJob reads a job with the files that it names. Without its surveys it is a job all the same: what it lacks is said.
func (r *reading) asJob() {
	f, ok := r.jobFile()
	if !ok {
		return
	}
	j, faults := jobtext.Read(f.Name, bytes.NewReader(f.Bytes))
	r.speech = j.Speech()
	if !r.found(faults) {
		return
	}
	if !r.found(jobtext.Locate(f.Name, f.Bytes, onlyFaults(planner.Look(j)))) {
		return
	}
	r.tell(j)
	r.missing(j)
	if len(r.out.Missing) == 0 {
		s, found := groundin.Survey(j, r.open(j))
		if !r.found(jobtext.Locate(f.Name, f.Bytes, found)) {
			return
		}
		j = s.Job
		r.clips(s)
	}
	r.beside(j)
	r.result(j)
}

// jobFile is the one among the dropped files that is a job by its name, or the only one.
func (r *reading) jobFile() (File, bool) {
	if len(r.Files) == 1 {
		return r.Files[0], true
	}
	var jobs []File
	for _, f := range r.Files {
		switch strings.ToLower(path.Ext(f.Name)) {
		case ".yaml", ".yml", ".json":
			jobs = append(jobs, f)
		}
	}
	if len(jobs) != 1 {
		r.fault("file", plural(len(jobs), "job", "jobs")+" among the files that came, by their names", "one job, .yaml or .json, with the files that it names")
		return File{}, false
	}
	return jobs[0], true
}

// tell says what the job is.
func (r *reading) tell(j job.Job) {
	r.understood("name", "%s", oneLine(j.Name))
	if j.Owner != "" {
		r.understood("owner", "%s", oneLine(j.Owner))
	}
	system, words := "metric", "UK words"
	if j.System == job.Imperial {
		system = "feet and inches"
	}
	if j.Words == job.US {
		words = "US words"
	}
	r.understood("shown in", "%s, %s", system, words)
	r.coordinates(j)
	var units int
	for _, s := range j.Supplies {
		units += len(s.Unit.Lengths.Value)
	}
	r.count("supplies", len(j.Supplies))
	r.count("unit lengths", units)
	r.count("documents", len(j.Documents))
	r.count("surfaces", len(j.Ground.Surfaces))
	var crossings, services, entries, zones int
	for _, l := range j.Route.Legs {
		crossings, services = crossings+len(l.Crossings), services+len(l.Services)
		entries, zones = entries+len(l.Entries), zones+len(l.Zones)
	}
	r.count("crossings", crossings)
	r.count("services", services)
	r.count("entries", entries)
	r.count("zones", zones)
}

// coordinates says what eastings, northings and levels mean in the job.
func (r *reading) coordinates(j job.Job) {
	c := j.Coordinates
	unit := map[job.CoordUnit]string{"": "metres", job.CoordMetres: "metres", job.CoordFeet: "feet", job.CoordUSSurvey: "US survey feet"}[c.Unit]
	text := unit
	if c.System != "" {
		text = oneLine(c.System) + ", " + unit
	}
	if c.HeightDatum != "" {
		text += ", levels above " + oneLine(c.HeightDatum)
	}
	r.understood("coordinates", "%s", text)
}

// missing lists the files that the job names and that are neither here nor kept.
func (r *reading) missing(j job.Job) {
	open := r.open(j)
	look := func(name string) {
		f, err := open(name)
		if err == nil {
			f.Close()
		} else if !slices.Contains(r.out.Missing, name) {
			r.out.Missing = append(r.out.Missing, name)
		}
	}
	clipped := slices.ContainsFunc(j.Attachments, func(a job.Attachment) bool { return a.Role == planner.GroundRole })
	for _, a := range j.Attachments {
		if a.Role == planner.GroundRole {
			look(a.Name)
		}
	}
	if !clipped {
		for _, s := range j.Ground.Surfaces {
			look(s.File)
		}
	}
	if len(r.out.Missing) > 0 {
		r.remark("ground", "the job names "+plural(len(r.out.Missing), "file", "files")+" that did not come with it: "+strings.Join(r.out.Missing, ", ")+"; without them it is planned in plan alone",
			"dropping them together with the job, or later as its ground")
	}
}

// beside keeps the other files that came, where the job names them by their hash.
func (r *reading) beside(j job.Job) {
	for _, a := range j.Attachments {
		for _, f := range r.Files {
			if same(f.Name, a.Name) && a.Role != planner.GroundRole && hashOf(f.Bytes) == a.SHA256 {
				r.keep(a.Name, f.Bytes)
			}
		}
	}
}

func onlyFaults(list finding.List) finding.List {
	return slices.DeleteFunc(list, func(f finding.Finding) bool { return f.Kind != finding.Fault })
}
