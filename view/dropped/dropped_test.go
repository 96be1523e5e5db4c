package dropped

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/groundin"
	"trenchwright/view/jobtext"
)

func demoFile(t testing.TB, name string) File {
	t.Helper()
	f, err := demo.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	b, err := io.ReadAll(f)
	if err != nil {
		t.Fatal(err)
	}
	return File{name, b}
}

func demoJob(t testing.TB, name string) job.Job {
	t.Helper()
	j, faults := jobtext.Read(name+".yaml", bytes.NewReader(demoFile(t, name+".yaml").Bytes))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return j
}

func read(t testing.TB, d Drop) Preview {
	t.Helper()
	p, err := Read(d)
	if err != nil {
		t.Fatal(err)
	}
	if (len(p.Faults) > 0) != (p.Job == nil) {
		t.Fatalf("faults %v with job %v", p.Faults, p.Job != nil)
	}
	if p.Job != nil { // whatever is to be kept can be kept: it reads back as itself, and its files have their hashes
		again, faults := job.FromJSON(p.Job)
		if len(faults) > 0 || !bytes.Equal(bytes.TrimSpace(job.CanonicalJSON(again)), p.Job) {
			t.Fatalf("the job does not read back: %v", faults)
		}
		for _, k := range p.Keep {
			if k.SHA256 != hashOf(k.Bytes) || !slices.ContainsFunc(again.Attachments, func(a job.Attachment) bool { return a.Name == k.Name && a.SHA256 == k.SHA256 }) {
				t.Fatalf("%s is kept and not named", k.Name)
			}
		}
	}
	return p
}

func jobIn(t testing.TB, p Preview) *job.Job {
	t.Helper()
	j, faults := job.FromJSON(p.Job)
	if len(faults) > 0 {
		t.Fatal(faults, p.Faults)
	}
	return &j
}

func said(p Preview, label string) string {
	for _, s := range p.Understood {
		if s.Label == label {
			return s.Text
		}
	}
	return ""
}

// surveys are the files of a demo job, without the job.
func surveys(t testing.TB, j job.Job) []File {
	var out []File
	for _, s := range j.Ground.Surfaces {
		out = append(out, demoFile(t, s.File))
	}
	return out
}

// Dropped with its surveys, each demo job becomes what the command plans: the same job, the same clips.
func TestJobWithItsSurveysIsWhatThePlanCommandPlans(t *testing.T) {
	for _, name := range demo.Names() {
		j := demoJob(t, name)
		want, found := groundin.Survey(j, demo.Open)
		if found.Any(finding.Fault) {
			t.Fatal(found)
		}
		p := read(t, Drop{As: AsJob, Files: append(surveys(t, j), demoFile(t, name+".yaml"))})
		if len(p.Faults)+len(p.Missing) > 0 {
			t.Fatal(p.Faults, p.Missing)
		}
		if job.Hash(*jobIn(t, p)) != job.Hash(want.Job) {
			t.Errorf("%s: another job", name)
		}
		if len(p.Keep) != len(want.Clips) || p.Extent == nil || p.Extent.East <= p.Extent.West {
			t.Errorf("%s: %d clips, extent %v", name, len(p.Keep), p.Extent)
		}
		if said(p, "coordinates") == "" || said(p, "run") == "" {
			t.Errorf("%s: understood %v", name, p.Understood)
		}
	}
}

func TestMissingSurveysAreNamedAndComeLater(t *testing.T) {
	j := demoJob(t, "battery-yard")
	all := surveys(t, j)
	p := read(t, Drop{As: AsJob, Files: []File{demoFile(t, "battery-yard.yaml"), all[0]}})
	if want := len(all) - 1; len(p.Missing) != want || len(p.Remarks) == 0 || p.Job == nil {
		t.Fatalf("missing %v, remarks %v", p.Missing, p.Remarks)
	}
	later := read(t, Drop{As: AsGround, Files: all, Job: jobIn(t, p)})
	whole, _ := groundin.Survey(j, demo.Open)
	if len(later.Missing) > 0 || job.Hash(*jobIn(t, later)) != job.Hash(whole.Job) {
		t.Errorf("the job with its ground dropped later is another one; missing %v", later.Missing)
	}
	one := read(t, Drop{As: AsGround, Files: all[:1], Job: jobIn(t, p)})
	if len(one.Missing) != len(all)-1 || len(one.Keep) != 1 {
		t.Errorf("of one survey: missing %v, kept %d", one.Missing, len(one.Keep))
	}
}

