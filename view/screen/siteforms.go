package screen

import (
	"cmp"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
	"trenchwright/job/field"
)

// Form is what one record asks of whoever makes it: no more than it needs.
type Form struct {
	ID     string      `json:"id"`
	Name   string      `json:"name"`  // on the button that opens it
	About  string      `json:"about"` // one line; empty: the name says enough
	At     string      `json:"at"`    // where it is: units, a stretch of them; unit; joint; node; entry; chainage; empty: nowhere
	Fields []FormField `json:"fields"`
	Rows   []FormField `json:"rows"` // of a list that the record has; empty: it has none
	Row    string      `json:"row"`  // what adds one
	Each   string      `json:"each"` // what one is called
	Photo  bool        `json:"photo"`
	Seldom bool        `json:"seldom"` // it is made in every stage, and seldom: it stands behind the others
}

// FormField is one thing that is asked.
type FormField struct {
	Name   string   `json:"name"`
	Label  string   `json:"label"`
	Kind   string   `json:"kind"` // length, off, reading, chainage, coordinate, angle, count, choice, some, text, moment, place, cover; line: left or right; level, rod: as it is
	Choice []string `json:"choice"`
	First  string   `json:"first"` // what it is unless somebody says otherwise
	Must   bool     `json:"must"`
	More   bool     `json:"more"` // asked only of whoever unfolds it
}

// forms are the records of a stage, the one made most first; a note can be made anywhere.
func (v *siteView) forms(stage string) []Form {
	of := map[string]func() []Form{"order": v.orderForms, "dig": v.digForms, "bed": v.bedForms, "set": v.setForms, "fill": v.fillForms,
		"cables": v.cableForms, "cover": v.coverForms, "handover": v.handoverForms}[stage]
	var out []Form
	if of != nil {
		out = of()
	}
	out = append(out, Form{ID: "note", Name: "Note", At: "unit", Photo: true})
	for _, f := range append(v.pointForms(), v.instrumentForms()...) {
		f.Seldom = stage != "handover" || f.Seldom
		out = append(out, f)
	}
	out = append(out, Form{ID: "diary", Name: "Diary", Seldom: stage != "handover" && stage != "route"})
	for i := range out {
		out[i].Fields, out[i].Rows = filled(out[i].Fields), filled(out[i].Rows)
	}
	return out
}

// one asks for one thing of a kind.
func one(kind, name, label string) FormField {
	return FormField{Name: name, Label: label, Kind: kind, Choice: []string{}}
}

// oneOf asks for one of several answers; the first holds unless another is given.
func oneOf(name, label string, choice ...string) FormField {
	return FormField{Name: name, Label: label, Kind: "choice", Choice: filled(choice), First: firstOf(choice)}
}

// must makes a field one without which there is no fact.
func must(f FormField) FormField {
	f.Must = true
	return f
}

// four asks for readings at the four corners of a unit or of what it stands on.
func four(of string) []FormField {
	return []FormField{one("reading", "a", of+", start left"), one("reading", "b", of+", start right"), one("reading", "c", of+", end left"), one("reading", "d", of+", end right")}
}

// tested asks for a test and its verdict, by whoever made it.
func tested() []FormField {
	return []FormField{one("text", "method", "method"), one("text", "value", "value, as read"), one("text", "limit", "limit, and whose"), oneOf("met", "meets it", "not said", "yes", "no")}
}

// levels is a form for what is levelled place by place.
func levels(id, of string) Form {
	return Form{ID: id, Name: capital(of) + " level", At: "units", About: "all within, or readings at four corners, or one for all",
		Fields: append([]FormField{oneOf("within", "within the rule", "not said", "all within", "not within"), one("reading", "one", of+", one for all")}, four(of)...)}
}

// goodsKinds are what comes beside units and covers; the last is told in words.
var goodsKinds = []string{"stone", "fill", "topsoil", "concrete", elseKind}

const elseKind = "something else"

