// Package excavation holds a dig against the excavation rules of one jurisdiction: sides, ways out, spoil, water, crossings,
// air, and where a registered engineer has to answer.
//
// The map of the package:
//
//	excavation.go  Problem, Solution, the three verdicts      profile.go  Profile and Limit: what a rule says
//	northamerica.go, elsewhere.go  the profiles, each value with its rule, source and the day on which it was read
//	check.go       Check: the order of the checks            sides.go    protection, slopes, TopWidth
//	ladders.go     ways out along the trench                 beside.go   spoil, water, crossings, air, shields, sloping ground
//
// Limits stay in the law's own unit, to the nanometre: 4 ft is 1219.2 mm, never 1.22 m. A value at the limit is told apart
// from one beyond it as the rule's words do.
//
// This is a calculator and a record. The soil class, the release for entry and the daily inspection are the competent
// person's; local codes that ask for more go first. A class that nobody gave is never assumed.
package excavation

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Form is how the sides of the dig stand. The zero value is none on file.
type Form string

// The forms.
const (
	Vertical  Form = "vertical"
	Supported Form = "supported"
	Sloped    Form = "sloped"
	Benched   Form = "benched"
)

// Problem is one leg, or part of one, as it will be dug. What is nil or empty is not on file.
type Problem struct {
	Profile string // id of the jurisdiction
	Where   finding.Where
	Stretch []Stretch // the trench by rising chainage, with its depth

	Soil     string // class in the rule's own words, from the competent person
	Form     Form
	Slope    *measure.Grade  // rise to run
	Plumb    *measure.Length // upright part above the bottom, below the slope
	OpenFor  *int            // hours that the dig stays open
	NoSigns  *bool           // the competent person finds no sign of a cave-in
	Support  *Document       // of the support: its maker's data or an engineer's design
	Engineer *Document       // of a registered engineer's design or advice for this dig

	Ladders []measure.Length // chainages of ladders, ramps or stairs; nil: none on file
	Above   *measure.Length  // how far ladders stand out above the edge
	Spoil   *measure.Length  // least free edge between the dig and spoil or plant
	Wet     *bool            // water stands in the dig or seeps from its sides
	Air     *string          // oxygen as tested, in per cent
	Beside  *measure.Grade   // steepest fall of the ground away from the edge, rise to run

	Crossings []Crossing
	Shield    *Shield

	Words wording.Speech
}

// Document answers for a dig down to a depth. Its content is not judged.
type Document struct {
	Name  string          // and who wrote it
	Until *measure.Length // depth; nil: none stated, and it answers no depth
}

// Stretch is a part of the trench with its greatest depth.
type Stretch struct{ From, To, Depth measure.Length }

// Crossing is a walkway over the trench.
type Crossing struct {
	At        measure.Length
	Guardrail *bool
}

// Shield is a trench box.
type Shield struct {
	AboveUpright measure.Length // how far it stands out above the upright lower part of the sides
	DugBelow     measure.Length // how far is dug below its bottom
}

// Verdict is what comes of holding a value against a stated figure.
type Verdict = finding.Verdict

// The three verdicts.
const (
	Meets     = finding.Meets
	DoesNot   = finding.DoesNot
	CannotSay = finding.CannotSay
)

// Result is one check.
type Result struct {
	ID      string // stable: excavation.sides
	What    string
	Verdict Verdict
	Value   string // in the law's own unit and ours
	Limit   string
	Rule    string // number, jurisdiction, day on which it was read
	Stop    bool   // hard stop: nothing but a document of the person named in the rule resolves it
}

// Solution is the whole check.
type Solution struct {
	Profile  *Profile // nil: no such jurisdiction on file
	Depth    measure.Length
	Needed   *bool // a protective system is needed; nil: cannot say
	Results  []Result
	Ladders  *LadderPlan // nil: no rule on file for this dig
	Stopped  bool
	Findings finding.List
	Cautions []string
}
