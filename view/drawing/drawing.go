// Package drawing shows a plan as sheets and cards, built of scene marks only. The same plan, job and style always give
// the same pages.
//
//	drawing.go    Style, Size and the sheets that can be asked for
//	words.go      the trade's words in both spellings, in one table
//	figures.go    lengths, chainages, angles and masses as a sheet prints them
//	run.go        a plan as it is drawn: legs in chains, places found by mark, points on an axis
//	things.go     what lies across or beside the legs: crossings, conduits, services, supports, zones
//	frame.go      the frame that every sheet shares: head, foot, the band of what is not checked
//	runline.go    the thin line at the foot: the whole run, with what this sheet shows made heavy
//	bind.go       page k of n and the row of sheet names; four cards on one page
//	room.go       where lettering finds room
//	signs.go      north arrow, scale bar, scales
//	strip*.go     the run unrolled; pennants.go: words on poles in lanes that never cross
//	section*.go   the run from its side on the strip's axis: ground, units, bed, with figures and grades below
//	across*.go    the dig cut across: ground, sides, unit, bed, pad, fill, with levels, widths and what lies beside it
//	digsheet.go   depths, peg offsets, services, rules: what the driver needs, in large figures
//	timechart.go  the programme, time against chainage; timenames.go the names on its lines
//	running.go    volumes as they run up along each leg
//	levels.go     what the sheets and cards of levels share: figures, depth of dig, grades, steps
//	levelcard.go  set-out cards: up to six joints of one grade on a small page; with what a leg is set out from (startcard.go,
//	              curvecard.go, pegcard.go), how it is dug (digcard.go) and how its drain and its units are laid (draincard.go, layingcard.go)
//	plan*.go      the run in plan: overview and windows with match lines
//	detail*.go    each bend, tee and cross at a large scale
//	card*.go      each piece that is cut, on a small page of its own
//	checkform.go  pages to be filled in on site: wanted levels beside empty columns; checkpages.go what is wanted where
//	daycard.go    day cards: a stretch of a leg, planned values beside empty boxes, each group of them one record
//	bookpages.go  a level book written out fair on pages that each check; form.go the grid they are ruled on
//	table*.go     lists and schedules, set as ledgers (ledger*.go): groups, several settings side by side, notes below
//
// A sheet is paper-white with dark lines. State is told by a hatch and a word, never by a colour; nothing is lost on a
// black and white copy. Where a figure is missing the sheet says NOT CHECKED and whom to ask.
package drawing

import (
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/stamp"
	"trenchwright/view/scene"
)

// Style is how sheets look and speak. The zero value is whole millimetres, UK words, A3, of a job file by itself.
type Style struct {
	Format measure.Format // lengths of things that are made, cut and laid; chainages and masses follow its system
	Words  job.Words      // uk (also when empty) or us
	Size   Size           // of the sheets; cards have a size of their own
	Stamp  stamp.Stamp    // which state of the job the pages are of
}

// StyleFor is the style that a job asks for.
func StyleFor(j job.Job, size Size) Style {
	s := Style{Words: j.Words, Size: size}
	if j.System == job.Imperial {
		s.Format.System = measure.Imperial
	}
	return s
}

// Size is the paper of a sheet, always on its long side.
type Size uint8

// The sizes (ISO 216).
const (
	A3 Size = iota
	A1
	A4
)

// String is the size as it is printed.
func (s Size) String() string {
	switch s {
	case A1:
		return "A1"
	case A4:
		return "A4"
	}
	return "A3"
}

// paper is the size in mm, width first.
func (s Size) paper() (width, height float64) {
	switch s {
	case A1:
		return 841, 594
	case A4:
		return 297, 210
	}
	return 420, 297
}

// small is the height of the smallest capitals in mm, for notes and figures.
func (s Size) small() float64 {
	if s == A1 {
		return 2.5
	}
	return 1.8
}

// Sheets are all sheets in the order of the pack: strip, long section, cross sections, dig sheets, running volumes, plan,
// bends and tees, lists. They are not bound yet: see Bind.
// Cut cards are pages of another size: see CutCards.
func Sheets(p planner.Plan, j job.Job, style Style) []scene.Page {
	var all []scene.Page
	for _, kind := range []func(planner.Plan, job.Job, Style) []scene.Page{Strip, LongSection, CrossSections, DigSheets, RunningVolumes, PlanSheets, Details, TableSheets} {
		all = append(all, kind(p, j, style)...)
	}
	return all
}