func (v *siteView) orderForms() []Form {
	pieces, there := v.pieceNames(v.pieceKinds()), v.pieceNames(v.inYard())
	return []Form{
		{ID: "delivery", Name: "Delivery", Fields: []FormField{one("text", "ticket", "ticket number")}, Row: "one more line", Each: "line",
			Rows: []FormField{must(oneOf("piece", "what came", pieces...)), must(one("count", "came", "how many came")), one("count", "damaged", "of them damaged"),
				one("count", "short", "on the ticket, not on the load"), one("text", "batch", "batch")}},
		{ID: "goods", Name: "Stone, fill, other goods", Fields: []FormField{one("text", "ticket", "ticket number")}, Row: "one more line", Each: "line", Photo: true,
			About: "how much as the ticket has it: 18.5 t, 12 m3, 4 bags",
			Rows:  []FormField{must(oneOf("what", "what came", goodsKinds...)), one("text", "else", "what else, in your words"), must(one("text", "amount", "how much, with its unit")), one("text", "batch", "batch")}},
		{ID: "count", Name: "Yard count", Row: "one more line", Each: "line", About: "what has a number is counted; of the rest nothing is said",
			Rows: []FormField{must(oneOf("piece", "what lies there", there...)), one("count", "count", "how many")}},
		{ID: "damage", Name: "Damage in the yard", Photo: true,
			Fields: []FormField{must(oneOf("piece", "what is broken", there...)), one("count", "count", "how many"), oneOf("usable", "may still be laid", "no", "yes")}},
	}
}

func (v *siteView) digForms() []Form {
	w := v.speech.Word
	return []Form{
		levels("formation", w(wording.Formation)),
		v.foundForm(),
		{ID: "trial", Name: "Trial hole", At: "chainage", Fields: append([]FormField{oneOf("met", "met what was looked for", "no", "yes")}, v.foundForm().Fields...), Photo: true},
	}
}

// foundForm is a service that turns up: whoever digs, levels or sets may be the one who meets it.
func (v *siteView) foundForm() Form {
	w := v.speech.Word
	found := []FormField{must(one("text", "name", "what it is, as it is called here")), must(one("chainage", "at", w(wording.Chainage)+" of its middle")),
		oneOf("depth", "how deep it lies", string(field.NotKnown), string(field.BelowBed), string(field.InBed), string(field.InEnvelope)),
		one("length", "width", "how wide it is"), one("length", "keep", "no joint within, each side"), one("reading", "top", "top of it"), one("text", "owner", "owner"), one("text", "ticket", "ticket")}
	if planned := v.plannedServices(); len(planned) > 0 {
		found = append(found, oneOf("planned", "is it one that was planned", append([]string{"no"}, planned...)...))
	}
	return Form{ID: "service", Name: capital(w(wording.Service)) + " found", At: "chainage", Fields: found, Photo: true, About: "first stop, and call its owner"}
}

// plannedServices are the services of the plan, by id, name and leg.
func (v *siteView) plannedServices() (list []string) {
	for _, l := range v.job.Route.Legs {
		for _, s := range l.Services {
			list = append(list, s.ID+", "+s.Name+", leg "+l.ID)
		}
	}
	return list
}

func (v *siteView) bedForms() []Form {
	return []Form{
		levels("pad", v.speech.Word(v.standsOn())),
		rockForm(),
		levelAt("drain", "drain"),
		v.foundForm(),
	}
}

// levelAt is a form for a level that is read once at a joint.
func levelAt(id, of string) Form {
	return Form{ID: id, Name: capital(of) + " level", At: "unit", Fields: []FormField{must(one("reading", "one", of)), oneOf("end", "at which end of it", "end", "start")}}
}

// rockForm is how a unit rocks, as it is laid or once it lies.
func rockForm() Form {
	return Form{ID: "rock", Name: "It rocks", At: "unit", About: "rock is start left and end right less the other two",
		Fields: append(four("reading"), one("length", "packer", "packer put under it"), oneOf("corner", "under which corner", field.Corners[:]...))}
}

