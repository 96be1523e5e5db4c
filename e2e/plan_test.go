package e2e

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"trenchwright/tools/browser"
)

const (
	up     = "\uE013"
	escape = "\uE00C"
)

// drawnPlan is what tests need of the screen of a job: where things lie in plan.
type drawnPlan struct {
	Nodes []struct {
		Key, ID string
		At      [2]float64 `json:"at_m"`
	}
	Plan struct {
		Lines []struct {
			Key, Kind string
			Line      []float64 `json:"line_m"`
			Closed    bool
		}
		Legs []struct {
			Curves []struct {
				Key    string
				Radius float64    `json:"radius_m"`
				Corner [2]float64 `json:"corner_m"`
				Begin  [2]float64 `json:"begin_m"`
				Label  string
			}
		}
	}
}

// drawn asks the server for the screen of a job's newest revision, as the page asks for it.
func (p *page) drawn(job string) (s drawnPlan) {
	p.t.Helper()
	var hash string
	p.Await(&hash, `const app = await (await fetch([...document.scripts].find(s => s.src).src)).text(); return app.match(/\/a\/core-\w+\.wasm/)[0]`)
	var j jobOnServer
	read := func(path string, into any) {
		status, b := asked(p.t, p.at+path)
		if status != 200 {
			p.t.Fatalf("%s: %d %s", path, status, b)
		}
		if err := json.Unmarshal(b, into); err != nil {
			p.t.Fatal(err)
		}
	}
	read("/api/jobs/"+job, &j)
	read("/api/revisions/"+j.Heads[0]+"/screen?core="+hash, &s)
	return s
}

func (s drawnPlan) node(id string) [2]float64 {
	for _, n := range s.Nodes {
		if n.ID == id {
			return n.At
		}
	}
	return [2]float64{math.NaN(), math.NaN()}
}

// spot is where a place of the plan lies in the window, once the canvas stands in the middle of it.
func (p *page) spot(at [2]float64) browser.Step {
	p.t.Helper()
	var xy [2]float64
	p.Until(wait, "return document.querySelector('.plan canvas')?.frame")
	for before := [2]float64{-1, -1}; xy != before; time.Sleep(200 * time.Millisecond) { // until the page stands still
		before = xy
		p.Run(&xy, `const c = document.querySelector(".plan canvas"); c.scrollIntoView({block: "center"}); const r = c.getBoundingClientRect(), f = c.frame;
			return [r.left + f.x(arguments[0]), r.top + f.y(arguments[1])]`, at[0], at[1])
	}
	return browser.Step{X: int(math.Round(xy[0])), Y: int(math.Round(xy[1]))}
}

func by(s browser.Step, dx, dy, ms int) browser.Step {
	return browser.Step{X: s.X + dx, Y: s.Y + dy, MS: ms}
}

// notes waits until the plan's note has a text in it.
func (p *page) notes(text string) {
	p.t.Helper()
	var said string
	for end := time.Now().Add(wait); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		p.Run(&said, "return document.querySelector('.note-of-plan').innerText")
		if strings.Contains(said, text) {
			return
		}
	}
	p.t.Fatalf("%s: the plan notes %q, not %q", p.Engine, said, text)
}

func (p *page) card(title string) {
	p.t.Helper()
	p.Until(wait, "return document.querySelector('.card h2')?.innerText.replace(/\\s+/g, ' ').includes(arguments[0])", title)
}

