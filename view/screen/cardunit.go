package screen

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
)

// forUnit is the card of a unit as it is laid.
func (m *maker) forUnit(mark string) bool {
	i, ok := m.unitAt[mark]
	if !ok {
		return false
	}
	u := &m.plan.Units[i]
	leg := m.legs[u.Leg]
	m.card.Title, m.card.Lead = m.bodyWord()+" "+mark, m.unitLead(u)
	from, to := m.ends(i)
	h := m.plan.Supplies[m.supply[u.Supply]]
	m.cutCard(mark, u.Cut || u.Hold)
	m.stops(u)
	m.group("what it is")
	m.linked("supply", joined(", ", u.Supply, h.Title), "supply/"+u.Supply)
	m.measured("length on the axis", u.Length)
	if u.Cut {
		m.measured("cut from one of", u.Stock)
	}
	m.angles(u.StartAngle, u.EndAngle)
	m.mass("mass", u.Mass)
	m.row("laid because", u.Demands, "")
	m.piece(u)
	if u.Piece == nil {
		m.row("lifting", h.Lifting, "")
	}
	m.row("load rating", h.Rating, "")
	m.whereOn(leg, u.Chainage)
	m.angle("bearing "+m.speech.Word(wording.UpChainage), u.Bearing)
	m.card.Strip = [2]float64{from, to}
	m.neighbours(i, leg)
	m.coversOf(i)
	m.near(leg, u)
	m.levelsAt(leg, u.Chainage+measure.MM(measure.FromMillimetres(float64(mm(u.Length)*m.scales[i])/2)))
	m.card.Figure = m.unitFigure(i)
	m.provenLeg(u.Leg)
	if u.Cut {
		m.provenCut(u.Supply, "units")
	}
	m.source(h.Source)
	m.concerns(func(f finding.Finding) bool { return f.Where.Place == mark || m.within(f, leg, from, to) })
	return true
}

// cutCard is the paper that a cut piece is made by.
func (m *maker) cutCard(mark string, cut bool) {
	if cut {
		m.card.Paper = "svg/card-" + mark + ".svg"
	}
}

// stops say what holds the saw.
func (m *maker) stops(u *planner.Unit) {
	if u.Hold {
		m.card.Stop = append(m.card.Stop, "HOLD, cut from measurement: lengths here are planned, not for the saw.")
	}
	if u.Piece != nil && len(u.Piece.CutThings) > 0 {
		m.card.Stop = append(m.card.Stop, "STOP: do not cut before the engineer has answered: "+joined("; ", u.Piece.CutThings...)+".")
	}
}

// unitLead is the one thing to know of a unit.
func (m *maker) unitLead(u *planner.Unit) string {
	size := m.size(u.Length)
	switch {
	case u.Hold:
		return "HOLD, cut from measurement; " + size + " expected, from one of " + m.size(u.Stock)
	case u.StartAngle != 0 || u.EndAngle != 0:
		return size + m.speech.Say(", %s, by its mark", wording.Mitred)
	case u.Cut:
		return size + ", cut, by its mark"
	}
	return size + ", plain: any of this length and supply"
}

// within tells whether a finding speaks of a stretch of the strip.
func (m *maker) within(f finding.Finding, leg int, from, to float64) bool {
	if f.Where.Chainage == nil || f.Where.Leg != m.plan.Legs[leg].Name || f.Where.Place != "" {
		return false
	}
	x := m.strip(leg, measure.MM(*f.Where.Chainage))
	return x >= from && x <= to
}

func (m *maker) angles(start, end float64) {
	if start == 0 && end == 0 {
		return
	}
	m.angle("saw angle at its start", start)
	m.angle("saw angle at its end", end)
}

