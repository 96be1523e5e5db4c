package screen

import (
	"cmp"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// maker makes one card.
type maker struct {
	*draft
	answers *planner.Answers // nil: the plan has none
	other   wording.Speech   // the system that the view does not have
	card    Card
}

// make is the card of a key.
func (d *draft) make(key string, answers *planner.Answers) (Card, error) {
	m := maker{draft: d, answers: answers, other: wording.Speech{US: d.speech.US, Imperial: !d.speech.Imperial}}
	kind, id, _ := strings.Cut(key, "/")
	m.card = Card{Key: key, Kind: kind, Groups: []CardGroup{}, Proof: []string{}, Sources: []string{}, Findings: []Finding{}, Tries: []Try{}, Fields: []CardField{}}
	one := map[string]func(string) bool{"unit": m.forUnit, "cover": m.forCover, "joint": m.forJoint, "node": m.forNode, "leg": m.forLeg, "curve": m.forCurve, "crossing": m.forThing, "service": m.forThing, "entry": m.forThing,
		"support": m.forThing, "zone": m.forThing, "forced": m.forThing, "pin": m.forPin, "outlet": m.forOutlet, "finding": m.forFinding, "check": m.forCheck, "supply": m.forSupply, "document": m.forDocument,
		"rules": m.forPart, "checks": m.forPart, "levels": m.forPart, "dig": m.forPart, "set_out": m.forPart, "ground": m.forPart, "delivery": m.forPart, "coordinates": m.forPart, "job": m.forPart, "place": m.forPlace}[kind]
	if one == nil || !one(id) {
		return Card{}, fmt.Errorf("there is nothing called %q here", key)
	}
	m.card.Groups = slices.DeleteFunc(m.card.Groups, func(g CardGroup) bool { return len(g.Rows) == 0 })
	return m.card, nil
}

func (m *maker) group(name string) {
	m.card.Groups = append(m.card.Groups, CardGroup{Name: name, Rows: []CardRow{}})
}

// row adds a figure; nothing where it has no text.
func (m *maker) row(label, text, other string) *CardRow {
	if text == "" {
		return &CardRow{}
	}
	if text == other {
		other = ""
	}
	g := &m.card.Groups[len(m.card.Groups)-1]
	g.Rows = append(g.Rows, CardRow{Label: label, Text: text, Other: other, Open: strings.HasPrefix(text, "NOT CHECKED")})
	return &g.Rows[len(g.Rows)-1]
}

func (m *maker) measured(label string, l measure.MM) *CardRow {
	return m.row(label, m.size(l), m.other.Built(measure.Length(l)))
}

// held is a gap, or what one is spent on.
func (m *maker) held(label string, l measure.MM) *CardRow {
	return m.row(label, m.small(l), fine(m.other, measure.Length(l)))
}

func (m *maker) distance(label string, l measure.MM) *CardRow {
	return m.row(label, m.far(l), walked(m.other, measure.Length(l)))
}

// levelRow is a level in the unit of the job's coordinates, and in the other one.
func (m *maker) levelRow(label string, z *float64) {
	if z == nil {
		return
	}
	other := fixed(*z/0.3048, 2) + " ft"
	if m.metres != 1 {
		other = fixed(*z, 3) + " m"
	}
	m.row(label, m.levelText(*z), other)
}

func (m *maker) mass(label string, kg *float64) {
	if kg == nil {
		m.row(label, "NOT CHECKED: no mass on file. Ask: the supplier", "")
		return
	}
	g := measure.Mass(math.Round(*kg * 1000))
	own, other := measure.Format{}, measure.Format{System: measure.Imperial}
	if m.speech.Imperial {
		own, other = other, own
	}
	m.row(label, own.Mass(g), other.Mass(g))
}

func (m *maker) angle(label string, a float64) { m.row(label, degrees(a), "") }

// linked is a row that leads to another card.
func (m *maker) linked(label, text, key string) {
	m.row(label, text, "").Key = key
}

// source adds a document once.
func (m *maker) source(text string) {
	if text != "" && !slices.Contains(m.card.Sources, text) {
		m.card.Sources = append(m.card.Sources, text)
	}
}

// concerns adds the plan's findings of which keep says yes.
func (m *maker) concerns(keep func(finding.Finding) bool) {
	m.against(keep)
	for i, f := range m.plan.Findings {
		if keep(f) {
			m.card.Findings = append(m.card.Findings, m.finding(finding.Number(i), f))
		}
	}
}

// bodyWord is the word for one trough body by itself, as a title.
func (m *maker) bodyWord() string { return capital(m.speech.Word(wording.Body)) }

func capital(word string) string { return strings.ToUpper(word[:1]) + word[1:] }

// provenLeg adds what was proven of a leg.
func (m *maker) provenLeg(leg string) {
	for _, p := range m.plan.Proof.Legs {
		if p.Leg != leg {
			continue
		}
		m.card.Proof = append(m.card.Proof, p.Claim, p.Bound)
		switch {
		case p.Verified:
			m.card.Proof = append(m.card.Proof, fmt.Sprintf("verified by a separate checker over %d intervals", p.Intervals))
		case len(p.CheckerSay) > 0:
			m.card.Proof = append(m.card.Proof, "NOT VERIFIED: "+strings.Join(p.CheckerSay, "; "))
		}
	}
}

// whereOn tells a place on a leg, and puts the card there.
func (m *maker) whereOn(leg int, at measure.MM) {
	m.group("where it is")
	l := m.plan.Legs[leg]
	m.linked("leg", l.Name, "leg/"+l.Name)
	m.row(m.speech.Word(wording.Chainage), m.chainage(at), "")
	m.distance("from node "+l.From, at)
	x := m.strip(leg, at)
	m.card.Strip = [2]float64{x, x}
	p := m.lines[leg].at(x)
	m.row("easting, northing", m.coordinates(p.E, p.N), "")
}

// coordinates are those of a point of the plan, in the job's own unit.
func (d *draft) coordinates(e, n float64) string {
	o := d.plan.Job.Origin
	return fixed((e+o[0])/d.metres, 3) + ", " + fixed((n+o[1])/d.metres, 3) + " " + d.unit
}

// levelsAt are what stands and is dug at a place: the same answer that is given to whoever stands in the trench.
func (m *maker) levelsAt(leg int, at measure.MM) {
	if m.answers == nil {
		return
	}
	s, ok := m.answers.At(m.plan.Legs[leg].Name, measure.Length(at))
	if !ok {
		return
	}
	a := m.answers.Depth(s)
	m.group("levels here")
	l := a.Levels
	w := m.speech.Word
	m.levelRow("finished ground", l.Finished)
	m.levelRow("top of cover", l.Cover)
	m.levelRow("wall top", l.Wall)
	m.levelRow("invert", l.Invert)
	if l.PadTop == nil {
		m.levelRow("underside", l.Underside)
	}
	m.levelRow(m.speech.StandsOn(true), l.PadTop)
	m.levelRow(m.speech.UnderPad(), l.PadBase)
	m.levelRow(w(wording.Formation)+" under the "+w(wording.Pad), l.UnderPad)
	m.levelRow(w(wording.Formation), l.Formation)
	m.levelRow("underside of drain", l.Drain)
	m.levelRow("ground as it is", l.Existing)
	m.levelRow("rock", l.Rock)
	m.levelRow("water", l.Water)
	if a.Grade != "" {
		m.row("grade "+w(wording.UpChainage), gradeLabel(a.Grade), "")
	}
	if g := a.Dig; g != nil {
		m.group("dig here")
		m.measured("deepest, from the higher edge", g.Deepest)
		m.measured("depth on the "+w(wording.Centreline), g.Centre)
		m.measured("width at the bottom", g.Bottom)
		m.measured("width at the top", g.Top)
		m.row("sides", joined(", ", g.Form, g.Slope), "")
		if g.InRock != nil && *g.InRock > 0 {
			m.measured("of it in rock", *g.InRock)
		}
	}
	if r := a.Rules; r != nil {
		m.group("rules of the place: " + r.Rules)
		for _, x := range r.Results {
			text := joined("; ", x.Verdict, joined(" against ", x.Value, x.Limit))
			m.row(x.What, text, "").Source = x.Rule
		}
		if r.Ladder != nil {
			m.distance("nearest way out", r.Ladder.Away)
		}
	}
	if len(a.NotChecked) > 0 {
		m.group("not checked")
		for _, text := range a.NotChecked {
			m.row("", text, "")
		}
	}
}

// forPlace is a chainage of a leg: place/A/12400 in millimetres.
func (m *maker) forPlace(id string) bool {
	leg, at, ok := strings.Cut(id, "/")
	i, known := m.legs[leg]
	r, err := measure.Parse(at + " mm")
	if !ok || !known || err != nil {
		return false
	}
	l := measure.MM(min(max(r.Length, 0), measure.Length(m.plan.Legs[i].NodeLength)))
	m.card.Title = capital(m.speech.Word(wording.Chainage)) + " " + m.chainage(l) + " on leg " + leg
	m.whereOn(i, l)
	m.levelsAt(i, l)
	return true
}

// forFinding is the card of a finding.
func (m *maker) forFinding(id string) bool {
	for i, f := range m.plan.Findings {
		if finding.Number(i) != id {
			continue
		}
		s := m.finding(id, f)
		m.card.Title, m.card.Lead = id+", "+s.Kind, s.Text
		m.group("what it says")
		m.row("limit", s.Limit, "")
		m.row("value", s.Value, "")
		m.row("rule", s.Rule, "")
		m.row("ask", s.Ask, "")
		m.row("try", s.Try, "")
		if s.Key != "" {
			m.linked("of", s.Key[strings.IndexByte(s.Key, '/')+1:], s.Key)
		}
		if s.At != nil {
			m.card.Strip = [2]float64{*s.At, *s.At}
		}
		if strings.HasPrefix(s.Key, "leg/") && s.Kind == string(finding.Impossible) {
			m.card.Tries = m.tries(s.Key[4:])
		}
		return true
	}
	return false
}

// forSupply is everything that is on file of a supply.
func (m *maker) forSupply(id string) bool {
	for i := range m.job.Supplies {
		s := &m.job.Supplies[i]
		if s.ID != id {
			continue
		}
		m.card.Title, m.card.Lead = "Supply "+s.ID, s.Title
		m.card.Fields = m.fields(s, "supplies["+s.ID+"]", s.From)
		for _, h := range m.plan.Supplies {
			if h.ID == id {
				m.source(h.Source)
			}
		}
		m.lists("supplies["+s.ID+"]", map[string]int{"fittings": len(s.Fittings), "loose_parts": len(s.LooseParts)})
		m.against(func(f finding.Finding) bool { return f.Where.Path == "supplies."+s.ID })
		return true
	}
	return false
}

// lists tells how many things stand in a part's lists.
func (m *maker) lists(path string, sizes map[string]int) {
	names := make([]string, 0, len(sizes))
	for name := range sizes {
		names = append(names, name)
	}
	sorting.By(names, cmp.Compare[string])
	m.group("lists")
	for _, name := range names {
		if sizes[name] > 0 {
			m.row(strings.ReplaceAll(name, "_", " "), fmt.Sprint(sizes[name]), "").Key = path + "." + name
		}
	}
}

func (m *maker) forDocument(id string) bool {
	for i := range m.job.Documents {
		d := &m.job.Documents[i]
		if d.ID == id {
			m.card.Title, m.card.Lead = "Document "+d.ID, d.Title
			m.card.Fields = m.fields(d, "documents["+d.ID+"]", "")
			return true
		}
	}
	return false
}

// forPart is a part of the job that there is one of.
func (m *maker) forPart(string) bool {
	j := &m.job
	switch m.card.Kind {
	case "rules":
		m.card.Title, m.card.Fields = "Rules of the contract", m.fields(&j.Rules, "rules", j.Rules.From)
	case "checks":
		m.card.Title, m.card.Fields = "What checks go by", m.fields(&j.Checks, "checks", j.Checks.From)
		m.lists("checks", map[string]int{"vehicles": len(j.Checks.Vehicles), "lifts": len(j.Checks.Lifts), "cables.laid": len(j.Checks.Cables.Laid), "cables.pulls": len(j.Checks.Cables.Pulls)})
		m.against(func(finding.Finding) bool { return true })
	case "levels":
		m.card.Title, m.card.Fields = "Levels of the run", m.fields(&j.Levels, "levels", j.Levels.From)
	case "dig":
		m.card.Title, m.card.Fields = "How the trench is dug", m.fields(&j.Dig, "dig", j.Dig.From)
	case "set_out":
		m.card.Title, m.card.Fields = "What the run is set out from", m.fields(&j.SetOut, "set_out", j.SetOut.From)
		m.group("lists")
		for _, b := range j.SetOut.Benchmarks {
			m.row(m.speech.Word(wording.Benchmark)+" "+b.ID, joined(", ", m.levelText(b.Level*m.metres), b.Where), "")
		}
		for _, c := range j.SetOut.Control {
			m.row("control point "+c.ID, joined(", ", m.typed(reflect.ValueOf(c.At))+" "+m.draft.unit, c.Where), "")
		}
	case "delivery":
		m.card.Title, m.card.Fields = "How what is ordered comes", m.fields(&j.Delivery, "delivery", j.Delivery.From)
		m.group("vehicles and laydown")
		for _, v := range j.Delivery.Vehicles {
			m.row("vehicle "+v.ID, v.Title, "")
		}
		for _, l := range j.Delivery.Laydown {
			m.row("laydown "+l.ID, joined(", ", "leg "+l.Leg, l.Name), "")
		}
	case "ground":
		m.card.Title, m.card.Fields = "What was surveyed", m.fields(&j.Ground, "ground", j.Ground.From)
		m.group("surfaces")
		for _, s := range j.Ground.Surfaces {
			m.row(string(s.Role), joined(", ", s.ID, s.File), "")
		}
	case "coordinates":
		m.card.Title, m.card.Fields = "What coordinates mean", m.fields(&j.Coordinates, "coordinates", j.Coordinates.ScaleFrom)
	case "job":
		m.card.Title, m.card.Lead = "The job", j.Name
		head := job.Job{ID: j.ID, Name: j.Name, Owner: j.Owner, By: j.By, On: j.On, System: j.System, Words: j.Words}
		for _, f := range m.fields(&head, "", "") {
			switch f.Path {
			case "id", "name", "owner", "by", "on", "system", "words":
				m.card.Fields = append(m.card.Fields, f)
			}
		}
	}
	return true
}
