package store

import (
	"context"
	"database/sql"
	"fmt"
	"io"
)

// Imported is what of a job in one file was not here yet.
type Imported struct {
	Job         string `json:"job"`
	Revisions   int    `json:"revisions"`
	Attachments int    `json:"attachments"`
	Issued      int    `json:"issued"`
	Records     int    `json:"records"`
}

// Import takes in a job as Export wrote it: all of it, or, where anything is wrong with it, nothing. What is here already
// stays as it is. Revisions keep who made them and when; a job that is here goes on from the revisions that both have.
func (s *Store) Import(ctx context.Context, r io.Reader) (Imported, error) {
	f, err := s.spool()
	if err != nil {
		return Imported{}, err
	}
	defer f.Close()
	length, err := io.Copy(f, io.LimitReader(r, s.limit.packed+1))
	if err != nil {
		return Imported{}, err
	}
	if length > s.limit.packed {
		return Imported{}, refuse(TooLarge, "It cannot be moved as one file", "the file is larger than %s", size(s.limit.packed))
	}
	return s.importFrom(ctx, f, length)
}

func (s *Store) importFrom(ctx context.Context, r io.ReaderAt, length int64) (Imported, error) {
	p, err := unpack(r, length, s.limit)
	if err != nil {
		return Imported{}, err
	}
	came := Imported{Job: p.Job}
	err = s.change(ctx, func(tx *sql.Tx) error {
		for _, step := range []func(context.Context, *sql.Tx, *Imported) error{p.putRevisions, p.putAttachments, p.putIssued} {
			if err := step(ctx, tx, &came); err != nil {
				return err
			}
		}
		return p.putRecords(ctx, tx, milliseconds(s.now()), &came)
	})
	if err != nil {
		return Imported{}, err
	}
	return came, nil
}

func (p *parcel) putRevisions(ctx context.Context, tx *sql.Tx, came *Imported) error {
	for _, r := range p.Revisions {
		b, err := p.get(contentName(r.Hash))
		if err != nil {
			return err
		}
		c, err := contentOf(b)
		if err != nil {
			return err
		}
		c.hash, c.text = r.Hash, b // byte by byte as it was, should this program write it another way today
		d := Draft{ID: r.ID, Job: p.Job, Parents: r.Parents, Author: r.Author, Device: r.Device, Note: r.Note}
		if err := d.check(c); err != nil {
			return err
		}
		saved, err := save(ctx, tx, r, c)
		if err != nil {
			return err
		}
		if saved.New {
			came.Revisions++
		}
	}
	return nil
}

func (p *parcel) putAttachments(ctx context.Context, tx *sql.Tx, came *Imported) error {
	for _, a := range p.Attachments {
		var here int
		if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM attachments WHERE sha256 = ?", a.SHA256).Scan(&here); err != nil {
			return err
		}
		if here > 0 {
			continue
		}
		b, err := p.get(attachedName(a.SHA256))
		if err != nil {
			return err
		}
		if err := putAttachment(ctx, tx, a.SHA256, b); err != nil {
			return err
		}
		came.Attachments++
	}
	return nil
}

func (p *parcel) putIssued(ctx context.Context, tx *sql.Tx, came *Imported) error {
	for _, one := range p.Issued {
		plan, err := p.get(planName(one.PlanSHA256))
		if err != nil {
			return err
		}
		as := Issuing{ID: one.ID, Revision: one.Revision, Name: one.Name, Author: one.Author, Core: one.Core, Plan: plan}
		if err := as.check(p.limit); err != nil {
			return err
		}
		one.PlanSize = int64(len(plan))
		_, fresh, err := issue(ctx, tx, one, Packed(plan))
		if err != nil {
			return err
		}
		if fresh {
			came.Issued++
		}
	}
	return nil
}

func (p *parcel) putRecords(ctx context.Context, tx *sql.Tx, at int64, came *Imported) error {
	w, err := newRecordWriter(ctx, tx, at)
	if err != nil {
		return err
	}
	defer w.insert.Close()
	for _, f := range p.Records {
		b, err := p.get(recordsName(f.SHA256))
		if err != nil {
			return err
		}
		lines, unread := linesOf(b)
		if len(unread) > 0 || len(lines) != f.Records {
			return badManifest(fmt.Sprintf("%s holds %d records, and %d lines that are none, not %d", recordsName(f.SHA256), len(lines), len(unread), f.Records))
		}
		fresh, err := w.put(p.Job, "", lines)
		if err != nil {
			return err
		}
		came.Records += fresh
	}
	return w.tell()
}
