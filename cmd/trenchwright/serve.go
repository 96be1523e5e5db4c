package main

import (
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

	"trenchwright/edge/server"
	"trenchwright/web"
)

type serveCommand struct {
	Addr string `help:"Where the workspace listens." default:"127.0.0.1:8417" placeholder:"HOST:PORT"`
}

// Run serves the workspace until somebody ends it.
func (c serveCommand) Run(p program) error {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	listen, err := net.Listen("tcp", c.Addr)
	if err != nil {
		return fmt.Errorf("%s cannot be listened on: %w. Try: another port by --addr", c.Addr, err)
	}
	defer listen.Close()
	h, err := server.New(server.Options{Assets: web.Files(), Log: slog.New(slog.NewTextHandler(p.err, nil))})
	if err != nil {
		return err
	}
	s := &http.Server{Handler: h, ReadHeaderTimeout: 10 * time.Second, BaseContext: func(net.Listener) context.Context { return ctx }}
	go func() {
		<-ctx.Done()
		end, done := context.WithTimeout(context.Background(), 5*time.Second)
		defer done()
		s.Shutdown(end)
	}()
	fmt.Fprintf(p.out, "Workspace: http://%s\nCtrl-C ends it.\n", listen.Addr())
	if err := s.Serve(listen); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}
