package e2e

import (
	"image"
	"image/png"
	"math/cmplx"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// greenPicture is a file with a picture of one colour.
func greenPicture(t *testing.T, wide, high int) string {
	t.Helper()
	m := image.NewNRGBA(image.Rect(0, 0, wide, high))
	for i := range m.Pix {
		m.Pix[i] = []uint8{0, 160, 0, 255}[i%4]
	}
	name := filepath.Join(t.TempDir(), "from above.png")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, m); err != nil {
		t.Fatal(err)
	}
	return name
}

// Where the selected node is drawn: the middle of what is drawn in the colour of "here", in pixels of the canvas. The peg may stand
// elsewhere: it is left out.
const whereHere = `const c = document.querySelector(".plan canvas"), d = c.getContext("2d").getImageData(0, 0, c.width, c.height).data; let n = 0, x = 0, y = 0;
for (let i = 0; i < d.length; i += 4) if (d[i+3] > 250 && Math.abs(d[i]-0x8a) + Math.abs(d[i+1]-0x2f) + Math.abs(d[i+2]-0x5a) < 12 && Math.hypot(i/4 % c.width - arguments[0], i/4/c.width - arguments[1]) > 30) { n++; x += i/4 % c.width; y += Math.floor(i/4/c.width) }
return n ? [x/n, y/n] : [0, 0]`

func (p *page) drawnNode(id string, peg complex128) complex128 {
	p.t.Helper()
	p.Run(nil, "location.hash = '#node/' + arguments[0]; dispatchEvent(new PopStateEvent('popstate'))", id)
	p.Until(wait, "return document.querySelector('.card h2')?.innerText.includes(arguments[0])", id)
	time.Sleep(300 * time.Millisecond)
	var at [2]float64
	p.Run(&at, whereHere, real(peg), imag(peg))
	if at == [2]float64{} {
		p.t.Fatalf("node %s is not drawn", id)
	}
	return complex(at[0], at[1])
}

// green tells whether the picture is seen at a place of the canvas: about there, where the run does not lie over it.
func (p *page) green(at complex128) bool {
	p.t.Helper()
	var seen bool
	p.Run(&seen, `const d = document.querySelector(".plan canvas").getContext("2d").getImageData(arguments[0]-6, arguments[1]-6, 13, 13).data; let n = 0;
		for (let i = 0; i < d.length; i += 4) if (d[i+3] > 90 && d[i+3] < 140 && d[i+1] > 130 && d[i] < 40) n++;
		return n > 60`, int(real(at)), int(imag(at)))
	return seen
}

// TestPictureUnderThePlan places a picture by two nodes, turned and scaled, and finds it drawn just there; it is switched off and
// on, is still there when the page comes again, and stays in this browser.
func TestPictureUnderThePlan(t *testing.T) {
	t.Parallel()
	p, s := begun(t, "chromium", "/jobs/hand-troughs/route")
	p.Until(wait, "return document.querySelector('.plan canvas')")
	time.Sleep(500 * time.Millisecond)
	p.Click("[aria-label='plan further']") // so that there is something beside the picture
	var nodes []string
	p.press("picture under the plan")
	p.Says("It stays on this device")
	p.Type("input[type=file][accept='image/*']", greenPicture(t, 300, 200))
	p.Says("300 × 200 pixels")
	p.Run(&nodes, "return [...document.querySelectorAll('#picture-0-node option')].map(o => o.value).filter(Boolean)")
	if len(nodes) < 2 {
		t.Fatal(nodes)
	}
	one, other := nodes[0], nodes[len(nodes)-1]
	from := p.drawnNode(one, -100) // the peg stands there too
	to := p.drawnNode(other, from)
	typed := [2][2]string{{"60", "150"}, {"240", "40"}}
	p.Click(".sheet svg")
	p.Until(wait, "const v = Number(document.querySelector('#picture-0-0').value); return Math.abs(v - 150) < 2") // it was tapped in its middle
	for i, node := range []string{one, other} {
		for k, text := range typed[i] {
			p.Fill([]string{"#picture-0-0", "#picture-0-1", "#picture-1-0", "#picture-1-1"}[2*i+k], text)
		}
		p.Run(nil, "const s = document.querySelector('#picture-' + arguments[0] + '-node'); s.value = arguments[1]; s.dispatchEvent(new Event('change', {bubbles: true}))", i, node)
	}
	p.Says("One pixel is")
	p.press("place it")
	p.Until(wait, "return document.querySelector('.underlay .which input[type=checkbox]')")
	time.Sleep(300 * time.Millisecond)

	// what a similarity makes of the picture on the canvas, reckoned here
	a, b := complex(60, 150), complex(240, 40)
	turn := (to - from) / (b - a)
	where := func(x, y float64) complex128 { return from + turn*(complex(x, y)-a) }
	inside, beside, hidden := 0, 0, 0
	var size [2]int
	p.Run(&size, "const c = document.querySelector('.plan canvas'); return [c.width, c.height]")
	on := func(z complex128) bool {
		return real(z) > 20 && imag(z) > 20 && real(z) < float64(size[0]-40) && imag(z) < float64(size[1]-40)
	}
	edge := 14 / cmplx.Abs(turn) // pixels of the picture that are 14 of the canvas
	for x := -6 * edge; x <= 300+6*edge; x += edge {
		for y := -6 * edge; y <= 200+6*edge; y += edge {
			z := where(x, y)
			if !on(z) {
				continue
			}
			switch seen := p.green(z); {
			case x > edge && x < 300-edge && y > edge && y < 200-edge:
				if seen {
					inside++
				} else {
					hidden++ // the run or its lettering lies over it there
				}
			case x < -edge || x > 300+edge || y < -edge || y > 200+edge:
				if seen {
					t.Errorf("the picture is seen at %.0f, %.0f of it, where it ends", x, y)
				}
				beside++
			}
		}
	}
	t.Logf("%d places lie in the picture, %d under the run, %d beside it", inside, hidden, beside)
	if inside < 100 || hidden > inside/5 || beside < 10 {
		t.Errorf("the picture is seen at %d places of it and not at %d; %d were looked at beside it", inside, hidden, beside)
	}

	seenAt := where(150, 100)
	for range 20 {
		if p.green(seenAt) {
			break
		}
		seenAt += 15 * turn / complex(cmplx.Abs(turn), 0)
	}
	p.Click(".underlay .which input[type=checkbox]")
	time.Sleep(300 * time.Millisecond)
	if p.green(seenAt) {
		t.Error("it is switched off and still drawn")
	}
	p.Click(".underlay .which input[type=checkbox]")
	p.Fill("#picture-2-0", "150")
	p.Fill("#picture-2-1", "100")
	p.Run(nil, "const s = document.querySelector('#picture-2-node'); s.value = arguments[0]; s.dispatchEvent(new Event('change', {bubbles: true}))", one)
	p.Says("the picture is stretched there by")
	p.Reload()
	p.planned()
	p.Until(wait, "return document.querySelector('.underlay .which input[type=checkbox]')")
	time.Sleep(300 * time.Millisecond)
	if !p.green(seenAt) {
		t.Error("it is not drawn when the page comes again")
	}
	if j := onServer(t, s.address, "hand-troughs", 1); len(j.Heads) != 1 {
		t.Error("something went up")
	}
	p.press("picture under the plan")
	p.press("take it away")
	p.Until(wait, "return !document.querySelector('.underlay .which input[type=checkbox]')")
	p.faultless()
}
