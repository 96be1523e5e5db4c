package drawing

import (
	"bytes"
	"flag"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"trenchwright/view/scene"
	"trenchwright/view/scene/raster"
)

// readme writes the two pictures of the README anew: make pictures
var readme = flag.Bool("readme", false, "draw docs/strip.png and docs/card.png anew")

// cropped is a part of a page as a page of its own.
func cropped(p scene.Page, part scene.Box) scene.Page {
	return scene.Page{Width: part.Width(), Height: part.Height(), Title: p.Title, Name: p.Name,
		Marks: []scene.Mark{scene.Group{Transform: scene.Shift(-part.Left, -part.Top), Marks: p.Marks}}}
}

// The README shows the first rows of the strip of the largest demo, and the card of one of its mitred units. The pictures
// are small enough to be loaded with the page.
func TestPicturesOfTheReadme(t *testing.T) {
	p, j := planned(t, "tram-depot")
	strip := cropped(Strip(p, j, StyleFor(j, A3))[0], scene.Box{Left: 9, Top: 26.4, Right: 411, Bottom: 168})
	var card scene.Page
	for _, c := range CutCards(p, j, StyleFor(j, A4)) {
		if c.Name == "card-J-001" {
			card = c
		}
	}
	for _, one := range []struct {
		name  string
		page  scene.Page
		width float64 // px
	}{{"strip.png", strip, 1600}, {"card.png", card, 1000}} {
		var b bytes.Buffer
		if err := raster.WritePNG(&b, one.page, one.width/one.page.Width*25.4); err != nil {
			t.Fatal(err)
		}
		at := filepath.Join("..", "..", "docs", one.name)
		if *readme {
			if err := os.WriteFile(at, b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		picture, err := os.ReadFile(at)
		if err != nil {
			t.Fatalf("%v; draw it with: make pictures", err)
		}
		size, err := png.DecodeConfig(bytes.NewReader(picture))
		if err != nil || float64(size.Width) < one.width-2 || float64(size.Width) > one.width+2 || len(picture) > 200_000 {
			t.Errorf("%s: %d px wide, %d bytes, %v", one.name, size.Width, len(picture), err)
		}
	}
}
