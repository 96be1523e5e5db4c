package main

import (
	"strings"
	"testing"

	"trenchwright/demo"
)

// TestLevelHelpTellsTheTruth runs every example of the help of the commands below, on the tables that it shows and on a
// job of which three units are set.
func TestLevelHelpTellsTheTruth(t *testing.T) {
	ran := 0
	for _, command := range []string{"levelbook", "twopeg", "closer", "drift", "float", "lift"} {
		_, text, _ := run(command, "-h")
		t.Chdir(t.TempDir())
		writeAll(t, map[string]string{"yard/job.yaml": demo.Starter()})
		if code, _, complaint := run("record", "site.jsonl", "set", "A-001", "A-003", "--within", "--job", "yard/job.yaml"); code != exitFound {
			t.Fatal(complaint)
		}
		for name, head := range map[string]string{"book.csv": "point,bs", "net.csv": "from,to"} {
			if _, list, ok := strings.Cut(text, "\n    "+head); ok {
				list, _, _ = strings.Cut(list, "\n\n")
				writeAll(t, map[string]string{name: head + strings.ReplaceAll(list, "\n    ", "\n") + "\n"})
			}
		}
		for _, line := range strings.Split(text, "\n") {
			if rest, ok := strings.CutPrefix(line, "    trenchwright "); ok {
				ran++
				if code, out, complaint := run(shellWords(rest)...); code != exitFound {
					t.Errorf("%q ended with %d\n%s%s", rest, code, out, complaint)
				}
			}
		}
	}
	if ran != 15 {
		t.Errorf("%d examples were found", ran)
	}
}
