package server

import (
	"net/http"
	"os"
	"regexp"
	"strings"
	"testing"
)

// description is as much of an OpenAPI document as is checked here.
type description struct {
	OpenAPI string `json:"openapi"`
	Paths   map[string]map[string]struct {
		Summary   string `json:"summary"`
		Responses map[string]struct {
			Content map[string]struct {
				Schema struct {
					Ref string `json:"$ref"`
				} `json:"schema"`
			} `json:"content"`
		} `json:"responses"`
	} `json:"paths"`
	Components struct {
		Schemas map[string]struct {
			Properties map[string]any `json:"properties"`
		} `json:"schemas"`
	} `json:"components"`
}

func described(t *testing.T, w *world) description {
	t.Helper()
	status, b, _ := w.ask(t, "GET", "/api/openapi.json", "", nil)
	if status != http.StatusOK {
		t.Fatalf("%d %s", status, b)
	}
	return answer[description](t, b)
}

// Every address that answers is described, and everything described answers; errors are one kind everywhere.
func TestEverythingIsDescribed(t *testing.T) {
	d := described(t, newWorld(t))
	for _, name := range []string{"title", "status", "detail", "faults"} {
		if d.Components.Schemas["Refusal"].Properties[name] == nil {
			t.Errorf("Refusal has no %s", name)
		}
	}
	for p, by := range d.Paths {
		for method, o := range by {
			if o.Summary == "" {
				t.Errorf("%s %s has no summary", method, p)
			}
			if got := o.Responses["default"].Content["application/problem+json"].Schema.Ref; got != "#/components/schemas/Refusal" {
				t.Errorf("%s %s refuses with %q", method, p, got)
			}
		}
	}
	// The routes as the sources register them: another list than the document's.
	registered := regexp.MustCompile(`huma\.(?:Get|Put|Post|Delete)\(h, "([^"]+)"|Path: "(/api[^"]+)"|(?:stream|import)At = "([^"]+)"`)
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]bool{}
	for _, f := range files {
		if strings.HasSuffix(f.Name(), "_test.go") || !strings.HasSuffix(f.Name(), ".go") {
			continue
		}
		text, err := os.ReadFile(f.Name())
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range registered.FindAllStringSubmatch(string(text), -1) {
			at := strings.ReplaceAll(m[1]+m[2]+m[3], "...", "")
			found[at] = true
			if d.Paths[at] == nil {
				t.Errorf("%s is not described", at)
			}
		}
	}
	if len(found) != len(d.Paths) || len(found) < 15 {
		t.Errorf("%d addresses in the sources, %d described", len(found), len(d.Paths))
	}
}
