package job

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"unicode"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Limits that tell slips of the pen from things that are built. They are this program's own, not the trade's.
const (
	longestProduct   = 100 * measure.Metre        // 3000 m written where 3000 mm was meant
	longestRoute     = 10_000 * measure.Kilometre // more than is planned in one job
	furthestFromNull = 1e8                        // in any unit: no grid on earth has a number beyond
	longestID        = 40
	longestLegID     = 8 // it is painted: A-001
	mostParents      = 2
)

// Faults is everything that is wrong with j and can be said without working out any geometry, in the order of the job.
// It is empty for a job that can be planned. FromTree has it in its own list, with lines and columns.
func Faults(j Job) finding.List { return faultsOf(j, brokenPlaces{}) }

// checker walks over a job once with its tags in hand, then over the rules that hold between fields.
type checker struct {
	job    *Job
	broken brokenPlaces
	names  nameIndex
	ids    map[idScope]*place
	most   measure.Length // that a length may have in the part of the job that is walked
	met    bool           // which legs meet at a node is known
	faults finding.List
}

func faultsOf(j Job, broken brokenPlaces) finding.List {
	c := checker{job: &j, broken: broken, ids: map[idScope]*place{}}
	c.names = c.index()
	root := reflect.ValueOf(&j).Elem()
	for _, f := range fieldsOf(root.Type()) {
		c.most = choose(f.name == "route" || f.name == "coordinates" || f.name == "set_out" || f.name == "levels" || f.name == "dig" || f.name == "delivery" || f.name == "checks" || f.name == "programme", longestRoute, longestProduct)
		c.walk(root.Field(f.index), f, (*place)(nil).field(f.name))
	}
	c.head()
	for i := range j.Supplies {
		c.supply(&j.Supplies[i], (*place)(nil).field("supplies").item(i, j.Supplies[i].ID))
	}
	c.route((*place)(nil).field("route"))
	c.yard((*place)(nil).field("yard"))
	c.rules((*place)(nil).field("rules"))
	c.checks((*place)(nil).field("checks"))
	c.ground()
	c.setOut()
	c.delivery()
	c.programme()
	return c.faults
}

// say adds a fault about p, unless something was said of it before.
func (c *checker) say(id string, p *place, text, try string) *finding.Finding {
	path := p.path()
	if c.broken.covers(path) {
		return &finding.Finding{} // of no further use
	}
	c.broken.add(path)
	text = p.holder() + text
	c.faults = append(c.faults, finding.Finding{
		ID: "job." + id, Kind: finding.Fault, Text: sentence(text), Try: try, Where: finding.Where{Path: path},
	})
	return &c.faults[len(c.faults)-1]
}

// sound tells whether all of the fields below p were read, so that a rule between them can be asked.
func (c *checker) sound(p *place, fields ...string) bool {
	if len(c.broken) == 0 {
		return true
	}
	for _, name := range fields {
		if c.broken.touches(p.field(name).path()) {
			return false
		}
	}
	return true
}

// walk checks v, declared as f, and everything in it by what the tags say.
func (c *checker) walk(v reflect.Value, f field, p *place) {
	t := v.Type()
	switch {
	case isEntry(t):
		c.entry(partsOf(v), f, p)
		return
	case v.Kind() == reflect.Pointer:
		if !v.IsNil() {
			c.walk(v.Elem(), f.one(), p)
		}
		return
	case isText(t) || v.Kind() == reflect.Int:
		c.figure(v, f, p)
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for _, inner := range fieldsOf(t) {
			c.walk(v.Field(inner.index), inner, p.field(inner.name))
		}
	case reflect.Slice, reflect.Array:
		c.list(v, f, p)
	case reflect.String:
		c.word(v.String(), f, p)
	case reflect.Float64:
		c.number(v.Float(), p)
	}
}

func (c *checker) entry(parts pedigree, f field, p *place) {
	if !*parts.known {
		if f.required && !c.broken.touches(p.path()) {
			c.say("missing-field", p, fmt.Sprintf("%q is missing.", f.name), tryExample(f, "Write "))
		}
		return
	}
	for i, text := range parts.texts {
		one := field{name: pedigreeNames[i], typ: typeOf[string]()}
		switch one.name {
		case "from":
			one.ref = "document"
		case "on":
			one.rule = "date"
		}
		c.word(*text, one, p.field(one.name))
	}
	if *parts.assumed && (*parts.texts[0] != "" || *parts.texts[1] != "") {
		c.say("entry", p, p.leaf()+" is assumed and names a document.", "A figure from a document is written as value; an assumed one has a note.")
	}
	c.walk(parts.value, f.one(), p)
}

func (c *checker) list(v reflect.Value, f field, p *place) {
	if v.Len() == 0 && f.required && v.Kind() == reflect.Slice && !c.broken.touches(p.path()) {
		c.say("missing-field", p, fmt.Sprintf("%q is empty.", f.name), tryExample(f, "Write "))
	}
	inner := f.one()
	if v.Type() == typeOf[[2]YardEnd]() {
		inner.required = false
	}
	for i := range v.Len() {
		item := v.Index(i)
		at := p.item(i, itemID(item))
		c.walk(item, inner, at)
		c.unique(item, at)
	}
}

