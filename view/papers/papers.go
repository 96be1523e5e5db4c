// Package papers are the papers that a site hands round, each under its stage, filled from the job, its plan and its records, and blank
// where a person decides. What nobody entered reads NOT CHECKED, with whom to ask.
//
//	papers.go      Paper and its parts; the kinds, each under its stage
//	make.go        Input, Choice, Make; All: those that need no choice
//	stops.go       hard stops: which papers they hold back, and who answers for one all the same
//	figures.go     figures of the job with where they come from
//	lift.go        lift plan           permit.go      permit to dig          excavation.go  excavation inspection
//	delivery.go    delivery check      day.go         daily report           method.go      method statement, a skeleton
//	inspection.go  inspection and test plan           question.go    request for information
//	matter.go      nonconformance      openend.go     make the open end good
//	records.go     which records speak, and who made them
//	pages.go       a paper as pages    held.go        the page that stands where a stop holds a paper back
//	bound.go       the documents of a pack: all papers of one kind
//
// A stop holds back a paper that lets work begin (a lift, a dig, a way of working). What is only a record of facts is never held back.
package papers

import "trenchwright/job"

// Format is the format of a paper as data.
const Format = 1

// Paper is one paper as data.
type Paper struct {
	Format int    `json:"format"`
	Kind   string `json:"kind"`
	Name   string `json:"name"` // of its files
	Stage  string `json:"stage"`
	Title  string `json:"title"`
	Of     string `json:"of"` // what it is of: a lift, a leg, a place, a day
	Job    string `json:"job"`
	State  string `json:"state"` // which state of the job it is of
	Stops  []Stop `json:"stops"` // hard stops that concern it, those that somebody answers for too
	Held   bool   `json:"held"`  // a stop holds it back: it has no parts
	Parts  []Part `json:"parts"`

	us   bool
	lang string
}

// Part is a part of a paper: lines, a table, words, names to be signed. Form says where its labels and their order come from.
type Part struct {
	Title string     `json:"title"`
	Form  string     `json:"form"`
	Notes []string   `json:"notes,omitempty"`
	Lines []Line     `json:"lines,omitempty"`
	Heads []Head     `json:"heads,omitempty"`
	Rows  [][]string `json:"rows,omitempty"` // an empty cell under a head to be filled is written in by hand
	From  string     `json:"from,omitempty"` // where all of the rows come from
	Sign  []string   `json:"sign,omitempty"` // who signs, each with name, signature and day
}

// Line is one line: what is asked, what is on file, and where that comes from. Where nothing is, a person writes.
type Line struct {
	Name string `json:"name"`
	Is   string `json:"is"`
	From string `json:"from,omitempty"`
}

// Head is the head of a column.
type Head struct {
	Name string  `json:"name"`
	Fill bool    `json:"fill,omitempty"` // written in by hand where a row has nothing
	Wide float64 `json:"wide,omitempty"` // share of the width
}

// The kinds, by the word that asks for one.
const (
	Inspection    = "inspection"
	Lift          = "lift"
	Permit        = "permit"
	Excavation    = "excavation"
	Delivery      = "delivery"
	Day           = "day"
	Question      = "question"
	Nonconforming = "nonconformance"
	Method        = "method"
	OpenEnd       = "open-end"
)

// Kind is one kind of paper.
type Kind struct {
	Word   string // that asks for it
	Stage  string // under which it is found
	Title  string
	Choice string // what has to be chosen; empty: it is made of the job as it is
	Holds  string // which hard stops hold it back; empty: it is a record of facts, which is never held back
}

// Kinds are all kinds in the order of the stages.
func Kinds() []Kind {
	return []Kind{
		{Method, "Route", "Method statement, skeleton", "", "a crossing or fill that does not meet its figure"},
		{Question, "Route", "Request for information", "a place", ""},
		{Delivery, "Order", "Delivery check", "", ""},
		{Permit, "Dig", "Permit to dig", "", "depth without an engineer's document, a service of unknown depth or in the unit, a ticket or a release that has ended"},
		{Excavation, "Dig", "Excavation inspection", "", ""},
		{Lift, "Set", "Lift plan", "", "mass or chart missing, a figure of the lift that is not met, a line overhead too near, a cut in a stretch where no saw may go"},
		{OpenEnd, "Set", "Make the open end good", "a place", ""},
		{Inspection, "Hand over", "Inspection and test plan", "", ""},
		{Day, "Hand over", "Daily report", "a day", ""},
		{Nonconforming, "Hand over", "Nonconformance", "a number", ""},
	}
}

// kindOf is a kind by its word.
func kindOf(word string) (Kind, bool) {
	for _, k := range Kinds() {
		if k.Word == word {
			return k, true
		}
	}
	return Kind{}, false
}

// fromJob is the form of what follows from the job itself.
const fromJob = "the job itself"

func language(j job.Job) string {
	if j.Words == job.US {
		return "en-US"
	}
	return "en-GB"
}
