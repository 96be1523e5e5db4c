package folder

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
)

func file(name, body string) File {
	return File{Name: name, Make: func() ([]byte, error) { return []byte(body), nil }}
}

func quiet(int) {}

func names(t *testing.T, dir string) []string {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range list {
		out = append(out, e.Name())
	}
	return out
}

// A pack is put in place whole, and replaces the one before it whole: nothing of that one is left.
func TestReplace(t *testing.T) {
	home := t.TempDir()
	dir := filepath.Join(home, "deep", "pack")
	told := 0
	if err := Replace(t.Context(), dir, []File{file(Owner, "1"), file("csv/a.csv", "a"), file("old.txt", "o")}, func(n int) { told = max(told, n) }); err != nil {
		t.Fatal(err)
	}
	if told != 3 {
		t.Errorf("told of %d files", told)
	}
	if err := Replace(t.Context(), dir, []File{file(Owner, "2")}, quiet); err != nil {
		t.Fatal(err)
	}
	if got := names(t, dir); len(got) != 1 || got[0] != Owner {
		t.Errorf("%v is left", got)
	}
	if got := names(t, filepath.Dir(dir)); len(got) != 1 {
		t.Errorf("beside the pack: %v", got)
	}
}

// When one file cannot be made, the pack that was there stays, and nothing is left beside it.
func TestFailureLeavesWhatWasThere(t *testing.T) {
	home := t.TempDir()
	dir := filepath.Join(home, "pack")
	if err := Replace(t.Context(), dir, []File{file(Owner, "1")}, quiet); err != nil {
		t.Fatal(err)
	}
	broken := File{Name: "x.pdf", Make: func() ([]byte, error) { return nil, errors.New("no paper") }}
	if err := Replace(t.Context(), dir, []File{file(Owner, "2"), broken}, quiet); err == nil {
		t.Error("no error")
	}
	if b, _ := os.ReadFile(filepath.Join(dir, Owner)); string(b) != "1" {
		t.Errorf("the pack says %q", b)
	}
	if got := names(t, home); len(got) != 1 {
		t.Errorf("beside the pack: %v", got)
	}
}

// A folder with somebody's own files is refused and left as it is.
func TestForeignFoldersAreRefused(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "letter.txt"), []byte("dear"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, where := range []string{dir, filepath.Join(dir, "letter.txt")} {
		var taken Taken
		if err := Replace(t.Context(), where, []File{file(Owner, "1")}, quiet); !errors.As(err, &taken) || taken.Dir != where {
			t.Errorf("%s: %v", where, err)
		}
	}
	if got := names(t, dir); len(got) != 1 || got[0] != "letter.txt" {
		t.Error(got)
	}
}

// Whoever breaks off finds what was there before.
func TestBreakingOffLeavesWhatWasThere(t *testing.T) {
	home := t.TempDir()
	dir := filepath.Join(home, "pack")
	if err := Replace(t.Context(), dir, []File{file(Owner, "1")}, quiet); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	many := []File{file(Owner, "2")}
	for _, name := range []string{"a", "b", "c", "d", "e", "f", "g", "h"} {
		many = append(many, file(name, name))
	}
	if err := Replace(ctx, dir, many, func(int) { stop() }); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	if b, _ := os.ReadFile(filepath.Join(dir, Owner)); string(b) != "1" {
		t.Errorf("the pack says %q", b)
	}
	if got := names(t, home); len(got) != 1 {
		t.Errorf("beside the pack: %v", got)
	}
}
