package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

// dist is what the server will embed: by its path the bytes of each file, and under which path a thing of some name lies.
type dist struct {
	web   string // the folder web
	files []file
	named map[string]string // core → /a/core-1a2b3c4d.wasm
	list  []string          // what the service worker keeps, by address
}

type file struct {
	path  string // without a leading slash
	bytes []byte
	gz    []byte
}

// add keeps a file under a name that holds its content's hash, so that it may be kept by browsers for good.
func (d *dist) add(name, ext string, b []byte) error {
	sum := sha256.Sum256(b)
	path := "a/" + name + "-" + hex.EncodeToString(sum[:8]) + ext
	d.named[name] = "/" + path
	return d.keep(path, b)
}

// keep keeps a file under a name of its own.
func (d *dist) keep(path string, b []byte) error {
	gz, err := d.pressed(b)
	if err != nil {
		return fmt.Errorf("packing %s: %w", path, err)
	}
	d.files = append(d.files, file{path: path, bytes: b, gz: gz})
	return nil
}

// pressed packs bytes by gzip, some 5 % smaller than gzip -9, and unpacks them once to see that they are the same.
func (d *dist) pressed(b []byte) ([]byte, error) {
	c := exec.Command("node", "tools/press.mjs")
	c.Dir, c.Stdin, c.Stderr = d.web, bytes.NewReader(b), os.Stderr
	packed, err := c.Output()
	if err != nil {
		return nil, err
	}
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	switch back, err := io.ReadAll(z); {
	case err != nil:
		return nil, err
	case !bytes.Equal(back, b):
		return nil, errors.New("it is not the same when it is unpacked")
	}
	return packed, nil
}

func (d *dist) packed() (n int) {
	for _, f := range d.files {
		n += len(f.gz)
	}
	return n
}

// scripts bundles the worker, the page and its style; the page gets told where the others lie.
func (d *dist) scripts(web, work string) error {
	start, err := glue()
	if err != nil {
		return err
	}
	for _, s := range [][2]string{{"worker", "worker.ts"}, {"papers", "pack-worker.ts"}, {"solid", "solid/solid.ts"}, {"codes", "codes/codes.ts"}} {
		b, err := d.bundle(web, "src/"+s[1], map[string]string{"WASM_START": start})
		if err != nil {
			return err
		}
		if err := d.add(s[0], ".js", b); err != nil {
			return err
		}
	}
	style, err := d.bundle(web, "src/style.css", nil)
	if err != nil {
		return err
	}
	if err := d.add("style", ".css", style); err != nil {
		return err
	}
	b, err := d.bundle(web, "src/app.tsx", nil)
	if err != nil {
		return err
	}
	return d.add("app", ".js", b)
}

// bundle makes one script or style of a source file and all that it imports. Paths behind named aliases come from the caller;
// the constants PLACES (what lies where),
// FILES (what the service worker keeps) and STAMP (one hash over everything) are set.
func (d *dist) bundle(web, from string, alias map[string]string) ([]byte, error) {
	places, _ := json.Marshal(d.named)
	list, _ := json.Marshal(d.list)
	dir, err := filepath.Abs(web)
	if err != nil {
		return nil, err
	}
	r := api.Build(api.BuildOptions{
		EntryPoints: []string{filepath.Join(dir, from)}, AbsWorkingDir: dir,
		Bundle: true, Write: false, Alias: alias, Outfile: "out",
		Format: api.FormatIIFE, Target: api.ES2022, Charset: api.CharsetUTF8,
		MinifyWhitespace: true, MinifyIdentifiers: true, MinifySyntax: true,
		JSX: api.JSXAutomatic, JSXImportSource: "preact", LegalComments: api.LegalCommentsNone,
		Define:   map[string]string{"PLACES": string(places), "FILES": string(list), "STAMP": fmt.Sprintf("%q", d.stamp())},
		Loader:   map[string]api.Loader{".woff2": api.LoaderDataURL},
		LogLevel: api.LogLevelWarning,
	})
	if len(r.Errors) > 0 {
		return nil, fmt.Errorf("%s: %s", from, r.Errors[0].Text)
	}
	return r.OutputFiles[0].Contents, nil
}

// stamp is one hash over everything kept so far: it changes when anything does.
func (d *dist) stamp() string {
	h := sha256.New()
	for _, f := range d.files {
		fmt.Fprintf(h, "%s %x\n", f.path, sha256.Sum256(f.bytes))
	}
	return hex.EncodeToString(h.Sum(nil)[:12])
}

// pages adds what keeps its name: the page, the files of web/static, and last the service worker with the list of all.
func (d *dist) pages(web string) error {
	page, err := os.ReadFile(filepath.Join(web, "src", "index.html"))
	if err != nil {
		return err
	}
	text := strings.NewReplacer("{{style}}", d.named["style"], "{{app}}", d.named["app"]).Replace(string(page))
	if err := d.keep("index.html", []byte(text)); err != nil {
		return err
	}
	static, err := os.ReadDir(filepath.Join(web, "static"))
	if err != nil {
		return err
	}
	for _, e := range static {
		b, err := os.ReadFile(filepath.Join(web, "static", e.Name()))
		if err != nil {
			return err
		}
		if err := d.keep(e.Name(), b); err != nil {
			return err
		}
	}
	for _, f := range d.files {
		d.list = append(d.list, "/"+f.path)
	}
	sort.Strings(d.list)
	sw, err := d.bundle(web, "src/sw.ts", nil)
	if err != nil {
		return err
	}
	return d.keep("sw.js", sw)
}

// write puts the packed files in place of those of the last time.
func (d *dist) write(dir string) error {
	old, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil {
		return err
	}
	for _, p := range old {
		if err := os.RemoveAll(p); err != nil {
			return err
		}
	}
	for _, f := range d.files {
		p := filepath.Join(dir, filepath.FromSlash(f.path)+".gz")
		if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(p, f.gz, 0o644); err != nil {
			return err
		}
	}
	return os.WriteFile(filepath.Join(dir, "built"), []byte("The files of the workspace lie here once they were built: go generate ./web\n"), 0o644)
}
