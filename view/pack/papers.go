package pack

import (
	"io"

	"trenchwright/view/papers"
	"trenchwright/view/scene/pdf"
)

// PaperDocument is one paper as a document.
func PaperDocument(in papers.Input, p papers.Paper) ([]byte, error) {
	return written(func(w io.Writer) error {
		return pdf.Write(w, papers.Document(in, p.Title+", "+p.Of, []papers.Paper{p}))
	})
}
