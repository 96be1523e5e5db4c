package drawing

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/levelling"
)

// bookOf is a book of chance: so many set-ups from a benchmark, each with some intermediate sights.
func bookOf(t *testing.T, seed uint64, setups int) LevelBook {
	t.Helper()
	c := rand.New(rand.NewPCG(seed, 8))
	read := func() *measure.Length { return new(measure.Length(c.IntN(3900)+5) * measure.Millimetre) }
	b := levelling.Book{Figures: levelling.Figures{Unit: measure.UnitMetre, Places: 3}}
	b.Rows = []levelling.Row{{Point: "TBM 1", Back: read(), Known: new(100 * measure.Metre)}}
	for s := range setups {
		for k := range c.IntN(12) {
			b.Rows = append(b.Rows, levelling.Row{Point: fmt.Sprintf("A-%03d/A-%03d left", 12*s+k, 12*s+k+1), Inter: read()})
		}
		row := levelling.Row{Point: fmt.Sprintf("CP%d", s+1), Fore: read()}
		if s+1 < setups {
			row.Back = read()
		}
		b.Rows = append(b.Rows, row)
	}
	r, faults := levelling.Reduce(b)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return LevelBook{Name: "trial", Book: b, Reduced: r, Verdict: string(levelling.CannotSay), Remarks: make([]string, len(b.Rows)),
		Why: []string{"NOT CHECKED: no tolerance for closing a line of levels on file. Ask: whoever wrote the specification of the works"}}
}

// Every page of a book can be read, and says every reading, level and height of its lines, and its own check.
func TestPagesOfALevelBook(t *testing.T) {
	lines := 0
	for seed := range uint64(40) {
		b := bookOf(t, seed, 1+int(seed)%15)
		if seed%2 == 1 {
			b.Adjusted = make([]measure.Length, len(b.Book.Rows))
			for i, r := range b.Reduced.Rows {
				b.Adjusted[i] = r.Level + measure.Length(i)*measure.Millimetre
			}
		}
		pages := LevelBookPages(b)
		for _, p := range pages {
			checkPage(t, fmt.Sprintf("book %d", seed), p)
		}
		for n, p := range levelling.Pages(b.Book, b.Reduced, bookLines) {
			text := "\n" + printed(t, pages[n]) + "\n"
			for _, l := range p.Lines {
				lines++
				for _, want := range append([]string{l.Point}, b.line(l)...) {
					if want != "" && !strings.Contains(text, "\n"+want+"\n") && !strings.Contains(squeezed(text), squeezed(want)) {
						t.Errorf("seed %d, page %d does not say %q", seed, n+1, want)
					}
				}
			}
			if !strings.Contains(text, "the page checks") || !strings.Contains(text, b.Book.Figures.Bare(p.End)) {
				t.Errorf("seed %d, page %d does not say that it checks", seed, n+1)
			}
		}
		last := printed(t, pages[len(pages)-1])
		if !strings.Contains(last, "Cannot say") || !strings.Contains(squeezed(last), squeezed(b.Why[0])) {
			t.Errorf("seed %d: the last page does not say how the book closes", seed)
		}
	}
	if lines < 2000 {
		t.Errorf("only %d lines were looked for", lines)
	}
}

// A book is in the words of its side of the ocean.
func TestLevelBookWords(t *testing.T) {
	b := bookOf(t, 1, 4)
	for words, want := range map[job.Words][2]string{job.US: {"height of instrument", "collimation"}, job.UK: {"height of collimation", "instrument:"}} {
		b.Words = words
		text := strings.ReplaceAll(printed(t, LevelBookPages(b)...), "\n", " ")
		if !strings.Contains(text, want[0]) || strings.Contains(text, want[1]) {
			t.Errorf("%s: no %q, or a %q", words, want[0], want[1])
		}
	}
}
