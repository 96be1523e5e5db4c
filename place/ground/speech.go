package ground

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/wording"
	"trenchwright/place/route"
)

// Source is where a surface's input stands, and how its findings are worded.
type Source struct {
	Name   string // of the surface
	Origin route.Origin
	Speech wording.Speech
	Where  finding.Where                 // the file, or the path in the job; nothing: the surface's name is the path
	Point  func(point int) finding.Where // of one point, where somebody knows; nil: Where
}

// shown is how many findings of one kind are told one by one; the rest is counted.
const shown = 20

// teller collects findings.
type teller struct {
	Source
	list  finding.List
	told  map[string]int
	order []string
}

func newTeller(s Source) *teller { return &teller{Source: s, told: map[string]int{}} }

// say words a sentence of the job.
func (t *teller) say(form string, args ...any) string { return t.Speech.Say(form, args...) }

// add takes a finding in unless many like it were told; where is what it speaks of.
func (t *teller) add(f finding.Finding, where finding.Where) {
	if t.told[f.ID] == 0 {
		t.order = append(t.order, f.ID)
	}
	t.told[f.ID]++
	if t.told[f.ID] > shown {
		return
	}
	f.Where = where
	t.list = append(t.list, f)
}

// all are the findings, with a count of what was not told one by one.
func (t *teller) all() finding.List {
	for _, id := range t.order {
		if n := t.told[id]; n > shown {
			t.list = append(t.list, finding.Finding{
				ID: id + "-more", Kind: finding.Note, Where: t.whole(),
				Text: fmt.Sprintf("%d more like the %d findings %s above", n-shown, shown, id),
			})
		}
	}
	return t.list
}

// whole is where the surface as a whole stands.
func (t *teller) whole() finding.Where {
	if t.Where.IsZero() {
		name := t.Name
		if name == "" {
			name = "surface"
		}
		return finding.Where{Path: name}
	}
	return t.Where
}

// point is where one point stands.
func (t *teller) point(i int) finding.Where {
	if t.Point != nil {
		return t.Point(i)
	}
	return t.whole()
}

// at words a place by its coordinates on the job's grid.
func (t *teller) at(v vertex) string {
	p := v.point()
	c := t.Origin.Coordinates(p.Plan())
	return t.say("E %s, N %s", wording.Far(c.E), wording.Far(c.N))
}

// level words a level or a height of z nanometres.
func level(z int64) wording.Far { return wording.Far(z) }

// metre words a distance of m metres.
func metre(m float64) wording.Far { return wording.Far(Record(m)) }
