package drawing

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// pictures is where every page is written as SVG, for people to look at: go test ./view/drawing -pictures DIR
var pictures = flag.String("pictures", "", "folder to write every page to as SVG")

// runs are the plans that every kind of sheet is tried on.
func runs() []struct {
	name string
	make func() (planner.Plan, job.Job)
} {
	return []struct {
		name string
		make func() (planner.Plan, job.Job)
	}{{"small", smallRun}, {"yard", yardRun}, {"long", longRun}}
}

// pagesOf are all sheets and all cards.
func pagesOf(p planner.Plan, j job.Job, style Style) []scene.Page {
	return append(Sheets(p, j, style), CutCards(p, j, style)...)
}

// Nothing on any page of any size lies on anything else or off the page.
func TestEveryPageCanBeRead(t *testing.T) {
	for _, run := range runs() {
		for _, size := range []Size{A3, A1, A4} {
			plan, j := run.make()
			for _, p := range Bind(pagesOf(plan, j, StyleFor(j, size)), "revision "+plan.Job.Revision) {
				checkPage(t, run.name+" "+size.String(), p)
			}
		}
	}
}

func checkPage(t *testing.T, run string, p scene.Page) {
	t.Helper()
	overlaps, err := scene.Overlaps(p)
	if err != nil {
		t.Fatalf("%s, %s: %v", run, p.Name, err)
	}
	for _, o := range overlaps {
		t.Errorf("%s, %s: %v", run, p.Name, o)
	}
	strays, err := scene.Outside(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range strays {
		t.Errorf("%s, %s: %v", run, p.Name, s)
	}
	crossed, err := scene.Crossed(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range crossed {
		t.Errorf("%s, %s: %v", run, p.Name, c)
	}
	if *pictures != "" {
		writePicture(t, run+" "+p.Name, p)
	}
}

func writePicture(t *testing.T, name string, p scene.Page) {
	t.Helper()
	f, err := os.Create(filepath.Join(*pictures, name+".svg"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := scene.WriteSVG(f, p); err != nil {
		t.Fatal(err)
	}
}
