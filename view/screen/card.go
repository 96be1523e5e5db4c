package screen

import "trenchwright/job/edit"

// Card is one thing on one small page. Lengths stand in both systems, the view's first.
type Card struct {
	Key      string      `json:"key"`
	Kind     string      `json:"kind"` // unit, cover, joint, node, leg, curve, crossing, service, entry, support, zone, forced, pin, outlet, finding, check
	Title    string      `json:"title"`
	Lead     string      `json:"lead"`  // the one thing to know
	Stop     []string    `json:"stop"`  // what has to be known before anything is done with it, in whole sentences
	Paper    string      `json:"paper"` // its cut card among the papers; empty: it has none
	Strip    [2]float64  `json:"strip"`
	Groups   []CardGroup `json:"groups"`
	Figure   *Figure     `json:"figure"`
	Proof    []string    `json:"proof"`   // what stands behind it
	Sources  []string    `json:"sources"` // documents
	Findings []Finding   `json:"findings"`
	Tries    []Try       `json:"tries"`
	Fields   []CardField `json:"fields"` // what can be typed here
}

// CardGroup is rows under one heading.
type CardGroup struct {
	Name string    `json:"name"`
	Rows []CardRow `json:"rows"`
}

// CardRow is one figure.
type CardRow struct {
	Label  string `json:"label"`
	Text   string `json:"text"`
	Other  string `json:"other"`  // the same in the other system; empty: it has none
	Source string `json:"source"` // document, where it is a figure that somebody entered
	Open   bool   `json:"open"`   // NOT CHECKED: nobody entered it
	Key    string `json:"key"`    // card of what it names
}

// CardField is a field of the job that belongs to the thing.
type CardField struct {
	Label   string   `json:"label"` // what it is called
	Word    string   `json:"word"`  // in the job's text
	Path    string   `json:"path"`  // for an edit
	Text    string   `json:"text"`  // as it stands in the job; empty: nobody entered it
	Kind    string   `json:"kind"`  // length, chainage, angle, grade, mass, window, section, level, place, number, yes, choice, text, lengths, texts
	Choice  []string `json:"choice"`
	About   string   `json:"about"`
	Like    string   `json:"like"`   // an example
	Bare    string   `json:"bare"`   // what a number without a unit is taken in; empty: it has none
	Figure  bool     `json:"figure"` // it has a source
	From    string   `json:"from"`   // document id
	Page    string   `json:"page"`
	Source  string   `json:"source"` // the document in words, who entered it and when
	Assumed bool     `json:"assumed"`
	Ask     string   `json:"ask"` // NOT CHECKED: no … on file. Ask: …; empty: it is entered, or nothing needs it
}

// Try is a change that would help, ready to be made.
type Try struct {
	Said  string      `json:"said"`
	Edits []edit.Edit `json:"edits"` // empty: it has to be done by hand
}
