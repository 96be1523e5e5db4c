// Package dossier is what is handed over of a run: what was planned beside what was measured, with the record behind every figure,
// and first of all what there is no record of. The same plan and the same records always give the same bytes.
//
//	dossier.go   what it is made of, and its tables in their order
//	facts.go     records behind figures; places, joints and their planned figures
//	part.go      a stretch or legs alone
//	gaps.go      gaps in the evidence, first of all; gapsheld.go: against limits; gapsofwork.go: of the whole job
//	asbuilt.go   joint by joint: gap, chainage, level
//	levels.go    level sheets, four corners each
//	work.go      layers and their tests, covers, bonds
//	supply.go    deliveries, batches, the yard, stone and other goods
//	inspection.go what was asked and what came of it; keys and spares
//	answers.go   the plan as answers changed it, and records that belong to another one
//	matters.go   hold points, nonconformances, services found, bends measured
//	photos.go    photos by place, and whether they are here; picture.go: small and upright as pages show them
//	positions.go where devices said that they were
//	sources.go   documents, and what was NOT CHECKED
//	strip.go     the run on its strip, as the index of the document
//	drawn.go     what the drawings share; drawplan.go, drawsection.go, drawcross.go, drawcovers.go: the run drawn as built
//	pages.go     the document: tables set on pages, with bookmarks
//	exchange.go  as built for other programs: GeoJSON, LandXML points
//	bundle.go    the zip with everything in it; index.go: what every file and column of it is; verify.go: proof that nothing changed
//
// A dossier decides nothing: figures stand beside figures, and who has to say whether they do is named.
package dossier

import (
	"io"
	"slices"
	"time"

	"trenchwright/base/finding"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
	"trenchwright/view/table"
)

// Input is what a dossier is made of.
type Input struct {
	Plan    planner.Plan
	Job     job.Job
	Records []field.Record
	Came    []byte       // the records as they came, byte for byte
	Unread  finding.List // lines of those that are no record
	Photos  []Photo      // that are here
	Part    Part         // of the run that is handed over
	Until   string       // until which moment the records go, in words; empty: these are all that there are
	Now     string       // the moment for what ends by itself, RFC 3339; empty: nothing does
}

// Photo is an attachment that a record names by its hash. Any file that records name is one, a voice note too.
type Photo struct {
	Hash string // SHA-256 in hexadecimal, as whoever read the file found it
	Name string // of the file that it came from, to tell its kind
	Open func() (io.ReadCloser, error)
}

// Dossier is one in the making.
type Dossier struct {
	Input
	speech wording.Speech
	book   *field.Book
	asks   *field.Contract // what the job asks of what is recorded
	state  field.State
	all    []field.Record
	last   time.Time                 // when the last of them was made; zero: none says so
	joints map[string]planner.Joint  // by name, whichever of its units is named first
	rows   map[string]planner.SetOut // of the set-out, by place, likewise
	units  map[string]planner.Unit
	covers map[string]planner.Cover
	back   map[string]bool // legs that are laid from their to node
	places *field.Run
	spots  map[string]spot   // of every place of the whole run
	next   map[string]string // the place that follows a place as it is laid, on the whole run
	before map[string]string
	part   [][2]int                   // by leg, which of its units are handed over: from, to before; nil: all
	kept   map[string]bool            // photos that are here
	shots  map[string]picture         // of those, by hash, once they were read
	parts  []section                  // see sections
	missed map[string]map[string]bool // by place, of what something does not meet its figure; see missedBy
	bare   map[string]bool            // places that lack a record; see lacks
}

// Of is the dossier of a plan and the records of its job.
func Of(in Input) *Dossier {
	d := &Dossier{Input: in, speech: in.Job.Speech(), asks: field.Asks(in.Job), joints: map[string]planner.Joint{}, rows: map[string]planner.SetOut{},
		units: map[string]planner.Unit{}, covers: map[string]planner.Cover{}, back: map[string]bool{}, kept: map[string]bool{}, shots: map[string]picture{}}
	d.book = field.NewBook(in.Plan.Places()).Under(d.asks)
	d.book.Add(in.Records...)
	d.state, d.all = d.book.State(in.Now), d.book.All()
	d.last = lastMade(d.all)
	d.cut()
	for _, j := range in.Plan.Joints {
		d.joints[j.Name], d.joints[turned(j.Name)] = j, j
	}
	for _, r := range in.Plan.SetOut {
		d.rows[r.Place], d.rows[turned(r.Place)] = r, r
	}
	for _, l := range in.Plan.Legs {
		d.back[l.Name] = l.LaidFrom == l.To && l.To != l.From
	}
	for _, u := range in.Plan.Units {
		d.units[u.Mark] = u
	}
	for _, c := range in.Plan.Covers {
		d.covers[c.Mark] = c
	}
	for _, p := range in.Photos {
		d.kept[p.Hash] = true
	}
	return d
}

// State is what the records come to.
func (d *Dossier) State() field.State { return d.state }

// Tables are all tables of the dossier in its order; the first are the gaps in the evidence, and the last are the register of all
// records and where their devices were, which the document leaves to the zip.
func (d *Dossier) Tables() []table.Table {
	var out []table.Table
	for _, s := range d.sections() {
		out = append(out, s.tables...)
	}
	out = append(out, d.recordTable())
	if at := d.positionTable(); len(at.Rows) > 0 {
		out = append(out, at)
	}
	return out
}

// section is one part of the document.
type section struct {
	name, title string
	tables      []table.Table
	above       []scene.Block // what stands above them
}

// sections are the parts in their order, made once.
func (d *Dossier) sections() []section {
	if d.parts == nil {
		d.parts = d.makeSections()
	}
	return d.parts
}

func (d *Dossier) makeSections() []section {
	out := []section{{"gaps", "Gaps in the evidence", d.gapTables(), nil}}
	for _, l := range d.state.Legs {
		if len(l.Units) > 0 {
			out = append(out, section{"built-" + l.ID, "As built, leg " + l.ID, []table.Table{d.builtTable(l)}, nil})
		}
	}
	for _, s := range []section{
		{"levels", "Level sheets", d.levelTables(), nil},
		{"layers", "Layers and their tests", d.layerTables(), nil},
		{"covers", "Covers", d.coverTables(), nil},
		{"tests", "Tests and what else was recorded at places", []table.Table{d.testTable()}, nil},
		{"supply", "Deliveries, batches and the yard", []table.Table{d.deliveryTable(), d.batchTable(), d.yardTable(), d.goodsTable(), d.goodsSums()}, nil},
		{"inspection", "Inspection and test plan", []table.Table{d.inspectionTable()}, nil},
		{"points", "Inspections, notices and releases", []table.Table{d.pointTable()}, nil},
		{"matters", "Nonconformances and repairs", []table.Table{d.matterTable()}, nil},
		{"answers", "Answers that were taken", []table.Table{d.answerTable()}, nil},
		{"services", capital(d.speech.Word(wording.Services)) + " that were found", []table.Table{d.serviceTable(), d.angleTable()}, nil},
		{"spares", "Keys, spares and loose parts", []table.Table{d.spareTable()}, nil},
		{"photos", "Photos by place", []table.Table{d.photoTable()}, d.photoBlocks()},
		{"diary", "Diary", []table.Table{d.diaryTable()}, nil},
		{"sources", "Sources", []table.Table{d.documentTable(), d.openTable()}, nil},
		{"records", "Devices and their records", []table.Table{d.deviceTable()}, nil},
	} {
		s.tables = slices.DeleteFunc(s.tables, func(t table.Table) bool { return len(t.Rows) == 0 })
		out = append(out, s)
	}
	return out
}
