package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"trenchwright/edge/store"
	"trenchwright/job/field"
)

// oneFile is a job that the workspace saved as one file, laid out in a folder of its own as commands read it.
type oneFile struct {
	job, records, photos string // paths
}

// isOneFile tells a job saved as one file from a job as text by how it begins.
func isOneFile(name string) bool {
	f, err := os.Open(name)
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, 4)
	_, err = f.Read(head)
	return err == nil && bytes.Equal(head, []byte("PK\x03\x04"))
}

// unpacked lays a job that was saved as one file out below a folder: its newest state with the files that it names, its records, and
// the photos that those name. A job that two people went on from has two newest states; which of them is meant nobody can say.
func unpacked(ctx context.Context, name, dir string) (oneFile, error) {
	out := oneFile{job: filepath.Join(dir, "job", "job.json"), records: filepath.Join(dir, "records.ndjson"), photos: filepath.Join(dir, "photos")}
	f, err := os.Open(name)
	if err != nil {
		return out, err
	}
	defer f.Close()
	jobs, err := store.Open(filepath.Join(dir, "jobs"), store.Options{})
	if err != nil {
		return out, err
	}
	defer jobs.Close()
	came, err := jobs.Import(ctx, f)
	if err != nil {
		return out, err
	}
	on, err := jobs.Job(ctx, came.Job)
	if err != nil {
		return out, err
	}
	if len(on.Heads) != 1 {
		return out, fmt.Errorf("job %s has %d newest states (%s): open it in the workspace, where they are joined, and save it once more", came.Job, len(on.Heads), strings.Join(on.Heads, ", "))
	}
	content, err := jobs.Content(ctx, on.Heads[0])
	if err != nil {
		return out, err
	}
	if err := put(out.job, content); err != nil {
		return out, err
	}
	var names struct {
		Attachments []struct{ Name, SHA256 string }
	}
	if err := json.Unmarshal(content, &names); err != nil {
		return out, err
	}
	for _, a := range names.Attachments {
		if !filepath.IsLocal(filepath.FromSlash(a.Name)) {
			return out, fmt.Errorf("job %s names a file outside of its own: %s", came.Job, a.Name)
		}
		b, err := jobs.Attachment(ctx, a.SHA256)
		if err == nil {
			err = put(filepath.Join(dir, "job", filepath.FromSlash(a.Name)), b)
		}
		if err != nil {
			return out, err
		}
	}
	return out, out.site(ctx, jobs, came.Job)
}

// site writes the records, in the order in which the server took them and with their numbers there, and the photos that are there.
func (o oneFile) site(ctx context.Context, jobs *store.Store, id string) error {
	all, err := jobs.AllRecords(ctx, id) // the numbers that they have where the job was saved: all of them came, in their order
	if err != nil {
		return err
	}
	records, _ := field.Read(bytes.NewReader(all))
	for _, r := range records {
		for _, sum := range r.Attachments() {
			b, err := jobs.Attachment(ctx, sum)
			var refused *store.Refused
			if errors.As(err, &refused) {
				continue // it is not here: the dossier says so
			}
			if err == nil {
				err = put(filepath.Join(o.photos, filepath.Base(sum)), b)
			}
			if err != nil {
				return err
			}
		}
	}
	if err := os.MkdirAll(o.photos, 0o755); err != nil {
		return err
	}
	return put(o.records, all)
}

func put(path string, b []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return os.WriteFile(path, b, 0o644)
}
