package light

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"trenchwright/job"
	"trenchwright/view/papers"
	"trenchwright/view/scene/pdf"
)

// asData is the file of the papers as data.
const asData = "papers.json"

// papersPath tells whether a file could be a paper under its stage, or the papers as data.
func papersPath(j job.Job) func(path string) bool {
	return func(path string) bool {
		return path == asData || slices.ContainsFunc(papers.BoundOf(j), func(b papers.Bound) bool { return b.File == path })
	}
}

// PaperDocument is one paper as a document.
func PaperDocument(in papers.Input, p papers.Paper) ([]byte, error) {
	return written(func(w io.Writer) error {
		return pdf.Write(w, papers.Document(in, p.Title+", "+p.Of, []papers.Paper{p}))
	})
}

// Chosen are papers of one kind that were made as data with the records, one by a place, a day or a number, or all that need no choice: as
// a document, or behind it one of its pages.
func (k *Pack) Chosen(made []byte, behind string) ([]byte, error) {
	var list []papers.Paper
	if err := json.Unmarshal(made, &list); err != nil {
		return nil, fmt.Errorf("the paper cannot be read: %w", err)
	}
	if len(list) == 0 {
		return nil, errors.New("there is no paper of this kind: the job has nothing that it would be of")
	}
	list = papers.Given(k.of, list)
	if p := list[0]; behind == "" && len(list) == 1 {
		return PaperDocument(k.of, p)
	} else if behind == "" {
		return written(func(w io.Writer) error { return pdf.Write(w, papers.Document(k.of, p.Title, list)) })
	}
	f, ok := pageOf(papers.Pages(list), list[0].Kind+".pdf/"+behind, behind)
	if !ok {
		return nil, fmt.Errorf("%s has no page %s", list[0].Title, behind)
	}
	return f.Make()
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
