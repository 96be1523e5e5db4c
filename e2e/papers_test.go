package e2e

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"mime"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"
)

// fileOf is one file of the pack of a revision, as the server writes it.
func fileOf(t *testing.T, s *served, revision, path string) []byte {
	t.Helper()
	status, b := asked(t, s.address+"/api/revisions/"+url.PathEscape(revision)+"/files/"+path)
	if status != http.StatusOK {
		t.Fatalf("%s: %d, %s", path, status, b)
	}
	return b
}

// namedBy is what the server calls a file that it gives away.
func namedBy(t *testing.T, address string) string {
	t.Helper()
	r, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	_, as, err := mime.ParseMediaType(r.Header.Get("Content-Disposition"))
	if err != nil {
		t.Fatal(err)
	}
	return as["filename"]
}

// kept is one file of the open pack, as the page gives it to whoever keeps it.
func (p *page) kept(path string) []byte {
	p.t.Helper()
	p.Run(nil, "globalThis.kept = undefined; document.querySelector(arguments[0]).click()", fmt.Sprintf(`[aria-label="save %s"]`, path))
	p.Until(2*wait, "return globalThis.kept")
	var b []byte
	p.Await(&b, "const b = new Uint8Array(await globalThis.kept.arrayBuffer()); let s = ''; for (const c of b) s += String.fromCharCode(c); return btoa(s)")
	return b
}

// keeping lets kept see what the page gives away.
func (p *page) keeping() {
	p.Run(nil, `const make = URL.createObjectURL; URL.createObjectURL = (b) => ((globalThis.kept = b), make.call(URL, b));
		const click = HTMLAnchorElement.prototype.click; HTMLAnchorElement.prototype.click = function () { globalThis.keptAs = this.download; click.call(this); }`)
}

// keptAs is the name by which the page gave the last file away.
func (p *page) keptAs(name string) {
	p.t.Helper()
	var as string
	if p.Run(&as, "return globalThis.keptAs"); as != name {
		p.t.Errorf("%s: it is kept as %q, not %q", p.Engine, as, name)
	}
}

