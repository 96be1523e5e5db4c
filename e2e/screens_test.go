package e2e

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"trenchwright/tools/browser"
)

var update = flag.Bool("update", false, "make the pictures of docs/screens.md anew")

var widths = []struct {
	wide, high int
	for_       string
}{{1440, 1000, "desk"}, {1024, 1000, "tablet"}, {360, 780, "phone"}}

// stages are the nine with what the pictures show of each: a job, and the thing that is selected in it.
var stages = []struct{ id, name, job, on string }{
	{"route", "Route", "tram-depot", "node/B5"}, {"order", "Order", "tram-depot", "unit/B-018"}, {"dig", "Dig", "tram-depot", "place/B/20000"},
	{"bed", "Bed", "battery-yard", "joint/B-003/B-004"}, {"set", "Set", "tram-depot", "unit/B-009"}, {"fill", "Fill", "tram-depot", "place/C/20000"},
	{"cables", "Cables", "tram-depot", "entry/A/A-e2"}, {"cover", "Cover", "battery-yard", "cover/B-007.2"}, {"handover", "Hand over", "tram-depot", "leg/F"},
}

// opened opens a screen of a job and waits until everything on it is there.
func opened(b *browser.Browser, address string) {
	b.Go(address)
	drawn(b)
}

func drawn(b *browser.Browser) {
	b.Until(time.Minute, "return document.querySelector('.stages') && document.querySelector('.rows tbody tr td button, .tables > p:not(.waiting)') && !/planning|working the run out/.test(document.body.innerText)")
}

// turned goes to another stage of the job that is open, as a tap does; a job that is not is opened.
func turned(b *browser.Browser, address, stage string) {
	var same bool
	b.Run(&same, `const to = new URL(arguments[0]), job = (u) => u.origin + u.pathname.split("/")[2];
		if (!document.querySelector(".stages") || job(to) !== job(location)) return false;
		history.pushState(null, "", to.href);
		dispatchEvent(new PopStateEvent("popstate"));
		return true;`, address)
	if !same {
		opened(b, address)
		return
	}
	b.Until(time.Minute, "return [...document.querySelectorAll('[aria-current=page]')].some(e => e.innerText.startsWith(arguments[0]))", stage)
	drawn(b)
}

// stood opens a stage at a thing, and waits until all of it is told.
func stood(b *browser.Browser, address string) {
	opened(b, address)
	told(b)
}

func told(b *browser.Browser) {
	b.Until(90*time.Second, "return document.querySelector('.card h2') && document.querySelector('.large-figures dd') && !document.querySelector('.card.hint')")
}

// TestScreens opens every stage at three widths: nothing runs out of the page, nothing is told to the console. With -update it
// keeps their pictures.
func TestScreens(t *testing.T) {
	t.Parallel()
	s := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
	b := browser.Start(t, "chromium", "")
	b.Go(s.address)
	b.Says("ready for no signal")
	var page strings.Builder
	page.WriteString("# The screens\n\nMade by `go test ./e2e -run TestScreens -update` from the demo jobs; every figure in them is invented.\n")
	keep := func(name, says string) {
		if *update {
			keepPicture(t, name, b.Picture())
			fmt.Fprintf(&page, "\n%s\n\n![%s](screens/%s.png)\n", says, says, name)
		}
	}
	for _, st := range stages {
		fmt.Fprintf(&page, "\n## %s\n", st.name)
		for _, w := range widths {
			b.Size(w.wide, w.high)
			turned(b, s.address+"/jobs/"+st.job+"/"+st.id+"#"+st.on, st.name)
			b.Until(wait, "return decodeURI(location.hash) === '#' + arguments[0]", st.on)
			told(b)
			b.Run(nil, "scrollTo(0, 0)")
			var over float64
			b.Run(&over, "return document.scrollingElement.scrollWidth - innerWidth")
			if over > 0 {
				t.Errorf("%s at %d px: the page is %g px wider than the window", st.id, w.wide, over)
			}
			time.Sleep(300 * time.Millisecond)
			keep(fmt.Sprintf("%s-%d", st.id, w.wide), fmt.Sprintf("%s, %d px (%s, job %s)", st.name, w.wide, w.for_, st.job))
		}
	}
	if *update {
		onSite(t, b, s, func(name string) { fmt.Fprintf(&page, "\n## %s\n", name) }, keep)
	}
	if faults := b.Log(); len(faults) > 0 {
		t.Errorf("the console was told: %s", faults)
	}
	if *update {
		if err := os.WriteFile("../docs/screens.md", []byte(page.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// keepPicture keeps a picture with few colours, so that it stays small.
func keepPicture(t *testing.T, name string, b []byte) {
	t.Helper()
	from, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	var palette color.Palette
	for v := 0; v <= 255; v += 17 {
		palette = append(palette, color.RGBA{uint8(v), uint8(v), uint8(v), 255})
	}
	for _, c := range []color.RGBA{
		{0xfc, 0xfa, 0xf5, 255}, {0x1b, 0x2a, 0x2f, 255}, {0x47, 0x54, 0x5a, 255}, {0x6f, 0x6a, 0x5c, 255}, {0xd9, 0xd4, 0xc7, 255},
		{0x8a, 0x2f, 0x5a, 255}, {0xb9, 0x80, 0x9c, 255}, {0xe6, 0xdf, 0xd0, 255}, {0x7a, 0x5a, 0x24, 255}, {0xb0, 0x9c, 0x7a, 255}, {0x9a, 0xa0, 0xa2, 255},
	} {
		palette = append(palette, c)
	}
	to := image.NewPaletted(from.Bounds(), palette)
	draw.Draw(to, to.Bounds(), from, from.Bounds().Min, draw.Src)
	var out bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&out, to); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll("../docs/screens", 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join("../docs/screens", name+".png"), out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
