package server

import (
	"bytes"
	"encoding/json"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"sync"
	"testing"
	"testing/fstest"

	"trenchwright/demo"
	"trenchwright/edge/store"
	"trenchwright/job"
)

// world is a server with a real store behind it, and what it logs.
type world struct {
	*httptest.Server
	store *store.Store
	log   *logged
}

type logged struct {
	sync.Mutex
	bytes.Buffer
}

func (l *logged) Write(b []byte) (int, error) {
	l.Lock()
	defer l.Unlock()
	return l.Buffer.Write(b)
}

func (l *logged) text() string {
	l.Lock()
	defer l.Unlock()
	return l.String()
}

func newWorld(t testing.TB) *world {
	t.Helper()
	s, err := store.Open(t.TempDir(), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	l := &logged{}
	h, err := New(Options{Assets: fstest.MapFS{"index.html.gz": gz("<p>page"), "a/core-0.wasm.gz": gz("core")}, Store: s, Starter: []byte(demo.Starter()), Version: "test", Log: slog.New(slog.NewTextHandler(l, nil))})
	if err != nil {
		t.Fatal(err)
	}
	w := &world{httptest.NewServer(h), s, l}
	t.Cleanup(w.Close)
	return w
}

// put keeps a demo job, with its ground, as revision R-<name>.
func (w *world) put(t testing.TB, name string) job.Job {
	t.Helper()
	g, err := demo.Surveyed(name)
	if err != nil {
		t.Fatal(err)
	}
	for i, a := range g.Job.Attachments[len(g.Job.Attachments)-len(g.Clips):] {
		if err := w.store.PutAttachment(t.Context(), a.SHA256, bytes.NewReader(g.Clips[i].Bytes)); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := w.store.Save(t.Context(), store.Draft{ID: "R-" + name, Author: "a", Content: job.CanonicalJSON(g.Job)}); err != nil {
		t.Fatal(err)
	}
	return g.Job
}

// ask sends a request and gives status, body and head of the answer.
func (w *world) ask(t testing.TB, method, at, kind string, body []byte) (int, []byte, http.Header) {
	t.Helper()
	r, err := http.NewRequest(method, w.URL+at, bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	a, err := w.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	b, err := io.ReadAll(a.Body)
	if err != nil {
		t.Fatal(err)
	}
	return a.StatusCode, b, a.Header
}

// form is files as the parts of a form; the one called job is the job that they are for.
func form(t testing.TB, files map[string][]byte) (kind string, body []byte) {
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for name, text := range files {
		create := func() (io.Writer, error) { return w.CreateFormFile("file", name) }
		if name == "job" {
			create = func() (io.Writer, error) { return w.CreateFormField(name) }
		}
		part, err := create()
		if err != nil {
			t.Fatal(err)
		}
		part.Write(text)
	}
	w.Close()
	return w.FormDataContentType(), b.Bytes()
}

func demoText(t testing.TB, name string) []byte {
	f, err := demo.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	b, _ := io.ReadAll(f)
	return b
}

func answer[T any](t testing.TB, b []byte) (v T) {
	t.Helper()
	if err := json.Unmarshal(b, &v); err != nil {
		t.Fatalf("%v in %s", err, b)
	}
	return v
}