func (v *siteView) setForms() []Form {
	bond := "Earthing bond"
	if v.speech.US {
		bond = "Grounding bond"
	}
	return []Form{
		{ID: "set", Name: "Set", At: "units", Row: "one is off its place", Each: "off its place", Fields: []FormField{oneOf("within", "the rest", "all within", "not said"), more(one("text", "batch", "batch")), more(one("text", "type", "what was set, where it is not what the plan has"))},
			Rows: []FormField{must(one("place", "place", "which")), must(one("off", "by", "its far end is"))}},
		{ID: "gap", Name: "Gap", At: "joint", About: "at both walls, or at the one that was read", Fields: []FormField{one("length", "left", "left wall"), one("length", "right", "right wall")}},
		levelAt("invert", "invert"),
		levels("wall", "wall top"),
		{ID: "figures", Name: "Line, length, batch", At: "unit", About: "of one that is set: what was looked at", Fields: append([]FormField{one("line", "line", "off the line"), one("length", "measure", "length as measured"),
			one("text", "batch", "batch"), more(one("text", "type", "what it is, where it is not what the plan has"))}, wallTops()...)},
		rockForm(),
		{ID: "angle", Name: "Angle of a bend", At: "node", Fields: []FormField{must(one("angle", "angle", "as measured"))}},
		{ID: "cut", Name: "Piece was cut", At: "unit", Fields: []FormField{must(oneOf("piece", "cut from", v.pieceNames(v.inYard())...)), one("length", "left", "left wall"), one("length", "right", "right wall"),
			oneOf("kept", "which end of it the piece kept", "not said", "end A", "end B", "neither"), one("length", "offcut", "what is left of it, shorter wall"), oneOf("spoiled", "spoiled", "no", "yes")}},
		{ID: "entry", Name: "Conduit entry made", At: "entry", Photo: true, About: "what was read of it",
			Fields: []FormField{oneOf("wall", "in which wall", "not said", "left", "right", "end"), one("length", "diameter", "diameter"), one("length", "at", "from the start of its "+v.speech.Word(wording.Unit)), one("reading", "invert", "level of its invert"),
				oneOf("made", "made", "not said", "cored", "sawn", "cast"), oneOf("sealed", "sealed", "no", "yes")}},
		{ID: "bond", Name: bond, At: "unit", Fields: tested()},
		{ID: "broken", Name: "Damaged in the ground", At: "unit", Photo: true, Fields: []FormField{oneOf("usable", "may stay", "no", "yes")}},
		{ID: "lifted", Name: "Taken out again", At: "units"},
		v.foundForm(),
	}
}

// wallTops asks for the levels of the wall tops of one unit.
func wallTops() []FormField {
	list := four("wall top")
	for i := range list {
		list[i].More = true
	}
	return list
}

func (v *siteView) fillForms() []Form {
	layer := v.speech.Word(wording.Layer)
	number, side := must(one("count", "number", layer+", from the bottom")), oneOf("side", "side", "both", "left", "right")
	return []Form{
		{ID: "layer", Name: capital(layer) + " placed", At: "units", Fields: []FormField{number, side, oneOf("top", "up to its level", "no", "yes"), one("length", "thick", "thick"), one("count", "passes", "passes"), one("text", "plant", "with")}},
		{ID: "layertest", Name: capital(layer) + " tested", At: "units", Fields: append([]FormField{number, side}, tested()...)},
		{ID: "fabric", Name: "Fabric laid", At: "units"},
	}
}

func (v *siteView) cableForms() []Form {
	return []Form{
		{ID: "area", Name: "Area handed over", At: "units", Photo: true, Fields: []FormField{oneOf("to", "to", "cables", "civil", "client"), one("text", "by", "taken by"), one("text", "condition", "condition"), more(one("count", "keys", "lifting keys with it")), more(one("text", "spares", "spares with it"))}},
		{ID: "part", Name: "Loose part fitted", At: "units", Fields: []FormField{must(one("text", "name", "which")), one("count", "count", "how many")}},
	}
}

