package e2e

import (
	"bytes"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"trenchwright/tools/browser"
)

// onSite gives a job the records of some days of a build in play, and shows what a phone and the office have of them then.
func onSite(t *testing.T, b *browser.Browser, s *served, section func(string), keep func(name, says string)) {
	t.Helper()
	dir := t.TempDir()
	if out, err := exec.Command(program, "build", "hand-troughs", "--seed", "4", "--days", "3", "-o", dir).CombinedOutput(); err != nil && len(out) == 0 {
		t.Fatal(err) // it says what is open of what is not handed over
	}
	records, err := os.ReadFile(filepath.Join(dir, "records.ndjson"))
	if err != nil {
		t.Fatal(err)
	}
	answer, err := http.Post(s.address+"/api/jobs/hand-troughs/records", "application/x-ndjson", bytes.NewReader(records))
	if err != nil || answer.StatusCode != http.StatusOK {
		t.Fatal(err, answer)
	}
	answer.Body.Close()

	to := func(stage string, wide, high int) {
		b.Size(wide, high)
		opened(b, s.address+"/jobs/hand-troughs/"+stage)
		b.Until(time.Minute, "return Number(document.querySelector('.log .count')?.textContent) > 20")
	}
	kept := func(name, says string) {
		time.Sleep(300 * time.Millisecond)
		keep(name, says)
	}
	unfold := func(what string) {
		b.Until(time.Minute, "const d = document.querySelector(arguments[0]); if (d) d.open = true; return d?.querySelector('table, .offers, li')", what)
		b.Run(nil, "document.querySelector(arguments[0]).scrollIntoView({ block: 'start' }); scrollBy(0, -230)", what)
	}
	section("In the trench")
	for _, w := range widths {
		to("set", w.wide, w.high)
		b.Run(nil, "scrollTo(0, 0)")
		kept(fmt.Sprintf("site-set-%d", w.wide), fmt.Sprintf("After three days in play: what is set next, %d px (%s, job hand-troughs)", w.wide, w.for_))
	}
	b.Until(time.Minute, "const r = document.querySelector('.recorder'); if (!r) document.querySelector('.next .record')?.click(); return r")
	b.Until(time.Minute, "const k = document.querySelector('.keypad .keys button'); if (!k) [...document.querySelectorAll('.recorder button')].find(x => x.innerText === 'one is off its place')?.click(); return k")
	kept("site-keypad-360", "A stretch is recorded, with one off its place: the keypad of a phone, 360 px (job hand-troughs)")
	to("order", 360, 780)
	b.Until(time.Minute, "const d = [...document.querySelectorAll('button')].find(x => x.innerText === 'Delivery'); d?.click(); return document.querySelector('.recorder')")
	kept("site-delivery-360", "A delivery with what is broken of it, 360 px (job hand-troughs)")
	to("order", 360, 780)
	b.Until(time.Minute, "const y = document.querySelector('.yard'); y?.scrollIntoView({ block: 'start' }); return y")
	b.Run(nil, "scrollBy(0, -100)")
	kept("site-yard-360", "What lies in the yard by kind, 360 px (job hand-troughs)")
	on := func(job, stage, form string) {
		opened(b, s.address+"/jobs/"+job+"/"+stage)
		b.Until(time.Minute, "return document.querySelector('.sitedeeds .seldom')")
		b.Until(time.Minute, "document.querySelector('.sitedeeds .seldom').open = true; const d = [...document.querySelectorAll('.sitedeeds button')].find(x => x.innerText === arguments[0]); d?.click(); return document.querySelector('.recorder')", form)
	}
	keys := func(field string, keys ...string) {
		b.Until(time.Minute, "const f = [...document.querySelectorAll('.recorder .figure-button')].find(x => x.querySelector('span').innerText === arguments[0]); if (f?.getAttribute('aria-expanded') !== 'true') f?.click(); return document.querySelector('.recorder .keypad')", field)
		for _, k := range keys {
			b.Until(time.Minute, "const k = [...document.querySelectorAll('.keypad .keys button')].find(x => x.innerText === arguments[0]); k?.click(); return k", k)
		}
	}
	on("hand-troughs", "set", "Instrument set up")
	keys("staff reading on it", "1", ".", "4", "3", "2")
	b.Until(time.Minute, "return document.querySelector('.recorder .words')")
	kept("site-instrument-360", "An instrument is set up on a benchmark of the job: how high it stands is kept for what is read from it, 360 px (job hand-troughs)")
	on("battery-yard", "set", "Gap")
	keys("left wall", "3", "n/16")
	b.Until(time.Minute, "return document.querySelector('.keypad .fraction')")
	kept("site-inches-360", "Inches by the sixteenth: the fractions of the keypad, 360 px (job battery-yard)")
	set := `{"id":"01M8F000000000000000000001","job":"battery-yard","device":"01M8F000000000000000000002","number":1,"person":"a foreman","made":"2026-11-27T09:00:00Z","kind":"set","from":"A-001","to":"A-005","says":{"within":true,"off":[{"place":"A-005","by":"8 mm"}]}}` + "\n"
	answer, err = http.Post(s.address+"/api/jobs/battery-yard/records", "application/x-ndjson", strings.NewReader(set))
	if err != nil || answer.StatusCode != http.StatusOK {
		t.Fatal(err, answer)
	}
	answer.Body.Close()
	opened(b, s.address+"/jobs/battery-yard/set")
	b.Until(time.Minute, "return document.querySelector('.log .count')?.textContent === '1'")
	unfold(".ways-on")
	b.Until(time.Minute, "const o = document.querySelector('.ways-on .offers'); o?.scrollIntoView({ block: 'start' }); return o")
	b.Run(nil, "scrollBy(0, -110)")
	kept("site-ways-on-360", "Ways on from what lies in the ground, with what each spends, 360 px (job battery-yard)")
	to("dig", 360, 780)
	b.Until(time.Minute, "const d = [...document.querySelectorAll('button')].find(x => x.innerText === 'Buried service found'); d?.click(); return document.querySelector('.recorder')")
	kept("site-found-360", "A buried service is found, 360 px (job hand-troughs)")
	to("set", 360, 780)
	b.Until(time.Minute, "const d = document.querySelector('.onspot'); if (d) d.open = true; d?.scrollIntoView({ block: 'start' }); return d?.querySelector('.moments button')")
	b.Run(nil, "document.querySelector('.onspot').scrollIntoView({ block: 'start' }); scrollBy(0, -100)")
	kept("spot-360", "What stops a job, to choose from, 360 px (job hand-troughs)")
	b.Until(time.Minute, "const m = [...document.querySelectorAll('.moments button')].find(x => x.innerText === 'water stands in the trench'); m?.click(); return document.querySelector('.moment form')")
	b.Until(time.Minute, `const i = document.querySelector(".moment input"); if (!i.value) { i.value = "90 mm"; i.dispatchEvent(new Event("input", { bubbles: true })); } else document.querySelector(".moment form button").click(); return document.querySelector(".answered p")`)
	b.Run(nil, "document.querySelector('.answered').scrollIntoView({ block: 'start' }); scrollBy(0, -110)")
	kept("spot-water-360", "Water in the trench, answered, 360 px (job hand-troughs)")
	section("At the office")
	to("set", 1440, 1000)
	unfold(".sitenow")
	kept("site-now-1440", "The site now: done against planned, and what is open, 1440 px (job hand-troughs)")
	unfold(".daycard")
	kept("site-daycard-1440", "A day card keyed in, 1440 px (job hand-troughs)")
	for _, w := range widths {
		if w.wide == 1024 {
			continue
		}
		to("handover", w.wide, w.high)
		b.Until(time.Minute, "const d = document.querySelector('.handing'); if (d) d.open = true; return d?.querySelector('button')")
		b.Until(2*time.Minute, "const d = document.querySelector('.handing'); const b = d.querySelector('form button'); if (!d.querySelector('.handed') && !b.disabled) b.click(); return d.querySelector('.handed')")
		b.Run(nil, "document.querySelector(innerWidth < 700 ? '.handed' : '.handing').scrollIntoView({ block: 'start' }); scrollBy(0, -110)")
		kept(fmt.Sprintf("dossier-%d", w.wide), fmt.Sprintf("The dossier as the server made it of what it has, %d px (%s, job hand-troughs)", w.wide, w.for_))
	}
	b.Size(1440, 1000)
	b.Go(s.address + "/devices")
	b.Until(time.Minute, "const m = [...document.querySelectorAll('.letting button')][0]; m?.click(); return document.querySelector('.code-card')")
	kept("devices-1440", "A code that lets a device in, 1440 px")
}
