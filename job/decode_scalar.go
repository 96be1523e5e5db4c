package job

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"trenchwright/base/measure"
)

// word decodes free text. A number is text too, exactly as it was written: page: 7.
func (d *decoder) word(dst reflect.Value, f field, v Value, p *place) {
	switch v.Kind {
	case KindText, KindNumber:
		dst.SetString(v.Text)
		if v.Text == "" {
			d.say("empty", v, p, p.leaf()+" is empty.", tryExample(f, "Leave the field out, or write "))
		}
	case KindBool:
		d.say("type", v, p, fmt.Sprintf("%s is %s, which reads as yes or no; text is wanted.", p.leaf(), v.Text), fmt.Sprintf("Write it in quotes: %s.", quoted(v.Text)))
	default:
		d.otherKind(dst.Type(), f, v, p)
	}
}

func (d *decoder) yesNo(dst reflect.Value, f field, v Value, p *place) {
	if v.Kind != KindBool {
		d.otherKind(dst.Type(), f, v, p)
		return
	}
	dst.SetBool(v.Text == "true")
}

// whole decodes a count. Counts beyond a thousand million are slips.
func (d *decoder) whole(dst reflect.Value, f field, v Value, p *place) {
	n, err := strconv.ParseInt(v.Text, 10, 64)
	switch {
	case v.Kind != KindNumber:
		d.otherKind(dst.Type(), f, v, p)
	case errors.Is(err, strconv.ErrRange) || err == nil && (n > 1_000_000_000 || n < -1_000_000_000):
		d.say("range", v, p, fmt.Sprintf("%s is %s, more than can be counted here.", p.leaf(), shortened(v.Text)), "Write a number below a thousand million.")
	case err != nil:
		d.say("type", v, p, fmt.Sprintf("%s is %s; a whole number is wanted.", p.leaf(), shortened(v.Text)), tryExample(f, "Write "))
	default:
		dst.SetInt(n)
		if n == 0 && !f.required {
			d.nought(dst, f, v, p)
		}
	}
}

// number decodes a coordinate or a level: a plain decimal number, without unit, finite.
func (d *decoder) number(dst reflect.Value, f field, v Value, p *place) {
	if v.Kind != KindNumber {
		if comma := strings.Replace(v.Text, ",", ".", 1); v.Kind == KindText && plainNumber(comma) {
			d.say("type", v, p, fmt.Sprintf("%s is %s; a number has a point, not a comma.", p.leaf(), quoted(v.Text)), "Write "+comma+".")
			return
		}
		d.otherKind(dst.Type(), f, v, p)
		return
	}
	x, err := strconv.ParseFloat(v.Text, 64)
	switch {
	case errors.Is(err, strconv.ErrRange):
		d.say("range", v, p, fmt.Sprintf("%s is %s, beyond any number that can be held.", p.leaf(), shortened(v.Text)), "Write coordinates as plain numbers: 1000.25.")
	case err != nil || math.IsNaN(x) || math.IsInf(x, 0) || !plainNumber(v.Text):
		d.say("type", v, p, fmt.Sprintf("%s is %s, which is no number.", p.leaf(), shortened(v.Text)), "Write a plain number: 1000.25.")
	case x != 0: // -0 stays 0
		dst.SetFloat(x)
	}
}

// plainNumber tells whether text is a decimal number with an optional sign and exponent, nothing fancier.
func plainNumber(text string) bool {
	if text == "" || strings.Trim(text, "0123456789.eE+-") != "" {
		return false
	}
	_, err := strconv.ParseFloat(text, 64)
	return err == nil
}

// otherKind says that v is not what a field of type t is written as.
func (d *decoder) otherKind(t reflect.Type, f field, v Value, p *place) {
	found := "is " + v.Kind.String()
	switch {
	case v.scalar():
		found = fmt.Sprintf("is %s", quoted(v.Text))
	case v.Kind == KindList && t.Kind() == reflect.Array:
		found = fmt.Sprintf("is a list of %d", len(v.Items))
	case len(v.Items) == 0 && v.Kind == KindList:
		found = "is an empty list"
	}
	try := belongs(f)
	d.say("type", v, p, fmt.Sprintf("%s %s; %s is wanted.", p.leaf(), found, form(t)), try)
}

// notUnderstood says why the text of v is no t.
func (d *decoder) notUnderstood(t reflect.Type, f field, v Value, p *place, err error) {
	if mm := lengthWithoutUnit(t, v.Text); mm != "" {
		d.say("unit", v, p, fmt.Sprintf("%s is %s, which has no unit.", p.leaf(), v.Text), "Write "+mm+".")
		return
	}
	var reason *measure.ParseError
	if !errors.As(err, &reason) {
		d.say("unit", v, p, fmt.Sprintf("%s: %v.", p.leaf(), err), tryExample(f, "Write "))
		return
	}
	where := ": "
	if reason.Column > 1 {
		where = fmt.Sprintf(". At character %d: ", reason.Column)
	}
	try := tryExample(f, "Write for example ")
	if try == "" {
		try = "Write for example " + reason.Example + "."
	}
	d.say("unit", v, p, fmt.Sprintf("%s %s cannot be read as %s%s%s.", p.leaf(), quoted(reason.Text), reason.What, where, reason.Problem), try)
}

// lengthWithoutUnit is what a bare number might mean where a quantity stands; empty where text is no bare number.
func lengthWithoutUnit(t reflect.Type, text string) string {
	if !plainNumber(text) {
		return ""
	}
	switch t {
	case typeOf[measure.Length](), typeOf[measure.Window]():
		r, err := measure.Parse(text + " mm")
		if err != nil {
			return ""
		}
		return fmt.Sprintf("%s mm, or %s", text, measure.Format{System: measure.Imperial}.Length(r.Length))
	case typeOf[measure.Angle]():
		return text + "°"
	case typeOf[measure.Mass]():
		return text + " kg"
	case typeOf[measure.Grade]():
		return text + " %"
	case typeOf[measure.LinearMass]():
		return text + " kg/m"
	}
	return ""
}

// belongs is a sentence about what is written at f: an example, or for groups their meaning.
func belongs(f field) string {
	if try := tryExample(f, "Write "); try != "" {
		return try
	}
	return f.says()
}

// says is the meaning of f as a sentence.
func (f field) says() string {
	if f.meaning == "" {
		return ""
	}
	return "What belongs here: " + f.meaning + "."
}

// tryExample is a sentence that shows how f is written; empty where f has no example.
func tryExample(f field, start string) string {
	example := f.example
	if len(f.oneof) > 0 {
		example = f.oneof[0]
	}
	if example == "" || f.name == "" {
		return ""
	}
	return start + f.name + ": " + example + "."
}
