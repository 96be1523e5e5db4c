package levelbook

import (
	"strings"

	"trenchwright/base/measure"
	"trenchwright/solve/levelling"
)

var bookColumns = columns{
	name: "level book", needed: []string{"point", "bs", "fs"},
	known: []string{"point", "bs", "is", "fs", "known", "distance", "rise", "fall", "level", "hi", "design", "tolerance"},
	also: map[string]string{"station": "point", "pt": "point", "backsight": "bs", "back sight": "bs", "intermediate": "is", "intermediate sight": "is", "foresight": "fs", "fore sight": "fs",
		"benchmark": "known", "rl": "level", "reduced level": "level", "elevation": "level", "height of instrument": "hi", "height of collimation": "hi", "length": "distance"},
	example: "point,bs,is,fs,known",
}

// book makes a level book of the rows.
func (s *sheet) book() levelling.Book {
	var b levelling.Book
	var all []*measure.Length
	for i, r := range s.rows {
		point := s.cell(r, "point").text
		out := levelling.Row{Point: point, Line: r.line, Back: s.length(r, "bs"), Inter: s.length(r, "is"), Fore: s.length(r, "fs"),
			Rise: s.length(r, "rise"), Fall: s.length(r, "fall"), Level: s.length(r, "level"), Height: s.length(r, "hi")}
		read := []*measure.Length{out.Back, out.Inter, out.Fore, out.Rise, out.Fall, out.Level, out.Height}
		if i > 0 && i == len(s.rows)-1 && isSum(point) {
			b.Totals = &levelling.Totals{Line: r.line, Back: out.Back, Inter: out.Inter, Fore: out.Fore, Rise: out.Rise, Fall: out.Fall}
			if out.Level != nil || out.Height != nil {
				s.note(r, 1, "sum-of-levels", "a sum of levels or heights checks nothing, and is not read")
			}
			continue
		}
		finest := s.carry.finest // what the readings were read to, whatever levels are told to
		out.Known, out.Distance = s.length(r, "known"), s.length(r, "distance")
		if design := s.length(r, "design"); design != nil {
			out.Design = &levelling.Design{Level: *design, Tolerance: s.length(r, "tolerance")}
		} else if c := s.cell(r, "tolerance"); c.text != "" {
			s.fault(r, c.column, "tolerance", "a tolerance stands here, and no design level", "the level that is wanted, in the column design")
		}
		s.carry.finest = finest
		b.Rows = append(b.Rows, out)
		all = append(append(all, read...), out.Known)
	}
	b.Figures, b.Step = places(s.settleUnit(), all), s.carry.finest
	return b
}

// isSum tells whether a line is the foot of a book.
func isSum(point string) bool {
	switch strings.ToLower(strings.Trim(point, " :")) {
	case "sum", "sums", "total", "totals", "σ", "∑":
		return true
	}
	return false
}
