// Package server is the workspace over HTTP: the files that browsers keep, and the jobs under /api.
//
//	server.go  what a server is made of                    guard.go        what holds for every answer
//	bothways.go TLS and plain http on one port             trust.go        how a phone comes to trust it
//	assets.go  the files of the workspace, sent as they are packed
//	api.go     what is under /api, and how it refuses      jobs.go         jobs and revisions
//	held.go    what was asked for last, in memory
//	plans.go   plans and packs, kept once they were made   stamps.go       which state of the job a paper is of
//	attachments.go  files by their hash
//	issuing.go plans as they were issued                   moving.go       a job as one file; dropped.go: files dropped on a page
//	records.go records and photos from site                who.go         who may bring them
//	devices.go devices let in by a code, and shut out again
//	changes.go what changed, and the stream that says so
package server

import (
	"context"
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
	TLS     bool         // browsers can come over TLS: what came over plain http is led there
	Trust   *Trust       // the site authority that vouches for this server; nil: none of its own
	Reached []string     // addresses at which other devices reach it; none: it is on this machine alone
	// Streams ends what never ends by itself; nil: nothing does but the server.
	Streams context.Context
}

// policy is what pages of ours may do: run our own scripts and the core, and nothing from anywhere else.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; " +
	"connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// Built tells whether the workspace was built into the program: ErrNotBuilt where it was not.
func Built(in fs.FS) error {
	if _, err := fs.Stat(in, "index.html.gz"); err != nil {
		return ErrNotBuilt
	}
	return nil
}

// New is a handler for everything that the program serves. It fails where the workspace was not built into the program.
func New(o Options) (http.Handler, error) {
	files, err := readAssets(o.Assets)
	if err != nil {
		return nil, err
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Streams == nil {
		o.Streams = context.Background()
	}
	mux := http.NewServeMux()
	mux.Handle("/", files)
	o.trusting(mux)
	if o.Store != nil {
		a := &api{Options: o, files: files, plan: &maker{store: o.Store, held: newHeld(usualRoom)}}
		a.register(mux)
	}
	own := http.NewCrossOriginProtection()
	own.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		o.Log.Warn("a request from another site was refused", "origin", r.Header.Get("Origin"), "address", r.URL.Path)
		writeRefusal(w, http.StatusForbidden, "this came from another site, and was not done")
	}))
	var h http.Handler = own.Handler(mux)
	if o.TLS {
		h = plainly(h)
	}
	return guarded(h, o.Log), nil
}
