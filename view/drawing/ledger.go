package drawing

import (
	"cmp"
	"math"
	"strings"

	"trenchwright/base/sorting"
	"trenchwright/view/scene"
)

// A ledger is a list as it is printed: rows in groups under one head. The name of a group stands bold before its first
// row, under a stronger rule, and again where the group goes on in another setting. A ledger that is narrower than the
// page is set several times side by side.
type ledger struct {
	title   string
	columns []ledgerColumn // the first one holds the names of the groups
	groups  []ledgerGroup
	notes   []ledgerNote // under it
	drawn   string       // head of a last column that holds each group's drawing; "": there are none
	beside  bool         // it may stand beside the ledger before it
	most    int          // sheets that it may take by itself; a longer one is left to the workbook; 0: it is always printed
}

type ledgerColumn struct {
	head  string
	right bool    // figures end in one line
	bold  bool    // what a person looks for first
	most  float64 // how many capital heights wide words may stand before they are wrapped; 0: they never are
}

type ledgerGroup struct {
	name  string
	rows  []ledgerRow
	whole bool                             // kept in one setting
	draw  func(box scene.Box) []scene.Mark // beside its rows
}

type ledgerRow struct {
	cells []string // after the name of the group
	total bool     // bold, under a rule of its own
}

// ledgerNote is a sentence under a ledger; a letter leads to it from the rows.
type ledgerNote struct{ letter, text string }

// letters give each different sentence a letter, in the order in which they are asked for.
type letters struct {
	notes []ledgerNote
	of    map[string]string
}

// of is the letter of a sentence: a to z, then aa, ab and so on.
func (l *letters) letter(text string) string {
	if text == "" {
		return ""
	}
	if l.of == nil {
		l.of = map[string]string{}
	}
	name, ok := l.of[text]
	if !ok {
		n := len(l.notes)
		for name = string(rune('a' + n%26)); n >= 26; {
			n = n/26 - 1
			name = string(rune('a'+n%26)) + name
		}
		l.of[text] = name
		l.notes = append(l.notes, ledgerNote{name, text})
	}
	return name
}

// all are the letters of sentences, in their order: a, c.
func (l *letters) all(texts ...string) string {
	var names []string
	for _, t := range texts {
		if name := l.letter(t); name != "" {
			names = append(names, name)
		}
	}
	sorting.By(names, func(a, b string) int { return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b)) })
	return strings.Join(names, ", ")
}

// lettering is how large a ledger is set, and how much air its rows have above and below together, in capital heights.
type lettering struct{ size, air float64 }

// set is a ledger in one size of lettering, every row measured.
type set struct {
	ledger
	lettering
	widths []float64 // of the columns, mm
	width  float64   // of one setting with its drawings
	head   setRow
	rows   []setRow
}

// setRow is one row as it is lettered, from its upper left corner.
type setRow struct {
	marks    []scene.Mark
	high     float64
	group    int  // −1: the head
	first    bool // of its group
	total    bool
	together int // rows that must not be parted from here on, this one counted
}

// The measures of a ledger, in mm: between two settings at least and at most, and the drawings of its groups.
const (
	ledgerGap               = 8.0
	mostApart               = 30.0
	drawnLeast              = 45.0
	ledgerMargin            = 1.0 // left and right of a cell, as scene.Table has it
	tableAir                = 0.5 // above and below a row of scene.Table together, in capital heights
	hair                    = 0.02
	ledgerHeading, noteWide = 2.6, 64.0 // in capital heights
)

// inSize measures a ledger for a width of page and a height that no row may pass.
func (l ledger) in(how lettering, width, high float64) set {
	s := set{ledger: l.filled(), lettering: how}
	s.resolve(width)
	heads := make([]string, len(s.columns))
	for i, c := range s.columns {
		heads[i] = c.head
	}
	s.head = s.row(heads, scene.Bold, math.Inf(1))[0]
	s.head.group = -1
	for g, group := range s.groups {
		start := len(s.rows)
		for _, r := range group.rows {
			weight := scene.Regular
			if r.total {
				weight = scene.Bold
			}
			for k, part := range s.row(append([]string{""}, r.cells...), weight, high-s.head.high) {
				part.group, part.first, part.total = g, len(s.rows) == start, r.total && k == 0
				s.rows = append(s.rows, part)
			}
		}
		s.keepTogether(start, group.whole, high-s.head.high)
	}
	return s
}

// keepTogether says what of the rows from start on stays in one setting: a whole group, of another the first two rows, and
// the last row with a total.
func (s *set) keepTogether(start int, whole bool, high float64) {
	rows := s.rows[start:]
	sum := 0.0
	for i := range rows {
		rows[i].together = 1
		sum += rows[i].high
	}
	switch {
	case len(rows) > 0 && whole && sum <= high:
		rows[0].together = len(rows)
	case len(rows) > 1:
		rows[0].together = 2
	}
	for i := 1; i < len(rows); i++ {
		if rows[i].total && rows[i-1].together == 1 && !rows[i-1].total {
			rows[i-1].together = 2
		}
	}
}

