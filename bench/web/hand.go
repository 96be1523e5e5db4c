package main

import (
	"fmt"
	"time"

	"trenchwright/tools/browser"
)

// watching is what was seen in the page while a hand was at work.
type watching struct {
	Frames   []float64
	Pictures []float64
	Core     []float64 // from a question for a sketch to its answer
	Blank    int
	Draws    int // pictures of canvases
}

// during watches while work is done. Where nothing is drawn meanwhile the hand missed, and the figures would say nothing.
func during(p *browser.Browser, scrolled bool, work func()) (w watching) {
	time.Sleep(500 * time.Millisecond)
	p.Run(nil, "watched.watch()")
	work()
	p.Run(&w, "return watched.stop()")
	if w.Draws < 20 && !scrolled {
		p.Run(nil, "throw new Error('nothing moved under the hand: only ' + arguments[0] + ' pictures')", w.Draws)
	}
	return w
}

// hand drags a bend, and pans and zooms the plan and the strip.
func (b *bench) hand() error {
	s := b.serve(b.filled())
	p := b.page()
	defer p.Kill()
	for _, of := range []struct {
		job, size string
		limit     float64
	}{{short, "5,000 units", 20}, {long, "50,000 units", 40}} {
		if b.quick && of.job == long {
			break
		}
		drawn(p, s.address+"/jobs/"+of.job+"/route#node/N0010")
		time.Sleep(3 * time.Second) // the service worker is done with its work
		if of.job == short {
			b.drag(p)
		}
		for _, at := range []struct{ css, name string }{{".plan canvas", "plan"}, {"canvas.strip", "strip and long section"}} {
			box := p.Box(at.css)
			x, y := int(box[0]+box[2]/2), int(box[1]+box[3]/2)
			zoom := during(p, false, func() {
				for _, dy := range []int{-60, 60, -60, 60} {
					p.Wheel(x, y, dy, 30, 16)
				}
			})
			b.report.timed("zoom of the "+at.name+", frame", of.size, zoom.Frames, of.limit, 95)
			for _, closer := range []int{0, 14} { // the whole run, and some units of it
				if closer > 0 {
					p.Wheel(x, y, -120, closer, 16)
				}
				pan := during(p, false, func() {
					for range 4 {
						p.Pull(browser.Step{X: x, Y: y}, circle(x, y, 60)...)
					}
				})
				what := "pan of the " + at.name
				if closer > 0 {
					what += ", closer"
				}
				b.report.timed(what+", frame", of.size, pan.Frames, of.limit, 95)
			}
			p.Wheel(x, y, 120, 14, 16)
		}
	}
	return nil
}

// circle is a way round through places about x, y and back.
func circle(x, y, steps int) (way []browser.Step) {
	dx, dy := 0, 0
	for i := range steps {
		switch i * 4 / steps {
		case 0:
			dx += 6
		case 1:
			dy += 3
		case 2:
			dx -= 6
		default:
			dy -= 3
		}
		way = append(way, browser.Step{X: x + dx, Y: y + dy, MS: 16})
	}
	return way
}

// Where the peg of what is selected stands in the plan: the middle of what is drawn in its colour.
const whereHere = `const c = document.querySelector(".plan canvas"), g = c.getContext("2d");
const d = g.getImageData(0, 0, c.width, c.height).data; let n = 0, x = 0, y = 0;
for (let i = 0; i < d.length; i += 4) if (Math.abs(d[i]-0x8a) + Math.abs(d[i+1]-0x2f) + Math.abs(d[i+2]-0x5a) < 30) { n++; x += i/4 % c.width; y += Math.floor(i/4/c.width) }
const r = c.getBoundingClientRect(); return n ? [r.left + x/n/devicePixelRatio, r.top + y/n/devicePixelRatio] : [0, 0]`

// drag drags the selected bend about, seen so close that the way of the hand is some tens of metres.
func (b *bench) drag(p *browser.Browser) {
	var at [2]float64
	p.Box(".plan canvas")
	here := func() (int, int) {
		p.Run(&at, whereHere)
		if at == [2]float64{} {
			b.Fatal("nothing is selected in the plan")
		}
		return int(at[0] + 0.5), int(at[1] + 0.5)
	}
	for range 4 {
		x, y := here()
		p.Wheel(x, y, -300, 1, 16)
		time.Sleep(200 * time.Millisecond)
	}
	var all, core []float64
	for range 3 {
		x, y := here()
		w := during(p, false, func() { p.Pull(browser.Step{X: x, Y: y}, circle(x, y, 60)...) })
		all, core = append(all, w.Pictures...), append(core, w.Core...)
		p.Until(time.Minute, "return !/planning|working the run out/.test(document.body.innerText)")
	}
	if len(all) < 20 {
		b.Fatal(fmt.Sprintf("only %d pictures came while a bend was dragged", len(all)))
	}
	b.report.timed("drag of a bend, from the hand to the picture", "5,000 units", all, 60, 95)
	b.report.note("Of the time from the hand to the picture the core had the sketch for %s in the middle, %s at most in 95 of 100.", shown(part(core, 50)), shown(part(core, 95)))
	p.Run(nil, "[...document.querySelectorAll('button')].find(b => b.innerText === 'whole plan').click()")
}

// Each frame looks whether rows stand all over the view.
const lookForBlanks = `watched.each = () => {
	const v = document.querySelector(".rows").getBoundingClientRect();
	const rows = document.querySelectorAll(".rows tbody tr:not(.space)");
	const a = rows[0].getBoundingClientRect().top, b = rows[rows.length-1].getBoundingClientRect().bottom;
	if (a > v.top + 48 || b < v.bottom - 20) watched.blank++;
}`

// tables scrolls tables of many rows.
func (b *bench) tables() error {
	s := b.serve(b.filled())
	p := b.page()
	defer p.Kill()
	for _, of := range []struct{ job, size string }{{short, "5,000 rows"}, {long, "50,000 rows"}} {
		if b.quick && of.job == long {
			break
		}
		drawn(p, s.address+"/jobs/"+of.job+"/set")
		p.Run(nil, "[...document.querySelectorAll('.tables button')].find(b => b.innerText.startsWith('Joints')).click()")
		p.Until(time.Minute, "return document.querySelectorAll('.rows tbody tr td button').length > 5")
		time.Sleep(3 * time.Second)
		p.Run(nil, lookForBlanks)
		box := p.Box(".rows")
		x, y := int(box[0]+box[2]/2), int(box[1]+box[3]/2)
		w := during(p, true, func() {
			p.Wheel(x, y, 100, 60, 16)
			p.Wheel(x, y, 900, 60, 16)
			p.Wheel(x, y, -900, 60, 16)
		})
		p.Run(nil, "delete watched.each")
		b.report.timed("scroll of a table, frame", of.size, w.Frames, 17, 95)
		b.report.note("While a table of %s was scrolled, %d of %d frames showed a place without rows.", of.size, w.Blank, len(w.Frames))
	}
	return nil
}
