package dossier

import (
	"fmt"
	"math"

	"trenchwright/job/field"
	"trenchwright/view/geojson"
	"trenchwright/view/table"
)

// notSurvey is what a position that a device said is not.
const notSurvey = "Positions are as the devices gave them by themselves, in WGS 84 as they say: they show where somebody stood, and are no survey. Nothing here is measured from them"

// positioned are the records that carry where their device was.
func (d *Dossier) positioned() []field.Record {
	return kept(d.all, func(r field.Record) bool {
		return r.Fix != nil && math.Abs(r.Fix.Latitude) <= 90 && math.Abs(r.Fix.Longitude) <= 180
	})
}

// positionTable is where devices said that they were, record by record; the document leaves it to the zip.
func (d *Dossier) positionTable() table.Table {
	degrees := func(key string) table.Column {
		return table.Column{Key: key, Head: key, Kind: table.KindDecimal, Unit: "deg", Places: 7}
	}
	t := table.Table{Name: "positions", Title: "Where devices were, as they said", Columns: []table.Column{
		text("record", "record"), text("made", "made, by its device"), text("kind", "kind"), text("places", "places"), text("person", "person"), degrees("latitude"), degrees("longitude"),
		{Key: "within", Head: "within, as it said", Kind: table.KindDecimal, Unit: "m", Places: 1}, text("datum", "datum"), text("id", "id"),
	}}
	t.Notes = []string{notSurvey}
	for _, r := range d.positioned() {
		within := table.Cell{}
		if r.Fix.Within > 0 && r.Fix.Within < 1e7 {
			within = table.Decimal(int64(math.Round(r.Fix.Within*10)), 1)
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(ref(r)), said(r.Made), table.Text(string(r.Kind)), said(d.whereOf(r)), said(r.Person),
			table.Decimal(int64(math.Round(r.Fix.Latitude*1e7)), 7), table.Decimal(int64(math.Round(r.Fix.Longitude*1e7)), 7), within, table.Text("WGS 84, as the device gave it"), table.Text(r.ID)})
	}
	return t
}

// positionFeatures are the same as points.
func (d *Dossier) positionFeatures() []geojson.Feature {
	var out []geojson.Feature
	for _, r := range d.positioned() {
		f := geojson.Feature{ID: r.ID, Geometry: geojson.Geometry{Kind: geojson.Point, Bodies: [][][]geojson.Position{{{{Lon: r.Fix.Longitude, Lat: r.Fix.Latitude}}}}}}
		f.Properties = []geojson.Property{geojson.Text("what", "position of a device, as it gave it; no survey"), geojson.Text("datum", "WGS 84, as the device gave it"), geojson.Number("within_m", r.Fix.Within),
			geojson.Text("record", ref(r)), geojson.Text("kind", string(r.Kind)), geojson.Text("places", d.whereOf(r)), geojson.Text("person", r.Person), geojson.Text("made", r.Made)}
		out = append(out, f)
	}
	return out
}

// positionsSaid is how many records carry a position.
func (d *Dossier) positionsSaid() string {
	n := len(d.positioned())
	if n == 0 {
		return "no record carries where its device was"
	}
	return fmt.Sprintf("records that carry where their device was: %d, in csv/positions.csv and interchange/positions.geojson. %s", n, notSurvey)
}
