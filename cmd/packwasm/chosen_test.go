//go:build !js

package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/pack/light"
	"trenchwright/view/papers"
	"trenchwright/view/screen"
)

// A paper that somebody chooses on the desk is the one that the program writes by the same choice, byte for byte: the desk makes it as
// data with the records that it has, the writer of papers a document of that. What is not there is said in the program's words.
func TestAChosenPaperIsThatOfTheProgram(t *testing.T) {
	for _, name := range []string{"hand-troughs", "battery-yard"} {
		on := surveyed(t, name)
		plan, answers := planner.Ask(on.Job, on.Surfaces...)
		clips := map[string][]byte{}
		for _, c := range on.Clips {
			clips[c.Name] = c.Bytes
		}
		var desk screen.Desk
		ask := func(question string, args map[string]any) ([]byte, error) {
			b, err := json.Marshal(args)
			if err != nil {
				t.Fatal(err)
			}
			return desk.Ask(question, b, func(file string) ([]byte, error) { return clips[file], nil })
		}
		if _, err := ask("open", map[string]any{"job": on.Job}); err != nil {
			t.Fatal(err)
		}
		if _, err := ask("paper", map[string]any{"name": papers.Day, "fields": map[string]string{"day": "2026-04-02"}}); err != screen.ErrNoRecords {
			t.Errorf("%s: before the records came: %v", name, err)
		}
		place := plan.Units[1].Mark
		records := []field.Record{{ID: "01J0000000000000000000000B", Device: "d", Number: 1, Person: "A. Person", Made: "2026-04-02T08:00:00Z", Kind: field.Nonconforming, From: place, Text: "wall chipped", Says: []byte(`{"number":"N1","what":"chip"}`)},
			{ID: "01J0000000000000000000000C", Device: "d", Number: 2, Person: "A. Person", Made: "2026-04-02T09:00:00Z", Kind: field.Set, From: place, Says: []byte(`{"within":true}`)}}
		var lines strings.Builder
		if err := field.Write(&lines, records); err != nil {
			t.Fatal(err)
		}
		const moment = "2026-04-03T00:00:00Z"
		if _, err := ask("site", map[string]any{"lines": lines.String(), "now": moment}); err != nil {
			t.Fatal(err)
		}
		in := papers.Input{Job: on.Job, Plan: plan, Answers: answers, Records: records, Now: moment}
		writer := light.Of(plan, on.Job, in.Stamp, light.Writers{}, on.Surfaces...)
		for _, c := range []papers.Choice{{Kind: papers.Question, Place: place, Number: "7", Ask: "may the wall be cored?", By: "2026-04-10"}, {Kind: papers.OpenEnd, Place: "1.5 m", Leg: "A"}, {Kind: papers.Day, Day: "2026-04-02"}, {Kind: papers.Nonconforming, Number: "N1"}} {
			made, err := ask("paper", map[string]any{"name": c.Kind, "leg": c.Leg, "fields": map[string]string{"place": c.Place, "day": c.Day, "number": c.Number, "ask": c.Ask, "by": c.By}})
			if err != nil {
				t.Errorf("%s, %s: %v", name, c.Kind, err)
				continue
			}
			list, err := papers.Make(in, c)
			if err != nil {
				t.Fatal(err)
			}
			want, err := light.PaperDocument(in, list[0])
			if err != nil {
				t.Fatal(err)
			}
			if got, err := writer.Chosen(made, ""); err != nil || !bytes.Equal(got, want) {
				t.Errorf("%s, %s: %d bytes from the desk, %d from the program, and they differ: %v", name, c.Kind, len(got), len(want), err)
			}
			var pages []light.Page
			if got, err := writer.Chosen(made, "pages.json"); err != nil || json.Unmarshal(got, &pages) != nil || len(pages) != len(list[0].Pages()) {
				t.Errorf("%s, %s: its pages are %+v, %v", name, c.Kind, pages, err)
			}
			if got, err := writer.Chosen(made, "1.svg"); err != nil || !bytes.Contains(got, []byte("<svg")) {
				t.Errorf("%s, %s: its first page is %.40q, %v", name, c.Kind, got, err)
			}
			if _, err := writer.Chosen(made, "99.svg"); err == nil {
				t.Errorf("%s, %s has a page 99", name, c.Kind)
			}
		}
		made, err := ask("paper", map[string]any{"name": papers.Permit})
		if err != nil {
			t.Fatal(err)
		}
		all, err := papers.Make(in, papers.Choice{Kind: papers.Permit})
		if err != nil || len(all) < 2 {
			t.Fatalf("%d permits: %v", len(all), err)
		}
		var pages []light.Page
		if got, err := writer.Chosen(made, "pages.json"); err != nil || json.Unmarshal(got, &pages) != nil || len(pages) != len(papers.Pages(all)) {
			t.Errorf("%s: the pages of the permits are %+v, %v", name, pages, err)
		}
		if got, err := writer.Chosen(made, ""); err != nil || !bytes.HasPrefix(got, []byte("%PDF")) {
			t.Errorf("%s: permits of %d bytes, %v", name, len(got), err)
		}
		if _, err := writer.Chosen([]byte("[]"), ""); err == nil || !strings.Contains(err.Error(), "no paper of this kind") {
			t.Errorf("%s: no paper at all: %v", name, err)
		}
		if _, err := ask("paper", map[string]any{"name": papers.Nonconforming, "fields": map[string]string{"number": "N2"}}); err == nil || !strings.Contains(err.Error(), "there are N1") {
			t.Errorf("%s: a number that is not there: %v", name, err)
		}
	}
}
