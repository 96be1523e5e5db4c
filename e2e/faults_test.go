package e2e

import (
	"net"
	"strings"
	"testing"
)

// A new version waits until somebody changes over, and nobody can in the middle of something; a page whose core is not the
// server's may record, and says that it may not issue.
func TestNewVersion(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		s := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
		way := bad(t, s.address)
		p := open(t, engine, "", way.URL)
		p.to("/")
		p.Says("ready for no signal")
		way.newer.Store(true)
		p.to(service)
		p.Says("you may record here, but not issue")
		p.Await(nil, "await (await navigator.serviceWorker.ready).update()")
		p.Says("new version ready: change over")
		p.press("Put something here")
		p.press("crossing") // a form is open
		p.press("new version ready: change over")
		p.Says("Not now: first finish or leave what is open here")
		p.press("crossing") // and closed
		p.planned()
		p.Run(nil, "globalThis.before = true")
		p.press("new version ready: change over")
		p.Until(wait, "return !globalThis.before && document.querySelector('.stages')")
		p.unsaid("new version ready")
		p.holds(width, "50 mm")
		p.faultless()
	})
}

// What goes wrong in the browser itself is said, and takes nothing away.
func TestFaultsOfTheBrowser(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, s := begun(t, engine, service)
		p.holds(width, "50 mm")
		p.Says("ready for no signal")

		p.Run(nil, "globalThis.put = IDBObjectStore.prototype.put; IDBObjectStore.prototype.put = () => { throw new DOMException('', 'QuotaExceededError') }")
		p.set(width, "60 mm")
		p.Says("This browser has no room left")
		p.Run(nil, "IDBObjectStore.prototype.put = globalThis.put")
		p.press("close this note")
		onServer(t, s.address, small, 1)

		// the database is taken away under the page
		p.Await(nil, "await new Promise((done, failed) => { const r = indexedDB.deleteDatabase('trenchwright'); r.onsuccess = done; r.onerror = () => failed(r.error) })")
		p.set(width, "70 mm")
		p.holds(width, "70 mm")
		onServer(t, s.address, small, 2)
		p.Says("nothing unsent")

		// a plan that is stopped: the change is kept, the core starts anew and is fed again
		p.to("/jobs/tram-depot/route#crossing/B/B-x1")
		path := "#field-route-legs-B-crossings-B-x1-path"
		p.Fill(path, "6.2 m")
		p.Run(nil, "const clock = setInterval(() => { const b = [...document.querySelectorAll('.doing button')].find(b => b.innerText === 'stop'); if (b) { b.click(); clearInterval(clock) } }, 0)")
		p.Run(nil, "document.querySelector(arguments[0]).form.requestSubmit()", path)
		p.Says("This job was not planned: stopped by hand")
		onServer(t, s.address, "tram-depot", 2)
		p.press("try again")
		p.Says("path 6200 mm")
		p.faultless()
	})
}

// A plain address of the local net has no service worker, no locks: the page says so, plans, keeps and sends.
func TestPlainAddress(t *testing.T) {
	host := ""
	addresses, _ := net.InterfaceAddrs()
	for _, a := range addresses {
		if n, ok := a.(*net.IPNet); ok && !n.IP.IsLoopback() && n.IP.To4() != nil {
			host = n.IP.String()
		}
	}
	if host == "" {
		t.Skip("SKIPPED: this machine has no address besides its own loop")
	}
	inBoth(t, func(t *testing.T, engine string) {
		s := serve(t, "--data", t.TempDir(), "--addr", host+":0")
		p := open(t, engine, "", s.address)
		p.to(service)
		p.Says("This address is not secure")
		p.Says("works only with the server")
		p.set(width, "60 mm")
		p.holds(width, "60 mm")
		onServer(t, s.address, small, 2)
		p.Says("nothing unsent")
		if !strings.Contains(s.address, host) {
			t.Error(s.address)
		}
		p.faultless()
	})
}
