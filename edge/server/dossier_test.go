package server

import (
	"archive/zip"
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"testing"

	"trenchwright/demo"
	"trenchwright/demo/building"
	"trenchwright/edge/store"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/dossier"
)

// built has a job built in play, kept with the job that it ended with and its records. A photo of the first one is here, as bytes that a
// phone would send.
func (w *world) built(t *testing.T, name string) (*building.Result, []byte) {
	t.Helper()
	w.put(t, name)
	d, err := demo.Surveyed(name)
	if err != nil {
		t.Fatal(err)
	}
	p := building.Planned{Job: d.Job, Surfaces: d.Surfaces}
	p.Plan, p.Answers = planner.Ask(p.Job, p.Surfaces...)
	r, err := building.Build(p, building.Options{Seed: 4})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.store.Save(t.Context(), store.Draft{ID: "R-built", Parents: []string{"R-" + name}, Author: "a", Content: job.CanonicalJSON(r.Job)}); err != nil {
		t.Fatal(err)
	}
	photo := append([]byte("\xff\xd8\xff\xe0\x00\x10JFIF\x00"), "no picture behind it"...)
	sum := sha256.Sum256(photo)
	first := slices.MinFunc(r.Records, func(a, b field.Record) int {
		return cmp.Or(cmp.Compare(a.Device, b.Device), cmp.Compare(a.Number, b.Number))
	})
	for i := range r.Records { // as they are written, this one comes first
		if r.Records[i].ID == first.ID {
			r.Records[i].Photos = append(slices.Clone(first.Photos), hex.EncodeToString(sum[:]))
		}
	}
	if err := w.store.PutAttachment(t.Context(), hex.EncodeToString(sum[:]), bytes.NewReader(photo)); err != nil {
		t.Fatal(err)
	}
	var lines bytes.Buffer
	if err := field.Write(&lines, r.Records); err != nil {
		t.Fatal(err)
	}
	if status, b, _ := w.ask(t, http.MethodPost, "/api/jobs/"+r.Job.ID+"/records", ndjson, lines.Bytes()); status != http.StatusOK {
		t.Fatal(status, string(b))
	}
	return r, photo
}

// What the server hands over proves itself, has every record and the photos that are here, and is of the part that was asked for.
func TestDossierIsHandedOver(t *testing.T) {
	w := newWorld(t)
	r, photo := w.built(t, "hand-troughs")
	leg := r.Plan.Legs[0].Name
	for at, part := range map[string]struct {
		name    string
		records int
	}{
		"":                          {"hand-troughs_state-2_dossier.zip", len(r.Records)},
		"?leg=" + leg:               {"hand-troughs_state-2_dossier-leg-" + leg + ".zip", len(r.Records)},
		"?from=A-002&to=A-004":      {"hand-troughs_state-2_dossier-A-002-to-A-004.zip", len(r.Records)},
		"?until=100":                {"hand-troughs_state-2_dossier.zip", 100},
		"?now=2099-01-01T00:00:00Z": {"hand-troughs_state-2_dossier.zip", len(r.Records)},
	} {
		status, b, head := w.ask(t, http.MethodGet, "/api/revisions/R-built/dossier"+at, "", nil)
		if status != http.StatusOK || head.Get("Content-Type") != "application/zip" {
			t.Fatalf("%s: %d %s", at, status, b)
		}
		if got := head.Get("Content-Disposition"); !strings.Contains(got, part.name) {
			t.Errorf("%s: %s, not %s", at, got, part.name)
		}
		if head.Get("Records") != strconv.Itoa(part.records) || head.Get("Gaps") == "" {
			t.Errorf("%s: %s records, %s gaps", at, head.Get("Records"), head.Get("Gaps"))
		}
		if n, err := strconv.Atoi(head.Get("Photos-Missing")); err != nil || n == 0 {
			t.Errorf("%s: %d photos missing, %v", at, n, err)
		}
		proof, err := dossier.VerifyZip(bytes.NewReader(b), int64(len(b)))
		if err != nil || !proof.Proven() {
			t.Errorf("%s: %+v, %v", at, proof, err)
		}
		z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
		if err != nil {
			t.Fatal(err)
		}
		sum := sha256.Sum256(photo)
		if got := inZip(t, z, "attachments/"+hex.EncodeToString(sum[:])+".jpg"); !bytes.Equal(got, photo) {
			t.Errorf("%s: the photo came as %q", at, got)
		}
		if list, faults := field.Read(bytes.NewReader(inZip(t, z, "records.ndjson"))); len(list) != part.records || len(faults) > 0 {
			t.Errorf("%s: %d records in it, %v", at, len(list), faults)
		}
		if !json.Valid(inZip(t, z, "job.json")) || len(inZip(t, z, "dossier.pdf")) < 10_000 {
			t.Errorf("%s: no job, or no document", at)
		}
	}
}

func inZip(t *testing.T, z *zip.Reader, name string) []byte {
	t.Helper()
	f, err := z.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	b, err := io.ReadAll(f)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// What cannot be handed over is refused with what there is instead, before anything is made.
func TestDossierIsRefusedWithReasons(t *testing.T) {
	w := newWorld(t)
	w.put(t, "hand-troughs")
	for at, want := range map[string]struct {
		status int
		says   string
	}{
		"R-hand-troughs/dossier?leg=nowhere":           {http.StatusUnprocessableEntity, "there is no leg nowhere"},
		"R-hand-troughs/dossier?from=A-001&to=B-001":   {http.StatusUnprocessableEntity, "a stretch lies on one leg"},
		"R-hand-troughs/dossier?from=A-001":            {http.StatusUnprocessableEntity, "no place"},
		"R-hand-troughs/dossier?until=tomorrow":        {http.StatusUnprocessableEntity, "neither a date nor the number"},
		"R-hand-troughs/dossier?until=7":               {http.StatusUnprocessableEntity, "no record"},
		"R-hand-troughs/dossier?now=later":             {http.StatusUnprocessableEntity, "no moment"},
		"R-none/dossier":                               {http.StatusNotFound, "no revision"},
		"R-hand-troughs/dossier?leg=A&leg=B&from=A-01": {http.StatusUnprocessableEntity, "not both"},
	} {
		if status, b, _ := w.ask(t, http.MethodGet, "/api/revisions/"+at, "", nil); status != want.status || !strings.Contains(string(b), want.says) {
			t.Errorf("%s: %d %s", at, status, b)
		}
	}
	status, b, head := w.ask(t, http.MethodGet, "/api/revisions/R-hand-troughs/dossier", "", nil)
	if proof, err := dossier.VerifyZip(bytes.NewReader(b), int64(len(b))); status != http.StatusOK || err != nil || !proof.Proven() || head.Get("Records") != "0" {
		t.Errorf("without a record: %d, %v, %+v", status, err, proof)
	}
}
