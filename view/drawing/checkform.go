package drawing

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// The measures of a checking page, in mm: rows that a gloved hand can write in.
const (
	checkLong, checkShort = 297.0, 210.0 // A4
	checkRowHigh          = 8.4
	checkFigures          = 2.8  // of capitals
	checkFoot             = 32.0 // what stands under the rows: sums, closing, verdict, who
	checkBlank            = 9.0  // one row of lines to write on
)

// CheckPages are pages to be filled in on site, A4, in rows of 8.4 mm: for the formation, for pads or bed, and for covers the
// level that is wanted at every joint beside empty columns for what is read, and places for the benchmarks, the instrument
// and those who sign. There are none where no levels were solved.
func CheckPages(p planner.Plan, j job.Job, style Style) []scene.Page {
	d := newDraft(p, j, style)
	if !d.solvedLevels() {
		return nil
	}
	var pages []scene.Page
	for _, k := range d.checkKinds() {
		pages = append(pages, d.checkPages(k)...)
	}
	return pages
}

func (d *draft) checkPages(k checkKind) []scene.Page {
	rows := d.checkRows(k)
	var forms []*form
	for from := 0; from < len(rows); {
		f := d.checkForm(k, len(forms)+1, rows[from:]) // as high as it is for those that it holds
		foot := checkFoot
		if !k.both {
			foot += checkBlank // upright: what is worked out takes two rows
		}
		n := int((f.page.Height - formEdge - foot - f.y - checkHeads) / checkRowHigh)
		to := min(len(rows), from+max(1, n-2)) // the first line and the last are the benchmark's
		f = d.checkForm(k, len(forms)+1, rows[from:to])
		d.checkGrid(f, k, rows[from:to])
		d.checkEnd(f, k)
		forms = append(forms, f)
		from = to
	}
	var pages []scene.Page
	for i, f := range forms {
		f.add(scene.Text{At: scene.Point{X: f.right, Y: formEdge + 5}, String: fmt.Sprintf("page %d of %d", i+1, len(forms)), Size: 2.6, Align: scene.Right})
		if i == 0 {
			f.page.Level = 0
		}
		pages = append(pages, f.page)
	}
	return pages
}

// checkHeads is how high the heads of the columns may stand, mm.
const checkHeads = 11.0

// checkForm is a page down to where its rows begin.
func (d *draft) checkForm(k checkKind, n int, rows []checkRow) *form {
	width, height := checkShort, checkLong
	if k.both {
		width, height = height, width
	}
	_, unit, _ := d.coordinateUnit()
	title := fmt.Sprintf("Check of the %s, %s", k.of, k.before)
	head := d.plan.Job
	of := joined(" · ", head.Name, d.stated(), "levels in "+unit+", "+head.HeightDatum)
	f := newForm(width, height, fmt.Sprintf("check-%s-%d", k.name, n), title, of, "")
	tolerance := notChecked + ": no tolerance for the level of the " + k.of + " on file. Ask: whoever wrote the specification of the works"
	if k.tolerance.Known {
		tolerance = "Either way " + d.fineLength(k.tolerance.Value) + " off the level is what the contract allows"
	}
	f.y += 0.6
	f.words(scene.Bold, 2.3, tolerance)
	f.words(scene.Regular, 2, d.checkNote(k))
	f.blanks(blank{"date", 1}, blank{"instrument, number", 2}, blank{"two-peg test, when and by how much off", 3})
	near := d.benchmarksAt(rows)
	f.blanks(blank{d.benchmarkBlank(near, 0), 2}, blank{d.benchmarkBlank(near, 1), 2})
	f.y += 2.5
	return f
}

