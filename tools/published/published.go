// Package published hands tests the values that others published and the data that others made: files of ../shared, beside
// the repository, if present. It is for tests alone; nothing of the program imports it. A test whose files are missing is
// skipped, and says so loudly.
package published

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

// Value is one published value of ../shared/checks/vectors.json.
type Value struct {
	ID, Kind, Source string
	Input, Expect    json.RawMessage
	Tol              float64 // of every figure in Expect
}

// Dir is the folder ../shared, or a part of it; without it the test is skipped.
func Dir(t testing.TB, name string) string {
	t.Helper()
	path := filepath.Join(root(t), "..", "shared", filepath.FromSlash(name))
	if _, err := os.Stat(path); err != nil {
		t.Skipf("SKIPPED, NOT CHECKED AGAINST THE OUTSIDE: no ../shared/%s", name)
	}
	return path
}

// File is a file of ../shared; without it the test is skipped.
func File(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(Dir(t, name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// root is the folder with go.mod that the test lies in.
func root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		if dir == filepath.Dir(dir) {
			t.Fatal("no go.mod above the test")
		}
		dir = filepath.Dir(dir)
	}
}

// Values are the published values of one kind; fewer than least are a fault of the test.
func Values(t testing.TB, kind string, least int) []Value {
	t.Helper()
	var all, out []Value
	Decode(t, File(t, "checks/vectors.json"), &all)
	for _, v := range all {
		if v.Kind == kind {
			out = append(out, v)
		}
	}
	if len(out) < least {
		t.Fatalf("%d published values of kind %s, want %d", len(out), kind, least)
	}
	return out
}

// Decode reads JSON.
func Decode(t testing.TB, raw []byte, into any) {
	t.Helper()
	if err := json.Unmarshal(raw, into); err != nil {
		t.Fatal(err)
	}
}
