package job

import (
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// bare is a job with nothing in it beyond what a job has to say.
func bareJob(t testing.TB) Job {
	t.Helper()
	j, faults := FromJSON([]byte(`{"format": 1, "name": "x", "supplies": [{"id": "S1", "unit": {"lengths": "1000 mm"}, "joint": {"gap": "4 mm"}}],
		"route": {"nodes": [{"id": "N1", "at": [0, 0]}, {"id": "N2", "at": [5, 0]}], "legs": [{"id": "A", "from": "N1", "to": "N2"}]}}`))
	if len(faults) > 0 {
		t.Fatal(texts(faults))
	}
	return j
}

func TestMissingFigures(t *testing.T) {
	const want = `supplies[0].unit.inner | NOT CHECKED: no inner section of the unit of supply S1 on file. Ask: the supplier
supplies[0].unit.outer | NOT CHECKED: no outer section of the unit of supply S1 on file. Ask: the supplier
supplies[0].unit.mass | NOT CHECKED: no mass of the unit of supply S1 on file. Ask: the supplier
supplies[0].unit.ends | NOT CHECKED: no kind of end of the unit of supply S1 on file. Ask: the supplier
supplies[0].unit.may_turn | NOT CHECKED: no word on file about turning units of supply S1 end for end. Ask: the supplier
supplies[0].unit.out_of_square | NOT CHECKED: no figure on file for how far out of square ends of supply S1 may be. Ask: the supplier
supplies[0].joint.gap | NOT CHECKED: no window of the joint gap of supply S1 on file (fixed gap 4 mm). Ask: the supplier
supplies[0].joint.end_gap | NOT CHECKED: no gap of supply S1 to stop ends, castings and walls on file. Ask: the supplier
supplies[0].saw.shortest | NOT CHECKED: no shortest cut unit of supply S1 on file. Ask: the supplier
supplies[0].saw.kerf | NOT CHECKED: no kerf of the saw for supply S1 on file. Ask: the supplier
supplies[0].saw.keep_factory_end | NOT CHECKED: no word on file about keeping a factory end on every cut unit of supply S1. Ask: the supplier
supplies[0].cover | NOT CHECKED: no cover of supply S1 on file. Ask: the supplier
supplies[0].bearing.on | NOT CHECKED: no word on file about what supply S1 lies on, bed or pads. Ask: the supplier
supplies[0].lifting.by | NOT CHECKED: no way of lifting the unit of supply S1 on file. Ask: the supplier
supplies[0].rating | NOT CHECKED: no load rating of the unit of supply S1 on file. Ask: the supplier
supplies[0].cut_keeps_rating | NOT CHECKED: no word on file about the load rating of cut units of supply S1. Ask: the supplier
supplies[0].loose_parts | NOT CHECKED: no list of loose parts of supply S1 on file. Ask: the supplier
supplies[0].stacking.units_per_bundle | NOT CHECKED: no number of units in a bundle of supply S1 on file. Ask: the supplier
supplies[0].from | NOT CHECKED: no document for 2 figures of supply S1 on file. Ask: the supplier
rules.drift_reserve | NOT CHECKED: no reserve for drift on file. Ask: the site engineer
rules.lip_limit | NOT CHECKED: no limit for the lip at a joint on file. Ask: the owner
rules.saw_tolerance | NOT CHECKED: no tolerance of the saw on file. Ask: the owner
rules.unit_scatter | NOT CHECKED: no scatter of the lengths of units on file. Ask: the site engineer
rules.spares | NOT CHECKED: no rule for spares on file. Ask: the owner
coordinates.line | NOT CHECKED: no word on file about which line of the run was drawn. Ask: whoever drew it
coordinates.system | NOT CHECKED: no coordinate system on file. Ask: the surveyor
coordinates.scale_factor | NOT CHECKED: no combined scale factor on file. Ask: the surveyor
route.nodes | NOT CHECKED: no level of any node on file. Ask: the surveyor
checks | NOT CHECKED: no vehicle that crosses, lift, cable or bearing of the ground on file for the checks of what the run must bear. Ask: the site engineer`
	list := Missing(bareJob(t))
	if got := texts(list); got != want {
		t.Errorf("got:\n%s", got)
	}
	for _, f := range list {
		if f.Kind != finding.NotChecked || !strings.HasPrefix(f.ID, "job.missing.") || f.Ask == "" || !strings.HasSuffix(f.Text, ". Ask: "+f.Ask) || len(finding.Speech(f)) > 0 {
			t.Errorf("%+v", f)
		}
	}
}

// Where nearly everything is on file, the little that is not is all that is said.
func TestLittleIsMissing(t *testing.T) {
	j := sample(t)
	j.Supplies = j.Supplies[:1]
	const want = `supplies[0].unit.cast_in | NOT CHECKED: no insert positions of the 1500 mm unit of supply trough on file. Ask: the supplier
supplies[0].fittings[1].mass | NOT CHECKED: no mass of fitting bend-45 of supply trough on file. Ask: the supplier
supplies[0].fittings[1].covers | NOT CHECKED: no cover kit of fitting bend-45 of supply trough on file. Ask: the supplier
documents[2] | NOT CHECKED: no revision, no name of who entered it, no date of entry of document D3 on file. Ask: whoever entered its figures
ground.surfaces | NOT CHECKED: no surface of rock on file. Ask: the site engineer
ground.surfaces | NOT CHECKED: no level of ground water on file. Ask: the site engineer
checks | NOT CHECKED: no vehicle that crosses, lift, cable or bearing of the ground on file for the checks of what the run must bear. Ask: the site engineer`
	if got := texts(Missing(j)); got != want {
		t.Errorf("got:\n%s", got)
	}
}

// The same in a job of US words and feet: a fixed gap of 3/8 in, a bend to saw, inserts that nobody placed.
func TestMissingInTheWordsOfTheJob(t *testing.T) {
	j := bareJob(t)
	j.Words, j.System = US, Imperial
	s := &j.Supplies[0]
	s.Joint.Gap = Known(measure.Window{Nominal: 9525 * measure.Micrometre, Min: 9525 * measure.Micrometre, Max: 9525 * measure.Micrometre})
	s.Unit.Lengths, s.Lifting.By, s.Bearing.On = Known([]measure.Length{8 * measure.Foot}), Known("inserts"), Known("pads")
	j.Route = Route{Walk: []string{"5 m, right 90°, 3 m"}}
	said := ""
	for _, f := range Missing(j) {
		said += f.Text + "\n"
	}
	for _, want := range []string{
		"no mass of the trench section of supply S1 on file", "(fixed gap 3/8\")", "gap between mitered ends", "to end plates, castings and walls",
		"insert positions of the 8'-0\" trench section of supply S1", "off the center of gravity of a trench section", "thickness of a leveling pad",
		"number of trench sections in a bundle",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("nothing says %s", want)
		}
	}
	for _, word := range []string{"mitred", "centre", "stop end", " units", " mm"} {
		if strings.Contains(said, word) {
			t.Errorf("a US job says %q:\n%s", word, said)
		}
	}
}

