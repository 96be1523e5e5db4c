package store

import (
	"errors"
	"fmt"
	"io/fs"

	"modernc.org/sqlite"
	codes "modernc.org/sqlite/lib"

	"trenchwright/base/finding"
)

// Why says what kind of refusal something is.
type Why string

const (
	NotThere Why = "not there" // nothing has that name
	Conflict Why = "conflict"  // it does not go with what is here already
	Unfit    Why = "unfit"     // it is not what it should be
	TooLarge Why = "too large" // it passes a limit
	Unusable Why = "unusable"  // the database itself
	Unknown  Why = "unknown"   // nobody knows who asks
	Busy     Why = "busy"      // somebody else holds it; later it may work
)

// Refused is the error of something that is not done, and with it nothing of it was.
type Refused struct {
	Why    Why
	Text   string       // one statement
	Try    string       // what to do about it
	Faults finding.List // for a content: everything that is wrong with it
}

func (r *Refused) Error() string {
	if r.Try == "" {
		return r.Text
	}
	return r.Text + ". " + r.Try
}

func refuse(why Why, try, form string, args ...any) error {
	return &Refused{Why: why, Text: fmt.Sprintf(form, args...), Try: try}
}

// said puts what the database says for itself into words, where it can happen to somebody who did nothing wrong.
func said(err error) error {
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return err
	}
	switch e.Code() & 0xff {
	case codes.SQLITE_BUSY, codes.SQLITE_LOCKED:
		return &Refused{Why: Busy, Text: "another program has held the database for too long", Try: "Try again in a moment"}
	case codes.SQLITE_FULL:
		return &Refused{Why: Unusable, Text: "the disk on which the workspace keeps its jobs is full, and nothing was saved", Try: "Make room on it and save again"}
	case codes.SQLITE_CORRUPT, codes.SQLITE_NOTADB:
		return &Refused{Why: Unusable, Text: "the database is damaged: " + e.Error(), Try: "Stop the program, keep the folder as it is, and go on from the last backup"}
	}
	return err
}

// shortened is text for a sentence, whoever it comes from.
func shortened(text string) string {
	const most = 60
	if r := []rune(text); len(r) > most {
		text = string(r[:most]) + "…"
	}
	return fmt.Sprintf("%q", text)
}

func missing(err error) bool { return errors.Is(err, fs.ErrNotExist) }