// TestBendsAreDraggedAndSayWhatDrawsThem drags bends with a pointer that presses and drags at once: the plan says what a place is
// drawn to while the hand moves, shift and a button are without it, Escape puts everything back. A finger has to tap first.
func TestBendsAreDraggedAndSayWhatDrawsThem(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, _ := begun(t, engine, "/jobs/tram-depot/route")
		p.Until(wait, "return document.querySelector('.rows tbody button.link')")
		was := p.drawn("tram-depot")

		at := p.spot(was.node("B2"))
		p.Hold(at, by(at, 4, 20, 50), by(at, 10, 30, 50))
		p.notes("B2 ")
		p.card("B2") // pressing selected it
		p.notes("hold shift")
		p.Keys(escape)
		p.notes("Nothing was moved.")
		p.LetGo()
		p.Until(wait, "return document.querySelector('.plan canvas').frame")
		p.saved(1)

		// to where leg A goes straight on
		b1, from := was.node("B1"), was.node("S")
		far := 30 / math.Hypot(b1[0]-from[0], b1[1]-from[1])
		on := p.spot([2]float64{b1[0] + (b1[0]-from[0])*far, b1[1] + (b1[1]-from[1])*far})
		at = p.spot(was.node("B2"))
		p.Hold(at, by(at, 0, 12, 50), on)
		p.notes("B2 straight on from leg A")
		p.LetGo()
		p.saved(2)
		p.planned()
		p.press("undo")
		p.planned()
		p.saved(3)

		// without: by the button, and as before with it
		p.unsaidNote()
		p.press("draw to points")
		p.notes("drawn to nothing")
		on = p.spot([2]float64{b1[0] + (b1[0]-from[0])*far, b1[1] + (b1[1]-from[1])*far})
		at = p.spot(was.node("B2"))
		p.Hold(at, by(at, 0, 12, 50), on)
		p.notes("B2 where the hand is")
		p.Keys(escape)
		p.LetGo()
		p.press("draw to points")
		p.saved(3)

		if engine != "chromium" {
			t.Log("webkit's driver has no finger: what a finger does is tried in chromium alone")
			p.faultless()
			return
		}
		p.unsaidNote()
		at = p.spot(was.node("B4"))
		p.Finger(at, by(at, 0, 30, 60), by(at, 0, 60, 60))
		p.notes("to move B4, tap it first")
		p.press("whole plan")
		p.Finger(p.spot(was.node("B6")))
		p.card("B6")
		p.planned()
		at = p.spot(was.node("B6"))
		p.Finger(at, by(at, 0, 6, 60)) // trembles: nothing is moved by that
		p.Finger(at, by(at, 0, 12, 60), by(at, 0, 16, 200))
		p.saved(4)
		p.faultless()
	})
}

// TestRadiusIsDragged drags the end of an arc: its radius goes by full steps, the leg is laid anew, what cannot be is refused with
// words; and the same by typing, by buttons and by keys.
func TestRadiusIsDragged(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, s := begun(t, engine, "/jobs/tram-depot/route")
		p.Until(wait, "return document.querySelector('.rows tbody button.link')")
		p.Run(nil, "for (let i = 0; i < 3; i++) document.querySelector('[aria-label=\"plan closer\"]').click()")
		p.Go(s.address + "/jobs/tram-depot/route#curve/F/1")
		p.card("Curve")
		radius := func() (key float64, label string, grip [2]float64) {
			was := p.drawn("tram-depot")
			for _, l := range was.Plan.Legs {
				for _, c := range l.Curves {
					return c.Radius, c.Label, [2]float64{c.Corner[0] + c.Begin[0]*c.Radius/1e6, c.Corner[1] + c.Begin[1]*c.Radius/1e6}
				}
			}
			t.Fatal("the run has no curve")
			return 0, "", grip
		}
		r, _, grip := radius()
		at := p.spot(grip)
		p.Hold(at, by(at, 4, 2, 50), by(at, 8, 0, 50))
		p.notes("to full")
		p.Move(by(at, 130, 8, 50)) // nearly to its corner
		p.notes("impossible")
		p.LetGo()
		p.notes("stays at R 450.000 m")
		p.Move(by(at, 0, 200, 50))
		p.saved(1)

		at = p.spot(grip)
		p.Hold(at, by(at, -6, 0, 50), by(at, -60, 0, 50))
		p.notes("Try: a radius of at most")
		p.Move(by(at, -18, 0, 50)) // a little wider
		p.notes("00 m, to full 25 m")
		p.LetGo()
		p.saved(2)
		p.planned()
		wider, label, _ := radius()
		if r != 450 || wider <= 450 || wider > 550 || math.Mod(wider, 25) != 0 {
			t.Errorf("the radius was dragged from %v m to %v m", r, wider)
		}
		p.Until(wait, "return document.querySelector('.deeds h3').innerText.includes(arguments[0])", label)

		p.Fill("#curve-radius", "455 m")
		p.press("make it so")
		p.Until(wait, "return document.querySelector('.deeds .outcome')")
		p.saved(3)
		p.press("wider")
		p.saved(4)
		if is, _, _ := radius(); is != 465 {
			t.Errorf("typed 455 m and made wider by 10 m, the radius is %v m", is)
		}
		p.Fill("#curve-radius", "9 km")
		p.press("make it so")
		p.Until(wait, "return document.querySelector('.deeds .outcome.fault')?.innerText.includes('straight')")
		p.planned()
		p.Run(nil, "document.querySelector('.plan canvas').focus()")
		p.Keys(up)
		p.Keys(up)
		p.saved(5)
		if is, _, _ := radius(); is != 467 {
			t.Errorf("made wider by two keys, the radius is %v m", is)
		}
		p.Fill("#curve-radius", "-5 m")
		p.press("make it so")
		p.Until(wait, "return document.querySelector('.deeds .outcome.fault')?.innerText.length > 20")
		for n, want := range []float64{465, 455} { // what was refused left nothing to be undone
			p.press("undo")
			p.Says("undone: ")
			p.saved(6 + n)
			if is, label, _ := radius(); is != want {
				t.Errorf("undone, the radius is %v m, %q, not %v m", is, label, want)
			}
		}
		p.Go(s.address + "/jobs/tram-depot/route#node/B5")
		p.card("B5")
		was := p.spot(p.drawn("tram-depot").node("B5"))
		p.Run(nil, "document.querySelector('[aria-label=\"plan closer\"]').click()")
		if is := p.spot(p.drawn("tram-depot").node("B5")); math.Hypot(float64(is.X-was.X), float64(is.Y-was.Y)) > 2 {
			t.Errorf("the plan closes in on something else than what is selected: from %v to %v", was, is)
		}
		p.faultless()
	})
}

