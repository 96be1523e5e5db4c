package pack

import (
	"io"

	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/stamp"
	"trenchwright/view/drawing"
	"trenchwright/view/scene"
	"trenchwright/view/scene/pdf"
)

// DayCards are the day cards of a stretch as one document, and how many there are.
func DayCards(p planner.Plan, j job.Job, of stamp.Stamp, day drawing.Day) (document []byte, cards int, err error) {
	style := drawing.StyleFor(j, drawing.A4)
	style.Stamp = of
	pages, err := drawing.DayCards(p, j, style, day)
	if err != nil {
		return nil, 0, err
	}
	d := scene.Document{Title: p.Job.Name + ", day cards", Subject: "day cards, " + of.Brief(p.Job.Hash), Author: p.Job.By, Language: "en-GB", Pages: pages}
	if p.Job.Words == string(job.US) {
		d.Language = "en-US"
	}
	document, err = written(func(w io.Writer) error { return pdf.Write(w, d) })
	return document, len(pages), err
}