// Two papers of two states of a job tell which is later, whoever wrote them: by a number, by who made the last change and when, by
// what was issued; changes that are on this device alone are told too. Any two states are compared, and the difference is printed.
func TestPapersSayTheirState(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		data := t.TempDir()
		s := serve(t, "--data", data, "--addr", "127.0.0.1:0")
		p := open(t, engine, "", s.address).of(s)
		p.to(service)
		p.Says("ready for no signal")
		const list = "findings.txt" // the state stands in its second line
		says := func(what string, b []byte, parts ...string) {
			t.Helper()
			line := strings.Split(string(b), "\n")[1]
			for _, part := range parts {
				if !strings.Contains(line, part) {
					t.Errorf("%s: %s says %q, and not %q", engine, what, line, part)
				}
			}
		}
		says("the first state", fileOf(t, s, "DEMO-"+small, list), "NOT ISSUED: state 1, DEMO-"+small, "by demo", "nothing issued before")
		s.stop()
		p.to(service)
		p.Says("no server")
		p.set(width, "60 mm")
		p.Says("1 not yet sent")
		p.Until(wait, "return document.querySelector('.stamp .brief')?.textContent.includes('state 2, ')")
		p.press("Print, papers and files")
		p.press("of the other stages")
		p.keeping()
		says("what waits here", p.kept(list), "NOT ISSUED: state 2, ", "by somebody who gave no name", "with 1 change not yet sent", "nothing issued before")
		p.keptAs(small + "_state-2-1-unsent_" + list)
		p.press("save as CSV")
		p.Until(wait, "return globalThis.keptAs.endsWith('.csv')")
		p.keptAs(small + "_state-2-1-unsent_joints.csv")
		s.again(t, data)
		j := onServer(t, s.address, small, 2)
		p.Says("nothing unsent")
		for _, path := range []string{list, "csv/bill.csv", "set-out-cards-A4.pdf", "sheets-A3.pdf/1.svg"} {
			want := fileOf(t, s, j.Heads[0], path)
			if path == list {
				says("the second state", want, "NOT ISSUED: state 2, "+j.Heads[0][20:]+", of the changes up to 20", "by somebody who gave no name; nothing issued before")
			}
			if strings.HasPrefix(path, "sheets") {
				continue
			}
			if got := p.kept(path); !bytes.Equal(got, want) {
				t.Errorf("%s: %s has %d bytes here, %d on the server, and they differ", engine, path, len(got), len(want))
			}
			name := small + "_state-2_" + path[strings.LastIndexByte(path, '/')+1:]
			p.keptAs(name)
			if as := namedBy(t, s.address+"/api/revisions/"+j.Heads[0]+"/files/"+path); as != name {
				t.Errorf("%s: the server calls it %q, not %q", engine, as, name)
			}
		}
		p.press("Issue, and what changed since")
		p.press("what the last change did")
		p.Says("What changed since state 1, DEMO-" + small + " by demo")
		p.Until(wait, "return document.querySelector('.changed .stamp .whole')?.textContent.includes('NOT ISSUED: state 2')")
		p.press("close this list")
		p.Until(wait, "return document.querySelector('.against option')")
		p.press("what changed since this state")
		p.Says("What changed since state 1")
		if engine == "chromium" {
			looked(t, "what changed", p.Printed(), "What changed since state 1, DEMO-"+small)
		}
		if as := namedBy(t, s.address+"/api/jobs/"+small+"/export"); as != small+"_all-up-to-state-2.zip" {
			t.Errorf("%s: the whole job is called %q", engine, as)
		}
		p.Fill("#issue-name", "First for the gang")
		p.Fill("#issue-by", "Ann Bee")
		p.press("issue this revision")
		p.Says("Issued: First for the gang.")
		p.Until(wait, "return document.querySelector('.stamp .brief')?.textContent.includes('ISSUED as First for the gang')")
		says("what was issued", fileOf(t, s, j.Heads[0], list), "ISSUED as First for the gang: state 2, "+j.Heads[0][20:], "by Ann Bee")
		s.stop()
		p.to(service)
		p.Says("no server")
		p.press("Print, papers and files")
		p.press("of the other stages")
		p.keeping()
		says("what was issued, written here", p.kept(list), "ISSUED as First for the gang: state 2, "+j.Heads[0][20:], "by Ann Bee")
		p.faultless()
	})
}

// Papers that are kept while no server answers have the bytes that the server writes; they are shown and printed; the workbook
// says that it needs the server.
func TestPapersWithoutTheServer(t *testing.T) {
	paths := []string{"job.yaml", "interchange/plan.xml", "csv/cutting.csv", "cut-cards-A4.pdf", "sheets-A3.pdf"}
	inBoth(t, func(t *testing.T, engine string) {
		s := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
		want := map[string]string{}
		revision := onServer(t, s.address, small, 1).Heads[0]
		for _, path := range paths {
			b := fileOf(t, s, revision, path)
			sum := sha256.Sum256(b)
			want[path] = hex.EncodeToString(sum[:])
		}
		p := open(t, engine, "", s.address).of(s)
		p.to("/jobs/" + small + "/order")
		p.Says("ready for no signal")
		s.stop()
		p.to("/jobs/" + small + "/order")
		p.Says("no server")
		p.press("Print, papers and files")
		p.press("of the other stages")
		p.Says("save: needs the server")
		p.keeping()
		for _, path := range paths {
			began := time.Now()
			sum := sha256.Sum256(p.kept(path))
			t.Logf("%s: %s after %s", engine, path, time.Since(began).Round(10*time.Millisecond))
			got := hex.EncodeToString(sum[:])
			if got != want[path] {
				t.Errorf("%s: %s has SHA-256 %s, the server's %s", engine, path, got, want[path])
			}
		}
		p.Run(nil, `document.querySelector('[aria-label="open sheets-A3.pdf"]').click()`)
		p.Until(wait, "const i = document.querySelectorAll('dialog.viewer[open] .picture img'); return i.length > 3 && [...i].every(one => one.naturalWidth > 100)")
		p.press("close")
		p.Until(wait, "return !document.querySelector('dialog.viewer')")
		p.press("every sheet and card by itself")
		p.Until(wait, `return document.querySelector('[aria-label="open svg/strip-1.svg"]')`)
		p.Run(nil, `document.querySelector('[aria-label="open svg/strip-1.svg"]').click()`)
		p.Until(wait, "return document.querySelector('dialog.viewer[open] img')?.naturalWidth > 100")
		p.press("close")
		p.Run(nil, `document.querySelector('[aria-label="open job.yaml"]').click()`)
		p.Until(wait, "return document.querySelector('dialog.viewer pre')?.textContent.includes('format: 1')")
		p.faultless()
	})
}

