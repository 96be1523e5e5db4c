package pack

import (
	"io"

	"trenchwright/job"
	"trenchwright/view/drawing"
	"trenchwright/view/scene"
	"trenchwright/view/scene/pdf"
	"trenchwright/view/scene/raster"
)

// BookDocument is a reduced level book as pages on A4.
func BookDocument(b drawing.LevelBook) File {
	return File{"pages.pdf", "the reduced book as pages on A4", func() ([]byte, error) {
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
	painter := new(raster.Painter)
	for _, page := range drawing.LevelBookPages(b) {
		files = append(files, pictures(page, painter)...)
	}
	return files
}

// pictures are one page as SVG and PNG.
func pictures(page scene.Page, painter *raster.Painter) []File {
	return []File{
		{"svg/" + page.Name + ".svg", page.Title, func() ([]byte, error) {
			return written(func(w io.Writer) error { return scene.WriteSVG(w, page) })
		}},
		{"png/" + page.Name + ".png", page.Title, func() ([]byte, error) {
			return written(func(w io.Writer) error { return painter.WritePNG(w, page, screenDPI) })
		}},
	}
}
