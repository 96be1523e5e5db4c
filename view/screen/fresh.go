package screen

import (
	"cmp"
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/sorting"
)

// Fresh is how what was found differs from what was found before a change. Notes and assumptions ask nothing of anybody and are
// not among it.
type Fresh struct {
	Said    string      `json:"said"`    // 2 findings are new, 1 finding is gone; empty: nothing differs
	New     []Finding   `json:"new"`     // the gravest first
	Gone    []Finding   `json:"gone"`    // as they were said then
	Changed []Refigured `json:"changed"` // that stand as before, with another figure
}

// gravity puts findings in the order in which they ask for somebody.
var gravity = map[string]int{string(finding.Fault): 1, string(finding.Impossible): 2, string(finding.Attention): 3, string(finding.NotChecked): 4}

// fresh compares what is found now with what was found before. A finding that says the same of other figures is not new but
// changed; where only a place along the run reads otherwise, it is not told: a longer leg shifts every chainage behind it. Where the job cannot be laid out now, what it said before can neither hold nor be gone.
func (d *draft) fresh(before []Finding) Fresh {
	out := Fresh{New: []Finding{}, Gone: []Finding{}, Changed: []Refigured{}}
	pairs, now, was := matched(grave(d.findings()), grave(before))
	out.New = append(out.New, now...)
	for _, p := range pairs {
		if p.refigured() {
			out.Changed = append(out.Changed, p)
		}
	}
	if !d.broken() {
		out.Gone = append(out.Gone, was...)
	}
	for _, l := range [...][]Finding{out.New, out.Gone} {
		sorting.By(l, func(a, b Finding) int { return cmp.Compare(gravity[a.Kind], gravity[b.Kind]) })
	}
	sorting.By(out.Changed, func(a, b Refigured) int { return cmp.Compare(gravity[a.Now.Kind], gravity[b.Now.Kind]) })
	out.Said = saidFresh(len(out.New), len(out.Gone), len(out.Changed))
	return out
}

// broken tells whether the job cannot be laid out: then what was found before can neither hold nor be gone.
func (d *draft) broken() bool { return d.plan.Findings.Any(finding.Fault, finding.Impossible) }

func saidFresh(fresh, gone, changed int) string {
	var parts []string
	if fresh > 0 {
		parts = append(parts, many(fresh, "1 finding is new", "%d findings are new"))
	}
	if gone > 0 {
		parts = append(parts, many(gone, "1 finding is gone", "%d findings are gone"))
	}
	if changed > 0 {
		parts = append(parts, many(changed, "1 finding has another figure", "%d findings have other figures"))
	}
	return strings.Join(parts, ", ")
}

func many(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return fmt.Sprintf(more, n)
}

// grave are those that ask something.
func grave(all []Finding) []Finding {
	var out []Finding
	for _, f := range all {
		if gravity[f.Kind] > 0 {
			out = append(out, f)
		}
	}
	return out
}

// namesIn is what a text quotes, each with what stands before it: `(?:^|[ (])"[^"]+"`, since the mark of an inch follows a
// figure. It and unfigured are written out: with package regexp the planning core is 130 kB larger on the way to a browser.
func namesIn(text string) string {
	var names []string
	for i := 0; i < len(text); i++ {
		quote := i
		if text[i] == ' ' || text[i] == '(' {
			quote++
		} else if i > 0 {
			continue
		}
		if quote >= len(text) || text[quote] != '"' {
			continue
		}
		if long := strings.IndexByte(text[quote+1:], '"'); long > 0 {
			end := quote + long + 2
			names = append(names, text[i:end])
			i = end - 1
		}
	}
	return strings.Join(names, ",")
}

// unfigured is a text with every figure, and the spaces before it, as a nought: `[\d.,'"/ ]*\d[\d.,'"/]*`.
func unfigured(text string) string {
	const digits, within = "0123456789", `0123456789.,'"/ `
	var out strings.Builder
	for text != "" {
		begin := strings.IndexAny(text, within)
		if begin < 0 {
			break
		}
		long := len(text) - begin - len(strings.TrimLeft(text[begin:], within))
		run := text[begin : begin+long]
		out.WriteString(text[:begin])
		if last := strings.LastIndexAny(run, digits); last >= 0 {
			out.WriteByte('0')
			run = run[last:]
			run = run[min(len(run), strings.IndexByte(run+" ", ' ')):]
		}
		out.WriteString(run)
		text = text[begin+long:]
	}
	return out.String() + text
}

func asSaid(f *Finding) string { return f.Kind + "\n" + f.Where + "\n" + f.Text }

// saidOtherwise is the same of other figures.
func saidOtherwise(f *Finding) string {
	return strings.Join([]string{f.Kind, f.ID, f.Path, namesIn(f.Text), unfigured(f.Text)}, "\n")
}

// ofTheSame is the same rule of the same thing: its leg, its path in the job, what is named in it.
func ofTheSame(f *Finding) string {
	on, _, _ := strings.Cut(f.Where, ",")
	return strings.Join([]string{f.Kind, f.ID, f.Path, on, namesIn(f.Text)}, "\n")
}