func TestFaultsOfAJobHaveLineAndColumn(t *testing.T) {
	p := read(t, Drop{As: AsJob, Files: []File{{"bad.yaml", []byte("format: 1\nname: a\nsupplies: []\nroute: {walk: [24.3 furlong]}\n")}}})
	if len(p.Faults) == 0 || p.Faults[0].Line == 0 || p.Faults[0].Column == 0 || p.Faults[0].Shown == "" {
		t.Errorf("%+v", p.Faults)
	}
}

func TestRouteTakesThePlaceOfTheOldOne(t *testing.T) {
	j, _ := jobtext.Read("starter.yaml", strings.NewReader(demo.Starter()))
	file := File{"points.csv", []byte("P,E,N,Z\n1,0,0,10\n2,60,0,10\n3,60,20.5,10\n")}
	asked := read(t, Drop{As: AsRoute, Files: []File{file}, Job: &j})
	if len(asked.Faults) != 1 || asked.Faults[0].Path != "line" || len(asked.Asked) == 0 || len(asked.Asked[0].Choices) != 5 {
		t.Errorf("which line was drawn has to be asked: %+v", asked.Faults)
	}
	p := read(t, Drop{As: AsRoute, Files: []File{file}, Job: &j, Said: map[string]string{"line": "centreline", "unit": "m"}})
	if len(p.Faults) > 0 || len(jobIn(t, p).Route.Legs) != 2 || *p.Extent != (Extent{0, 0, 60, 20.5, "m"}) || p.JobID != "run-from-points-csv" {
		t.Errorf("%+v %+v", p.Faults, p.Extent)
	}
	long := demoJob(t, "tram-depot")
	surveyed, _ := groundin.Survey(long, demo.Open)
	q := read(t, Drop{As: AsRoute, Files: []File{file}, Job: &surveyed.Job, Said: map[string]string{"line": "centreline", "unit": "m"}})
	if len(q.Faults) < 5 || !strings.Contains(q.Faults[0].Text, "does not exist") { // levels and stretches of the demo name legs that are gone
		t.Errorf("%+v", q.Faults)
	}
}

func TestServicesLieOnTheLegsThatTheyCross(t *testing.T) {
	j, _ := jobtext.Read("starter.yaml", strings.NewReader(demo.Starter()))
	routed := read(t, Drop{As: AsRoute, Files: []File{{"points.csv", []byte("P,E,N\n1,0,0\n2,60,0\n")}}, Job: &j, Said: map[string]string{"line": "centreline", "unit": "m"}})
	if routed.Job == nil {
		t.Fatal(routed.Faults)
	}
	file := File{"services.csv", []byte("P,E,N,L\n1,20,-5,main\n2,20,5,main\n3,40,10,duct\n4,40,20,duct\n")}
	none := read(t, Drop{As: AsServices, Files: []File{file}, Job: jobIn(t, routed)})
	if len(none.Faults) != 1 || none.Faults[0].Path != "clear" {
		t.Errorf("%+v", none.Faults)
	}
	say := map[string]string{"clear": "300 mm", "width": "150mm", "unit": "m"}
	p := read(t, Drop{As: AsServices, Files: []File{file}, Job: jobIn(t, routed), Said: say})
	if len(p.Faults) > 0 || len(p.Lines) != 1 || p.Lines[0].Name != "main" || len(jobIn(t, p).Route.Legs[0].Services) != 1 {
		t.Fatalf("%+v %+v", p.Faults, p.Lines)
	}
	again := read(t, Drop{As: AsServices, Files: []File{file}, Job: jobIn(t, p), Said: say})
	if job.Hash(*jobIn(t, again)) != job.Hash(*jobIn(t, p)) {
		t.Error("the same file dropped twice puts the same service there twice")
	}
}