// benchmarksAt are the benchmarks with a level that rows are checked from: the nearest to the first row, then the nearest to
// the last, or where that is the same one the second nearest to the last.
func (d *draft) benchmarksAt(rows []checkRow) []planner.SurveyPoint {
	known := slices.DeleteFunc(slices.Clone(d.plan.Benchmarks), func(p planner.SurveyPoint) bool { return p.Level == nil })
	if len(known) == 0 || len(rows) == 0 {
		return known
	}
	first, last := rows[0], rows[len(rows)-1]
	out := d.nearest(known, first.e, first.n)[:1]
	for _, p := range d.nearest(known, last.e, last.n) {
		if p.ID != out[0].ID {
			return append(out, p)
		}
	}
	return out
}

// benchmarkBlank names one of the benchmarks that a page is levelled from with its level on file; without one it is written in.
func (d *draft) benchmarkBlank(near []planner.SurveyPoint, n int) string {
	if n >= len(near) {
		return fmt.Sprintf("%s %d and its level", capital(d.words.benchmark), n+1)
	}
	p := near[n]
	return capital(d.words.benchmark) + " " + p.ID + ", level " + d.levelFigure(p.Level) + " on file; as found"
}

// fineLength is a small length: tenths of a millimetre, or thousandths of a foot.
func (d *draft) fineLength(l measure.Length) string {
	if d.style.Format.System == measure.Imperial {
		return measure.Format{System: measure.Imperial, Survey: true, Places: 3}.Length(l)
	}
	return measure.Format{Places: 1}.Length(l)
}

func (d *draft) checkNote(k checkKind) string {
	walls := ""
	if k.both {
		walls = "left and right looking " + d.words.upChainage + "; "
	}
	return fmt.Sprintf("%swanted: at the joint, %s. found: %s less what is read; difference: found less wanted, + too high",
		walls, k.reads, d.words.instrument)
}

// checkGrid is the rows: print on the left, nothing on the right.
func (d *draft) checkGrid(f *form, k checkKind, rows []checkRow) {
	columns := []formColumn{{head: "place", width: 28, words: true, bold: true}, {head: d.chainageHead(d.words.chainage), width: 18}}
	sides := []string{""}
	if k.both {
		sides = []string{" left", " right"}
	}
	each := func(name string, width float64, bold, fill bool) {
		for _, side := range sides {
			columns = append(columns, formColumn{head: d.levelHead(name + side), width: width, bold: bold, fill: fill})
		}
	}
	wide := func(name string, width float64) {
		columns = append(columns, formColumn{head: name, width: width, fill: true})
	}
	each("wanted", 21, true, false)
	wide("backsight", 20)
	each("read", 21, false, true)
	wide("foresight", 20)
	wide(d.words.instrument, 22)
	each("found", 21, false, true)
	each("difference", 0, false, true)
	out := [][]string{{"benchmark"}} // either one of the two above
	for _, r := range rows {
		line := []string{r.place, d.chainageFigure(r.at), d.levelFigure(&r.left)}
		if k.both {
			line = append(line, d.levelFigure(&r.right))
		}
		out = append(out, line)
	}
	f.grid(columns, append(out, []string{"closed on"}), checkRowHigh, checkFigures)
}

// checkEnd is what is worked out on the page and who signs for it.
func (d *draft) checkEnd(f *form, k checkKind) {
	sums := []blank{{"sum of backsights", 1}, {"sum of foresights", 1}, {"their difference", 1}}
	ends := []blank{{"last less first level", 1}, {"closes by", 1}}
	if k.both {
		f.blanks(append(sums, ends...)...)
	} else {
		f.blanks(sums...)
		f.blanks(ends...)
	}
	f.blanks(blank{"booked by", 2}, blank{"checked by", 2}, blank{"released by", 2}, blank{"date", 1})
	f.y += 3
	f.words(scene.Bold, 2.3, strings.Join([]string{"Ring one:   meets the stated figure", "does not meet the stated figure", "cannot say"}, "   ·   "))
	f.words(scene.Regular, 2, "Nothing goes on upon what does not meet its figure, or of which nobody can say, before somebody with a name has answered. This page does not decide it.")
}
