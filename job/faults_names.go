package job

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// nameIndex is the ids that things can be named by, by kind, in the order of the job.
type nameIndex map[string]*names

// names is one kind's ids. It is unsure while some of them could not be read: then no name is said to be unknown.
type names struct {
	list   []string
	has    map[string]bool
	unsure bool
}

func (c *checker) index() nameIndex {
	j := c.job
	index := nameIndex{}
	for kind, list := range map[string]string{
		"document": "documents", "supply": "supplies", "fitting": "supplies", "node": "route.nodes", "leg": "route.legs", "vehicle": "checks.vehicles",
	} {
		index[kind] = &names{has: map[string]bool{}, unsure: c.unsure(list)}
	}
	add := func(kind, id string) {
		n := index[kind]
		n.list, n.has[id] = append(n.list, id), true
	}
	for _, d := range j.Documents {
		add("document", d.ID)
	}
	for _, s := range j.Supplies {
		add("supply", s.ID)
		for _, f := range s.Fittings {
			add("fitting", f.ID)
		}
	}
	for _, n := range j.Route.Nodes {
		add("node", n.ID)
	}
	for _, l := range j.Route.Legs {
		add("leg", l.ID)
	}
	for _, v := range j.Checks.Vehicles {
		add("vehicle", v.ID)
	}
	return index
}

// unsure tells whether the list at path, one of its items or one of their ids could not be read.
func (c *checker) unsure(path string) bool {
	for broken, itself := range c.broken {
		if itself && (broken == path || strings.HasPrefix(broken, path+"[") && (strings.HasSuffix(broken, "]") || strings.HasSuffix(broken, ".id") || strings.HasSuffix(broken, ".fittings"))) {
			return true
		}
	}
	return false
}

// reference checks that a thing of that kind and id exists.
func (c *checker) reference(id, kind string, p *place) {
	known := c.names[kind]
	if known.has[id] || known.unsure {
		return
	}
	what := fmt.Sprintf("%s names %s %s, which does not exist.", p.leaf(), kind, quoted(id))
	if p.leaf() == kind {
		what = fmt.Sprintf("%s %s does not exist.", kind, quoted(id))
	}
	if len(known.list) == 0 {
		c.say("reference", p, what, "No "+kind+" is written in this job.")
		return
	}
	plurals := map[string]string{"supply": "Supplies", "document": "Documents", "node": "Nodes", "leg": "Legs", "fitting": "Fittings", "vehicle": "Vehicles"}
	c.say("reference", p, what+didYouMean(id, known.list), plurals[kind]+" of this job: "+listed(known.list)+".")
}

// idScope is within what ids have to differ: one kind of thing over the whole job, or the fittings of one supply.
type idScope struct {
	kind reflect.Type
	in   *place
	id   string
}

// unique checks that item's id was not given before to a thing of its kind.
func (c *checker) unique(item reflect.Value, at *place) {
	if item.Kind() != reflect.Struct || isText(item.Type()) || isEntry(item.Type()) {
		return
	}
	fields := fieldsOf(item.Type())
	i := indexOf(fields, "id")
	if i < 0 {
		return
	}
	id := item.Field(fields[i].index).String()
	scope := idScope{kind: item.Type(), id: strings.ToLower(id)}
	if item.Type() == typeOf[Fitting]() {
		scope.in = at.up.up // the supply
	}
	if id == "" {
		return
	}
	first, again := c.ids[scope]
	if !again {
		c.ids[scope] = at
		return
	}
	kind := singular(at.up.name)
	text := fmt.Sprintf("this id is given twice, at %s and at %s.", first.path(), at.path())
	if first.id != id {
		text = fmt.Sprintf("ids %s and %s differ in capitals alone, at %s and at %s.", first.id, id, first.path(), at.path())
	}
	c.say("id-twice", at.field("id"), text, "Give every "+kind+" an id of its own.")
}

