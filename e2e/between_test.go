package e2e

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"regexp"
	"strings"
	"sync/atomic"
	"testing"
)

// between stands between browsers and the workspace as a bad net does: it may lose answers of what was done, and count what came.
type between struct {
	*httptest.Server
	posts atomic.Int64 // revisions that browsers sent
	lost  atomic.Int64 // how many answers to them are still to be lost
	newer atomic.Bool  // whether it serves as a newer version would
	full  atomic.Bool  // whether it answers photos as a workspace does whose disk is full
	large atomic.Bool  // whether it answers them as one that takes none as large
	mute  atomic.Bool  // whether it takes questions under /api and says nothing to them
}

func bad(t *testing.T, address string) *between {
	t.Helper()
	to, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	b := &between{}
	proxy := &httputil.ReverseProxy{Rewrite: func(r *httputil.ProxyRequest) {
		r.SetURL(to)
		r.Out.Host = r.In.Host
		if r.In.URL.Path == "/sw.js" || r.In.URL.Path == "/api/about" {
			r.Out.Header.Set("Accept-Encoding", "identity")
			r.Out.Header.Del("If-None-Match")
		}
	}}
	b.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		save := r.Method == http.MethodPost && strings.HasSuffix(r.URL.Path, "/revisions")
		if save {
			b.posts.Add(1)
		}
		switch {
		case b.mute.Load() && strings.HasPrefix(r.URL.Path, "/api/"):
			_, _ = io.Copy(io.Discard, r.Body)
			<-r.Context().Done() // whoever asked has given it up
		case save && b.lost.Load() > 0:
			b.lost.Add(-1)
			proxy.ServeHTTP(httptest.NewRecorder(), r)
			panic(http.ErrAbortHandler) // it was done, and nobody is told
		case (b.full.Load() || b.large.Load()) && r.Method == http.MethodPut && strings.HasPrefix(r.URL.Path, "/api/photos/"):
			_, _ = io.Copy(io.Discard, r.Body)
			status, detail := http.StatusInternalServerError, "the disk on which the workspace keeps its jobs is full, and nothing was saved. Make room on it and save again"
			if b.large.Load() {
				status, detail = http.StatusRequestEntityTooLarge, "a photo or voice note of that size is not taken"
			}
			w.Header().Set("Content-Type", "application/problem+json")
			w.WriteHeader(status)
			_ = json.NewEncoder(w).Encode(map[string]any{"status": status, "detail": detail})
		case b.newer.Load() && (r.URL.Path == "/sw.js" || r.URL.Path == "/api/about"):
			rec := httptest.NewRecorder()
			proxy.ServeHTTP(rec, r)
			body := regexp.MustCompile(`trenchwright [0-9a-f]{24}`).ReplaceAll(rec.Body.Bytes(), []byte("trenchwright 0123456789abcdef01234567"))
			body = bytes.Replace(body, []byte(`"core":"`), []byte(`"core":"newer-`), 1)
			for k, v := range rec.Header() {
				w.Header()[k] = v
			}
			w.Header().Del("Content-Length")
			w.Header().Del("Etag")
			_, _ = w.Write(body)
		default:
			proxy.ServeHTTP(w, r)
		}
	}))
	t.Cleanup(b.CloseClientConnections)
	t.Cleanup(func() { go b.Close() }) // streams stay open until the browsers end
	return b
}
