package e2e

import "testing"

// figure types a figure into a field of the open record, by the keys of its keypad.
func (p *page) figure(label, keys string) {
	p.t.Helper()
	p.Until(wait, `const f = [...document.querySelectorAll(".recorder .figure-button")].find(b => b.querySelector("span").innerText === arguments[0]);
		if (f?.ariaExpanded !== "true" && f?.getAttribute("aria-expanded") !== "true") f?.click(); return document.querySelector(".recorder .keypad")?.getAttribute("aria-label") === arguments[0]`, label)
	for _, k := range keys {
		p.Until(wait, "const k = [...document.querySelectorAll('.recorder .keypad .keys button')].find(b => b.innerText === arguments[0]); k?.click(); return k", string(k))
	}
}

// gap records the gap of the first joint, by somebody who says what they are there as.
func (p *page) gap(figure, who, as string) {
	p.t.Helper()
	p.press("Gap")
	p.figure("left wall", figure)
	p.figure("right wall", figure)
	p.Until(wait, "const sure = document.querySelector('.recorder .sure'); if (!sure) document.querySelector('.recorder .main:not(:disabled)')?.click(); return sure")
	p.Fill(".sure .who input", who)
	p.Run(nil, "const s = document.querySelector('.sure .as'); if (arguments[0]) { s.value = arguments[0]; s.dispatchEvent(new Event('change', { bubbles: true })); }", as)
	p.press("yes, keep it")
	p.Says("Kept on this phone. ")
	p.press("good")
}

// A gap is measured by a foreman, then on the same phone by the inspector, then by the foreman again: each says once what they are
// there as, and the office has the inspector's reading beside those of who builds.
func TestThePhoneSaysWhoIsThereAsWhat(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, _ := begun(t, engine, "/jobs/hand-troughs/set", 360, 640)
		p.gap("9", "Ada", "foreman")
		p.gap("13", "Cy", "inspector")
		p.gap("9", "Ada", "")
		p.Size(1440, 1000)
		p.Until(wait, "const d = document.querySelector('.sitenow'); if (d) d.open = true; return d?.innerText.includes('gap, left: 9 mm, inspector 13 mm')")
		p.faultless()
	})
}
