package server

import (
	"context"
	"fmt"
	"net/http"
	"reflect"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"trenchwright/edge/store"
)

// A job as one file may hold hundreds of photos: it goes through neither way as a whole in memory.
func (a *api) moving(h huma.API) {
	huma.Register(h, huma.Operation{
		OperationID: "export", Method: http.MethodGet, Path: "/api/jobs/{job}/export", Summary: "A job with all its revisions, files, issued plans, records and photos as one zip",
	}, func(ctx context.Context, in *JobPath) (*huma.StreamResponse, error) {
		d, err := a.Store.Job(ctx, in.Job)
		if err != nil {
			return nil, a.answered(err)
		}
		return &huma.StreamResponse{Body: func(c huma.Context) {
			out := &begun{c: c, name: historyOf(d).WholeName(in.Job, d.Heads)}
			a.ended(out, "a job as one file", a.Store.Export(ctx, in.Job, out))
		}}, nil
	})
	refusal := h.OpenAPI().Components.Schemas.Schema(reflect.TypeFor[Refusal](), true, "Refusal")
	imported := h.OpenAPI().Components.Schemas.Schema(reflect.TypeFor[store.Imported](), true, "Imported")
	h.OpenAPI().AddOperation(&huma.Operation{
		OperationID: "import", Method: http.MethodPost, Path: importAt, Summary: "Take in a job that was exported: all of it, or nothing",
		RequestBody: &huma.RequestBody{Required: true, Content: map[string]*huma.MediaType{"application/zip": {Schema: &huma.Schema{Type: huma.TypeString, Format: "binary"}}}},
		Responses: map[string]*huma.Response{
			"200":     {Description: "OK", Content: map[string]*huma.MediaType{"application/json": {Schema: imported}}},
			"default": {Description: "Error", Content: map[string]*huma.MediaType{"application/problem+json": {Schema: refusal}}},
		},
	})
}

const importAt = "/api/import"

// slowestImport is for a job with all its photos over a weak net.
const slowestImport = time.Hour

// takeIn reads a job as one file from the connection straight to the disk. How large it may be is the store's to say.
func (a *api) takeIn(w http.ResponseWriter, r *http.Request) {
	_ = http.NewResponseController(w).SetReadDeadline(time.Now().Add(slowestImport))
	i, err := a.Store.Import(r.Context(), r.Body)
	if err != nil {
		said, ok := a.answered(err).(huma.StatusError)
		if !ok {
			said = refused(http.StatusInternalServerError, "the server failed at this; its log says more")
		}
		w.Header().Set("Content-Type", "application/problem+json")
		w.WriteHeader(said.GetStatus())
		_ = escaped.Marshal(w, said)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	_ = escaped.Marshal(w, i)
}

// begun writes an answer whose head is written with its first bytes.
type begun struct {
	c    huma.Context
	name string            // of the file
	said map[string]string // what else its head says
	at   int64
}

// ended refuses an answer that failed before its first byte; one that failed later is logged, and its reader finds it torn.
func (a *api) ended(b *begun, what string, err error) {
	switch {
	case err != nil && b.at == 0:
		b.c.SetHeader("Content-Type", "application/problem+json")
		b.c.SetStatus(http.StatusInternalServerError)
		_ = escaped.Marshal(b.c.BodyWriter(), a.answered(err))
	case err != nil:
		a.Log.Info(what+" was not taken to its end", "file", b.name, "error", err)
	}
}

func (b *begun) Write(p []byte) (int, error) {
	if b.at == 0 {
		b.c.SetHeader("Content-Type", "application/zip")
		b.c.SetHeader("Content-Disposition", fmt.Sprintf("attachment; filename=%q", b.name))
		for name, text := range b.said {
			b.c.SetHeader(name, text)
		}
	}
	n, err := b.c.BodyWriter().Write(p)
	b.at += int64(n)
	return n, err
}
