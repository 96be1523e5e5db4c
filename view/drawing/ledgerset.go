package drawing

import (
	"math"
	"strings"

	"trenchwright/view/scene"
)

// press sets ledgers one below the other on as many pages as they need, each page the same box.
type press struct {
	box   scene.Box
	pages [][]scene.Mark
	now   []scene.Mark
	y     float64
	fresh bool
	shelf scene.Box // what the ledger before takes, where it stands alone; the zero box otherwise
	under scene.Box // the room below the last one that was set beside another, to the end of the page; the zero box where none was
}

// letterings are the ways to set a ledger, smallest and tightest first.
func letterings(smallest float64) []lettering {
	all := []lettering{{1, 0.25}, {1, tableAir}, {1.1, tableAir}, {1.25, tableAir}, {1.4, tableAir}, {1.4, 0.8}}
	for i := range all {
		all[i].size *= smallest
	}
	return all
}

// pressed sets ledgers in the largest lettering that needs no page more than the smallest and tightest.
func pressed(box scene.Box, smallest float64, ledgers []ledger) [][]scene.Mark {
	all := letterings(smallest)
	least := pressedIn(box, all[0], ledgers)
	for i := len(all) - 1; i > 0; i-- {
		if pages := pressedIn(box, all[i], ledgers); len(pages) <= len(least) {
			return pages
		}
	}
	return least
}

func pressedIn(box scene.Box, how lettering, ledgers []ledger) [][]scene.Mark {
	p := press{box: box, y: box.Top, fresh: true}
	for _, l := range ledgers {
		s := l.in(how, box.Width(), box.Height()-headingHigh(how.size))
		if l.beside && p.onShelf(s) {
			continue
		}
		p.ledger(s)
	}
	p.turn()
	return p.pages
}

func (p *press) add(marks ...scene.Mark) { p.now = append(p.now, marks...) }

// turn ends a page.
func (p *press) turn() {
	p.pages = append(p.pages, p.now)
	p.now, p.y, p.fresh, p.shelf, p.under = nil, p.box.Top, true, scene.Box{}, scene.Box{}
}

func titleSize(size float64) float64 { return float64(1.25 * size) }

func headingHigh(size float64) float64 { return float64(size * ledgerHeading) }

// onShelf sets a ledger to the right of the one before, or below one that was set so, if it finds room there whole, its title
// too.
func (p *press) onShelf(s set) bool {
	if p.shelf != (scene.Box{}) && p.shelved(s, scene.Box{Left: p.shelf.Right + 2*ledgerGap, Top: p.shelf.Top, Right: p.box.Right, Bottom: p.box.Bottom}) {
		return true
	}
	return p.under != (scene.Box{}) && p.shelved(s, p.under)
}

// shelved sets a ledger into a room beside others, if it finds its place there whole.
func (p *press) shelved(s set, room scene.Box) bool {
	width := math.Max(s.width, scene.TextWidth(s.title, titleSize(s.size), scene.Bold))
	if width > room.Width() {
		return false
	}
	beside := press{box: scene.Box{Left: room.Left, Top: room.Top, Right: room.Left + width + hair, Bottom: room.Bottom}, y: room.Top, fresh: true}
	beside.ledger(s)
	if len(beside.pages) > 0 || beside.y > room.Bottom {
		return false
	}
	p.add(beside.now...)
	p.y, p.shelf = math.Max(p.y, beside.y), beside.shelf
	p.under = scene.Box{Left: room.Left, Top: beside.y + float64(2.5*s.size), Right: p.box.Right, Bottom: room.Bottom}
	return true
}

// ledger sets one ledger with its notes.
func (p *press) ledger(s set) {
	if !p.fresh {
		p.y += float64(2.5 * s.size)
	}
	whole := headingHigh(s.size) + s.balanced(0, s.settings(p.box)) + notesHigh(s.notes, s.size, s.noteRoom(p.box))
	if left := p.box.Bottom - p.y; !p.fresh && whole > left && (whole <= p.box.Height() || left < p.box.Height()/3) {
		p.turn()
	}
	top, title := p.y, s.title
	for from := 0; from < len(s.rows); {
		p.heading(title, s.size)
		n := s.settings(p.box)
		high := s.balanced(from, n)
		if high > p.box.Bottom-p.y {
			high = p.box.Bottom - p.y
		}
		pitch := math.Min((p.box.Width()+ledgerGap)/float64(n), s.width+mostApart) // narrow ones stand together
		deep := 0.0
		for k := 0; k < n && from < len(s.rows); k++ {
			to, used := s.fill(from, high)
			p.add(scene.Group{Transform: scene.Shift(p.box.Left+float64(pitch*float64(k)), p.y), Marks: s.setting(from, to)})
			from, deep = to, math.Max(deep, used)
		}
		p.y, p.fresh = p.y+deep, false
		if from < len(s.rows) {
			p.turn()
			title, top = s.title+", goes on", p.y
		}
	}
	p.shelf, p.under = scene.Box{}, scene.Box{}
	width := s.noteRoom(p.box)
	if s.alone(p.box) {
		p.shelf = scene.Box{Left: p.box.Left, Top: top, Right: p.box.Left + width, Bottom: p.y}
	}
	p.notes(s.notes, s.size, width)
}

