package store

import (
	"context"
	"database/sql"
	"errors"
)

// usedStep is how exactly it is known when something kept was used last: reading writes no more often than that.
const usedStep = 60_000 // milliseconds

// Kept is what Keep kept for a content, a core and a name, if it is still here. What is kept can be made again; it goes when
// room is needed, what was not used for the longest time first.
func (s *Store) Kept(ctx context.Context, hash, core, name string) (b []byte, ok bool, err error) {
	var used int64
	err = s.keptRead.QueryRowContext(ctx, "SELECT bytes, used FROM kept WHERE hash = ? AND core = ? AND name = ?", hash, core, name).Scan(&b, &used)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, false, nil
	}
	if err != nil {
		return nil, false, said(err)
	}
	if now := milliseconds(s.now()); now-used > usedStep {
		_, err = s.kept.ExecContext(ctx, "UPDATE kept SET used = ? WHERE hash = ? AND core = ? AND name = ?", now, hash, core, name)
	}
	return b, true, said(err)
}

// Keep keeps b for a content, a core and a name. What takes more than a quarter of the room is not kept.
func (s *Store) Keep(ctx context.Context, hash, core, name string, b []byte) error {
	if int64(len(b)) > s.room/4 {
		return nil
	}
	tx, err := s.kept.BeginTx(ctx, nil)
	if err != nil {
		return said(err)
	}
	defer tx.Rollback()
	err = write(ctx, tx, row{"INSERT OR REPLACE INTO kept (hash, core, name, size, used, bytes) VALUES (?, ?, ?, ?, ?, ?)",
		[]any{hash, core, name, len(b), milliseconds(s.now()), b}})
	if err != nil {
		return said(err)
	}
	if err := s.makeRoom(ctx, tx); err != nil {
		return said(err)
	}
	return said(tx.Commit())
}

// makeRoom drops what was not used for the longest time until the rest has room.
func (s *Store) makeRoom(ctx context.Context, tx *sql.Tx) error {
	type thing struct{ row, size int64 }
	list, err := rows(ctx, tx, func(scan func(...any) error) (t thing, err error) { return t, scan(&t.row, &t.size) },
		"SELECT rowid, size FROM kept ORDER BY used DESC, rowid DESC")
	if err != nil {
		return err
	}
	var all int64
	for _, t := range list {
		if all += t.size; all > s.room {
			if err := write(ctx, tx, row{"DELETE FROM kept WHERE rowid = ?", []any{t.row}}); err != nil {
				return err
			}
		}
	}
	return nil
}
