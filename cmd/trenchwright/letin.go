package main

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"time"

	"trenchwright/edge/store"
)

// letInCommand does at a machine without a browser what the office does under Devices: whoever may read the folder of the jobs is the
// office.
type letInCommand struct {
	Data    string   `help:"Folder in which jobs are kept." default:"trenchwright-data" placeholder:"DIR"`
	At      []string `help:"Where devices reach the workspace, where it cannot know that itself, such as behind a proxy: https://trench.example." placeholder:"ADDRESS"`
	List    bool     `xor:"do" help:"Say which devices were let in, and make no code."`
	ShutOut string   `xor:"do" help:"Let a device in no more, by its id. What it brought stays." placeholder:"ID"`
	JSON    bool     `name:"json" help:"Answer as JSON."`
}

// letInAnswer is what `trenchwright let-in --json` prints.
type letInAnswer struct {
	Code string    `json:"code"`
	Ends time.Time `json:"ends"`
	At   []string  `json:"at"` // addresses to open on the device
}

// Run makes a code, while a server works on the jobs or not.
func (c letInCommand) Run(p program) error {
	if !store.Holds(c.Data) {
		return outcome{exitUsage, fmt.Sprintf("trenchwright let-in: no jobs are kept in %s. Try: --data with the folder that serve was given", c.Data)}
	}
	at, err := c.reached()
	if err != nil {
		return err
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	jobs, err := openJobs("let-in", c.Data)
	if err != nil {
		return err
	}
	defer jobs.Close()
	do := c.code
	switch {
	case c.List:
		do = c.list
	case c.ShutOut != "":
		do = c.shut
	}
	err = do(ctx, p, jobs, at)
	var refused *store.Refused
	if errors.As(err, &refused) {
		return outcome{exitFaults, "trenchwright let-in: " + refused.Error()}
	}
	return err
}

// reached are the addresses at which devices find the workspace: as somebody says, or as the server that works on the folder does.
func (c letInCommand) reached() (list []string, err error) {
	for _, at := range c.At {
		u, err := url.Parse(at)
		if err != nil || u.Host == "" || u.Scheme != "http" && u.Scheme != "https" {
			return nil, outcome{exitUsage, fmt.Sprintf("trenchwright let-in: --at %q is no address of a workspace. Try: https://trench.example", at)}
		}
		list = append(list, strings.TrimSuffix(at, "/"))
	}
	if len(list) > 0 {
		return list, nil
	}
	text, _ := os.ReadFile(servedAt(c.Data)) // without it nobody serves
	return strings.Fields(string(text)), nil
}

func (c letInCommand) code(ctx context.Context, p program, jobs *store.Store, at []string) error {
	e, err := jobs.Enrol(ctx)
	if err != nil {
		return err
	}
	a := letInAnswer{Code: e.Code, Ends: e.Ends, At: []string{}}
	for _, one := range at {
		a.At = append(a.At, one+"/let-in#"+e.Code)
	}
	if c.JSON {
		return p.json(a)
	}
	fmt.Fprintf(p.out, "%s %s\nfor one device, until %s; it is shown this once.\n", a.Code[:4], a.Code[4:], a.Ends.Local().Format("2006-01-02 15:04 MST"))
	for _, one := range a.At {
		fmt.Fprintln(p.out, one)
	}
	if len(a.At) == 0 {
		fmt.Fprint(p.out, "Where the workspace is reached is not known here: no server that works on this folder says so. Try: --at with its address,\nor serve --addr 0.0.0.0:8417 --tls own. The code is good at every address of this workspace, under type the code.\n")
	}
	return nil
}

func (c letInCommand) list(ctx context.Context, p program, jobs *store.Store, _ []string) error {
	list, err := jobs.Devices(ctx)
	if err != nil {
		return err
	}
	if c.JSON {
		return p.json(list)
	}
	l := p.lines()
	for _, d := range list {
		l.row(d.ID, strings.Join([]string{d.Name, devicesSay(d), plural(d.Records, "record", "records")}, "\t"))
	}
	_ = l.w.Flush()
	if len(list) == 0 {
		fmt.Fprintln(p.out, "No device was let in yet.")
	}
	return nil
}

func (c letInCommand) shut(ctx context.Context, p program, jobs *store.Store, _ []string) error {
	d, err := jobs.ShutOut(ctx, c.ShutOut)
	if err != nil {
		return err
	}
	if c.JSON {
		return p.json(d)
	}
	fmt.Fprintf(p.out, "%s: %s. What it brought stays: %s.\n", d.Name, devicesSay(d), plural(d.Records, "record", "records"))
	return nil
}

// devicesSay says whether a device may come.
func devicesSay(d store.Device) string {
	at := func(t time.Time) string { return t.Local().Format("2006-01-02 15:04") }
	if d.ShutOut != nil {
		return "shut out " + at(*d.ShutOut)
	}
	return "let in " + at(d.LetIn) + ", last heard " + at(d.Heard)
}

// servedAt is the file in which a server says where other devices reach the jobs of a folder, for as long as it works on them.
func servedAt(dir string) string { return filepath.Join(dir, "served-at.txt") }

// tellReached writes that file; what it gives removes it again.
func tellReached(dir string, at []string) (func(), error) {
	file := servedAt(dir)
	if err := os.WriteFile(file, []byte(strings.Join(at, "\n")+"\n"), 0o600); err != nil {
		return nil, err
	}
	return func() { _ = os.Remove(file) }, nil
}
