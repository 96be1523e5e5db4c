package demo

import (
	"bytes"
	"errors"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/view/groundin"
	"trenchwright/view/jobtext"
)

// Job is one job as its file declares it; its ground is named and not read.
func Job(name string) (job.Job, error) {
	text, err := File(name)
	if err != nil {
		return job.Job{}, err
	}
	j, found := jobtext.Read(name+".yaml", bytes.NewReader(text))
	return j, faulty(found, j)
}

// Surveyed is one job with the surfaces and clips of its surveys.
func Surveyed(name string) (groundin.Surveyed, error) {
	j, err := Job(name)
	if err != nil {
		return groundin.Surveyed{}, err
	}
	g, found := groundin.Survey(j, Open)
	return g, faulty(found, j)
}

func faulty(found finding.List, j job.Job) error {
	if found.Any(finding.Fault) {
		return errors.New(found.Say(j.Speech()))
	}
	return nil
}
