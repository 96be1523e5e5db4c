package e2e

import (
	"testing"
	"time"
)

// crossing is a crossing of the depot's demo, and where its card has the width of the path.
const (
	crossing   = "/jobs/tram-depot/route#crossing/B/B-x1"
	width      = "route-legs-B-crossings-B-x1-path"
	margin     = "route-legs-B-crossings-B-x1-margin"
	controlKey = "\uE009"
)

func TestChangesAreKeptUndoneAndSent(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		s := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
		p := open(t, engine, "", s.address)
		p.to("/")
		p.Says("3 jobs on this device")
		p.to(crossing)
		p.Says("access road")
		var was string
		p.Until(10*time.Second, "return document.querySelector(arguments[0])", "#field-"+width)
		p.Run(&was, "return document.querySelector(arguments[0]).value", "#field-"+width)

		p.set(width, "6.2 m")
		p.Says("understood:")
		p.holds(width, "6200 mm")
		onServer(t, s.address, "tram-depot", 2)
		p.press("undo")
		p.holds(width, was)
		p.press("redo")
		p.holds(width, "6200 mm")
		p.Click(".strip")
		p.Run(nil, "location.hash = '#crossing/B/B-x1'")
		p.holds(width, "6200 mm")
		p.Run(nil, "document.activeElement.blur()")
		p.Chord(controlKey, "z")
		p.holds(width, was)
		p.set(margin, "nonsense")
		p.Says("Try:")
		p.holds(width, was)
		p.press("put away")

		p.set(width, "5.9 m")
		p.holds(width, "5900 mm")
		p.Says("nothing unsent")
		p.faultless()
		p.Reload()
		p.planned()
		p.holds(width, "5900 mm")
		onServer(t, s.address, "tram-depot", 6)
		p.Says("last sent")
		p.faultless()
	})
}
