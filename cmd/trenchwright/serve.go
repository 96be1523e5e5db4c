package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"syscall"
	"time"

	"trenchwright/demo"
	"trenchwright/edge/server"
	"trenchwright/edge/store"
	"trenchwright/job"
	"trenchwright/web"
)

type serveCommand struct {
	Addr string `help:"Where the workspace listens; 0.0.0.0:8417 is on every network of this machine." default:"127.0.0.1:8417" placeholder:"HOST:PORT"`
	Data string `help:"Folder in which jobs are kept." default:"trenchwright-data" placeholder:"DIR"`
	TLS  string `name:"tls" help:"Serve over TLS: with a certificate and its key as PEM files, or with a site authority of its own, made in DIR/tls: own. Phones get no offline mode without." placeholder:"CERT,KEY|own"`
	Demo bool   `help:"Put the invented demo jobs into it, where they are not there yet."`
}

// patience is how long requests under way may take when somebody ends the program.
const patience = 3 * time.Second

// Run serves the workspace until somebody ends it: streams first, then requests that are under way, then the store. Whoever
// asks a second time does not wait.
func (c serveCommand) Run(p program) error {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	defer context.AfterFunc(ctx, stop)()
	if err := server.Built(web.Files()); err != nil {
		return outcome{exitBroken, "trenchwright serve: " + err.Error()}
	}
	listen, err := net.Listen("tcp", c.Addr)
	if err != nil {
		return c.unheard(err)
	}
	defer listen.Close()
	over, err := c.secured(listen)
	if err != nil {
		return err
	}
	jobs, err := openJobs("serve", c.Data)
	if err != nil {
		return err
	}
	defer jobs.Close()
	if c.Demo {
		if err := demoJobs(ctx, jobs); err != nil {
			return err
		}
	}
	reached := over.reached(listen.Addr())
	gone, err := tellReached(c.Data, reached)
	if err != nil {
		return unwritten("serve", err)
	}
	defer gone()
	log := slog.New(slog.NewTextHandler(p.err, nil))
	h, err := server.New(server.Options{Assets: web.Files(), Store: jobs, Starter: []byte(demo.Starter()), Version: version(), Log: log, TLS: over.config != nil, Trust: over.trust, Streams: ctx,
		Reached: reached})
	if err != nil {
		return err
	}
	s := &http.Server{Handler: h, TLSConfig: over.config, ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelDebug),
		ReadHeaderTimeout: 10 * time.Second, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 64 << 10}
	over.say(p.out, listen.Addr())
	return until(ctx, s, over.listen, p.out)
}

// until serves until ctx ends. What never ends by itself ends with ctx; requests under way get their time, and it is said that they
// do.
func until(ctx context.Context, s *http.Server, l net.Listener, say io.Writer) error {
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		<-ctx.Done()
		end, done := context.WithTimeout(context.Background(), patience)
		defer done()
		slow := time.AfterFunc(patience/6, func() {
			fmt.Fprintf(say, "Ending: what is under way gets %v; Ctrl-C again does not wait.\n", patience)
		})
		defer slow.Stop()
		if s.Shutdown(end) != nil {
			s.Close()
		}
	}()
	if err := s.Serve(l); !errors.Is(err, http.ErrServerClosed) {
		return outcome{exitBroken, fmt.Sprintf("trenchwright serve: it cannot listen any more: %v", err)}
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
		ground, err := demo.Surveyed(name)
		if err != nil {
			return err
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
