package plancheck

import (
	"encoding/json"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// small is a plan made by hand: two legs and a mitred bend to the right. The bend was chosen so that nothing is rounded:
// half its turn has the tangent 0.75 and the cosine 0.8, and the second leg runs along (0.28, -0.96).
const small = `{"format": 1, "core": "by hand",
"job": {"id": "small", "name": "Small", "hash": "0", "system": "metric", "words": "uk", "grid": "site grid", "height_datum": "site datum",
"scale_factor": "NOT CHECKED: no combined scale factor on file", "drawn_line": "centreline", "origin_m": [1000, 2000]},
"legs": [
{"name": "A", "from": "N1", "to": "N2", "supply": "T", "verdict": "found", "clear_length_mm": 7820, "node_length_mm": 7897.5, "start_setback_mm": 70, "end_setback_mm": 7.5, "slope_rise_mm": 0, "laid_from": "N1", "axis": [{"from_mm": 0, "to_mm": 7897.5, "start_m": [0, 0], "end_m": [7.8975, 0], "radius_m": 0}], "count": {"units": 3, "cuts": 1, "cut_covers": 1}},
{"name": "B", "from": "N2", "to": "N3", "supply": "T", "verdict": "found", "clear_length_mm": 4210, "node_length_mm": 4217.5, "start_setback_mm": 7.5, "end_setback_mm": 0, "slope_rise_mm": 0, "laid_from": "N2", "axis": [{"from_mm": 0, "to_mm": 4217.5, "start_m": [7.8975, 0], "end_m": [9.0784, -4.0488], "radius_m": 0}], "count": {"units": 2, "cuts": 1, "cut_covers": 2}}
],
"nodes": [
{"id": "N1", "kind": "end", "at_m": [0, 0], "legs": ["A"], "headings_deg": [90], "made": "end plate"},
{"id": "N2", "kind": "bend", "at_m": [7.8975, 0], "legs": ["A", "B"], "headings_deg": [270, 163.73979529168804], "made": "mitred", "deflection_deg": 73.73979529168804, "bend": {"saw_angle_deg": 36.86989764584402, "gap_mm": 12, "setback_mm": 7.5, "long_less_short": 450, "pad_across_mm": 750, "in": "A-003", "out": "B-001"}},
{"id": "N3", "kind": "end", "at_m": [9.0784, -4.0488], "legs": ["B"], "headings_deg": [343.73979529168804], "made": "open"}
],
"units": [
{"mark": "A-001", "leg": "A", "supply": "T", "start_mm": 0, "length_mm": 3000, "stock_mm": 3000, "cut": false, "start_angle_deg": 0, "end_angle_deg": 0, "mass_kg": 1200, "axis_m": [[0.07, 0], [3.07, 0]], "bearing_deg": 90, "chainage_mm": 70},
{"mark": "A-002", "leg": "A", "supply": "T", "start_mm": 3010, "length_mm": 3000, "stock_mm": 3000, "cut": false, "start_angle_deg": 0, "end_angle_deg": 0, "mass_kg": 1200, "axis_m": [[3.08, 0], [6.08, 0]], "bearing_deg": 90, "chainage_mm": 3080},
{"mark": "A-003", "leg": "A", "supply": "T", "start_mm": 6020, "length_mm": 1800, "stock_mm": 3000, "cut": true, "start_angle_deg": 0, "end_angle_deg": 36.86989764584402, "mass_kg": 720, "axis_m": [[6.09, 0], [7.89, 0]], "bearing_deg": 90, "chainage_mm": 6090, "piece": {"left_side_mm": 2025, "right_side_mm": 1575, "diagonal_a_mm": 1685.415379, "diagonal_b_mm": 2112.019176, "kept_end": "start", "cut_from": "T-U1", "turned": false}},
{"mark": "B-001", "leg": "B", "supply": "T", "start_mm": 0, "length_mm": 1200, "stock_mm": 3000, "cut": true, "start_angle_deg": -36.86989764584402, "end_angle_deg": 0, "mass_kg": 480, "axis_m": [[7.8996, -0.0072], [8.2356, -1.1592]], "bearing_deg": 163.73979529168804, "chainage_mm": 7.5, "piece": {"left_side_mm": 1425, "right_side_mm": 975, "diagonal_a_mm": 1546.164609, "diagonal_b_mm": 1144.825315, "kept_end": "end", "cut_from": "T-U2", "turned": false}},
{"mark": "B-002", "leg": "B", "supply": "T", "start_mm": 1210, "length_mm": 3000, "stock_mm": 3000, "cut": false, "start_angle_deg": 0, "end_angle_deg": 0, "mass_kg": 1200, "axis_m": [[8.2384, -1.1688], [9.0784, -4.0488]], "bearing_deg": 163.73979529168804, "chainage_mm": 1217.5}
],
"covers": [
{"mark": "A-001.1", "unit": "A-001", "start_mm": 2, "length_mm": 996, "stock_mm": 996, "cut": false, "start_angle_deg": 0, "end_angle_deg": 0, "mass_kg": 99.6, "left_side_mm": 996, "right_side_mm": 996},
{"mark": "A-001.2", "unit": "A-001", "start_mm": 1002, "length_mm": 996, "stock_mm": 996, "cut": false, "start_angle_deg": 0, "end_angle_deg": 0, "mass_kg": 99.6, "left_side_mm": 996, "right_side_mm": 996},
{"mark": "A-001.3", "unit": "A-001", "start_mm": 2002, "length_mm": 996, "stock_mm": 996, "cut": false, "start_angle_deg": 0, "end_angle_deg": 0, "mass_kg": 99.6, "left_side_mm": 996, "right_side_mm": 996},
{"mark": "A-002.1", "unit": "A-002", "start_mm": 2, "length_mm": 996, "stock_mm": 996, "cut": false, "start_angle_deg": 0, "end_angle_deg": 0, "mass_kg": 99.6, "left_side_mm": 996, "right_side_mm": 996},
{"mark": "A-002.2", "unit": "A-002", "start_mm": 1002, "length_mm": 996, "stock_mm": 996, "cut": false, "start_angle_deg": 0, "end_angle_deg": 0, "mass_kg": 99.6, "left_side_mm": 996, "right_side_mm": 996},
{"mark": "A-002.3", "unit": "A-002", "start_mm": 2002, "length_mm": 996, "stock_mm": 996, "cut": false, "start_angle_deg": 0, "end_angle_deg": 0, "mass_kg": 99.6, "left_side_mm": 996, "right_side_mm": 996},
{"mark": "A-003.1", "unit": "A-003", "start_mm": 2, "length_mm": 996, "stock_mm": 996, "cut": false, "start_angle_deg": 0, "end_angle_deg": 0, "mass_kg": 99.6, "left_side_mm": 996, "right_side_mm": 996},
{"mark": "A-003.2", "unit": "A-003", "start_mm": 1002, "length_mm": 795.5, "stock_mm": 996, "cut": true, "start_angle_deg": 0, "end_angle_deg": 36.86989764584402, "mass_kg": 79.55, "left_side_mm": 983, "right_side_mm": 608, "cut_from": "T-C1"},
{"mark": "B-001.1", "unit": "B-001", "start_mm": 2.5, "length_mm": 600, "stock_mm": 996, "cut": true, "start_angle_deg": -36.86989764584402, "end_angle_deg": 0, "mass_kg": 60, "left_side_mm": 787.5, "right_side_mm": 412.5, "cut_from": "T-C2"},
{"mark": "B-001.2", "unit": "B-001", "start_mm": 606.5, "length_mm": 591.5, "stock_mm": 996, "cut": true, "start_angle_deg": 0, "end_angle_deg": 0, "mass_kg": 59.15, "left_side_mm": 591.5, "right_side_mm": 591.5, "cut_from": "T-C3"},
{"mark": "B-002.1", "unit": "B-002", "start_mm": 2, "length_mm": 996, "stock_mm": 996, "cut": false, "start_angle_deg": 0, "end_angle_deg": 0, "mass_kg": 99.6, "left_side_mm": 996, "right_side_mm": 996},
{"mark": "B-002.2", "unit": "B-002", "start_mm": 1002, "length_mm": 996, "stock_mm": 996, "cut": false, "start_angle_deg": 0, "end_angle_deg": 0, "mass_kg": 99.6, "left_side_mm": 996, "right_side_mm": 996},
{"mark": "B-002.3", "unit": "B-002", "start_mm": 2002, "length_mm": 996, "stock_mm": 996, "cut": false, "start_angle_deg": 0, "end_angle_deg": 0, "mass_kg": 99.6, "left_side_mm": 996, "right_side_mm": 996}
],
"joints": [
{"name": "A-001/A-002", "leg": "A", "at_mm": 3010, "gap_mm": 10, "gap_min_mm": 8, "gap_max_mm": 14, "budget": {"room_mm": 2, "turn_mm": 0, "grade_mm": 0, "square_mm": 1, "reserve_mm": 0.5, "left_mm": 0.5}},
{"name": "A-002/A-003", "leg": "A", "at_mm": 6020, "gap_mm": 10, "gap_min_mm": 8, "gap_max_mm": 14, "budget": {"room_mm": 2, "turn_mm": 0, "grade_mm": 0, "square_mm": 1, "reserve_mm": 0.5, "left_mm": 0.5}},
{"name": "B-001/B-002", "leg": "B", "at_mm": 1210, "gap_mm": 10, "gap_min_mm": 8, "gap_max_mm": 14, "budget": {"room_mm": 2, "turn_mm": 0, "grade_mm": 0, "square_mm": 1, "reserve_mm": 0.5, "left_mm": 0.5}}
],
"zones": [
{"leg": "A", "from_mm": 2000, "to_mm": 2900, "why": "conduit A-e1 on the left", "kind": "entry", "id": "A-e1"}
],
"supplies": [
{"id": "T", "title": "trough", "source": "D1", "lengths_mm": [3000], "outer_width_mm": 600, "outer_height_mm": 500, "inner_width_mm": 450, "inner_height_mm": 400, "cover_width_mm": 500, "rating": "NOT CHECKED: no load rating on file", "cover_rating": "as declared", "kerf_mm": 5}
],
"cutting": [
{"supply": "T", "of": "units", "bought": 2, "bound": 2, "proven": true, "patterns": [
{"name": "T-U1", "stock_mm": 3000, "offcut": false, "pieces": [{"mark": "A-003", "from_mm": 0, "to_mm": 1800, "from_tan": 0, "to_tan": 0.75, "turned": false}], "left": [{"mark": "A-003/a", "from_mm": 1806.25, "to_mm": 3000, "usable": true}], "saws": 1, "saw_loss_mm": 6.25},
{"name": "T-U2", "stock_mm": 3000, "offcut": false, "pieces": [{"mark": "B-001", "from_mm": 1800, "to_mm": 3000, "from_tan": -0.75, "to_tan": 0, "turned": false}], "left": [{"mark": "B-001/a", "from_mm": 0, "to_mm": 1793.75, "usable": true}], "saws": 1, "saw_loss_mm": 6.25}]},
{"supply": "T", "of": "covers", "bought": 3, "bound": 3, "proven": true, "patterns": [
{"name": "T-C1", "stock_mm": 996, "offcut": false, "pieces": [{"mark": "A-003.2", "from_mm": 0, "to_mm": 795.5, "from_tan": 0, "to_tan": 0.75, "turned": false}], "left": [], "saws": 1, "saw_loss_mm": 200.5},
{"name": "T-C2", "stock_mm": 996, "offcut": false, "pieces": [{"mark": "B-001.1", "from_mm": 396, "to_mm": 996, "from_tan": -0.75, "to_tan": 0, "turned": false}], "left": [], "saws": 1, "saw_loss_mm": 396},
{"name": "T-C3", "stock_mm": 996, "offcut": false, "pieces": [{"mark": "B-001.2", "from_mm": 0, "to_mm": 591.5, "from_tan": 0, "to_tan": 0, "turned": false}], "left": [{"mark": "B-001.2/a", "from_mm": 596.5, "to_mm": 996, "usable": true}], "saws": 1, "saw_loss_mm": 5}]}
],
"set_out": [
{"leg": "A", "place": "start of A-001", "chainage_mm": 70, "at_mm": 0, "easting_m": 1000.07, "northing_m": 2000, "bearing_deg": 90},
{"leg": "A", "place": "A-001/A-002", "chainage_mm": 3075, "at_mm": 3005, "easting_m": 1003.075, "northing_m": 2000, "bearing_deg": 90},
{"leg": "A", "place": "A-002/A-003", "chainage_mm": 6085, "at_mm": 6015, "easting_m": 1006.085, "northing_m": 2000, "bearing_deg": 90},
{"leg": "A", "place": "end of A-003", "chainage_mm": 7890, "at_mm": 7820, "easting_m": 1007.89, "northing_m": 2000, "bearing_deg": 90},
{"leg": "B", "place": "start of B-001", "chainage_mm": 7.5, "at_mm": 0, "easting_m": 1007.8996, "northing_m": 1999.9928, "bearing_deg": 163.73979529168804},
{"leg": "B", "place": "B-001/B-002", "chainage_mm": 1212.5, "at_mm": 1205, "easting_m": 1008.237, "northing_m": 1998.836, "bearing_deg": 163.73979529168804},
{"leg": "B", "place": "end of B-002", "chainage_mm": 4217.5, "at_mm": 4210, "easting_m": 1009.0784, "northing_m": 1995.9512, "bearing_deg": 163.73979529168804}
],
"bill": [
{"item": "unit 3000 mm", "supply": "T", "kind": "unit", "length_mm": 3000, "need": "5", "spare": "1", "order": "6", "unit": "piece", "source": "D1"},
{"item": "seal strip", "supply": "T", "kind": "loose part", "length_mm": null, "need": "5.7", "order": "25", "unit": "m", "pack": 25, "packs": 1, "source": "D1"}
],
"totals": {"legs": 2, "clear_length_mm": 12030, "units": 5, "plain": 3, "cuts": 2, "covers": 13, "cut_covers": 3, "joints": 3, "bought": 5, "covers_bought": 13, "mass_kg": 5994.7},
"proof": {"legs": [{"leg": "A", "claim": "", "bound": "", "verified": true, "intervals": 3}, {"leg": "B", "claim": "", "bound": "", "verified": true, "intervals": 2}], "cutting": [], "text": []},
"findings": [
{"id": "job.scale", "kind": "not checked", "text": "NOT CHECKED: no combined scale factor on file", "ask": "the surveyor"},
{"id": "supply.rating", "kind": "not checked", "text": "NOT CHECKED: no load rating of supply T on file", "ask": "the supplier"}
]}`

// smallJob is the job behind small.
func smallJob(t *testing.T) []byte {
	t.Helper()
	j := declareSmall()
	return written(t, j)
}

func written(t *testing.T, j job.Job) []byte {
	t.Helper()
	text, err := json.Marshal(j)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func declareSmall() job.Job {
	const mm = measure.Millimetre
	supply := job.Supply{
		ID: "T", Title: "trough", From: "D1",
		Unit: job.UnitMake{
			Lengths: job.Known([]measure.Length{3000 * mm}), Outer: job.Known(job.Section{Width: 600 * mm, Height: 500 * mm}),
			Inner: job.Known(job.Section{Width: 450 * mm, Height: 400 * mm}), Mass: job.Known(measure.LinearMass(400_000)),
			Ends: job.Known("plain"), MayTurn: job.Known(true), OutOfSquare: job.Known(2 * mm),
			NoCut: []job.NoCut{{Of: 3000 * mm, From: 600 * mm, To: 700 * mm, Why: "inserts"}},
		},
		Joint: job.JointMake{
			Gap: job.Known(measure.Window{Nominal: 10 * mm, Min: 8 * mm, Max: 14 * mm}), MitreGap: job.Known(12 * mm), EndGap: job.Known(10 * mm),
		},
		Saw: job.SawRule{Shortest: job.Known(600 * mm), Kerf: job.Known(5 * mm), LeastSlice: job.Known(8 * mm), KeepFactoryEnd: job.Known(true)},
		Cover: &job.CoverMake{
			Lengths: job.Known([]measure.Length{996 * mm}), Gap: job.Known(measure.Window{Nominal: 4 * mm, Min: 2 * mm, Max: 6 * mm}),
			Width: job.Known(500 * mm), Shortest: job.Known(300 * mm), Mass: job.Known(measure.LinearMass(100_000)),
		},
	}
	at := func(e, n float64) *[2]float64 { return &[2]float64{e, n} }
	return job.Job{
		Format: 1, ID: "small", Name: "Small", Supplies: []job.Supply{supply},
		Documents: []job.Document{{ID: "D1", Title: "made for this test"}},
		Route: job.Route{
			Nodes: []job.Node{
				{ID: "N1", At: at(1000, 2000), End: &job.End{Kind: "plate", Thickness: 60 * mm}},
				{ID: "N2", At: at(1007.8975, 2000)},
				{ID: "N3", At: at(1009.0784, 1995.9512), End: &job.End{Kind: "open"}},
			},
			Legs: []job.Leg{
				{ID: "A", From: "N1", To: "N2", Entries: []job.ConduitEntry{{ID: "A-e1", At: 2520 * mm, Side: "left", Diameter: 100 * mm, Clear: 400 * mm}}},
				{ID: "B", From: "N2", To: "N3"},
			},
		},
		Rules: job.Rules{DriftReserve: job.Known(mm / 2)},
	}
}

func TestSmallPlanHolds(t *testing.T) {
	for _, line := range Check([]byte(small), smallJob(t)) {
		t.Error(line)
	}
}

func TestSmallPlanHoldsWithoutItsJob(t *testing.T) {
	for _, line := range Check([]byte(small), nil) {
		t.Error(line)
	}
}
