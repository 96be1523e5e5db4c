package table

import (
	"fmt"
	"io"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// InYard is one row of a list of what lies in a yard: so many whole units of one length, or one offcut under its mark.
type InYard struct {
	Supply string // empty: the list does not say
	Length measure.Length
	Count  int
	Mark   string // of an offcut; empty: whole units
	Ends   [2]End // of an offcut, A first
	Line   int    // in the text, from 1
}

// End is one end of an offcut; the zero value is a square saw cut.
type End struct {
	Factory bool          // as cast
	Angle   measure.Angle // saw angle, with the sign of its hand
}

var yardList = listKind{
	name: "list of the yard", things: "units", heads: "supply,length,count,mark,end a,end b", line: "trough,1240 mm,1,B-017/a,factory,22.5°",
	known: []string{"supply", "length", "count", "mark", "end a", "end b"}, needed: []string{"length", "count"}, row: (*listReader).lies,
}

// ReadYard reads what lies in a yard: a line of heads, then a line for each length or offcut. The columns are length and count and, if
// wanted, supply, mark (of an offcut) and its two ends: factory, square, or the angle of the saw cut with the sign of its hand, such as
// 22.5° or -22.5°. Everything else is as in ReadCutting.
func ReadYard(file string, r io.Reader, unit measure.Unit) ([]InYard, finding.List) {
	in := &listReader{listKind: yardList, file: file, unit: unit, seen: map[string]int{}}
	in.all(r)
	if len(in.faults) > 0 {
		return nil, in.list()
	}
	return in.yard, nil
}

// lies reads one line of a yard; all that is wrong with it is said.
func (in *listReader) lies(parts []field) {
	before := len(in.faults) + in.more
	if !in.whole(parts) {
		return
	}
	text := func(column int) string { return strings.TrimSpace(in.cell(parts, column).text) }
	y := InYard{Line: in.line, Supply: text(in.at.supply), Mark: text(in.at.mark)}
	y.Length = in.length(parts, "a unit")
	switch f := in.cell(parts, in.at.count); {
	case strings.TrimSpace(f.text) == "":
		in.fault("list.count", problem{column: f.columnOf(0), text: "no count stands here", try: "what lies in a yard is counted: how many"})
	default:
		most := int64(mostCount)
		if y.Mark != "" {
			most = 1
		}
		y.Count = int(in.number("list.count", f, 0, most, "how many there are; of one mark there is one"))
	}
	for i, column := range []int{in.at.endA, in.at.endB} {
		f := in.cell(parts, column)
		switch word := strings.TrimSpace(f.text); {
		case word == "" || strings.EqualFold(word, "square"):
		case y.Mark == "":
			in.fault("list.end", problem{column: f.columnOf(0), text: fmt.Sprintf("an end of a unit without a mark: %q", word), try: "the mark of the offcut, or no end: whole units have factory ends"})
		case strings.EqualFold(word, "factory"):
			y.Ends[i].Factory = true
		default:
			said, err := measure.ParseDegrees(f.text)
			if err != nil {
				in.misread("list.end", err, f)
			} else if y.Ends[i].Angle = said.Value; said.Value.Degrees() <= -90 || said.Value.Degrees() >= 90 {
				in.fault("list.end", problem{column: f.columnOf(0), text: fmt.Sprintf("a saw cut of %s", said.Value), try: "factory, square, or an angle between -90° and 90°"})
			}
		}
	}
	if len(in.faults)+in.more == before {
		in.yard = append(in.yard, y)
	}
}
