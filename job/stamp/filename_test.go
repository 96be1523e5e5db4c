package stamp

import (
	"regexp"
	"testing"

	"pgregory.net/rapid"
)

func TestFileNames(t *testing.T) {
	for _, c := range []struct {
		s               Stamp
		job, file, want string
	}{
		{Stamp{Revision: "R7", Number: 7}, "tram-depot", "csv/cutting.csv", "tram-depot_state-7_cutting.csv"},
		{Stamp{Revision: "R7", Number: 7, Unsent: 2}, "tram-depot", "sheets-A3.pdf", "tram-depot_state-7-2-unsent_sheets-A3.pdf"},
		{Stamp{Revision: "R7", Number: 7, Issued: &Issue{}}, "tram-depot", "tables.xlsx", "tram-depot_state-7-issued_tables.xlsx"},
		{Stamp{Revision: "01K0000000000000000GN8CE0X"}, "tram-depot", "job.yaml", "tram-depot_state-N8CE0X_job.yaml"},
		{Stamp{}, "Größe / ../x", "findings.txt", "Gr-e-..-x_job-file_findings.txt"},
		{Stamp{}, "…", "…", "job_job-file_job"},
	} {
		if got := c.s.FileName(c.job, c.file); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	h := History{Revisions: []Revision{{ID: "A"}, {ID: "B", Parents: []string{"A"}}, {ID: "C", Parents: []string{"A"}}, {ID: "D", Parents: []string{"C"}}}}
	if got := h.WholeName("tram depot", []string{"B", "D"}); got != "tram-depot_all-up-to-state-3.zip" {
		t.Error(got)
	}
}

// Whatever a job is called, the name of its file is plain and can stand in any folder.
func TestFileNamesArePlain(t *testing.T) {
	plainly := regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]*$`)
	rapid.Check(t, func(t *rapid.T) {
		s := Stamp{Revision: rapid.String().Draw(t, "revision"), Number: rapid.IntRange(0, 99).Draw(t, "number"), Unsent: rapid.IntRange(0, 3).Draw(t, "unsent")}
		name := s.FileName(rapid.String().Draw(t, "job"), rapid.String().Draw(t, "file"))
		if !plainly.MatchString(name) || len(name) > 200 {
			t.Fatalf("%q", name)
		}
	})
}
