package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"

	"trenchwright/edge/store"
)

type backupCommand struct {
	File string `arg:"" help:"File for the copy; it must not exist."`
	Data string `help:"Folder in which jobs are kept." default:"trenchwright-data" placeholder:"DIR"`
}

// Run copies all jobs to a file, while a server works on them or not.
func (c backupCommand) Run(p program) error {
	if !store.Holds(c.Data) {
		return outcome{exitUsage, fmt.Sprintf("trenchwright backup: no jobs are kept in %s. Try: --data with the folder that serve was given", c.Data)}
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	jobs, err := openJobs("backup", c.Data)
	if err != nil {
		return err
	}
	defer jobs.Close()
	if err := jobs.Backup(ctx, c.File); err != nil {
		var refused *store.Refused
		if errors.As(err, &refused) {
			return outcome{exitFaults, "trenchwright backup: " + refused.Error()}
		}
		return unwritten("backup", err)
	}
	list, err := jobs.Jobs(ctx)
	if err != nil {
		return err
	}
	info, err := os.Stat(c.File)
	if err != nil {
		return err
	}
	fmt.Fprintf(p.out, "Wrote %s: %s, %d KiB, every page of it read again and found whole.\nTo go back to it: as trenchwright.db in an empty folder, with serve --data.\n", c.File, plural(len(list), "job", "jobs"), (info.Size()+1023)/1024)
	return nil
}
