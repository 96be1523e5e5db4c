package e2e

import (
	"fmt"
)

// What is pressed in the trench is 64 px at least each way, and 12 px from the next such thing: what is smaller or nearer, in one part of
// the page. A hair is left for how browsers round.
const tooNear = `const bad = [];
const name = (e) => (e.innerText || e.getAttribute("aria-label") || e.value || e.className).replace(/\s+/g, " ").slice(0, 30);
for (const part of document.querySelectorAll(arguments[0])) {
	const all = [...part.querySelectorAll("button, summary, select, input:not([type=checkbox])")]
		.filter(e => e.checkVisibility({ contentVisibilityAuto: true }) && !e.matches(".link, .hidden")).map(e => [e, e.getBoundingClientRect()]);
	all.forEach(([e, r], i) => {
		if (r.width < 63.5 || r.height < 63.5) bad.push(name(e) + " is " + Math.round(r.width) + " by " + Math.round(r.height));
		for (const [o, q] of all.slice(i + 1)) {
			const across = Math.max(r.left, q.left) - Math.min(r.right, q.right), down = Math.max(r.top, q.top) - Math.min(r.bottom, q.bottom);
			if (Math.max(across, down) < 11.5) bad.push(name(e) + " and " + name(o) + " lie " + Math.round(Math.max(across, down)) + " apart");
		}
	});
}
return bad`

// gloved holds what a phone shows now to that, and what records to the bottom of the screen.
func (p *page) gloved(where string) {
	p.t.Helper()
	var bad []string
	p.Run(&bad, tooNear, ".onsite, .foot > .next, .making > header, .making > .asked, .making > footer")
	for _, b := range bad {
		p.t.Errorf("%s, %s: %s", p.Engine, where, b)
	}
	var off string
	p.Run(&off, `const m = document.querySelector(".recorder .main, .foot > .next > .main")?.getBoundingClientRect();
		const k = document.querySelector(".recorder .keypad")?.getBoundingClientRect(), a = document.querySelector(".recorder .asked")?.getBoundingClientRect();
		if (m && (m.bottom > innerHeight + 0.5 || m.height < 106)) return "what records stands from " + m.top + " to " + m.bottom + " of " + innerHeight;
		return k && (k.bottom > a.bottom + 0.5 || k.top < a.top - 0.5) ? "the keypad stands from " + k.top + " to " + k.bottom + ", in view is " + a.top + " to " + a.bottom : ""`)
	if off != "" {
		p.t.Errorf("%s, %s: %s", p.Engine, where, off)
	}
}

// inGloves looks at the first screen of a phone and at what is recorded there, with their keypads, in both systems.
func inGloves(p *page, s *served) {
	for _, at := range []struct {
		job, stage string
		forms      [][2]string // what is pressed, and the field whose keypad is opened then
	}{
		{"hand-troughs", "set", [][2]string{{"", ""}, {"Gap", "left wall"}, {"Invert level", "invert"}, {"Line, length, batch", "off the line"}, {"Wall top level", "wall top, start left"}, {"Instrument set up", "staff reading on it"}, {"Release", ""}}},
		{"battery-yard", "set", [][2]string{{"Gap", "left wall"}, {"Instrument set up", ""}}},
		{"hand-troughs", "order", [][2]string{{"Delivery", ""}}},
	} {
		p.Size(360, 640)
		p.to("/jobs/" + at.job + "/" + at.stage)
		p.Until(wait, "return document.querySelector('.sitedeeds .choice button')")
		p.gloved(at.job + ", " + at.stage)
		for _, f := range at.forms {
			if f[0] == "" {
				p.Run(nil, "document.querySelector('.next .record').click()")
				p.press("one is off its place")
			} else {
				p.Run(nil, "document.querySelector('.seldom').open = true")
				p.press(f[0])
			}
			where := fmt.Sprintf("%s, record %q", at.job, f[0])
			p.Until(wait, "return document.querySelector('.recorder .making')")
			if f[1] != "" {
				p.figure(f[1], "")
			}
			p.Until(wait, "return document.querySelector('.recorder [role=status]').innerText")
			p.gloved(where)
			if at.job == "battery-yard" && f[1] != "" {
				p.figure(f[1], "3")
				p.Run(nil, "[...document.querySelectorAll('.keypad .keys button')].find(b => b.innerText === 'n/16').click()")
				p.Until(wait, "return document.querySelector('.keypad .fraction')")
				p.gloved(where + ", fractions")
				p.Run(nil, "[...document.querySelectorAll('.keypad .fraction')].find(b => b.innerText === '11/16').click()")
				p.Until(wait, `return document.querySelector('.keypad .understood').innerText.includes('11/16"')`)
			}
			p.press("leave")
		}
	}
}