func TestWhatCannotBeSaidIsRefused(t *testing.T) {
	j := demoJob(t, "hand-troughs")
	p := read(t, Drop{As: AsGround, Files: []File{{"a.csv", nil}}, Job: &j, Said: map[string]string{"role": "sky", "colour": "red"}})
	if len(p.Faults) != 2 || p.Faults[0].Path != "colour" || p.Faults[1].Path != "role" {
		t.Errorf("%+v", p.Faults)
	}
	for _, d := range []Drop{{As: "picture", Files: []File{{}}}, {As: AsJob}, {As: AsGround, Files: []File{{}}}} {
		if _, err := Read(d); err == nil {
			t.Errorf("%+v was read", d)
		}
	}
}

func TestIdsThatAreTaken(t *testing.T) {
	file, taken := []File{demoFile(t, "hand-troughs.yaml")}, []string{"hand-troughs", "run-from-a-csv"}
	if p := read(t, Drop{As: AsJob, Files: file, Taken: taken}); p.Remarks[len(p.Remarks)-1].Path != "id" {
		t.Errorf("%+v", p.Remarks)
	}
	if p := read(t, Drop{As: AsJob, Files: file, Taken: taken, Said: map[string]string{"id": "other"}}); p.JobID != "other" {
		t.Error(p.JobID)
	}
	if p := read(t, Drop{As: AsJob, Files: file, Said: map[string]string{"id": "../x"}}); p.Job != nil || len(p.Faults) != 1 {
		t.Errorf("%+v", p.Faults)
	}
	j, _ := jobtext.Read("starter.yaml", strings.NewReader(demo.Starter()))
	p := read(t, Drop{As: AsRoute, Files: []File{{"a.csv", []byte("P,E,N\n1,0,0\n2,60,0\n")}}, Job: &j, Taken: taken, Said: map[string]string{"line": "centreline", "unit": "m"}})
	if p.JobID != "run-from-a-csv-2" {
		t.Error(p.JobID)
	}
}

func TestAskIsReadForAPage(t *testing.T) {
	question, _ := json.Marshal(Drop{As: AsJob, Files: []File{demoFile(t, "hand-troughs.yaml")}})
	b, err := Ask(question, func(string) ([]byte, error) { return nil, os.ErrNotExist })
	var p Preview
	if err != nil || json.Unmarshal(b, &p) != nil || p.JobID != "hand-troughs" || len(p.Missing) == 0 {
		t.Errorf("%v %s", err, b)
	}
	if _, err := Ask([]byte("{"), nil); err == nil {
		t.Error("broken JSON was read")
	}
}

func FuzzRead(f *testing.F) {
	j := demoJob(f, "hand-troughs")
	for _, as := range []string{AsJob, AsRoute, AsGround, AsServices} {
		f.Add(as, "a.csv", []byte("P,E,N,Z\n1,0,0,10\n2,60,0,10\n"), "unit", "m")
		f.Add(as, "<b>.yaml", demoFile(f, "hand-troughs.yaml").Bytes, "line", "centreline")
	}
	f.Fuzz(func(t *testing.T, as, name string, b []byte, field, say string) {
		if len(b) > 1<<14 {
			return
		}
		d := Drop{As: as, Files: []File{{name, b}}, Job: &j, Said: map[string]string{"line": "centreline", "clear": "300 mm", "width": "100 mm", "role": "existing", field: say}}
		for name := range d.Said {
			if !slices.ContainsFunc(Fields(as), func(f Field) bool { return f.Name == name }) {
				delete(d.Said, name)
			}
		}
		if p, err := Read(d); err == nil && p.Job != nil && planner.Look(*jobIn(t, p)).Any(finding.Fault) {
			t.Errorf("a job with faults would be kept")
		}
	})
}
