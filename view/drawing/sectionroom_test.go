package drawing

import (
	"testing"

	"trenchwright/demo"
)

// On sheets of the demos every joint has its figures in the long section, they stand near it, and no row is a stub: less than a
// third of the longest.
func TestLongSectionsOfTheDemosAreFilledAlike(t *testing.T) {
	for _, name := range demo.Names() {
		run := onItsGround(name)
		for _, size := range []Size{A3, A1} {
			v := newSection(newDraft(run.plan, run.job, StyleFor(run.job, size)))
			pages := v.pages()
			most, least := 0.0, v.width()
			for _, rows := range pages {
				for _, r := range rows {
					if most = max(most, r.width); r.left > 0 {
						t.Errorf("%s %s: the figures of %d joints are left out", name, size, r.left)
					}
					least = min(least, r.width)
				}
			}
			if far := v.astray(pages) / v.column; far > strayColumns {
				t.Errorf("%s %s: figures stand %.1f columns from their joint", name, size, far)
			}
			if least < most/3 {
				t.Errorf("%s %s: a row of %.0f mm beside one of %.0f mm", name, size, least, most)
			}
		}
	}
}
