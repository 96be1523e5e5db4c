// Package finding is how the program speaks: one Finding says what is the case, where, the limit against the value, the
// rule that says so and what to try. Findings are plain values; nothing here prints.
//
// Rules of speech, checked by [Speech]:
//
//  1. Say what is the case, then where, the limit against the value, the rule with its source, whom to ask, what to try.
//  2. Text is a statement without a full stop at its end: "3001 mm without a joint; longest unit 3000 mm". A statement
//     that needs a second sentence parts the two with a full stop. No exclamation marks, no line breaks.
//  3. Numbers carry their unit. A limit never stands without the value that is held against it.
//  4. What nobody entered reads exactly "NOT CHECKED: no … on file. Ask: …" ([NoneOnFile]); an explanation may follow
//     "on file". It is never a default and never good news.
//  5. Three verdicts only: meets the stated figure, does not meet it, cannot say. Never "safe", never "approved", never
//     "clear" as a verdict (a clear length is a length), and none of their kin.
//  6. Whoever is told of a fault is told what to try, or whom to ask; of an impossibility, what to try.
//  7. Everything but a note and an assumption has a place. Ids are stable, dotted and in small letters.
//
// The table from findings to an exit code belongs to the command, not here.
package finding

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// Kind says what a finding asks of its reader. The zero value is not a kind: a Finding always states one.
type Kind string

const (
	Fault      Kind = "fault"       // the input cannot be used as it stands
	Impossible Kind = "impossible"  // proven: what is asked for cannot be done
	Attention  Kind = "attention"   // it can be done, and somebody has to look at it
	NotChecked Kind = "not checked" // nobody entered what a check needs
	Assumed    Kind = "assumed"     // a value was assumed on the spot and stands so in every output
	Note       Kind = "note"        // worth knowing, asks nothing
)

// Where is the place a finding speaks of: a place in a text, a path in the job, or a chainage on a leg. All optional;
// the zero value is nowhere.
type Where struct {
	File      string          `json:"file,omitempty"`
	Line      int             `json:"line,omitempty"`   // from 1; 0: unknown
	Column    int             `json:"column,omitempty"` // from 1; 0: unknown
	Path      string          `json:"path,omitempty"`   // in the job, for example route.legs[2].crossings[0].width
	Leg       string          `json:"leg,omitempty"`
	Chainage  *measure.Length `json:"-"`
	Place     string          `json:"place,omitempty"`      // B-017
	Excerpt   string          `json:"-"`                    // the line of text with a caret line below it
	ChainageM string          `json:"chainage_m,omitempty"` // Chainage in exact metres; filled when written as JSON
}

// Finding is one thing that the program has to say. The zero value says nothing and has no kind.
type Finding struct {
	ID    string `json:"id"` // stable, dotted: layout.joint-in-zone
	Kind  Kind   `json:"kind"`
	Text  string `json:"text"`
	Where Where  `json:"where,omitzero"`
	Limit string `json:"limit,omitempty"`
	Value string `json:"value,omitempty"`
	Rule  string `json:"rule,omitempty"` // the rule and its source
	Ask   string `json:"ask,omitempty"`  // who can answer
	Try   string `json:"try,omitempty"`  // what to try
}

// List is findings in a fixed order.
type List []Finding

// Sort orders by place in the text, then leg and chainage, then id and text, so that the same job speaks the same way.
func (l List) Sort() {
	sorting.By(l, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(a.Where.File, b.Where.File),
			cmp.Compare(a.Where.Line, b.Where.Line),
			cmp.Compare(a.Where.Column, b.Where.Column),
			cmp.Compare(a.Where.Leg, b.Where.Leg),
			cmp.Compare(chainage(a), chainage(b)),
			cmp.Compare(a.ID, b.ID),
			cmp.Compare(a.Text, b.Text),
		)
	})
}

func chainage(f Finding) measure.Length {
	if f.Where.Chainage == nil {
		return -1
	}
	return *f.Where.Chainage
}

// Any tells whether a finding of one of the kinds is in l.
func (l List) Any(kinds ...Kind) bool {
	return slices.ContainsFunc(l, func(f Finding) bool { return slices.Contains(kinds, f.Kind) })
}
