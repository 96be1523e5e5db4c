package table

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Stock is one row of a list of stock: units of one length that pieces are cut from.
type Stock struct {
	Length measure.Length
	Count  int   // how many there are; below 0: as many as are needed
	Price  int64 // of one, a whole number of any coin; 1 where the list has no prices
	Line   int   // in the text, from 1
}

// mostPrice keeps sums of prices within int64.
const mostPrice = 1_000_000_000

var stockList = listKind{
	name: "list of stock", things: "stock", heads: "length,count,price", line: "3000 mm,,100",
	known: []string{"length", "count", "price"}, needed: []string{"length"}, row: (*listReader).stock,
}

// ReadStock reads a list of stock: a line of heads, then a line for each length that can be had. The columns are length
// and, if wanted, count (empty: as many as are needed) and price (a whole number). Everything else
// is as in ReadCutting.
func ReadStock(file string, r io.Reader, unit measure.Unit) ([]Stock, finding.List) {
	in := &listReader{listKind: stockList, file: file, unit: unit, seen: map[string]int{}}
	in.all(r)
	if len(in.faults) > 0 {
		return nil, in.list()
	}
	return in.stocks, nil
}

// stock reads one line of stock; all that is wrong with it is said.
func (in *listReader) stock(parts []field) {
	before := len(in.faults) + in.more
	if !in.whole(parts) {
		return
	}
	s := Stock{Line: in.line, Count: -1, Price: 1}
	s.Length = in.length(parts, "a unit")
	if f := in.cell(parts, in.at.count); strings.TrimSpace(f.text) != "" {
		s.Count = int(in.number("list.count", f, 0, mostCount, "units; leave it empty for as many as are needed"))
	}
	if f := in.cell(parts, in.at.price); in.at.price >= 0 {
		s.Price = in.number("list.price", f, 0, mostPrice, "what one unit costs, a whole number of any coin")
	}
	if len(in.faults)+in.more == before {
		in.stocks = append(in.stocks, s)
	}
}

// number reads a whole number of what.
func (in *listReader) number(id string, f field, least, most int64, what string) int64 {
	text := strings.TrimSpace(f.text)
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil || text[0] == '+' || n < least || n > most {
		in.fault(id, problem{column: f.columnOf(0), text: fmt.Sprintf("%q is no whole number from %d to %d", text, least, most), try: what})
	}
	return n
}
