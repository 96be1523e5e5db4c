package store

import (
	"context"
	"database/sql"
	"errors"
	"slices"
	"time"
	"unicode/utf8"
)

// Revision is one state of a job: what it was made from, by whom, on what. It never changes.
type Revision struct {
	Seq     int64     `json:"seq"` // place in the order in which this store took them, over all jobs
	ID      string    `json:"id"`
	Job     string    `json:"job"`
	Parents []string  `json:"parents"` // none for the first, two for a merge
	Author  string    `json:"author"`
	Device  string    `json:"device"`
	Note    string    `json:"note"`
	At      time.Time `json:"at"`   // when this store, or the one it was exported from, took it
	Hash    string    `json:"hash"` // of its content
}

// Draft is a revision to be saved.
type Draft struct {
	ID      string   // made where the work was done; sent again, it is the same revision
	Job     string   // the job that it has to be of; empty: whatever its content says
	Parents []string // the revisions that it was made from: none for a new job, two for a merge
	Author  string
	Device  string
	Note    string
	Content []byte // the job as JSON
}

// Saved is what became of a draft.
type Saved struct {
	Revision Revision `json:"revision"`
	Heads    []string `json:"heads"` // of the job, the oldest first; more than one: two worked from the same state
	New      bool     `json:"new"`   // false: it was here already, and is as it was
}

const mostParents = 2

// Save keeps a revision. When it returns, the revision is on the disk. A draft that was saved before gives the same answer
// again; another content under the same id is a Conflict. A draft whose parent has been worked on since makes a second head.
func (s *Store) Save(ctx context.Context, d Draft) (Saved, error) {
	c, err := contentOf(d.Content)
	if err != nil {
		return Saved{}, err
	}
	if err := d.check(c); err != nil {
		return Saved{}, err
	}
	r := Revision{ID: d.ID, Job: c.job.ID, Parents: append([]string{}, d.Parents...), Author: d.Author, Device: d.Device, Note: d.Note, Hash: c.hash}
	var saved Saved
	err = s.change(ctx, func(tx *sql.Tx) error {
		r.At = s.now()
		saved, err = save(ctx, tx, r, c)
		return err
	})
	return saved, err
}

// Restore saves the content of an older revision once more, as d says: that is how something is undone, and done again.
func (s *Store) Restore(ctx context.Context, older string, d Draft) (Saved, error) {
	text, err := s.Content(ctx, older)
	if err != nil {
		return Saved{}, err
	}
	d.Content = text
	return s.Save(ctx, d)
}

// mostWritten is how long a name or a note may be, in bytes.
const mostWritten = 4000

func (d Draft) check(c content) error {
	switch {
	case !isName(d.ID):
		return refuse(Unfit, "Letters, digits and dashes, at most 40", "%s cannot be the id of a revision", shortened(d.ID))
	case d.Job != "" && d.Job != c.job.ID:
		return refuse(Conflict, "Save it as a job of its own", "the job in the content is called %s, not %s", c.job.ID, d.Job)
	case len(d.Parents) > mostParents:
		return refuse(Unfit, "Merge two of them first, then the result with the third", "a revision is made from one or two others, and %d are named", len(d.Parents))
	case len(d.Parents) == mostParents && d.Parents[0] == d.Parents[1]:
		return refuse(Unfit, "Name it once", "revision %s is named twice as what this one was made from", shortened(d.Parents[0]))
	case slices.Contains(d.Parents, d.ID):
		return refuse(Unfit, "Give it another id", "revision %s is named as what it was made from itself", d.ID)
	}
	return written("author, device or note", d.Author, d.Device, d.Note)
}

// written looks whether texts can be kept.
func written(what string, texts ...string) error {
	for _, t := range texts {
		if len(t) > mostWritten {
			return refuse(TooLarge, "Shorten it", "%s is longer than %d bytes", what, mostWritten)
		}
		if !utf8.ValidString(t) {
			return refuse(Unfit, "Send it as UTF-8", "%s is no text", what)
		}
	}
	return nil
}

