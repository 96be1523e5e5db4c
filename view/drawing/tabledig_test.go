package drawing

import (
	"strings"
	"testing"

	"trenchwright/job"
	"trenchwright/view/scene"
	"trenchwright/view/schedule"
	"trenchwright/view/table"
)

// Every cell of the tables of the dig and of the grades is on its sheets, in both systems and on every size; nothing lies on
// anything else.
func TestTablesOfTheDigAreOnTheirSheets(t *testing.T) {
	run := surveyed()
	for name, j := range map[string]job.Job{"metric": run.job, "feet": inFeet(run.job)} {
		p := run.plan
		p.Job.System, p.Job.Words = string(j.System), string(j.Words)
		for _, size := range []Size{A3, A4, A1} {
			d := newDraft(p, j, StyleFor(j, size))
			var pages []scene.Page
			for _, l := range append(d.digListings(), listing{kind: "grades", title: "Grades", ledgers: d.gradeLedgers()}) {
				pages = append(pages, d.listed(l)...)
			}
			for _, page := range pages {
				checkPage(t, "dig "+name+" "+size.String(), page)
			}
			text := squeezed(printed(t, pages...))
			set := schedule.Of(p, j)
			cells := 0
			for _, one := range append(append(set.Dig(), set.Excavation()...), set.Grades()...) {
				if one.Name == "dig-running" {
					continue // a long one is left to the workbook
				}
				cells += everyCell(t, name+" "+size.String(), one, text)
			}
			if cells < 900 {
				t.Errorf("%s %s: only %d cells were looked for", name, size, cells)
			}
		}
	}
}

func everyCell(t *testing.T, run string, one table.Table, text string) int {
	t.Helper()
	cells := 0
	one.Columns = onPaper(one.Columns)
	_, rows := one.Shown()
	for _, row := range rows {
		for i, cell := range row {
			if stations[one.Columns[i].Key] && one.Columns[i].Unit == "ft" && cell != "" {
				cell = station(cell)
			}
			if one.Columns[i].Kind != table.KindText && !strings.HasPrefix(cell, notChecked) {
				cell = signed(cell, signs[one.Columns[i].Key])
			}
			cells++
			if !strings.Contains(text, squeezed(cell)) {
				t.Errorf("%s, table %s: %q is not on the sheets", run, one.Name, cell)
			}
		}
	}
	return cells
}

// Worked by hand: a station is a hundred feet.
func TestStations(t *testing.T) {
	for feet, want := range map[string]string{"123.456": "1+23.456", "7.500": "0+07.500", "99.999": "0+99.999", "100.000": "1+00.000", "-3.250": "-0+03.250", "12345.100": "123+45.100"} {
		if got := station(feet); got != want {
			t.Errorf("%s ft is %s, %s was expected", feet, got, want)
		}
	}
}

// Worked by hand: print has its own sign for less than nought; nought has none.
func TestSignedFigures(t *testing.T) {
	for _, c := range []struct {
		figure string
		both   bool
		want   string
	}{{"-1.000", true, "−1.000"}, {"-1.000", false, "−1.000"}, {"0.400", true, "+0.400"}, {"0.400", false, "0.400"}, {"0.000", true, "0.000"}, {"", true, ""}, {"3'-6 1/2\"", true, "3'-6 1/2\""}} {
		if got := signed(c.figure, c.both); got != c.want {
			t.Errorf("%q is %q, %q was expected", c.figure, got, c.want)
		}
	}
}
