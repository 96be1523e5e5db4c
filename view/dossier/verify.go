package dossier

import (
	"archive/zip"
	"bufio"
	"bytes"
	"crypto/sha256"
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

// Between is what a zip holds besides its files: something was put before, between or behind them, or one of their heads changed.
const Between = "between the files of the zip"

// Verify proves a dossier, given as the files of its folder; a zip that lies in the folder is opened and proven too.
// An error says why it cannot be told: there is no list, or it is no list.
func Verify(files fs.FS) (Proof, error) {
	list, err := fs.ReadFile(files, Sums)
	if err != nil {
		return Proof{}, fmt.Errorf("there is no %s: this is no dossier, or its list is lost", Sums)
	}
	p := Proof{Sums: hashOf(list), Changed: []string{}, Missing: []string{}, Unlisted: []string{}}
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
	p.sort()
	return p, err
}

func (p *Proof) sort() {
	for _, l := range [][]string{p.Changed, p.Missing, p.Unlisted} {
		slices.Sort(l)
	}
}

// VerifyZip proves the zip of a dossier by itself: its files by the sums in it, and that it holds nothing besides them.
func VerifyZip(r io.ReaderAt, size int64) (Proof, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return Proof{}, err
	}
	p, err := Verify(z)
	if err != nil {
		return p, err
	}
	if same, err := sameAgain(z, r, size); err != nil || !same {
		p.Changed = append(p.Changed, Between)
		p.sort()
	}
	return p, nil
}

// sameAgain reports whether a zip that is written once more from its own parts gives the same bytes.
func sameAgain(z *zip.Reader, r io.ReaderAt, size int64) (bool, error) {
	was, again := sha256.New(), sha256.New()
	if _, err := io.Copy(was, io.NewSectionReader(r, 0, size)); err != nil {
		return false, err
	}
	w := zip.NewWriter(again)
	if err := w.SetComment(z.Comment); err != nil {
		return false, err
	}
	for _, f := range z.File {
		if f.CreatorVersion != zipVersion || f.ExternalAttrs != 0 { // which would be copied, and stand in the list of files alone
			return false, nil
		}
		if err := w.Copy(f); err != nil {
			return false, err
		}
	}
	if err := w.Close(); err != nil {
		return false, err
	}
	return z.Comment == "" && hexOf(was) == hexOf(again), nil
}

// zipVersion is what archive/zip writes as the version that a file was packed by: 2.0 of the format.
const zipVersion = 20

// one holds a file against its sum.
func (p *Proof) one(files fs.FS, sum, name string) error {
	f, err := files.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		p.Missing = append(p.Missing, name)
		return nil
	}
	if err != nil {
		p.Changed = append(p.Changed, name)
		return nil
	}
	defer f.Close()
	is := sha256.New()
	size, err := io.Copy(is, f)
	if err != nil || hexOf(is) != sum { // a zip whose own checksum fails cannot be read: it changed
		p.Changed = append(p.Changed, name)
		return nil
	}
	p.Files++
	if path.Ext(name) != ".zip" {
		return nil
	}
	at, ok := f.(io.ReaderAt)
	if !ok {
		return fmt.Errorf("%s cannot be read in parts", name)
	}
	inner, err := VerifyZip(at, size)
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
