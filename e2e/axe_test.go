package e2e

import (
	"fmt"
	"os"
	"testing"

	"trenchwright/tools/browser"
)

// TestNothingStandsInAnybodysWay holds every stage against axe-core's rules for WCAG 2.2, A and AA, on a desk and on a phone, in
// the light and in the sun view.
func TestNothingStandsInAnybodysWay(t *testing.T) {
	t.Parallel()
	axe, err := os.ReadFile("../web/node_modules/axe-core/axe.min.js")
	if err != nil {
		t.Fatal(err)
	}
	s := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
	b := browser.Start(t, "chromium", "")
	b.Go(s.address)
	b.Says("Tram depot")
	held := func(where string) {
		var found []struct {
			ID, Help string
			Nodes    []struct{ HTML, FailureSummary string }
		}
		b.Run(nil, string(axe)+"; window.axe = axe")
		// what lies half under a bar that stays is reached by scrolling: the bars go with the page while it is held against the rules
		b.Run(nil, "document.querySelectorAll('.foot, .run, .else .away').forEach(e => e.style.position = 'static')")
		b.Await(&found, `const r = await axe.run(document, {runOnly: {type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}});
			return r.violations.map(v => ({id: v.id, help: v.help, nodes: v.nodes.slice(0, 4).map(n => ({html: n.html.slice(0, 200), failureSummary: n.failureSummary}))}))`)
		for _, f := range found {
			for _, n := range f.Nodes {
				t.Errorf("%s: %s: %s\n  %s\n  %s", where, f.ID, f.Help, n.HTML, n.FailureSummary)
			}
		}
	}
	held("list of jobs")
	for _, w := range []int{1440, 360} {
		b.Size(w, 900)
		for i, st := range stages {
			turned(b, s.address+"/jobs/tram-depot/"+st.id, st.name)
			if i == 0 {
				b.Run(nil, "document.querySelectorAll('.fold').forEach(d => d.open = true)")
				b.Until(wait, "const l = document.querySelector('.rows tbody button.link'); if (l) l.click(); return l") // rows come and go while a fold opens
				b.Until(wait, "return document.querySelector('.card dl')")
			}
			b.Until(wait, "return document.querySelector('.large-figures dd')")
			held(fmt.Sprintf("%s at %d px", st.name, w))
		}
	}
	opened(b, s.address+"/jobs/tram-depot/route")
	var folds []string
	b.Until(wait, "return document.querySelectorAll('.hand > details').length > 7")
	b.Run(&folds, "return [...document.querySelectorAll('.hand > details > summary')].map(e => e.innerText.trim())")
	for i, name := range folds { // one lies open at a time
		b.Run(nil, "document.querySelectorAll('.hand > details')[arguments[0]].open = true", i)
		b.Until(wait, "const d = document.querySelectorAll('.hand > details'); return d[arguments[0]].open && d[arguments[0]].children.length > 1 && [...d].filter(e => e.open).length === 1", i)
		held(name + ", open, at 360 px")
	}
	b.Run(nil, "[...document.querySelectorAll('.fold, .short')].forEach(d => d.open = true); [...document.querySelectorAll('button')].find(b => b.textContent === 'find, change, print').click()")
	b.Until(wait, "return document.querySelector('.else[open] .ways button')")
	held("find, change, print, at 360 px")
	b.Run(nil, "[...document.querySelectorAll('.else button')].find(b => b.textContent === 'sun').click()")
	held("sun view, find, change, print")
	b.Run(nil, "[...document.querySelectorAll('.else button')].find(b => b.textContent === 'close').click()")
	b.Until(wait, "return !document.querySelector('.else .ways')")
	held("sun view")
	b.Run(nil, "document.querySelectorAll('.foot, .run, .else .away').forEach(e => e.style.position = '')")
	opened(b, s.address+"/jobs/battery-yard/set")
	b.Until(wait, "const r = document.querySelector('.next .record'); r?.click(); return document.querySelector('.recorder .main:not(:disabled)')")
	held("next to set, and its record")
	b.Run(nil, "[...document.querySelectorAll('.recorder button')].find(b => b.textContent === 'one is off its place').click()")
	b.Until(wait, "return document.querySelector('.keypad')")
	held("keypad of feet, inches and sixteenths")
}
