package main

import (
	"fmt"
	"math/rand/v2"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/evanw/esbuild/pkg/api"
)

// A day's work comes whole through codes that are drawn, missed, shuffled and read again, and nothing damaged comes through.
func TestRecordsComeWholeThroughCodes(t *testing.T) { inNode(t, "bycodes", 0, 1) }

// Codes that are cut, doubled, changed, out of order, of another day or another job let nothing through that was not sent.
func TestOddCodesLetNothingThrough(t *testing.T) { inNode(t, "oddcodes", 0, rand.Uint32()) }

// inNode runs a script of testdata with seeds; it says what was wrong, with its seed.
func inNode(t *testing.T, script string, seeds ...uint32) {
	if err := packages(".."); err != nil {
		t.Fatal(err)
	}
	at := filepath.Join(t.TempDir(), script+".mjs")
	web, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	r := api.Build(api.BuildOptions{
		EntryPoints: []string{"testdata/" + script + ".ts"}, Bundle: true, Write: true, Outfile: at, Format: api.FormatESModule, Target: api.ES2022,
		Platform: api.PlatformNode, LogLevel: api.LogLevelWarning, NodePaths: []string{filepath.Join(web, "node_modules")},
	})
	if len(r.Errors) > 0 {
		t.Fatal(r.Errors[0].Text)
	}
	for _, seed := range seeds {
		out, err := exec.Command("node", at, fmt.Sprint(seed)).CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		t.Logf("%s", out)
	}
}
