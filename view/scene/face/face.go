// Package face holds the lettering of sheets and cards in both weights: DejaVu Sans Condensed with the signs of scene's metrics
// alone, and without what only screens and shaping need. Cut so it is a quarter of the whole on the way to a browser.
// generate_face.go in the folder above cuts it; its licence is FONT-LICENCE.txt there.
package face

import _ "embed"

// Regular and Bold are TrueType files. Nobody writes into them.
var (
	//go:embed regular.ttf
	Regular []byte
	//go:embed bold.ttf
	Bold []byte
)