// piece is what makes a cut unit different.
func (m *maker) piece(u *planner.Unit) {
	p := u.Piece
	if p == nil {
		return
	}
	long, short := p.LeftSide, p.RightSide
	left, right := "left side, long", "right side, short"
	if short > long {
		left, right = "left side, short", "right side, long"
	}
	if long == short {
		left, right = "left side", "right side"
	}
	m.measured(left, p.LeftSide)
	m.measured(right, p.RightSide)
	m.measured("diagonal, left start to right end", p.DiagonalA)
	m.measured("diagonal, right start to left end", p.DiagonalB)
	m.row("end as cast", p.KeptEnd, "")
	m.row("hand", p.Hand, "")
	m.row("cut from", p.CutFrom, "")
	m.measured("from end A of that one", p.FromMM)
	if p.Turned {
		m.row("laid", "turned, end B first", "")
	}
	m.measured(m.speech.Word(wording.Centre)+" of gravity from its start", p.CentreX)
	m.row("how that was found", p.CentreNote, "")
	m.row("lifting", p.Lift, "")
	for _, t := range p.CutThings {
		m.row("look at", t, "")
	}
}

// neighbours are the joints before and behind a unit.
func (m *maker) neighbours(i, leg int) {
	m.group("joints")
	n := i - m.first[leg]
	tell := func(label string, k int) {
		j := &m.plan.Joints[k]
		m.linked(label, j.Name, "joint/"+j.Name)
		m.held("its gap", j.Gap)
	}
	if k := m.joints[leg] + n - 1; n > 0 && k < m.joints[leg+1] {
		tell("before it", k)
	} else {
		m.linked("before it", "node "+m.plan.Legs[leg].From, "node/"+m.plan.Legs[leg].From)
	}
	if k := m.joints[leg] + n; k < m.joints[leg+1] {
		tell("behind it", k)
	} else {
		m.linked("behind it", "node "+m.plan.Legs[leg].To, "node/"+m.plan.Legs[leg].To)
	}
}

func (m *maker) coversOf(i int) {
	m.group("covers on it")
	for k := m.covers[i]; k < m.covers[i+1]; k++ {
		c := &m.plan.Covers[k]
		text := m.size(c.Length)
		if c.Cut {
			text += ", cut from " + orElse(c.CutFrom, m.size(c.Stock))
		}
		m.row(c.Mark, text, m.other.Built(measure.Length(c.Length))).Key = "cover/" + c.Mark
	}
}

// near are the stretches without joints that a unit lies in, and services over which it lies.
func (m *maker) near(leg int, u *planner.Unit) {
	m.group("what lies here")
	for _, z := range m.plan.Zones {
		if z.Leg == u.Leg && z.From < u.Start+u.Length && u.Start < z.To {
			m.linked("no joint may stand in", z.Why, thingKey(z.Kind, z.Leg, z.ID))
		}
	}
}

func (m *maker) provenCut(supply, of string) {
	for _, c := range m.plan.Cutting {
		if c.Supply == supply && c.Of == of {
			m.card.Proof = append(m.card.Proof, c.Text)
		}
	}
}

// forCover is the card of a cover.
func (m *maker) forCover(mark string) bool {
	unit, _, _ := strings.Cut(mark, ".")
	i, ok := m.unitAt[unit]
	if !ok {
		return false
	}
	for k := m.covers[i]; k < m.covers[i+1]; k++ {
		if c := &m.plan.Covers[k]; c.Mark == mark {
			m.coverCard(i, c)
			return true
		}
	}
	return false
}