// TestThingsAreMetEverywhere selects what crosses or stands in the run: on the plan, by its name on the plan and on the strip, by keys
// on both, and by one tap on a row, at the desk and on a phone.
func TestThingsAreMetEverywhere(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, s := begun(t, engine, "/jobs/tram-depot/route")
		p.Until(wait, "return document.querySelector('.rows tbody button.link')")
		was := p.drawn("tram-depot")
		close := func() {
			p.unselect() // or it would close in on that
			p.press("whole plan")
			p.Run(nil, "for (let i = 0; i < 6; i++) document.querySelector('[aria-label=\"plan closer\"]').click()")
		}
		met := map[string]bool{}
		for _, l := range was.Plan.Lines {
			if kind := l.Kind; met[kind] {
				continue
			}
			met[l.Kind] = true
			close()
			p.Go(s.address + "/jobs/tram-depot/route#" + l.Key) // brings it into the plan
			p.Until(wait, "return location.hash === '#' + arguments[0] && document.querySelector('.card:not(.hint)')", l.Key)
			p.Until(wait, "return document.querySelector('.plan canvas')?.frame && !/planning|working the run out/.test(document.body.innerText)")
			time.Sleep(300 * time.Millisecond)
			end := len(l.Line) - 2
			at := [2]float64{l.Line[end], l.Line[end+1]}
			if l.Closed { // in the middle of an edge across the run
				at = [2]float64{(l.Line[end] + l.Line[0]*19) / 20, (l.Line[end+1] + l.Line[1]*19) / 20}
			}
			p.unselect()
			spot := p.spot(at)
			var window [4]float64
			p.Run(&window, "const r = document.querySelector('.plan canvas').getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom]")
			if float64(spot.X) < window[0]+5 || float64(spot.X) > window[2]-5 || float64(spot.Y) < window[1]+5 || float64(spot.Y) > window[3]-5 {
				t.Logf("%s lies out of the view by its end", l.Key)
				continue
			}
			p.Pull(spot)
			p.selected(l.Key)
			t.Log(engine, "met in plan:", l.Key)
		}
		for _, kind := range []string{"service", "crossing", "entry", "zone", "support"} {
			if !met[kind] {
				t.Errorf("no %s was there to be met", kind)
			}
		}

		// by their names
		for _, css := range []string{".strip", ".plan canvas"} {
			p.unselect()
			close()
			p.Go(s.address + "/jobs/tram-depot/route#service/D/D-w1")
			p.Until(wait, "return document.querySelector('.card:not(.hint)') && document.querySelector(arguments[0])?.written?.some(l => l.key === 'service/D/D-w1')", css)
			time.Sleep(300 * time.Millisecond)
			var spot [2]float64
			const where = `const c = document.querySelector(arguments[0]); c.scrollIntoView({block: "center"}); const r = c.getBoundingClientRect(), b = c.written.find(l => l.key === "service/D/D-w1").box;
				return [r.left + (b[0] + b[2]) / 2, r.top + (b[1] + b[3]) / 2]`
			p.unselect()
			p.Run(&spot, where, css)
			p.Pull(browser.Step{X: int(spot[0]), Y: int(spot[1])})
			p.selected("service/D/D-w1")
			if css == ".plan canvas" { // what is moved on its card is shown to be meant while the plan moves under the hand
				p.unselect()
				p.Run(&spot, where, css)
				held := browser.Step{X: int(spot[0]), Y: int(spot[1])}
				p.Hold(held, by(held, 10, 6, 50), by(held, 24, 12, 50))
				p.selected("service/D/D-w1")
				p.notes("is moved on its card")
				p.LetGo()
			}
		}

		// by keys, in the order of the strip, on both
		for _, css := range []string{".strip", ".plan canvas"} {
			seen := map[string]bool{}
			p.Run(nil, "document.querySelector(arguments[0]).focus()", css)
			for range 20 {
				p.Keys("t")
				time.Sleep(60 * time.Millisecond)
				var at string
				p.Run(&at, "return decodeURIComponent(location.hash.slice(1))")
				seen[strings.SplitN(at, "/", 2)[0]] = true
			}
			for _, kind := range []string{"service", "crossing", "entry", "zone", "support", "forced"} {
				if !seen[kind] {
					t.Errorf("%s: T does not come to a %s: %v", css, kind, seen)
				}
			}
		}

		// by a row, at both widths
		for _, wide := range []int{1440, 360} {
			p.Size(wide, 800)
			p.Go(s.address + "/jobs/tram-depot/route")
			p.planned()
			p.chosen(map[int]string{1440: "Where no joint may stand", 360: "Buried services"}[wide])
			p.Fill(".tables input[type=search]", "D-w1")
			p.Until(wait, "return [...document.querySelectorAll('.rows tbody button.link')].some(d => d.innerText === 'D-w1')")
			p.Run(nil, "[...document.querySelectorAll('.rows tbody button.link')].find(b => b.innerText === 'D-w1').click()")
			p.card("D-w1")
			p.Until(wait, `const r = document.querySelector(".card h2").getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight`)
		}
		p.faultless()
	})
}

