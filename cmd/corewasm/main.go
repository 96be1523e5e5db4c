//go:build js && wasm

// Command corewasm is the planning core for browsers: jobs as JSON in, plans and screens as JSON out. What it keeps of an
// opened job is a cache: a worker may be thrown away at any time, and the job is opened again.
//
//	trenchwrightCore.version
//	trenchwrightCore.plan(job, attachments)            the bytes of the plan
//	trenchwrightCore.ask(name, question, attachments)  an answer of view/screen's Desk
//
// Jobs and questions are JSON text, attachments an object that holds the bytes of each under its name. The answer is a
// Uint8Array of JSON, or an object {error} with words; {error, closed: true} where the job has to be opened first.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"syscall/js"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/screen"
)

func main() {
	js.Global().Set("trenchwrightCore", js.ValueOf(map[string]any{
		"version": planner.Core,
		"plan":    js.FuncOf(func(_ js.Value, args []js.Value) any { return answer(args, plan) }),
		"ask":     js.FuncOf(func(_ js.Value, args []js.Value) any { return ask(args) }),
	}))
	select {}
}

// answer gives the result as bytes, or an object with the error in words. The job comes as JSON text; its attachments, where
// it has any, as an object that holds the bytes of each under its name.
func answer(args []js.Value, f func([]byte, attachments) ([]byte, error)) any {
	if len(args) < 1 || len(args) > 2 || args[0].Type() != js.TypeString || len(args) == 2 && args[1].Type() != js.TypeObject {
		return js.ValueOf(map[string]any{"error": "the job is expected as JSON text, and behind it an object with the bytes of its attachments"})
	}
	var with attachments
	if len(args) == 2 {
		with.held = args[1]
	}
	return given(f([]byte(args[0].String()), with))
}

// desk keeps the opened job.
var desk screen.Desk

// ask answers a question about the opened job.
func ask(args []js.Value) any {
	if len(args) < 2 || len(args) > 3 || args[0].Type() != js.TypeString || args[1].Type() != js.TypeString || len(args) == 3 && args[2].Type() != js.TypeObject {
		return js.ValueOf(map[string]any{"error": "a question is its name, its JSON text, and behind them an object with the bytes of the job's attachments"})
	}
	var with attachments
	if len(args) == 3 {
		with.held = args[2]
	}
	return given(desk.Ask(args[0].String(), []byte(args[1].String()), with.get))
}

// given is an answer as a browser takes it.
func given(b []byte, err error) any {
	if err != nil {
		return js.ValueOf(map[string]any{"error": err.Error(), "closed": errors.Is(err, screen.ErrNotOpen)})
	}
	a := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(a, b)
	return a
}

// attachments are files of a job by their names; the zero value holds none.
type attachments struct{ held js.Value }

func (a attachments) get(name string) ([]byte, error) {
	if a.held.IsUndefined() || a.held.Get(name).IsUndefined() {
		return nil, errors.New("it was not given")
	}
	v := a.held.Get(name)
	b := make([]byte, v.Length())
	js.CopyBytesToGo(b, v)
	return b, nil
}

func read(text []byte) (job.Job, error) {
	j, faults := job.FromJSON(text)
	if faults.Any(finding.Fault) {
		b, _ := json.Marshal(faults)
		return j, fmt.Errorf("%s", b)
	}
	return j, nil
}

func plan(text []byte, with attachments) ([]byte, error) {
	j, err := read(text)
	if err != nil {
		return nil, err
	}
	surfaces, err := planner.Surfaces(j, with.get)
	if err != nil {
		return nil, err
	}
	return json.Marshal(planner.Make(j, surfaces...))
}
