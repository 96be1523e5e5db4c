// Package demo holds three invented jobs to start from and to test with. Every figure in them was made up.
//
//	tram-depot.yaml    metric: a traction feeder trench of some 400 m with bends, a tee, a curve and crossings
//	battery-yard.yaml  feet and inches: a storage yard with a cast cross, cut into a slope with rock in it
//	hand-troughs.yaml  short: hand-laid 1 m troughs that follow a path, above water
//	*.csv, *.xml       surveys of each: the ground as it is and as it will be, rock and water; points with lines, and LandXML
//	longrun/           long routes for benchmarks, made up from a seed
package demo

import (
	"embed"
	"fmt"
	"io"
	"slices"
	"strings"
)

//go:embed tram-depot.yaml battery-yard.yaml hand-troughs.yaml *.csv *.xml
var files embed.FS

// Names are the jobs' names in the order in which a newcomer should look at them.
func Names() []string { return []string{"tram-depot", "battery-yard", "hand-troughs"} }

// File is the text of one job, as YAML.
func File(name string) ([]byte, error) {
	if !slices.Contains(Names(), name) {
		return nil, fmt.Errorf("no demo job is called %q; there are %s", name, strings.Join(Names(), ", "))
	}
	return files.ReadFile(name + ".yaml")
}

// Open opens a file that lies beside the jobs.
func Open(name string) (io.ReadCloser, error) { return files.Open(name) }
