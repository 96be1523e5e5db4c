package merge

import (
	"strconv"
	"strings"

	"trenchwright/job"
)

// path is the way from the job down: names of fields, and the keys of things in lists in brackets. ordered at its end is
// the order of the things in the list itself.
type path []string

const ordered = "[]"

// into is p one step further down, with an array of its own.
func (p path) into(step string) path {
	return append(p[:len(p):len(p)], step)
}

func (p path) item(key string) path { return p.into("[" + key + "]") }

// isItem tells whether p leads to a thing in a list.
func (p path) isItem() bool {
	last := p[len(p)-1]
	return last[0] == '[' && last != ordered
}

// isWhole tells whether p leads to what makes sense as a whole only: what lies on a leg, with the rest that was chosen for it.
func (p path) isWhole() bool { return len(p) > 0 && p[len(p)-1] == "built" }

// String is p as route.legs[A].from.
func (p path) String() string {
	var b strings.Builder
	for i, step := range p {
		if i > 0 && step[0] != '[' {
			b.WriteByte('.')
		}
		b.WriteString(step)
	}
	return b.String()
}

// touches tells whether one of p and q lies on the other's way.
func (p path) touches(q path) bool {
	for i := range min(len(p), len(q)) {
		if p[i] != q[i] {
			return false
		}
	}
	return true
}

// byKey is an index path of findings (route.legs[2].from) in tree as a path of this package, and the value there. What
// stands in lists without keys is the list.
func byKey(tree job.Value, written string) (path, *job.Value) {
	var p path
	at := &tree
	for part := range strings.SplitSeq(strings.ReplaceAll(written, "[", ".["), ".") {
		var next *job.Value
		if index, found := strings.CutPrefix(part, "["); found {
			n, err := strconv.Atoi(strings.TrimSuffix(index, "]"))
			name := keyField(at)
			if err != nil || name == "" || n < 0 || n >= len(at.Items) {
				return p, at
			}
			p, next = p.item(get(&at.Items[n], name).Text), &at.Items[n]
		} else if next = get(at, part); next != nil {
			p = p.into(part)
		}
		if next == nil {
			return p, at
		}
		at = next
	}
	return p, at
}

// get is the field of v of that name; nil: none.
func get(v *job.Value, name string) *job.Value {
	if v == nil {
		return nil
	}
	for i := range v.Fields {
		if v.Fields[i].Name == name {
			return &v.Fields[i].Value
		}
	}
	return nil
}

// same tells whether a and b say the same; nil is what is not there.
func same(a, b *job.Value) bool {
	if a == nil || b == nil {
		return a == b
	}
	if a.Kind != b.Kind || a.Text != b.Text || len(a.Items) != len(b.Items) || len(a.Fields) != len(b.Fields) {
		return false
	}
	for i := range a.Items {
		if !same(&a.Items[i], &b.Items[i]) {
			return false
		}
	}
	for i := range a.Fields {
		if !same(&a.Fields[i].Value, get(b, a.Fields[i].Name)) {
			return false
		}
	}
	return true
}
