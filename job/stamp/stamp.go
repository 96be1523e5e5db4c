// Package stamp says in words which state of a job a paper is of, so that of two papers in one hand the later one is known: by
// a number that only grows along the changes, by whether it was issued, by who made the last change and when.
//
//	stamp.go    a stamp, and how it reads
//	filename.go what files are called that leave the program
//	history.go  the revisions of a job and what was issued, and the stamp of one of them
//
// Nothing here asks a clock. Times are those that whoever keeps the revisions tells, or that a revision's own id holds.
package stamp

import (
	"fmt"
	"strings"
	"time"
)

// Stamp is which state of a job something is of. The zero value is of a job file by itself: nobody keeps its revisions.
type Stamp struct {
	Number   int       // how many changes deep the state is, the first one being 1; 0: not known
	Revision string    // its id
	By       string    // who made the last change; empty: nobody gave a name
	At       time.Time // when, by the clock of the device that it was made on; zero: not known
	Issued   *Issue    // as what this very state was issued last; nil: it was not
	Before   *Issue    // what was issued last on the way here; nil: nothing
	Since    int       // number of the state that was issued so
	Unsent   int       // changes on the way here that are on one device alone
}

// Known tells whether anybody keeps the revisions of the job.
func (s Stamp) Known() bool { return s.Revision != "" }

// Short is the part of the revision's id that people compare: the last letters of one that a device made, else all of it.
func (s Stamp) Short() string { return short(s.Revision) }

func short(id string) string {
	const told, most = 6, 24
	if _, ok := madeAt(id); ok {
		return id[len(id)-told:]
	}
	return cut(id, most)
}

// cut is text with no more than so many letters.
func cut(text string, most int) string {
	letters := []rune(text)
	if len(letters) <= most {
		return text
	}
	return string(letters[:most-1]) + "…"
}

// state is the number of the state with the letters of its revision: two that were made at once, from the same one, have one
// number and other letters.
func (s Stamp) state() string {
	if s.Number == 0 {
		return "state " + s.Short() + " (its number is not known here)"
	}
	return fmt.Sprintf("state %d, %s", s.Number, s.Short())
}

// Brief is the stamp for the head of a page and the foot of a card, of a job with this hash.
func (s Stamp) Brief(hash string) string {
	const name, author = 28, 20 // letters of what it was issued as, of who made the last change
	switch {
	case !s.Known():
		return "job file " + part(hash)
	case s.Issued != nil:
		return joined(s.state(), "ISSUED as "+cut(s.Issued.Name, name), moment(s.Issued.At), s.unsent())
	}
	made := moment(s.At)
	if s.By != "" {
		made += by(cut(s.By, author))
	}
	return joined(s.state(), "NOT ISSUED", strings.TrimSpace(made), s.unsent())
}

// Code is the stamp as short as people type it, of a job with this hash.
func (s Stamp) Code(hash string) string {
	switch {
	case !s.Known():
		return "file " + part(hash)
	case s.Number == 0:
		return "state " + s.Short()
	}
	return s.state()
}

// Line is the whole stamp in a line, of a job with this hash, planned by a core.
func (s Stamp) Line(hash, core string) string {
	if !s.Known() {
		return "OF A JOB FILE, " + part(hash) + ": not known to be issued"
	}
	return s.line(core) + ". Job " + part(hash)
}

// part is the part of a hash that people compare.
func part(hash string) string { return hash[:min(12, len(hash))] }

func (s Stamp) line(core string) string {
	if i := s.Issued; i != nil {
		text := "ISSUED as " + i.Name + ": " + joined(s.state(), on(i.At)+by(i.Author), s.unsent())
		if i.Core != "" && i.Core != core {
			text += fmt.Sprintf(". NOT THE BYTES THAT WERE ISSUED: those were planned by core %s, this again by core %s", i.Core, core)
		}
		return text
	}
	text := "NOT ISSUED: " + joined(s.state(), "of the changes up to "+on(s.At)+by(s.By), s.unsent())
	switch {
	case s.Before != nil && s.Since == 0:
		return text + "; issued before: " + s.Before.Name
	case s.Before != nil:
		return text + fmt.Sprintf("; issued before: state %d, %s", s.Since, s.Before.Name)
	case s.Number == 0:
		return text
	}
	return text + "; nothing issued before"
}

// Order says how the number is read.
const Order = "Of two papers of one job, that of the higher state is the later one."

// When is when the state was issued, or made; zero: not known.
func (s Stamp) When() time.Time {
	if s.Issued != nil {
		return s.Issued.At
	}
	return s.At
}

func (s Stamp) unsent() string {
	switch s.Unsent {
	case 0:
		return ""
	case 1:
		return "with 1 change not yet sent"
	}
	return fmt.Sprintf("with %d changes not yet sent", s.Unsent)
}

func on(at time.Time) string {
	if at.IsZero() {
		return "a time that is not known here"
	}
	return moment(at)
}

// moment is a time as it is printed, in UTC: nobody knows in which zone a paper is read.
func moment(at time.Time) string {
	if at.IsZero() {
		return ""
	}
	return at.UTC().Format("2006-01-02 15:04") + " UTC"
}

func by(name string) string {
	if name = strings.TrimSpace(name); name == "" {
		return " by somebody who gave no name"
	}
	return " by " + name
}

func joined(parts ...string) string {
	var said []string
	for _, p := range parts {
		if p != "" {
			said = append(said, p)
		}
	}
	return strings.Join(said, ", ")
}
