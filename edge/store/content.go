package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"regexp"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/job"
)

// content is the text of a job as it is kept.
type content struct {
	hash  string
	text  []byte
	job   job.Job
	files []string // SHA-256 of the attachments that it names
}

// contentOf looks at a job's text. A job without faults is kept in its canonical form. One with faults is kept as it came:
// somebody is still at work on it. What is no JSON, or names no job, is refused.
func contentOf(text []byte) (content, error) {
	if _, fault := job.TreeFromJSON(text); fault != nil {
		return content{}, &Refused{Why: Unfit, Text: "the job cannot be read: " + strings.TrimRight(fault.Text, "."), Try: fault.Try, Faults: finding.List{*fault}}
	}
	j, faults := job.FromJSON(text)
	if !isName(j.ID) {
		return content{}, &Refused{Why: Unfit, Text: "the job has no id that it could be kept under", Try: "Write id: letters, digits and dashes, at most 40", Faults: faults}
	}
	c := content{text: text, job: j}
	if len(faults) == 0 {
		c.text = job.CanonicalJSON(j)
	}
	c.hash = hashOf(c.text)
	for _, a := range j.Attachments {
		if isSHA256(a.SHA256) && !slices.Contains(c.files, a.SHA256) {
			c.files = append(c.files, a.SHA256)
		}
	}
	return c, nil
}

var (
	nameForm   = regexp.MustCompile(`^[A-Za-z0-9]([A-Za-z0-9-]{0,38}[A-Za-z0-9])?$`)
	sha256Form = regexp.MustCompile(`^[0-9a-f]{64}$`)
)

// isName tells whether id can name a job, a revision or a thing that was issued.
func isName(id string) bool { return nameForm.MatchString(id) }

func isSHA256(text string) bool { return sha256Form.MatchString(text) }

func hashOf(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

// put keeps c, if it is not here yet.
func (c content) put(ctx context.Context, tx *sql.Tx) error {
	done, err := tx.ExecContext(ctx, "INSERT INTO contents (hash, size, text) VALUES (?, ?, ?) ON CONFLICT DO NOTHING", c.hash, len(c.text), Packed(c.text))
	if err != nil {
		return err
	}
	if n, err := done.RowsAffected(); err != nil || n == 0 {
		return err
	}
	for _, sum := range c.files {
		if _, err := tx.ExecContext(ctx, "INSERT INTO named (hash, sha256) VALUES (?, ?)", c.hash, sum); err != nil {
			return err
		}
	}
	return nil
}
