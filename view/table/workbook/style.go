package workbook

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"
)

// role is what a cell is on its sheet.
type role uint8

const (
	title role = iota
	note
	headText
	headNumber
	words
	figure
)

// styleOf is a role with the decimals that its figures show; below 0: all there are.
type styleOf struct {
	kind   role
	places int
}

// styles makes each style once. The map is only looked up, so that numbers follow first use.
type styles struct {
	file *excelize.File
	made map[styleOf]int
}

func (s *styles) id(of styleOf) (int, error) {
	if id, ok := s.made[of]; ok {
		return id, nil
	}
	id, err := s.file.NewStyle(of.style())
	if err != nil {
		return 0, fmt.Errorf("style: %w", err)
	}
	s.made[of] = id
	return id, nil
}

// textFormat is the number format of ISO/IEC 29500 under which a cell stays text when somebody edits it.
const textFormat = 49

// style is plain black on white: the sheets are printed and copied.
func (of styleOf) style() *excelize.Style {
	under := []excelize.Border{{Type: "bottom", Color: "000000", Style: 2}}
	switch of.kind {
	case title:
		return &excelize.Style{NumFmt: textFormat, Font: &excelize.Font{Bold: true, Size: 14}}
	case note:
		return &excelize.Style{NumFmt: textFormat, Font: &excelize.Font{Italic: true}}
	case headText:
		return &excelize.Style{NumFmt: textFormat, Font: &excelize.Font{Bold: true}, Border: under,
			Alignment: &excelize.Alignment{WrapText: true, Vertical: "bottom"}}
	case headNumber:
		return &excelize.Style{NumFmt: textFormat, Font: &excelize.Font{Bold: true}, Border: under,
			Alignment: &excelize.Alignment{WrapText: true, Vertical: "bottom", Horizontal: "right"}}
	case words:
		return &excelize.Style{NumFmt: textFormat, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}}
	}
	s := &excelize.Style{Alignment: &excelize.Alignment{Vertical: "top"}}
	if of.places >= 0 {
		format := "0"
		if of.places > 0 {
			format += "." + strings.Repeat("0", of.places)
		}
		s.CustomNumFmt = &format
	}
	return s
}

// digits is how many digits of a decimal count.
func digits(s string) int {
	whole, part, _ := strings.Cut(strings.TrimPrefix(s, "-"), ".")
	return len(strings.TrimLeft(whole+strings.TrimRight(part, "0"), "0"))
}
