package e2e

import (
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Two days come home. One is recorded on a phone while no server is there: a delivery with damage, thirty units in stretches with one
// off its place, an answer taken to that, a service that is found, covers. The other is kept on a card and keyed in at the office, with
// no server either. Then both are sent, the job with all that belongs to it is saved as one file, and its dossier proves itself and says
// what both days say. With KEEP_DOSSIER=DIR it is left there, to be looked at.
func TestTwoDaysComeHome(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		data := t.TempDir()
		s := serve(t, "--data", data, "--addr", "127.0.0.1:0")
		phone, office := open(t, engine, "", s.address).of(s), open(t, engine, "", s.address).of(s)
		phone.Size(360, 780)
		phone.to("/jobs/hand-troughs/order")
		phone.Says("ready for no signal")
		office.to("/jobs/hand-troughs/set")
		office.Says("ready for no signal")
		s.stop()

		phone.press("Delivery")
		phone.Fill(".recorder .stepper input[aria-label='how many came']", "44")
		phone.Fill(".recorder .stepper input[aria-label='of them damaged']", "2")
		phone.records("(2 damaged)")
		phone.stageAt("Set")
		for _, at := range []string{"A-001", "A-006", "A-011", "A-016", "A-021", "B-"} { // five each, thirty
			off := at == "A-011"
			if phone.sets(at, off); !off {
				continue
			}
			phone.offered()
			phone.press("take this answer")
			phone.press("yes, take it")
			phone.planned()
			phone.Until(wait, "return document.querySelector('.next .record')?.innerText.includes('A-016') && document.querySelector('.nextthing')?.innerText.includes('at its place')")
		}
		phone.stageAt("Dig")
		phone.finds("water main")
		phone.stageAt("Cover")
		for _, at := range []string{"A-001", "A-006"} {
			phone.next(at)
			phone.records("covers laid")
		}

		office.Until(wait, "const s = document.querySelector('.daycard > summary'); s?.focus(); return s")
		office.keyed("\n")
		office.Until(wait, "const i = document.querySelector('.daycard .top input'); i?.focus(); return i && document.querySelector('.boxes tbody tr')")
		office.keyed("A Ganger\nforeman\n2026-11-24\n16:30\nrod 2\n\n\n\n\n\n\n\n\n\n\n")
		office.Until(wait, "return document.activeElement.ariaLabel?.startsWith('A-001, ')")
		for _, row := range []string{".\n2\n=\n\n", "3\n3\n2.5\n\n", "-2\n2\n=\n\n", "4\n1\n=\n\n", ".\n2\n=\n\n"} {
			office.keyed(row)
		}
		office.Chord(controlKey, enter)
		office.Says("Kept on this machine: 5 places, 10 records.")

		s.again(t, data)
		phone.Says("20 records sent")
		office.Says("20 records on this device, all sent")
		phone.faultless()
		office.faultless()

		_, records := asked(t, s.address+"/api/jobs/hand-troughs/records?limit=10000")
		if n := strings.Count(string(records), "\n"); n != 20 {
			t.Errorf("%d records on the server: ten of the phone, ten of the office", n)
		}
		status, whole := asked(t, s.address+"/api/jobs/hand-troughs/export")
		if status != http.StatusOK {
			t.Fatalf("the job as one file: %d: %s", status, whole)
		}
		dir := t.TempDir()
		if keep := os.Getenv("KEEP_DOSSIER"); keep != "" {
			dir = filepath.Join(keep, engine)
			if err := os.MkdirAll(dir, 0o755); err != nil {
				t.Fatal(err)
			}
		}
		file := filepath.Join(dir, "hand-troughs.zip")
		if err := os.WriteFile(file, whole, 0o644); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(program, "dossier", file, "-o", filepath.Join(dir, "handover"), "--verify").CombinedOutput()
		if t.Logf("%s", out); err != nil {
			t.Fatal(err)
		}
		one := filepath.Join(dir, "handed-over-at-the-office.zip")
		if err := os.WriteFile(one, office.handsOver("20 records"), 0o644); err != nil {
			t.Fatal(err)
		}
		if out, err := exec.Command(program, "dossier", one, "--verify").CombinedOutput(); err != nil || !strings.Contains(string(out), "all of them are what they were") {
			t.Errorf("what the office handed over: %v, %s", err, out)
		}
		out, _ = exec.Command(program, "asbuilt", "../demo/hand-troughs.yaml", "--records", written(t, "records.ndjson", string(records)), "--open").CombinedOutput()
		if !strings.Contains(string(out), "A-002") || !strings.Contains(string(records), "water main") { // the card's reading there; what the phone found
			t.Errorf("what is open: %s\nrecords: %s", out, records)
		}
	})
}

// handsOver has the page make the dossier of the whole run, and gives the file that it hands to the person.
func (p *page) handsOver(says string) (file []byte) {
	p.t.Helper()
	p.stageAt("Hand over")
	p.press("the dossier")
	of := func(part string) {
		p.Until(wait, "const s = document.querySelector('.handing select'); if (s) { s.value = arguments[0]; s.dispatchEvent(new Event('change', { bubbles: true })); } return s", part)
	}
	of(" ")
	p.press("make the dossier")
	p.Says("Not made: say from which place to which, such as A-003 to A-006.")
	of("")
	p.keeping()
	p.press("make the dossier")
	p.Says(says)
	p.Says("SHA-256 of this file")
	p.keptAs("hand-troughs_state-2_dossier.zip")
	p.Await(&file, "const b = new Uint8Array(await globalThis.kept.arrayBuffer()); let s = ''; for (const c of b) s += String.fromCharCode(c); return btoa(s)")
	sum := sha256.Sum256(file)
	p.Says(hex.EncodeToString(sum[:]))
	return file
}
