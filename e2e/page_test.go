package e2e

import (
	"encoding/json"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"

	"trenchwright/tools/browser"
)

// page is a browser with the workspace open in it. What the page told as faults is looked at after every step, and at the end.
type page struct {
	*browser.Browser
	t    *testing.T
	at   string // address of the workspace
	away *away  // when the test had stopped it; nil: it does not
}

func open(t *testing.T, engine, profile, address string) *page {
	t.Helper()
	p := &page{Browser: browser.Start(t, engine, profile), t: t, at: address}
	p.Size(1440, 1000)
	return p
}

// begun is a page at a path of a workspace of its own, as large as a desk has it or as it is told.
func begun(t *testing.T, engine, path string, size ...int) (*page, *served) {
	t.Helper()
	s := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
	p := open(t, engine, "", s.address).of(s)
	if len(size) == 2 {
		p.Size(size[0], size[1])
	}
	p.to(path)
	return p, s
}

// of says whose page this is, where a test stops its server: the browser may tell then that nobody is there.
func (p *page) of(s *served) *page {
	p.away = &s.away
	return p
}

// to opens a screen and waits until it is there.
func (p *page) to(path string) {
	p.t.Helper()
	p.faultless()
	p.Go(p.at + path)
	if strings.HasPrefix(path, "/jobs/") {
		p.planned()
		return
	}
	p.Until(wait, "return document.querySelector('main.jobs')")
}

// planned waits until a run is drawn and nothing is being planned.
func (p *page) planned() {
	p.t.Helper()
	p.Until(wait, "return document.querySelector('.stages') && !/planning|working the run out/.test(document.body.innerText)")
}

// expected are the lines that browsers write of their own where the server is not there, or refuses: the page has to live with
// that, and shows it.
func (p *page) expected(line browser.Line) bool {
	switch said := line.Text; {
	case strings.Contains(said, "net::ERR_CONNECTION_REFUSED"), // nobody listens
		strings.Contains(said, "fetching the script"): // a look for a new version
		return p.away.at(line.At)
	default:
		return strings.Contains(said, "Failed to load resource") && strings.Contains(said, "/api/") ||
			strings.Contains(said, "/api/stream") ||
			strings.Contains(said, "Cross-Origin-Opener-Policy header has been ignored") // at a plain address
	}
}

// faultless fails the test where the page told a fault.
func (p *page) faultless() {
	p.t.Helper()
	var told []string
	p.Run(&told, "const f = globalThis.trenchwrightFaults; return f ? f.splice(0) : []")
	lines := p.Log()
	for _, text := range told {
		lines = append(lines, browser.Line{At: time.Now(), Text: text})
	}
	for _, l := range lines {
		if !p.expected(l) {
			p.t.Errorf("%s: the page told a fault at %s: %s", p.Engine, l.At.Format(time.TimeOnly), l.Text)
		}
	}
}

func (p *page) text(css string) (text string) {
	p.t.Helper()
	p.Until(wait, "return document.querySelector(arguments[0])", css)
	p.Run(&text, "return document.querySelector(arguments[0]).innerText", css)
	return text
}

// press clicks the button of this text, wherever it is.
func (p *page) press(text string) {
	p.t.Helper()
	p.Until(wait, "const b = [...document.querySelectorAll('button, summary')].find(b => b.innerText.trim() === arguments[0] && !b.disabled); if (b) b.click(); return b", text)
}

// pressUntil clicks the button of this text whenever it is there, until the page says what it has to lead to: the page may get
// there by itself, and then the button goes.
func (p *page) pressUntil(text, says string) {
	p.t.Helper()
	p.Until(wait, `if (document.body.innerText.includes(arguments[1])) return true;
		[...document.querySelectorAll('button')].find(b => b.innerText.trim() === arguments[0] && !b.disabled)?.click()`, text, says)
}

// unsaid waits until a text is gone.
func (p *page) unsaid(text string) {
	p.t.Helper()
	p.Until(wait, "return !document.body.innerText.includes(arguments[0])", text)
}

// set types a figure into a field of the open card and changes it there.
func (p *page) set(field, text string) {
	p.t.Helper()
	css := "#field-" + field
	p.Fill(css, text)
	p.Until(wait, "const b = document.querySelector(arguments[0]).form.querySelector('button[type=submit]'); if (!b.disabled) b.click(); return !b.disabled", css)
	p.planned()
}

// holds is what a field of the open card holds; it waits for that.
func (p *page) holds(field, text string) {
	p.t.Helper()
	p.Until(wait, "return document.querySelector(arguments[0])?.value === arguments[1]", "#field-"+field, text)
}

// wait is how long a page may take to show something on a machine that has other work.
const wait = 2 * time.Minute

type revision struct {
	ID      string
	Parents []string
	Author  string
	Note    string
}

type jobOnServer struct {
	Heads     []string
	Revisions []revision
}

// onServer waits until a job has so many revisions on the server.
func onServer(t *testing.T, address, job string, revisions int) (j jobOnServer) {
	t.Helper()
	for end := time.Now().Add(wait); ; time.Sleep(50 * time.Millisecond) {
		status, b := asked(t, address+"/api/jobs/"+job)
		j = jobOnServer{}
		if status == http.StatusOK {
			if err := json.Unmarshal(b, &j); err != nil {
				t.Fatal(err)
			}
		}
		if len(j.Revisions) == revisions {
			return j
		}
		if time.Now().After(end) {
			t.Fatalf("job %s has %d revisions on the server, not %d: %d: %s", job, len(j.Revisions), revisions, status, b)
		}
	}
}

// asked asks the server as another program would.
func asked(t *testing.T, address string) (status int, said []byte) {
	t.Helper()
	r, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	b, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r.StatusCode, b
}
