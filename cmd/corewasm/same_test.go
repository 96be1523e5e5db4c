//go:build !js

package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/edit"
	"trenchwright/job/planner"
	"trenchwright/tools/module"
	"trenchwright/view/groundin"
	"trenchwright/view/screen"
)

// kept are the clips of a job's ground as files, each as NAME=FILE.
func kept(t *testing.T, clips []groundin.Clip) (named []string) {
	for i, clip := range clips {
		at := filepath.Join(t.TempDir(), fmt.Sprint(i))
		if err := os.WriteFile(at, clip.Bytes, 0o644); err != nil {
			t.Fatal(err)
		}
		named = append(named, clip.Name+"="+at)
	}
	return named
}

func surveyed(t *testing.T, name string) groundin.Surveyed {
	t.Helper()
	on, err := demo.Surveyed(name)
	if err != nil {
		t.Fatal(err)
	}
	return on
}

// TestBrowserAndNativeGiveTheSameBytes plans the demo jobs in WebAssembly (node) and here, asks both for what a screen asks,
// and compares every byte.
func TestBrowserAndNativeGiveTheSameBytes(t *testing.T) {
	browser := module.Build(t)
	for _, name := range demo.Names() {
		on := surveyed(t, name)
		clips := kept(t, on.Clips)
		plan, _ := json.Marshal(planner.Make(on.Job, on.Surfaces...))
		if got := browser.Run(t, "run.cjs", job.CanonicalJSON(on.Job), append([]string{"plan"}, clips...)...); !bytes.Equal(got, plan) {
			t.Errorf("%s: %d bytes from the browser build, %d here, and they differ", name, len(got), len(plan))
		}
		questions := asked(on)
		text, _ := json.Marshal(questions)
		got := browser.Run(t, "ask.cjs", text, clips...)
		var desk screen.Desk
		for _, q := range questions {
			want, err := desk.Ask(q[0], []byte(q[1]), func(name string) ([]byte, error) {
				for _, c := range on.Clips {
					if c.Name == name {
						return c.Bytes, nil
					}
				}
				return nil, errors.New("it was not given")
			})
			if err != nil {
				want = []byte("error: " + err.Error())
			}
			length, rest, _ := bytes.Cut(got, []byte("\n"))
			n, err := strconv.Atoi(string(length))
			if err != nil || n > len(rest) {
				t.Fatalf("%s: the browser's answer to %s is cut off", name, q[0])
			}
			if !bytes.Equal(rest[:n], want) {
				at := 0
				for at < min(n, len(want)) && rest[at] == want[at] {
					at++
				}
				t.Errorf("%s: %s %.80s: %d bytes from the browser, %d here; they differ from byte %d on: %.60q, %.60q", name, q[0], q[1], n, len(want), at, rest[at:n], want[at:])
			}
			got = rest[n:]
		}
	}
}

// asked is what a screen asks of a job, each with its question.
func asked(on groundin.Surveyed) [][2]string {
	var out [][2]string
	ask := func(name string, args map[string]any) {
		text, _ := json.Marshal(args)
		out = append(out, [2]string{name, string(text)})
	}
	ask("open", map[string]any{"job": json.RawMessage(job.CanonicalJSON(on.Job))})
	p := planner.Make(on.Job, on.Surfaces...)
	for i, u := range p.Units {
		if i%5 == 0 {
			ask("card", map[string]any{"id": "unit/" + u.Mark})
		}
	}
	for i, j := range p.Joints {
		if i%9 == 0 {
			ask("card", map[string]any{"id": "joint/" + j.Name, "system": "imperial", "words": "us"})
		}
	}
	for _, l := range p.Legs {
		ask("card", map[string]any{"id": "leg/" + l.Name})
		ask("across", map[string]any{"leg": l.Name, "at_mm": measure.Length(l.NodeLength).Millimetres() / 3})
	}
	for i, n := range p.Nodes {
		ask("card", map[string]any{"id": "node/" + n.ID})
		to := [2]float64{n.At[0] + 0.37, n.At[1] - 0.21}
		edits := []edit.Edit{{Op: edit.MoveNode, Node: n.ID, Place: &to, Origin: p.Job.Origin}}
		ask("sketch", map[string]any{"edits": edits, "snap": map[string]any{"within_m": 0.5, "grid_m": float64(i % 2)}})
		ask("edit", map[string]any{"edits": edits})
	}
	for _, name := range []string{"cutting", "set-out", "joints", "dig", "findings", "nothing"} {
		ask("table", map[string]any{"name": name})
	}
	ask("plan", map[string]any{})
	ask("between", map[string]any{"from": p.Units[0].Mark, "to": p.Units[len(p.Units)-1].Mark})
	ask("rod", map[string]any{"height": "130", "of": "top"})
	ask("ticks", map[string]any{"strip": [2]float64{0, 60000}, "step_mm": 2500})
	ask("differ", map[string]any{"issued": p})
	record := `{"id":"01ARZ3NDEKTSV4RRFFQ69G5FAV","device":"phone","number":1,"person":"a foreman","made":"","kind":"set","from":"` + p.Units[0].Mark + `","to":"` + p.Units[3].Mark + `","says":{"within":true,"off":[{"place":"` + p.Units[3].Mark + `","by":"3 mm"}]}}`
	ask("site", map[string]any{"lines": record})
	for _, stage := range []string{"set", "cover", "fill"} {
		ask("next", map[string]any{"name": stage, "height": "130"})
		ask("forms", map[string]any{"name": stage})
		ask("along", map[string]any{"name": stage})
	}
	ask("say", map[string]any{"form": "set", "from": p.Units[4].Mark, "to": p.Units[6].Mark, "fields": map[string]string{"within": "all within"}})
	ask("yard", map[string]any{})
	ask("outline", map[string]any{"job": string(job.CanonicalJSON(on.Job))})
	ask("open", map[string]any{"job": json.RawMessage(job.CanonicalJSON(on.Job)), "system": "imperial", "words": "us", "whole": true})
	return out
}
