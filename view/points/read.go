package points

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

const (
	sampleLines = 200 // lines that separator and decimal sign are found in
	mostFaults  = 50
)

// row is a line that holds something.
type row struct {
	text string
	line int
}

// reader carries one Read.
type reader struct {
	opts    Options
	lines   lines
	table   Table
	list    finding.List
	faults  int
	named   map[string]int // index of table.Points by name
	twice   int
	begun   bool // a line that counts was seen
	head    int  // line of the heading
	remarks int
	joined  bool // a remark held the separator
}

// Read reads a list of points. With any fault among the findings the table holds no points, but still says how the file was
// understood; up to 50 faults are found at once.
func Read(in io.Reader, opts Options) (Table, finding.List) {
	l := opts.Limits
	opts.Limits = Limits{cmp.Or(max(l.Bytes, 0), defaults.Bytes), cmp.Or(max(l.Line, 0), defaults.Line), cmp.Or(max(l.Points, 0), defaults.Points)}
	r := &reader{opts: opts, named: map[string]int{}}
	r.lines = lines{in: bufio.NewReader(in), limits: opts.Limits}
	r.read()
	if r.list.Any(finding.Fault) {
		r.table.Points = nil
	}
	return r.table, r.list
}

func (r *reader) read() {
	if !r.checkOptions() {
		return
	}
	sample := r.sample()
	if r.faults > 0 {
		return
	}
	if len(sample) == 0 {
		r.fault(0, 0, "empty", "the file holds no points", "")
		return
	}
	head, body, ok := r.separate(sample)
	if !ok || !r.decimal(body) || !r.columns(head, body) || !r.levels() || !r.unit(head) {
		return
	}
	r.understood()
	for _, one := range body {
		r.point(one)
	}
	for r.faults < mostFaults {
		one, ok := r.next()
		if !ok {
			break
		}
		r.point(one)
	}
	r.finish()
}

func (r *reader) checkOptions() bool {
	order, err := checkColumns(r.opts.Columns)
	if err != nil {
		r.fault(0, 0, "order", err.Error(), "PENZD, PNEZD or ENZ")
	}
	r.opts.Columns = order
	if s := r.opts.Separator; s != 0 && !strings.ContainsRune(",;\t ", s) {
		r.fault(0, 0, "separator", fmt.Sprintf("%q is no separator", s), "comma, semicolon, tab or blank")
	}
	if d := r.opts.Decimal; d != 0 && d != '.' && d != ',' {
		r.fault(0, 0, "decimal", fmt.Sprintf("%q is no decimal sign", d), "point or comma")
	}
	if d := r.opts.Decimal; d == ',' && r.opts.Separator == ',' {
		r.fault(0, 0, "decimal", "the comma cannot both part the fields and be the decimal sign", "")
	}
	return r.faults == 0
}

// next is the next line that holds something; remarks (#) are passed over and counted.
func (r *reader) next() (row, bool) {
	for {
		text, ok, err := r.lines.next()
		if err != nil {
			r.broken(err)
			return row{}, false
		}
		if !ok {
			return row{}, false
		}
		switch bare := strings.Trim(text, " \t\u00a0"); {
		case strings.Trim(bare, ",; \t") == "":
		case bare[0] == '#' && (r.begun || !namesColumns(bare)):
			r.remarks++
		default:
			r.begun = true
			return row{text, r.lines.number}, true
		}
	}
}

func (r *reader) broken(err error) {
	at := r.lines.number
	switch {
	case errors.Is(err, errTooLong):
		r.fault(at, 0, "too-long", fmt.Sprintf("the file is longer than %d MB", r.opts.Limits.Bytes>>20), "")
	case errors.Is(err, errLongLine):
		r.fault(at, 0, "long-line", fmt.Sprintf("the line is longer than %d bytes", r.opts.Limits.Line), "a list with one point a line")
	case errors.Is(err, errBinary):
		r.fault(at+1, 0, "not-text", "this is not text: it holds a zero byte", "text in UTF-8; a table of a spreadsheet saved as CSV")
	default:
		r.fault(at, 0, "unreadable", fmt.Sprintf("reading broke off: %v", err), "")
	}
}

func (r *reader) sample() []row {
	var out []row
	for len(out) < sampleLines {
		one, ok := r.next()
		if !ok {
			break
		}
		out = append(out, one)
	}
	return out
}

// fault adds a fault; after 50 one more says that the rest is not listed.
func (r *reader) fault(line, column int, id, text, try string) {
	if r.faults++; r.faults > mostFaults {
		return
	}
	r.say(finding.Fault, line, column, id, text, try)
	if r.faults == mostFaults {
		r.say(finding.Fault, line, 0, "more-faults", fmt.Sprintf("reading stopped after %d faults", mostFaults), "")
	}
}

