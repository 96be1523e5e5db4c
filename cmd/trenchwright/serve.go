package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"syscall"
	"time"

	"trenchwright/base/finding"
	"trenchwright/demo"
	"trenchwright/edge/server"
	"trenchwright/edge/store"
	"trenchwright/job"
	"trenchwright/view/groundin"
	"trenchwright/view/jobtext"
	"trenchwright/web"
)

type serveCommand struct {
	Addr string `help:"Where the workspace listens." default:"127.0.0.1:8417" placeholder:"HOST:PORT"`
	Data string `help:"Folder in which jobs are kept." default:"trenchwright-data" placeholder:"DIR"`
	Demo bool   `help:"Put the invented demo jobs into it, where they are not there yet."`
}

// Run serves the workspace until somebody ends it: streams first, then what is under way.
func (c serveCommand) Run(p program) error {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	jobs, err := store.Open(c.Data, store.Options{Now: time.Now})
	if err != nil {
		return err
	}
	defer jobs.Close()
	if c.Demo {
		if err := demoJobs(ctx, jobs); err != nil {
			return err
		}
	}
	listen, err := net.Listen("tcp", c.Addr)
	if err != nil {
		return fmt.Errorf("%s cannot be listened on: %w. Try: another port by --addr", c.Addr, err)
	}
	defer listen.Close()
	h, err := server.New(server.Options{Assets: web.Files(), Store: jobs, Starter: []byte(demo.Starter()), Version: version(), Log: slog.New(slog.NewTextHandler(p.err, nil))})
	if err != nil {
		return err
	}
	s := &http.Server{Handler: h, ReadHeaderTimeout: 10 * time.Second, BaseContext: func(net.Listener) context.Context { return ctx }}
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		<-ctx.Done()
		end, done := context.WithTimeout(context.Background(), 5*time.Second)
		defer done()
		_ = s.Shutdown(end)
	}()
	fmt.Fprintf(p.out, "Workspace: http://%s\nCtrl-C ends it.\n", listen.Addr())
	if err := s.Serve(listen); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	<-ended
	return nil
}

// demoJobs puts every demo job that the store does not hold into it, with its survey.
func demoJobs(ctx context.Context, jobs *store.Store) error {
	for _, name := range demo.Names() {
		if _, err := jobs.Job(ctx, name); err == nil {
			continue
		}
		text, err := demo.File(name)
		if err != nil {
			return err
		}
		j, found := jobtext.Read(name+".yaml", bytes.NewReader(text))
		if found.Any(finding.Fault) {
			return errors.New(found.Say(j.Speech()))
		}
		ground, found := groundin.Survey(j, demo.Open)
		if found.Any(finding.Fault) {
			return errors.New(found.Say(j.Speech()))
		}
		sums := map[string]string{}
		for _, a := range ground.Job.Attachments {
			sums[a.Name] = a.SHA256
		}
		for _, clip := range ground.Clips {
			if err := jobs.PutAttachment(ctx, sums[clip.Name], bytes.NewReader(clip.Bytes)); err != nil {
				return err
			}
		}
		draft := store.Draft{ID: "DEMO-" + name, Author: "demo", Note: "invented", Content: job.CanonicalJSON(ground.Job)}
		if _, err := jobs.Save(ctx, draft); err != nil {
			return err
		}
	}
	return nil
}
