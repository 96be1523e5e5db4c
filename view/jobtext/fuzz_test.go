package jobtext

import (
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"

	"trenchwright/base/finding"
	"trenchwright/job"
)

// checkRead holds for any bytes: faults that can be shown, or a job that survives every writing.
func checkRead(t *testing.T, name string, data []byte) {
	j, faults := Read(name, bytes.NewReader(data))
	for _, f := range faults {
		if f.Text == "" || f.Kind != finding.Fault || f.Where.File != name || len(f.Text) > 1000 || len(f.Where.Excerpt) > 2000 {
			t.Fatalf("a fault that cannot be shown: %+v", f)
		}
	}
	if len(faults) > mostFaults+1 {
		t.Fatalf("%d faults", len(faults))
	}
	if len(faults) > 0 {
		return
	}
	var out bytes.Buffer
	if err := WriteYAML(&out, j); err != nil {
		t.Fatal(err)
	}
	again, faults := Read("again.yaml", bytes.NewReader(out.Bytes()))
	if diff := cmp.Diff(j, again); diff != "" || len(faults) > 0 {
		t.Fatalf("YAML: %v\n%s\n%s", faults, diff, out.String())
	}
	again, faults = job.FromJSON(job.CanonicalJSON(j))
	if diff := cmp.Diff(j, again); diff != "" || len(faults) > 0 {
		t.Fatalf("JSON: %v\n%s", faults, diff)
	}
}

func FuzzYAML(f *testing.F) {
	for _, text := range []string{tenLines, metric, imperial} {
		f.Add([]byte(text))
	}
	for _, s := range slips {
		f.Add([]byte(s.new))
	}
	for _, text := range []string{"", "---\n", "- a", "a: [", "a: {b: &c *d}", "? a\n: b", "%YAML 1.2\n---\na: 1", "a: |\n b\n c", "\"", "'", "a: !!binary x", "\x00", "\xff", "a:\r\n b: 1"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) { checkRead(t, "job.yaml", data) })
}

func FuzzJSON(f *testing.F) {
	for _, text := range []string{tenLines, metric, imperial} {
		f.Add(job.CanonicalJSON(mustRead(f, "job.yaml", text)))
	}
	for _, text := range []string{"", "{}", "[]", "null", "{\"format\": 2}", "{\"a\":{\"a\":[1,2,{}]}}", "{\"name\":\"\\ud800\"}", "{\"a\":1,}", "1 2", "{\"a\"", "\xef\xbb\xbf{}", `{"":"", `, `{"a[b":0,"":{"":[]}}`} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) { checkRead(t, "job.json", data) })
}
