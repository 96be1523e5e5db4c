package server

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"
)

// ErrNotBuilt says that the workspace was not built before the program was.
var ErrNotBuilt = errors.New("the workspace is not built into this program. Try: make build")

// assets are the files of the workspace by their addresses.
type assets struct{ by map[string]asset }

type asset struct {
	packed []byte
	kind   string
	tag    string
	keep   bool // named by its content: browsers may keep it for good
}

var kinds = map[string]string{
	".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".wasm": "application/wasm", ".svg": "image/svg+xml", ".png": "image/png", ".webmanifest": "application/manifest+json", ".json": "application/json",
}

func readAssets(in fs.FS) (*assets, error) {
	a := &assets{by: map[string]asset{}}
	err := fs.WalkDir(in, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(p, ".gz") {
			return err
		}
		b, err := fs.ReadFile(in, p)
		if err != nil {
			return err
		}
		p = strings.TrimSuffix(p, ".gz")
		kind, ok := kinds[path.Ext(p)]
		if !ok {
			return fmt.Errorf("no media type for %s", p)
		}
		sum := sha256.Sum256(b)
		a.by["/"+p] = asset{packed: b, kind: kind, tag: `"` + hex.EncodeToString(sum[:12]) + `"`, keep: strings.HasPrefix(p, "a/")}
		return nil
	})
	if err != nil {
		return nil, err
	}
	if _, ok := a.by["/index.html"]; !ok {
		return nil, ErrNotBuilt
	}
	return a, nil
}

// ServeHTTP sends a file; every address without an ending is a screen, and all screens are one page.
func (a *assets) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		http.Error(w, "Files can only be read.", http.StatusMethodNotAllowed)
		return
	}
	at := r.URL.Path
	if path.Ext(at) == "" {
		at = "/index.html"
	}
	f, ok := a.by[at]
	if !ok {
		http.Error(w, "There is no such file here.", http.StatusNotFound)
		return
	}
	head := w.Header()
	head.Set("Content-Type", f.kind)
	head.Set("ETag", f.tag)
	head.Set("Vary", "Accept-Encoding")
	head.Set("Cache-Control", "no-cache")
	if f.keep {
		head.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	if r.Header.Get("If-None-Match") == f.tag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	if strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		head.Set("Content-Encoding", "gzip")
		head.Set("Content-Length", strconv.Itoa(len(f.packed)))
		w.Write(f.packed)
		return
	}
	z, err := gzip.NewReader(bytes.NewReader(f.packed))
	if err != nil {
		http.Error(w, "The file is broken.", http.StatusInternalServerError)
		return
	}
	io.Copy(w, z)
}
