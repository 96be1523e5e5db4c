// Package trenchwright holds only tests of the whole house: who may import whom, and that ARCHITECTURE.md shows it.
package trenchwright

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "redraw the picture in ARCHITECTURE.md")

// policy is who lives in which storey. A package imports from storeys below its own, and inside its storey only what
// stands behind its arrow. A folder stands for everything below it. Every rule says why.
const policy = `
7 cmd/trenchwright        commands and wiring; computes nothing
7 cmd/corewasm            the planning core for browsers
7 cmd/packwasm            the files of a pack for browsers
7 e2e                     the program and its workspace, used in two browsers
7 bench                   → bench | speed, with peers side by side
6 edge/server             → edge/store | the workspace and its jobs over HTTP
6 web                     the workspace for browsers, packed into the program
6 edge/authority          certificates: given, or signed by a site authority of this machine's own
6 edge/folder             files on disk: packs put in place at once
6 edge/store              jobs, their revisions and what was issued, in one database
6 demo/building           → demo | a job built from a seed, record by record, as gangs would
6 demo/longrun            long routes made up for benchmarks
6 demo                    invented jobs to start from
6 tools/browser           browsers driven by tests, through W3C WebDriver
6 tools/module            commands for browsers, run by node in tests
6 tools/seed              the numbers that tests begin with which make things up
6 tools/published         published values and data from outside, handed to tests
5 view/pack               → view/pack view/papers view/jobtext view/drawing view/schedule view/scene view/table view/interchange view/landxml view/geojson | all files of one plan's pack
5 view/dossier            → view/scene view/table view/interchange view/landxml view/geojson | what is handed over of a run, from its records
5 view/dropped            → view/jobtext view/groundin view/routein view/servicein | what a dropped file holds, said before it is kept
5 view/screen              → view/schedule view/table view/onspot view/recorded view/papers | a plan as a screen draws it
5 view/onspot             → view/recorded | moments that stop a job, answered where people stand
5 view/drawing            → view/schedule view/scene view/table | a plan as sheets and cards
5 view/recorded           records of the site in words
5 view/papers             → view/scene view/recorded | the papers of a site, each under its stage
5 view/schedule           → view/table | the tables of a plan
5 view/interchange        → view/landxml view/geojson | a plan for other programs
5 view/jobtext            a job as YAML and JSON text
5 view/geojson            features in WGS 84 as GeoJSON, on streams
5 view/landxml            alignments, surfaces and points in LandXML, on streams
5 view/groundin           → view/landxml view/geojson view/points | surfaces of the ground from files that exist
5 view/routein            → view/landxml view/geojson view/points | the route of a job from a file that exists
5 view/servicein          → view/landxml view/geojson view/points | buried services that cross a run, from files that exist
5 view/levelbook          level books and networks of levels as text, on streams
5 view/points             lists of points as text, on streams
5 view/scene              → view/scene | a drawing before paper, and its bytes
5 view/table              → view/table | tables as CSV and workbook, and the cutting list read
4 job/stamp               which state of a job a paper is of, in words
4 job/field               → job | the record of the site: facts only added to, and what they come to
4 job/planner             → job job/field | the order in which the solvers are asked
4 job/edit                → job job/planner | changes of a job as people type and drag them
4 job/merge               → job | two states of a job joined over the one they came from
4 job                     what people declare
3 solve/layout            which unit and cover goes where along a leg, with proof
3 solve/cutstock          which stock is cut into which pieces, with proof
3 solve/check             the frame of a check: figures, working, rule, verdict
3 solve/check/flotation   → solve/check | when an empty unit floats
3 solve/check/lifting     → solve/check | a lift held against what was entered of it
3 solve/check/load        → solve/check | what comes onto a run held against what was entered that it bears
3 solve/check/cable       → solve/check | cables held against their trench and against what their maker allows
3 solve/check/compaction  → solve/check | fill held against a published method, tests against what is asked for
3 solve/check/excavation  the dig held against the excavation rules of its jurisdiction
3 solve/earthwork         the dig: its section, volumes, what goes back and what leaves
3 solve/programme         → solve/programme | time against distance for every gang, with proof
3 solve/profile           the level of every joint, with proof
3 solve/levelling         level books and level networks reduced and adjusted
3 solve/drift             how far joints wander, the gap to hold, the closing cut
3 solve/delivery          bundles, loads in laying order with a bound, laydown, what can be laid of a short delivery
2 place/ground            → place/ground place/ground/local place/route | triangulated surfaces, their levels, sections and volumes
2 place/ground/local      → place/route | a grid of a job's own for points in WGS 84
2 place/route             the run network and its chainage
1 base/finding            → base/measure base/sorting base/wording | how the program speaks
1 base/wording            → base/measure | words and lengths of one job's sentences
1 base/intake             streams held within limits
1 base/sorting            one sort for all types
1 base/measure            exact quantities
`

