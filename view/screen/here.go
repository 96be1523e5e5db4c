package screen

import (
	"errors"
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
)

// Here is what counts for one stage where the peg stands: a few figures, to be written large.
type Here struct {
	Stage string      `json:"stage"`
	Key   string      `json:"key"`   // of the unit, joint or leg that it speaks of
	Title string      `json:"title"` // what that is
	Leg   string      `json:"leg"`
	Strip float64     `json:"strip"` // where that place lies
	Big   []BigFigure `json:"big"`
	Stop  []string    `json:"stop"` // what holds the work here, in whole sentences
	Open  []string    `json:"open"` // what is not checked here, in whole sentences
}

// BigFigure is one figure with what it is of.
type BigFigure struct {
	Label string `json:"label"`
	Text  string `json:"text"`
	Other string `json:"other"` // the same in the other system, or what else belongs to it
	Open  bool   `json:"open"`  // NOT CHECKED: nobody entered it
	Long  bool   `json:"long"`  // words rather than a figure
}

// hereMaker makes what counts at one place.
type hereMaker struct {
	*draft
	answers *planner.Answers
	other   wording.Speech
	out     Here
	leg     int
	at      measure.MM // chainage
	unit    int        // of the plan's units, that stands here or nearest; -1: the leg has none
}

// here is what counts for a stage at a place of a leg, or at a place as people name it. Height is that of the instrument, as typed;
// empty: nobody said.
func (d *draft) here(q *question, answers *planner.Answers) (Here, error) {
	stage, leg, at, height := q.Name, q.Leg, q.At, q.Height
	if q.From != "" {
		if answers == nil {
			return Here{}, errors.New("nothing is laid out yet: look at the findings")
		}
		s, err := answers.Find(q.From, q.Leg)
		if err != nil {
			return Here{}, err
		}
		leg, at = d.plan.Legs[s.Leg].Name, s.At.Millimetres()
	}
	i, ok := d.legs[leg]
	if !ok {
		return Here{}, fmt.Errorf("there is no leg %s", leg)
	}
	h := hereMaker{draft: d, answers: answers, other: wording.Speech{US: d.speech.US, Imperial: !d.speech.Imperial}, leg: i, unit: -1,
		at:  measure.MM(min(max(measure.FromMillimetres(at), 0), measure.Length(d.plan.Legs[i].NodeLength))),
		out: Here{Stage: stage, Key: "leg/" + leg, Title: "leg " + leg, Leg: leg, Big: []BigFigure{}, Open: []string{}}}
	of := map[string]func(){"route": h.route, "order": h.order, "dig": h.dig, "bed": func() { h.bed(height) }, "set": h.set, "fill": h.fill, "cables": h.cables, "cover": h.cover, "handover": h.handover}[stage]
	if of == nil {
		return Here{}, fmt.Errorf("there is no stage %q", stage)
	}
	h.out.Strip = d.strip(i, h.at)
	h.find()
	of()
	return h.out, nil
}

// find finds the unit that stands here.
func (h *hereMaker) find() {
	x := h.strip(h.leg, h.at) + 0.5
	for u := h.first[h.leg]; u < h.first[h.leg+1]; u++ {
		if from, _ := h.ends(u); from <= x || h.unit < 0 {
			h.unit = u
		}
	}
	if h.unit >= 0 {
		mark := h.plan.Units[h.unit].Mark
		h.out.Key, h.out.Title = "unit/"+mark, mark
	}
}

func (h *hereMaker) say(label, text, other string) {
	if text == "" {
		return
	}
	if other == text {
		other = ""
	}
	open := strings.HasPrefix(text, "NOT CHECKED")
	if figure, rest, ok := strings.Cut(text, " ("); ok && len(figure) <= longest && strings.HasSuffix(rest, ")") { // the decimal inches of a fraction
		text, other = figure, joined(" · ", rest[:len(rest)-1], other)
	}
	h.out.Big = append(h.out.Big, BigFigure{Label: label, Text: text, Other: other, Open: open, Long: open || len(text) > longest})
}

const longest = 16 // letters of what is still written as a figure

func (h *hereMaker) size(label string, l measure.MM) {
	h.say(label, h.draft.size(l), h.other.Built(measure.Length(l)))
}

func (h *hereMaker) level(label string, z *float64) {
	if z == nil {
		return
	}
	other := fixed(*z/0.3048, 2) + " ft"
	if h.metres != 1 {
		other = fixed(*z, 3) + " m"
	}
	h.say(label, h.levelText(*z), other)
}

func (h *hereMaker) mass(kg *float64) {
	m := maker{draft: h.draft, other: h.other}
	m.group("")
	m.mass("mass", kg)
	r := m.card.Groups[0].Rows[0]
	h.say(r.Label, r.Text, r.Other)
}

// depth is what stands, lies and is dug here.
func (h *hereMaker) depth() (planner.DepthAnswer, bool) {
	if h.answers == nil {
		return planner.DepthAnswer{}, false
	}
	s, ok := h.answers.At(h.plan.Legs[h.leg].Name, measure.Length(h.at))
	if !ok {
		return planner.DepthAnswer{}, false
	}
	return h.answers.Depth(s), true
}

// row is the set-out nearest behind the unit here: that of the joint there, of the end of the leg behind its last unit, or of its
// start for who stands there.
func (h *hereMaker) row() (*planner.SetOut, bool) {
	if h.unit < 0 {
		return nil, false
	}
	first, end := h.rows[h.leg], h.rows[h.leg+1]
	r := first + h.unit - h.first[h.leg] + 1
	if r == first+1 && h.at <= 0 {
		r = first
	}
	if r >= end {
		return nil, false
	}
	return &h.plan.SetOut[r], true
}

// joint is the joint behind the unit here, and its row of the set-out; false: none is.
func (h *hereMaker) joint() (*planner.Joint, *planner.SetOut, bool) {
	if h.unit < 0 {
		return nil, nil, false
	}
	n := h.unit - h.first[h.leg]
	k, r := h.joints[h.leg]+n, h.rows[h.leg]+n+1
	if k >= h.joints[h.leg+1] || r >= h.rows[h.leg+1] {
		return nil, nil, false
	}
	return &h.plan.Joints[k], &h.plan.SetOut[r], true
}
