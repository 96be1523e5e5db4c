package screen

import (
	"cmp"
	"fmt"
	"math"

	"trenchwright/base/sorting"
)

// Along is what one stage shows along the run, beside what the strip shows always: a row under it, what each unit or cover is to
// the stage, and the places that the stage goes to one after another.
type Along struct {
	Stage  string      `json:"stage"`
	Said   string      `json:"said"` // what is shown
	Open   string      `json:"open"` // what is not recorded or not on file; empty: nothing
	Kinds  []AlongKind `json:"kinds"`
	Units  []int       `json:"units"`  // of Kinds, for each of Screen.Units; empty: as the strip shows them always
	Covers []int       `json:"covers"` // likewise for each of Screen.Covers
	Built  bool        `json:"built"`  // units are what records say of them: they are filled as the work is, also where they are narrow
	Row    Stretches   `json:"row"`
	Places Places      `json:"places"`
	Shape  string      `json:"shape"` // how the sizes of places are drawn: hang, a line that hangs down; bar; empty: they have none
	Stop   string      `json:"stop"`  // what a stop is called: cut piece, joint
	Stops  Stops       `json:"stops"`
}

// AlongKind is a word with its hatch, for the legend.
type AlongKind struct {
	Name  string `json:"name"`
	Hatch string `json:"hatch"` // paper, stone, solid, rising, falling, crossed, dots, upright, level
	Of    string `json:"of"`    // unit, cover, row, place
	Count int    `json:"count"` // how many of them the run has
}

// Stretches are stretches of the strip, by position.
type Stretches struct {
	From  Numbers  `json:"from"`
	To    Numbers  `json:"to"`
	Kind  []int    `json:"kind"` // of Kinds
	Texts []string `json:"texts"`
}

// Places are places of the strip with a figure each.
type Places struct {
	At    Numbers  `json:"at"`
	Kind  []int    `json:"kind"`
	Texts []string `json:"texts"`
	Sizes Gaps     `json:"sizes_mm"` // null: not known; a hanging line is broken there
}

// Stops are the places of a stage in walking order.
type Stops struct {
	At    Numbers  `json:"at"`
	Keys  []string `json:"keys"` // of the card
	Names []string `json:"names"`
}

// along makes what one stage shows.
type along struct {
	*draft
	out Along
}

// along is what a stage shows along the run.
func (d *draft) along(stage string) (Along, error) {
	a := along{draft: d, out: Along{Stage: stage, Kinds: []AlongKind{}, Units: []int{}, Covers: []int{}, Row: Stretches{Numbers{}, Numbers{}, []int{}, []string{}},
		Places: Places{Numbers{}, []int{}, []string{}, Gaps{}}, Stops: Stops{Numbers{}, []string{}, []string{}}}}
	of := map[string]func(){"route": a.route, "order": a.order, "dig": a.dig, "bed": a.bed, "set": a.set, "fill": a.fill, "cables": a.cables, "cover": a.cover, "handover": a.handover}[stage]
	if of == nil {
		return Along{}, fmt.Errorf("there is no stage %q", stage)
	}
	of()
	return a.out, nil
}

// kind counts one more of a kind, and gives its number.
func (a *along) kind(of, name, hatch string) int {
	for i := range a.out.Kinds {
		if k := &a.out.Kinds[i]; k.Name == name && k.Of == of {
			k.Count++
			return i
		}
	}
	a.out.Kinds = append(a.out.Kinds, AlongKind{name, hatch, of, 1})
	return len(a.out.Kinds) - 1
}

func (a *along) stretch(from, to float64, kind int, text string) {
	r := &a.out.Row
	r.From, r.To, r.Kind, r.Texts = append(r.From, from), append(r.To, to), append(r.Kind, kind), append(r.Texts, text)
}

func (a *along) place(at float64, kind int, text string, size float64) {
	p := &a.out.Places
	p.At, p.Kind, p.Texts, p.Sizes = append(p.At, at), append(p.Kind, kind), append(p.Texts, text), append(p.Sizes, size)
}

func (a *along) stop(at float64, key, name string) {
	s := &a.out.Stops
	s.At, s.Keys, s.Names = append(s.At, at), append(s.Keys, key), append(s.Names, name)
}

// none is the size of a place that has none.
var none = math.NaN()

// unitStop stops at a unit.
func (a *along) unitStop(u int) {
	from, _ := a.ends(u)
	mark := a.draft.plan.Units[u].Mark
	a.stop(from, "unit/"+mark, mark)
}

// series joins neighbours of one leg that are alike into stretches: 13 × 3000 mm.
type series struct {
	from, to float64
	leg, n   int
	kind     int
	text     string
}

// add takes the next piece; what was before it becomes a stretch where this one is not alike.
func (s *series) add(a *along, leg int, from, to float64, kind int, text string) {
	if s.n > 0 && s.leg == leg && s.kind == kind && s.text == text {
		s.n, s.to = s.n+1, to
		return
	}
	s.end(a)
	*s = series{from, to, leg, 1, kind, text}
}

func (s *series) end(a *along) {
	switch {
	case s.n > 1:
		a.stretch(s.from, s.to, s.kind, fmt.Sprintf("%d × %s", s.n, s.text))
	case s.n == 1:
		a.stretch(s.from, s.to, s.kind, s.text)
	}
	s.n = 0
}

// inOrder puts stops and places in the order of the strip.
func (a *along) inOrder() {
	s, p := a.out.Stops, a.out.Places
	by := sorted(s.At)
	a.out.Stops = Stops{picked(s.At, by), picked(s.Keys, by), picked(s.Names, by)}
	by = sorted(p.At)
	a.out.Places = Places{picked(p.At, by), picked(p.Kind, by), picked(p.Texts, by), picked(p.Sizes, by)}
}

// sorted are the numbers of a column's entries by what they hold.
func sorted(at Numbers) []int {
	by := make([]int, len(at))
	for i := range by {
		by[i] = i
	}
	sorting.By(by, func(i, j int) int { return cmp.Compare(at[i], at[j]) })
	return by
}

func picked[S ~[]T, T any](column S, by []int) S {
	out := make(S, len(by))
	for i, k := range by {
		out[i] = column[k]
	}
	return out
}
