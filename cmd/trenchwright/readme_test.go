package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What the README's examples read.
var readmeFiles = map[string]string{
	"survey.xml": `<?xml version="1.0"?>
<LandXML xmlns="http://www.landxml.org/schema/LandXML-1.2" version="1.2" date="2026-01-01" time="00:00:00">
<Units><Metric linearUnit="meter" areaUnit="squareMeter" volumeUnit="cubicMeter" temperatureUnit="celsius" pressureUnit="HPA"/></Units>
<Alignments><Alignment name="run" length="50" staStart="0"><CoordGeom>
<Line length="30"><Start>0 0</Start><End>0 30</End></Line><Line length="20"><Start>0 30</Start><End>20 30</End></Line>
</CoordGeom></Alignment></Alignments></LandXML>`,
	"points.csv": "a,100,200\nb,130.5,200\nc,130.5,250\n",
	"list.csv":   "length,count\n1497,1\n1498,1\n970,4\n",
}

// TestReadmeTellsTheTruth runs every command line of the README, in its order.
func TestReadmeTellsTheTruth(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	for name, body := range readmeFiles {
		if err := os.WriteFile(name, []byte(body), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	ran := 0
	for _, line := range strings.Split(string(text), "\n") {
		rest, ok := strings.CutPrefix(line, "./trenchwright ")
		if !ok {
			continue
		}
		var out, complaint bytes.Buffer
		args := shellWords(rest)
		if code := (program{out: &out, err: &complaint}).run(args); code != exitFound {
			t.Errorf("%q ended with %d\n%s%s", args, code, out.Bytes(), complaint.Bytes())
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

// shellWords parts a command line as a shell does, as far as the README goes: blanks, double quotes, \" and # remarks.
func shellWords(line string) []string {
	var out []string
	word, quoted, any := "", false, false
	for i := 0; i < len(line); i++ {
		switch c := line[i]; {
		case c == '\\' && i+1 < len(line):
			i++
			word, any = word+string(line[i]), true
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
			word, any = word+string(c), true
		}
	}
	if any {
		out = append(out, word)
	}
	return out
}
