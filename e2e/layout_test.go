package e2e

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// How far a page may jump while it comes, as browsers count it: the part of the window that moved, times how far, summed up.
const mostJump = 0.1

// What a browser saw jump since the page was opened: how far, and what was moved.
const jumps = `const seen = []; new PerformanceObserver(l => seen.push(...l.getEntries())).observe({type: "layout-shift", buffered: true});
await new Promise(later => setTimeout(later, 300));
const of = (n) => n ? n.nodeName.toLowerCase() + "." + (n.className || n.parentElement?.className || "") + " " + (n.textContent ?? "").slice(0, 30) : "nothing";
return {by: seen.reduce((sum, e) => sum + e.value, 0), what: seen.map(e => e.value.toFixed(3) + " at " + Math.round(e.startTime) + " ms: " + e.sources.map(s => of(s.node) + " " + Math.round(s.previousRect.top) + "+" + Math.round(s.previousRect.height) + " → " + Math.round(s.currentRect.top) + "+" + Math.round(s.currentRect.height)).join("; "))}`

// TestPageKeepsItsPlaces opens stages at three widths: nothing jumps while they come, and however far somebody scrolls, the strip
// stays in view, at the same place. It runs alone: what comes late for want of a core makes a page jump more often.
func TestPageKeepsItsPlaces(t *testing.T) {
	p, s := begun(t, "chromium", "/")
	p.Says("ready for no signal")
	for _, w := range widths {
		p.Size(w.wide, w.high)
		for _, st := range []struct{ at, job string }{{"route#node/B5", "tram-depot"}, {"dig#place/B/8000", "battery-yard"}} {
			where := fmt.Sprintf("%s of %s at %d px", st.at, st.job, w.wide)
			stood(p.Browser, s.address+"/jobs/"+st.job+"/"+st.at)
			var jumped struct {
				By   float64  `json:"by"`
				What []string `json:"what"`
			}
			p.Await(&jumped, jumps)
			t.Logf("%s jumps by %.3f", where, jumped.By)
			if jumped.By > mostJump {
				t.Errorf("%s jumps by %.3f while it comes, more than %g:\n%s", where, jumped.By, mostJump, strings.Join(jumped.What, "\n"))
			}
			for _, far := range []int{300, 700, 100000} {
				p.Run(nil, "scrollTo(0, arguments[0])", far)
				time.Sleep(100 * time.Millisecond)
				var top, high float64
				p.Run(&top, "return document.querySelector('.strip').getBoundingClientRect().top")
				p.Run(&high, "return document.querySelector('.strip').getBoundingClientRect().height")
				if far > 400 && top != 0 || top < 0 || high < 80 {
					t.Errorf("%s, scrolled by %d: the strip stands at %g, %g high", where, far, top, high)
				}
			}
		}
	}
	p.faultless()
}

// ways are those that a phone offers beside the next thing, with what each leads to.
var ways = []struct{ name, to string }{
	{"Change Buried service A-w1", ".card > .change[open] input"},
	{"From above, cut across", ".above .plan canvas"},
	{"Tables", ".tables .rows"},
	{"Put something here", ".putting[open] button"},
	{"On the spot", ".onspot[open] .moments button"},
	{"Between two places", ".between[open] input"},
	{"What it stands on", ".hand > details[open] .which button"},
	{"Print, papers and files", ".hand > details[open] .papers button"},
	{"Issue, and what changed since", ".issue[open] input"},
}

// TestPhone holds a phone of 360 px to what it is for: the head stays small whatever has not been sent, the next thing lies under
// the thumb, and everything else is two taps away.
func TestPhone(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		data := t.TempDir()
		s := serve(t, "--data", data, "--addr", "127.0.0.1:0")
		p := open(t, engine, "", s.address).of(s)
		p.Size(360, 780)
		p.to(service)
		p.Until(wait, "return document.querySelector('.card .change') && document.querySelector('.large-figures dd') && document.querySelector('.rows tbody tr td')")
		p.Says("ready for no signal")
		for _, way := range ways {
			p.Until(wait, "const b = [...document.querySelectorAll('.next > button')].find(b => b.innerText.trim() === 'find, change, print'); b.click(); return document.querySelector('.else[open] .ways button')")
			p.Until(wait, "const b = [...document.querySelectorAll('.else .ways button')].find(b => b.innerText.trim() === arguments[0]); b?.click(); return b", way.name)
			var at, between [2]float64
			seen := false
			for end := time.Now().Add(wait); !seen && time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
				p.Run(&at, "const r = document.querySelector(arguments[0])?.getBoundingClientRect(); return r ? [r.top, r.bottom] : [-1, -1]", way.to)
				p.Run(&between, "return [document.querySelector('.strip').getBoundingClientRect().bottom, document.querySelector('.next').getBoundingClientRect().top]")
				seen = at[0] >= between[0]-1 && at[0] <= between[1]-24
			}
			if !seen {
				t.Errorf("%s: %q leads to %q from %g to %g, between the strip at %g and the bar at %g it is not seen", engine, way.name, way.to, at[0], at[1], between[0], between[1])
			}
		}
		var small []string
		p.Run(&small, `return [...document.querySelectorAll("button, summary, input:not([type=checkbox]), select")].filter(e => e.checkVisibility({contentVisibilityAuto: true}) && !e.classList.contains("link") && !e.closest("thead"))
			.map(e => [e, e.getBoundingClientRect()]).filter(([, r]) => r.height < 43.5 || r.width < 43.5).map(([e, r]) => e.innerText + " " + e.className + " " + r.width + " by " + r.height)`)
		for _, e := range small {
			t.Errorf("%s: too small for a thumb: %s", engine, e)
		}

		inGloves(p, s)
		p.Size(360, 780)
		p.to(service)
		p.Until(wait, "return document.querySelector('.card > .change')")

		s.stop()
		p.Run(nil, "scrollTo(0, 0)")
		p.Says("no server")
		p.Run(nil, "document.querySelector('.card > .change').open = true")
		p.set(width, "60 mm")
		p.Says("1 not yet sent")
		p.Until(wait, "return document.querySelector('.foot .told .words')")
		var covered string
		p.Run(&covered, `const i = document.querySelector(arguments[0]).getBoundingClientRect(), n = document.querySelector(".foot .told").getBoundingClientRect(), b = document.querySelector(".foot .next").getBoundingClientRect();
			return i.bottom > n.top || b.top - n.bottom - document.querySelector(".foot .doing").offsetHeight > 1 ? `+"`the field ends at ${i.bottom}, the note stands from ${n.top} to ${n.bottom}, the bar begins at ${b.top}`"+` : ""`, "#field-"+width)
		if covered != "" {
			t.Errorf("%s: a note covers what was changed, or leaves a gap: %s", engine, covered)
		}
		p.Run(nil, "scrollTo(0, 0)")
		var head, strip float64
		p.Run(&head, "return document.querySelector('.head').getBoundingClientRect().height")
		p.Run(&strip, "return document.querySelector('.strip').getBoundingClientRect().bottom")
		if head > 96 || strip > 260 {
			t.Errorf("%s: with something unsent the head is %g px high, and the card begins at %g", engine, head, strip)
		}
		p.Run(nil, "document.querySelector('.short > summary').click()")
		p.Says("save the unsent changes as a file")
		s.again(t, data)
		onServer(t, s.address, "hand-troughs", 2)
		p.faultless()
	})
}
