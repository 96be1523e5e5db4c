package main

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/evanw/esbuild/pkg/api"
)

// A day's work comes whole through codes that are drawn, missed, shuffled and read again, and nothing damaged comes through. The
// script says what was wrong, with its seed.
func TestRecordsComeWholeThroughCodes(t *testing.T) {
	if err := packages(".."); err != nil {
		t.Fatal(err)
	}
	at := filepath.Join(t.TempDir(), "bycodes.mjs")
	web, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	r := api.Build(api.BuildOptions{
		EntryPoints: []string{"testdata/bycodes.ts"}, Bundle: true, Write: true, Outfile: at, Format: api.FormatESModule, Target: api.ES2022,
		Platform: api.PlatformNode, LogLevel: api.LogLevelWarning, NodePaths: []string{filepath.Join(web, "node_modules")},
	})
	if len(r.Errors) > 0 {
		t.Fatal(r.Errors[0].Text)
	}
	for seed := range 2 {
		out, err := exec.Command("node", at, fmt.Sprint(seed)).CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		t.Logf("%s", out)
	}
}
