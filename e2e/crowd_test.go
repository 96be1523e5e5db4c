package e2e

import (
	"encoding/json"
	"fmt"
	"testing"
)

// crowded puts services close together on a leg of the tram depot, and a zone among them, as a new revision of it.
func crowded(t *testing.T, address string) {
	t.Helper()
	read := func(path string, to any) {
		status, b := asked(t, address+path)
		if status != 200 {
			t.Fatalf("%s: %d %s", path, status, b)
		}
		if err := json.Unmarshal(b, to); err != nil {
			t.Fatal(err)
		}
	}
	var j struct{ Heads []string }
	read("/api/jobs/tram-depot", &j)
	var content map[string]any
	read("/api/revisions/"+j.Heads[0], &content)
	for _, l := range content["route"].(map[string]any)["legs"].([]any) {
		leg := l.(map[string]any)
		if leg["id"] != "D" {
			continue
		}
		all, _ := leg["services"].([]any)
		for i, name := range []string{"gas main, low pressure", "telephone cable", "street light cable", "water main, old", "signal cable"} {
			one := map[string]any{"id": fmt.Sprintf("D-x%d", i+1), "name": name, "at": fmt.Sprintf("%d mm", 11400+i*350), "width": "60 mm", "clear": "100 mm"}
			if i%2 == 0 {
				one["depth"] = fmt.Sprintf("%d mm", 1250+50*i)
			}
			all = append(all, one)
		}
		leg["services"] = all
	}
	changed, err := json.Marshal(content)
	if err != nil {
		t.Fatal(err)
	}
	post(t, address+"/api/jobs/tram-depot/revisions", fmt.Sprintf(`{"id":"01CROWDED","parents":[%q],"content":%s}`, j.Heads[0], changed))
}
