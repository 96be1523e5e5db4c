package store

import (
	"context"
	"database/sql"
	"errors"
	"time"
)

// Info is a job in a list: what it is called in the revision that was saved last.
type Info struct {
	ID     string    `json:"id"`
	Name   string    `json:"name"`
	Owner  string    `json:"owner"`
	System string    `json:"system"`
	Words  string    `json:"words"`
	Heads  []string  `json:"heads"` // the oldest first
	Saved  time.Time `json:"saved"`
	Author string    `json:"author"` // who saved it last
	Issued []Issued  `json:"issued"` // in the order in which it was
}

// Detail is everything about one job but the contents.
type Detail struct {
	Info
	Revisions []Revision `json:"revisions"` // in the order in which they were taken
}

// reader is a database or a transaction.
type reader interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// Jobs is all jobs by name, then id.
func (s *Store) Jobs(ctx context.Context) ([]Info, error) {
	return look(ctx, s, func(tx *sql.Tx) ([]Info, error) { return jobs(ctx, tx, "") })
}

// Job is one job with its revisions.
func (s *Store) Job(ctx context.Context, id string) (Detail, error) {
	return look(ctx, s, func(tx *sql.Tx) (Detail, error) { return detail(ctx, tx, id) })
}

// Revision is one revision by its id.
func (s *Store) Revision(ctx context.Context, id string) (Revision, error) {
	r, err := revision(ctx, s.read, id)
	if errors.Is(err, sql.ErrNoRows) {
		err = noRevision(id)
	}
	return r, said(err)
}

// Content is the job of a revision as JSON, the same bytes for ever.
func (s *Store) Content(ctx context.Context, revision string) ([]byte, error) {
	b, err := text(ctx, s.read, revision)
	return b, said(err)
}

func noRevision(id string) error {
	return refuse(NotThere, "Look at the job's revisions; a revision that was made without signal comes when its device sends it", "no revision is called %s here", shortened(id))
}

func noJob(id string) error {
	return refuse(NotThere, "Look at the list of jobs", "no job is called %s here", shortened(id))
}

// look asks several things of the database as it is at one moment.
func look[T any](ctx context.Context, s *Store, ask func(tx *sql.Tx) (T, error)) (T, error) {
	var none T
	tx, err := s.read.BeginTx(ctx, nil)
	if err != nil {
		return none, said(err)
	}
	defer tx.Rollback()
	answer, err := ask(tx)
	if err != nil {
		return none, said(err)
	}
	return answer, nil
}

// rows is every row of an answer.
func rows[T any](ctx context.Context, r reader, scan func(scan func(...any) error) (T, error), query string, args ...any) ([]T, error) {
	found, err := r.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer found.Close()
	list := []T{}
	for found.Next() {
		one, err := scan(found.Scan)
		if err != nil {
			return nil, err
		}
		list = append(list, one)
	}
	return list, found.Err()
}

// jobs is all jobs, or the one with an id.
func jobs(ctx context.Context, tx reader, id string) ([]Info, error) {
	list, err := rows(ctx, tx, func(scan func(...any) error) (Info, error) {
		i := Info{Heads: []string{}, Issued: []Issued{}}
		var saved int64
		err := scan(&i.ID, &i.Name, &i.Owner, &i.System, &i.Words, &i.Author, &saved)
		i.Saved = fromMilliseconds(saved)
		return i, err
	}, "SELECT id, name, owner, system, words, author, saved FROM jobs WHERE ?1 = '' OR id = ?1 ORDER BY name, id", id)
	if err != nil {
		return nil, err
	}
	at := make(map[string]*Info, len(list))
	for i := range list {
		at[list[i].ID] = &list[i]
	}
	open, err := rows(ctx, tx, func(scan func(...any) error) (pair [2]string, err error) {
		return pair, scan(&pair[0], &pair[1])
	}, "SELECT job, id FROM revisions WHERE open = 1 AND (?1 = '' OR job = ?1) ORDER BY job, seq", id)
	if err != nil {
		return nil, err
	}
	for _, pair := range open {
		at[pair[0]].Heads = append(at[pair[0]].Heads, pair[1])
	}
	issued, err := rows(ctx, tx, scanIssued, "SELECT "+issuedColumns+" FROM issued WHERE ?1 = '' OR job = ?1 ORDER BY seq", id)
	for _, one := range issued {
		at[one.Job].Issued = append(at[one.Job].Issued, one)
	}
	return list, err
}

func detail(ctx context.Context, tx reader, id string) (Detail, error) {
	if id == "" {
		return Detail{}, noJob(id)
	}
	list, err := jobs(ctx, tx, id)
	if err != nil {
		return Detail{}, err
	}
	if len(list) == 0 {
		return Detail{}, noJob(id)
	}
	d := Detail{Info: list[0]}
	d.Revisions, err = revisions(ctx, tx, id)
	return d, err
}

const revisionColumns = `seq, id, job, hash, author, device, note, at,
	coalesce((SELECT parent FROM parents WHERE revision = revisions.id AND place = 0), ''),
	coalesce((SELECT parent FROM parents WHERE revision = revisions.id AND place = 1), '')`

func scanRevision(scan func(...any) error) (Revision, error) {
	r := Revision{Parents: []string{}}
	var at int64
	var parents [mostParents]string
	err := scan(&r.Seq, &r.ID, &r.Job, &r.Hash, &r.Author, &r.Device, &r.Note, &at, &parents[0], &parents[1])
	r.At = fromMilliseconds(at)
	for _, p := range parents {
		if p != "" {
			r.Parents = append(r.Parents, p)
		}
	}
	return r, err
}

// revision is a revision by its id, or sql.ErrNoRows.
func revision(ctx context.Context, tx reader, id string) (Revision, error) {
	return scanRevision(tx.QueryRowContext(ctx, "SELECT "+revisionColumns+" FROM revisions WHERE id = ?", id).Scan)
}

func revisions(ctx context.Context, tx reader, job string) ([]Revision, error) {
	return rows(ctx, tx, scanRevision, "SELECT "+revisionColumns+" FROM revisions WHERE job = ? ORDER BY seq", job)
}

// heads are the revisions of a job that nothing was made from yet.
func heads(ctx context.Context, tx reader, job string) ([]string, error) {
	return rows(ctx, tx, func(scan func(...any) error) (id string, err error) { return id, scan(&id) },
		"SELECT id FROM revisions WHERE job = ? AND open = 1 ORDER BY seq", job)
}

// text is the content of a revision.
func text(ctx context.Context, tx reader, id string) ([]byte, error) {
	var size int64
	var b []byte
	err := tx.QueryRowContext(ctx, "SELECT contents.size, contents.text FROM revisions JOIN contents USING (hash) WHERE id = ?", id).Scan(&size, &b)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, noRevision(id)
	}
	if err != nil {
		return nil, err
	}
	return unpacked(b, size)
}
