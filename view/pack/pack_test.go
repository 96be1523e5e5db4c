package pack

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/jobtext"
)

func read(t testing.TB, name string) job.Job {
	t.Helper()
	text, err := demo.File(name)
	if err != nil {
		t.Fatal(err)
	}
	j, faults := jobtext.Read(name+".yaml", bytes.NewReader(text))
	if len(faults) > 0 {
		t.Fatalf("%s has faults: %v", name, faults)
	}
	return j
}

// The whole way of the largest demo from its plan to the bytes of every file.
func BenchmarkPack(b *testing.B) {
	j := read(b, "tram-depot")
	p := planner.Make(j)
	for b.Loop() {
		for _, f := range Files(p, j) {
			if _, err := f.Make(); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// A pack holds the files that people are told of, each made, and the same bytes when it is made again.
func TestThePackIsWholeAndTheSame(t *testing.T) {
	for _, name := range demo.Names() {
		j := read(t, name)
		p := planner.Make(j)
		first, again := Files(p, j), Files(planner.Make(j), j)
		if len(first) != len(again) {
			t.Fatalf("%s: %d files, then %d", name, len(first), len(again))
		}
		made := map[string][]byte{}
		for i, f := range first {
			if strings.HasPrefix(f.Name, "png/") && !strings.HasPrefix(f.Name, "png/strip") {
				continue // drawn of the same marks as svg/
			}
			b, err := f.Make()
			if err != nil || len(b) == 0 {
				t.Errorf("%s: %s: %d bytes, %v", name, f.Name, len(b), err)
			}
			if c, err := again[i].Make(); err != nil || again[i].Name != f.Name || !bytes.Equal(b, c) {
				t.Errorf("%s: %s is not the same when made again", name, f.Name)
			}
			if f.About == "" || made[f.Name] != nil {
				t.Errorf("%s: %s says nothing of itself, or is there twice", name, f.Name)
			}
			made[f.Name] = b
		}
		for _, want := range []string{"plan.json", "job.json", "findings.txt", "sheets-A3.pdf", "sheets-A1.pdf", "cut-cards-A4.pdf", "tables.xlsx",
			"csv/cutting.csv", "csv/schedule.csv", "csv/covers.csv", "csv/joints.csv", "csv/zones.csv", "csv/set-out.csv", "csv/bill.csv", "csv/orders.csv", "csv/findings.csv", "csv/proof.csv",
			"svg/strip-1.svg", "png/strip-1.png"} {
			if made[want] == nil {
				t.Errorf("%s: no %s", name, want)
			}
		}
		cards := 0
		for _, f := range first {
			if strings.HasPrefix(f.Name, "svg/card-") {
				cards++
			}
		}
		if want := p.Totals.Cuts + p.Totals.CutCovers; cards != want {
			t.Errorf("%s: %d cards for %d cut pieces", name, cards, want)
		}
		if want, got := fmt.Sprintf("/Count %d", (cards+3)/4), made["cut-cards-A4.pdf"]; !bytes.Contains(got, []byte(want)) {
			t.Errorf("%s: the cards do not stand four to a page: no %q", name, want)
		}
	}
}
