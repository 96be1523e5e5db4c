package light

import (
	"encoding/json"
	"fmt"

	"trenchwright/view/scene"
)

// Page is one page of a document in its list of pages.
type Page struct {
	Name   string  `json:"name"` // that of its picture, svg/name.svg
	Title  string  `json:"title"`
	Width  float64 `json:"width_mm"`
	Height float64 `json:"height_mm"`
}

// pageList is behind the path of a document the list of its pages; 1.svg is the first of them.
const pageList = "pages.json"

// pageOf is a page of a document as SVG, or the list of all.
func pageOf(pages []scene.Page, path, rest string) (File, bool) {
	if rest == pageList {
		return File{path, "what its pages are", func() ([]byte, error) {
			list := []Page{}
			for _, p := range pages {
				list = append(list, Page{p.Name, p.Title, p.Width, p.Height})
			}
			return json.Marshal(list)
		}}, true
	}
	for i, p := range pages {
		if rest == fmt.Sprintf("%d.svg", i+1) {
			f := inLines(p)
			f.Name = path
			return f, true
		}
	}
	return File{}, false
}