// rule checks the form of a text.
func (c *checker) rule(text string, f field, p *place) {
	switch f.rule {
	case "id":
		c.id(text, longestID, f, p)
	case "leg-id":
		c.id(text, longestLegID, f, p)
	case "date":
		if !isDate(text) {
			c.say("date", p, fmt.Sprintf("%s is %s, which is no date.", p.leaf(), quoted(text)), "Write year-month-day: 2026-03-02.")
		}
	case "decimal":
		if !isDecimal(text) || strings.Trim(text, "0.") == "" {
			c.say("number", p, fmt.Sprintf("%s is %s; a number above 0 is wanted.", p.leaf(), quoted(text)), tryExample(f, "Write "))
		}
	case "load":
		if _, err := ReadLoad(text); err != nil {
			c.say("number", p, fmt.Sprintf("%s is %s, which is no load: %s.", p.leaf(), quoted(text), err), "Write what one vehicle carts, above 0: 8 m3, 10 yd3, 12 t or 13 short tons.")
		}
	case "density":
		if _, err := ReadDensity(text); err != nil {
			c.say("number", p, fmt.Sprintf("%s is %s, which is no density: %s.", p.leaf(), quoted(text), err), "Write the mass in one loose cubic metre or yard: 1600 kg/m3 or 2700 lb/yd3.")
		}
	case "clock":
		if _, err := ReadClock(text); err != nil {
			c.say("number", p, fmt.Sprintf("%s is %s: %s.", p.leaf(), quoted(text), err), `Write hours and minutes, two digits each, in quotes: "07:00", "22:30".`)
		}
	case "hours":
		if _, err := ReadHours(text); err != nil {
			c.say("number", p, fmt.Sprintf("%s is %s: %s.", p.leaf(), quoted(text), err), "Write 4 h, 30 min or 2 d.")
		}
	case "rate":
		if _, err := ReadRate(text); err != nil {
			c.say("number", p, fmt.Sprintf("%s is %s: %s.", p.leaf(), quoted(text), err), "Write how much in an hour or a shift, above 0: 18 m3/h, 40 m/shift, 6 no/h; leave it out where nobody knows.")
		}
	case "percent":
		if !isDecimal(text) {
			c.say("number", p, fmt.Sprintf("%s is %s; a number without a sign is wanted.", p.leaf(), quoted(text)), "Write percent: 2.5 for two and a half per hundred.")
		} else if x, _ := strconv.ParseFloat(text, 64); x > 100 {
			c.outside(p, text, "at most 100", "It is counted per hundred of what is placed.")
		}
	case "scale":
		c.scale(text, p)
	case "sha256":
		if len(text) != 64 || strings.Trim(text, "0123456789abcdef") != "" {
			c.say("hash", p, fmt.Sprintf("%s is %s, which is no SHA-256.", p.leaf(), quoted(text)), "It has 64 digits out of 0 to 9 and a to f.")
		}
	case "force", "pressure", "stress", "unit-weight", "temperature", "cable":
		c.quantity(text, f, p)
	case "spare-source":
		if text != "common practice" {
			c.reference(text, "document", p)
		}
	}
}

func (c *checker) id(text string, most int, f field, p *place) {
	switch {
	case !isID(text):
		c.say("id", p, fmt.Sprintf("%s %s is not made of letters a to z, digits and dashes alone.", p.leaf(), quoted(text)), tryExample(f, "Write for example "))
	case len(text) > most:
		one := c.say("id", p, fmt.Sprintf("%s %s has %d characters; at most %d fit where it is printed.", p.leaf(), quoted(text), len(text), most), tryExample(f, "Write for example "))
		one.Value, one.Limit = strconv.Itoa(len(text)), strconv.Itoa(most)
	}
}

// isID tells whether text is made of ASCII letters, digits and dashes, with no dash at its ends.
func isID(text string) bool {
	for _, r := range text {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-') {
			return false
		}
	}
	return text != "" && text[0] != '-' && text[len(text)-1] != '-'
}

// isDate tells whether text is YYYY-MM-DD and such a day exists.
func isDate(text string) bool {
	if len(text) != 10 || text[4] != '-' || text[7] != '-' || strings.Trim(text[:4]+text[5:7]+text[8:], "0123456789") != "" {
		return false
	}
	year, _ := strconv.Atoi(text[:4]) // digits alone
	month, _ := strconv.Atoi(text[5:7])
	day, _ := strconv.Atoi(text[8:])
	if month < 1 || month > 12 || day < 1 {
		return false
	}
	days := [...]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}[month-1]
	if month == 2 && year%4 == 0 && (year%100 != 0 || year%400 == 0) {
		days = 29
	}
	return day <= days
}

// isDecimal tells whether text is a decimal number of at most 18 digits without a sign.
func isDecimal(text string) bool {
	whole, part, point := strings.Cut(text, ".")
	digits := func(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }
	return len(text) <= 19 && digits(whole) && (!point || digits(part))
}

// scale checks a combined scale factor, or the word ground.
func (c *checker) scale(text string, p *place) {
	if text == "ground" {
		return
	}
	const try = "Write the combined factor grid/ground, for example 0.99963, or ground for 1."
	x, err := strconv.ParseFloat(text, 64)
	switch {
	case !isDecimal(text) || err != nil:
		c.say("number", p, fmt.Sprintf("%s is %s, which is neither a decimal number nor ground.", p.leaf(), quoted(text)), try)
	case x < 0.9 || x > 1.1:
		c.outside(p, text, "at least 0.9 and at most 1.1", try+" Parts per million are not read here.")
	}
}