func TestMissingFollowsWhatIsSaid(t *testing.T) {
	says := func(j Job, id string) bool {
		for _, f := range Missing(j) {
			if f.ID == "job.missing."+id {
				return true
			}
		}
		return false
	}
	j := bareJob(t)
	mm := measure.Millimetre
	for _, c := range []struct {
		name  string
		id    string
		spoil func(*Job)
	}{
		{"a fixed gap", "joint-window", func(j *Job) {
			j.Supplies[0].Joint.Gap = Known(measure.Window{Nominal: 4 * mm, Min: 2 * mm, Max: 8 * mm})
		}},
		{"cuts", "saw-kerf", func(j *Job) { j.Supplies[0].Saw.NoCuts = true }},
		{"a route with coordinates", "scale-factor", func(j *Job) { j.Route = Route{Walk: []string{"5 m"}} }},
		{"a scale factor", "scale-factor", func(j *Job) { j.Coordinates.ScaleFactor = "ground" }},
		{"spares", "rules-spares", func(j *Job) { j.Rules.Spares = []Spare{{What: "units", AtLeast: 1}} }},
	} {
		before, after := j, bareJob(t)
		c.spoil(&after)
		if !says(before, c.id) || says(after, c.id) {
			t.Errorf("%s: before %v, after %v", c.name, says(before, c.id), says(after, c.id))
		}
	}
	for _, c := range []struct {
		name  string
		id    string
		spoil func(*Job)
	}{
		{"a mitre", "joint-mitre-gap", func(j *Job) { j.Route = Route{Walk: []string{"5 m, right 90°, 3 m"}} }},
		{"pads", "bearing-pad-thick", func(j *Job) { j.Supplies[0].Bearing.On = Known("pads") }},
		{"inserts", "unit-inserts", func(j *Job) { j.Supplies[0].Lifting.By = Known("inserts") }},
		{"hands", "lifting-hand-people", func(j *Job) { j.Supplies[0].Lifting.By = Known("hand") }},
		{"a cover", "cover-mass", func(j *Job) { j.Supplies[0].Cover = &CoverMake{} }},
		{"a service", "service-depth", func(j *Job) { j.Route.Legs[0].Services = []Service{{ID: "W1", Name: "main"}} }},
		{"a crossing", "crossing-vehicle", func(j *Job) { j.Route.Legs[0].Crossings = []Crossing{{ID: "X1"}} }},
		{"an existing end", "end-section", func(j *Job) { j.Route.Nodes[0].End = &End{Kind: "existing"} }},
		{"a level", "height-datum", func(j *Job) { l := 1.5; j.Route.Nodes[0].Level = &l }},
		{"a conduit", "entry-level", func(j *Job) { j.Route.Legs[0].Entries = []ConduitEntry{{ID: "E1", Side: "left"}} }},
	} {
		after := bareJob(t)
		c.spoil(&after)
		if says(j, c.id) || !says(after, c.id) {
			t.Errorf("%s: before %v, after %v", c.name, says(j, c.id), says(after, c.id))
		}
	}
}

