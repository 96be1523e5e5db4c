package demo

import (
	"bytes"
	"io/fs"
	"slices"
	"strings"
	"testing"
)

func TestEveryFileHasAName(t *testing.T) {
	found, err := fs.Glob(files, "*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range found {
		names = append(names, strings.TrimSuffix(f, ".yaml"))
	}
	want := slices.Sorted(slices.Values(Names()))
	if !slices.Equal(names, want) {
		t.Errorf("files %v, names %v", names, want)
	}
}

// A demo's figures are made up: each file says so before anything else, and so does every document that it names.
func TestEveryFileSaysThatItIsInvented(t *testing.T) {
	for _, name := range Names() {
		text, err := File(name)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(text, []byte("# INVENTED DEMO DATA")) {
			t.Errorf("%s does not begin with what it is", name)
		}
		for line := range strings.Lines(string(text)) {
			if strings.Contains(line, "title:") && strings.Contains(line, "entered_by:") && !strings.Contains(line, "invented for this demo") {
				t.Errorf("%s: a document that does not say it is invented: %s", name, line)
			}
		}
	}
}

func TestUnknownNameIsAnsweredWithTheNames(t *testing.T) {
	_, err := File("nowhere")
	if err == nil || !strings.Contains(err.Error(), "tram-depot, battery-yard, hand-troughs") {
		t.Errorf("got %v", err)
	}
}
