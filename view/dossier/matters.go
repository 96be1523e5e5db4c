package dossier

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/view/table"
)

// pointTable is each hold and witness point with everything recorded of it.
func (d *Dossier) pointTable() table.Table {
	t := table.Table{Name: "points", Title: "Hold and witness points", Columns: []table.Column{
		text("point", "point"), text("places", "places"), text("state", "state"), text("open", "open at"), text("noticed", "notice"), text("inspected", "inspections"), text("released", "releases"), text("lapsed", "lapsed by"),
	}}
	t.Notes = []string{"a release lapses by what its record names, else by what the contract names, such as rain. What waited for it and was done before that stays done under it: closed. What was done by somebody who knew of what ended it, and what was not done, is open"}
	words := map[field.Kind]map[string][]string{field.Notice: {}, field.Inspection: {}, field.Release: {}}
	for _, r := range d.all {
		of := words[r.Kind]
		s, ok := field.SaysOf[field.PointSays](&r)
		if of == nil || !ok || s.Point == "" {
			continue
		}
		who := r.Person
		if r.Kind == field.Notice && s.Party != "" {
			who = "to " + s.Party
		}
		at := s.Point + "\n" + r.From + "\n" + r.To
		of[at] = append(of[at], strings.Join(nonempty(s.Result, who, day(r)), ", ")+" ("+ref(r)+")")
	}
	for _, p := range d.state.Points {
		told := func(k field.Kind) table.Cell {
			return said(strings.Join(words[k][p.Point+"\n"+p.From+"\n"+p.To], "; "))
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(p.Point), said(span(p.From, p.To)), table.Text(pointState(p)), said(d.book.Stretches(p.Waits)), told(field.Notice), told(field.Inspection), told(field.Release), said(d.lapses(&p))})
	}
	return t
}

// lapses is what ended a release first, and how many more did.
func (d *Dossier) lapses(p *field.PointState) string {
	if len(p.Lapsed) == 0 {
		return ""
	}
	first, _, _ := strings.Cut(p.Why, "; ")
	if n := len(p.Lapsed) - 1; n > 0 {
		return fmt.Sprintf("%s (%s), and %d more since", first, d.refs(p.Lapsed[:1]), n)
	}
	return first + " (" + d.refs(p.Lapsed) + ")"
}

// byAnother is the state of a point that somebody else released than the contract names.
const byAnother = "cannot say: released by somebody else than the contract names"

// lapsed is the state of a point whose release something ended.
const lapsed = "release has lapsed"

func pointState(p field.PointState) string {
	switch {
	case p.Released.Is == field.Yes:
		return "released"
	case p.Done:
		return "released, and done before that ended"
	case len(p.Lapsed) > 0 && p.Released.Is != field.CantSay:
		return lapsed
	case p.Released.Is == field.CantSay:
		return byAnother
	}
	return "not released"
}

// matterTable is what was not as it has to be, and what was done about it.
func (d *Dossier) matterTable() table.Table {
	t := table.Table{Name: "nonconformances", Title: "Nonconformances and repairs", Columns: []table.Column{
		text("number", "number"), text("state", "state"), text("day", "day"), text("kind", "kind"), text("places", "places"), text("words", "words"), text("decided", "decided by"), text("person", "person"), text("record", "record"),
	}}
	state := map[string]string{}
	for _, m := range d.state.Matters {
		state[m.Number] = "open"
		if m.Closed.Is == field.Yes {
			state[m.Number] = "closed"
		}
	}
	for _, r := range d.all {
		s, ok := field.SaysOf[field.MatterSays](&r)
		if !ok || r.Kind != field.Nonconforming && r.Kind != field.Repair {
			continue
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(s.Number), table.Text(state[s.Number]), table.Text(day(r)), table.Text(string(r.Kind)), said(stretch(r)), said(joined(joined(s.What, s.Answer), r.Text)), said(s.By), said(r.Person), table.Text(ref(r))})
	}
	return t
}

// serviceTable is what was found in the ground.
func (d *Dossier) serviceTable() table.Table {
	t := table.Table{Name: "services-found", Title: capital(d.word(wording.Services)) + " that were found", Columns: []table.Column{
		text("name", "name"), text("what", "what"), text("leg", "leg"), d.far("at", d.word(wording.Chainage)), text("met", "met"), text("depth", "depth"), d.far("top", "its top"), d.near("width", "width"), d.near("keep", "no joint within"), text("owner", "owner"), text("ticket", "ticket"), text("person", "person"), text("records", "records"),
	}}
	t.Notes = []string{"this lists what was recorded. Nothing recorded does not mean that nothing is there"}
	for _, s := range d.state.Services {
		name, whether := s.Name, "no"
		if s.Met {
			whether = "yes"
		}
		t.Rows = append(t.Rows, []table.Cell{said(name), said(s.What), said(s.Leg), table.Length(s.At), table.Text(whether), table.Text(string(s.Depth)), long(s.Top), long(s.Width), long(s.Keep), said(s.Owner), said(s.Ticket), said(d.people(s.By)), said(d.refs(s.By))})
	}
	return t
}

