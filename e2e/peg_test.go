package e2e

import "testing"

// TestPegFindsWhatIsNamed types names into the field of the peg, on a phone: a thing is found by its name, its id and the beginning
// of either; where several fit, each is a button; what is not found is said on a line of its own. What was found is seen.
func TestPegFindsWhatIsNamed(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, _ := begun(t, engine, "/jobs/tram-depot/route", 360, 780)
		look := func(name string) {
			t.Helper()
			p.Run(nil, "if (!document.querySelector('.else[open]')) [...document.querySelectorAll('.next > button')].find(b => b.innerText.trim() === 'find, change, print').click()")
			p.Until(wait, "return document.querySelector('.else[open] .peg input')")
			p.Fill(".else .peg input", name)
			p.Run(nil, "document.querySelector('.else .peg button[type=submit]').click()")
		}
		seen := func(key string) {
			t.Helper()
			p.Until(wait, `const h = document.querySelector('.card:not(.hint) h2')?.getBoundingClientRect();
				return location.hash === '#' + arguments[0] && !document.querySelector('.else[open]') && h && h.top > 0 && h.bottom < document.querySelector('.next').getBoundingClientRect().top`, key)
		}
		look("nothing of that name")
		p.Until(wait, `const a = document.querySelector('.else .peg [role=alert]')?.getBoundingClientRect(), i = document.querySelector('.else .peg input').getBoundingClientRect();
			return a && a.top >= i.bottom && a.right <= innerWidth && i.width > 120`)
		for _, name := range []string{"Water  main", "D-w1", "water m"} {
			look(name)
			seen("service/D/D-w1")
			p.Run(nil, "location.hash = 'unit/E-003'")
			p.Until(wait, "return document.querySelector('.card h2')?.innerText.includes('E-003')")
		}
		look("a-e")
		p.Until(wait, "return document.querySelectorAll('.else .several button').length > 1")
		p.Until(wait, "const b = [...document.querySelectorAll('.else .several button')].find(b => b.innerText.includes('A-e2')); b?.click(); return b")
		seen("entry/A/A-e2")
		look("C 12")
		p.Until(wait, "return !document.querySelector('.else[open]') && /^#(unit.C-|joint.C-|leg.C)/.test(location.hash)")
		p.faultless()
	})
}
