package e2e

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"
)

const (
	tab   = "\uE004"
	enter = "\uE007"
	right = "\uE014"

	demoNodes = 11 // of the tram depot
)

// What has the focus: its tag and class, and what it is called.
const focused = `const e = document.activeElement; return [e.tagName.toLowerCase() + (e.className && typeof e.className === "string" ? "." + e.className.split(" ")[0] : "") + (e.closest(".plan") && e.tagName === "CANVAS" ? ".plan" : ""), e.getAttribute("aria-label") ?? e.innerText ?? ""]`

// walk goes through the page by the tabulator from its beginning until the focus comes to an element of which stop says yes, and
// gives what was passed.
func (p *page) walk(stop func(what string) bool) (passed []string) {
	p.t.Helper()
	p.Run(nil, "document.activeElement.blur(); scrollTo(0, 0)")
	for range 400 {
		p.Keys(tab)
		var at [2]string
		p.Run(&at, focused)
		passed = append(passed, at[0])
		if stop(at[0]) {
			return passed
		}
	}
	p.t.Fatalf("400 steps by the tabulator do not come there; they came to %v", passed)
	return nil
}

// TestCanvasesHaveTwins walks the desk by keys alone. Strip and plan take the focus and step from thing to thing, each thing on a
// card in words; every unit that is drawn has its row in a table that keys come to; what is selected in one is selected in the
// other. Canvases that take no keys of their own say where the same stands in words.
func TestCanvasesHaveTwins(t *testing.T) {
	t.Parallel()
	p, _ := begun(t, "chromium", "/jobs/tram-depot/set")
	p.Until(wait, "return document.querySelector('.rows tbody button.link')")

	// every canvas is named, and either takes the focus or says where its figures stand
	for _, view := range []string{"from above", "cut across", "solid"} {
		p.press(view)
		p.Until(wait, "return document.querySelector({'from above': '.plan canvas', 'cut across': '.across canvas', solid: '.solid canvas'}[arguments[0]])", view)
		var nameless []string
		p.Run(&nameless, `return [...document.querySelectorAll("canvas")].filter(c => !c.getAttribute("aria-label") || !c.getAttribute("role") || (c.tabIndex < 0 && c.getAttribute("role") !== "img")).map(c => c.outerHTML)`)
		if len(nameless) > 0 {
			t.Errorf("%s: canvases without a name or a role: %s", view, nameless)
		}
		if view == "cut across" { // its figures stand beside it
			p.Until(wait, "return document.querySelectorAll('.across dl dd').length > 3")
		}
	}
	p.press("from above")
	p.Until(wait, "return document.querySelector('.plan canvas')")

	// by the tabulator to the strip, and along it
	passed := p.walk(func(what string) bool { return strings.HasPrefix(what, "canvas.strip") })
	t.Logf("the strip after %d steps", len(passed))
	said := func() (text string) {
		p.Run(&text, "return document.querySelector('.strip').getAttribute('aria-valuetext')")
		return text
	}
	var units int
	p.Run(&units, "return Number(document.querySelector('.strip').getAttribute('aria-valuemax'))")
	stepped := map[string]bool{}
	for range units {
		p.Keys(right)
		stepped[strings.SplitN(said(), ",", 2)[0]] = true
	}
	if len(stepped) != units {
		t.Errorf("%d units are drawn, arrows came to %d of them: %v", units, len(stepped), stepped)
	}

	// on to the plan: N goes round all nodes
	p.walk(func(what string) bool { return strings.HasSuffix(what, ".plan") })
	seen := map[string]bool{}
	for range 3 * demoNodes / 2 {
		p.Keys("n")
		time.Sleep(100 * time.Millisecond)
		var at string
		p.Run(&at, "return location.hash")
		seen[at] = true
	}
	if len(seen) != demoNodes {
		t.Errorf("N came to %d nodes, not to all %d: %v", len(seen), demoNodes, seen)
	}

	// on to a table: each unit has its row, and Enter on it selects it on the strip
	if name := p.tableOf(units); name == "" {
		t.Fatalf("no table of this stage has a row for each of %d units", units)
	} else {
		p.press(name)
	}
	p.Until(wait, "return document.querySelector('.rows tbody button.link')")
	p.walk(func(what string) bool { return what == "button.link" })
	p.Keys(enter)
	var mark string
	p.Run(&mark, "return document.activeElement.innerText")
	p.Until(wait, "return document.querySelector('.strip').getAttribute('aria-valuetext').startsWith(arguments[0] + ',')", mark)
	p.Until(wait, "return document.querySelector('.card h2').innerText.includes(arguments[0])", mark)
	if !stepped[mark] {
		t.Errorf("the table has %s, the strip %v", mark, stepped)
	}
	p.Keys(tab, tab)
	var next [2]string
	p.Run(&next, focused)
	if slices.Contains([]string{"body", "html"}, next[0]) {
		t.Error("the focus is lost behind the table's rows")
	}
	p.faultless()
}

// tableOf is the button of a table with so many rows.
func (p *page) tableOf(rows int) (name string) {
	p.t.Helper()
	p.Run(&name, `const b = [...document.querySelectorAll(".tables .which button")].find(b => b.querySelector("span")?.innerText === arguments[0]); return b ? b.innerText.trim() : ""`, fmt.Sprint(rows))
	return name
}
