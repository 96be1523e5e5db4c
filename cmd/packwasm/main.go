//go:build js && wasm

// Command packwasm writes the papers of a plan in browsers, and says what dropped files hold. It plans nothing: the plan comes
// from the planning core, or is one that was issued.
//
//	trenchwrightPack.version
//	trenchwrightPack.open(job, state, plan, attachments)  takes a plan; the answer is empty
//	trenchwrightPack.files()                              all files of its pack, [{path, about, server}]; draws them all
//	trenchwrightPack.file(path)                           the bytes of one of them; draws no more than it has to
//	trenchwrightPack.chosen(paper, behind)                a paper that the planning core made as data: its document, or a page of it
//	trenchwrightPack.read(drop, kept)                     what dropped files hold, as package dropped says it
//
// State is {revision, history} as package stamp has it: papers say which state of the job they are of; where it is empty, they are
// of a job file by itself. Job, state and drop are JSON text, the plan is its JSON as bytes, attachments and kept are objects that hold the bytes of each file:
// attachments by their names, kept by their SHA-256. An answer is a Uint8Array, or an object {error} with words. What the
// server alone can write is marked so, and asking for it is an error.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"syscall/js"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/stamp"
	"trenchwright/view/dropped"
	"trenchwright/view/pack/light"
)

func main() {
	var p pack
	js.Global().Set("trenchwrightPack", js.ValueOf(map[string]any{
		"version": planner.Core,
		"open": answering("the job and its state as JSON text, the bytes of its plan and an object with its attachments", func(args []js.Value) ([]byte, error) {
			return p.open([]byte(args[0].String()), []byte(args[1].String()), bytesOf(args[2]), held{args[3]})
		}, js.TypeString, js.TypeString, js.TypeObject, js.TypeObject),
		"files": answering("nothing", func([]js.Value) ([]byte, error) { return p.list() }),
		"file": answering("the path of a file", func(args []js.Value) ([]byte, error) {
			return p.file(args[0].String())
		}, js.TypeString),
		"chosen": answering("a paper as JSON text and what of it", func(args []js.Value) ([]byte, error) {
			if p.of == nil {
				return nil, errNotOpen
			}
			return p.of.Chosen([]byte(args[0].String()), args[1].String())
		}, js.TypeString, js.TypeString),
		"read": answering("what was dropped as JSON text and an object with the files that are kept", func(args []js.Value) ([]byte, error) {
			return dropped.Ask([]byte(args[0].String()), held{args[1]}.get)
		}, js.TypeString, js.TypeObject),
	}))
	select {}
}

// answering is a function for browsers that takes values of these types, which wanted names, and answers with bytes or an error.
func answering(wanted string, answer func([]js.Value) ([]byte, error), types ...js.Type) js.Func {
	return js.FuncOf(func(_ js.Value, args []js.Value) any {
		fits := len(args) == len(types)
		for i := 0; fits && i < len(types); i++ {
			fits = args[i].Type() == types[i]
		}
		if !fits {
			return js.ValueOf(map[string]any{"error": "expected: " + wanted})
		}
		b, err := answer(args)
		if err != nil {
			return js.ValueOf(map[string]any{"error": err.Error()})
		}
		a := js.Global().Get("Uint8Array").New(len(b))
		js.CopyBytesToJS(a, b)
		return a
	})
}

// pack is the one that was opened last.
type pack struct{ of *light.Pack }

var errNotOpen = errors.New("no plan is open")

// listed is a file in the list of a pack.
type listed struct {
	Path   string `json:"path"`
	About  string `json:"about"`
	Server bool   `json:"server"` // only the server can write it
}

// state is which revision of a job is open.
type state struct {
	Revision string        `json:"revision"`
	History  stamp.History `json:"history"`
}

func (p *pack) open(text, which, plan []byte, with held) ([]byte, error) {
	p.of = nil
	var at state
	if len(which) > 0 {
		if err := json.Unmarshal(which, &at); err != nil {
			return nil, fmt.Errorf("the state of the job cannot be read: %w", err)
		}
	}
	j, faults := job.FromJSON(text)
	if faults.Any(finding.Fault) {
		return nil, fmt.Errorf("the job has faults: %s", faults[0].Text)
	}
	var of planner.Plan
	if err := json.Unmarshal(plan, &of); err != nil {
		return nil, fmt.Errorf("the plan cannot be read: %w", err)
	}
	if hash := job.Hash(j); of.Job.Hash != hash {
		return nil, fmt.Errorf("the plan is that of another job: it names %q, the job is %q", of.Job.Hash, hash)
	}
	surfaces, err := planner.Surfaces(j, with.get)
	if err != nil {
		return nil, err
	}
	p.of = light.Of(of, j, at.History.Of(at.Revision), light.Writers{}, surfaces...)
	return nil, nil
}

func (p *pack) list() ([]byte, error) {
	if p.of == nil {
		return nil, errNotOpen
	}
	list := []listed{}
	for _, f := range p.of.Files() {
		list = append(list, listed{f.Name, f.About, f.Make == nil})
	}
	return json.Marshal(list)
}

func (p *pack) file(path string) ([]byte, error) {
	if p.of == nil {
		return nil, errNotOpen
	}
	f, ok := p.of.Find(path)
	switch {
	case !ok:
		return nil, fmt.Errorf("the pack has no file %s", path)
	case f.Make == nil:
		return nil, fmt.Errorf("%s is written by the server", path)
	}
	return f.Make()
}

// held are files by their names or hashes.
type held struct{ js.Value }

func (h held) get(name string) ([]byte, error) {
	v := h.Get(name)
	if v.IsUndefined() {
		return nil, errors.New("it was not given")
	}
	return bytesOf(v), nil
}

func bytesOf(v js.Value) []byte {
	b := make([]byte, v.Length())
	js.CopyBytesToGo(b, v)
	return b
}
