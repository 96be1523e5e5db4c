package main

import (
	"bytes"
	"context"
	"errors"
	"net"
	"net/http"
	"strings"
	"testing"
)

// TestPlanIsBrokenOff ends the wait for work that goes on: it is said that nothing was written, and what the work came to is not
// waited for.
func TestPlanIsBrokenOff(t *testing.T) {
	ctx, interrupt := context.WithCancel(t.Context())
	begun, release := make(chan struct{}), make(chan struct{})
	defer close(release)
	go func() {
		<-begun
		interrupt()
	}()
	err := orBreakOff(ctx, func() error {
		close(begun)
		<-release
		return nil
	})
	var said bytes.Buffer
	if code := (program{err: &said}).fail(err); code != exitBroken || !strings.Contains(said.String(), "broken off; nothing was written") {
		t.Errorf("broken off with code %d: %q", code, said.String())
	}
	if err := orBreakOff(t.Context(), func() error { return outcome{code: exitFaults} }); !errors.As(err, new(outcome)) {
		t.Errorf("work that ends by itself: %v", err)
	}
}

// TestServingEndsWithWorkUnderWay ends a server while a request is worked on that does not end: its time is said, then it is cut off.
func TestServingEndsWithWorkUnderWay(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, interrupt := context.WithCancel(t.Context())
	release := make(chan struct{})
	defer close(release)
	s := &http.Server{Handler: http.HandlerFunc(func(http.ResponseWriter, *http.Request) {
		interrupt()
		<-release
	})}
	asked := make(chan error, 1)
	go func() {
		r, err := http.Get("http://" + l.Addr().String())
		if err == nil {
			r.Body.Close()
		}
		asked <- err
	}()
	var said bytes.Buffer
	if err := until(ctx, s, l, &said); err != nil {
		t.Fatal(err)
	}
	if err := <-asked; err == nil {
		t.Error("the request was answered")
	}
	if want := "Ending: what is under way gets 3s"; !strings.Contains(said.String(), want) {
		t.Errorf("it says %q, not %q", said.String(), want)
	}
}
