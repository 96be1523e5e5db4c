package recorded

import (
	"encoding/json"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
)

// Records are said in the units of the job that they are of, with the other system behind.
func TestRecordsInUnitsOfTheirJob(t *testing.T) {
	const mm = measure.Millimetre
	us := Speaker{Speech: wording.Speech{US: true, Imperial: true}, Unit: job.CoordFeet, Supplies: 1}
	metric := Speaker{Unit: job.CoordMetres, Supplies: 2}
	trough := field.Piece{Supply: "T3", What: "unit", Length: 2438400 * measure.Micrometre}
	half := measure.Inch / 2
	for _, c := range []struct {
		record       field.Record
		says         any
		inUS, metric string
	}{
		{field.Record{Kind: field.Gap, From: "A-001/A-002"}, field.GapSays{Left: &half, Right: &half}, `gap 1/2" (13 mm)`, `gap 13 mm (1/2")`},
		{field.Record{Kind: field.Set, From: "A-001"}, field.SetSays{Within: true, Batch: "L2", Off: []field.Off{{Place: "A-001", By: -8 * mm}}}, `set; A-001 5/16" (8 mm) behind, batch L2`, `set; A-001 8 mm (5/16") behind, batch L2`},
		{field.Record{Kind: field.Set, From: "A-001", To: "A-004"}, field.SetSays{Within: true}, "set, all within", "set, all within"},
		{field.Record{Kind: field.Delivery}, field.DeliverySays{Ticket: "7", Lines: []field.Delivered{{Piece: trough, Came: 11, Short: 1}}}, `came, ticket 7: 11 of trench section 8'-0" (1 short)`, "came, ticket 7: 11 of T3 unit 2438 mm (1 short)"},
		{field.Record{Kind: field.Layer, From: "A-001"}, field.LayerSays{Number: 2, Side: "left", Thick: 200 * mm, Plant: "rammer", Passes: 4}, `lift 2 placed, left, 7 7/8" (200 mm) thick, rammer, passes: 4`, `layer 2 placed, left, 200 mm (7 7/8") thick, rammer, passes: 4`},
		{field.Record{Kind: field.Level, From: "A-001"}, field.LevelSays{Of: "formation", Level: new(measure.Length(60_975) * mm)}, "subgrade level: 200.05 ft", "formation level: 60.975 m"},
		{field.Record{Kind: field.Repair, Text: "seen"}, field.MatterSays{Number: "N1", Answer: "bedded anew", Closed: true}, "repair of nonconformance N1, bedded anew, closed: seen", "repair of nonconformance N1, bedded anew, closed: seen"},
		{field.Record{Kind: field.Gap, Text: "no figure"}, []int{1}, "gap: no figure", "gap: no figure"},
	} {
		c.record.Says, _ = json.Marshal(c.says)
		if got := us.Said(&c.record); got != c.inUS {
			t.Errorf("%s: %q, want %q", c.record.Kind, got, c.inUS)
		}
		if got := metric.Said(&c.record); got != c.metric {
			t.Errorf("%s: %q, want %q", c.record.Kind, got, c.metric)
		}
	}
}