func (m *maker) coverCard(i int, c *planner.Cover) {
	u := &m.plan.Units[i]
	leg := m.legs[u.Leg]
	h := m.plan.Supplies[m.supply[u.Supply]]
	m.card.Title, m.card.Lead = "Cover "+c.Mark, m.size(c.Length)+", whole"
	if c.Cut {
		m.card.Lead = m.size(c.Length) + ", cut from " + orElse(c.CutFrom, m.size(c.Stock))
	}
	m.cutCard(c.Mark, c.Cut)
	if u.Hold && c.Cut {
		m.card.Stop = append(m.card.Stop, "HOLD: its "+m.speech.Word(wording.Body)+" is cut from measurement; cut this cover after it.")
	}
	m.group("what it is")
	m.linked("on", u.Mark, "unit/"+u.Mark)
	m.measured("from the start of that", c.Start)
	m.measured("length on the axis", c.Length)
	if c.Cut {
		m.measured("cut from one of", c.Stock)
	}
	if c.LeftSide != c.RightSide {
		m.measured("left side", c.LeftSide)
		m.measured("right side", c.RightSide)
	}
	m.angles(c.StartAngle, c.EndAngle)
	m.mass("mass", c.Mass)
	lift := h.CoverLift
	if c.Cut {
		lift = h.CutCoverLift
	}
	m.row("lifting", lift, "")
	m.row("load rating", h.CoverRating, "")
	from, _ := m.ends(i)
	m.whereOn(leg, u.Chainage+measure.MM(measure.FromMillimetres(float64(mm(c.Start)*m.scales[i]))))
	a := from + float64(mm(c.Start)*m.scales[i])
	m.card.Strip = [2]float64{a, a + float64(mm(c.Length)*m.scales[i])}
	m.card.Figure = m.unitFigure(i)
	if c.Cut {
		m.provenCut(u.Supply, "covers")
	}
	m.source(h.Source)
	m.concerns(func(f finding.Finding) bool { return f.Where.Place == c.Mark })
}

// forJoint is the card of a joint with its one budget.
func (m *maker) forJoint(name string) bool {
	before, _, _ := strings.Cut(name, "/")
	i, ok := m.unitAt[before]
	if !ok {
		return false
	}
	leg := m.legs[m.plan.Units[i].Leg]
	k := m.joints[leg] + i - m.first[leg]
	if k >= m.joints[leg+1] || m.plan.Joints[k].Name != name {
		return false
	}
	j := &m.plan.Joints[k]
	b := &j.Budget
	next := &m.plan.Units[i+1]
	m.card.Title, m.card.Lead = "Joint "+name, "gap "+m.small(j.Gap)
	if j.GapMin < j.GapMax {
		m.card.Lead += fmt.Sprintf(", from %s to %s allowed", m.small(j.GapMin), m.small(j.GapMax))
	}
	at := next.Chainage - j.Gap/2
	if r := m.rows[leg] + i - m.first[leg] + 1; r < m.rows[leg+1] {
		at = m.plan.SetOut[r].Chainage
	}
	m.whereOn(leg, at)
	m.linked("before it", before, "unit/"+before)
	m.linked("behind it", next.Mark, "unit/"+next.Mark)
	m.group("what its window is spent on")
	m.held("gap to hold", j.Gap)
	m.held("room", b.Room)
	m.held("turn in plan", b.Turn)
	m.held("change of grade", b.Grade)
	m.held("ends out of square", b.Square)
	m.held("kept for drift", b.Reserve)
	m.held("left for the gang", b.Left)
	for _, what := range b.Missing {
		m.row("", "NOT CHECKED: no "+what+" on file. Ask: the supplier", "")
	}
	m.row("note", j.Note, "")
	if j.Forced != "" {
		m.linked("the job asks for it", j.Forced, thingKey("forced", j.Leg, j.Forced))
	}
	if r := m.rows[leg] + i - m.first[leg] + 1; r < len(m.plan.SetOut) {
		m.row(m.speech.Word(wording.Pad), m.plan.SetOut[r].Pad, "")
	}
	m.levelsAt(leg, at)
	m.card.Figure = m.jointFigure(i)
	m.source(m.plan.Supplies[m.supply[m.plan.Units[i].Supply]].Source)
	x := m.card.Strip[0]
	m.concerns(func(f finding.Finding) bool {
		return strings.Contains(f.Text, "joint "+name) || m.within(f, leg, x-math.Max(1, mm(j.Gap)), x+math.Max(1, mm(j.Gap)))
	})
	return true
}
