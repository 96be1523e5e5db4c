package points

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
)

// Breakline is a line of the survey: the points on it in the order of the file, as indices of Table.Points. One that ends
// on its first point again is closed.
type Breakline struct {
	Name   string
	Points []int
}

// Breaklines are the lines that the line column names, in the order in which they first come. A line of one point is none.
func (t Table) Breaklines() []Breakline {
	return joined(t.Points, func(p Point) string { return p.OfLine })
}

// ByCode are the points of each of the codes as one line, for a survey that names its lines by code. Which codes are lines,
// and which are single points, the file does not say and the caller states. Capitals do not count.
func (t Table) ByCode(codes ...string) []Breakline {
	wanted := map[string]bool{}
	for _, c := range codes {
		wanted[strings.ToLower(c)] = true
	}
	return joined(t.Points, func(p Point) string {
		if code := strings.ToLower(p.Code); wanted[code] {
			return code
		}
		return ""
	})
}

// joined are the points of each name, in their order; names of one point are left out.
func joined(list []Point, name func(Point) string) []Breakline {
	var all, out []Breakline
	at := map[string]int{}
	for i, p := range list {
		n := name(p)
		if n == "" {
			continue
		}
		k, ok := at[n]
		if !ok {
			k = len(all)
			at[n] = k
			all = append(all, Breakline{Name: n})
		}
		all[k].Points = append(all[k].Points, i)
	}
	for _, b := range all {
		if len(b.Points) > 1 {
			out = append(out, b)
		}
	}
	return out
}

// onLines says what the line column makes, and which of its names have one point only.
func (r *reader) onLines() {
	if r.faults > 0 || !strings.ContainsRune(r.table.Columns, rune(OfLine)) {
		return
	}
	count := map[string]int{}
	on := 0
	for _, p := range r.table.Points {
		if p.OfLine != "" {
			count[p.OfLine]++
			on++
		}
	}
	alone := 0
	for _, p := range r.table.Points {
		if p.OfLine == "" || count[p.OfLine] > 1 {
			continue
		}
		if alone++; alone <= mostFaults {
			r.say(finding.Attention, p.Line, 0, "line-alone", fmt.Sprintf("line %q has this point only; it is read as a single point", clipped(p.OfLine)), "a second point, or the name that it was meant to have")
		}
	}
	r.say(finding.Note, 0, 0, "on-lines", fmt.Sprintf("%d lines with %d points on them; %d points on no line", len(count)-alone, on-alone, len(r.table.Points)-on+alone), "")
}
