package e2e

import (
	_ "embed"
	"slices"
	"testing"
	"time"
)

// What has to be told from its ground (WCAG 2.2, 1.4.3 and 1.4.11): lettering, and lines that carry a meaning.
const (
	leastText = 4.5
	leastLine = 3.0
	places    = 3 // at so many places a line has to be read for their middle one to be how it stands out
)

// faint are the colours of lines that only help the eye: grids and the contours between the main ones. Nothing is said by them alone.
var faint = []string{"#d9d4c7", "#9a9a9a"}

//go:embed testdata/inks.js
var inks string

// ink is one text, or all lines of one colour and width on one canvas, and how they stand out where they are seen.
type ink struct {
	Canvas, Kind, Colour, Says string
	Contrast                   float64
	Samples                    int
}

// TestWhatIsDrawnStandsOut reads pixels of strip, long section and plan where text and lines were drawn, and holds their contrast
// against what lies around them, in the light and in the sun view, over the whole run and close to it.
func TestWhatIsDrawnStandsOut(t *testing.T) {
	t.Parallel()
	s := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
	p := open(t, "chromium", "", s.address)
	p.Before(inks)
	p.to("/")
	p.readsWhatIsThere()
	few := map[string]ink{} // lines read at fewer places than a middle can be told of, where they stood out most
	judged := map[string]bool{}
	for _, job := range []string{"tram-depot", "battery-yard"} {
		p.to("/jobs/" + job + "/route")
		p.Run(nil, "document.querySelector('.strip').focus()")
		p.Keys("\uE014") // a unit is selected
		p.Until(wait, "return document.querySelector('.card h2')")
		for _, look := range []struct {
			name  string
			close bool
		}{{"sun", false}, {"light", false}, {"sun", true}, {"light", true}} {
			if look.close {
				p.Run(nil, "document.querySelectorAll('[aria-label=closer], [aria-label=\"plan closer\"]').forEach(b => { for (let i = 0; i < 4; i++) b.click() })")
				time.Sleep(700 * time.Millisecond) // the plan follows what is selected: what is read has to lie where it was drawn
			}
			p.Run(nil, "drawnInks.begin(); [...document.querySelectorAll('button')].find(b => b.innerText === 'sun').click()") // all is drawn anew
			time.Sleep(700 * time.Millisecond)
			var drawn []ink
			p.Run(&drawn, "return drawnInks.end()")
			where := job + ", " + look.name + " view"
			if look.close {
				where += ", close"
			}
			inksHeld(t, where, drawn)
			for _, d := range drawn {
				key := look.name + " view: " + d.Canvas + " " + d.Colour
				if judged[key] = judged[key] || d.Samples >= places; d.Kind == "line" && d.Samples < places && d.Contrast > few[key].Contrast {
					few[key] = d
				}
			}
		}
	}
	for key, d := range few {
		if !judged[key] && d.Contrast < leastLine && !slices.Contains(faint, d.Colour) {
			t.Errorf("%s: a line of %s stands out by %.2f:1 at most, not by %.1f:1", key, d.Says, d.Contrast, leastLine)
		}
	}
	p.faultless()
}

// readsWhatIsThere draws pale text and a pale line of a known contrast and sees them found: #999999 on white is 2.85:1.
func (p *page) readsWhatIsThere() {
	p.t.Helper()
	var drawn []ink
	p.Run(&drawn, `const c = document.createElement("canvas"); c.className = "strip"; c.style.background = "#ffffff"; c.width = 200; c.height = 80; document.body.append(c);
		const g = c.getContext("2d"); drawnInks.begin();
		g.fillStyle = g.strokeStyle = "#999999"; g.font = "700 30px sans-serif"; g.fillText("HHH", 20, 40);
		g.lineWidth = 3; g.beginPath(); g.moveTo(10, 60.5); g.lineTo(190, 60.5); g.stroke();
		const found = drawnInks.end(); c.remove(); return found`)
	if len(drawn) != 2 || drawn[0].Kind == drawn[1].Kind {
		p.t.Fatalf("of a text and a line were read: %+v", drawn)
	}
	for _, d := range drawn {
		if d.Contrast < 2.8 || d.Contrast > 2.9 {
			p.t.Errorf("a %s of 2.85:1 was read as %.3f:1", d.Kind, d.Contrast)
		}
	}
}

func inksHeld(t *testing.T, where string, drawn []ink) {
	t.Helper()
	count := map[string]int{}
	for _, d := range drawn {
		count[d.Canvas+" "+d.Kind]++
		least := leastText
		if d.Kind == "line" {
			least = leastLine
			if slices.Contains(faint, d.Colour) || d.Samples < places { // such a place may lie under something else
				continue
			}
		} else if slices.Contains(faint, d.Colour) {
			t.Errorf("%s: %s: %q is written in %s, which only helps the eye", where, d.Canvas, d.Says, d.Colour)
		}
		if d.Contrast < least {
			t.Errorf("%s: %s: %s %s %q stands out by %.2f:1 only, not by %.1f:1 (%d samples)", where, d.Canvas, d.Kind, d.Colour, d.Says, d.Contrast, least, d.Samples)
		}
	}
	for _, of := range []string{"strip text", "strip line", "section text", "section line", "plan text", "plan line"} {
		if count[of] == 0 {
			t.Errorf("%s: nothing was read of %s: %v", where, of, count)
		}
	}
	t.Logf("%s: %v", where, count)
}
