package e2e

import (
	"strings"
	"testing"

	"trenchwright/view/onspot"
)

// Every moment that stops a job is answered on a phone with the server stopped, from the examples that stand in its boxes; and once units
// were recorded as set, from what is recorded.
func TestOnTheSpot(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, s := begun(t, engine, "/jobs/tram-depot/set", 360, 780)
		p.Says("ready for no signal")
		p.Until(wait, "return document.querySelector('.next .record')")
		s.stop()
		p.Until(wait, "const d = document.querySelector('.onspot'); if (d) d.open = true; return d?.querySelectorAll('.moments button').length === arguments[0]", len(onspot.All()))
		for _, m := range onspot.All() {
			p.Until(wait, "const b = [...document.querySelectorAll('.moments button')].find(b => b.innerText === arguments[0]); b?.click(); return document.querySelector('.moment form')", m.Name)
			for _, f := range m.Fields {
				like := f.Like
				switch {
				case f.Name == "missing":
					like = "B-004"
				case m.ID == "level":
					like = "35.86"
				case len(f.Only) > 0 || f.Leave && f.Name != "cable":
					continue
				}
				p.Run(nil, `const l = [...document.querySelectorAll(".moment label")].find(l => l.innerText.startsWith(arguments[0])), i = l.querySelector("input");
					if (i.value) return; i.value = arguments[1]; i.dispatchEvent(new Event("input", { bubbles: true }));`, f.Label, like)
			}
			p.press("answer")
			p.Until(wait, "return document.querySelector('.moment .answered p')")
			var said []string
			p.Run(&said, "return [...document.querySelectorAll('.answered > p:not(.stop)')].map(e => e.className + ' ' + e.innerText)")
			var wide bool
			p.Run(&wide, "return document.documentElement.scrollWidth > innerWidth")
			if all := strings.Join(said, "\n"); len(said) == 0 || strings.Contains(all, "fault ") || strings.Contains(all, "%!") || wide {
				t.Errorf("%s: %s: wide %t:\n%s", engine, m.ID, wide, all)
			}
			p.press("something else")
		}
		p.sets("A-001", false)
		p.Until(wait, "const d = document.querySelector('.onspot'); if (d && !d.open) d.open = true; const b = [...document.querySelectorAll('.moments button')].find(b => b.innerText === 'the machine stands too far away'); b?.click(); return document.querySelector('.moment h3')?.innerText.endsWith('at A-006') && [...document.querySelectorAll('.moment small')].some(e => e.innerText === 'the plan: A-006')")
		p.Run(nil, `for (const [label, text] of [["radius where it is picked up", "3 m"], ["radius where it is set", "3.5 m"]]) {
			const i = [...document.querySelectorAll(".moment label")].find(l => l.innerText.startsWith(label)).querySelector("input");
			i.value = text; i.dispatchEvent(new Event("input", { bubbles: true }));
		}`)
		p.press("answer")
		p.Until(wait, "return document.querySelector('.moment .answered')?.innerText.includes('recorded so far, the next to set on leg A is A-006')")
		p.faultless()
	})
}