// A paper of a place, of a day or by a number is written on the desk, with the server gone as well: of what is selected, with what was
// said for it; where a number is not on record that is said, and nothing is written.
func TestAChosenPaperIsWrittenOnTheDesk(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, s := begun(t, engine, "/jobs/"+small+"/route#unit/A-004")
		p.Says("ready for no signal")
		s.stop()
		p.keeping()
		p.press("Print, papers and files")
		p.Until(wait, "return [...document.querySelectorAll('.chosen')].some(c => c.innerText.includes('request for information at A-004'))")
		p.Fill(".chosen .asks label:nth-of-type(1) input", "7")
		p.Fill(".chosen .asks label:nth-of-type(2) input", "may the wall be cored here?")
		b := p.kept("request for information")
		if engine == "chromium" {
			needPoppler(t)
			looked(t, "a request", b, "may the wall be cored here?")
		}
		if !bytes.HasPrefix(b, []byte("%PDF")) {
			t.Errorf("%s: a request of %d bytes, %.20q", engine, len(b), b)
		}
		p.keptAs(small + "_state-1_question-7-A-004.pdf")
		p.to("/jobs/" + small + "/handover")
		p.press("Print, papers and files")
		p.Until(wait, "const b = document.querySelector('[aria-label=\"open daily report\"]'); if (b) b.click(); return b")
		p.Until(2*wait, "return document.querySelector('dialog.viewer img')")
		p.press("close")
		p.Until(wait, "return document.querySelector('[aria-label=\"open nonconformance\"]')?.disabled")
		p.Fill(".chosen:nth-of-type(2) input", "N9")
		p.Until(wait, "const b = document.querySelector('[aria-label=\"open nonconformance\"]'); b.click(); return !b.disabled")
		p.Says(`there is no nonconformance "N9" on record`)
	})
}

// Papers that site facts belong on are written from the records of this device, with the server gone as well: a service that was found
// stands on the permit.
func TestPapersSayWhatIsRecorded(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		p, s := begun(t, engine, "/jobs/"+small+"/dig", 360, 780)
		p.Says("ready for no signal")
		s.stop()
		p.finds("gas main")
		p.keeping()
		p.press("find, change, print")
		p.press("Print, papers and files")
		p.Until(wait, "return [...document.querySelectorAll('.papers li')].some(l => l.innerText.includes('permit-to-dig.pdf') && l.innerText.includes('with the records of the site'))")
		b := p.kept("permit-to-dig.pdf")
		if engine == "chromium" {
			needPoppler(t)
			looked(t, "a permit", b, "gas main")
		}
		if !bytes.HasPrefix(b, []byte("%PDF")) {
			t.Errorf("%s: a permit of %d bytes, %.20q", engine, len(b), b)
		}
		p.keptAs(small + "_state-1_permit-to-dig.pdf")
		p.faultless()
	})
}
