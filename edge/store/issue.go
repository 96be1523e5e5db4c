package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"strings"
	"time"
)

// Issued is a plan that was handed out under a name. It is fixed: the plan's bytes are kept and never derived again.
type Issued struct {
	ID         string    `json:"id"`
	Job        string    `json:"job"`
	Revision   string    `json:"revision"`
	Hash       string    `json:"hash"` // of the job's content
	Name       string    `json:"name"` // no two of one job
	Author     string    `json:"author"`
	Core       string    `json:"core"` // version of the core that made the plan
	At         time.Time `json:"at"`
	PlanSHA256 string    `json:"plan_sha256"`
	PlanSize   int64     `json:"plan_size"`
}

// Issuing is what is to be issued.
type Issuing struct {
	ID       string // left empty: one is made
	Revision string
	Name     string
	Author   string
	Core     string
	Plan     []byte
}

// Issue keeps a plan for good. The same plan of the same revision under the same name is the same issue, and answered as it
// was; any other under that name is a Conflict.
func (s *Store) Issue(ctx context.Context, i Issuing) (Issued, error) {
	i.Name, i.Author = strings.TrimSpace(i.Name), strings.TrimSpace(i.Author)
	if i.ID == "" {
		i.ID = "i" + rand.Text()
	}
	if err := i.check(s.limit); err != nil {
		return Issued{}, err
	}
	one := Issued{ID: i.ID, Revision: i.Revision, Name: i.Name, Author: i.Author, Core: i.Core, PlanSHA256: hashOf(i.Plan), PlanSize: int64(len(i.Plan))}
	plan := Packed(i.Plan)
	err := s.change(ctx, func(tx *sql.Tx) error {
		r, err := revision(ctx, tx, i.Revision)
		if errors.Is(err, sql.ErrNoRows) {
			return noRevision(i.Revision)
		} else if err != nil {
			return err
		}
		one.Job, one.Hash, one.At = r.Job, r.Hash, fromMilliseconds(milliseconds(s.now()))
		one, _, err = issue(ctx, tx, one, plan)
		return err
	})
	return one, err
}

func (i Issuing) check(l limits) error {
	switch {
	case !isName(i.ID):
		return refuse(Unfit, "Letters, digits and dashes, at most 40", "%s cannot be the id of an issue", shortened(i.ID))
	case i.Name == "":
		return refuse(Unfit, "Say which issue this is: For construction, A", "what is issued has no name")
	case i.Author == "":
		return refuse(Unfit, "Say who issues it", "issuing is a named act, and no name was given")
	case i.Core == "":
		return refuse(Unfit, "Say which version of the core made the plan", "the plan comes from no known core")
	case len(i.Plan) == 0:
		return refuse(Unfit, "Plan the revision first", "there is no plan to be issued")
	case int64(len(i.Plan)) > l.plan:
		return refuse(TooLarge, "Issue the job in parts", "the plan is larger than %s", size(l.plan))
	}
	return written("name, author or core", i.Name, i.Author, i.Core)
}

// issue writes one into tx, unless it is there.
func issue(ctx context.Context, tx *sql.Tx, one Issued, plan []byte) (kept Issued, fresh bool, err error) {
	before, err := scanIssued(tx.QueryRowContext(ctx, "SELECT "+issuedColumns+" FROM issued WHERE id = ?1 OR (job = ?2 AND name = ?3) ORDER BY id = ?1 DESC LIMIT 1",
		one.ID, one.Job, one.Name).Scan)
	switch {
	case err == nil && before.samePlan(one):
		return before, false, nil
	case err == nil:
		return one, false, refuse(Conflict, "Choose another name; what was issued is never changed",
			"%s of job %s was issued as %s already, from revision %s", shortened(before.Name), before.Job, before.ID, before.Revision)
	case !errors.Is(err, sql.ErrNoRows):
		return one, false, err
	}
	err = write(ctx, tx, row{`INSERT INTO issued (seq, id, job, revision, hash, name, author, core, at, plan, plan_sha256, plan_size)
		VALUES ((SELECT coalesce(max(seq), 0) + 1 FROM issued), ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		[]any{one.ID, one.Job, one.Revision, one.Hash, one.Name, one.Author, one.Core, milliseconds(one.At), plan, one.PlanSHA256, one.PlanSize}})
	if err != nil {
		return one, false, err
	}
	return one, true, happened(ctx, tx, one.Job, ofJob)
}

// samePlan tells whether one is i again, whatever id and time it came with.
func (i Issued) samePlan(one Issued) bool {
	return i.Job == one.Job && i.Revision == one.Revision && i.Name == one.Name && i.Author == one.Author && i.Core == one.Core && i.PlanSHA256 == one.PlanSHA256
}

const issuedColumns = "id, job, revision, hash, name, author, core, at, plan_sha256, plan_size"

func scanIssued(scan func(...any) error) (i Issued, err error) {
	var at int64
	err = scan(&i.ID, &i.Job, &i.Revision, &i.Hash, &i.Name, &i.Author, &i.Core, &at, &i.PlanSHA256, &i.PlanSize)
	i.At = fromMilliseconds(at)
	return i, err
}

// Issued is one issue by its id.
func (s *Store) Issued(ctx context.Context, id string) (Issued, error) {
	i, err := scanIssued(s.read.QueryRowContext(ctx, "SELECT "+issuedColumns+" FROM issued WHERE id = ?", id).Scan)
	return i, said(noIssue(err, id))
}

// IssuedPlan is the plan of an issue, byte by byte as it was issued.
func (s *Store) IssuedPlan(ctx context.Context, id string) ([]byte, error) {
	b, err := issuedPlan(ctx, s.read, id)
	return b, said(noIssue(err, id))
}

func issuedPlan(ctx context.Context, tx reader, id string) ([]byte, error) {
	var size int64
	var b []byte
	if err := tx.QueryRowContext(ctx, "SELECT plan_size, plan FROM issued WHERE id = ?", id).Scan(&size, &b); err != nil {
		return nil, err
	}
	return unpacked(b, size)
}

func noIssue(err error, id string) error {
	if errors.Is(err, sql.ErrNoRows) {
		return refuse(NotThere, "Look at what was issued of the job", "nothing was issued as %s here", shortened(id))
	}
	return err
}