func (v *siteView) coverForms() []Form {
	return []Form{
		{ID: "cover", Name: "Covers laid", At: "units", Row: "one is missing or was trimmed", Each: "missing, or trimmed", Rows: []FormField{must(one("cover", "place", "which")), oneOf("is", "it is", "missing", "trimmed")}},
		{ID: "coverlifted", Name: "Covers lifted", At: "units"},
		{ID: "covertest", Name: "Cover tested", At: "unit", Fields: tested()},
	}
}

// pointForms are what is said of hold and witness points, and what ends a release: they come in every stage, before the dig as well.
func (v *siteView) pointForms() []Form {
	point := v.pointField()
	return []Form{
		{ID: "inspection", Name: "Inspection", At: "units", Photo: true, Fields: []FormField{point, oneOf("result", "result", "cannot say", "meets", "does not meet")}},
		{ID: "notice", Name: "Notice sent", At: "units", Fields: []FormField{point, one("text", "party", "to whom"), more(one("text", "period", "how long it runs")), more(one("text", "answer", "who answered or came"))}},
		{ID: "release", Name: "Release", At: "units", Fields: []FormField{point, must(one("text", "party", "who released")), one("moment", "until", "until, date and time"),
			{Name: "lapses", Label: "lapses with", Kind: "some", Choice: []string{"rain", "frost", "water", "shift"}}}},
		{ID: "event", Name: "Rain, frost, water, shift", Fields: []FormField{oneOf("what", "what", "rain", "frost", "water", "shift")}},
	}
}

func (v *siteView) handoverForms() []Form {
	number := must(one("text", "number", "its number"))
	return []Form{
		{ID: "nonconforming", Name: "Nonconformance", At: "units", Photo: true, Fields: []FormField{number}},
		{ID: "repair", Name: "Repair", At: "units", Photo: true, Fields: []FormField{number, oneOf("closed", "closes it", "no", "yes"), one("text", "by", "decided by")}},
		{ID: "shot", Name: "As-built shot", At: "unit", Fields: []FormField{must(one("text", "of", "of what")), must(one("coordinate", "easting", "easting")), must(one("coordinate", "northing", "northing")), must(one("reading", "level", "level"))}},
	}
}

// pointField asks for a hold or witness point: one of those that the contract lists, typed where it lists none.
func (v *siteView) pointField() FormField {
	const label = "hold or witness point"
	var names []string
	for _, p := range v.job.Rules.Points {
		names = append(names, p.Name)
	}
	if len(names) == 0 {
		return must(one("text", "point", label))
	}
	f := must(oneOf("point", label, names...))
	f.First = "" // whoever releases one has to say which
	return f
}

func firstOf(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return list[0]
}

// pieceKinds are what lies in a yard for this run: whole units and covers of each length, most wanted first.
func (v *siteView) pieceKinds() []field.Piece {
	want := map[field.Piece]int{}
	add := func(p field.Piece) {
		if p.Length > 0 {
			want[p]++
		}
	}
	for i := range v.plan.Units {
		u := &v.plan.Units[i]
		add(field.Piece{Supply: u.Supply, What: "unit", Length: measure.Length(u.Stock)})
	}
	for i := range v.plan.Covers {
		c := &v.plan.Covers[i]
		if u, ok := v.unitAt[c.Unit]; ok {
			want[field.Piece{Supply: v.plan.Units[u].Supply, What: "cover", Length: measure.Length(c.Stock)}]++
		}
	}
	list := make([]field.Piece, 0, len(want))
	for p := range want {
		list = append(list, p)
	}
	sorting.By(list, func(a, b field.Piece) int {
		return cmp.Or(strings.Compare(b.What, a.What), want[b]-want[a], strings.Compare(a.Supply, b.Supply), cmp.Compare(a.Length, b.Length))
	})
	return list
}

func (v *siteView) pieceNames(of []field.Piece) []string {
	var out []string
	for _, p := range of {
		out = append(out, v.saying().Piece(p))
	}
	return out
}

// inYard are the pieces that may lie in the yard: those of the run, and what has a mark there.
func (v *siteView) inYard() []field.Piece {
	list := v.pieceKinds()
	for _, y := range v.lies() {
		if y.Mark != "" {
			list = append(list, y.Piece)
		}
	}
	return list
}
