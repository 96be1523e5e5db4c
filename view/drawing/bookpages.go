package drawing

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/levelling"
	"trenchwright/view/scene"
)

// LevelBook is a level book that was reduced, with all that is to be said of it.
type LevelBook struct {
	Name     string // of the book, or of its file
	Book     levelling.Book
	Reduced  levelling.Reduced
	Adjusted []measure.Length // levels after the misclosure was shared out; nil: it was not
	Remarks  []string         // of each line; may be nil
	Closing  []string         // what was held against what, and how it came out
	Verdict  string
	Why      []string // what stands behind the verdict, what was not checked, notes
	Words    job.Words
}

// The measures of a page of a level book, A4 upright, in mm.
const (
	bookWidth, bookHeight = 210.0, 297.0
	bookRow               = 7.4
	bookLines             = 28
	bookFigures           = 2.6 // of capitals
)

// LevelBookPages write a reduced book out fair: every line with its readings, rise or fall, height of the instrument and
// level; at the foot of each page its own sums and their check; at the end how the book closes.
func LevelBookPages(b LevelBook) []scene.Page {
	pages := levelling.Pages(b.Book, b.Reduced, bookLines)
	var forms []*form
	for i, p := range pages {
		f := b.form(i + 1)
		b.lines(f, p)
		b.foot(f, p)
		forms = append(forms, f)
	}
	end := forms[len(forms)-1]
	if end.y+b.endHigh() > bookHeight-formEdge {
		end = b.form(len(forms) + 1)
		forms = append(forms, end)
	}
	b.end(end)
	out := make([]scene.Page, len(forms))
	for i, f := range forms {
		f.add(scene.Text{At: scene.Point{X: f.right, Y: formEdge + 5}, String: fmt.Sprintf("page %d of %d", i+1, len(forms)), Size: 2.6, Align: scene.Right})
		out[i] = f.page
	}
	out[0].Level = 0
	return out
}

func (b LevelBook) form(n int) *form {
	unit := "figures as they were written: no unit is on file"
	if u := b.Book.Figures.Unit; u != measure.NoUnit {
		unit = "all figures in " + u.String()
	}
	f := newForm(bookWidth, bookHeight, fmt.Sprintf("levelbook-%d", n), "Level book "+b.Name, unit+"; levels as reduced from the readings, before any adjustment", "")
	f.page.Title = fmt.Sprintf("Level book %s, page %d", b.Name, n)
	return f
}

// lines are the lines of a page.
func (b LevelBook) lines(f *form, p levelling.Page) {
	words := Style{Words: b.Words}.words()
	columns := []formColumn{{head: "point", width: 24, words: true, bold: true}, {head: "backsight", width: 17}, {head: "inter- mediate", width: 17}, {head: "foresight", width: 17}, {head: "rise", width: 16}, {head: "fall", width: 16},
		{head: words.instrument, width: 20}, {head: "level", width: 20, bold: true}}
	if b.Adjusted != nil {
		columns = append(columns, formColumn{head: "adjusted", width: 19})
	}
	columns = append(columns, formColumn{head: "remarks", words: true})
	var rows [][]string
	for _, l := range p.Lines {
		rows = append(rows, b.line(l))
	}
	sums := []string{"sums", b.bare(&p.Back), "", b.bare(&p.Fore), b.bare(&p.Rise), b.bare(&p.Fall)}
	f.grid(columns, append(rows, sums), bookRow, bookFigures)
}

func (b LevelBook) line(l levelling.PageLine) []string {
	rise, fall := "", ""
	switch {
	case l.Rise == nil:
	case *l.Rise < 0:
		fall = b.Book.Figures.Bare(-*l.Rise)
	default:
		rise = b.Book.Figures.Bare(*l.Rise)
	}
	row := []string{l.Point, b.bare(l.Back), b.bare(l.Inter), b.bare(l.Fore), rise, fall, b.bare(l.Height), b.Book.Figures.Bare(l.Level)}
	if b.Adjusted != nil {
		row = append(row, b.Book.Figures.Bare(b.Adjusted[l.Row]))
	}
	return append(row, b.remark(l))
}

func (b LevelBook) remark(l levelling.PageLine) string {
	known := ""
	if l.Known != nil && !l.Brought {
		known = "known " + b.Book.Figures.Bare(*l.Known)
	}
	said := ""
	if b.Remarks != nil && !l.Brought {
		said = b.Remarks[l.Row]
	}
	carried := ""
	switch {
	case l.Brought:
		carried = "brought forward"
	case l.Carried:
		carried = "carried forward"
	}
	return joined("; ", known, said, carried)
}

func (b LevelBook) bare(l *measure.Length) string {
	if l == nil {
		return ""
	}
	return b.Book.Figures.Bare(*l)
}

// foot is the check of one page: three differences that have to be one.
func (b LevelBook) foot(f *form, p levelling.Page) {
	bare := b.Book.Figures.Bare
	verdict := "the page checks"
	if !p.Holds() {
		verdict = "THE PAGE DOES NOT CHECK"
	}
	f.y += 1.5
	f.words(scene.Regular, 2.3, fmt.Sprintf("backsights − foresights  %s − %s = %s", bare(p.Back), bare(p.Fore), bare(p.Back-p.Fore)),
		fmt.Sprintf("rises − falls  %s − %s = %s", bare(p.Rise), bare(p.Fall), bare(p.Rise-p.Fall)), "last − first level, of each stretch on the page  "+bare(p.End))
	f.words(scene.Bold, 2.3, verdict)
}

// endLines are what stands at the end of a book.
func (b LevelBook) endLines() (checks, why []string) {
	instrument := Style{Words: b.Words}.words().instrument
	for _, c := range b.Reduced.Checks {
		text := ""
		for _, s := range c.Sides {
			text = joined(" = ", text, s.Name+" "+b.Book.Figures.Say(s.Value))
		}
		checks = append(checks, strings.Replace(c.Name, "height of instrument", instrument, 1)+": "+text)
	}
	return append(checks, b.Closing...), b.Why
}

const (
	bookEndTitle = 3.2 // of capitals
	bookEndWords = 2.3
)

// endHigh is how high the end of the book stands.
func (b LevelBook) endHigh() float64 {
	checks, why := b.endLines()
	trial := &form{left: formEdge, right: bookWidth - formEdge}
	trial.words(scene.Regular, bookEndWords, checks...)
	trial.words(scene.Regular, bookEndWords, why...)
	return trial.y + float64(2*scene.LineStep(bookEndTitle)) + 3*checkBlank + 10
}

// end says how the book closes, and leaves room to sign.
func (b LevelBook) end(f *form) {
	checks, why := b.endLines()
	f.y += 3
	f.rule(f.left, f.right, f.y, scene.Medium)
	f.words(scene.Bold, bookEndTitle, "The whole book")
	f.y += 1
	f.words(scene.Regular, bookEndWords, checks...)
	f.y += 1
	f.words(scene.Bold, bookEndTitle, capital(b.Verdict))
	f.words(scene.Regular, bookEndWords, why...)
	f.blanks(blank{"booked by", 2}, blank{"instrument, number", 2}, blank{"date", 1})
	f.blanks(blank{"reduced by", 2}, blank{"checked by", 2}, blank{"date", 1})
}
