package dossier

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"

	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/view/scene"
	"trenchwright/view/table"
)

// named is a photo that a record names.
type named struct{ hash, place, kind, caption, day, person, device, record, made string }

// photos are all attachments that records name, by place.
func (d *Dossier) photos() []named {
	var out []named
	for _, r := range d.all {
		for _, h := range r.Attachments() {
			out = append(out, named{strings.ToLower(h), d.whereOf(r), string(r.Kind), r.Text, day(r), r.Person, r.Device, ref(r), r.Made})
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
			if why := d.picture(p.hash).why; why != "" {
				here += "; not shown: " + why
			}
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

// picture is a photo that is here as the document shows it.
func (d *Dossier) picture(hash string) picture {
	p, known := d.shots[hash]
	if !known {
		for _, photo := range d.Photos {
			if photo.Hash == hash {
				p = pictureOf(photo)
				break
			}
		}
		d.shots[hash] = p
	}
	return p
}

// The pictures on a page, in mm.
const (
	photosAcross = 3
	photoGap     = 6.0
	photoHigh    = 58.0
	photoRow     = photoHigh + 19
)

// photoBlocks are the photos that are here as pictures, each with its place, who took it, when, and its hash; what is missing or is no
// picture is said first.
func (d *Dossier) photoBlocks() []scene.Block {
	var can []named
	gone, odd := 0, 0
	for _, p := range together(d.photos()) {
		switch {
		case !d.kept[p.hash]:
			gone++
		case d.picture(p.hash).why != "":
			odd++
		default:
			can = append(can, p)
		}
	}
	if len(can)+gone+odd == 0 {
		return nil
	}
	text := fmt.Sprintf("Of %d photos and other attachments %d are shown below.", len(can)+gone+odd, len(can))
	if gone > 0 {
		text += fmt.Sprintf(" Not here: %d; fetch them from the devices, which keep them until they are sent.", gone)
	}
	if odd > 0 {
		text += fmt.Sprintf(" Here, and not shown: %d; the table says why.", odd)
	}
	out := []scene.Block{scene.Paragraph{String: text, Size: 2.2, Space: 3, WithNext: len(can) > 0}}
	for row := range slices.Chunk(can, photosAcross) {
		out = append(out, scene.Picture{Height: photoRow, Marks: d.photoMarks(row)})
	}
	return append(out, scene.Space(3))
}

// photoMarks are photos side by side.
func (d *Dossier) photoMarks(row []named) []scene.Mark {
	wide := (frame().Width() - (photosAcross-1)*photoGap) / photosAcross
	var marks []scene.Mark
	for i, p := range row {
		left := float64(float64(i) * (wide + photoGap))
		pic := d.picture(p.hash)
		k := min(wide/float64(pic.width), photoHigh/float64(pic.height))
		area := scene.BoxAt(scene.Point{X: left}, float64(float64(pic.width)*k), float64(float64(pic.height)*k))
		marks = append(marks, scene.Photo{Area: area, JPEG: pic.jpeg}, scene.Path{Outline: scene.Rectangle(area), Stroke: scene.Pen(scene.Fine)})
		for n, line := range []string{cmp.Or(p.place, "no place"), joined(p.kind, p.caption), joined(p.person, p.made) + ", record " + p.record, p.hash} {
			weight := scene.Regular
			if n == 0 {
				weight = scene.Bold
			}
			fits, size, _ := scene.Fit(line, letters, 1.4, weight, wide)
			marks = append(marks, scene.Text{At: scene.Point{X: left, Y: photoHigh + 2 + float64(3.4*float64(n))}, String: fits, Size: size, Weight: weight, VAlign: scene.Top})
		}
	}
	return marks
}

// whereOf is the place of a record in words: of one that names none, what it says of where.
func (d *Dossier) whereOf(r field.Record) string {
	if at := stretch(r); at != "" {
		return at
	}
	switch r.Kind {
	case field.Service, field.TrialHole:
		if s, ok := field.SaysOf[field.ServiceSays](&r); ok && s.Leg != "" {
			return d.speech.Say("leg %s at %s (%s)", s.Leg, wording.Far(s.At), s.Name)
		}
	case field.Delivery:
		if s, ok := field.SaysOf[field.DeliverySays](&r); ok && s.Ticket != "" {
			return "ticket " + s.Ticket
		}
	}
	return ""
}

// stored is the name of an attachment in the bundle: its hash, with the ending that its file had, or by how its bytes begin.
func (p Photo) stored() string {
	end := strings.ToLower(path.Ext(p.Name))
	if strings.ContainsFunc(end, func(r rune) bool { return r != '.' && (r < '0' || r > 'z' || r > '9' && r < 'a') }) || len(end) > 6 {
		end = ""
	}
	if end == "" {
		end = p.kind()
	}
	return "attachments/" + p.Hash + end
}

// kind is the ending of files that begin as this one does; none: it is of no kind that phones make.
func (p Photo) kind() string {
	from, err := p.Open()
	if err != nil {
		return "" // whoever packs it says so
	}
	defer from.Close()
	b := make([]byte, 12)
	n, _ := io.ReadFull(from, b)
	b = b[:n]
	for _, k := range []struct {
		at    int
		begin string
		end   string
	}{{0, "\xff\xd8\xff", ".jpg"}, {0, "\x89PNG\r\n\x1a\n", ".png"}, {8, "WEBP", ".webp"}, {4, "ftyphei", ".heic"}, {4, "ftypmif1", ".heic"}, {4, "ftypavif", ".avif"},
		{4, "ftyp", ".m4a"}, {0, "\x1aE\xdf\xa3", ".webm"}, {0, "OggS", ".ogg"}, {8, "WAVE", ".wav"}, {0, "%PDF-", ".pdf"}} {
		if len(b) > k.at && bytes.HasPrefix(b[k.at:], []byte(k.begin)) {
			return k.end
		}
	}
	return ""
}