func (r *reader) say(kind finding.Kind, line, column int, id, text, try string) {
	r.list = append(r.list, finding.Finding{
		ID: "points." + id, Kind: kind, Text: text, Try: try,
		Where: finding.Where{File: r.opts.File, Line: line, Column: column},
	})
}

// point reads one line.
func (r *reader) point(one row) {
	if r.faults >= mostFaults {
		return
	}
	if len(r.table.Points) == r.opts.Limits.Points {
		r.fault(one.line, 0, "too-many", fmt.Sprintf("the file holds more than %d points", r.opts.Limits.Points), "only the points along the route")
		r.faults = mostFaults
		return
	}
	order := r.table.Columns
	fields := split(one.text, r.table.Separator)
	if len(fields) > len(order) {
		if !strings.HasSuffix(order, string(Remark)) {
			r.fault(one.line, fields[len(order)].column, "too-many-fields", fmt.Sprintf("%d fields, and the order %s has %d columns", len(fields), order, len(order)), "")
			return
		}
		r.joined = true
		last := fields[len(order)-1]
		last.text = strings.TrimSpace(string([]rune(one.text)[last.column-1:]))
		last.text = strings.TrimRight(last.text, blanks(r.table.Separator)+string(r.table.Separator))
		fields = append(fields[:len(order)-1:len(order)-1], last)
	}
	p, before := Point{Line: one.line}, r.faults
	for i, c := range order {
		var f field
		if i < len(fields) {
			f = fields[i]
		} else {
			f.column = utf8.RuneCountInString(one.text) + 1
		}
		r.take(&p, Column(c), f)
	}
	if r.faults == before {
		r.add(p)
	}
}

func (r *reader) take(p *Point, c Column, f field) {
	var why string
	switch c {
	case Name:
		p.Name = f.text
	case Remark:
		p.Remark = f.text
	case Code:
		p.Code = f.text
	case OfLine:
		p.OfLine = f.text
	case Level:
		switch p.HasLevel = f.text != ""; {
		case p.HasLevel:
			p.Level, why = length(f.text, r.table.Decimal, r.table.Unit)
		case r.opts.Levels:
			why = "the level is missing"
		}
	case Easting:
		p.At.E, why = r.coordinate("easting", f)
	case Northing:
		p.At.N, why = r.coordinate("northing", f)
	}
	if why != "" {
		r.fault(p.Line, f.column, "not-a-number", why, "")
	}
}

func (r *reader) coordinate(what string, f field) (measure.Length, string) {
	if f.text == "" {
		return 0, "the " + what + " is missing"
	}
	return length(f.text, r.table.Decimal, r.table.Unit)
}

// add keeps a point, and says where a name comes again for another place.
func (r *reader) add(p Point) {
	if i, ok := r.named[p.Name]; ok && p.Name != "" {
		if was := r.table.Points[i]; was.At != p.At || was.Level != p.Level {
			if r.twice++; r.twice <= mostFaults {
				r.say(finding.Attention, p.Line, 0, "same-name", fmt.Sprintf("point %q stood on line %d already, at another place", clipped(p.Name), was.Line), "")
			}
		}
	} else {
		r.named[p.Name] = len(r.table.Points)
	}
	r.table.Points = append(r.table.Points, p)
}

func (r *reader) finish() {
	if len(r.table.Points) == 0 && r.faults == 0 {
		r.fault(0, 0, "empty", "the file holds a heading and no points", "")
	}
	if r.remarks > 0 {
		r.say(finding.Attention, 0, 0, "remarks", fmt.Sprintf("%d lines that begin with # were passed over", r.remarks), "")
	}
	if r.lines.coarse {
		r.say(finding.Attention, 0, 0, "letters", "some letters are not UTF-8 and stand as \ufffd in names and remarks", "the same file in UTF-8")
	}
	if r.joined {
		r.say(finding.Note, 0, 0, "long-remarks", "remarks hold the separator; the rest of each line was taken", "")
	}
	r.onLines()
	r.feet()
}

// feet says what it would mean if the feet were the other ones.
func (r *reader) feet() {
	far := measure.Length(0)
	for _, p := range r.table.Points {
		far = max(far, p.At.E.Abs(), p.At.N.Abs())
	}
	other := map[measure.Unit]string{measure.UnitFoot: "US survey feet", measure.UnitSurveyFoot: "feet of 0.3048 m"}[r.table.Unit]
	if other == "" || far == 0 {
		return
	}
	// 1200/3937 m is 0.3048 m and 2 parts in a million more.
	r.say(finding.Note, 0, 0, "feet", fmt.Sprintf("read in %s; in %s the furthest coordinate would be %.3f m another", r.table.Unit, other, far.Metres()*2e-6), "")
}
