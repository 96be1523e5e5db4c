package server

import (
	"log/slog"
	"net/http"
	"path"
	"runtime/debug"
	"strings"
)

// guarded sets what holds for every answer: what pages may do, and that whatever is refused or fails is logged.
func guarded(h http.Handler, log *slog.Logger) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		head.Set("Content-Security-Policy", policy)
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("Referrer-Policy", "no-referrer")
		head.Set("Cross-Origin-Opener-Policy", "same-origin")
		head.Set("Cross-Origin-Embedder-Policy", "require-corp")
		head.Set("Cross-Origin-Resource-Policy", "same-origin")
		seen := &seen{ResponseWriter: w}
		defer func() {
			if broken := recover(); broken != nil {
				if broken == http.ErrAbortHandler {
					panic(broken)
				}
				log.Error("a request broke the server's own rules", "method", r.Method, "address", r.URL.Path, "what", broken, "where", string(debug.Stack()))
				if seen.status == 0 {
					writeRefusal(seen, http.StatusInternalServerError, "the server failed at this; its log says more")
				}
			}
			if seen.status >= 400 {
				log.Info("not done", "method", r.Method, "address", shortly(r.URL.Path), "status", seen.status)
			}
		}()
		if strings.HasPrefix(r.URL.Path, "/api") && crooked(r.URL.Path) {
			writeRefusal(seen, http.StatusBadRequest, "no address here has . or .. or nothing between two strokes")
			return
		}
		h.ServeHTTP(seen, r)
	})
}

// crooked tells whether an address is not the shortest way to what it names.
func crooked(at string) bool { return at != path.Clean(at) && at != path.Clean(at)+"/" }

func shortly(at string) string {
	const most = 200
	if len(at) > most {
		return at[:most] + "…"
	}
	return at
}

// seen remembers how an answer came out.
type seen struct {
	http.ResponseWriter
	status int
}

func (s *seen) WriteHeader(status int) {
	if s.status == 0 {
		s.status = status
	}
	s.ResponseWriter.WriteHeader(status)
}

func (s *seen) Write(b []byte) (int, error) {
	if s.status == 0 {
		s.status = http.StatusOK
	}
	return s.ResponseWriter.Write(b)
}

// Unwrap lets flushes and deadlines through.
func (s *seen) Unwrap() http.ResponseWriter { return s.ResponseWriter }
