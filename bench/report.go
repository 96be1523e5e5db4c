package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"trenchwright/bench/kept"
)

// report is what was reached: the table, what stands behind it, and what has to be said beside it.
type report struct {
	machine  string
	versions []string
	rows     []row
	tables   []table
	notes    []string
	wrong    []string // answers that cannot both be right
	took     time.Duration
}

// row is one line of the table. Empty cells print as a dash.
type row struct {
	what, size, ours, peer, ratio, target string
	verdict                               verdict
}

type verdict string

const (
	meets    verdict = "meets"
	misses   verdict = "does not meet"
	noTarget verdict = ""
	unknown  verdict = "cannot say"
)

func within(ok bool) verdict {
	if ok {
		return meets
	}
	return misses
}

// table is a list behind a line of the main table.
type table struct {
	title string
	head  []string
	cells [][]string
}

func (r *report) row(v row) { r.rows = append(r.rows, v) }

func (r *report) note(format string, args ...any) {
	r.notes = append(r.notes, fmt.Sprintf(format, args...))
}

// markdown is the whole report; what stands between the two marks also stands in the README.
func (r *report) markdown() string {
	var b strings.Builder
	b.WriteString("# Speed\n\n" + kept.TableBegins)
	fmt.Fprintf(&b, "%s. Peers in the same run: %s. Medians; processor time is that of whole processes.\n\n", r.machine, list(r.versions))
	main := table{head: []string{"what", "size", "ours", "peer", "ratio", "target", ""}}
	for _, v := range r.rows {
		main.cells = append(main.cells, []string{v.what, v.size, v.ours, v.peer, v.ratio, v.target, string(v.verdict)})
	}
	main.write(&b)
	b.WriteString(kept.TableEnds)
	for _, t := range r.tables {
		fmt.Fprintf(&b, "\n## %s\n\n", t.title)
		t.write(&b)
	}
	b.WriteString("\n## Notes\n\n")
	for _, n := range append(r.notes, fmt.Sprintf("The whole run took %s.", r.took.Round(time.Second))) {
		b.WriteString("- " + n + "\n")
	}
	return b.String()
}

func list(s []string) string {
	if len(s) == 0 {
		return "none"
	}
	return strings.Join(s, ", ")
}

func (t table) write(b *strings.Builder) {
	line := func(cells []string) {
		for _, c := range cells {
			if c == "" {
				c = "–"
			}
			b.WriteString("| " + strings.ReplaceAll(c, "|", "/") + " ")
		}
		b.WriteString("|\n")
	}
	head := append([]string(nil), t.head...)
	for i := range head {
		if head[i] == "" {
			head[i] = "verdict"
		}
	}
	line(head)
	b.WriteString(strings.Repeat("|---", len(head)) + "|\n")
	for _, c := range t.cells {
		line(c)
	}
}

// secs shows a time with three digits that count.
func secs(d time.Duration) string {
	switch {
	case d < time.Microsecond:
		return fmt.Sprintf("%d ns", d)
	case d < time.Millisecond:
		return three(float64(d)/1e3) + " µs"
	case d < time.Second:
		return three(float64(d)/1e6) + " ms"
	}
	return three(d.Seconds()) + " s"
}

// size shows a number of bytes.
func size(n int64) string {
	switch {
	case n >= 1<<30:
		return three(float64(n)/(1<<30)) + " GiB"
	case n >= 1<<20:
		return three(float64(n)/(1<<20)) + " MiB"
	}
	return three(float64(n)/(1<<10)) + " KiB"
}

func three(v float64) string {
	if v == 0 {
		return "0"
	}
	places := max(0, 2-int(math.Floor(math.Log10(math.Abs(v)))))
	return strconv.FormatFloat(v, 'f', places, 64)
}

// count shows a whole number with its thousands apart.
func count(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// times shows how many times longer a peer took.
func times(theirs, ours time.Duration) string {
	return three(float64(theirs)/float64(max(ours, 1))) + " ×"
}
