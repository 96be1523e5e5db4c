package main

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"trenchwright/bench/kept"
)

// report is what was reached.
type report struct {
	machine string
	rows    []row
	notes   []string
}

// row is one line of the table; empty cells print as a dash.
type row struct{ what, size, middle, p95, target, verdict string }

func (r *report) row(v row) { r.rows = append(r.rows, v) }

func (r *report) note(format string, args ...any) {
	r.notes = append(r.notes, fmt.Sprintf(format, args...))
}

func held(ok bool) string {
	if ok {
		return "meets"
	}
	return "does not meet"
}

// timed is a row of times in milliseconds, of which the median or the 95th percentile has to keep a limit.
func (r *report) timed(what, size string, ms []float64, limit float64, of int) {
	v := row{what: what, size: fmt.Sprintf("%s, %d times", size, len(ms)), middle: shown(part(ms, 50)), p95: shown(part(ms, 95))}
	if limit > 0 {
		name := map[int]string{50: "median", 95: "p95"}[of]
		v.target, v.verdict = fmt.Sprintf("%s %s", name, shown(limit)), held(part(ms, of) <= limit)
	}
	r.row(v)
}

// part is the value that so many hundredths of the values do not pass.
func part(v []float64, hundredths int) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	s := slices.Sorted(slices.Values(v))
	return s[max(0, (len(s)*hundredths+99)/100-1)]
}

// shown is a time in words.
func shown(ms float64) string {
	if ms >= 1000 {
		return fmt.Sprintf("%.2f s", ms/1000)
	}
	if ms >= 100 {
		return fmt.Sprintf("%.0f ms", ms)
	}
	return fmt.Sprintf("%.1f ms", ms)
}

// markdown is the whole report; what stands between the two marks also stands in the README.
func (r *report) markdown() string {
	var b strings.Builder
	b.WriteString("# Speed of the workspace\n\n" + kept.TableBegins)
	fmt.Fprintf(&b, "%s; headless Chromium without a GPU on the same machine as the server, 1440 × 1000 px.\n\n", r.machine)
	line := func(cells ...string) {
		for _, c := range cells {
			if c == "" {
				c = "–"
			}
			b.WriteString("| " + c + " ")
		}
		b.WriteString("|\n")
	}
	line("what", "size", "median", "p95", "target", "verdict")
	b.WriteString(strings.Repeat("|---", 6) + "|\n")
	for _, v := range r.rows {
		line(v.what, v.size, v.middle, v.p95, v.target, v.verdict)
	}
	b.WriteString(kept.TableEnds + "\n## Notes\n\n")
	for _, n := range r.notes {
		b.WriteString("- " + n + "\n")
	}
	return b.String()
}

// since is how long something took, in milliseconds.
func since(began time.Time) float64 { return float64(time.Since(began).Microseconds()) / 1000 }
