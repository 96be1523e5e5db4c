package dossier

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/wording"
	"trenchwright/view/scene"
	"trenchwright/view/table"
)

// indexText is README.txt of the zip: what every file and every column is, in words and in plain text, for whoever opens it
// without this program in twenty years.
func (d *Dossier) indexText(tables []table.Table, files []File) []byte {
	var b strings.Builder
	line := func(form string, args ...any) { fmt.Fprintf(&b, form+"\n", args...) }
	title := d.Plan.Job.Name + ": what is in this dossier"
	line("%s\n%s\n", title, strings.Repeat("=", len([]rune(title))))
	line("%s\n", wrapped(d.summary()))
	line("All text here is UTF-8. %s is measured along each leg from its first node: %s is away from it.", capital(d.word(wording.Chainage)), d.word(wording.UpChainage))
	line("Coordinates: %s.\nHeights: %s.\n", orAsk(d.Plan.Job.Grid, "coordinate system"), orAsk(d.Plan.Job.HeightDatum, "height datum"))
	line("FILES\n-----\n")
	for _, f := range append(files, File{Name: howTo}, File{Name: Sums}) {
		if what := fileSaid(f.Name); what != "" {
			line("%s\n%s\n", f.Name, indented(what))
		}
	}
	line("csv/\n%s\n", indented("The tables of the document as CSV (RFC 4180): commas, double quotes, the first line names the columns. Lengths are exact. An empty cell: nobody measured or recorded it. Each table is told below, column by column."))
	if len(d.Photos) > 0 {
		line("%s\n%s\n", photosIn, indented("Photos and other files that records name, each called by the SHA-256 of its bytes with the ending that it came with. csv/photos.csv says of each where, when and by whom it was taken."))
	}
	line("RECORDS\n-------\n\n%s\n", wrapped("records.ndjson has one JSON object a line, as the devices on site sent them: id (a ULID, unique for good), device and number (each device counts from 1 without a gap), made (the time by that device's clock), kind, from and to (the places it speaks of), person, role, instrument, rule, photos (SHA-256), corrects (the id of the record that it takes the place of), text, and says: what was measured, by kind. Lengths in it are text with their unit. Nothing was ever removed from it; a correction is one more record. A line {\"seq\":17,\"record\":{…}} is the record inside, byte for byte as its device wrote it, with the number that a server gave it: in its order the server took records in, and \"as it stood when the server had so many\" is told by it."))
	line("TABLES\n------\n")
	for _, t := range tables {
		line("csv/%s.csv: %s", t.Name, t.Title)
		for _, n := range t.Notes {
			line("%s", indented(n))
		}
		full := filed(t)
		for i, c := range full.Columns {
			line("    %s", c.Head+kindSaid(c))
			if what := columnSaid(t.Columns[i].Key); what != "" {
				line("%s", folded(what, "        ", indexWidth))
			}
		}
		line("")
	}
	return []byte(b.String())
}

// orAsk is a text, or whom to ask for it.
func orAsk(s, what string) string {
	if s == "" {
		return "NOT CHECKED: no " + what + " on file. Ask: the surveyor"
	}
	return s
}

func joinedBy(a, by, b string) string {
	if a == "" {
		return b
	}
	return a + by + b
}

// filed is a table as it is filed: no two of its columns are called the same.
func filed(t table.Table) table.Table {
	out, under := t, ""
	out.Columns = append([]table.Column(nil), t.Columns...)
	for i, c := range t.Columns {
		named, of := strings.CutSuffix(under, " of") // level of: wall top, then what was planned of it
		switch {
		case c.Head == "planned" && of, slices.Contains([]string{"measured", "differs", "left", "right"}, c.Head):
			out.Columns[i].Head = joinedBy(named, ", ", c.Head)
		default:
			under, _, _ = strings.Cut(c.Head, ", planned")
		}
	}
	return out
}

// kindSaid is what stands in the cells of a column.
func kindSaid(c table.Column) string {
	switch {
	case c.Kind == table.KindCount:
		return " (a number)"
	case c.Unit == "ft-in":
		return " (feet and inches)"
	case c.Unit != "":
		return " (" + c.Unit + ")"
	}
	return ""
}

