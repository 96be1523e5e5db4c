package e2e

import (
	"strings"
	"testing"
	"time"
)

// watching notes what is written on the card, large, and of the peg, whenever the page changes: without a tag that says that it is
// of the plan before the change, it may be of the plan before or of the plan after, and of nothing between.
const watching = `
	const seen = globalThis.seen = new Set();
	const look = () => {
		if (document.querySelector('.card .before')) return void (globalThis.tagged = true);
		const texts = ['.card h2', '.card .lead', '.card dl.figures', '.large-figures'].flatMap(css => [...document.querySelectorAll(css)].map(e => e.textContent));
		seen.add([...texts, document.querySelector('.strip').getAttribute('aria-valuetext')].join('\n'));
	};
	globalThis.tagged = false;
	look();
	globalThis.watched = new MutationObserver(look);
	watched.observe(document.body, {subtree: true, childList: true, characterData: true, attributes: true});`

// What is selected, the peg and the large figures change from one plan to the next at once; what a change was understood as goes
// with the next one.
func TestOneStateAtATime(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, _ := begun(t, engine, "/jobs/tram-depot/route#node/B5")
		for i, on := range []string{"node/B5", "unit/E-003", "service/D/D-w1", "node/B5"} {
			p.Run(nil, "if (location.hash !== '#' + arguments[0]) location.hash = arguments[0]", on)
			p.Until(wait, "return document.querySelector('.card:not(.hint) h2')?.innerText.includes(arguments[0].split('/').at(-1)) && document.querySelector('.large-figures dd')", on)
			p.planned()
			time.Sleep(300 * time.Millisecond) // what was asked about it is there
			peg := p.peg()
			p.Run(nil, watching)
			said := []string{"understood:", "undone: B5 moved", "done again: B5 moved", "undone: B5 moved"}[i]
			switch i {
			case 0:
				p.Fill("#node-place", "412571.850, 287727.302")
				p.press("move there")
			case 2:
				p.press("redo")
			default:
				p.press("undo")
			}
			p.Says(said)
			p.Until(wait, "return document.querySelector('.told').innerText.includes('planned anew') || document.querySelector('.told .fresh')")
			for _, old := range []string{"understood:", "undone:", "done again:"} {
				if !strings.HasPrefix(said, old) {
					p.unsaid(old)
				}
			}
			time.Sleep(500 * time.Millisecond)
			var seen []string
			var tagged bool
			p.Run(&seen, "return [...globalThis.seen]")
			p.Run(&tagged, "return globalThis.tagged")
			if len(seen) > 2 || len(seen) < 2 && on == "node/B5" || !tagged {
				t.Errorf("%s, %s: %d states were shown without a word, not the one before and the one after; said to be of before: %v\n%s", engine, on, len(seen), tagged, strings.Join(seen, "\n---\n"))
			}
			if now := p.peg(); on == "node/B5" && now == peg || on == "unit/E-003" && now != peg {
				t.Errorf("%s: the peg did not go with %s: from %s to %s", engine, on, peg, now)
			}
			p.Run(nil, "globalThis.watched.disconnect()")
		}
		p.faultless()
	})
}

// peg is where the peg stands, as the strip says it.
func (p *page) peg() (text string) {
	p.t.Helper()
	p.Run(&text, "return document.querySelector('.strip').getAttribute('aria-valuetext')")
	return text
}

