package e2e

import (
	"testing"
)

// records keeps what the open record says: recorded at the bottom, confirmed at the top.
func (p *page) records(words string) {
	p.t.Helper()
	p.Until(wait, "const b = document.querySelector('.recorder .main:not(:disabled)'); return b && document.querySelector('.recorder .words')?.innerText.includes(arguments[0])", words)
	var record, confirm [2]float64
	box := "const r = document.querySelector('.recorder .main').getBoundingClientRect(); return [r.top, r.bottom]"
	p.Run(&record, box)
	p.Run(nil, "document.querySelector('.recorder .main').click()")
	p.Until(wait, "return document.querySelector('.recorder .sure')")
	p.Run(&confirm, box)
	if confirm[1] > record[0] || record[1]-record[0] < 106 || confirm[1]-confirm[0] < 106 {
		p.t.Errorf("%s: what records stands from %g to %g, what confirms from %g to %g: not two places, or too low for a glove", p.Engine, record[0], record[1], confirm[0], confirm[1])
	}
	p.press("yes, keep it")
	p.Says("Kept on this phone. ")
	p.Says(words)
	p.press("good")
}

// stageAt goes to a stage as a finger does.
func (p *page) stageAt(name string) {
	p.t.Helper()
	p.Until(wait, "const b = [...document.querySelectorAll('.nine button')].find(b => b.querySelector('.name').innerText === arguments[0]); b.click(); return b.ariaCurrent || b.getAttribute('aria-current')", name)
}

// next begins the record that the page has as the next thing, of five places from the one named on.
func (p *page) next(place string) {
	p.Until(wait, "const b = document.querySelector('.next .record'); if (b?.innerText.includes(arguments[0])) b.click(); return document.querySelector('.recorder')", place)
	p.press("5")
}

// sets records five units as set from a place on, all at their places or one 3 mm ahead.
func (p *page) sets(place string, ahead bool) {
	p.next(place)
	words := "set, all within"
	if ahead {
		p.press("one is off its place")
		p.Until(wait, "const k = [...document.querySelectorAll('.keypad .keys button')].find(b => b.innerText === '3'); k?.click(); return k")
		words = "3 mm (1/8\") ahead"
	}
	p.records(words)
}

// offered opens the ways on, with an answer among them.
func (p *page) offered() {
	p.Until(wait, "const d = document.querySelector('.ways-on'); d.open = true; return [...d.querySelectorAll('.offers button')].some(b => b.innerText === 'take this answer')")
}

// finds records a service below the bed.
func (p *page) finds(what string) {
	p.press("Buried service found")
	p.Until(wait, "return document.querySelector('.recorder .words, .recorder [role=status]')?.innerText.includes('still to say: what it is')")
	p.Fill(".recorder .ask > input", what)
	p.press("below the bed")
	p.records(what + " found")
}

// A day in the trench without a server, on a phone: a delivery with damage, the yard counted after it, units in two stretches with one
// off its place, an answer taken to that, a service that is found, covers. All of it is there after a reload.
func TestADayInTheTrench(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, s := begun(t, engine, "/jobs/hand-troughs/order", 360, 780)
		p.Says("ready for no signal")
		s.stop()

		p.press("Delivery")
		p.Fill(".recorder .stepper input[aria-label='how many came']", "40")
		p.Fill(".recorder .stepper input[aria-label='of them damaged']", "2")
		p.records("(2 damaged)")
		p.press("count the yard")
		p.press("38: so it is")
		p.records("counted in the yard: 38 of")
		p.Until(wait, "return document.querySelector('.yard')?.innerText.includes('38 counted')")

		p.stageAt("Set")
		p.sets("A-001", false)
		p.sets("A-006", true)
		p.Says("3 mm ahead")
		p.offered()
		p.press("see what it changes, on the strip and in the lists")
		p.Says("What this answer changes is marked on the strip now")
		p.press("take this answer")
		p.press("yes, take it")
		p.Says("5 not yet sent") // four records and the change
		p.planned()
		p.Until(wait, "return document.querySelector('.next .record')?.innerText.includes('A-011') && document.querySelector('.nextthing')?.innerText.includes('at its place')")

		p.stageAt("Dig")
		p.finds("water main")

		p.stageAt("Cover")
		p.next("A-001")
		p.records("covers laid")

		p.faultless()
		p.to("/jobs/hand-troughs/set")
		p.Says("10 of ")
		p.Until(wait, "return document.querySelector('.log .count')?.textContent === '6'")
		p.Until(wait, "return document.querySelector('.next .record')?.innerText.includes('A-011')")
		p.Until(wait, "return document.querySelector('.log').open = true")
		p.press("take it back") // the covers, in two places
		p.press("yes, take it back")
		p.Says("Taken back on this phone. ")
		p.Until(wait, "return document.querySelector('.log .gone') && document.querySelector('.log .count').textContent === '7'")
		p.faultless()
	})
}
