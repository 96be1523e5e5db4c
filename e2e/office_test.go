package e2e

import (
	"strings"
	"testing"
)

const controlKey = "\uE009"

// keyed types a line with the keyboard alone; it gives how many keys that took.
func (p *page) keyed(line string) int {
	var keys []string
	for _, r := range line {
		if r == '\n' {
			keys = append(keys, enter)
			continue
		}
		keys = append(keys, string(r))
	}
	p.Keys(keys...)
	return len(keys)
}

// A day card is keyed in at the office with no mouse: what stands on top once, then row by row. A row takes its figures and at most six
// keys; the strip and the page of the site show it, with what two days had in it, and the report of the day.
func TestADayCardIsKeyedInByKeysAlone(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, _ := begun(t, engine, "/jobs/hand-troughs/set")
		p.Until(wait, "const s = document.querySelector('.daycard > summary'); s?.focus(); return s")
		p.keyed("\n")
		p.Until(wait, "const i = document.querySelector('.daycard .top input'); i?.focus(); return i && document.querySelector('.boxes tbody tr')")
		p.keyed("A Ganger\nforeman\n2026-11-24\n16:30\nrod 2\n\n\n\n\n\n\n\n\n\n\n")
		p.Until(wait, "return document.activeElement.ariaLabel?.startsWith('A-001, ')")
		typed := []string{".\n2\n=\n\n", "3\n3\n2.5\n\n", "-2\n2\n=\n\n", "4\n1\n=\n\n", "12 in\n2\n=\n\n"}
		figures := []int{1, 5, 2, 2, 6} // what of each is a figure
		for i, row := range typed {
			if keys := p.keyed(row); keys-figures[i] > 6 {
				t.Errorf("row %d takes %d keys beside its figures", i+1, keys-figures[i])
			}
		}
		p.Until(wait, "return document.activeElement.ariaLabel?.startsWith('A-006, ')")
		p.Says("was it typed in another unit?")
		p.Says("5 places, 10 records; look at 1 odd row")
		p.Chord(controlKey, enter)
		p.Says("Kept on this machine: 5 places, 10 records.")
		p.Says("5 of ")
		p.Until(wait, "return document.querySelector('.boxes tbody th').innerText.startsWith('A-006')") // the next card goes on there

		p.Until(wait, "const s = document.querySelector('.sitenow > summary'); s?.focus(); return s")
		p.keyed("\n")
		p.Says("Done against planned")
		p.Until(wait, "return document.querySelector('.report .card h2')?.innerText.includes('24 November 2026')")
		if report := p.text(".report .card"); !strings.Contains(report, "A Ganger, foreman: 16:30, 10 records") || !strings.Contains(report, "A-001 to A-005") {
			t.Errorf("the report of the day: %s", report)
		}
		p.Fill(".office .days input", "25 Nov 2026")
		p.keyed("\n")
		p.Says("Nothing was done between these.")
		p.faultless()
		p.to("/jobs/hand-troughs/set")
		p.Until(wait, "return document.querySelector('.log .count')?.textContent === '10'")
	})
}