// alone reports whether a ledger stands once on the width of a page and leaves room beside it.
func (s *set) alone(box scene.Box) bool { return s.settings(box) == 1 && s.width < 0.6*box.Width() }

// noteRoom is how wide the notes under a ledger may run.
func (s *set) noteRoom(box scene.Box) float64 {
	if s.alone(box) {
		return math.Max(s.width, math.Min(box.Width(), 0.75*noteWide*s.size))
	}
	return box.Width()
}

func (p *press) heading(title string, size float64) {
	if title == "" {
		return
	}
	line, fitted, _ := scene.Fit(title, titleSize(size), size, scene.Bold, p.box.Width())
	p.add(scene.Text{At: scene.Point{X: p.box.Left, Y: p.y + float64(0.4*size)}, String: line, Size: fitted, Weight: scene.Bold, VAlign: scene.Top})
	p.y += headingHigh(size)
}

// settings is how many stand side by side: as many as there is room for, but none so short that it looks lost.
func (s *set) settings(box scene.Box) int {
	room := int((box.Width() + ledgerGap) / (s.width + ledgerGap))
	total := 0.0
	for _, r := range s.rows {
		total += r.high
	}
	return max(1, min(room, int(math.Ceil(total/(box.Height()*0.4)))))
}

// fill is how many rows from one on stand in a height under the head, and how high they are. It always takes some.
func (s *set) fill(from int, high float64) (to int, used float64) {
	used = s.head.high
	for to = from; to < len(s.rows); {
		n := max(1, s.rows[to].together)
		more := 0.0
		for _, r := range s.rows[to:min(len(s.rows), to+n)] {
			more += r.high
		}
		if used+more > high+hair && to > from {
			break
		}
		used, to = used+more, min(len(s.rows), to+n)
	}
	return to, used
}

// balanced is the least height at which the rows from one on stand in so many settings.
func (s *set) balanced(from, settings int) float64 {
	total := 0.0
	for _, r := range s.rows[from:] {
		total += r.high
	}
	for high := s.head.high + total/float64(settings); ; high += float64(0.5 * s.size) {
		at := from
		for k := 0; k < settings && at < len(s.rows); k++ {
			at, _ = s.fill(at, high)
		}
		if at == len(s.rows) {
			return high
		}
	}
}

// setting is the head and some rows, with their rules, the names of their groups and the drawings.
func (s *set) setting(from, to int) []scene.Mark {
	rule := func(y, pen float64) scene.Mark {
		return scene.Line(scene.Point{Y: y}, scene.Point{X: s.width, Y: y}, scene.Pen(pen))
	}
	marks := append([]scene.Mark{}, s.head.marks...)
	if s.drawn != "" {
		x := s.width - s.drawnWidth() + ledgerMargin
		marks = append(marks, scene.Text{At: scene.Point{X: x, Y: s.firstLine()}, String: s.drawn, Size: s.size, Weight: scene.Bold, VAlign: scene.Top})
	}
	marks = append(marks, rule(0, scene.Thin))
	y := s.head.high
	for i := from; i < to; i++ {
		r := s.rows[i]
		switch {
		case i == from || r.first:
			marks = append(marks, rule(y, scene.Medium))
			marks = append(marks, s.name(r, y)...)
		case r.total:
			marks = append(marks, rule(y, scene.Thin))
		default:
			x := s.widths[0]
			marks = append(marks, scene.Line(scene.Point{X: x, Y: y}, scene.Point{X: s.width - s.drawnWidth(), Y: y}, scene.Pen(scene.Fine).Ink(scene.Grey(120))))
		}
		if r.first {
			marks = append(marks, s.drawing(i, to, y)...)
		}
		marks = append(marks, scene.Group{Transform: scene.Shift(0, y), Marks: r.marks})
		y += r.high
	}
	return append(marks, rule(y, scene.Thin))
}

