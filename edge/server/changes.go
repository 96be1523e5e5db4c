package server

import (
	"context"
	"fmt"
	"net/http"
	"reflect"
	"strconv"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"trenchwright/edge/store"
)

func (a *api) changes(h huma.API) {
	huma.Get(h, "/api/changes", func(ctx context.Context, in *struct {
		After int64 `query:"after" minimum:"0" doc:"the sequence number that the last answer gave"`
	}) (*body[store.Changed], error) {
		c, err := a.Store.Changes(ctx, in.After)
		if c.Jobs == nil {
			c.Jobs = []string{}
		}
		if c.Records == nil {
			c.Records = []string{}
		}
		return &body[store.Changed]{c}, a.answered(err)
	})
	refusal := h.OpenAPI().Components.Schemas.Schema(reflect.TypeFor[Refusal](), true, "Refusal")
	h.OpenAPI().AddOperation(&huma.Operation{
		OperationID: "stream", Method: http.MethodGet, Path: streamAt, Summary: "Says when to ask for changes: server-sent events with the last sequence number alone",
		Parameters: []*huma.Param{{Name: "Last-Event-ID", In: "header", Description: "the last number that was heard", Schema: &huma.Schema{Type: huma.TypeInteger}}},
		Responses: map[string]*huma.Response{
			"200":     {Description: "a stream that stays open", Content: map[string]*huma.MediaType{"text/event-stream": {Schema: &huma.Schema{Type: huma.TypeString}}}},
			"default": {Description: "Error", Content: map[string]*huma.MediaType{"application/problem+json": {Schema: refusal}}},
		},
	})
}

const streamAt = "/api/stream"

// beat is how often a quiet stream says that it is there, so that nothing between takes it for dead.
const beat = 20 * time.Second

const (
	mostStreams  = 500              // one for each browser: its tabs share it
	slowestWrite = 20 * time.Second // for somebody who takes a few bytes
)

// stream says the last sequence number whenever it grows, as server-sent events; what changed is asked for by /api/changes.
func (a *api) stream(w http.ResponseWriter, r *http.Request) {
	if a.streams.Add(1) > mostStreams {
		a.streams.Add(-1)
		w.Header().Set("Retry-After", "60")
		writeRefusal(w, http.StatusServiceUnavailable, "too many browsers listen at once. Nothing is lost: GET /api/changes says the same when asked")
		return
	}
	defer a.streams.Add(-1)
	out := http.NewResponseController(w)
	w.Header().Set("Content-Type", "text/event-stream")
	w.Header().Set("Cache-Control", "no-store")
	told, _ := strconv.ParseInt(r.Header.Get("Last-Event-ID"), 10, 64)
	ctx := r.Context()
	// Whoever takes nothing is let go.
	_ = out.SetWriteDeadline(time.Now().Add(slowestWrite))
	fmt.Fprint(w, "retry: 2000\n\n")
	if out.Flush() != nil {
		return
	}
	ticks := time.NewTicker(beat)
	defer ticks.Stop()
	for {
		last, err := a.Store.Last(ctx)
		if err != nil {
			return
		}
		_ = out.SetWriteDeadline(time.Now().Add(slowestWrite))
		if last > told {
			fmt.Fprintf(w, "id: %d\ndata: %d\n\n", last, last)
			told = last
		}
		if out.Flush() != nil {
			return
		}
		select {
		case <-ctx.Done():
			return
		case <-a.Streams.Done():
			return
		case <-a.Store.News(told):
		case <-ticks.C:
			_ = out.SetWriteDeadline(time.Now().Add(slowestWrite))
			fmt.Fprint(w, ": here\n\n")
		}
	}
}