// save writes r into tx, unless it is there.
func save(ctx context.Context, tx *sql.Tx, r Revision, c content) (Saved, error) {
	before, err := revision(ctx, tx, r.ID)
	switch {
	case err == nil && before.sameWork(r):
		heads, err := heads(ctx, tx, r.Job)
		return Saved{Revision: before, Heads: heads}, err
	case err == nil:
		return Saved{}, refuse(Conflict, "Save it under an id of its own", "another revision is called %s already", r.ID)
	case !errors.Is(err, sql.ErrNoRows):
		return Saved{}, err
	}
	if err := checkParents(ctx, tx, r); err != nil {
		return Saved{}, err
	}
	if r.Seq, err = insert(ctx, tx, r, c); err != nil {
		return Saved{}, err
	}
	if err := happened(ctx, tx, r.Job, ofJob); err != nil {
		return Saved{}, err
	}
	r.At = fromMilliseconds(milliseconds(r.At))
	heads, err := heads(ctx, tx, r.Job)
	return Saved{Revision: r, Heads: heads, New: true}, err
}

// sameWork tells whether r is the same revision, whenever and in which order it was taken.
func (r Revision) sameWork(other Revision) bool {
	return r.Job == other.Job && r.Hash == other.Hash && slices.Equal(r.Parents, other.Parents) &&
		r.Author == other.Author && r.Device == other.Device && r.Note == other.Note
}

// checkParents sees to it that r hangs on its job.
func checkParents(ctx context.Context, tx *sql.Tx, r Revision) error {
	var known int
	if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM jobs WHERE id = ?", r.Job).Scan(&known); err != nil {
		return err
	}
	if known > 0 && len(r.Parents) == 0 {
		return refuse(Conflict, "Give the new job another id, or say which revision this one was made from", "a job %s is here already", r.Job)
	}
	for _, parent := range r.Parents {
		p, err := revision(ctx, tx, parent)
		switch {
		case errors.Is(err, sql.ErrNoRows):
			return refuse(NotThere, "Save that one first", "revision %s was made from %s, which is not here", r.ID, shortened(parent))
		case err != nil:
			return err
		case p.Job != r.Job:
			return refuse(Conflict, "Save it as a job of its own", "revision %s of job %s was made from %s, which is of job %s", r.ID, r.Job, parent, p.Job)
		}
	}
	return nil
}

// insert writes the rows of r and closes its parents.
func insert(ctx context.Context, tx *sql.Tx, r Revision, c content) (seq int64, err error) {
	if err := c.put(ctx, tx); err != nil {
		return 0, err
	}
	j, at := c.job, milliseconds(r.At)
	rows := []row{
		{`INSERT INTO jobs (id, name, owner, system, words, author, saved) VALUES (?, ?, ?, ?, ?, ?, ?)
			ON CONFLICT (id) DO UPDATE SET name = excluded.name, owner = excluded.owner, system = excluded.system,
			words = excluded.words, author = excluded.author, saved = excluded.saved`,
			[]any{r.Job, j.Name, j.Owner, string(j.System), string(j.Words), r.Author, at}},
		{`INSERT INTO revisions (seq, id, job, hash, author, device, note, at, open)
			VALUES ((SELECT coalesce(max(seq), 0) + 1 FROM revisions), ?, ?, ?, ?, ?, ?, ?, 1)`,
			[]any{r.ID, r.Job, r.Hash, r.Author, r.Device, r.Note, at}},
	}
	for i, parent := range r.Parents {
		rows = append(rows,
			row{"INSERT INTO parents (revision, place, parent) VALUES (?, ?, ?)", []any{r.ID, i, parent}},
			row{"UPDATE revisions SET open = 0 WHERE id = ?", []any{parent}})
	}
	if err := write(ctx, tx, rows...); err != nil {
		return 0, err
	}
	err = tx.QueryRowContext(ctx, "SELECT seq FROM revisions WHERE id = ?", r.ID).Scan(&seq)
	return seq, err
}

// row is one thing to be written.
type row struct {
	query string
	args  []any
}

func write(ctx context.Context, tx *sql.Tx, rows ...row) error {
	for _, r := range rows {
		if _, err := tx.ExecContext(ctx, r.query, r.args...); err != nil {
			return err
		}
	}
	return nil
}
