package screen

import (
	"errors"
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// SiteAnswers are the ways on of every leg on which work has begun.
type SiteAnswers struct {
	Legs  []SiteAnswer `json:"legs"`
	Bends []SiteAnswer `json:"bends"` // that were measured, and do not turn as drawn; leg is the node
}

// SiteAnswer is what is left of one leg, planned again from where its last unit came to lie.
type SiteAnswer struct {
	Leg    string      `json:"leg"`
	Key    string      `json:"key"`
	Said   string      `json:"said"` // 5 of 14 set: other pieces
	From   string      `json:"from"` // where the last unit lies
	Stop   []string    `json:"stop"`
	Open   []string    `json:"open"`
	Offers []SiteOffer `json:"offers"` // at most three; nothing changes until a person takes one
}

// SiteOffer is one way on.
type SiteOffer struct {
	Number  int        `json:"number"`
	Name    string     `json:"name"`
	Spends  []string   `json:"spends"`  // what it costs: 2 cuts, 3 other pieces
	Changes []SiteTurn `json:"changes"` // place by place, against the plan that people hold
	Same    bool       `json:"same"`    // it is the plan as it stands: there is nothing to take
}

// SiteTurn is one place or joint that comes out otherwise.
type SiteTurn struct {
	Place string `json:"place"`
	Key   string `json:"key"`
	Said  string `json:"said"`
}

// Taken is the job once a person took an answer: content for a new revision.
type Taken struct {
	Job  string `json:"job"`
	Note string `json:"note"`
}

func (v *siteView) ways() SiteAnswers {
	out := SiteAnswers{Legs: []SiteAnswer{}, Bends: v.bendWays()}
	for _, r := range v.rest() {
		if r.Answer == planner.NotBegun && len(r.Findings) == 0 {
			continue
		}
		a := SiteAnswer{Leg: r.Leg, Key: "leg/" + r.Leg, Said: fmt.Sprintf("%d of %d set: %s", r.Set+len(r.Apart), r.Units, r.Answer), Stop: []string{}, Open: []string{}, Offers: []SiteOffer{}}
		if r.Last != "" {
			a.From = r.Last + " ends " + v.offWords(measure.Length(r.Off)) + " of its place"
			switch {
			case r.Off == 0 && r.Measured != "":
				a.From = r.Last + " ends at its place"
			case r.Measured == "":
				a.From = r.Last + " is taken to end as drawn: nobody measured where a unit of this leg ends"
			case r.Measured != r.Last:
				a.From += ", as " + r.Measured + " was measured"
			}
		}
		for _, m := range r.Meets {
			gap := m.Before + " to " + m.Behind
			if m.Before == "" {
				gap = "up to " + m.Behind
			}
			how := ", from where both faces lie"
			if m.Left != nil {
				how = ", measured: left wall " + v.size(*m.Left) + ", right wall " + v.size(*m.Right)
			}
			a.From = joined(". ", a.From, gap+": "+v.size(m.Clear)+" clear"+how)
		}
		for _, f := range r.Findings {
			if r.Answer == planner.Stopped || r.Answer == planner.NoAnswer {
				a.Stop = append(a.Stop, v.stopped(&f))
			} else {
				a.Open = append(a.Open, strings.TrimSpace(f.Sentence()+" "+f.Try))
			}
		}
		for i := range r.Offers {
			a.Offers = append(a.Offers, v.offer(&r.Offers[i]))
		}
		out.Legs = append(out.Legs, a)
	}
	return out
}

// bendWays are the ways on of bends that do not turn as drawn.
func (v *siteView) bendWays() []SiteAnswer {
	out := []SiteAnswer{}
	if v.answers == nil {
		return out
	}
	for _, b := range v.answers.Bends(*v.is()) {
		if b.Answer == planner.BendAsDrawn {
			continue
		}
		a := SiteAnswer{Leg: b.Node, Key: "node/" + b.Node, Said: fmt.Sprintf("turns by %.3f°, drawn with %.3f°: %s", b.Measured, b.Drawn, b.Answer), Stop: []string{}, Open: []string{}, Offers: []SiteOffer{}}
		for _, f := range b.Findings {
			text := strings.TrimSpace(f.Sentence() + " " + f.Try)
			if f.Kind == finding.Impossible {
				a.Stop = append(a.Stop, text)
			} else {
				a.Open = append(a.Open, text)
			}
		}
		for _, w := range b.Ways {
			o := SiteOffer{Number: w.Number, Name: w.Name, Spends: []string{count(len(w.Moves), "node beyond it turns with it", "nodes beyond it turn with it")}, Changes: []SiteTurn{}}
			if w.Off > 0 {
				o.Spends = append(o.Spends, "the bend comes to lie "+v.small(w.Off)+" beside the line as drawn")
			}
			if w.Name == planner.BendSwings {
				for _, j := range b.Swing {
					o.Changes = append(o.Changes, SiteTurn{j.Joint, v.siteKey(j.Joint), fmt.Sprintf("turns by %+.3f°, opens by %s at one wall and closes by as much at the other", j.Turn, v.small(j.Opens))})
				}
			} else {
				for _, m := range b.Mitres {
					text := fmt.Sprintf("saw set to %+.3f°, was %+.3f°: left wall %s, right wall %s", m.Angle, m.Was, v.size(m.Left), v.size(m.Right))
					if m.Cut {
						text = fmt.Sprintf("is cut already, to %+.3f°: it stays", m.Was)
					}
					o.Changes = append(o.Changes, SiteTurn{m.Place, v.siteKey(m.Place), text})
				}
			}
			a.Offers = append(a.Offers, o)
		}
		out = append(out, a)
	}
	return out
}

// taken is a job in which a person took an answer: of a leg, or of a bend that was measured.
func (v *siteView) taken(q *question) (Taken, error) {
	if q.Node != "" {
		return v.takeBend(q.Node, q.Number)
	}
	return v.take(q.Leg, q.Number)
}

// takeBend is the job with a bend taken as it was measured.
func (v *siteView) takeBend(node string, number int) (Taken, error) {
	if v.answers == nil {
		return Taken{}, errors.New("nothing is laid out yet: look at the findings")
	}
	bends := v.answers.Bends(*v.is())
	j, err := planner.TakeBends(v.job, v.rest(), bends, map[string]int{node: number})
	if err != nil {
		return Taken{}, err
	}
	for _, b := range bends {
		if b.Node == node {
			return Taken{string(job.CanonicalJSON(j)), fmt.Sprintf("bend %s as it was measured, %.3f°: %s", node, b.Measured, b.Ways[number-1].Name)}, nil
		}
	}
	return Taken{}, fmt.Errorf("no bend was measured at %s", node)
}

func (v *siteView) offer(o *planner.Offer) SiteOffer {
	out := SiteOffer{Number: o.Number, Name: o.Answer, Spends: []string{}, Changes: []SiteTurn{}, Same: o.Answer == planner.AsPlanned && len(o.Services)+len(o.Moved) == 0}
	cuts := 0
	for _, p := range o.Pieces {
		if p.Cut {
			cuts++
		}
	}
	if o.Changed > 0 {
		out.Spends = append(out.Spends, count(o.Changed, "place with another piece", "places with another piece"))
	}
	if cuts > 0 {
		out.Spends = append(out.Spends, count(cuts, "new cut", "new cuts"))
	}
	if n := len(o.Gaps); n > 0 {
		out.Spends = append(out.Spends, count(n, "gap otherwise than drawn", "gaps otherwise than drawn"))
	}
	for _, m := range o.Moved {
		where := "is there no more"
		if !m.Gone {
			where = "is at " + v.chainage(m.Now)
		}
		out.Changes = append(out.Changes, SiteTurn{m.ID, "", m.Name + ", planned at " + v.chainage(m.Was) + ", " + where})
	}
	for _, s := range o.Services {
		out.Spends = append(out.Spends, "keeps joints clear of "+s.Name)
	}
	if len(out.Spends) == 0 {
		out.Spends = append(out.Spends, "nothing")
	}
	for _, p := range o.Pieces {
		out.Changes = append(out.Changes, SiteTurn{p.Place, v.siteKey(p.Place), v.turned(p)})
	}
	for _, c := range o.Cut {
		from := "cut from " + c.Of
		if c.Rest != "" {
			from = "cut from the rest of " + c.Rest
		}
		out.Changes = append(out.Changes, SiteTurn{c.Place, v.siteKey(c.Place), from + ", " + v.size(c.Stock)})
	}
	if o.CutText != "" {
		out.Spends = append(out.Spends, o.CutText)
	}
	for _, c := range o.Closes {
		text := "closed by whole units"
		if c.Place != "" {
			text = "closes the gap to " + c.Behind + ": left wall " + v.size(c.Left) + ", right wall " + v.size(c.Right) + ", from " + v.size(c.Stock)
		}
		if c.Opens > 0 {
			text += "; every joint of it opens by " + v.small(c.Opens) + " at the longer wall and closes by as much at the other"
		}
		place := c.Place
		if place == "" {
			place = c.Behind
		}
		out.Changes = append(out.Changes, SiteTurn{place, v.siteKey(place), text})
	}
	for _, w := range o.Withdrawn {
		out.Changes = append(out.Changes, SiteTurn{w, v.siteKey(w), "laid no more"})
	}
	last := "" // the joint of the gap before, whose line goes on where the next one is the same
	for i, g := range o.Gaps {
		said := "gap " + v.small(g.Gap) + ", drawn " + v.small(g.Drawn)
		if n := len(out.Changes); i > 0 && out.Changes[n-1].Said == said && v.follows(last, g.Joint) {
			first, _, _ := strings.Cut(out.Changes[n-1].Place, " to ")
			out.Changes[n-1].Place = first + " to " + g.Joint
		} else {
			out.Changes = append(out.Changes, SiteTurn{g.Joint, v.siteKey(g.Joint), said})
		}
		last = g.Joint
	}
	return out
}

// follows tells whether one joint is the next of a leg behind another, to either side.
func (v *siteView) follows(a, b string) bool {
	x, y := strings.Split(a, "/"), strings.Split(b, "/")
	return len(x) == 2 && len(y) == 2 && (x[1] == y[0] || x[0] == y[1])
}

// turned is what a place gets in the place of what was planned.
func (v *siteView) turned(p planner.PieceNow) string {
	now := "whole " + v.size(p.Length)
	switch {
	case p.Stock == 0:
		return "no unit any more; planned was " + v.size(p.Was)
	case p.Cut:
		now = "cut to " + v.size(p.Length) + " from " + v.size(p.Stock)
	}
	if p.Was == 0 {
		return now + "; there was none"
	}
	return now + "; planned was " + v.size(p.Was)
}

// take is the job with an answer taken.
func (v *siteView) take(leg string, number int) (Taken, error) {
	if v.answers == nil {
		return Taken{}, errors.New("nothing is laid out yet: look at the findings")
	}
	j, err := planner.Take(v.job, v.rest(), map[string]int{leg: number})
	if err != nil {
		return Taken{}, err
	}
	for _, r := range v.rest() {
		if r.Leg == leg {
			from := ""
			if r.Last != "" {
				from = "from " + r.Last
			}
			return Taken{string(job.CanonicalJSON(j)), joined(" ", "leg "+leg+" planned again", from) + ": " + r.Offers[number-1].Answer}, nil
		}
	}
	return Taken{}, fmt.Errorf("there is no leg %s", leg)
}