// fileSaid is what a file is; tables and attachments are told elsewhere.
func fileSaid(name string) string {
	return map[string]string{
		pdfName:                         "The dossier as a document (PDF, its lettering inside; PDF/A is not claimed): index, gaps in the evidence, drawings as built, tables.",
		cameName:                        "Every record from site as it came, byte for byte; see RECORDS below.",
		"job.json":                      "The job as it was declared: what the supplier makes, where the run goes, what the contract asks. Every length is text with its unit; every figure names its document.",
		"plan.json":                     "The plan that the job was built to: places, units, covers, joints, levels. Names of properties end in their unit (_mm, _m, _deg, _kg); null is a figure that nobody entered.",
		"interchange/as-built.xml":      "LandXML 1.2, points only, in the job's own coordinates. For each joint that was measured two points: NAME as planned and NAME as built; for each surveyed place one, of the group shots.",
		"interchange/no-landxml.txt":    "Why there is no LandXML.",
		"interchange/as-built.geojson":  "GeoJSON (RFC 7946, WGS 84): legs as lines, units as areas where they were planned, with set, batch, covers_laid of covers_planned, proven, records, and end_ahead_mm: by how much its end was measured ahead of its place (below 0: behind).",
		"interchange/no-geojson.txt":    "Why there is no GeoJSON.",
		"interchange/positions.geojson": "GeoJSON (RFC 7946): a point for each record that carries where its device was. " + notSurvey + ".",
		howTo:                           "How to prove that nothing here changed.",
		Sums:                            "The SHA-256 hash of every file in this zip, as sha256sum reads it.",
	}[name]
}

// columnSaid is what stands in a column, where its head alone does not say it.
func columnSaid(key string) string {
	return map[string]string{
		"record":       "the record that says so, as device/number",
		"records":      "the records that say so, as device/number",
		"person":       "who made those records",
		"people":       "who made its records",
		"with":         "the instrument, and when it was checked last",
		"set_up":       "the standing of the instrument, by the name that its user gave it",
		"stands":       "yes, or which later record took its place",
		"plus":         "how well the value is known, each way",
		"said":         "what was said in words where nobody gave a figure",
		"met":          "whether it met its limit, as whoever tested it said",
		"hash":         "SHA-256 of the file's bytes, which is also its name under attachments/",
		"here":         "whether the file is in this dossier",
		"caption":      "what the record that names it says, in words",
		"hidden":       "yes: the step was done all the same; not yet: it comes next",
		"verdict":      "meets, does not meet or cannot say; cannot say: the limit lies within what the reading is good for",
		"set":          "yes, no, or cannot say where records contradict each other",
		"made":         "date and time by the clock of its device, which may be wrong; the number is what orders them",
		"id":           "the record's own name, a ULID, unique for good",
		"corrects":     "the record that this one takes the place of",
		"missing":      "a device counts its records without a gap: these numbers were made and are not here",
		"have":         "came less damaged less used, since the count where there is one",
		"open":         "places that have no record of it",
		"joint":        "the place of the set-out at which the unit ends, the way that it is laid",
		"of":           "what was levelled there: the highest thing that was",
		"depth":        "above, in the unit's envelope, or in bed or pad",
		"path":         "where in job.json the figure belongs",
		"chainage_off": "measured less planned, + further up-chainage",
		"gap_off":      "mean of left and right less planned, + wider",
		"level_off":    "measured less planned, + higher",
	}[key]
}

const indexWidth = 110 // characters of a line of README.txt

func wrapped(text string) string { return folded(text, "", indexWidth) }

func indented(text string) string { return folded(text, "    ", indexWidth) }

// folded is a text on lines of at most so many characters.
func folded(text, before string, width int) string {
	out, now := []string{}, before
	for _, w := range strings.Fields(scene.Printable(text)) {
		if now != before && len([]rune(now))+1+len([]rune(w)) > width {
			out, now = append(out, now), before
		}
		if now != before {
			now += " "
		}
		now += w
	}
	return strings.Join(append(out, now), "\n")
}
