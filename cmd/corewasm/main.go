//go:build js && wasm

// Command corewasm is the planning core for browsers: jobs as JSON in, plans as JSON out. It holds no
// state: every call gets the whole job, so that a worker may be thrown away at any time.
package main

import (
	"encoding/json"
	"fmt"
	"syscall/js"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/job/planner"
)

func main() {
	js.Global().Set("trenchwrightCore", js.ValueOf(map[string]any{
		"version": planner.Core,
		"plan":    js.FuncOf(func(_ js.Value, args []js.Value) any { return answer(args, plan) }),
	}))
	select {}
}

// answer gives the result as bytes, or an object with the error in words.
func answer(args []js.Value, f func([]byte) ([]byte, error)) any {
	if len(args) != 1 || args[0].Type() != js.TypeString {
		return js.ValueOf(map[string]any{"error": "one argument is expected: the job as JSON text"})
	}
	b, err := f([]byte(args[0].String()))
	if err != nil {
		return js.ValueOf(map[string]any{"error": err.Error()})
	}
	a := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(a, b)
	return a
}

func read(text []byte) (job.Job, error) {
	j, faults := job.FromJSON(text)
	if faults.Any(finding.Fault) {
		b, _ := json.Marshal(faults)
		return j, fmt.Errorf("%s", b)
	}
	return j, nil
}

func plan(text []byte) ([]byte, error) {
	j, err := read(text)
	if err != nil {
		return nil, err
	}
	return json.Marshal(planner.Make(j))
}
