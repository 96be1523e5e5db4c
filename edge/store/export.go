package store

import (
	"archive/zip"
	"context"
	"database/sql"
	"encoding/json"
	"io"
	"time"
)

// Export writes a job with all its revisions, the attachments and photos that are here, what was issued and what was recorded on
// site as one zip file. The same job gives the same bytes. Nothing is written to w before all of it is ready, and nobody waits for
// a slow w.
func (s *Store) Export(ctx context.Context, job string, w io.Writer) error {
	f, err := s.spool()
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = look(ctx, s, func(tx *sql.Tx) (struct{}, error) {
		m, err := manifestOf(ctx, tx, job)
		if err != nil {
			return struct{}{}, err
		}
		return struct{}{}, export(ctx, tx, m, f)
	})
	if err != nil {
		return err
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return err
	}
	_, err = io.Copy(w, f)
	return err
}

func manifestOf(ctx context.Context, tx reader, job string) (manifest, error) {
	d, err := detail(ctx, tx, job)
	if err != nil {
		return manifest{}, err
	}
	m := manifest{Format: manifestFormat, Job: job, Revisions: d.Revisions, Issued: d.Issued}
	for i := range m.Revisions {
		m.Revisions[i].Seq = int64(i + 1) // the order within the job; over all jobs it is the store's own
	}
	m.Attachments, err = rows(ctx, tx, func(scan func(...any) error) (a attachedFile, err error) { return a, scan(&a.SHA256, &a.Size) },
		`SELECT sha256, size FROM attachments WHERE sha256 IN (SELECT named.sha256 FROM revisions JOIN named USING (hash) WHERE job = ?1)
			OR sha256 IN (SELECT sha256 FROM pictured WHERE job = ?1) ORDER BY sha256`, job)
	if err != nil {
		return m, err
	}
	err = recordsIn(ctx, tx, job, func(n int, b []byte) error {
		m.Format = formatOfSite
		m.Records = append(m.Records, recordsFile{hashOf(b), n})
		return nil
	})
	return m, err
}

// recordsIn gives the records of a job as files, as they came. All of them are there in their order and their numbers have no gap, so
// that each line's place says its number.
func recordsIn(ctx context.Context, tx reader, job string, each func(n int, b []byte) error) error {
	for r := (Records{}); ; {
		var err error
		if r, err = records(ctx, tx, job, r.Last, mostInFile); err != nil || len(r.Lines) == 0 {
			return err
		}
		if err := each(len(r.Lines), r.Text(false)); err != nil {
			return err
		}
	}
}

const mostInFile = 10_000 // records

func export(ctx context.Context, tx reader, m manifest, w io.Writer) error {
	z := zip.NewWriter(w)
	written := map[string]bool{}
	add := func(name string, get func() ([]byte, error)) error {
		if written[name] {
			return nil
		}
		written[name] = true
		b, err := get()
		if err != nil {
			return err
		}
		f, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)})
		if err != nil {
			return err
		}
		_, err = f.Write(b)
		return err
	}
	if err := add(manifestName, func() ([]byte, error) { return json.MarshalIndent(m, "", "  ") }); err != nil {
		return err
	}
	for _, r := range m.Revisions {
		if err := add(contentName(r.Hash), func() ([]byte, error) { return text(ctx, tx, r.ID) }); err != nil {
			return err
		}
	}
	for _, a := range m.Attachments {
		if err := add(attachedName(a.SHA256), func() ([]byte, error) { return attachment(ctx, tx, a.SHA256) }); err != nil {
			return err
		}
	}
	for _, i := range m.Issued {
		if err := add(planName(i.PlanSHA256), func() ([]byte, error) { return issuedPlan(ctx, tx, i.ID) }); err != nil {
			return err
		}
	}
	if err := recordsIn(ctx, tx, m.Job, func(_ int, b []byte) error {
		return add(recordsName(hashOf(b)), func() ([]byte, error) { return b, nil })
	}); err != nil {
		return err
	}
	return z.Close()
}
