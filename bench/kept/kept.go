// Package kept puts the table of kept results of a bench into the README, between the marks of that bench.
package kept

import (
	"errors"
	"fmt"
	"os"
	"strings"
)

// TableBegins and TableEnds stand around the table that the README shows, in a file of results.
const (
	TableBegins = "<!-- table -->\n"
	TableEnds   = "<!-- end of table -->\n"
)

// IntoReadme puts the table of a file of results between <!-- bench --> and <!-- end of bench --> of the README, where bench is
// the word that make runs it by; nothing else there changes. It fails, and writes nothing, where the file is missing, where it
// has no table, and where the README has no place for it.
func IntoReadme(readme, results, bench string) error {
	kept, err := os.ReadFile(results)
	if err != nil {
		return fmt.Errorf("%w; make %s writes it", err, bench)
	}
	text, err := os.ReadFile(readme)
	if err != nil {
		return err
	}
	begins, ends := "<!-- "+bench+" -->\n", "<!-- end of "+bench+" -->"
	_, rest, ok := strings.Cut(string(kept), TableBegins)
	shown, _, ok2 := strings.Cut(rest, TableEnds)
	before, rest, ok3 := strings.Cut(string(text), begins)
	_, after, ok4 := strings.Cut(rest, ends)
	if !ok || !ok2 || !ok3 || !ok4 {
		return errors.New(results + " has no table, or " + readme + " no place for it")
	}
	shown += "\n`make " + bench + "` prints this table for your machine; what stands behind it is in [" + results + "](" + results + ").\n"
	return os.WriteFile(readme, []byte(before+begins+shown+ends+after), 0o644)
}
