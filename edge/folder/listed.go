package folder

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Listing is the file in which ReplaceListed says what it wrote, one name a line.
const Listing = "written.txt"

// ReplaceListed is Replace for files of which none is an Owner: it writes a Listing beside them. An existing folder is
// replaced when it is empty, or holds a Listing and nothing that is not named there.
func ReplaceListed(ctx context.Context, dir string, files []File, done func(n int)) error {
	if err := onlyListed(dir); err != nil {
		return err
	}
	var names strings.Builder
	for _, f := range files {
		names.WriteString(f.Name + "\n")
	}
	list := File{Name: Listing, Make: func() ([]byte, error) { return []byte(names.String()), nil }}
	return swap(ctx, dir, append(slices.Clone(files), list), done)
}

// onlyListed refuses a folder that holds anything that ReplaceListed did not write there.
func onlyListed(dir string) error {
	if free, err := free(dir); free || err != nil {
		return err
	}
	text, err := os.ReadFile(filepath.Join(dir, Listing))
	if errors.Is(err, fs.ErrNotExist) {
		return Taken{dir, "is not empty and holds no " + Listing + ": it was not written by this program; give another folder"}
	}
	if err != nil {
		return err
	}
	ours := map[string]bool{Listing: true}
	for _, name := range strings.Split(string(text), "\n") {
		ours[name] = true
	}
	return filepath.WalkDir(dir, func(at string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		name, err := filepath.Rel(dir, at)
		if err == nil && !ours[filepath.ToSlash(name)] {
			return Taken{dir, "holds " + filepath.ToSlash(name) + ", which this program did not write there; move it, or give another folder"}
		}
		return err
	})
}
