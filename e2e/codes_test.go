package e2e

import (
	"encoding/base64"
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
// state says so, one of another job goes nowhere. What a phone shows of its records is read the same way, and comes in once.
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
		p.press("close")

		// a record goes out of this phone as a code, and comes in off a photo of it: once
		p.stageAt("Order")
		p.press("Delivery")
		p.Fill(".recorder .stepper input[aria-label='how many came']", "40")
		p.Until(wait, "const b = document.querySelector('.recorder .readwith'); return !b") // nothing is read there
		p.records("came")
		p.Run(nil, "document.querySelector('details.short').open = true")
		p.press("show the unsent records as codes")
		p.Says("1 record, 1 code")
		var shown string
		p.Until(wait, "const c = document.querySelector('.bycodes canvas'); return c.width > 200 && c.getBoundingClientRect().right <= innerWidth")
		p.Run(&shown, "return document.querySelector('.bycodes canvas').toDataURL().split(',')[1]")
		p.press("done")
		picture, err := base64.StdEncoding.DecodeString(shown)
		if err != nil {
			t.Fatal(err)
		}
		at := filepath.Join(t.TempDir(), "shown.png")
		if err := os.WriteFile(at, picture, 0o644); err != nil {
			t.Fatal(err)
		}
		p.press("read records off another phone")
		p.Type(".bycodes input[aria-label='photo of a code']", at)
		p.Says("1 record, 0 of them not here before")
		p.faultless()
	})
}
