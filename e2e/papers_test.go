package e2e

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"net/http"
	"testing"
	"time"
)

// Papers that are kept while no server answers have the bytes that the server writes; they are shown and printed; the workbook
// says that it needs the server.
func TestPapersWithoutTheServer(t *testing.T) {
	paths := []string{"job.yaml", "interchange/plan.xml", "csv/cutting.csv", "cut-cards-A4.pdf", "sheets-A3.pdf"}
	inBoth(t, func(t *testing.T, engine string) {
		s := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
		want := map[string]string{}
		revision := onServer(t, s.address, small, 1).Heads[0]
		for _, path := range paths {
			r, err := http.Get(fmt.Sprintf("%s/api/revisions/%s/files/%s", s.address, revision, path))
			if err != nil {
				t.Fatal(err)
			}
			b, err := io.ReadAll(r.Body)
			r.Body.Close()
			if err != nil || r.StatusCode != http.StatusOK {
				t.Fatalf("%s: %s, %v", path, r.Status, err)
			}
			sum := sha256.Sum256(b)
			want[path] = hex.EncodeToString(sum[:])
		}
		p := open(t, engine, "", s.address).of(s)
		p.to("/jobs/" + small + "/order")
		p.Says("ready for no signal")
		s.stop()
		p.to("/jobs/" + small + "/order")
		p.Says("no server")
		p.press("Papers and files")
		p.press("of the other stages")
		p.Says("save: needs the server")
		p.Run(nil, "const make = URL.createObjectURL; URL.createObjectURL = (b) => ((globalThis.kept = b), make.call(URL, b))")
		for _, path := range paths {
			began := time.Now()
			p.Run(nil, "globalThis.kept = undefined; document.querySelector(arguments[0]).click()", fmt.Sprintf(`[aria-label="save %s"]`, path))
			p.Until(2*wait, "return globalThis.kept")
			t.Logf("%s: %s after %s", engine, path, time.Since(began).Round(10*time.Millisecond))
			var got string
			p.Await(&got, "return [...new Uint8Array(await crypto.subtle.digest('SHA-256', await globalThis.kept.arrayBuffer()))].map((n) => n.toString(16).padStart(2, '0')).join('')")
			if got != want[path] {
				t.Errorf("%s: %s has SHA-256 %s, the server's %s", engine, path, got, want[path])
			}
		}
		p.Run(nil, `document.querySelector('[aria-label="open sheets-A3.pdf"]').click()`)
		p.Until(wait, "return document.querySelector('dialog.viewer[open] iframe')?.src.startsWith('blob:')")
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
