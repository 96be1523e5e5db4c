package jobtext

import (
	"bufio"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"trenchwright/job"
)

// lineWidth is how long a line may be for a group or a list to stand in it as a whole.
const lineWidth = 100

// WriteYAML writes j as YAML for people: in the order in which the fields are declared, quantities exact with their
// units, short groups in one line. Reading it gives j again, if j has no faults.
func WriteYAML(w io.Writer, j job.Job) error {
	out := bufio.NewWriter(w)
	y := yamlWriter{out: out}
	afterBlock := false
	for i, f := range job.ToTree(j).Fields {
		block := y.isBlock(f.Value, f.Name, 0)
		if i > 0 && (block || afterBlock) {
			y.write("\n")
		}
		y.field(f, 0)
		afterBlock = block
	}
	return out.Flush()
}

// WriteServices writes the services of a leg as YAML, to be put under that leg of a job: what WriteYAML writes there.
func WriteServices(w io.Writer, services []job.Service, indent int) error {
	out := bufio.NewWriter(w)
	y := yamlWriter{out: out}
	for _, f := range job.ToTree(job.Job{Route: job.Route{Legs: []job.Leg{{Services: services}}}}).Fields {
		if f.Name != "route" {
			continue
		}
		for _, one := range f.Value.Fields[0].Value.Items[0].Fields {
			if one.Name == "services" {
				y.write(strings.Repeat(" ", indent))
				y.field(one, indent)
			}
		}
	}
	return out.Flush()
}

// yamlWriter writes block YAML. The first error of the writer below is kept by it and given back by Flush.
type yamlWriter struct{ out *bufio.Writer }

func (y yamlWriter) write(texts ...string) {
	for _, text := range texts {
		_, _ = y.out.WriteString(text) // Flush has the error
	}
}

// field writes "name: value" at an indentation, which the caller has written for the first line.
func (y yamlWriter) field(f job.Field, indent int) {
	if !y.isBlock(f.Value, f.Name, indent) {
		y.write(f.Name, ": ", inOneLine(f.Value, false), "\n")
		return
	}
	y.write(f.Name, ":\n")
	y.block(f.Value, indent+2)
}

// isBlock tells whether a field's value stands on lines of its own.
func (y yamlWriter) isBlock(v job.Value, name string, indent int) bool {
	switch v.Kind {
	case job.KindMap:
		if !plainGroup(v) || len(v.Fields) > 3 && !isFigure(v) {
			return true
		}
	case job.KindList:
		if len(v.Items) > 0 && v.Items[0].Kind == job.KindMap {
			return true
		}
	default:
		return false
	}
	return !fits(indent+len(name)+2, v)
}

// block writes the lines of a group or a list, each behind the indentation.
func (y yamlWriter) block(v job.Value, indent int) {
	space := strings.Repeat(" ", indent)
	for _, f := range v.Fields {
		y.write(space)
		y.field(f, indent)
	}
	for _, item := range v.Items {
		y.write(space, "- ")
		if item.Kind != job.KindMap || plainGroup(item) && fits(indent+2, item) {
			y.write(inOneLine(item, false), "\n")
			continue
		}
		for i, f := range item.Fields {
			if i > 0 {
				y.write(space, "  ")
			}
			y.field(f, indent+2)
		}
	}
}

// plainGroup tells whether a group holds no list of groups, however deep.
func plainGroup(v job.Value) bool {
	for _, f := range v.Fields {
		if f.Value.Kind == job.KindMap && !plainGroup(f.Value) {
			return false
		}
		if len(f.Value.Items) > 0 && f.Value.Items[0].Kind == job.KindMap {
			return false
		}
	}
	return true
}

// isFigure tells whether a group is a figure with its pedigree.
func isFigure(v job.Value) bool {
	return v.Kind == job.KindMap && len(v.Fields) > 0 && (v.Fields[0].Name == "value" || v.Fields[0].Name == "assumed")
}

func fits(before int, v job.Value) bool {
	return before+utf8.RuneCountInString(inOneLine(v, false)) <= lineWidth
}

// inOneLine is v in flow form; in tells whether it stands inside another group or list.
func inOneLine(v job.Value, in bool) string {
	switch v.Kind {
	case job.KindText:
		return scalar(v.Text, in)
	case job.KindList:
		texts := make([]string, len(v.Items))
		for i, item := range v.Items {
			texts[i] = inOneLine(item, true)
		}
		return "[" + strings.Join(texts, ", ") + "]"
	case job.KindMap:
		texts := make([]string, len(v.Fields))
		for i, f := range v.Fields {
			texts[i] = f.Name + ": " + inOneLine(f.Value, true)
		}
		return "{" + strings.Join(texts, ", ") + "}"
	case job.KindEmpty:
		return "null"
	}
	return v.Text
}

// scalar is text as YAML: bare where no reader can take it for anything else, otherwise in double quotes.
func scalar(text string, in bool) string {
	if isPlain(text, in) {
		return text
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < ' ' || r == 0x7f || r >= 0x80 && !unicode.IsPrint(r):
			writeEscape(&b, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// writeEscape writes what cannot be printed by its number.
func writeEscape(b *strings.Builder, r rune) {
	const digits = "0123456789abcdef"
	first, shift := `\u`, 12
	if r > 0xffff {
		first, shift = `\U`, 28
	}
	b.WriteString(first)
	for ; shift >= 0; shift -= 4 {
		b.WriteByte(digits[r>>shift&15])
	}
}

// isPlain is narrower than YAML: letters, digits and a few signs, beginning with a letter, a digit or a minus before
// one, and no word that some reader of YAML takes for a yes, a no or nothing.
func isPlain(text string, in bool) bool {
	switch strings.ToLower(text) {
	case "", "true", "false", "yes", "no", "on", "off", "y", "n", "null", "nan", "inf":
		return false
	}
	last := ' '
	for i, r := range text {
		switch {
		case unicode.IsLetter(r), r >= '0' && r <= '9':
		case i == 0:
			if r != '-' || len(text) == 1 || text[1] < '0' || text[1] > '9' {
				return false
			}
		case r == ' ':
			if last == ' ' {
				return false
			}
		case strings.ContainsRune("._/+-()%°×", r):
		case r == ',' && !in:
		default:
			return false
		}
		last = r
	}
	return last != ' '
}
