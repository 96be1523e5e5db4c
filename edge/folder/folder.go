// Package folder puts a set of files in place at once: they are written beside the folder they belong in and moved there
// when all of them are whole, so that nobody ever finds half a pack.
package folder

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"
)

// File is one file to be written: Make gives its bytes, or Write writes what is too large to be held.
type File struct {
	Name  string // with forward slashes
	Make  func() ([]byte, error)
	Write func(io.Writer) error // instead of Make
}

// Owner is the file that says that a folder was written by this program and may be replaced by it.
const Owner = "plan.json"

// Taken is the error for a place that holds what this program did not write.
type Taken struct{ Dir, Why string }

func (t Taken) Error() string { return t.Dir + " " + t.Why }

// Replace writes files into dir. An existing folder is replaced when it is empty or holds an Owner file; anything else
// is somebody's own and refused with Taken. done is told of each file, one at a time. When ctx ends before all files are
// written, nothing has changed.
func Replace(ctx context.Context, dir string, files []File, done func(n int)) error {
	if err := Replaceable(dir); err != nil {
		return err
	}
	return swap(ctx, dir, files, done)
}

// swap puts files in place of a folder.
func swap(ctx context.Context, dir string, files []File, done func(n int)) error {
	parent := filepath.Dir(filepath.Clean(dir))
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return err
	}
	beside, err := os.MkdirTemp(parent, "."+filepath.Base(dir)+"-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(beside)
	if err := os.Chmod(beside, 0o755); err != nil {
		return err
	}
	if err := writeAll(ctx, beside, files, done); err != nil {
		return err
	}
	old := beside + "-old"
	if err := os.Rename(dir, old); err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	if err := os.Rename(beside, dir); err != nil {
		return errors.Join(err, os.Rename(old, dir))
	}
	return os.RemoveAll(old)
}

// Replaceable tells, before anything is made, whether Replace would put files into dir; Taken where it would not.
func Replaceable(dir string) error {
	if free, err := free(dir); free || err != nil {
		return err
	}
	if _, err := os.Stat(filepath.Join(dir, Owner)); err != nil {
		return Taken{dir, "is not empty and holds no " + Owner + ": it was not written by this program; give another folder"}
	}
	return nil
}

// free tells whether a folder is empty or not there at all.
func free(dir string) (bool, error) {
	if at, err := os.Stat(dir); err == nil && !at.IsDir() {
		return false, Taken{dir, "is a file, not a folder; give another folder"}
	}
	list, err := os.ReadDir(dir)
	if errors.Is(err, os.ErrNotExist) {
		return true, nil
	}
	return err == nil && len(list) == 0, err
}

// writeAll makes the files side by side, as many at once as there are processors.
func writeAll(ctx context.Context, dir string, files []File, done func(n int)) error {
	var wait sync.WaitGroup
	var lock sync.Mutex
	var errs []error
	next := make(chan File)
	finished := 0
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for f := range next {
				err := writeOne(dir, f)
				lock.Lock()
				if err != nil {
					errs = append(errs, fmt.Errorf("%s: %w", f.Name, err))
				}
				finished++
				done(finished)
				lock.Unlock()
			}
		})
	}
	for _, f := range files {
		if ctx.Err() != nil {
			break
		}
		next <- f
	}
	close(next)
	wait.Wait()
	return errors.Join(append(errs, ctx.Err())...)
}

func writeOne(dir string, f File) error {
	at := filepath.Join(dir, filepath.FromSlash(f.Name))
	if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
		return err
	}
	if f.Write != nil {
		return stream(at, f.Write)
	}
	b, err := f.Make()
	if err != nil {
		return err
	}
	return os.WriteFile(at, b, 0o644)
}

func stream(at string, write func(io.Writer) error) error {
	to, err := os.Create(at)
	if err != nil {
		return err
	}
	return errors.Join(write(to), to.Close())
}
