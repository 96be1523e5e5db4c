package pack

import (
	"io"

	"trenchwright/job"
	"trenchwright/view/drawing"
	"trenchwright/view/pack/light"
	"trenchwright/view/scene"
	"trenchwright/view/scene/pdf"
)

// BookDocument is a reduced level book as pages on A4.
func BookDocument(b drawing.LevelBook) File {
	return File{Name: "pages.pdf", About: "the reduced book as pages on A4", Make: func() ([]byte, error) {
		d := scene.Document{Title: "Level book " + b.Name, Subject: "level book", Language: "en-GB", Pages: drawing.LevelBookPages(b)}
		if b.Words == job.US {
			d.Language = "en-US"
		}
		return written(func(w io.Writer) error { return pdf.Write(w, d) })
	}}
}

// BookFiles are the pages as a document and each by itself as a picture.
func BookFiles(b drawing.LevelBook) []File {
	files := []File{BookDocument(b)}
	by := writers()
	for _, page := range drawing.LevelBookPages(b) {
		files = append(files, light.Pictures(page, by)...)
	}
	return files
}
