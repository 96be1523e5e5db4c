// Package pack makes everything that one plan is handed over as: sheets as PDF, SVG and PNG, cut cards, a workbook, CSV,
// the plan and the job as data, the findings as text. It makes bytes; somebody else keeps them. What a browser can make of it
// by itself is in view/pack/light.
package pack

import (
	"bytes"
	"io"

	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/stamp"
	"trenchwright/place/ground"
	"trenchwright/view/pack/light"
	"trenchwright/view/scene"
	"trenchwright/view/scene/raster"
	"trenchwright/view/table"
	"trenchwright/view/table/workbook"
)

// File is one file of a pack, made when it is asked for. Files are independent: they may be made side by side.
type File = light.File

// screenDPI is the resolution of the pictures: enough to read on a screen; paper is what the PDF is for.
const screenDPI = 100

// Data are the plan of a job file by itself as data alone: no sheets, no tables.
func Data(p planner.Plan, j job.Job) []File { return light.Data(p, j, stamp.Stamp{}) }

// Files are the files of the pack of a job file by itself on its ground, always the same for the same plan.
func Files(p planner.Plan, j job.Job, surfaces ...*ground.Surface) []File {
	return Of(p, j, stamp.Stamp{}, surfaces...).Files()
}

// Of is the pack of a state of a job, of which one file can be had without drawing them all.
func Of(p planner.Plan, j job.Job, of stamp.Stamp, surfaces ...*ground.Surface) *light.Pack {
	return light.Of(p, j, of, writers(), surfaces...)
}

// writers are those of a whole pack.
func writers() light.Writers {
	painter := new(raster.Painter)
	return light.Writers{
		Workbook: func(w io.Writer, tables []table.Table) error { return workbook.Write(w, workbook.A3, tables...) },
		Picture:  func(w io.Writer, page scene.Page) error { return painter.WritePNG(w, page, screenDPI) },
	}
}

func written(write func(io.Writer) error) ([]byte, error) {
	var b bytes.Buffer
	err := write(&b)
	return b.Bytes(), err
}
