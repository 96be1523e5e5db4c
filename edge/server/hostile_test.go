package server

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"trenchwright/edge/store"
	"trenchwright/job"
)

// everything is what a store holds, exported job by job.
func everything(t *testing.T, s *store.Store) string {
	t.Helper()
	jobs, err := s.Jobs(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	last, err := s.Last(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	fmt.Fprintln(&b, last, len(jobs))
	for _, j := range jobs {
		if err := s.Export(t.Context(), j.ID, &b); err != nil {
			t.Fatal(err)
		}
	}
	return b.String()
}

func zipped(t *testing.T, files map[string][]byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, text := range files {
		f, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		f.Write(text)
	}
	z.Close()
	return b.Bytes()
}

// Whatever hostile comes is refused in the one form, logged, and changes nothing.
func TestHostileRequestsAreRefusedAndChangeNothing(t *testing.T) {
	w := newWorld(t)
	w.put(t, "hand-troughs")
	before := everything(t, w.store)
	asJSON, asZip := "application/json", "application/zip"
	bomb := zipped(t, map[string][]byte{"job.json": bytes.Repeat([]byte{0}, 64<<20)})
	save := "/api/jobs/hand-troughs/revisions"
	for _, c := range []struct {
		name, method, at, kind string
		body                   []byte
		status                 int
	}{
		{"dots", "GET", "/api/revisions/../../etc/passwd", "", nil, 400},
		{"written dots", "GET", "/api/revisions/%2e%2e/%2e%2e/etc/passwd", "", nil, 400},
		{"written strokes", "GET", "/api/revisions/..%2f..%2fetc%2fpasswd", "", nil, 400},
		{"strokes within", "GET", "/api/revisions/R%2fhand", "", nil, 404},
		{"two strokes", "GET", "/api//jobs", "", nil, 400},
		{"nought byte", "GET", "/api/revisions/R%00", "", nil, 404},
		{"out of the pack", "GET", "/api/revisions/R-hand-troughs/files/%2e%2e/%2e%2e/trenchwright.db", "", nil, 400},
		{"not in the pack", "GET", "/api/revisions/R-hand-troughs/files/trenchwright.db", "", nil, 404},
		{"no such address", "GET", "/api/secrets", "", nil, 404},
		{"method", "DELETE", "/api/jobs/hand-troughs", "", nil, 405},
		{"method of its own", "SEIZE", "/api/jobs", "", nil, 405},
		{"broken JSON", "POST", save, asJSON, []byte(`{"id":"R2",`), 400},
		{"other JSON", "POST", save, asJSON, []byte(`[]`), 422},
		{"deep JSON", "POST", save, asJSON, []byte(`{"id":"R2","parents":[],"author":"a","device":"d","note":"","content":` + strings.Repeat("[", 20_000) + strings.Repeat("]", 20_000) + `}`), 400},
		{"no text", "POST", save, asJSON, []byte("\xff\xfe\x00"), 400},
		{"unknown kind", "POST", save, "application/x-strange", []byte(`{}`), 415},
		{"markup as id", "POST", save, asJSON, []byte(`{"id":"<script>alert(1)</script>","parents":["R-hand-troughs"],"author":"a","device":"d","note":"","content":{"format":1,"id":"hand-troughs"}}`), 422},
		{"another job", "POST", save, asJSON, []byte(`{"id":"R3","parents":["R-hand-troughs"],"author":"a","device":"d","note":"","content":{"format":1,"id":"other"}}`), 409},
		{"parent from nowhere", "POST", save, asJSON, []byte(`{"id":"R3","parents":["R-nobody"],"author":"a","device":"d","note":"","content":{"format":1,"id":"hand-troughs"}}`), 404},
		{"huge job", "POST", save, asJSON, bytes.Repeat([]byte(" "), mostJob+1), 413},
		{"no zip", "POST", "/api/import", asZip, []byte("PK\x03\x04 no zip"), 422},
		{"zip bomb", "POST", "/api/import", asZip, bomb, 422},
		{"zip slip", "POST", "/api/import", asZip, zipped(t, map[string][]byte{"../../trenchwright.db": []byte("x"), "job.json": []byte("{}")}), 422},
		{"false hash", "PUT", "/api/attachments/" + strings.Repeat("0", 64), "application/octet-stream", []byte("x"), 422},
		{"no hash", "PUT", "/api/attachments/..%2f..%2fx", "application/octet-stream", []byte("x"), 400},
		{"form without end", "POST", "/api/read?as=job", "multipart/form-data; boundary=b", []byte("--b\r\nContent-Disposition: form-data; name=\"file\"; filename=\"a\"\r\n\r\nx"), 400},
		{"kind of file", "POST", "/api/read?as=picture", "text/csv", []byte("x"), 422},
		{"minus", "GET", "/api/changes?after=-1", "", nil, 422},
		{"no number", "GET", "/api/changes?after=x", "", nil, 422},
	} {
		logged := len(w.log.text())
		status, b, head := w.ask(t, c.method, c.at, c.kind, c.body)
		if status != c.status {
			t.Errorf("%s: %d, not %d: %.300s", c.name, status, c.status, b)
			continue
		}
		r := answer[Refusal](t, b)
		if r.Status != status || r.Title == "" || r.Detail == "" || head.Get("Content-Type") != "application/problem+json" || head.Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s: refused as %q: %s", c.name, head.Get("Content-Type"), b)
		}
		if bytes.Contains(b, []byte("<script")) {
			t.Errorf("%s: markup comes back: %s", c.name, b)
		}
		if len(w.log.text()) == logged {
			t.Errorf("%s: not logged", c.name)
		}
	}
	if everything(t, w.store) != before {
		t.Error("something was changed")
	}
}

// Names with markup are kept as they are and sent as data.
func TestNamesWithMarkupStayNames(t *testing.T) {
	w := newWorld(t)
	j := w.put(t, "hand-troughs")
	j.Name, j.Owner = `<img src=x onerror=alert(1)>`, `"><script>alert(1)</script>`
	if _, err := w.store.Save(t.Context(), store.Draft{ID: "R2", Parents: []string{"R-hand-troughs"}, Author: "<b>a</b>", Content: job.CanonicalJSON(j)}); err != nil {
		t.Fatal(err)
	}
	for _, at := range []string{"/api/jobs", "/api/jobs/hand-troughs"} {
		status, b, head := w.ask(t, "GET", at, "", nil)
		if status != http.StatusOK || head.Get("Content-Type") != "application/json" || !strings.Contains(head.Get("Content-Security-Policy"), "default-src 'none'") {
			t.Errorf("%d %v", status, head)
		}
		if at == "/api/jobs" && answer[[]store.Info](t, b)[0].Name != j.Name {
			t.Errorf("%s", b)
		}
	}
}

func TestOtherSitesAreRefused(t *testing.T) {
	w := newWorld(t)
	w.put(t, "hand-troughs")
	before := everything(t, w.store)
	for _, head := range []map[string]string{{"Origin": "https://elsewhere.example"}, {"Sec-Fetch-Site": "cross-site"}, {"Origin": "null"}} {
		r, _ := http.NewRequest("POST", w.URL+"/api/jobs/hand-troughs/revisions", strings.NewReader("{}"))
		for name, value := range head {
			r.Header.Set(name, value)
		}
		a, err := w.Client().Do(r)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := io.ReadAll(a.Body)
		a.Body.Close()
		if a.StatusCode != http.StatusForbidden || answer[Refusal](t, b).Status != http.StatusForbidden {
			t.Errorf("%v: %d %s", head, a.StatusCode, b)
		}
	}
	if everything(t, w.store) != before || !strings.Contains(w.log.text(), "another site") {
		t.Error("something was changed, or nothing was logged")
	}
}

// A body that does not come is given up, and nobody else waits for it meanwhile.
func TestSlowBodyIsGivenUp(t *testing.T) {
	w := newWorld(t)
	c, err := net.Dial("tcp", w.Listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	fmt.Fprint(c, "POST /api/jobs/a/issued HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\nContent-Length: 1000\r\n\r\n{")
	if status, _, _ := w.ask(t, "GET", "/api/jobs", "", nil); status != http.StatusOK {
		t.Error(status)
	}
	c.SetReadDeadline(time.Now().Add(15 * time.Second))
	b := make([]byte, 12)
	if _, err := io.ReadFull(c, b); err != nil || string(b) != "HTTP/1.1 408" {
		t.Errorf("%q %v", b, err)
	}
}

func TestTooManyStreamsAreTurnedAway(t *testing.T) {
	w := newWorld(t)
	a := &api{Options: Options{Store: w.store}}
	a.streams.Store(mostStreams)
	answered := &recorder{head: http.Header{}}
	r, _ := http.NewRequest("GET", "/api/stream", nil)
	a.stream(answered, r)
	if answered.status != http.StatusServiceUnavailable || answer[Refusal](t, answered.body.Bytes()).Status != answered.status || a.streams.Load() != mostStreams {
		t.Errorf("%d %s", answered.status, answered.body.String())
	}
	var open []io.Closer
	for range 50 {
		got, err := w.Client().Get(w.URL + "/api/stream")
		if err != nil {
			t.Fatal(err)
		}
		open = append(open, got.Body)
	}
	if status, _, _ := w.ask(t, "GET", "/api/jobs", "", nil); status != http.StatusOK {
		t.Error(status)
	}
	for _, o := range open {
		o.Close()
	}
}

type recorder struct {
	head   http.Header
	status int
	body   bytes.Buffer
}

func (r *recorder) Header() http.Header         { return r.head }
func (r *recorder) WriteHeader(status int)      { r.status = status }
func (r *recorder) Write(b []byte) (int, error) { return r.body.Write(b) }
