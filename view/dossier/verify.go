package dossier

import (
	"archive/zip"
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// Proof is what came of verifying a dossier.
type Proof struct {
	Sums     string   `json:"sums"`     // SHA-256 of the list of sums: what somebody kept apart is held against it
	Files    int      `json:"files"`    // that are what they were
	Changed  []string `json:"changed"`  // listed, and not the same bytes
	Missing  []string `json:"missing"`  // listed, and not there
	Unlisted []string `json:"unlisted"` // there, and not listed
}

// Proven reports whether every listed file is there and unchanged, and no other is.
func (p Proof) Proven() bool {
	return len(p.Changed)+len(p.Missing)+len(p.Unlisted) == 0 && p.Files > 0
}

// Verify proves a dossier, given as the files of its folder or of its zip; a zip that lies in the folder is opened and proven too.
// An error says why it cannot be told: there is no list, or it is no list.
func Verify(files fs.FS) (Proof, error) {
	list, err := fs.ReadFile(files, Sums)
	if err != nil {
		return Proof{}, fmt.Errorf("there is no %s: this is no dossier, or its list is lost", Sums)
	}
	p := Proof{Sums: hash(list), Changed: []string{}, Missing: []string{}, Unlisted: []string{}}
	listed := map[string]bool{Sums: true}
	lines := bufio.NewScanner(bytes.NewReader(list))
	for n := 1; lines.Scan(); n++ {
		sum, name, ok := strings.Cut(lines.Text(), "  ")
		if !ok || len(sum) != 64 || !fs.ValidPath(name) {
			return Proof{}, fmt.Errorf("line %d of %s is no sum with a name", n, Sums)
		}
		listed[name] = true
		if err := p.one(files, sum, name); err != nil {
			return Proof{}, err
		}
	}
	err = fs.WalkDir(files, ".", func(name string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() && !listed[name] && !beside(name) {
			p.Unlisted = append(p.Unlisted, name)
		}
		return err
	})
	for _, l := range [][]string{p.Changed, p.Missing, p.Unlisted} {
		slices.Sort(l)
	}
	return p, err
}

// one holds a file against its sum.
func (p *Proof) one(files fs.FS, sum, name string) error {
	b, err := fs.ReadFile(files, name)
	if errors.Is(err, fs.ErrNotExist) {
		p.Missing = append(p.Missing, name)
		return nil
	}
	if err != nil || hash(b) != sum { // a zip whose own checksum fails cannot be read: it changed
		p.Changed = append(p.Changed, name)
		return nil
	}
	p.Files++
	if path.Ext(name) != ".zip" {
		return nil
	}
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		return fmt.Errorf("%s is what it was, and no zip: %w", name, err)
	}
	inner, err := Verify(z)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	p.Files += inner.Files
	for to, from := range map[*[]string][]string{&p.Changed: inner.Changed, &p.Missing: inner.Missing, &p.Unlisted: inner.Unlisted} {
		for _, n := range from {
			*to = append(*to, name+"/"+n)
		}
	}
	return nil
}

// beside is what the program that puts files in place leaves there by itself.
func beside(name string) bool { return name == "written.txt" }

// Opened is a zip as files to verify.
func Opened(r io.ReaderAt, size int64) (fs.FS, error) { return zip.NewReader(r, size) }
