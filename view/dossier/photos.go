package dossier

import (
	"cmp"
	"fmt"
	"path"
	"slices"
	"strings"

	"trenchwright/view/table"
)

// named is a photo that a record names.
type named struct{ hash, place, kind, caption, day, person, device, record string }

// photos are all that records name, by place.
func (d *Dossier) photos() []named {
	var out []named
	for _, r := range d.all {
		for _, h := range r.Photos {
			out = append(out, named{strings.ToLower(h), stretch(r), string(r.Kind), r.Text, day(r), r.Person, r.Device, ref(r)})
		}
	}
	slices.SortStableFunc(out, func(a, b named) int {
		return cmp.Or(cmp.Compare(len(b.place)/max(1, len(b.place)), len(a.place)/max(1, len(a.place))), cmp.Compare(a.place, b.place)) // those of no place last
	})
	return out
}

// photoTable is every photo with its place and its hash, and whether it is here.
func (d *Dossier) photoTable() table.Table {
	t := table.Table{Name: "photos", Title: "Photos and other attachments", Columns: []table.Column{
		text("places", "places"), text("kind", "record of"), text("caption", "caption"), text("day", "day"), text("person", "person"), text("record", "record"), text("here", "here"), text("hash", "SHA-256"),
	}}
	t.Notes = []string{"those that are here lie in the zip under attachments/, named by their hash"}
	for _, p := range together(d.photos()) {
		here := "no"
		if d.kept[p.hash] {
			here = "yes"
		}
		t.Rows = append(t.Rows, []table.Cell{said(p.place), table.Text(p.kind), said(p.caption), table.Text(p.day), said(p.person), table.Text(p.record), table.Text(here), table.Text(p.hash)})
	}
	return t
}

// together tells a photo once that many records of one person, device and day name, as that of a card is by all that stands on it.
func together(all []named) []named {
	type one struct{ hash, day, person, device string }
	at, last, n := map[one]int{}, map[one]string{}, map[one]int{}
	var out []named
	for _, p := range all {
		k := one{p.hash, p.day, p.person, p.device}
		i, known := at[k]
		if n[k]++; !known {
			at[k] = len(out)
			out = append(out, p)
			continue
		}
		if last[k] = p.place; !slices.Contains(strings.Split(out[i].kind, ", "), p.kind) {
			out[i].kind += ", " + p.kind
		}
	}
	for k, i := range at {
		if n[k] > 1 {
			out[i].record += fmt.Sprintf(" and %d more", n[k]-1)
		}
		if first := out[i].place; last[k] != "" && last[k] != first {
			out[i].place = first + " first, " + last[k] + " last"
		}
	}
	return out
}

// stored is the name of an attachment in the bundle: its hash, with the ending that its file had.
func (p Photo) stored() string {
	end := strings.ToLower(path.Ext(p.Name))
	if strings.ContainsFunc(end, func(r rune) bool { return r != '.' && (r < '0' || r > 'z' || r > '9' && r < 'a') }) || len(end) > 6 {
		end = ""
	}
	return "attachments/" + p.Hash + end
}