func TestAssumptions(t *testing.T) {
	j := sample(t)
	j.Rules.LipLimit = Entry[measure.Length]{Value: 3 * measure.Millimetre, Known: true, Assumed: true}
	const want = `supplies[0].saw.kerf | supply trough, saw, kerf = 5 mm was assumed, no supplier's figure. Measured on two. By foreman, 2026-03-01.
rules.lip_limit | rules, lip limit = 3 mm was assumed, no supplier's figure. Nothing says why.`
	list := Assumptions(j)
	if got := texts(list); got != want {
		t.Errorf("got:\n%s", got)
	}
	for _, f := range list {
		if f.Kind != finding.Assumed || f.Value == "" {
			t.Errorf("%+v", f)
		}
	}
}

func TestSources(t *testing.T) {
	j := sample(t)
	s := j.Supplies[0]
	other := Known(5 * measure.Millimetre)
	other.From, other.By, other.On = "D2", "foreman", "2026-03-05"
	for _, c := range []struct{ got, want string }{
		{Source(j, s, s.Unit.Inner), "unit drawing D1 rev B, page 3, entered by site engineer, 2026-03-02"},
		{Source(j, s, s.Unit.Outer), "unit drawing D1 rev B, page 4, entered by site engineer, 2026-03-02"},
		{Source(j, s, other), "specification D2 rev 2, entered by foreman, 2026-03-05"},
		{Source(j, s, s.Saw.Kerf), "assumed, no supplier's figure: measured on two, by foreman, 2026-03-01"},
		{Source(j, s, Entry[bool]{}), "nothing on file"},
		{Source(j, j.Supplies[1], Known(true)), "no document on file"},
		{SourceFrom(j, j.Rules.From, j.Rules.LipLimit), "specification D2 rev 2, page 11, entered by site engineer, 2026-02-28"},
		{SourceFrom(j, "D3", Known(true)), "control survey D3"},
		{SourceFrom(j, "", Entry[int]{Known: true, Assumed: true}), "assumed, no figure on file"},
	} {
		if c.got != c.want {
			t.Errorf("got  %s\nwant %s", c.got, c.want)
		}
	}
}
