package e2e

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// fromPhone is what another phone saved as a file: records of the small job, one a line.
func fromPhone(t *testing.T, n int) (file string, lines []string) {
	t.Helper()
	for i := range n {
		lines = append(lines, fmt.Sprintf(`{"id":"01J0000000000000000000%04d","job":%q,"device":"phone-7","number":%d,"person":"P","made":"1999-01-01T00:00:00Z","kind":"note","text":"no. %d","of tomorrow":1.50}`, i, small, i+1, i))
	}
	return written(t, "records.ndjson", strings.Join(lines, "\n")+"\n"), lines
}

// photoFrom is the same with a photo of so many bytes.
func photoFrom(t *testing.T, n int, fill byte) (file, sum string) {
	t.Helper()
	photo := bytes.Repeat([]byte{fill, 1, 2, 3}, n/4)
	h := sha256.Sum256(photo)
	sum = hex.EncodeToString(h[:])
	one, err := json.Marshal(map[string]string{"sha256": sum, "job": small, "place": "A-001", "type": "image/jpeg", "base64": base64.StdEncoding.EncodeToString(photo)})
	if err != nil {
		t.Fatal(err)
	}
	return written(t, fmt.Sprintf("photos-%d.ndjson", fill), `{"format":"trenchwright-photos/1"}`+"\n"+string(one)+"\n"), sum
}

func written(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// full makes a page keep no more records and photos, as a browser does that has no room left, until roomAgain is called.
const full = `const put = IDBObjectStore.prototype.put;
	globalThis.roomAgain = () => (IDBObjectStore.prototype.put = put);
	IDBObjectStore.prototype.put = function (...what) {
		if (!["records", "fieldphotos"].includes(this.name)) return put.apply(this, what);
		throw new DOMException("full", "QuotaExceededError");
	}`

// numbered is the numbers at the server that a page keeps of its records, once all of them have one.
const numbered = `for (let n = 0; ; n++) {
		const rows = await new Promise((done, failed) => {
			const o = indexedDB.open("trenchwright");
			o.onerror = () => failed(o.error);
			o.onsuccess = () => {
				const r = o.result.transaction("records").objectStore("records").getAll();
				r.onsuccess = () => (o.result.close(), done(r.result));
			};
		});
		if (n > 200 || rows.every(r => r.seq > 0)) return rows.map(r => r.seq ?? 0).filter(Boolean);
		await new Promise(later => setTimeout(later, 100));
	}`

// Records and a photo of 12 MB that come in without a server survive a browser that is killed, and are on the server once when it
// is there again. A browser that has no room left says so and loses nothing. A device comes in by a code and is shut out.
func TestRecordsWithoutSignal(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		data, profile := t.TempDir(), t.TempDir()
		s := serve(t, "--data", data, "--addr", "127.0.0.1:0")
		p := open(t, engine, profile, s.address).of(s)
		p.to("/")
		p.Says("ready for no signal")
		p.Says("no records on this device")
		s.stop()
		p.Says("no server")
		file, lines := fromPhone(t, 450) // more than go up at once
		photos, sum := photoFrom(t, 12_000_000, 'a')
		p.Type("#bring", file)
		p.Says("450 records, 450 of them not here before.")
		p.Says("450 records on this device, 450 not yet sent")
		p.Type("#bring", photos)
		p.Says("1 photo on this device, 1 not yet sent")
		p.Says("451 not yet sent")
		p.faultless()
		if engine == "chromium" {
			p.Kill()
			p = open(t, engine, profile, s.address).of(s)
		} else { // as in TestKilledWithoutSignal
			first, second := p.Window(), p.NewWindow()
			p.Switch(first)
			p.CloseWindow()
			p.Switch(second)
		}
		p.to("/")
		p.Says("450 records on this device, 450 not yet sent")
		p.Says("1 photo on this device, 1 not yet sent")
		p.Run(nil, "const make = URL.createObjectURL; URL.createObjectURL = b => (globalThis.left = b, make.call(URL, b))")
		p.press("save the unsent records as a file")
		p.Until(wait, "return globalThis.left")
		var saved string
		p.Await(&saved, "return await globalThis.left.text()")
		if saved != strings.Join(lines, "\n")+"\n" {
			t.Errorf("saved as a file are %d bytes, or others", len(saved))
		}
		s.again(t, data)
		p.Says("450 records on this device, all sent")
		p.Says("1 photo on this device, all sent")
		var numbers []int // that the server gave them, as this browser has them now
		p.Await(&numbers, numbered)
		slices.Sort(numbers)
		if len(numbers) != 450 || numbers[0] != 1 || numbers[449] != 450 {
			t.Errorf("%d records have their number at the server here", len(numbers))
		}
		p.Type("#bring", file) // it is all there already
		p.Says("450 records, 0 of them not here before.")
		_, b := asked(t, s.address+"/api/jobs/"+small+"/records?limit=10000")
		got := strings.Split(strings.TrimSpace(string(b)), "\n")
		slices.Sort(got)
		if !slices.Equal(got, lines) {
			t.Errorf("%d records on the server, or others", len(got))
		}
		if status, b := asked(t, s.address+"/api/attachments/"+sum); status != http.StatusOK || len(b) != 12_000_000 {
			t.Errorf("the photo: %d, %d bytes", status, len(b))
		}

		p.Go(p.at + "/devices")
		p.press("make a code")
		code := strings.ReplaceAll(p.text(".code"), " ", "")
		p.Says("it is on this machine alone")
		p.Go(p.at + "/let-in#" + code)
		p.Fill("#device-name", "Gang 2")
		p.press("let it in")
		p.Until(wait, "return document.querySelector('main.jobs')")
		p.Go(p.at + "/let-in#" + code[:4] + "0000")
		p.Until(wait, "return document.querySelector('#device-name')?.value === 'Gang 2'")
		p.press("let it in")
		p.Says("lets nobody in")
		p.Go(p.at + "/devices")
		p.Says("1 device was let in")
		p.Says("Gang 2")
		p.press("shut out")
		p.Until(wait, "return document.querySelector('.devices tr.out td:last-child')?.innerText.startsWith('shut out')")
		p.faultless()

		p.to("/")
		p.Run(nil, full)
		more, _ := photoFrom(t, 4_000_000, 'b')
		p.Type("#bring", more)
		p.Says("This browser has no room left")
		p.Says("1 photo on this device, all sent")
		p.Says("450 records on this device, all sent")
		p.Type("#bring", written(t, "one.ndjson", strings.Replace(lines[0], "01J0", "01K0", 1)))
		p.Says("one.ndjson was not taken in: This browser has no room left")
		p.press("make room: take 1 photo that the server has off this device")
		p.Says("12.0 MB of room made.")
		p.Run(nil, "globalThis.roomAgain()")
		p.Type("#bring", more)
		p.Says("1 photo on this device, all sent")
		p.unsaid("This browser has no room left")
		p.Says("450 records on this device, all sent")
		p.faultless()
	})
}
