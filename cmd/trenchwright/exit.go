package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"trenchwright/edge/folder"
	"trenchwright/job"
)

// The one table from outcome to exit code. `trenchwright help exit` prints it.
const (
	exitFound      = 0
	exitBroken     = 1
	exitUsage      = 2
	exitFaults     = 3
	exitImpossible = 4
	exitUndecided  = 5
)

var exits = []struct {
	code int
	text string
}{
	{exitFound, "done: planned, laid out, cut or checked, and nothing stands in the way"},
	{exitBroken, "the program or the machine failed: a disk is full, a folder cannot be written; or it was broken off"},
	{exitUsage, "the command line cannot be understood, or a file that it names is not there"},
	{exitFaults, "what was given has faults or does not meet a stated figure, or the output folder holds somebody's files; nothing was written"},
	{exitImpossible, "proven impossible, in whole or in part; the answer says where and why"},
	{exitUndecided, "undecided: neither found nor ruled out"},
}

// outcome ends a command with an exit code. Its text has been shown already where it is empty.
type outcome struct {
	code int
	text string
}

func (o outcome) Error() string { return o.text }

// fail shows an error that has not been shown and gives its exit code.
func (p program) fail(err error) int {
	var o outcome
	if errors.As(err, &o) {
		if o.text != "" {
			fmt.Fprintln(p.err, o.text)
		}
		return o.code
	}
	fmt.Fprintf(p.err, "trenchwright: %v\n", err)
	return exitBroken
}

// verdictEnds is how an answer ends the program: found, impossible, undecided.
func verdictEnds(verdict string) error {
	switch verdict {
	case "found":
		return nil
	case "impossible":
		return outcome{code: exitImpossible}
	}
	return outcome{code: exitUndecided}
}

// open opens a file that the command line names.
func (p program) open(command, name string) (io.ReadCloser, error) {
	at, err := os.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, outcome{exitUsage, fmt.Sprintf("trenchwright %s: there is no file %s", command, name)}
	case err == nil && at.IsDir():
		return nil, outcome{exitUsage, fmt.Sprintf("trenchwright %s: %s is a folder; a file was expected", command, name)}
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, outcome{exitBroken, fmt.Sprintf("trenchwright %s: %v", command, err)}
	}
	return f, nil
}

// read reads a job file that the command line names, as far as a job can be long.
func (p program) read(command, name string) ([]byte, error) {
	f, err := p.open(command, name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, job.MaxBytes+1))
	if err != nil {
		return nil, outcome{exitBroken, fmt.Sprintf("trenchwright %s: %v", command, err)}
	}
	return text, nil
}

// unwritten is how a command ends that could not put its files in place.
func unwritten(command string, err error) error {
	var taken folder.Taken
	if errors.As(err, &taken) {
		return outcome{exitFaults, fmt.Sprintf("trenchwright %s: %v. Nothing was written.", command, taken)}
	}
	if errors.Is(err, context.Canceled) {
		return outcome{exitBroken, fmt.Sprintf("trenchwright %s: broken off; nothing was written", command)}
	}
	return outcome{exitBroken, fmt.Sprintf("trenchwright %s: nothing was written: %v", command, err)}
}
