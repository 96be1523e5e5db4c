package screen

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
)

// Between is what lies between two places, ready to be read and printed.
type Between struct {
	Title    string       `json:"title"`
	Way      [][2]float64 `json:"way"` // stretches of the strip, each from its lower end
	Groups   []CardGroup  `json:"groups"`
	Findings []Finding    `json:"findings"`
}

// between is what to order, dig, lay, fill and carry between two places, by the shortest way along the run.
func (d *draft) between(from, to string, answers *planner.Answers) (Between, error) {
	if answers == nil {
		return Between{}, errors.New("nothing is laid out yet: look at the findings")
	}
	s, err := answers.Find(from, "")
	if err != nil {
		return Between{}, err
	}
	e, err := answers.Find(to, "")
	if err != nil {
		return Between{}, err
	}
	b, err := answers.Between(s, e)
	if err != nil {
		return Between{}, err
	}
	m := maker{draft: d, answers: answers, other: wording.Speech{US: d.speech.US, Imperial: !d.speech.Imperial}}
	m.toLay(&b)
	m.toDig(&b)
	m.onTheWay(&b)
	out := Between{Title: d.placeText(b.From) + " to " + d.placeText(b.To) + ", " + d.far(b.Length) + " of run", Way: [][2]float64{}, Groups: m.card.Groups, Findings: []Finding{}}
	for _, w := range b.Way {
		if leg, ok := d.legs[w.Leg]; ok {
			x, y := d.strip(leg, w.From), d.strip(leg, w.To)
			out.Way = append(out.Way, [2]float64{min(x, y), max(x, y)})
		}
	}
	for _, f := range b.Findings {
		if f.Kind != finding.Note {
			out.Findings = append(out.Findings, d.finding("", f))
		}
	}
	out.Groups = slices.DeleteFunc(out.Groups, func(g CardGroup) bool { return len(g.Rows) == 0 })
	return out, nil
}

func (d *draft) placeText(p planner.PlaceAt) string {
	if p.Name != "" {
		return p.Name
	}
	return p.Leg + " " + d.chainage(p.Chainage)
}

func (m *maker) toLay(b *planner.BetweenAnswer) {
	m.group("to order and lay")
	text := fmt.Sprint(b.Units)
	if b.Units > 0 {
		text += fmt.Sprintf(", %s to %s; cut %d", b.First, b.Last, b.Cuts)
	}
	m.row(m.speech.Word(wording.Units), text, "")
	for _, k := range b.Kinds {
		of := fmt.Sprintf("%d of supply %s", k.Count, k.Supply)
		if k.Cuts > 0 {
			of += fmt.Sprintf("; %d cut from it", k.Cuts)
		}
		m.row(m.size(k.Stock), of, "").Key = "supply/" + k.Supply
	}
	m.row("covers", fmt.Sprintf("%d; cut %d", b.Covers, b.CutCovers), "")
	m.row("cut pieces", strings.Join(b.Marks, ", "), "")
	m.row("joints", fmt.Sprintf("%d inside", b.Joints), "")
	if b.Pads+b.PadsAtEnds > 0 {
		m.row(m.speech.Word(wording.Pads), fmt.Sprintf("%d inside; %d more under the joints that end it", b.Pads, b.PadsAtEnds), "")
	}
	m.mass("mass, without castings", b.Mass)
}

// volume is a volume in both systems, the view's first.
func (m *maker) volume(label string, m3 float64) {
	own, other := measure.Format{}, measure.Format{System: measure.Imperial}
	if m.speech.Imperial {
		own, other = other, own
	}
	tell := func(f measure.Format) string {
		v, unit := f.Volume(measure.Volume(m3))
		return fixed(v, 2) + " " + unit
	}
	m.row(label, tell(own), tell(other))
}

func (m *maker) toDig(b *planner.BetweenAnswer) {
	m.group("to dig, fill and carry")
	if v := b.Dig; v != nil {
		m.volume("dug", v.Dug)
		m.volume("of it topsoil", v.Topsoil)
		m.volume("of it soil", v.Soil)
		m.volume("of it rock", v.Rock)
		m.volume("stone of the "+m.speech.Word(wording.Bed)+", in place", v.Stone)
		m.volume("fill, in place", v.Fill)
		m.volume("topsoil put back", v.TopsoilBack)
		for k, l := range v.Layers {
			m.volume(fmt.Sprintf("%s %d, both sides", m.speech.Word(wording.Layer), k+1), l[0]+l[1])
		}
	}
	for _, x := range b.Balances {
		if x.Leaves.Loose != nil {
			m.volume(x.Of+" that leaves, loose", *x.Leaves.Loose)
		}
		if x.Loads != nil {
			m.row(x.Of+", loads", fmt.Sprint(*x.Loads), "")
		}
	}
	if f := b.Fabric; f != nil {
		v, unit := m.format().Surface(f.Order)
		m.row("fabric, with laps", fmt.Sprintf("%.1f %s, %s", v, unit, count(f.Sheets, "sheet", "sheets")), "")
	}
	for _, text := range b.Missing {
		m.row("", text, "")
	}
	m.group("what is done")
	m.row("", nothingYet, "")
}

func (m *maker) onTheWay(b *planner.BetweenAnswer) {
	m.group("on the way")
	for _, n := range b.Nodes {
		m.linked("passes", joined(", ", n.ID+" "+n.Kind, n.Made, n.Fitting), "node/"+n.ID)
	}
	for _, l := range b.Ladders {
		m.row("way out of the dig", l.Leg+" "+m.chainage(l.Chainage), "")
	}
	for _, v := range b.Services {
		text := joined(", ", v.Name, v.Leg+" "+m.chainage(v.Chainage))
		if v.Depth != nil {
			text += ", " + m.size(*v.Depth) + " deep"
		}
		m.linked(m.speech.Word(wording.Service), text, "service/"+v.Leg+"/"+v.ID)
	}
}

// Ticks are marks on the axis of chainage with their figures.
type Ticks struct {
	At    Numbers  `json:"at"` // strip
	Texts []string `json:"texts"`
}

// mostTicks is how many marks are told at once: no screen shows more.
const mostTicks = 2000

// ticks are the marks of every whole step of chainage between two places of the strip, leg by leg.
func (d *draft) ticks(from, to, step float64) (Ticks, error) {
	out := Ticks{At: Numbers{}, Texts: []string{}}
	unit := measure.FromMillimetres(step)
	if unit <= 0 || (to-from)/step > mostTicks {
		return out, fmt.Errorf("a step of %v mm is too small for %v mm of strip", step, to-from)
	}
	for _, leg := range d.order {
		long := measure.Length(d.plan.Legs[leg].NodeLength)
		first := max(0, measure.FromMillimetres(from-d.begins[leg]))
		for l := (first + unit - 1) / unit * unit; l <= long && d.strip(leg, measure.MM(l)) <= to; l += unit {
			out.At, out.Texts = append(out.At, d.strip(leg, measure.MM(l))), append(out.Texts, d.tick(l, unit))
		}
	}
	return out, nil
}

// tick is a chainage with no more decimals than its step needs.
func (d *draft) tick(l, step measure.Length) string {
	system, whole := measure.Metric, measure.Metre
	if d.speech.Imperial {
		system, whole = measure.Imperial, measure.Foot
	}
	places := 0
	for p := step; p%whole != 0 && places < 3; places++ {
		p *= 10
	}
	return measure.Chainage(l, system, places)
}
