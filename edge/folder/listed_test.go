package folder

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What was written before is written over whole; what somebody laid beside it is refused, named and left as it is.
func TestReplaceListed(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pages")
	told := 0
	if err := ReplaceListed(t.Context(), dir, []File{file("pages.pdf", "1"), file("svg/page-1.svg", "a"), file("svg/page-2.svg", "b")}, func(n int) { told = max(told, n) }); err != nil {
		t.Fatal(err)
	}
	if told != 4 {
		t.Errorf("told of %d files", told)
	}
	if err := ReplaceListed(t.Context(), dir, []File{file("pages.pdf", "2"), file("svg/page-1.svg", "a")}, quiet); err != nil {
		t.Fatal(err)
	}
	if b, _ := os.ReadFile(filepath.Join(dir, "pages.pdf")); string(b) != "2" {
		t.Errorf("the pages say %q", b)
	}
	if got := names(t, filepath.Join(dir, "svg")); len(got) != 1 {
		t.Errorf("%v is left of the longer book", got)
	}
	mine := filepath.Join(dir, "svg", "letter.txt")
	if err := os.WriteFile(mine, []byte("dear"), 0o644); err != nil {
		t.Fatal(err)
	}
	var taken Taken
	if err := ReplaceListed(t.Context(), dir, []File{file("pages.pdf", "3")}, quiet); !errors.As(err, &taken) || !strings.Contains(taken.Why, "svg/letter.txt") {
		t.Error(err)
	}
	if b, _ := os.ReadFile(mine); string(b) != "dear" {
		t.Errorf("somebody's letter says %q", b)
	}
	foreign := t.TempDir()
	if err := os.WriteFile(filepath.Join(foreign, "pages.pdf"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, where := range []string{foreign, filepath.Join(foreign, "pages.pdf")} {
		if err := ReplaceListed(t.Context(), where, []File{file("pages.pdf", "3")}, quiet); !errors.As(err, &taken) || taken.Dir != where {
			t.Errorf("%s: %v", where, err)
		}
	}
}