// saved waits until the tram depot has so many revisions on the server, and is planned.
func (p *page) saved(revisions int) {
	p.t.Helper()
	onServer(p.t, p.at, "tram-depot", revisions)
	time.Sleep(100 * time.Millisecond)
	p.planned()
}

// unsaidNote puts the page's note away, which lies over its foot.
func (p *page) unsaidNote() {
	p.t.Helper()
	p.Run(nil, "[...document.querySelectorAll('.told button')].find(b => b.innerText === 'close this note')?.click()")
	p.Until(wait, "return ![...document.querySelectorAll('.told button')].some(b => b.innerText === 'close this note')")
}

// selected waits until a thing is.
func (p *page) selected(key string) {
	p.t.Helper()
	var hash string
	for end := time.Now().Add(wait); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if p.Run(&hash, "return decodeURIComponent(location.hash.slice(1))"); hash == key {
			return
		}
	}
	p.t.Fatalf("%s: %q is selected, not %q", p.Engine, hash, key)
}

// unselect taps where nothing is.
func (p *page) unselect() {
	p.t.Helper()
	var box [4]float64
	p.Run(&box, `const c = document.querySelector(".plan canvas"); c.scrollIntoView({block: "center"}); const r = c.getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom]`)
	for _, at := range [][2]float64{{box[2] - 14, box[1] + 100}, {box[2] - 14, box[3] - 60}, {box[0] + 14, box[3] - 60}, {box[0] + 14, box[1] + 100}} {
		p.Pull(browser.Step{X: int(at[0]), Y: int(at[1])})
		time.Sleep(100 * time.Millisecond)
		var hash string
		p.Run(&hash, "return location.hash")
		if hash == "" {
			return
		}
	}
	p.t.Fatal("there is no empty corner of the plan")
}

