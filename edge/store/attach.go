package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
)

// PutAttachment keeps the file with the SHA-256 sum that is read from r. A file that is here already is left alone. What has
// another sum, or is too large, is refused.
func (s *Store) PutAttachment(ctx context.Context, sum string, r io.Reader) error {
	if !isSHA256(sum) {
		return refuse(Unfit, "64 hexadecimal digits in small letters", "%s is no SHA-256 sum", shortened(sum))
	}
	b, err := readWithin(r, s.limit.attachment, "the attachment")
	if err != nil {
		return err
	}
	if got := hashOf(b); got != sum {
		return refuse(Unfit, "Send it again", "the attachment has the SHA-256 sum %s, not %s: it is another file, or was damaged on the way", got, sum)
	}
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return said(err)
	}
	defer tx.Rollback()
	if err := putAttachment(ctx, tx, sum, b); err != nil {
		return said(err)
	}
	return said(tx.Commit())
}

func putAttachment(ctx context.Context, tx *sql.Tx, sum string, b []byte) error {
	if b == nil {
		b = []byte{}
	}
	return write(ctx, tx, row{"INSERT INTO attachments (sha256, size, bytes) VALUES (?, ?, ?) ON CONFLICT DO NOTHING", []any{sum, len(b), b}})
}

// Attachment is the file with a SHA-256 sum.
func (s *Store) Attachment(ctx context.Context, sum string) ([]byte, error) {
	b, err := attachment(ctx, s.read, sum)
	if errors.Is(err, sql.ErrNoRows) {
		err = refuse(NotThere, "Send it, or wait until the device that has it does", "no attachment with the SHA-256 sum %s is here", shortened(sum))
	}
	return b, said(err)
}

func attachment(ctx context.Context, tx reader, sum string) (b []byte, err error) {
	return b, tx.QueryRowContext(ctx, "SELECT bytes FROM attachments WHERE sha256 = ?", sum).Scan(&b)
}

// Missing is those of the sums that no attachment is here for.
func (s *Store) Missing(ctx context.Context, sums []string) ([]string, error) {
	list := []string{}
	for _, sum := range sums {
		var n int
		if err := s.read.QueryRowContext(ctx, "SELECT count(*) FROM attachments WHERE sha256 = ?", sum).Scan(&n); err != nil {
			return nil, said(err)
		}
		if n == 0 {
			list = append(list, sum)
		}
	}
	return list, nil
}

// readWithin reads all of r, at most most bytes.
func readWithin(r io.Reader, most int64, what string) ([]byte, error) {
	b, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", what, err)
	}
	if int64(len(b)) > most {
		return nil, refuse(TooLarge, "Leave out what the job does not need, or part it", "%s is larger than %s", what, size(most))
	}
	return b, nil
}

// size is a number of bytes for people.
func size(n int64) string {
	if n >= 1<<20 {
		return fmt.Sprintf("%d MiB", n>>20)
	}
	return fmt.Sprintf("%d bytes", n)
}
