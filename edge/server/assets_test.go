package server

import (
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"testing"
	"testing/fstest"
)

func gz(text string) *fstest.MapFile {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	io.WriteString(w, text)
	w.Close()
	return &fstest.MapFile{Data: b.Bytes()}
}

func TestAssetsAreSentAsTheyArePacked(t *testing.T) {
	h, err := New(Options{Assets: fstest.MapFS{"index.html.gz": gz("<p>page"), "a/core-1.wasm.gz": gz("core"), "built": {}}, Log: slog.New(slog.DiscardHandler)})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		method, at, accepts string
		status              int
		kind, body, packing string
	}{
		{"GET", "/", "gzip, br", 200, "text/html; charset=utf-8", "<p>page", "gzip"},
		{"GET", "/jobs/tram-depot/route", "gzip", 200, "text/html; charset=utf-8", "<p>page", "gzip"},
		{"GET", "/a/core-1.wasm", "", 200, "application/wasm", "core", ""},
		{"GET", "/a/core-2.wasm", "gzip", 404, "text/plain; charset=utf-8", "There is no such file here.\n", ""},
		{"GET", "/../../etc/passwd.gz", "gzip", 307, "text/html; charset=utf-8", "", ""}, // to the address without dots
		{"POST", "/", "gzip", 405, "text/plain; charset=utf-8", "Files can only be read.\n", ""},
	} {
		r := httptest.NewRequest(c.method, c.at, nil)
		r.Header.Set("Accept-Encoding", c.accepts)
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		body := w.Body.Bytes()
		if c.packing == "gzip" {
			z, err := gzip.NewReader(bytes.NewReader(body))
			if err != nil {
				t.Fatal(err)
			}
			body, _ = io.ReadAll(z)
		}
		if c.status == 307 {
			body = nil
		}
		if w.Code != c.status || w.Header().Get("Content-Type") != c.kind || string(body) != c.body || w.Header().Get("Content-Encoding") != c.packing {
			t.Errorf("%s %s: %d %v %q", c.method, c.at, w.Code, w.Header(), body)
		}
		if w.Header().Get("Content-Security-Policy") == "" {
			t.Errorf("%s: no policy", c.at)
		}
	}
}

func TestNotBuiltIsSaid(t *testing.T) {
	if _, err := New(Options{Assets: fstest.MapFS{"built": {}}}); !errors.Is(err, ErrNotBuilt) {
		t.Error(err)
	}
}

func TestKnownFileIsNotSentAgain(t *testing.T) {
	h, _ := New(Options{Assets: fstest.MapFS{"index.html.gz": gz("<p>page")}})
	first, again := httptest.NewRecorder(), httptest.NewRecorder()
	h.ServeHTTP(first, httptest.NewRequest("GET", "/", nil))
	r := httptest.NewRequest("GET", "/", nil)
	r.Header.Set("If-None-Match", first.Header().Get("Etag"))
	h.ServeHTTP(again, r)
	if again.Code != http.StatusNotModified || again.Body.Len() != 0 {
		t.Error(again.Code)
	}
}