// chosen opens the table whose name begins so: by its button, or on a phone from the list.
func (p *page) chosen(begins string) {
	p.t.Helper()
	p.Until(wait, `const b = [...document.querySelectorAll(".tables .which button, .tables .which option")].find(b => b.textContent.startsWith(arguments[0]));
		if (b?.matches("option")) {
			b.parentElement.value = b.value;
			b.parentElement.dispatchEvent(new Event("change", {bubbles: true}));
		} else b?.click();
		return b`, begins)
}

// TestNamesOnThePlanLieApart reads where names are written on the plan, over the strip and in the long section, at three widths: the
// whole run, and close at every node and every thing, services side by side among them. None lies over another, none is cut by the
// edge, and what is selected is named.
func TestNamesOnThePlanLieApart(t *testing.T) {
	t.Parallel()
	s := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
	crowded(t, s.address)
	p := open(t, "chromium", "", s.address)
	const bad = `const out = [];
		for (const css of [".plan canvas", ".strip", ".section"]) {
			const c = document.querySelector(css);
			if (!c) continue; // a phone has no long section
			const all = c.written, r = c.getBoundingClientRect();
			for (const [i, a] of all.entries()) {
				if (a.box[0] < 0 || a.box[1] < 0 || a.box[2] > r.width || a.box[3] > r.height) out.push(css + ": " + a.text + " is cut");
				for (const b of all.slice(0, i)) if (a.box[0] < b.box[2] && a.box[2] > b.box[0] && a.box[1] < b.box[3] && a.box[3] > b.box[1]) out.push(css + ": " + a.text + " over " + b.text);
			}
		}
		return [out, document.querySelector(".plan canvas").written.map(a => a.key)]`
	names := 0
	for _, job := range []string{"tram-depot", "battery-yard", "hand-troughs"} {
		for _, w := range widths {
			p.Size(w.wide, w.high)
			p.to("/jobs/" + job + "/route")
			p.Until(wait, "return document.querySelector('.plan canvas')?.written && document.querySelector('.strip').written")
			looked := func(at string) (keys []string) {
				time.Sleep(120 * time.Millisecond)
				var got [2][]string
				p.Run(&got, bad)
				for _, text := range got[0] {
					t.Errorf("%s at %d px, %s: %s", job, w.wide, at, text)
				}
				names += len(got[1])
				return got[1]
			}
			looked("whole")
			was := p.drawn(job)
			var keys []string
			for _, n := range was.Nodes {
				keys = append(keys, n.Key)
			}
			for _, l := range was.Plan.Lines {
				if l.Kind != "support" {
					keys = append(keys, l.Key)
				}
			}
			p.Run(nil, "for (let i = 0; i < 6; i++) document.querySelector('[aria-label=\"plan closer\"]').click()")
			for _, key := range keys {
				p.Run(nil, "location.hash = arguments[0]", key)
				p.Until(wait, "return document.querySelector('.plan canvas').written.some(l => l.key === arguments[0])", key)
				if strings.HasPrefix(key, "service/") {
					p.Until(wait, "return ['.strip', '.section'].every(css => document.querySelector(css)?.written.some(l => l.key === arguments[0]) ?? true)", key)
				}
				if named := looked(key); !slices.Contains(named, key) {
					t.Errorf("%s at %d px: %s is selected and not named", job, w.wide, key)
				}
			}
		}
	}
	t.Logf("%d names looked at", names)
	p.faultless()
}