// A service that a change puts into the dig is told beside the change, with where, limit and value; one press leads there, and
// when the change is taken back it is told to be gone.
func TestFindingsOfAChange(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, s := begun(t, engine, "/jobs/tram-depot/route")
		p.Fill(".peg input", "C 12")
		p.press("Put something here")
		p.pressUntil("go", "At C 12")
		p.press("buried service")
		for field, text := range map[string]string{"name": "old main", "width": "150 mm", "clear": "200 mm", "depth": "700 mm"} {
			p.Fill("#put-service-"+field, text)
		}
		p.press("put it here")
		p.Says("finding")
		p.Until(wait, "return [...document.querySelectorAll('.fresh li')].some(l => /old main/.test(l.innerText) && /chainage 0\\+012/.test(l.innerText) && /limit:.*value:/.test(l.innerText))")
		p.Until(wait, "return /new/.test(document.querySelector('.put .outcome')?.innerText)")
		p.Until(wait, "const b = [...document.querySelectorAll('.fresh li')].find(l => /old main/.test(l.innerText)).querySelector('button'); b.click(); return b")
		p.Until(wait, "return location.hash.startsWith('#finding/') && /old main/.test(document.querySelector('.card .lead').innerText)")

		// another depth of the same service: one changed finding, with both values, and one line in the difference
		var id string
		content := onServer(t, s.address, "tram-depot", 2).Heads[0]
		p.Await(&id, "const j = await (await fetch('/api/revisions/' + arguments[0])).json(); return j.route.legs.find(l => l.id === 'C').services.find(s => s.name === 'old main').id", content)
		p.Run(nil, "location.hash = 'service/C/' + arguments[0]", id)
		depth := "route-legs-C-services-" + id + "-depth"
		p.holds(depth, "700 mm")
		p.set(depth, "750 mm")
		p.Until(wait, "return [...document.querySelectorAll('.fresh li')].some(l => /^changed/.test(l.innerText) && /old main/.test(l.innerText) && /was: .*is now: .*limit: /.test(l.innerText))")
		p.Until(wait, "return ![...document.querySelectorAll('.fresh li')].some(l => /^(new|gone)/.test(l.innerText))")
		p.press("Issue, and what changed since")
		p.press("what the last change did")
		p.Until(wait, "return [...document.querySelectorAll('.changed tbody tr')].some(r => /leg C, chainage 0.012/.test(r.innerText) && /finding, changed: .*old main/.test(r.innerText) && r.cells[2].innerText !== r.cells[3].innerText)")
		p.press("close this list")
		p.press("undo")
		p.Says("undone: ")
		p.planned()
		p.press("undo")
		p.Until(wait, "return [...document.querySelectorAll('.fresh li')].some(l => /^gone/.test(l.innerText) && /old main/.test(l.innerText))")
		p.unsaid("understood:")
		p.faultless()
	})
}

// Who presses a button of a form before everything is there is told at the field what is missing, and so is who hears the page:
// the field is marked, described by those words, and has the cursor.
func TestWhatIsMissingIsSaidAtTheField(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, s := begun(t, engine, "/jobs/hand-troughs/route")
		told := func(id string) {
			t.Helper()
			p.Until(wait, `const i = document.getElementById(arguments[0]); const m = i && document.getElementById(i.getAttribute("aria-describedby"));
				return m?.getAttribute("role") === "alert" && m.innerText.length > 10 && i.getAttribute("aria-invalid") === "true" && i.parentElement.contains(m)`, id)
		}
		p.press("Issue, and what changed since")
		p.Says("nothing unsent")
		var open []string
		p.Until(wait, "return /as the server plans/.test(document.querySelector('.issue .open')?.innerText)")
		p.Run(&open, "return [...document.querySelectorAll('.issue .open li')].map(l => l.innerText)")
		paper := string(fileOf(t, s, onServer(t, s.address, small, 1).Heads[0], "findings.txt"))
		if counts := strings.Join(open[:len(open)-2], ", "); !strings.Contains(paper, "\nOpen: "+counts+"\n") || !strings.Contains(counts, "NOT CHECKED") || open[len(open)-2] != "no change unsent" || !strings.HasSuffix(open[len(open)-1], "as the server plans") {
			t.Errorf("%s: before issuing the page says %q, the papers %.300s", engine, open, paper)
		}
		p.press("issue this revision")
		told("issue-name")
		told("issue-by")
		p.Until(wait, "return document.activeElement.id === 'issue-name'")
		p.Fill("#issue-name", "for the gang")
		p.Until(wait, "return !document.getElementById('issue-name-missing')")
		p.press("issue this revision")
		told("issue-by")
		p.Until(wait, "return document.activeElement.id === 'issue-by'")
		p.Fill("#issue-by", "site engineer")
		p.press("issue this revision")
		p.Says("Issued: for the gang.")
		p.Until(wait, "return /for the gang by site engineer/.test(document.querySelector('.issued').innerText) && !document.querySelector('.issue .missing')")

		p.press("Put something here")
		p.press("crossing")
		p.press("put it here")
		told("put-crossing-path")
		onServer(t, s.address, small, 1) // nothing was made of it

		// the list of jobs knows at once what the run has become, and that nobody issued that
		p.Fill("#put-crossing-path", "1 m")
		p.press("put it here")
		onServer(t, s.address, small, 2)
		p.planned()
		var run string
		p.Run(&run, "return document.querySelector('.run-said').firstChild.textContent")
		p.Until(wait, "const a = document.querySelector('a[aria-label=\"all jobs\"]'); a.click(); return true")
		p.Says("issued: for the gang; changed since, and what it is now is not issued")
		p.Says(run)
		p.unsaid("before the last change")
		p.faultless()
	})
}
