// Package server is the workspace over HTTP: the files that browsers keep, and the jobs under /api.
//
//	server.go  what a server is made of, and what holds for every answer
//	assets.go  the files of the workspace, sent as they are packed
//	api.go     what is under /api, and how it refuses      jobs.go         jobs and revisions
//	plans.go   plans and packs, kept once they were made   attachments.go  files by their hash
//	issuing.go plans as they were issued                   moving.go       a job as one file; dropped.go: files dropped on a page
//	changes.go what changed, and the stream that says so
package server

import (
	"io/fs"
	"log/slog"
	"net/http"

	"trenchwright/edge/store"
)

// Options are what a server stands on.
type Options struct {
	Assets  fs.FS        // the files of the workspace, each packed by gzip with .gz behind its path
	Store   *store.Store // jobs and their revisions
	Starter []byte       // a job to start from, as YAML: what a dropped route is put into
	Version string       // of the program
	Log     *slog.Logger // where faults and refusals are told
}

// policy is what pages of ours may do: run our own scripts and the core, and nothing from anywhere else.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; " +
	"connect-src 'self'; worker-src 'self'; manifest-src 'self'; frame-src 'self' blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// New is a handler for everything that the program serves. It fails where the workspace was not built into the program.
func New(o Options) (http.Handler, error) {
	files, err := readAssets(o.Assets)
	if err != nil {
		return nil, err
	}
	mux := http.NewServeMux()
	mux.Handle("/", files)
	if o.Store != nil {
		a := &api{Options: o, plan: &maker{store: o.Store}}
		a.register(mux)
	}
	own := http.NewCrossOriginProtection()
	own.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		o.Log.Warn("a request from another site was refused", "origin", r.Header.Get("Origin"), "address", r.URL.Path)
		writeRefusal(w, http.StatusForbidden, "this came from another site, and was not done")
	}))
	return guarded(own.Handler(mux)), nil
}

// guarded sets what holds for every answer.
func guarded(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		head.Set("Content-Security-Policy", policy)
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("Referrer-Policy", "no-referrer")
		head.Set("Cross-Origin-Opener-Policy", "same-origin")
		head.Set("Cross-Origin-Embedder-Policy", "require-corp")
		head.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.ServeHTTP(w, r)
	})
}
