package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"trenchwright/demo"
	"trenchwright/edge/store"
)

// What the README's examples read.
var readmeFiles = map[string]string{
	"survey.xml": `<?xml version="1.0"?>
<LandXML xmlns="http://www.landxml.org/schema/LandXML-1.2" version="1.2" date="2026-01-01" time="00:00:00">
<Units><Metric linearUnit="meter" areaUnit="squareMeter" volumeUnit="cubicMeter" temperatureUnit="celsius" pressureUnit="HPA"/></Units>
<Alignments><Alignment name="run" length="50" staStart="0"><CoordGeom>
<Line length="30"><Start>0 0</Start><End>0 30</End></Line><Line length="20"><Start>0 30</Start><End>20 30</End></Line>
</CoordGeom></Alignment></Alignments></LandXML>`,
	"natural.xml":  surfaceText("natural", 0),
	"finished.xml": surfaceText("finished", 0.4),
	"survey.csv":   "P,E,N,Z,L\n1,0,0,100,\n2,10,0,100.2,\n3,10,10,100.4,\n4,0,10,100.1,\n5,5,0,100.9,ridge\n6,5,10,101,ridge\n",
	"book.csv":     "point,bs,is,fs,known\nBM1,1.350,,,100.000\nP1,,0.800,,\nBM2,,,1.652,99.700\n",
	"net.csv":      "from,to,rise,length,known\nA,,,,100.000\nA,B,1.500,400,\nB,C,0.498,300,\nC,A,-2.001,500,\n",
	"plan.xml": `<LandXML version="1.2"><Units><Metric linearUnit="meter" areaUnit="squareMeter" volumeUnit="cubicMeter" temperatureUnit="celsius" pressureUnit="HPA"/></Units>
<Alignments><Alignment name="A" length="24" staStart="0"><CoordGeom><Line><Start>0 0</Start><End>0 24</End></Line></CoordGeom></Alignment>
<Alignment name="B" length="12" staStart="0"><CoordGeom><Line><Start>0 24</Start><End>12 24</End></Line></CoordGeom></Alignment></Alignments></LandXML>`,
	"route.geojson": `{"type":"Feature","properties":{"name":"feeder"},"geometry":{"type":"LineString","coordinates":[[8.25,47.5],[8.2505,47.5],[8.2505,47.5003]]}}`,
	"services.csv":  "P,E,N,L\n1,12,-5,main\n2,12,40,main\n3,30,-5,cable\n4,31,40,cable\n",
	"mains.geojson": `{"type":"LineString","coordinates":[[8.2502,47.4998],[8.2503,47.5002]]}`,
	"drains.xml": `<LandXML version="1.2"><Units><Metric linearUnit="meter" areaUnit="squareMeter" volumeUnit="cubicMeter" temperatureUnit="celsius" pressureUnit="HPA" diameterUnit="meter"/></Units>
<PipeNetworks><PipeNetwork name="N" pipeNetType="storm"><Structs><Struct name="a"><Center>-5 9</Center></Struct><Struct name="b"><Center>50 9</Center></Struct></Structs>
<Pipes><Pipe name="p" refStart="a" refEnd="b"><CircPipe diameter="0.3" thickness="0.05"/></Pipe></Pipes></PipeNetwork></PipeNetworks></LandXML>`,
	"yard.csv":   "E,N\n1,1\n8,1\n8,8\n",
	"site.jsonl": `{"id":"01KNGSPYZ8HZ4MVK5JGDJRZSBE","job":"J","device":"gang-1","number":1,"person":"R. Mason","made":"2026-04-06T07:04:33Z","kind":"note","text":"dry"}` + "\n",
	"points.csv": "a,100,200\nb,130.5,200\nc,130.5,250\n",
	"list.csv":   "length,count,hand,angle\n1497,1,,\n1498,1,,\n970,4,,\n",
	"kerb.csv":   "P,E [m],N [m]\na,100,200\nb,130.5,200\n",
}

// surfaceText is a square of ground in LandXML, its middle raised.
func surfaceText(name string, raised float64) string {
	return fmt.Sprintf(`<?xml version="1.0"?>
<LandXML xmlns="http://www.landxml.org/schema/LandXML-1.2" version="1.2" date="2026-01-01" time="00:00:00">
<Units><Metric linearUnit="meter" areaUnit="squareMeter" volumeUnit="cubicMeter" temperatureUnit="celsius" pressureUnit="HPA"/></Units>
<Surfaces><Surface name=%q><Definition surfType="TIN"><Pnts><P id="1">0 0 100</P><P id="2">0 10 100</P><P id="3">10 10 100</P><P id="4">10 0 100</P><P id="5">5 5 %g</P></Pnts>
<Faces><F>1 2 5</F><F>2 3 5</F><F>3 4 5</F><F>4 1 5</F></Faces></Definition></Surface></Surfaces></LandXML>`, name, 100.2+raised)
}

