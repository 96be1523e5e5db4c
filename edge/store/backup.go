package store

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
)

// Backup copies everything that cannot be made again to a file, while the work goes on, and looks whether the copy is whole.
// The file must not exist; it is there only when all of it is. As fileName in an empty folder it is a store.
func (s *Store) Backup(ctx context.Context, to string) error {
	db, err := sql.Open("sqlite", s.jobs().source()) // a connection of its own: nobody who saves waits for it
	if err != nil {
		return err
	}
	return said(errors.Join(copyTo(ctx, db, to), db.Close()))
}

// copyTo copies a database as it is at one moment.
func copyTo(ctx context.Context, db *sql.DB, to string) error {
	if _, err := os.Lstat(to); err == nil {
		return refuse(Conflict, "Name a file that does not exist yet", "%s is there already", to)
	} else if !missing(err) {
		return err
	}
	part := filepath.Join(filepath.Dir(to), "."+filepath.Base(to)+".part")
	if err := os.Remove(part); err != nil && !missing(err) {
		return err
	}
	defer os.Remove(part)
	if _, err := db.ExecContext(ctx, "VACUUM INTO ?", part); err != nil {
		return err
	}
	if err := wholeCopy(part); err != nil {
		return err
	}
	if err := errors.Join(synced(part), os.Rename(part, to)); err != nil {
		return err
	}
	synced(filepath.Dir(to)) // not every file system knows that for folders
	return nil
}

// wholeCopy reads all of a copy.
func wholeCopy(path string) error {
	f := file{path: path}
	db, err := sql.Open("sqlite", f.source("mode=ro"))
	if err != nil {
		return err
	}
	return errors.Join(f.damage(db, "PRAGMA integrity_check(1)"), db.Close())
}

// synced makes sure that a file or folder is on the disk.
func synced(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	err = f.Sync()
	return errors.Join(err, f.Close())
}
