package main

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"trenchwright/edge/store"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/view/jobtext"
)

// savedJob is a job with a record and its photo as the workspace saves it as one file; ends is how many newest states it has.
func savedJob(t *testing.T, ends int) string {
	t.Helper()
	ctx, dir := t.Context(), t.TempDir()
	said := new(bytes.Buffer)
	if code := (program{out: said, err: said}).run([]string{"new", filepath.Join(dir, "yard")}); code != 0 {
		t.Fatalf("%d: %s", code, said)
	}
	text, err := os.ReadFile(filepath.Join(dir, "yard", "job.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	j, faults := jobtext.Read("job.yaml", bytes.NewReader(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	j.ID = "yard"
	s, err := store.Open(filepath.Join(dir, "data"), store.Options{Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for i := range ends {
		d := store.Draft{ID: field.ULID(int64(i+1), [10]byte{}), Content: job.CanonicalJSON(j), Author: "office"}
		if i > 0 {
			j.Name += fmt.Sprint(i)
			d.Content, d.Parents = job.CanonicalJSON(j), []string{field.ULID(1, [10]byte{})}
		}
		if _, err := s.Save(ctx, d); err != nil {
			t.Fatal(err)
		}
	}
	photo := []byte("a picture")
	sum := fmt.Sprintf("%x", sha256.Sum256(photo))
	if err := s.PutAttachment(ctx, sum, bytes.NewReader(photo)); err != nil {
		t.Fatal(err)
	}
	line := fmt.Sprintf(`{"id":%q,"job":%q,"device":"phone","number":1,"person":"R. Mason","made":"2026-11-27T08:00:00Z","kind":"set","from":"A-001","says":{"within":true},"photos":[%q]}`, field.ULID(9, [10]byte{}), j.ID, sum)
	if _, err := s.PutRecords(ctx, j.ID, "phone", []byte(line+"\n")); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(dir, "yard.zip")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := s.Export(ctx, j.ID, f); err != nil {
		t.Fatal(err)
	}
	return name
}

// TestAJobInOneFileKeepsItsNumbers unpacks a saved job: its records carry the numbers that they had where it was saved.
func TestAJobInOneFileKeepsItsNumbers(t *testing.T) {
	o, err := unpacked(t.Context(), savedJob(t, 1), t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	records, faults, err := recordsIn(o.records)
	if err != nil || len(faults) > 0 || len(records) != 1 || records[0].Seq != 1 {
		t.Fatal(records, faults, err)
	}
}

// TestADossierOfAJobInOneFile hands a job over from the one file that the workspace saves: its newest state, its records, its photos.
func TestADossierOfAJobInOneFile(t *testing.T) {
	said, out := new(bytes.Buffer), filepath.Join(t.TempDir(), "handover")
	if code := (program{out: said, err: said}).run([]string{"dossier", savedJob(t, 1), "-o", out, "--verify"}); code != 0 {
		t.Fatalf("ended with %d: %s", code, said)
	}
	if !strings.Contains(said.String(), "1 record, ") || !strings.Contains(said.String(), "all of them are what they were") {
		t.Errorf("said %q", said)
	}
	z, err := zip.OpenReader(filepath.Join(out, "dossier.zip"))
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	photos := 0
	for _, f := range z.File {
		if strings.Contains(f.Name, fmt.Sprintf("%x", sha256.Sum256([]byte("a picture")))) {
			photos++
		}
	}
	if photos != 1 {
		t.Errorf("the photo is %d times in the zip", photos)
	}
}

// TestADossierOfTwoStatesIsRefused takes neither of two newest states for the one that is handed over.
func TestADossierOfTwoStatesIsRefused(t *testing.T) {
	said := new(bytes.Buffer)
	if code := (program{out: said, err: said}).run([]string{"dossier", savedJob(t, 3), "-o", filepath.Join(t.TempDir(), "handover")}); code != exitFaults || !strings.Contains(said.String(), "2 newest states") {
		t.Errorf("ended with %d: %s", code, said)
	}
}
