package server

import (
	"context"
	"fmt"
	"net/http"
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
		return &body[store.Changed]{c}, a.answered(err)
	})
}

// beat is how often a quiet stream says that it is there, so that nothing between takes it for dead.
const beat = 20 * time.Second

// stream says the last sequence number whenever it grows, as server-sent events; what changed is asked for by /api/changes.
func (a *api) stream(w http.ResponseWriter, r *http.Request) {
	out := http.NewResponseController(w)
	w.Header().Set("Content-Type", "text/event-stream")
	w.Header().Set("Cache-Control", "no-store")
	told, _ := strconv.ParseInt(r.Header.Get("Last-Event-ID"), 10, 64)
	ctx := r.Context()
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
		case <-a.Store.News(told):
		case <-ticks.C:
			fmt.Fprint(w, ": here\n\n")
		}
	}
}
