package light

import (
	"encoding/json"
	"slices"
	"strings"

	"trenchwright/job"
	"trenchwright/view/papers"
)

// asData is the file of the papers as data.
const asData = "papers.json"

// papersPath tells whether a file could be a paper under its stage, or the papers as data.
func papersPath(j job.Job) func(path string) bool {
	return func(path string) bool {
		return path == asData || slices.ContainsFunc(papers.BoundOf(j), func(b papers.Bound) bool { return b.File == path })
	}
}

// handed are the papers that need no choice, a document a kind, and all of them as data. One that a hard stop holds back is a page that
// says so.
func (b binder) handed(j job.Job, made map[string]func() []papers.Paper) (files []File) {
	for _, of := range papers.BoundOf(j) {
		files = append(files, File{of.File, of.About, func() ([]byte, error) {
			return b.write(strings.TrimSuffix(of.File, ".pdf"), papers.Pages(made[of.File]()))
		}})
	}
	return append(files, File{asData, "the papers under their stages as data, each figure with its source", func() ([]byte, error) {
		all := []papers.Paper{}
		for _, of := range papers.BoundOf(j) {
			all = append(all, made[of.File]()...)
		}
		return json.MarshalIndent(all, "", " ")
	}})
}
