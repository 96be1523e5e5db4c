package levelling

import "trenchwright/base/measure"

// Page is one page of a reduced book as it is written out fair. Every page checks by itself: what it ends with counts as its
// foresight, and is the backsight of the next one.
type Page struct {
	Lines                       []PageLine
	Back, Fore, Rise, Fall, End measure.Length // sums of the page; End: last less first level of each stretch on it
}

// PageLine is one line of a page. Nil is a cell that stays empty.
type PageLine struct {
	Row               int // of the book
	Point             string
	Back, Inter, Fore *measure.Length
	Rise              *measure.Length // a fall is below nought
	Height            *measure.Length // of the instrument set up behind this line
	Level             measure.Length
	Known             *measure.Length
	Brought           bool // it stands on the page before too: only its backsight counts here
	Carried           bool // an intermediate sight that ends the page, or begins it, in place of a change point
	starts            bool
}

// Holds tells whether the page checks: backsights less foresights, rises less falls, and last less first level.
func (p Page) Holds() bool { return p.Back-p.Fore == p.End && p.Rise-p.Fall == p.End }

// leastLines is the least that a page may hold: a line brought forward, one of its own, and one carried over.
const leastLines = 3

// Pages writes a reduced book out on pages of so many lines, three at least.
func Pages(b Book, r Reduced, lines int) []Page {
	lines = max(lines, leastLines)
	var out []Page
	for from := 0; from < len(b.Rows); {
		var p Page
		if from > 0 && !b.Rows[from].starts() {
			p.Lines = append(p.Lines, brought(b, r, from-1))
		}
		to := min(len(b.Rows), from+lines-len(p.Lines))
		if to < len(b.Rows) && b.Rows[to-1].starts() {
			to-- // a stretch does not begin on the last line
		}
		for i := from; i < to; i++ {
			p.Lines = append(p.Lines, lineOf(b, r, i))
		}
		if to < len(b.Rows) && !b.Rows[to].starts() {
			p.Lines[len(p.Lines)-1].carry()
		}
		p.add()
		out = append(out, p)
		from = to
	}
	return out
}

func lineOf(b Book, r Reduced, i int) PageLine {
	row, at := b.Rows[i], r.Rows[i]
	l := PageLine{Row: i, Point: row.Point, Back: row.Back, Inter: row.Inter, Fore: row.Fore, Height: at.Height, Level: at.Level, Known: row.Known, starts: row.starts()}
	if !l.starts {
		l.Rise = &at.Rise
	}
	return l
}

// brought is the line that ended the page before, as this page begins with it.
func brought(b Book, r Reduced, i int) PageLine {
	row := b.Rows[i]
	l := PageLine{Row: i, Point: row.Point, Back: row.Back, Height: r.Rows[i].Height, Level: r.Rows[i].Level, Brought: true}
	if row.Back == nil {
		l.Back, l.Carried = row.fore(), true
		l.Height = new(l.Level + *l.Back)
	}
	return l
}

// carry makes a line the last of its page: its reading counts as a foresight, and its backsight stands on the next.
func (l *PageLine) carry() {
	if l.Fore == nil {
		l.Fore, l.Inter, l.Carried = l.Inter, nil, true
	}
	l.Back, l.Height = nil, nil
}

// add sums the columns, each by itself.
func (p *Page) add() {
	for i, l := range p.Lines {
		p.Back += either(l.Back, 0)
		p.Fore += either(l.Fore, 0)
		if d := either(l.Rise, 0); d > 0 {
			p.Rise += d
		} else {
			p.Fall -= d
		}
		if i == 0 || l.starts {
			p.End -= l.Level
		}
		if i+1 == len(p.Lines) || p.Lines[i+1].starts {
			p.End += l.Level
		}
	}
}
