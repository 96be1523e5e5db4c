package server

import (
	"bytes"
	"encoding/json"
	"net/http"
	"testing"

	"trenchwright/job"
	"trenchwright/view/screen"
)

// A page that has this server's core gets the very bytes that its core would make; any other is refused.
func TestScreenIsTheOneOfTheCore(t *testing.T) {
	w := newWorld(t)
	for _, name := range []string{"tram-depot", "hand-troughs"} {
		j := w.put(t, name)
		for _, v := range []screen.View{{}, {System: "imperial", Words: "us"}, {System: "metric", Words: "uk"}} {
			question, _ := json.Marshal(map[string]any{"job": string(job.CanonicalJSON(j)), "system": v.System, "words": v.Words})
			want, err := new(screen.Desk).Ask("open", question, func(file string) ([]byte, error) {
				for _, a := range j.Attachments {
					if a.Name == file {
						return w.store.Attachment(t.Context(), a.SHA256)
					}
				}
				t.Fatalf("no %s", file)
				return nil, nil
			})
			if err != nil {
				t.Fatal(err)
			}
			at := "/api/revisions/R-" + name + "/screen?core=/a/core-0.wasm"
			if v != (screen.View{}) {
				at += "&system=" + v.System + "&words=" + v.Words
			}
			for range 2 { // the second time it is kept
				status, got, _ := w.ask(t, "GET", at, "", nil)
				if status != http.StatusOK || !bytes.Equal(got, want) {
					t.Errorf("%s in %v: %d, %d bytes, not %d", name, v, status, len(got), len(want))
				}
			}
		}
	}
	for query, want := range map[string]int{"?core=/a/core-1.wasm": http.StatusConflict, "": http.StatusUnprocessableEntity, "?core=/a/core-0.wasm&words=de": http.StatusUnprocessableEntity} {
		if status, b, _ := w.ask(t, "GET", "/api/revisions/R-hand-troughs/screen"+query, "", nil); status != want {
			t.Errorf("%q: %d, not %d: %s", query, status, want, b)
		}
	}
}
