package e2e

import (
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func post(t *testing.T, address, body string) {
	t.Helper()
	r, err := http.Post(address, "application/json", strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	if said, _ := io.ReadAll(r.Body); r.StatusCode != http.StatusOK {
		t.Fatalf("%s: %s", r.Status, said)
	}
}

// fetched keeps what an address answers as a file of this name.
func fetched(t *testing.T, address, name string) string {
	t.Helper()
	r, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	b, err := io.ReadAll(r.Body)
	if err != nil || r.StatusCode != http.StatusOK {
		t.Fatal(r.Status, err)
	}
	at := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(at, b, 0o644); err != nil {
		t.Fatal(err)
	}
	return at
}

// A job made without a server that the server then refuses stays, with the server's words; it leaves as a file, and another
// browser takes that in.
func TestJobsComeAndGo(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		data := t.TempDir()
		s := serve(t, "--data", data, "--addr", "127.0.0.1:0")
		p := open(t, engine, "", s.address).of(s)
		p.to("/")
		p.Says("ready for no signal")
		s.stop()
		p.Fill("#new-name", "North yard")
		p.press("make it")
		p.planned()
		p.Says("North yard")
		p.Says("1 not yet sent")
		s.again(t, data)
		p.Says("nothing unsent")
		onServer(t, s.address, "north-yard", 1)

		// once more, from the list
		p.to("/")
		p.Says("ready for no signal")
		s.stop()
		p.Says("no server")
		p.Fill("#new-name", "South yard")
		p.press("make it")
		p.planned()
		p.to("/")
		s.again(t, data)
		onServer(t, s.address, "north-yard", 1)
		p.faultless()
		zip := fetched(t, s.address+"/api/jobs/north-yard/export", "north-yard.zip")
		p.Says("nothing unsent")
		onServer(t, s.address, "south-yard", 1)

		s.stop()
		p.Says("no server")
		p.Fill("#new-name", "East yard")
		p.press("make it")
		p.planned()
		p.Says("1 not yet sent")
		p.Run(nil, "const make = URL.createObjectURL; URL.createObjectURL = b => (globalThis.left = b, make.call(URL, b))")
		p.press("save the unsent changes as a file")
		p.Until(wait, "return globalThis.left")
		var text string
		p.Await(&text, "return await globalThis.left.text()")

		// a second workspace that has a job of this id already
		fresh := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
		q := open(t, engine, "", fresh.address)
		var starter string
		q.to("/")
		q.Await(&starter, "const j = await (await fetch('/starter.json')).json(); return JSON.stringify({...j, id: 'east-yard'})")
		post(t, fresh.address+"/api/jobs/east-yard/revisions", `{"id":"THEIRS","parents":[],"content":`+starter+`}`)
		q.Run(nil, `const d = new DataTransfer(); d.items.add(new File([arguments[0]], "not-sent.json")); document.body.dispatchEvent(new DragEvent("drop", {dataTransfer: d, bubbles: true, cancelable: true}))`, text)
		q.Says("1 change needs attention")
		q.Says("a job east-yard is here already")
		q.faultless()

		// a job as one file: in by the button
		q.to("/")
		q.Type("#bring", zip)
		q.planned()
		q.Says("North yard")
		onServer(t, fresh.address, "north-yard", 1)
		q.faultless()

		// a job as a file by hand: what was understood first, kept when somebody says so
		hand := filepath.Join(t.TempDir(), "by-hand.yaml")
		b, err := os.ReadFile("../demo/starter.yaml")
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(hand, b, 0o644); err != nil {
			t.Fatal(err)
		}
		q.to("/")
		q.Type("#bring", hand)
		q.Until(wait, "return document.querySelector('.preview dl > div')")
		q.press("take it in as a job")
		q.planned()
		q.Says("New run")
		q.faultless()

		q.Go(q.at + "/jobs/nowhere-at-all/route")
		q.Says("There is no job nowhere-at-all here or on the server.")
		q.faultless()
	})
}

// The list of jobs says at every moment what is true: while it looks for them, that it looks; never that there are none where there
// are some.
func TestListSaysWhatItKnows(t *testing.T) {
	t.Parallel()
	s := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
	p := open(t, "chromium", "", s.address)
	p.Before(`globalThis.heads = []; new MutationObserver(() => {
		const says = document.querySelector("main.jobs") && document.body.innerText.match(/.*(job.* on this device|looking for jobs|No job is kept).*/g)?.join(" | ");
		if (says && heads.at(-1) !== says) heads.push(says);
	}).observe(document, {subtree: true, childList: true, characterData: true})`)
	p.to("/")
	p.Says("3 jobs on this device")
	p.Says("ready for no signal")
	var heads []string
	p.Run(&heads, "return heads")
	for i, says := range heads {
		if strings.Contains(says, "0 jobs") || strings.Contains(says, "No job is kept") {
			t.Errorf("the list says that there are none: %q", heads)
		}
		if i == 0 && !strings.Contains(says, "looking for jobs") {
			t.Errorf("at first it says %q", says)
		}
	}
	p.faultless()
}