// figure checks that a quantity lies in its interval. Nought in an optional field is a field that was left out.
func (c *checker) figure(v reflect.Value, f field, p *place) {
	if v.IsZero() && !f.required {
		return
	}
	switch n := v.Interface().(type) {
	case Section:
		one := f
		one.in = &interval{low: 0, high: infinite}
		c.figure(reflect.ValueOf(n.Width), one, p)
		if n.Height != n.Width {
			c.figure(reflect.ValueOf(n.Height), one, p)
		}
		return
	case measure.Window:
		c.window(n, p)
		return
	case measure.Length:
		if n.Abs() > c.most {
			c.outside(p, c.length(n), "at most "+c.length(c.most), "Look at the unit: mm or m?")
			return
		}
	}
	in := f.within()
	if x, unit, ok := figure(v); ok && in != nil && !in.holds(x) {
		c.outside(p, c.shown(v), in.words(unit), f.says())
	}
}

// outside says that a value is beyond its limit.
func (c *checker) outside(p *place, value, limit, try string) {
	one := c.say("range", p, fmt.Sprintf("%s is %s. It has to be %s.", p.leaf(), value, limit), try)
	one.Value, one.Limit = value, limit
}

// window checks a gap: nothing below nought, and the value that is aimed at inside.
func (c *checker) window(w measure.Window, p *place) {
	switch {
	case w.Min < 0:
		c.outside(p, c.length(w.Min)+" at its least", "at least 0 mm", "Two units cannot overlap: look at the sign.")
	case w.Max > longestProduct:
		c.outside(p, c.length(w.Max)+" at its most", "at most "+c.length(longestProduct), "Look at the unit: mm or m?")
	case w.Min > w.Max:
		c.say("window", p, fmt.Sprintf("the window of %s runs backwards: %s..%s.", p.leaf(), c.length(w.Min), c.length(w.Max)), "Write the smaller one first.")
	case w.Nominal < w.Min || w.Nominal > w.Max:
		one := c.say("window", p, fmt.Sprintf("%s %s lies outside its own window %s..%s.", p.leaf(), c.length(w.Nominal), c.length(w.Min), c.length(w.Max)), "The first length is the one that is aimed at.")
		one.Value, one.Limit = c.length(w.Nominal), c.length(w.Min)+".."+c.length(w.Max)
	}
}

func (c *checker) number(x float64, p *place) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		c.say("type", p, p.leaf()+" is no number.", "Write a plain number: 1000.25.")
	} else if math.Abs(x) > furthestFromNull {
		c.outside(p, bare(x), "between -100000000 and 100000000", "No grid on earth has such a coordinate: look for a missing point.")
	}
}

// word checks a text by its rule, its reference or its words.
func (c *checker) word(text string, f field, p *place) {
	if text == "" {
		if f.required {
			c.say("missing-field", p, fmt.Sprintf("%q is missing.", f.name), tryExample(f, "Write "))
		}
		return
	}
	if strings.ContainsFunc(text, unprintable) || !validUTF8(text) {
		c.say("text", p, p.leaf()+" holds a character that cannot be printed.", "Write it again by hand.")
		return
	}
	switch {
	case f.ref != "":
		c.reference(text, f.ref, p)
	case len(f.oneof) > 0:
		c.choice(text, f.oneof, p)
	case f.rule != "":
		c.rule(text, f, p)
	}
}

// unprintable finds control characters, of which only line breaks and tabs are text.
func unprintable(r rune) bool {
	return unicode.IsControl(r) && r != '\n' && r != '\t' || r == '\u2028' || r == '\u2029' || r == '\ufeff' || r == '\ufffe' || r == '\uffff'
}

func validUTF8(text string) bool { return strings.ToValidUTF8(text, "") == text }

func (c *checker) choice(text string, known []string, p *place) {
	for _, word := range known {
		if word == text {
			return
		}
	}
	c.say("choice", p, fmt.Sprintf("%s is %s, which is none of its words.%s", p.leaf(), quoted(text), didYouMean(text, known)), "One of: "+listed(known)+".")
}

// length is l in the system of the job: exactly, in metres where it is a whole number of millimetres beyond ten metres.
func (c *checker) length(l measure.Length) string {
	if c.job.System == Imperial {
		return c.job.Speech().Length(l)
	}
	if l.Abs() < 10*measure.Metre || l%measure.Millimetre != 0 {
		return l.String()
	}
	metres := measure.Format{Survey: true, Places: 3}.Figure(l)
	return strings.TrimRight(strings.TrimRight(metres, "0"), ".") + " m"
}

// shown is a figure as people write it.
func (c *checker) shown(v reflect.Value) string {
	switch n := v.Interface().(type) {
	case measure.Length:
		return c.length(n)
	case measure.Angle:
		return n.DegString() + "°"
	case measure.Grade:
		return n.String()
	}
	return fmt.Sprint(v.Interface())
}
