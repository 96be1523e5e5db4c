package plancheck

import (
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// mutation spoils one line of the small plan: the first line that holds row gets its first old replaced by new.
type mutation struct {
	name, row, old, new string
	want                string // part of what the checker has to say
}

func (m mutation) spoil(t *testing.T, plan string) string {
	t.Helper()
	lines := strings.Split(plan, "\n")
	for i, line := range lines {
		if !strings.Contains(line, m.row) {
			continue
		}
		if !strings.Contains(line, m.old) {
			t.Fatalf("%s: no %s in %s", m.name, m.old, line)
		}
		lines[i] = strings.Replace(line, m.old, m.new, 1)
		return strings.Join(lines, "\n")
	}
	t.Fatalf("%s: no line with %s", m.name, m.row)
	return ""
}

const (
	u1, u2, u3 = `{"mark": "A-001",`, `{"mark": "A-002",`, `{"mark": "A-003",`
	v1, v2     = `{"mark": "B-001",`, `{"mark": "B-002",`
	j1, j2     = `"name": "A-001/A-002"`, `"name": "A-002/A-003"`
	bend       = `"id": "N2"`
	sums       = `"totals":`
)

var mutations = []mutation{
	// the row of units
	{"first unit not at 0", u1, `"start_mm": 0`, `"start_mm": 1`, "not at 0"},
	{"a unit moved", u2, `"start_mm": 3010`, `"start_mm": 3010.000001`, "A-002 starts at 3010.000001 mm"},
	{"a nanometre too long", u2, `"length_mm": 3000`, `"length_mm": 3000.000001`, "its length is 3000.000001 mm"},
	{"last unit short of the end", v2, `"length_mm": 3000`, `"length_mm": 2999`, "it has to be 3000 mm long, its length is 2999 mm"},
	{"clear length", `{"name": "A", "from"`, `"clear_length_mm": 7820`, `"clear_length_mm": 7821`, "from node to node it is 7897.5 mm"},
	{"node length against the axis", `{"name": "B", "from"`, `"node_length_mm": 4217.5`, `"node_length_mm": 4217.6`, "its axis is 4.217500 m on the ground"},
	{"impossible with units", `{"name": "B", "from"`, `"found"`, `"impossible"`, "is impossible and has units"},
	{"no such node", `{"name": "B", "from"`, `"N3"`, `"N9"`, "its node N9 is not in the plan"},
	{"a plain unit of no stock", u1, `"stock_mm": 3000`, `"stock_mm": 2500`, "A-001 is not cut"},
	{"cut unit called plain", v1, `"cut": true`, `"cut": false`, "B-001 is not cut, but"},
	{"unknown supply", u1, `"supply": "T"`, `"supply": "U"`, "its supply U is not in the plan"},
	{"a place called wrongly", u2, `"mark": "A-002"`, `"mark": "A-022"`, "A-022 is the place number 2"},
	{"one mark twice", v2, `"mark": "B-002"`, `"mark": "B-001"`, "mark B-001 stands twice"},
	{"chainage", u2, `"chainage_mm": 3080`, `"chainage_mm": 3081`, "A-002: chainage 3081 mm"},
	{"axis in plan moved", u2, `[[3.08, 0]`, `[[3.081, 0]`, "A-002: it starts 0.001000 m from"},
	{"far end in plan moved", u2, `[6.08, 0]]`, `[6.08, 0.002]]`, "A-002: it ends 0.002000 m from"},
	{"bearing", u2, `"bearing_deg": 90`, `"bearing_deg": 90.1`, "A-002: bearing 90.100000"},
	// joints and zones
	{"gap too wide", j1, `"gap_mm": 10`, `"gap_mm": 15`, "gap 15 mm, allowed 8 mm to 14 mm"},
	{"gap that does not add up", j1, `"gap_mm": 10`, `"gap_mm": 11`, "it has to be 2999 mm long"},
	{"a window of its own", j1, `"gap_max_mm": 14`, `"gap_max_mm": 13`, "is no supply's"},
	{"joint in a zone", `"id": "A-e1"`, `"to_mm": 2900`, `"to_mm": 3000.000001`, "joint from 3000 mm to 3010 mm in the zone"},
	{"a zone without a reason", `"id": "A-e1"`, `"from_mm": 2000, "to_mm": 2900, "why": "conduit A-e1 on the left"`, `"from_mm": 2000, "to_mm": 2900, "why": ""`, "for the reason"},
	{"cut unit where none may lie", `"id": "A-e1"`, `"from_mm": 2000, "to_mm": 2900,`, `"no_cut": true, "from_mm": 6100, "to_mm": 6200,`, "A-003: a cut unit where no cut piece may lie"},
	{"joint's name", j2, `"A-002/A-003"`, `"A-002/A-004"`, "is called A-002/A-004"},
	// budgets
	{"room", j1, `"room_mm": 2`, `"room_mm": 3`, "room 3 mm, its gap leaves 2 mm"},
	{"left does not add up", j1, `"left_mm": 0.5`, `"left_mm": 0.6`, "are spent and 0.6 mm are left"},
	{"square and left traded", j2, `"square_mm": 1, "reserve_mm": 0.5, "left_mm": 0.5`, `"square_mm": 0.5, "reserve_mm": 0.5, "left_mm": 1`, "out of square by 2 mm"},
	{"reserve left out", j2, `"reserve_mm": 0.5, "left_mm": 0.5`, `"reserve_mm": 0, "left_mm": 1`, "the contract keeps 0.5 mm"},
	{"a turn that is none", j2, `"turn_mm": 0`, `"turn_mm": 0.5`, "are set aside"},
	// cut units
	{"sides swapped", u3, `"left_side_mm": 2025, "right_side_mm": 1575`, `"left_side_mm": 1575, "right_side_mm": 2025`, "A-003: left and right side"},
	{"diagonal", u3, `"diagonal_a_mm": 1685`, `"diagonal_a_mm": 1686`, "A-003: its diagonals"},
	{"hand of a mitre", u3, `"end_angle_deg": 36`, `"end_angle_deg": -36`, "asks for 36.869898"},
	{"saw angle off", v1, `"start_angle_deg": -36.86989764584402`, `"start_angle_deg": -36.9`, "are not parallel"},
	{"mitre inside a leg", v1, `"end_angle_deg": 0`, `"end_angle_deg": 5`, "inside a leg they are square"},
	{"mitre at an end plate", u1, `"start_angle_deg": 0`, `"start_angle_deg": 5`, "ends at 5.000000° and nothing there is mitred"},
	// covers
	{"cover over the end", `"mark": "A-001.3"`, `"start_mm": 2002`, `"start_mm": 2005`, "cover A-001.3 leaves its unit A-001"},
	{"mitred cover over one wall", `"mark": "A-003.2"`, `"end_angle_deg": 36.86989764584402`, `"end_angle_deg": 38`, "leaves its unit A-003 on the left wall"},
	{"covers overlap", `"mark": "A-001.2"`, `"start_mm": 1002`, `"start_mm": 997`, "lies 1 mm over A-001.1"},
	{"cover gap", `"mark": "A-001.2"`, `"start_mm": 1002`, `"start_mm": 1005`, "gap 7 mm to A-001.1, allowed 2 mm to 6 mm"},
	{"bare end", `"mark": "B-001.2"`, `"length_mm": 591.5`, `"length_mm": 585`, "bare at its end"},
	{"covers' order", `"mark": "B-002.2"`, `"mark": "B-002.2"`, `"mark": "B-002.4"`, "is the cover number 2 of B-002"},
	{"cover of nothing", `"mark": "B-002.2"`, `"unit": "B-002"`, `"unit": "B-007"`, "which is not in the plan"},
	{"whole cover that is not", `"mark": "B-002.2"`, `"length_mm": 996`, `"length_mm": 990`, "is not cut, but"},
	{"cover's sides", `"mark": "B-001.1"`, `"left_side_mm": 787.5`, `"left_side_mm": 412.5`, "cover B-001.1: left and right side"},
	// bends
	{"mitre gap", bend, `"gap_mm": 12`, `"gap_mm": 13`, "the mitre gap is 13 mm"},
	{"node moved along the bend", bend, `"at_m": [7.8975, 0]`, `"at_m": [7.8995, 0.001]`, "does not stand on the node"},
	{"deflection's hand", bend, `"deflection_deg": 73`, `"deflection_deg": -73`, "its legs turn by 73.739795"},
	{"pad across", bend, `"pad_across_mm": 750`, `"pad_across_mm": 600`, "a width of 600 mm makes 450 mm and 750 mm"},
	{"set-back", bend, `"setback_mm": 7.5`, `"setback_mm": 6`, "set-back 6 mm"},
	{"saw angle of the bend", bend, `"saw_angle_deg": 36`, `"saw_angle_deg": 35`, "half the turn is"},
	{"heading", bend, `[270, `, `[269, `, "leaves at 270.000000"},
	{"the wrong unit at the bend", bend, `"in": "A-003"`, `"in": "A-002"`, "A-003 and B-001 meet there"},
	// cutting
	{"piece cut twice", `"name": "T-U2"`, `"mark": "B-001", "from_mm"`, `"mark": "A-003", "from_mm"`, "A-003 is cut 2 times"},
	{"piece never cut", `"name": "T-C3"`, `"mark": "B-001.2", "from_mm"`, `"mark": "B-001.9", "from_mm"`, "B-001.2 is cut 0 times"},
	{"length on the stock", `"name": "T-U1"`, `"to_mm": 1800`, `"to_mm": 1801`, "its length is 1800 mm"},
	{"wrong hand on the stock", `"name": "T-U1"`, `"to_tan": 0.75`, `"to_tan": -0.75`, "laid it has 0.000000 and 0.750000"},
	{"turned", `"name": "T-U1"`, `"turned": false`, `"turned": true`, "it lies here, turned true"},
	{"kept end is not at the end", `"name": "T-U1"`, `"from_mm": 0, "to_mm": 1800`, `"from_mm": 10, "to_mm": 1810`, "keeps its start as cast"},
	{"no such stock", `"name": "T-U1"`, `"stock_mm": 3000`, `"stock_mm": 4000`, "no stock of 4000 mm"},
	{"two pieces too near", `"name": "T-C2"`, `"pieces": [`, `"pieces": [{"mark": "B-001.2", "from_mm": 0, "to_mm": 591.5, "from_tan": 0, "to_tan": 0, "turned": false}, `, "the saw needs"},
	{"reaches beyond the stock", `"name": "T-C2"`, `"from_mm": 396, "to_mm": 996`, `"from_mm": 100, "to_mm": 700`, "reaches 87.5 mm beyond end A"},
	{"a slice that no saw takes", `"name": "T-U2"`, `"from_mm": 1800, "to_mm": 3000`, `"from_mm": 1795, "to_mm": 2995`, "a slice of 5 mm"},
	{"saw in the inserts", `"name": "T-U1"`, `"from_mm": 0, "to_mm": 1800, "from_tan": 0, "to_tan": 0.75`, `"from_mm": 0, "to_mm": 800, "from_tan": 0, "to_tan": 0.75`, "runs through 600 mm to 700 mm (inserts)"},
	{"rest over a piece", `"name": "T-C3"`, `"from_mm": 596.5`, `"from_mm": 590`, "lies over B-001.2"},
	{"saw loss", `"name": "T-C3"`, `"saw_loss_mm": 5`, `"saw_loss_mm": 4`, "make 995 mm of 996 mm"},
	{"bought", `"of": "units", "bought": 2`, `"bought": 2`, `"bought": 1`, "1 bought, 2 stand there"},
	{"bound above what is bought", `"of": "units", "bought": 2`, `"bound": 2`, `"bound": 3`, "at least 3 are needed"},
	{"proven without a proof", `"of": "covers", "bought": 3`, `"bound": 3`, `"bound": 2`, "proven with a bound of 2"},
	{"saw cuts", `"name": "T-U1"`, `"saws": 1`, `"saws": 2`, "2 saw cuts, its pieces take 1"},
	// sums
	{"a proof that nobody verified", `"proof":`, `"verified": true`, `"verified": false`, "no verified proof stands behind it"},
	{"laid from elsewhere", `{"name": "A", "from"`, `"laid_from": "N1"`, `"laid_from": "N3"`, "is laid from N3"},
	{"the bill forgets a unit", `"item": "unit 3000 mm"`, `"need": "5"`, `"need": "4"`, "the bill needs 4 units"},
	{"units", sums, `"units": 5`, `"units": 6`, "totals say 6 units"},
	{"joints", sums, `"joints": 3`, `"joints": 4`, "totals say 4 joints"},
	{"cut covers", sums, `"cut_covers": 3`, `"cut_covers": 2`, "totals say 2 cut covers"},
	{"clear length in all", sums, `"clear_length_mm": 12030`, `"clear_length_mm": 12031`, "12031 mm of clear length"},
	{"units bought", sums, `"bought": 5`, `"bought": 4`, "totals say 4 units bought"},
	{"covers bought", sums, `"covers_bought": 13`, `"covers_bought": 12`, "totals say 12 covers bought"},
	{"mass in all", sums, `"mass_kg": 5994.7`, `"mass_kg": 5994.8`, "totals say 5994.800 kg"},
	{"a leg's count", `{"name": "A", "from"`, `"cuts": 1`, `"cuts": 0`, "leg A counts 3 units, 0 cuts"},
	{"a unit's mass", u1, `"mass_kg": 1200`, `"mass_kg": 1201`, "A-001 weighs 1201.000 kg"},
	{"a mass dropped", u1, `"mass_kg": 1200`, `"mass_kg": null`, "A-001 has no mass"},
	{"a row of set-out moved", `"place": "A-001/A-002"`, `"easting_m": 1003.075`, `"easting_m": 1003.076`, "it lies 0.001000 m from"},
	{"a row of set-out misplaced", `"place": "A-001/A-002"`, `"at_mm": 3005`, `"at_mm": 3010`, "set-out A-001/A-002 at 3010 mm"},
	{"a row of set-out gone", `"place": "end of B-002"`, `"leg": "B"`, `"leg": "A"`, "rows of set-out"},
	{"a level from nowhere", `"place": "end of B-002"`, `"bearing_deg"`, `"level_m": 3, "bearing_deg"`, "has a level, and a node"},
	{"too little ordered", `"item": "unit 3000 mm"`, `"order": "6"`, `"order": "5"`, "5 are ordered"},
	{"a unit of no length on the bill", `"item": "unit 3000 mm"`, `"length_mm": 3000`, `"length_mm": null`, "unit 3000 mm has no length"},
	{"a unit that nobody makes on the bill", `"item": "unit 3000 mm"`, `"length_mm": 3000`, `"length_mm": 2999`, "unit 3000 mm has no length"},
	{"half a pack", `"item": "seal strip"`, `"order": "25"`, `"order": "26"`, "26 are ordered in 1 packs of 25"},
	// what is not known
	{"silence about the scale factor", `"id": "job.scale"`, `"not checked"`, `"note"`, "no scale factor is known"},
	{"silence about the kerf", `"lengths_mm": [3000]`, `"kerf_mm": 5`, `"kerf_mm": null`, "no kerf is known"},
	{"nobody to ask", `"id": "supply.rating"`, `"ask": "the supplier"`, `"ask": ""`, "names nobody to ask"},
	{"a finding without words", `"id": "supply.rating"`, `"text": "NOT CHECKED: no load rating of supply T on file"`, `"text": ""`, "says nothing"},
	// the contract
	{"a key of the contract gone", j1, `"gap_max_mm": 14, `, ``, "joints[0] has no gap_max_mm"},
	{"finer than a nanometre", u2, `"start_mm": 3010`, `"start_mm": 3010.0000001`, "exact to 1e-6"},
	{"another format", `{"format": 1`, `"format": 1`, `"format": 2`, "has format 2"},
}

// Every rule bites: a plan that is spoiled in one place is found out, in words that name the place.
func TestEveryMutationIsFound(t *testing.T) {
	declared := smallJob(t)
	for _, m := range mutations {
		t.Run(m.name, func(t *testing.T) {
			lines := Check([]byte(m.spoil(t, small)), declared)
			if !mentionsExactly(lines, m.want) {
				t.Errorf("nothing says %q; said was:\n%s", m.want, strings.Join(lines, "\n"))
			}
		})
	}
}

// The plan is held against the job: whatever the job asks for and the plan does not give is found out.
func TestEveryWishOfTheJobIsHeldAgainstThePlan(t *testing.T) {
	const mm = measure.Millimetre
	for _, c := range []struct {
		name string
		ask  func(j *job.Job)
		want string
	}{
		{"conduit at a joint", func(j *job.Job) { j.Route.Legs[0].Entries[0].At = 3075 * mm }, "conduit A-e1 keeps 2555 mm to 3455 mm free"},
		{"service at a joint, skew", func(j *job.Job) {
			j.Route.Legs[0].Services = []job.Service{{ID: "w", Name: "water main", At: 6500 * mm, Width: 200 * mm, Clear: 100 * mm, Skew: 45 * measure.Degree}}
		}, "service w keeps 5847.157288 mm to 7012.842712 mm free"}, // 400/sin 45° + 600/tan 45° = 1165.685
		{"support at a joint", func(j *job.Job) {
			j.Route.Legs[0].Supports = []job.Support{{ID: "s", At: 575 * mm, Every: 2500 * mm, Width: 50 * mm}}
		}, "and support s at 3075 mm keeps 2980 mm to 3030 mm free"},
		{"zone of the job", func(j *job.Job) {
			j.Route.Legs[1].Zones = []job.Zone{{ID: "z", From: 1000 * mm, To: 1300 * mm, Why: "sump"}}
		}, "zone z keeps"},
		{"crossing with strips over a cut unit", func(j *job.Job) {
			j.Route.Legs[1].Crossings = []job.Crossing{{ID: "x", At: 900 * mm, Path: 400 * mm, Strips: []job.Strip{{From: -50 * mm, To: 50 * mm}}}}
		}, "B-001: a cut unit where no cut piece may lie (crossing x)"},
		{"crossing without strips at a joint", func(j *job.Job) {
			j.Route.Legs[0].Crossings = []job.Crossing{{ID: "x", At: 3075 * mm, Path: 400 * mm, MayCut: true}}
		}, "crossing x keeps 2805 mm to 3205 mm free"},
		{"supply forced below a crossing", func(j *job.Job) {
			heavy := j.Supplies[0]
			heavy.ID = "heavy"
			j.Supplies = append(j.Supplies, heavy)
			j.Route.Legs[0].Crossings = []job.Crossing{{ID: "x", At: 1000 * mm, Path: 400 * mm, Supply: "heavy"}}
		}, "A-001 is of supply T, the job asks for heavy there"},
		{"joint forced elsewhere", func(j *job.Job) {
			j.Route.Legs[0].Joints = []job.ForcedJoint{{ID: "f", At: 4000 * mm, Tol: 20 * mm}}
		}, "where f asks for one"},
		{"first length", func(j *job.Job) { j.Route.Legs[0].First = []measure.Length{1500 * mm} }, "unit 1 in laying order is not of 1500 mm"},
		{"thicker end plate", func(j *job.Job) { j.Route.Nodes[0].End.Thickness = 80 * mm }, "leg A is set back by 70 mm at N1"},
		{"node elsewhere", func(j *job.Job) { j.Route.Nodes[1].At[1] = 2000.5 }, "node N2 lies 0.500000 m from"},
		{"leg the other way", func(j *job.Job) { j.Route.Legs[1].From, j.Route.Legs[1].To = "N3", "N2" }, "leg B runs from N2 to N3"},
		{"leg that is missing", func(j *job.Job) { j.Route.Legs[1].ID = "C" }, "leg C of the job is not in the plan"},
		{"longer shortest cut", func(j *job.Job) { j.Supplies[0].Saw.Shortest = job.Known(1000 * mm) }, "B-001: its short side is 975 mm"},
		{"longer shortest cover", func(j *job.Job) { j.Supplies[0].Cover.Shortest = job.Known(420 * mm) }, "cover B-001.1: its short side is 412.5 mm"},
		{"other covers", func(j *job.Job) { j.Supplies[0].Cover.Lengths = job.Known([]measure.Length{1496 * mm}) }, "no cover of 996 mm is made"},
		{"units that may not be turned, laid back", func(j *job.Job) {
			j.Supplies[0].Unit.MayTurn, j.Route.Legs[1].LayFrom = job.Known(false), "N3"
		}, "B-001 lies with end A at its start, laid from N3 it is end B"},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := declareSmall()
			c.ask(&j)
			if lines := Check([]byte(small), written(t, j)); !mentionsExactly(lines, c.want) {
				t.Errorf("nothing says %q; said was:\n%s", c.want, strings.Join(lines, "\n"))
			}
		})
	}
}

func mentionsExactly(lines []string, part string) bool {
	for _, l := range lines {
		if strings.Contains(l, part) {
			return true
		}
	}
	return false
}
