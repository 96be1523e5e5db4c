package planner_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// What the sentences of a job in US words and feet do not say, and what those of a job in UK words and metres do not.
// Names of fields of the job, such as unit.outer, are the same everywhere.
var (
	notAmerican = regexp.MustCompile(`(?i)\b(units?|closers?|mitres?|mitred|centre|centreline|chainages?|stop ends?|services?|metres?|mm)\b([^.]|\.$|\. |$)`)
	notBritish  = regexp.MustCompile(`(?i)\b(trench sections?|closures?|miters?|mitered|center|centerline|stations?|end plates?|utilit(y|ies)|meters?|leveling)\b|\d"`)
)

// told are the sentences of a plan that are not the leg programme's and not its proofs.
func told(p planner.Plan) []string {
	var out []string
	for _, b := range p.Bill {
		out = append(out, b.Item, b.Why, b.Mass)
	}
	for _, u := range p.Units {
		if q := u.Piece; q != nil {
			out = append(append(out, q.Hand, q.CentreNote, q.Lift), q.CutThings...)
		}
	}
	for _, n := range p.Nodes {
		if n.Bend != nil {
			out = append(out, n.Bend.Seams)
		}
	}
	for _, r := range p.SetOut {
		out = append(out, r.Pad)
	}
	for _, j := range p.Joints {
		out = append(append(out, j.Note), j.Budget.Missing...)
	}
	for _, f := range p.Findings {
		if !strings.HasPrefix(f.ID, "layout.") {
			out = append(out, f.Text, f.Limit, f.Value, f.Rule, f.Try)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// theirs are words that the demo jobs themselves use.
var theirs = []string{"stainless pin for end plate", "service drive"}

func TestPlansAreToldInTheWordsOfTheirJob(t *testing.T) {
	for name, not := range map[string]*regexp.Regexp{"battery-yard": notAmerican, "tram-depot": notBritish, "hand-troughs": notBritish} {
		for what, spoil := range spoilt {
			j := readDemo(t, name)
			spoil(&j)
			p := planner.Make(j)
			for _, f := range p.Findings {
				for _, rule := range finding.Speech(f) {
					if f.ID != "job.assumed" { // ends as its note does
						t.Errorf("%s, %s: %s: %s", name, what, f, rule)
					}
				}
			}
			for _, text := range told(p) {
				ours := otherSystem.ReplaceAllString(text, "")
				for _, w := range theirs {
					ours = strings.ReplaceAll(ours, w, "")
				}
				if word := not.FindString(ours); word != "" {
					t.Errorf("%s, %s: %q in %s", name, what, word, text)
				}
			}
		}
	}
}

// otherSystem is a figure of a check in the system that the job does not have, behind the one that it has; and cables lie in layers on both
// sides of the ocean.
var otherSystem = regexp.MustCompile(`\([\d.]+ [a-zA-Z/²³]+\)|\bits layer\b|\blayers of compartment\b|\bheight of all layers\b|\bin layers\b|\ba layer is as high\b|rule - layer`)

// spoilt jobs lack what people leave out, or ask for what cannot be.
var spoilt = map[string]func(*job.Job){
	"as it is": func(*job.Job) {},
	"no saw figures": func(j *job.Job) {
		j.Supplies[0].Saw = job.SawRule{}
	},
	"no masses": func(j *job.Job) {
		j.Supplies[0].Unit.Mass = job.Entry[measure.LinearMass]{}
	},
	"no covers": func(j *job.Job) { j.Supplies[0].Cover = nil },
	"no width":  func(j *job.Job) { j.Supplies[0].Unit.Outer = job.Entry[job.Section]{} },
	"no gaps of its own at ends and mitres": func(j *job.Job) {
		j.Supplies[0].Joint.MitreGap, j.Supplies[0].Joint.EndGap = job.Entry[measure.Length]{}, job.Entry[measure.Length]{}
	},
	"inserts far off": func(j *job.Job) {
		j.Supplies[0].Lifting.By, j.Supplies[0].Lifting.OffCentre = job.Known("inserts"), job.Known(10*measure.Millimetre)
	},
	"pads": func(j *job.Job) { j.Supplies[0].Bearing = job.BearingMake{On: job.Known("pads")} },
	"a crossing, a support and a service beyond the end": func(j *job.Job) {
		for i := range j.Route.Legs {
			l := &j.Route.Legs[i]
			l.Crossings = append(l.Crossings, job.Crossing{ID: "x", At: measure.Kilometre, Path: measure.Metre}, job.Crossing{ID: "y", Path: measure.Metre})
			l.Services = append(l.Services, job.Service{ID: "s", Name: "main", Width: measure.Foot, Skew: measure.Degree})
		}
	},
	"the outer face drawn": func(j *job.Job) { j.Coordinates.Line = job.DrawnLine{Kind: "outer-face", Side: "right"} },
	"loose parts by all that there is": func(j *job.Job) {
		for i, per := range []string{"unit", "cover", "joint", "end", "metre", "pad", "cut-face", "bend"} {
			j.Supplies[0].LooseParts = append(j.Supplies[0].LooseParts, job.LoosePart{Name: fmt.Sprintf("thing %d", i+1), Per: per, Number: "2.5", Unit: "kg"})
		}
	},
}

// How loose parts are counted, by hand: the yard has 28 joints, 11 ends of pieces that a saw made, 2 bends to saw.
func TestHowThingsAreCounted(t *testing.T) {
	j := readDemo(t, "battery-yard")
	s := &j.Supplies[0]
	s.LooseParts = []job.LoosePart{
		{Name: "jumper", Per: "joint", Number: "1"}, {Name: "bar", Per: "end", Number: "4"}, {Name: "sealer", Per: "cut-face", Number: "1.5", Unit: "l"},
		{Name: "kit", Per: "bend", Number: "1", Unit: "piece"}, {Name: "shim", Per: "unit", Number: "2"},
	}
	s.Fittings[0].Title = ""
	why := map[string]string{}
	items := map[string]planner.BillLine{}
	for _, b := range planner.Make(j).Bill {
		why[b.Item], items[b.Item] = b.Why, b
	}
	for item, want := range map[string]string{
		"jumper": "1 piece for each joint; 28 joints", "bar": "4 pieces for each end; 10 ends", "sealer": "1.5 l for each cut face; 11 cut faces",
		"kit": "1 piece for each bend; 2 bends", "shim": "2 pieces for each trench section; 35 trench sections",
		`trench section 8'-0"`: "24 laid whole; 6 to be cut; 1 for a closure on hold; spares: at least 1 (common practice)",
	} {
		if why[item] != want {
			t.Errorf("%s is counted by %q, want %q", item, why[item], want)
		}
	}
	unit, cover, fitting, lid := items[`trench section 8'-0"`], items[`cover 1'-11 7/8"`], items["cross cross-20"], items["bend lid"]
	if unit.Length == nil || measure.Length(*unit.Length) != 8*measure.Foot || cover.Length == nil || measure.Length(*cover.Length) != 606425*measure.Micrometre {
		t.Errorf("lengths of the bill's lines: %v, %v", unit.Length, cover.Length)
	}
	if fitting.Supply != "yard" || fitting.Length != nil || lid.Supply != "yard" || lid.Kind != "cover" {
		t.Errorf("a casting and its lid: %+v, %+v", fitting, lid)
	}
}
