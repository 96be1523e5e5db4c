// Package server is the workspace over HTTP: the files that browsers keep, and the jobs under /api.
//
//	server.go  what a server is made of, and what holds for every answer
//	assets.go  the files of the workspace, sent as they are packed
package server

import (
	"io/fs"
	"log/slog"
	"net/http"
)

// Options are what a server stands on.
type Options struct {
	Assets fs.FS        // the files of the workspace, each packed by gzip with .gz behind its path
	Log    *slog.Logger // where faults and refusals are told
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
	mux.HandleFunc("/api/", http.NotFound)
	return guarded(mux), nil
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
