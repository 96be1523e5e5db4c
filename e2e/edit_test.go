package e2e

import (
	"testing"
)

// A service of the short demo, and where its card has two of its figures.
const (
	small   = "hand-troughs"
	service = "/jobs/hand-troughs/route#service/A/A-w1"
	width   = "route-legs-A-services-A-w1-width"
	clear_  = "route-legs-A-services-A-w1-clear"
	control = "\uE009"
)

func TestChangesAreKeptUndoneAndSent(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, s := begun(t, engine, "/")
		p.Says("3 jobs on this device")
		p.to(service)
		p.holds(width, "50 mm")

		p.set(width, "0.06 m")
		p.Says("understood:")
		p.holds(width, "60 mm")
		onServer(t, s.address, small, 2)
		p.press("undo")
		p.holds(width, "50 mm")
		p.press("redo")
		p.holds(width, "60 mm")
		p.Run(nil, "document.activeElement.blur()")
		p.Chord(control, "z")
		p.holds(width, "50 mm")
		p.set(width, "nonsense")
		p.Until(wait, "return document.querySelector('.told .fault')")
		p.press("close this note")
		p.to("/")
		p.Says("route") // the list says at which stage the job was looked at
		p.to(service)
		p.holds(width, "50 mm")

		p.set(width, "7 cm")
		p.holds(width, "70 mm")
		p.Says("nothing unsent")
		p.faultless()
		p.Reload()
		p.planned()
		p.holds(width, "70 mm")
		onServer(t, s.address, small, 6)
		p.Says("last sent")
		p.press("undo") // goes over revisions: a page that was loaded again knows them as well
		p.holds(width, "50 mm")
		p.press("redo")
		p.holds(width, "70 mm")
		p.press("undo")
		p.holds(width, "50 mm")
		p.press("undo")
		p.Says("nothing to undo: this is the first state of the job")
		onServer(t, s.address, small, 9)
		p.faultless()
	})
}

// Two windows of one browser: what is kept in one shows in the other, and what waits goes up once, whoever sends it.
func TestTwoWindowsOfOneBrowser(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		data := t.TempDir()
		s := serve(t, "--data", data, "--addr", "127.0.0.1:0")
		net := bad(t, s.address)
		p := open(t, engine, "", net.URL)
		p.to(service)
		p.holds(width, "50 mm")
		first := p.Window()
		second := p.NewWindow()
		p.to(service)
		p.holds(width, "50 mm")
		net.lost.Store(1) // and the answer to the first is lost on the way
		for i, step := range []struct{ here, there, text, said string }{
			{second, first, "55 mm", "55 mm"}, {first, second, "6 cm", "60 mm"}, {second, first, "65 mm", "65 mm"},
		} {
			p.Switch(step.here)
			p.set(width, step.text)
			p.holds(width, step.said)
			p.Switch(step.there)
			p.holds(width, step.said)
			t.Log(engine, "change", i+1, "is in both windows")
		}
		j := onServer(t, s.address, small, 4)
		if len(j.Heads) != 1 {
			t.Errorf("%d heads", len(j.Heads))
		}
		p.Says("nothing unsent")
		if n := net.posts.Load(); n != 4 { // three changes, and the one whose answer was lost once more
			t.Errorf("%d revisions were sent, not 4", n)
		}
		p.faultless()
		p.Switch(second)
		p.faultless()
	})
}
