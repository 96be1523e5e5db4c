package workbook

import (
	"fmt"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"trenchwright/view/table"
)

// How wide columns become by themselves, in characters.
const (
	narrowest = 6
	widest    = 60
)

// setUp makes the sheet ready for the screen and for paper; head is the row of the heads.
func (s sheet) setUp(g table.Grid, head int) error {
	for i, h := range g.Heads {
		name, err := excelize.ColumnNumberToName(i + 1)
		if err != nil {
			return err
		}
		if err := s.file.SetColWidth(s.name, name, name, s.width(g, i, h)); err != nil {
			return err
		}
	}
	below, err := excelize.CoordinatesToCellName(1, head+1)
	if err != nil {
		return err
	}
	err = s.file.SetPanes(s.name, &excelize.Panes{Freeze: true, YSplit: head, TopLeftCell: below, ActivePane: "bottomLeft"})
	if err != nil {
		return err
	}
	return s.page(head)
}

// width is the column's own, or what fits the longest line in it within limits.
func (s sheet) width(g table.Grid, column int, h table.Head) float64 {
	if h.Width > 0 {
		return float64(min(h.Width, 255)) // the most that a sheet holds
	}
	n := longestLine(h.Text)
	for _, row := range g.Rows {
		n = max(n, longestLine(row[column].Text))
	}
	return float64(max(narrowest, min(n+2, widest)))
}

func longestLine(text string) int {
	n := 0
	for line := range strings.SplitSeq(text, "\n") {
		n = max(n, utf8.RuneCountInString(line))
	}
	return n
}

// page sets up landscape paper, as wide as the table and as many pages long as it takes, the heads on each of them.
func (s sheet) page(head int) error {
	size, landscape, wide, long, fit := s.paper.size(), "landscape", 1, 0, true
	if err := s.file.SetPageLayout(s.name, &excelize.PageLayoutOptions{Size: &size, Orientation: &landscape, FitToWidth: &wide, FitToHeight: &long}); err != nil {
		return err
	}
	if err := s.file.SetSheetProps(s.name, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	err := s.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", Scope: s.name,
		RefersTo: fmt.Sprintf("'%s'!$%d:$%d", strings.ReplaceAll(s.name, "'", "''"), head, head)})
	if err != nil {
		return err
	}
	return s.file.SetHeaderFooter(s.name, &excelize.HeaderFooterOptions{OddFooter: footer(s.table.Title, s.name)})
}

// size is the paper's number in ISO/IEC 29500-1, 18.3.1.63 (from memory).
func (p Paper) size() int {
	if p == A3 {
		return 8
	}
	return 9
}

// footer is the title on the left and the page of all pages on the right. An ampersand is doubled: alone it commands.
func footer(title, name string) string {
	if title == "" {
		title = name
	}
	runes := []rune(strings.Join(strings.Fields(table.Printable(title)), " "))
	text := strings.ReplaceAll(string(runes[:min(len(runes), 80)]), "&", "&&")
	return "&L" + text + "&R&P / &N"
}

// longestName is how many UTF-16 units the name of a sheet may have.
const longestName = 31

// sheetNames names each sheet after its table: without the characters that no sheet's name may have, no longer than
// it may be, and different from all before it.
func sheetNames(tables []table.Table) []string {
	used := map[string]bool{}
	names := make([]string, len(tables))
	for i, t := range tables {
		base := sheetName(t.Name)
		name := base
		for n := 2; used[strings.ToLower(name)]; n++ {
			mark := fmt.Sprintf(" (%d)", n)
			name = cut(base, longestName-len(mark)) + mark
		}
		used[strings.ToLower(name)] = true
		names[i] = name
	}
	return names
}

func sheetName(name string) string {
	name = strings.Map(func(r rune) rune {
		if strings.ContainsRune(`:\/?*[]`, r) {
			return '-'
		}
		return r
	}, strings.Join(strings.Fields(table.Printable(name)), " "))
	name = strings.Trim(cut(strings.Trim(name, "' "), longestName), "' ")
	if name == "" || strings.EqualFold(name, "history") { // a name that spreadsheets keep for themselves
		return "Table"
	}
	return name
}

// cut is name, at most n UTF-16 units of it, and no half characters.
func cut(name string, n int) string {
	used := 0
	for i, r := range name {
		if used += utf16.RuneLen(r); used > n {
			return name[:i]
		}
	}
	return name
}