// pure storeys touch no file, network, clock, environment or chance; what they may not import, and why.
var impure = map[string]string{
	"os": "files and environment", "os/exec": "other programs", "net": "the network", "net/http": "the network",
	"math/rand": "chance", "math/rand/v2": "chance", "crypto/rand": "chance", "path/filepath": "files of one system", "log": "output of its own", "syscall": "the machine",
}

const highestPure = 5

type room struct {
	path   string
	storey int
	beside []string
	why    string
}

type listed struct {
	ImportPath, Dir  string
	Imports, GoFiles []string
}

func rooms(t *testing.T) []room {
	var out []room
	for _, line := range strings.Split(strings.TrimSpace(policy), "\n") {
		f := strings.Fields(line)
		r := room{path: f[1], why: strings.Join(f[2:], " ")}
		fmt.Sscan(f[0], &r.storey)
		if f[2] == "→" {
			arrows, why, ok := strings.Cut(strings.Join(f[3:], " "), " | ")
			if !ok {
				t.Fatalf("policy: %q says no why", line)
			}
			r.beside, r.why = strings.Fields(arrows), why
		}
		out = append(out, r)
	}
	return out
}

// find is the room of a package: the longest path that it lies in.
func find(rs []room, pkg string) (room, bool) {
	best, ok := room{}, false
	for _, r := range rs {
		if (pkg == r.path || strings.HasPrefix(pkg, r.path+"/")) && len(r.path) > len(best.path) {
			best, ok = r, true
		}
	}
	return best, ok
}

func packages(t *testing.T) []listed {
	out, err := exec.Command("go", "list", "-json=ImportPath,Dir,Imports,GoFiles", "./...").Output()
	if err != nil {
		t.Fatal(err)
	}
	var all []listed
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		if err := d.Decode(&p); err == io.EOF {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		if len(p.GoFiles) > 0 {
			all = append(all, p)
		}
	}
}

const module = "trenchwright/"

func TestEveryPackageKeepsItsStorey(t *testing.T) {
	rs := rooms(t)
	seen := map[string]bool{}
	for _, p := range packages(t) {
		name := strings.TrimPrefix(p.ImportPath, module)
		r, ok := find(rs, name)
		if !ok {
			t.Errorf("%s stands in no storey: give it a line in the policy", name)
			continue
		}
		seen[r.path] = true
		for _, i := range p.Imports {
			if why, bad := impure[i]; bad && r.storey <= highestPure {
				t.Errorf("%s (storey %d) imports %s: %s has no place below storey %d", name, r.storey, i, why, highestPure+1)
			}
			to, ours := strings.CutPrefix(i, module)
			if !ours {
				continue
			}
			other, ok := find(rs, to)
			switch {
			case !ok:
				t.Errorf("%s imports %s, which stands in no storey", name, to)
			case other.storey < r.storey:
			case other.storey == r.storey && slices.Contains(r.beside, other.path):
			default:
				t.Errorf("%s (storey %d) imports %s (storey %d); its line allows %v beside it", name, r.storey, to, other.storey, r.beside)
			}
		}
	}
	for _, r := range rs {
		if !seen[r.path] {
			t.Errorf("policy: nothing stands in %s", r.path)
		}
	}
}

const (
	pictureBegins = "<!-- picture: drawn by the import test, go test . -update -->\n"
	pictureEnds   = "<!-- end of picture -->"
)

func TestThePictureIsFresh(t *testing.T) {
	want := picture(rooms(t))
	b, err := os.ReadFile("ARCHITECTURE.md")
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(b), pictureBegins)
	old, after, ok2 := strings.Cut(rest, pictureEnds)
	if !ok || !ok2 {
		t.Fatal("ARCHITECTURE.md has no place for the picture")
	}
	if old == want {
		return
	}
	if !*update {
		t.Fatal("the picture in ARCHITECTURE.md is stale: go test . -update")
	}
	if err := os.WriteFile("ARCHITECTURE.md", []byte(before+pictureBegins+want+pictureEnds+after), 0o644); err != nil {
		t.Fatal(err)
	}
}

// picture draws the storeys from the roof down: what each package is there for, and which of its own storey it imports.
func picture(rs []room) string {
	var b strings.Builder
	b.WriteString("```\n")
	for i, r := range rs {
		if i > 0 && r.storey != rs[i-1].storey {
			fmt.Fprintf(&b, "%s\n", strings.Repeat("─", 100))
		}
		beside := slices.DeleteFunc(slices.Clone(r.beside), func(p string) bool { return p == r.path })
		line := fmt.Sprintf("%d  %-23s %s", r.storey, r.path, r.why)
		if len(beside) > 0 {
			line += " → " + strings.Join(beside, ", ")
		}
		fmt.Fprintln(&b, line)
	}
	b.WriteString("```\n")
	return b.String()
}
