package e2e

import (
	"encoding/json"
	"net"
	"net/http"
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
		s := serve(t, "--data", t.TempDir(), "--addr", "0.0.0.0:0")
		port := s.address[strings.LastIndex(s.address, ":"):]
		s.address = "http://" + host + port
		p := open(t, engine, "", s.address)
		p.to(service)
		p.Says("This address is not secure")
		p.Says("works only with the server")
		p.set(width, "60 mm")
		p.holds(width, "60 mm")
		onServer(t, s.address, small, 2)
		p.Says("nothing unsent")
		// nor is it the office: its records wait until it is let in
		p.to("/")
		file, lines := fromPhone(t, 3)
		p.Type("#bring", file)
		p.Says("3 records on this device, 3 not yet sent")
		p.Says("Records do not go up: this device is not known here.")
		p.Says("can be saved as a file")
		p.press("send now")
		p.Says("3 not yet sent")
		p.Run(nil, "[...document.querySelectorAll('.signal a')].find(a => a.innerText === 'Type the code').click()")
		p.Fill("#code", "0000 0000")
		p.Fill("#device-name", "Gang 2")
		p.press("let it in")
		p.Says("this code lets nobody in")
		if status, _ := asked(t, s.address+"/api/jobs/"+small+"/records"); status != http.StatusUnauthorized {
			t.Error(status)
		}
		office, err := http.Post("http://127.0.0.1"+port+"/api/enrolments", "application/json", strings.NewReader("{}"))
		if err != nil {
			t.Fatal(err)
		}
		defer office.Body.Close()
		var made struct{ Code string }
		if err := json.NewDecoder(office.Body).Decode(&made); err != nil {
			t.Fatal(err)
		}
		p.Fill("#code", strings.ToLower(made.Code[:4]+" "+made.Code[4:]))
		p.press("let it in")
		p.Says("3 records on this device, all sent")
		p.Says("is known to the office as Gang 2.")
		if _, b := asked(t, "http://127.0.0.1"+port+"/api/jobs/"+small+"/records"); string(b) != strings.Join(lines, "\n")+"\n" {
			t.Errorf("%s", b)
		}
		p.faultless()
	})
}