// filled is the ledger without the columns that hold nothing.
func (l ledger) filled() ledger {
	keep := make([]bool, len(l.columns))
	for _, g := range l.groups {
		keep[0] = keep[0] || g.name != ""
		for _, r := range g.rows {
			for i, c := range r.cells {
				keep[i+1] = keep[i+1] || c != ""
			}
		}
	}
	out := l
	out.columns = []ledgerColumn{l.columns[0]}
	if !keep[0] {
		out.columns[0] = ledgerColumn{}
	}
	for i, c := range l.columns[1:] {
		if keep[i+1] {
			out.columns = append(out.columns, c)
		}
	}
	out.groups = make([]ledgerGroup, len(l.groups))
	for g, group := range l.groups {
		out.groups[g] = ledgerGroup{name: group.name, whole: group.whole, draw: group.draw}
		for _, r := range group.rows {
			kept := ledgerRow{total: r.total}
			for i, c := range r.cells {
				if keep[i+1] {
					kept.cells = append(kept.cells, c)
				}
			}
			out.groups[g].rows = append(out.groups[g].rows, kept)
		}
	}
	return out
}

// resolve gives every column its width: as wide as its cells want, wrapped ones narrower where the page asks for it.
func (s *set) resolve(page float64) {
	s.widths = make([]float64, len(s.columns))
	least := make([]float64, len(s.columns)) // down to which a wrapped column gives way
	for i := range s.columns {
		s.widths[i], least[i] = s.wants(i)
		s.width += s.widths[i]
	}
	room := page
	if s.drawn != "" {
		room -= drawnLeast
	}
	if over := s.width - room; over > 0 {
		give := 0.0
		for i := range s.widths {
			give += s.widths[i] - least[i]
		}
		if give > 0 {
			part := math.Min(1, over/give)
			for i := range s.widths {
				s.widths[i] -= float64((s.widths[i] - least[i]) * part)
			}
		}
	}
	s.width = 0
	for _, w := range s.widths {
		s.width += w
	}
	if s.drawn != "" {
		s.width += math.Max(drawnLeast, page-s.width)
	}
}

// wants is how wide a column stands, and how narrow it may get.
func (s *set) wants(i int) (width, least float64) {
	c := s.columns[i]
	see := func(text string, w scene.Weight) (line, word float64) {
		for _, l := range strings.Split(text, "\n") {
			line = math.Max(line, scene.TextWidth(l, s.size, w))
		}
		for _, f := range strings.Fields(text) {
			word = math.Max(word, scene.TextWidth(f, s.size, w))
		}
		return line, word
	}
	head := s.headWidth(c.head)
	widest, word := 0.0, 0.0
	add := func(text string, w scene.Weight) {
		line, one := see(text, w)
		widest, word = math.Max(widest, line), math.Max(word, one)
	}
	for _, g := range s.groups {
		if i == 0 {
			add(g.name, scene.Bold)
		}
		for _, r := range g.rows {
			if i > 0 && i-1 < len(r.cells) {
				add(r.cells[i-1], s.weight(i, r.total))
			}
		}
	}
	const margin = 2*ledgerMargin + hair
	if c.head == "" && widest == 0 {
		return 0, 0
	}
	least = math.Max(widest, head) + margin
	if c.most > 0 {
		widest = math.Min(widest, c.most*s.size)
		least = math.Max(math.Max(word, head), math.Min(widest, 14*s.size)) + margin
	}
	return math.Max(math.Max(widest, head)+margin, least), least
}

// headWidth is the least width at which a head takes no more than two lines.
func (s *set) headWidth(head string) float64 {
	width := 0.0
	for _, f := range strings.Fields(head) {
		width = math.Max(width, scene.TextWidth(f, s.size, scene.Bold))
	}
	for len(scene.Wrap(head, s.size, scene.Bold, width)) > 2 {
		width += float64(0.25 * s.size)
	}
	return width
}

func (s *set) weight(column int, total bool) scene.Weight {
	if total || s.columns[column].bold {
		return scene.Bold
	}
	return scene.Regular
}

// row letters one row; one that is higher than high is parted between its lines.
func (s *set) row(cells []string, weight scene.Weight, high float64) []setRow {
	t := scene.Table{Size: s.size}
	row := scene.Row{Bold: weight == scene.Bold}
	for i, c := range s.columns {
		if s.widths[i] == 0 {
			continue
		}
		column := scene.Column{Width: s.widths[i]}
		if c.right {
			column.Align = scene.Right
		}
		if c.bold {
			column.Weight = scene.Bold
		}
		t.Columns = append(t.Columns, column)
		text := ""
		if i < len(cells) {
			text = strings.Join(wrappedIn(cells[i], s.size, max(weight, column.Weight), s.widths[i]-2*ledgerMargin), "\n")
		}
		row.Cells = append(row.Cells, text)
	}
	t.Rows = []scene.Row{row}
	var out []setRow
	more := float64((s.air - tableAir) * s.size)
	for b := scene.Block(t); b != nil; {
		marks, used, rest := b.Take(s.width, high-more, true)
		shifted := scene.Group{Transform: scene.Shift(0, more/2), Marks: lettersOf(marks)}
		out = append(out, setRow{marks: []scene.Mark{shifted}, high: used + more})
		b = rest
	}
	return out
}

// lettersOf are the words among marks: a ledger rules its own lines.
func lettersOf(marks []scene.Mark) []scene.Mark {
	var out []scene.Mark
	for _, m := range marks {
		if t, ok := m.(scene.Text); ok {
			out = append(out, t)
		}
	}
	return out
}
