package server

import (
	"bytes"
	"net/http"
	"testing"

	"trenchwright/job"
	"trenchwright/view/dropped"
)

// A job dropped with its surveys is previewed, then kept, then planned, all through the API.
func TestDroppedJobIsKeptAsPreviewed(t *testing.T) {
	w := newWorld(t)
	files := map[string][]byte{}
	for _, name := range []string{"hand-troughs.yaml", "hand-troughs-existing.csv", "hand-troughs-path.xml", "hand-troughs-water.csv"} {
		files[name] = demoText(t, name)
	}
	kind, body := form(t, files)
	status, b, _ := w.ask(t, "POST", "/api/read?as=job", kind, body)
	p := answer[dropped.Preview](t, b)
	if status != http.StatusOK || p.Job == nil || len(p.Missing)+len(p.Faults) > 0 || len(p.Keep) == 0 {
		t.Fatalf("%d %.900s", status, b)
	}
	if jobs, _ := w.store.Jobs(t.Context()); len(jobs) != 0 {
		t.Error("a preview kept something")
	}
	for _, k := range p.Keep {
		if status, b, _ := w.ask(t, "PUT", "/api/attachments/"+k.SHA256, "application/octet-stream", k.Bytes); status != http.StatusNoContent {
			t.Fatalf("%d %s", status, b)
		}
	}
	draft := append([]byte(`{"id":"R1","parents":[],"author":"a","device":"d","note":"","content":`), p.Job...)
	if status, b, _ := w.ask(t, "POST", "/api/jobs/"+p.JobID+"/revisions", "application/json", append(draft, '}')); status != http.StatusOK {
		t.Fatalf("%d %s", status, b)
	}
	if status, b, _ := w.ask(t, "GET", "/api/revisions/R1/plan", "", nil); status != http.StatusOK || !bytes.Contains(b, []byte(`"levels"`)) {
		t.Errorf("%d %.300s", status, b)
	}
}

// A survey is dropped on a job of the store, named by its id or a revision, or on the job that the page sends with it.
func TestDroppedGroundIsForTheJobThatIsNamed(t *testing.T) {
	w := newWorld(t)
	j := w.put(t, "hand-troughs")
	survey := demoText(t, "hand-troughs-existing.csv")
	for _, named := range []string{"hand-troughs", "R-hand-troughs"} {
		status, b, _ := w.ask(t, "POST", "/api/read?as=ground&name=hand-troughs-existing.csv&job="+named, "text/csv", survey)
		p := answer[dropped.Preview](t, b)
		if status != http.StatusOK || p.Job == nil || len(p.Keep) != 1 || !bytes.Contains(job.CanonicalJSON(j), []byte(p.Keep[0].SHA256)) {
			t.Errorf("%d %.600s", status, b)
		}
	}
	kind, body := form(t, map[string][]byte{"hand-troughs-existing.csv": survey, "job": job.CanonicalJSON(j)})
	if status, b, _ := w.ask(t, "POST", "/api/read?as=ground", kind, body); status != http.StatusOK || answer[dropped.Preview](t, b).Job == nil {
		t.Errorf("%d %.600s", status, b)
	}
	if status, b, _ := w.ask(t, "POST", "/api/read?as=ground&job=nobody", "text/csv", survey); status != http.StatusNotFound || answer[Refusal](t, b).Status != status {
		t.Errorf("%d %.600s", status, b)
	}
}

func TestDroppedRouteMakesAJob(t *testing.T) {
	w := newWorld(t)
	route := []byte("P,E,N,Z\n1,0,0,10\n2,60,0,10\n3,60,20.5,10\n")
	status, b, _ := w.ask(t, "POST", "/api/read?as=route&name=%3Cb%3E%2F..%2Fwest.csv", "text/csv", route)
	if p := answer[dropped.Preview](t, b); status != http.StatusOK || len(p.Faults) != 1 || p.Faults[0].Path != "line" {
		t.Errorf("%d %s", status, b)
	}
	status, b, _ = w.ask(t, "POST", "/api/read?as=route&name=west.csv&line=centreline&unit=m", "text/csv", route)
	if p := answer[dropped.Preview](t, b); status != http.StatusOK || p.JobID != "run-from-west-csv" || p.Extent.East != 60 {
		t.Errorf("%d %s", status, b)
	}
}
