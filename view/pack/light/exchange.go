package light

import (
	"io"
	"strings"

	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/stamp"
	"trenchwright/place/ground"
	"trenchwright/view/geojson"
	"trenchwright/view/interchange"
	"trenchwright/view/landxml"
)

// exchanged are the files for other people's programs. Where no GeoJSON can be written, a file says why.
func exchanged(p planner.Plan, j job.Job, of stamp.Stamp, surfaces []*ground.Surface) []File {
	document, ok := interchange.LandXML(p, j, surfaces...)
	if !ok {
		return nil
	}
	line := of.Line(p.Job.Hash, p.Core)
	document.Note = strings.TrimSpace(line + ". " + document.Note)
	if at := of.When(); !at.IsZero() {
		document.Date, document.Time = at.UTC().Format("2006-01-02"), at.UTC().Format("15:04:05")
	}
	files := []File{{"interchange/plan.xml", "alignments with their levels, ground and set-out points as LandXML 1.2", func() ([]byte, error) {
		return written(func(w io.Writer) error { return landxml.Write(w, document) })
	}}}
	features, why := interchange.GeoJSON(p, j)
	if why != "" {
		return append(files, File{"interchange/no-geojson.txt", "why there is no GeoJSON of this run", func() ([]byte, error) { return []byte(why + ".\n"), nil }})
	}
	for i, f := range features {
		if strings.HasPrefix(f.ID, "leg ") {
			features[i].Properties = append(f.Properties, geojson.Text("state_of_the_job", line))
		}
	}
	return append(files, File{"interchange/plan.geojson", "the run in WGS 84 as GeoJSON, to look at and to find, not to set out from", func() ([]byte, error) {
		return written(func(w io.Writer) error { return geojson.Write(w, features) })
	}})
}