// firstLine is where the capitals of a row's first line begin under its rule.
func (s *set) firstLine() float64 {
	return float64((float64(s.air*s.size) + scene.LineStep(s.size) - s.size) / 2)
}

// name is that of a row's group.
func (s *set) name(r setRow, y float64) []scene.Mark {
	name := s.groups[r.group].name
	if name == "" {
		return nil
	}
	at := scene.Point{X: ledgerMargin, Y: y + s.firstLine()}
	return []scene.Mark{scene.Text{At: at, String: name, Size: s.size, Weight: scene.Bold, VAlign: scene.Top}}
}

func (s *set) drawnWidth() float64 {
	if s.drawn == "" {
		return 0
	}
	w := s.width
	for _, c := range s.widths {
		w -= c
	}
	return w
}

// drawing is the drawing of the group that begins at row i.
func (s *set) drawing(i, to int, y float64) []scene.Mark {
	draw := s.groups[s.rows[i].group].draw
	if draw == nil || s.drawn == "" {
		return nil
	}
	high := 0.0
	for k := i; k < to && s.rows[k].group == s.rows[i].group; k++ {
		high += s.rows[k].high
	}
	return draw(scene.Box{Left: s.width - s.drawnWidth() + ledgerMargin, Right: s.width - ledgerMargin, Top: y, Bottom: y + high})
}

// noteRows are sentences in columns that are not too wide to read, and all of them no wider than room: how far apart the
// columns begin, and how far behind its letter a sentence does.
func noteRows(notes []ledgerNote, size, room float64) (rows []bandRow, columns int, pitch, word float64) {
	gap := float64(2.5 * size)
	columns = max(1, min(len(notes), int((room+gap)/(float64(noteWide*size)+gap))))
	width := math.Min((room-float64(gap*float64(columns-1)))/float64(columns), 2*noteWide*size)
	for _, n := range notes {
		if n.letter != "" {
			word = math.Max(word, scene.TextWidth(n.letter, size, scene.Bold)+size)
		}
	}
	for _, n := range notes {
		rows = append(rows, bandRow{n.letter, wrapped(n.text, size, width-word)})
	}
	return rows, columns, width + gap, word
}

// notesHigh is how high notes stand where a page is as long as they need.
func notesHigh(notes []ledgerNote, size, room float64) float64 {
	if len(notes) == 0 {
		return 0
	}
	rows, columns, _, _ := noteRows(notes, size, room)
	total, deep := 0, 0
	for _, r := range rows {
		total += len(r.lines)
	}
	cells, _ := poured(rows, columns, total+1)
	for _, c := range cells {
		deep = max(deep, c.line+len(c.lines))
	}
	return size + float64(scene.LineStep(size)*float64(deep)) + size
}

// notes are sentences under a ledger.
func (p *press) notes(notes []ledgerNote, size, room float64) {
	if len(notes) == 0 {
		return
	}
	rows, columns, pitch, word := noteRows(notes, size, room)
	step := scene.LineStep(size)
	for len(rows) > 0 {
		lines := int((p.box.Bottom - p.y - size) / step)
		cells, all := poured(rows, columns, lines)
		if len(cells) == 0 && p.fresh { // one note higher than a page
			rows = append([]bandRow{{rows[0].word, rows[0].lines[:lines]}, {"", rows[0].lines[lines:]}}, rows[1:]...)
			continue
		}
		if !all && !p.fresh {
			p.turn()
			continue
		}
		deep := 0
		for _, c := range cells {
			at := scene.Point{X: p.box.Left + float64(pitch*float64(c.column)), Y: p.y + size + float64(step*float64(c.line))}
			p.add(scene.Text{At: at.Add(scene.Point{X: word}), String: strings.Join(c.lines, "\n"), Size: size, VAlign: scene.Top})
			if c.word != "" {
				p.add(scene.Text{At: at, String: c.word, Size: size, Weight: scene.Bold, VAlign: scene.Top})
			}
			deep = max(deep, c.line+len(c.lines))
		}
		p.y, p.fresh = p.y+size+float64(step*float64(deep)), false
		if rows = rows[len(cells):]; len(rows) > 0 {
			p.turn()
		}
	}
}

// poured sets rows down columns as low as they can be, and no higher than room lines.
func poured(rows []bandRow, columns, room int) (cells []bandCell, all bool) {
	total := 0
	for _, r := range rows {
		total += len(r.lines)
	}
	for depth := (total + columns - 1) / columns; depth < room; depth++ {
		if cells, all = pour(rows, columns, depth); all {
			return cells, true
		}
	}
	return pour(rows, columns, room)
}
