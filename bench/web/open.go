package main

import (
	_ "embed"
	"fmt"
	"time"

	"trenchwright/tools/browser"
)

//go:embed watch.js
var watch string

// page is a browser of its own at the watched size.
func (b *bench) page() *browser.Browser {
	p := browser.Start(b, "chromium", "")
	p.Before(watch)
	p.Size(1440, 1000)
	return p
}

// drawn opens a job and gives when its plan was drawn, and when the core had made a table of it, in milliseconds after it was asked for.
func drawn(p *browser.Browser, address string) (picture, whole float64) {
	p.Go(address)
	p.Until(3*time.Minute, "return watched.drawn && document.querySelector('.stages') && !/planning|working the run out/.test(document.body.innerText) && document.querySelector('.rows tbody tr td')")
	p.Run(&picture, "return watched.drawn")
	p.Run(&whole, "return performance.now()")
	return picture, whole
}

// open times the way from an address to a drawn plan: in a browser that was never here, and from what the service worker keeps.
func (b *bench) open() error {
	s := b.serve(b.filled())
	times := 9
	if b.quick {
		times = 2
	}
	at := s.address + "/jobs/" + short + "/route"
	var first, firstWhole, again, againWhole []float64
	var p *browser.Browser
	for range times {
		if p != nil {
			p.Kill()
		}
		p = b.page()
		picture, whole := drawn(p, at)
		first, firstWhole = append(first, picture), append(firstWhole, whole)
	}
	p.Says("ready for no signal")
	for range times {
		p.Go("about:blank")
		time.Sleep(200 * time.Millisecond)
		picture, whole := drawn(p, at)
		again, againWhole = append(again, picture), append(againWhole, whole)
	}
	s.stop()
	p.Go("about:blank")
	gone, _ := drawn(p, at)
	p.Kill()
	const size = "5,000 units"
	b.report.timed("first visit to the drawn plan", size, first, 1500, 50)
	b.report.timed("first visit until its first table", size, firstWhole, 0, 0)
	b.report.timed("from the service worker to the drawn plan", size, again, 800, 50)
	b.report.timed("from the service worker until its first table", size, againWhole, 0, 0)
	b.report.note("The server stopped, the plan was drawn %s after it was asked for.", fmt.Sprint(shown(gone)))
	return nil
}
