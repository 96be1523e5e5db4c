package server

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"reflect"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"trenchwright/base/finding"
	"trenchwright/edge/store"
)

// api is what answers under /api.
type api struct {
	Options
	files   *assets
	plan    *maker
	reading sync.Mutex // of what was dropped
	streams atomic.Int32
	guesses guesses
}

// The most that a request may bring, and the longest that it may take: a job; a survey, an exported job.
const (
	mostJob     = 16 << 20
	mostFile    = 256 << 20
	slowestJob  = time.Minute
	slowestFile = 5 * time.Minute
)

func (a *api) register(mux *http.ServeMux) {
	huma.NewError = refused
	config := huma.DefaultConfig("Trenchwright", a.Version)
	config.DocsPath, config.SchemasPath, config.CreateHooks = "", "", nil
	config.OpenAPIPath = "/api/openapi"
	config.Formats = map[string]huma.Format{"application/json": escaped, "json": escaped}
	config.Components.Schemas = huma.NewMapRegistry("#/components/schemas/", schemaName)
	h := humago.New(mux, config)
	a.jobs(h)
	a.revisions(h)
	a.plans(h)
	a.issuing(h)
	a.attachments(h)
	a.moving(h)
	a.dossiers(h)
	a.dropped(h)
	a.changes(h)
	a.records(h)
	a.photos(h)
	a.devices(h)
	mux.HandleFunc("GET "+streamAt, a.stream)
	mux.HandleFunc("POST "+importAt, a.takeIn)
	mux.HandleFunc("/api/", func(w http.ResponseWriter, r *http.Request) {
		if others := otherMethods(mux, r); len(others) > 0 {
			w.Header().Set("Allow", strings.Join(others, ", "))
			writeRefusal(w, http.StatusMethodNotAllowed, fmt.Sprintf("nothing here is done by %s; there is %s", shortly(r.Method), strings.Join(others, ", ")))
			return
		}
		writeRefusal(w, http.StatusNotFound, "there is nothing at this address: GET /api/openapi.json says what there is")
	})
}

// otherMethods are those that do something at the address of a request.
func otherMethods(mux *http.ServeMux, r *http.Request) (list []string) {
	for _, m := range []string{http.MethodGet, http.MethodPost, http.MethodPut} {
		other := r.Clone(r.Context())
		other.Method = m
		if _, pattern := mux.Handler(other); pattern != "/api/" && pattern != "" {
			list = append(list, m)
		}
	}
	return list
}

// escaped is JSON in which no markup stands, whatever people call things.
var escaped = huma.Format{
	Marshal:   func(w io.Writer, v any) error { return json.NewEncoder(w).Encode(v) },
	Unmarshal: json.Unmarshal,
}

// schemaName is what a type is called in the description: what was dropped has words of its own for what others have too.
func schemaName(t reflect.Type, hint string) string {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	name := huma.DefaultSchemaNamer(t, hint)
	if t.Name() != "" && strings.HasSuffix(t.PkgPath(), "/view/dropped") {
		return "Dropped" + name
	}
	return name
}

// Refusal is why a request was not done: every fault with its place.
type Refusal struct {
	Title  string  `json:"title"`
	Status int     `json:"status"`
	Detail string  `json:"detail,omitempty"`
	Faults []Fault `json:"faults,omitempty"`
}

// Fault is one thing that is wrong with what was sent.
type Fault struct {
	Path   string `json:"path,omitempty"`
	Line   int    `json:"line,omitempty"`
	Column int    `json:"column,omitempty"`
	Text   string `json:"text"`
	Try    string `json:"try,omitempty"`
}

func (r *Refusal) Error() string  { return r.Detail }
func (r *Refusal) GetStatus() int { return r.Status }

// ContentType is how a refusal is sent, whatever else was asked for.
func (r *Refusal) ContentType(string) string { return "application/problem+json" }

func refused(status int, detail string, errs ...error) huma.StatusError {
	r := &Refusal{Title: http.StatusText(status), Status: status, Detail: detail}
	for _, e := range errs {
		if e == nil {
			continue
		}
		f := Fault{Text: e.Error()}
		if d, ok := e.(huma.ErrorDetailer); ok {
			f.Path, f.Text = d.ErrorDetail().Location, d.ErrorDetail().Message
		}
		r.Faults = append(r.Faults, f)
	}
	return r
}

// faulty refuses what has faults, with all of them.
func faulty(detail string, found finding.List) *Refusal {
	r := &Refusal{Title: http.StatusText(http.StatusUnprocessableEntity), Status: http.StatusUnprocessableEntity, Detail: detail}
	for _, f := range found {
		if f.Kind == finding.Fault {
			r.Faults = append(r.Faults, Fault{Path: f.Where.Path, Line: f.Where.Line, Column: f.Where.Column, Text: f.Text, Try: f.Try})
		}
	}
	return r
}

// answered turns what the store says into what a client gets; what nobody foresaw is logged, and told as such.
func (a *api) answered(err error) error {
	if err == nil {
		return nil
	}
	var own *Refusal
	if errors.As(err, &own) {
		return own
	}
	var r *store.Refused
	if errors.As(err, &r) {
		status := map[store.Why]int{
			store.NotThere: http.StatusNotFound, store.Conflict: http.StatusConflict, store.Unfit: http.StatusUnprocessableEntity,
			store.TooLarge: http.StatusRequestEntityTooLarge, store.Busy: http.StatusServiceUnavailable,
			store.Unknown: http.StatusUnauthorized,
		}[r.Why]
		if status == 0 {
			status = http.StatusInternalServerError
		}
		a.Log.Info("refused", "why", r.Why, "text", r.Text)
		out := faulty(r.Error(), r.Faults)
		out.Status, out.Title = status, http.StatusText(status)
		return out
	}
	a.Log.Error("a request failed", "error", err)
	return refused(http.StatusInternalServerError, "the server failed at this; its log says more")
}

// writeRefusal answers outside of the described operations.
func writeRefusal(w http.ResponseWriter, status int, detail string) {
	w.Header().Set("Content-Type", "application/problem+json")
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(refused(status, detail))
}
