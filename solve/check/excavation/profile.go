package excavation

import (
	"slices"

	"trenchwright/base/measure"
)

// Limit is one figure of a rule in the law's own unit.
type Limit struct {
	Value  measure.Length
	Says   string // as the rule writes it: 4 ft
	At     bool   // the rule takes hold at the value; else only beyond it
	Rule   string // its number
	Memory bool   // from memory: it warns, and no verdict hangs on it
}

// holds tells whether the rule takes hold at a depth.
func (l *Limit) holds(depth measure.Length) bool {
	return l != nil && (depth > l.Value || l.At && depth == l.Value)
}

// Slope is the steepest side that a rule gives for a class of soil.
type Slope struct {
	Soil    string
	Steep   measure.Grade   // rise to run; rise 1, run 0 is upright
	Upto    *Limit          // deeper than this the table does not hold
	Plumb   *measure.Length // upright part above the bottom that it allows; nil: from the bottom
	Hours   int             // above 0: only for a dig that is open no longer
	Rule    string
	Memory  bool
	Flatter bool // the side has to be flatter than Steep: at Steep itself the rule is not met
}

// Profile is what one jurisdiction asks for. A figure that is nil is not in the rules that were read: NOT CHECKED.
type Profile struct {
	ID, Name string
	Law      string
	Source   string // where it was read
	Read     string // the day, YYYY-MM-DD

	Soils []string // its classes
	Rock  string   // the class that needs no protection; "" where the rule names none

	Protect *Limit         // depth from which the sides have to be protected
	Bare    *Limit         // upright sides without support are allowed only short of this
	Signs   bool           // below Protect, only where the competent person finds no sign of a cave-in
	Steeper *measure.Grade // protection is asked for only where a side is as steep as this or steeper
	Advice  bool           // an engineer's written word that the sides stand takes the place of protection
	Slopes  []Slope

	Engineer   *Limit         // depth that takes a registered engineer
	Beside     *measure.Grade // ground that falls away more steeply takes one too
	BesideRule string

	Entry   *Limit // depth from which a way out is needed
	Travel  *Limit // furthest way along the trench to it
	Apart   *Limit // or: furthest from one ladder to the next
	Above   *Limit // ladders stand out above the edge by this at least
	Spoil   *Limit // least free edge
	Air     *Limit // depth from which air is tested where it may be bad
	Oxygen  string // per cent below which air is bad
	AirRule string
	Guard   *Limit // depth from which crossings have guardrails

	ShieldAbove, ShieldBelow *Limit
	WetSoil                  string // the only class that soil may have where water stands or seeps
	WetRule                  string

	Notes []string // what else was read, and what is from memory
}

// Profiles are all jurisdictions on file, by id.
func Profiles() []Profile {
	return []Profile{alberta(), britishColumbia(), canada(), northernTerritory(), norway(), ontario(), osha(), quebec()}
}

// Find is the profile of an id.
func Find(id string) (Profile, bool) {
	all := Profiles()
	i := slices.IndexFunc(all, func(p Profile) bool { return p.ID == id })
	if i < 0 {
		return Profile{}, false
	}
	return all[i], true
}

// cites is a rule with its law and the day on which it was read.
func (p *Profile) cites(rule string) string {
	return p.Law + " " + rule + ", read " + p.Read
}

const (
	mm = measure.Millimetre
	ft = measure.Foot
	in = measure.Inch
)
