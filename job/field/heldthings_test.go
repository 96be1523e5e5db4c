package field

import (
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// made is a job and a run in which everything has a plan: A-001 is 3000 mm long and lies from 1 m, 2 m due east, a conduit entry goes
// into its left wall, the run turns by 45° at N2, and a layer is at most 200 mm.
func madeJob() (job.Job, *Run) {
	j := contract()
	j.Rules.SawTolerance = job.Known(3 * mm)
	j.Rules.LineTol = job.Known(5 * mm)
	j.Dig.Layer = job.Known(200 * mm)
	j.Supplies = []job.Supply{{ID: plain.Supply}}
	j.Route.Legs = []job.Leg{{ID: "A", Entries: []job.ConduitEntry{{ID: "E1", At: 1500 * mm, Side: "left", Diameter: 110 * mm}}}}
	run := small()
	u := &run.Legs[0].Units[0]
	u.Piece, u.Long, u.Walls = plain, 3000*mm, [2]measure.Length{3000 * mm, 3000 * mm}
	u.Points = [2]Point{{1000 * mm, 2000 * mm}, {4000 * mm, 2000 * mm}}
	run.Bends = map[string]measure.Angle{"N2": 45 * measure.Degree}
	return j, run
}

// Each thing that was made beside what was planned, worked by hand: value, limit with where it is written, verdict or whom to ask.
func TestWhatWasMadeIsHeld(t *testing.T) {
	g := people(t)
	const meets, not, cannot = "meets the stated figure", "does not meet the stated figure", "cannot say"
	for i, c := range []struct {
		r             Record
		of            string
		verdict, said string
	}{
		{g.makes("a", Set, "A-001", "", SetSays{Measure: new(2700 * mm)}), "length", NotChecked, "length off the planned 3000 mm, -300 mm. NOT CHECKED: no tolerance for the length of units of supply T3 on file. Ask: the supplier"},
		{g.makes("a", Set, "A-001", "", SetSays{Type: "seven foot unit"}), "type", not, "type seven foot unit, held against the plan, which has T3 unit 3000 mm"},
		{g.makes("a", Cut, "A-001", "", CutSays{Mark: "A-001", From: plain, Left: new(1000 * mm), Right: new(2500 * mm)}), "cut", not, "cut piece off its planned 3000 mm on the left wall, -2000 mm, limit 3 mm"},
		{g.makes("a", Cut, "A-001", "", CutSays{Mark: "A-001", From: plain, Left: new(3002 * mm), Right: new(2999 * mm)}), "cut", meets, "limit 3 mm"},
		{g.makes("a", Layer, "A-001", "", LayerSays{Number: 1, Side: "both", Thick: 900 * mm, Passes: 1}), "layer", not, "layer 1, both, thick 900 mm, it may be 0 mm to 200 mm"},
		{g.makes("a", Layer, "A-001", "", LayerSays{Number: 1, Side: "left", Thick: 150 * mm}), "layer", meets, "layer 1, left, thick 150 mm"},
		{g.makes("a", Entry, "E1", "", EntrySays{Wall: "right"}), "entry", not, "conduit entry E1, wall right, held against the job, which has left"},
		{g.makes("a", Entry, "A-001", "", EntrySays{Wall: "left"}), "entry", meets, "conduit entry E1, wall left"},
		{g.makes("a", Entry, "E1", "", EntrySays{Diameter: new(160 * mm)}), "entry", NotChecked, "conduit entry E1, diameter 160 mm, planned 110 mm. NOT CHECKED: no tolerance for the size of conduit entries on file. Ask: whoever designed the conduits"},
		{g.makes("a", Entry, "A-003", "", EntrySays{Wall: "left"}), "entry", NotChecked, "no conduit entry that is planned at A-003"},
		{g.makes("a", Shot, "A-001/A-002", "", ShotSays{Of: "joint", Easting: 1 * measure.Metre, Northing: 2 * measure.Metre}), "shot", not, "as-built shot joint, along the run -3000 mm, limit 5 mm"},
		{g.makes("a", Shot, "A-001/A-002", "", ShotSays{Of: "joint", Easting: 4003 * mm, Northing: 1996 * mm}), "shot", meets, "as-built shot joint, along the run 3 mm"},
		{g.makes("a", Shot, "A-002", "", ShotSays{Of: "wall"}), "shot", NotChecked, "no set-out of A-002 on file"},
		{g.makes("a", Angle, "N2", "", AngleSays{Angle: 436 * measure.Degree / 10, Plus: measure.Degree / 10}), "bend", NotChecked, "drawn 45"},
		{g.makes("a", Bond, "A-001", "", TestSays{Value: "9 ohm", Limit: "0.1 ohm"}), "test", not, "bond 9 ohm, held against 0.1 ohm"},
		{g.makes("a", Bond, "A-001", "", TestSays{Value: "0.05 Ω", Limit: "0.1 ohm"}), "test", meets, ""},
		{g.makes("a", Bond, "A-001", "", TestSays{Value: "9 mohm", Limit: "0.1 ohm"}), "test", cannot, ""},
		{g.makes("a", Bond, "A-001", "", TestSays{Method: "insulation", Value: "9 Mohm", Limit: "1 Mohm"}), "test", cannot, ""},
		{g.makes("a", CoverTest, "A-001", "", TestSays{Value: "94 %", Limit: "at least 95 %"}), "test", not, ""},
		{g.makes("a", CoverTest, "A-001", "", TestSays{Value: "94 %", Limit: "95 %"}), "test", cannot, ""},
	} {
		j, run := madeJob()
		b := NewBook(run).Under(Asks(j))
		b.Add(c.r)
		var h Held
		for _, one := range b.Held(Asks(j)) {
			if one.Of == c.of && h.Of == "" {
				h = one
			}
		}
		if said := h.Say(exact); h.Verdict != c.verdict || !strings.Contains(said, c.said) || len(h.By) != 1 || h.By[0] != c.r.ID {
			t.Errorf("%d: %q %+v, want %s, %q", i, said, h, c.verdict, c.said)
		}
	}
	j, run := madeJob()
	b := NewBook(run).Under(Asks(j))
	b.Add(g.makes("a", Shot, "A-001", "", ShotSays{Of: "wall", Easting: 2500 * mm, Northing: 1993 * mm}))
	if list := b.Held(Asks(j)); len(list) != 2 || list[0].Value != 0 || list[1].Value != 7*mm || list[1].Verdict != not {
		t.Errorf("seven to the right of a unit that runs due east: %+v", list)
	}
}
