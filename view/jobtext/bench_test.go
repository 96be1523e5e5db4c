package jobtext

import (
	"bytes"
	"fmt"
	"runtime"
	"strings"
	"testing"

	"trenchwright/job"
)

// longJob is a route of that many legs with a zone on each, as YAML.
func longJob(legs int) string {
	var b strings.Builder
	b.WriteString(strings.Split(tenLines, "route:")[0] + "route:\n  nodes:\n")
	for i := range legs + 1 {
		fmt.Fprintf(&b, "    - {id: N%d, at: [%d.125, 2000.5], level: 34.12}\n", i, i*250)
	}
	b.WriteString("  legs:\n")
	for i := range legs {
		fmt.Fprintf(&b, "    - {id: L%d, from: N%d, to: N%d, zones: [{id: Z%d, from: 12 m, to: 14.5 m, why: mast}]}\n", i, i, i+1, i)
	}
	return b.String()
}

// 4000 legs of 250 m are a route of 1000 km.
func BenchmarkReadYAML1000km(b *testing.B) { benchmarkRead(b, "job.yaml", longJob(4000)) }

func BenchmarkReadJSON1000km(b *testing.B) {
	benchmarkRead(b, "job.json", string(job.CanonicalJSON(mustRead(b, "job.yaml", longJob(4000)))))
}

// The largest file that is read at all: the heap that it takes is reported.
func BenchmarkReadYAML8MiB(b *testing.B) {
	benchmarkRead(b, "job.yaml", longJob(job.MaxBytes/170))
}

func benchmarkRead(b *testing.B, name, text string) {
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	for b.Loop() {
		mustRead(b, name, text)
	}
	runtime.ReadMemStats(&after)
	b.ReportMetric(float64(after.Sys-before.Sys)/(1<<20), "MiB-grown")
}

func BenchmarkCanonicalJSON1000km(b *testing.B) {
	j := mustRead(b, "job.yaml", longJob(4000))
	b.ReportAllocs()
	for b.Loop() {
		job.CanonicalJSON(j)
	}
}

func BenchmarkWriteYAML1000km(b *testing.B) {
	j := mustRead(b, "job.yaml", longJob(4000))
	b.ReportAllocs()
	for b.Loop() {
		var out bytes.Buffer
		if err := WriteYAML(&out, j); err != nil {
			b.Fatal(err)
		}
	}
}
