package store

import (
	"context"
	"database/sql"
	"errors"
	"strings"

	"trenchwright/job"
	"trenchwright/job/merge"
)

// Merged is two revisions joined, to be looked at and saved with both as its parents.
type Merged struct {
	Base    string        // the revision that both come from
	Job     job.Job       // joined; where both changed the same, as One has it
	Clashes []merge.Clash // what both changed differently
}

// Merge joins two revisions of one job over the newest one that both come from. Nothing is saved. take are the paths of
// clashes that the other side wins.
func (s *Store) Merge(ctx context.Context, one, other string, take ...string) (Merged, error) {
	m, err := look(ctx, s, func(tx *sql.Tx) (m Merged, err error) {
		if m.Base, err = base(ctx, tx, one, other); err != nil {
			return m, err
		}
		var jobs [3]job.Job
		for i, id := range []string{m.Base, one, other} {
			if jobs[i], err = whole(ctx, tx, id); err != nil {
				return m, err
			}
		}
		m.Job, m.Clashes = merge.Merge(jobs[0], jobs[1], jobs[2], take...)
		return m, nil
	})
	return m, err
}

// whole is the job of a revision that can be read completely: what cannot would be lost in a merge.
func whole(ctx context.Context, tx reader, id string) (job.Job, error) {
	b, err := text(ctx, tx, id)
	if err != nil {
		return job.Job{}, err
	}
	j, faults := job.FromJSON(b)
	if len(faults) > 0 {
		return j, &Refused{Why: Unfit, Text: "revision " + id + " has faults, and what is wrong cannot be merged: " + strings.TrimRight(faults[0].Text, "."),
			Try: "Mend it in a new revision, then merge that one", Faults: faults}
	}
	return j, nil
}

// base is the newest revision that both one and other were made from; one of them, if the other was made from it.
func base(ctx context.Context, tx reader, one, other string) (string, error) {
	var jobs [2]string
	for i, id := range []string{one, other} {
		r, err := revision(ctx, tx, id)
		if errors.Is(err, sql.ErrNoRows) {
			return "", noRevision(id)
		} else if err != nil {
			return "", err
		}
		jobs[i] = r.Job
	}
	if jobs[0] != jobs[1] {
		return "", refuse(Conflict, "Merge revisions of one job", "%s is of job %s, %s of job %s", one, jobs[0], other, jobs[1])
	}
	var id string
	err := tx.QueryRowContext(ctx, `
		WITH RECURSIVE
			of_one (id) AS (VALUES (?1) UNION SELECT parent FROM parents JOIN of_one ON revision = id),
			of_other (id) AS (VALUES (?2) UNION SELECT parent FROM parents JOIN of_other ON revision = id)
		SELECT revisions.id FROM revisions JOIN of_one USING (id) JOIN of_other USING (id) ORDER BY seq DESC LIMIT 1`, one, other).Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		return "", refuse(Conflict, "Go on from one of them and enter by hand what the other has", "%s and %s come from no common revision", one, other)
	}
	return id, err
}