// TestReadmeTellsTheTruth runs every command line of the README, in its order.
func TestReadmeTellsTheTruth(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	writeAll(t, readmeFiles)
	ran := 0
	for _, line := range strings.Split(string(text), "\n") {
		rest, ok := strings.CutPrefix(line, "./trenchwright ")
		if !ok {
			continue
		}
		args := endless(t, shellWords(rest))
		if code, out, complaint := run(args...); code != exitFound {
			t.Errorf("%q ended with %d\n%s%s", args, code, out, complaint)
		}
		ran++
	}
	if ran < 10 {
		t.Errorf("only %d command lines were found", ran)
	}
	if _, err := os.Stat(filepath.Join("yard", "pack", "sheets-A3.pdf")); err != nil {
		t.Error(err)
	}
}

// endless is a command line that ends: serve shows its help instead, and its folder is made; serve.txtar runs it.
func endless(t *testing.T, args []string) []string {
	t.Helper()
	if args[0] != "serve" {
		return args
	}
	dir := "trenchwright-data"
	if i := slices.Index(args, "--data"); i >= 0 {
		dir = args[i+1]
	}
	s, err := store.Open(dir, store.Options{})
	if err == nil {
		err = s.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	return append(args, "-h")
}

func writeAll(t *testing.T, files map[string]string) {
	t.Helper()
	for name, body := range files {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(body), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// TestHelpTellsTheTruth runs every example of help and of each command's -h, each in a folder of its own.
func TestHelpTellsTheTruth(t *testing.T) {
	ran := 0
	for _, args := range [][]string{{"help"}, {"plan", "-h"}, {"leg", "-h"}, {"cut", "-h"}, {"check", "-h"}, {"services", "-h"}, {"new", "-h"}, {"demo", "-h"}, {"depth", "-h"}, {"rod", "-h"}, {"between", "-h"}, {"serve", "-h"}, {"help", "-h"}} {
		_, text, _ := run(args...)
		before := ran
		for _, line := range strings.Split(text, "\n") {
			rest, ok := strings.CutPrefix(strings.TrimLeft(line, " "), "trenchwright ")
			if !ok || !strings.HasPrefix(line, " ") {
				continue
			}
			ran++
			rest, _, _ = strings.Cut(rest, "  ") // behind it stands what it does
			t.Chdir(t.TempDir())
			writeAll(t, readmeFiles)
			if list := listIn(text); list != "" {
				writeAll(t, map[string]string{"list.csv": list})
			}
			words := endless(t, shellWords(rest))
			if words[0] != "new" {
				writeAll(t, map[string]string{"yard/job.yaml": demo.Starter()})
			}
			if code, out, complaint := run(words...); code != exitFound {
				t.Errorf("%q: %q ended with %d\n%s%s", args, words, code, out, complaint)
			}
		}
		if ran == before {
			t.Errorf("%q shows no example", args)
		}
	}
	if ran < 20 {
		t.Errorf("only %d examples were found", ran)
	}
}

// listIn is the list that a help text shows, without its indentation.
func listIn(text string) string {
	_, list, ok := strings.Cut(text, "\n    length,count")
	if !ok {
		return ""
	}
	list, _, _ = strings.Cut(list, "\n\n")
	return "length,count" + strings.ReplaceAll(list, "\n    ", "\n") + "\n"
}

// shellWords parts a command line as a shell does, as far as the README goes: blanks, double quotes, \" and # remarks.
func shellWords(line string) []string {
	var out []string
	word, quoted, any := "", false, false
	for i, escaped := 0, false; i < len(line); i++ {
		switch c := line[i]; {
		case escaped:
			word, escaped = word+line[i:i+1], false
		case c == '\\':
			any, escaped = true, true
		case c == '"':
			quoted, any = !quoted, true
		case c == ' ' && !quoted:
			if any {
				out = append(out, word)
			}
			word, any = "", false
		case c == '#' && !quoted && !any:
			return out
		default:
			word, any = word+line[i:i+1], true
		}
	}
	if any {
		out = append(out, word)
	}
	return out
}
