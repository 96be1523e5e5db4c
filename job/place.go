package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// place is where in a job something stands: a chain from the root down. It becomes a path for programs and a name for
// people only when something has to be said, so that walking costs nothing. The nil place is the job itself.
type place struct {
	up    *place
	name  string // of a field
	isOne bool   // an item of the list above, by its index
	index int
	id    string // of an item: its id, name or mark, if it has one
}

func (p *place) field(name string) *place { return &place{up: p, name: name} }
func (p *place) item(index int, id string) *place {
	return &place{up: p, isOne: true, index: index, id: id}
}
func (p *place) fields(names ...string) *place {
	for _, name := range names {
		p = p.field(name)
	}
	return p
}

// path is p as programs write it: route.legs[2].crossings[0].path.
func (p *place) path() string {
	if p == nil {
		return ""
	}
	var b strings.Builder
	p.write(&b)
	return b.String()
}

func (p *place) write(b *strings.Builder) {
	if p.up != nil {
		p.up.write(b)
	}
	if p.isOne {
		b.WriteString("[" + strconv.Itoa(p.index) + "]")
		return
	}
	if b.Len() > 0 {
		b.WriteByte('.')
	}
	b.WriteString(p.name)
}

// holder is what a sentence about p begins with, a colon and a space behind it: for a field what it stands in ("Leg A,
// crossing X1: "), for a thing in a list the thing itself. Nothing for fields of the job.
func (p *place) holder() string {
	switch {
	case p == nil:
		return ""
	case !p.isOne:
		p = p.up
	case singular(p.up.name) == "": // a figure in a list of figures: what the list stands in
		p = p.up.up
	}
	name := p.people()
	if name == "" {
		return ""
	}
	return name + ": "
}

// people is p as people say it: "leg A, crossing X1", "supply S1, saw".
func (p *place) people() string {
	var parts []string
	for ; p != nil; p = p.up {
		switch {
		case p.name == "route" && p.up == nil:
		case p.isOne:
			parts = append(parts, p.itemName())
			p = p.up // the list's own name is in the item's
		default:
			parts = append(parts, words(p.name))
		}
	}
	for i, j := 0, len(parts)-1; i < j; i, j = i+1, j-1 {
		parts[i], parts[j] = parts[j], parts[i]
	}
	return strings.Join(parts, ", ")
}

// itemName is "leg A", or "leg number 3" while it has no id.
func (p *place) itemName() string {
	kind := singular(p.up.name)
	if kind == "" {
		kind = words(p.up.name)
	}
	if p.id == "" {
		return fmt.Sprintf("%s number %d", kind, p.index+1)
	}
	return kind + " " + p.id
}

// leaf is p's own name behind holder: "kerf", "lengths number 2"; "it" for a thing that holder names already.
func (p *place) leaf() string {
	switch {
	case p == nil:
		return "the job"
	case !p.isOne:
		switch p.name {
		case "at", "by", "from", "into", "of", "on", "per", "to": // a sentence would stumble over them
			return `"` + p.name + `"`
		}
		return words(p.name)
	case singular(p.up.name) != "":
		return "it"
	}
	return p.itemName()
}

// words is a field's name as people say it.
func words(name string) string { return strings.ReplaceAll(name, "_", " ") }

// singular is what one item of a list is called; empty for lists of plain figures.
func singular(list string) string {
	switch list {
	case "entries":
		return "conduit entry"
	case "joints":
		return "forced joint"
	case "supplies":
		return "supply"
	case "bulking":
		return "bulking"
	case "stretches":
		return "stretch"
	case "crossings", "documents", "fittings", "legs", "nodes", "services", "strips", "supports", "zones",
		"covers", "arms", "attachments", "surfaces", "pins", "outlets", "uses", "ways", "ladders", "walkways", "points":
		return strings.TrimSuffix(list, "s")
	case "cast_in":
		return "cast-in thing"
	case "loose_parts":
		return "loose part"
	case "no_cut":
		return "no-cut stretch"
	case "spares":
		return "spare rule"
	case "via":
		return "curve point"
	case "yard":
		return "yard item"
	case "ends":
		return "end"
	}
	return ""
}

// chain is p from the root down.
func (p *place) chain() []*place {
	var chain []*place
	for ; p != nil; p = p.up {
		chain = append(chain, p)
	}
	slices.Reverse(chain)
	return chain
}

// Called is what people call the place that the steps lead to from the job down: "leg A, crossing X1, path" for route,
// legs, [A], crossings, [X1], path.
func Called(steps ...string) string {
	var p *place
	for _, step := range steps {
		if id, found := strings.CutPrefix(step, "["); found && p != nil {
			p = p.item(0, strings.TrimSuffix(id, "]"))
		} else {
			p = p.field(step)
		}
	}
	if name := p.people(); name != "" {
		return name
	}
	return "the job"
}
