package e2e

import (
	"net/http"
	"testing"
)

// Changes made without a server survive a browser that is killed, and go up once.
func TestKilledWithoutSignal(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		data, profile := t.TempDir(), t.TempDir()
		s := serve(t, "--data", data, "--addr", "127.0.0.1:0")
		p := open(t, engine, profile, s.address).of(s)
		p.to(service)
		p.Says("ready for no signal")
		p.to("/")
		s.stop()
		p.to(service)
		p.Says("no server")
		p.set(width, "60 mm")
		p.Says("1 not yet sent")
		p.faultless()
		if engine == "chromium" {
			p.Kill()
			p = open(t, engine, profile, s.address).of(s)
		} else { // this engine's driver keeps nothing beyond the browser, and ends with a page that is killed: the page is closed
			first := p.Window()
			second := p.NewWindow()
			p.Switch(first)
			p.CloseWindow()
			p.Switch(second)
		}
		p.Go(p.at + service)
		p.planned()
		p.Says("1 not yet sent")
		p.holds(width, "60 mm")
		p.set(clear_, "120 mm")
		p.Says("2 not yet sent")
		p.holds(clear_, "120 mm")
		s.again(t, data)
		j := onServer(t, s.address, small, 3)
		p.Says("nothing unsent")
		p.Says("last sent")
		if len(j.Heads) != 1 || j.Revisions[2].Parents[0] != j.Revisions[1].ID {
			t.Errorf("the two changes do not stand on each other: %+v", j)
		}
		p.faultless()
	})
}

// Answers that are lost make nothing twice. A photo that a server with a full disk, or one that takes none as large, does not take stays
// here, is said to, and goes up when it is sent again.
func TestLostAnswers(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		s := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
		net := bad(t, s.address)
		p := open(t, engine, "", net.URL)
		p.to(service)
		net.lost.Store(2)
		p.set(width, "60 mm")
		onServer(t, s.address, small, 2) // it was done, and nobody was told
		p.pressUntil("send now", "nothing unsent")
		if j := onServer(t, s.address, small, 2); len(j.Heads) != 1 {
			t.Errorf("%d heads", len(j.Heads))
		}
		if n := net.posts.Load(); n < 3 {
			t.Errorf("sent %d times: no answer was lost", n)
		}

		p.to("/")
		net.full.Store(true)
		photo, sum := photoFrom(t, 400_000, 'c')
		p.Type("#bring", photo)
		p.Says("Photos do not go up: the disk on which the workspace keeps its jobs is full, and nothing was saved.")
		p.Says("1 photo on this device, 1 not yet sent")
		net.large.Store(true)
		p.press("send now")
		p.Says("The server says: a photo or voice note of that size is not taken")
		p.Says("0.4 MB; it is kept on this device")
		net.full.Store(false)
		net.large.Store(false)
		p.press("send the photo again")
		p.Says("1 photo on this device, all sent")
		p.unsaid("Photos do not go up")
		if status, b := asked(t, s.address+"/api/attachments/"+sum); status != http.StatusOK || len(b) != 400_000 {
			t.Errorf("the photo: %d, %d bytes", status, len(b))
		}
		p.faultless()
	})
}

// A net that takes everything and gives nothing back: the page says that it waits, takes the server for not reached after a while,
// asks again by itself, and goes on where it answers.
func TestNetThatSaysNothing(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		s := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
		net := bad(t, s.address)
		p := open(t, engine, "", net.URL)
		p.to(service)
		p.holds(width, "50 mm")
		p.Says("nothing unsent")
		net.mute.Store(true)
		p.set(width, "60 mm")
		p.Says("waiting for the server") // it says so at every attempt
		p.Says("no server")
		p.Says("1 not yet sent")
		net.mute.Store(false)
		p.Says("nothing unsent")
		if j := onServer(t, s.address, small, 2); len(j.Heads) != 1 {
			t.Errorf("%d heads", len(j.Heads))
		}
		p.faultless()
	})
}

// A page that is left in the middle of fetching and keeping holds nothing up: browsers may keep what it had open in the database.
func TestPagesLeftInTheMiddle(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, s := begun(t, engine, "/")
		for range 4 {
			p.to(service)
			p.to("/")
			p.unsaid("waiting for the server")
		}
		p.to(service)
		p.set(width, "60 mm")
		p.holds(width, "60 mm")
		onServer(t, s.address, small, 2)
		p.Says("last sent")
		p.faultless()
	})
}

// Two browsers change a job at once: both keep their work, and what one of them records the other's page of the site has. What does not clash is joined to one revision by whichever comes
// first; what clashes is settled by a person.
func TestTwoBrowsers(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		data := t.TempDir()
		s := serve(t, "--data", data, "--addr", "127.0.0.1:0")
		one, other := open(t, engine, "", s.address).of(s), open(t, engine, "", s.address).of(s)
		one.to("/")
		one.Fill("#author", "Ada") // and the page is left at once
		for _, p := range []*page{one, other} {
			p.to(service)
			p.holds(width, "50 mm")
		}
		one.set(width, "60 mm")
		other.holds(width, "60 mm") // by the server's stream
		other.press("undo")         // what somebody else did is not taken back by it
		other.Says("made by Ada on another device")

		other.Until(wait, "const d = document.querySelector('.sitenow'); d.open = true; return d.querySelector('.progress .sum')?.innerText.includes('0 of ')")
		one.stageAt("Set")
		one.Until(wait, "const d = document.querySelector('.log'); d.open = true; const b = d.querySelector('.atdesk .record'); b?.click(); return b")
		one.Until(wait, "const b = document.querySelector('.recorder .main:not(:disabled)'); b?.click(); return b")
		one.press("yes, keep it")
		other.Until(wait, "return document.querySelector('.sitenow .progress .sum')?.innerText.includes('1 of ')") // what one of them records, the other's office has
		one.stageAt("Route")

		s.stop()
		one.Says("no server")
		other.Says("no server")
		one.set(width, "65 mm")
		other.set(clear_, "130 mm")
		s.again(t, data)
		for _, p := range []*page{one, other} {
			p.holds(width, "65 mm")
			p.holds(clear_, "130 mm")
		}
		j := onServer(t, s.address, small, 5)
		if last := j.Revisions[4]; len(j.Heads) != 1 || len(last.Parents) != 2 || last.Note != "joined" {
			t.Errorf("what does not clash was not joined to one: %+v", j)
		}

		s.stop()
		one.Says("no server")
		other.Says("no server")
		one.set(width, "70 mm")
		other.set(width, "80 mm")
		s.again(t, data)
		for _, p := range []*page{one, other} {
			p.Says("Two changed the same")
			p.Says("was: 65 mm")
		}
		onServer(t, s.address, small, 7)
		one.Until(wait, "const b = [...document.querySelectorAll('.ends fieldset button')].find(b => b.innerText.startsWith('80')); if (b) b.click(); return b")
		one.press("join the two")
		for _, p := range []*page{one, other} {
			p.holds(width, "80 mm")
			p.unsaid("Two changed the same")
		}
		j = onServer(t, s.address, small, 8)
		if last := j.Revisions[7]; len(j.Heads) != 1 || len(last.Parents) != 2 || last.Author != "Ada" {
			t.Errorf("what was settled is no revision with two parents: %+v", j)
		}
		one.faultless()
		other.faultless()
	})
}