// angleTable is each bend as it was measured.
func (d *Dossier) angleTable() table.Table {
	t := table.Table{Name: "bends-measured", Title: "Bends as they were measured", Columns: []table.Column{
		text("node", "node"), {Key: "angle", Head: "measured", Kind: table.KindAngle, Places: 2}, text("records", "records"), text("person", "person"),
	}}
	for _, a := range d.state.Angles {
		cell := table.Text(string(field.CantSay))
		if a.Known {
			cell = table.Angle(a.Angle)
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(a.Node), cell, said(d.refs(a.By)), said(d.people(a.By))})
	}
	return t
}

// diaryTable is what people wrote, in their words.
func (d *Dossier) diaryTable() table.Table {
	t := table.Table{Name: "diary", Title: "Diary, notes and events", Columns: []table.Column{
		text("day", "day"), text("kind", "kind"), text("places", "places"), text("words", "words"), text("person", "person"), text("record", "record"),
	}}
	for _, r := range d.all {
		words := r.Text
		switch r.Kind {
		case field.Event:
			if s, ok := field.SaysOf[field.EventSays](&r); ok {
				words = joined(s.What, words)
			}
		case field.Diary, field.Note, field.TrialHole:
		default:
			continue
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(day(r)), table.Text(string(r.Kind)), said(stretch(r)), said(words), said(r.Person), table.Text(ref(r))})
	}
	return t
}

func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "; " + b
}

// deviceTable is which devices recorded, and whether all of their records are here: a device counts them without gaps.
func (d *Dossier) deviceTable() table.Table {
	t := table.Table{Name: "devices", Title: "Devices, and whether all of their records are here", Columns: []table.Column{
		text("device", "device"), text("people", "people"), count("records", "records"), count("last", "number of the last"), text("missing", "numbers that are not here"), text("first", "first made"), text("until", "last made"),
	}}
	t.Notes = []string{"a record is named by its device and its number. Every one of them stands in csv/records.csv with its id, and what it says in records.ndjson", d.positionsSaid()}
	for _, v := range d.devices() {
		t.Rows = append(t.Rows, []table.Cell{table.Text(v.name), said(strings.Join(v.people, ", ")), table.Count(len(v.numbers)), table.Count(v.last()), said(v.missing()), said(v.first), said(v.until)})
	}
	return t
}

// device is what one device recorded.
type device struct {
	name, first, until string
	people             []string
	numbers            map[int]bool
}

func (v *device) last() int {
	last := 0
	for n := range v.numbers {
		last = max(last, n)
	}
	return last
}

// missing are numbers below the last one that no record here has.
func (v *device) missing() string {
	var out []string
	for n := 1; n <= v.last(); n++ {
		if v.numbers[n] {
			continue
		}
		end := n
		for end+1 <= v.last() && !v.numbers[end+1] {
			end++
		}
		if end > n {
			out = append(out, fmt.Sprintf("%d to %d", n, end))
		} else {
			out = append(out, fmt.Sprint(n))
		}
		n = end
	}
	return strings.Join(out, ", ")
}

func (d *Dossier) devices() []*device {
	of := map[string]*device{}
	var out []*device
	for _, r := range d.book.All() { // of the whole run: only so can a number be missed
		v := of[r.Device]
		if v == nil {
			v = &device{name: r.Device, numbers: map[int]bool{}}
			of[r.Device], out = v, append(out, v)
		}
		v.numbers[r.Number] = true
		if r.Person != "" && !slices.Contains(v.people, r.Person) {
			v.people = append(v.people, r.Person)
		}
		if v.first == "" || r.Made < v.first {
			v.first = r.Made
		}
		v.until = max(v.until, r.Made)
	}
	slices.SortFunc(out, func(a, b *device) int { return strings.Compare(a.name, b.name) })
	return out
}

// recordTable is the register of everything that was recorded.
func (d *Dossier) recordTable() table.Table {
	t := table.Table{Name: "records", Title: "All records; what each says stands in records.ndjson", Columns: []table.Column{
		text("record", "record"), text("made", "made, by its device"), text("kind", "kind"), text("places", "places"), text("person", "person"), text("role", "role"), text("with", "with"), text("corrects", "corrects"), text("id", "id"),
	}}
	for _, r := range d.all {
		corrects := ""
		if r.Corrects != "" {
			corrects = d.refs([]string{r.Corrects})
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(ref(r)), said(r.Made), table.Text(string(r.Kind)), said(stretch(r)), said(r.Person), said(r.Role), said(with(r)), said(corrects), table.Text(r.ID)})
	}
	return t
}
