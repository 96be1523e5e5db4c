package e2e

import (
	"os"
	"path/filepath"
	"testing"

	goqr "github.com/piglig/go-qr"
)

// photographed is a code as a picture in a file.
func photographed(t *testing.T, text string) string {
	t.Helper()
	code, err := goqr.EncodeText(text, goqr.Medium)
	if err != nil {
		t.Fatal(err)
	}
	png, err := code.ToPNGBytes(goqr.NewQrCodeImgConfig(6, 4))
	if err != nil {
		t.Fatal(err)
	}
	at := filepath.Join(t.TempDir(), "code.png")
	if err := os.WriteFile(at, png, 0o644); err != nil {
		t.Fatal(err)
	}
	return at
}

// The code of a card, read off a photo, puts the peg where the same code does when it is typed, without a server; a card of another
// state says so, one of another job goes nowhere.
func TestCodesOnPhotosAreReadAsTyped(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, s := begun(t, engine, "/jobs/hand-troughs/set", 360, 780)
		p.Says("ready for no signal")
		s.stop()
		const old = "hand-troughs / file 0123456789ab / A-007"
		for _, way := range []func(){
			func() { p.Type("input[aria-label='photo of a code']", photographed(t, old)) },
			func() { p.Fill(".else .peg label input", old); p.press("go") },
		} {
			p.press("find, change, print")
			p.Until(wait, "return document.querySelector('.else .peg')")
			way()
			p.Says("This card was printed from file 0123456789ab of the job")
			p.press("close")
			p.Until(wait, "return document.querySelector('.card h2, .card h3')?.innerText.includes('A-007')")
		}
		p.press("find, change, print")
		p.Type("input[aria-label='photo of a code']", photographed(t, "tram-depot / file 0123456789ab / A-009"))
		p.Says("This card is of job tram-depot")
		p.faultless()
	})
}
