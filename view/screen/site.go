package screen

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/sorting"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/recorded"
)

// ErrNoRecords is that a question about the site comes to a desk that was handed no records of the open job: whoever asks hands
// them over again.
var ErrNoRecords = errors.New("the records of this job are not here")

// Site is what the records of a job come to, in few words.
type Site struct {
	Records  int           `json:"records"`
	Unread   []string      `json:"unread"` // lines that are no record, each with why
	Stages   []SiteStage   `json:"stages"` // those that records say something of
	Findings []SiteFinding `json:"findings"`
	Log      []SiteSaid    `json:"log"` // the last records, the latest first
}

// SiteStage is how much of a stage is done.
type SiteStage struct {
	ID   string `json:"id"`
	Said string `json:"said"` // 14 of 30 set
	Done int    `json:"done"`
	Of   int    `json:"of"`
}

// SiteFinding is something odd about the records, or that holds work back.
type SiteFinding struct {
	Kind string `json:"kind"`
	Text string `json:"text"`
	Try  string `json:"try"`
	Key  string `json:"key"` // card of what it concerns; empty: none
}

// SiteSaid is one record in words.
type SiteSaid struct {
	ID     string `json:"id"`
	Number int    `json:"number"`
	Kind   string `json:"kind"`
	Words  string `json:"words"`
	Person string `json:"person"`
	Made   string `json:"made"` // by its device's clock
	Gone   bool   `json:"gone"` // a later record took its place
	Key    string `json:"key"`
	Photos int    `json:"photos"`
	With   string `json:"with"` // what it was read with, and where its device was
}

// withWhat is what a record was read with and what is on file of that one's check and calibration, and where the device said that it was.
func withWhat(r *field.Record) string {
	with, at := "", ""
	if i := r.Instrument; i != nil {
		with = "read with " + i.ID + ", "
		if i.ID == "not named" {
			with = "read with what nobody named, "
		}
		with += cmp.Or(i.Calibrated(), "no check on file")
		if r.RanOut() {
			with += ", before this reading"
		}
	}
	if f := r.Fix; f != nil {
		at = "the device at " + fixed(f.Latitude, 6) + ", " + fixed(f.Longitude, 6) + ", within " + fixed(f.Within, 1) + " m as it says"
	}
	return joined(" · ", with, at)
}

// site are the records of the open job as the desk keeps them: a cache, worked out again when records come in.
type site struct {
	book   *field.Book
	under  *field.Run // the places that the records are about
	unread []string
	now    string
	state  *field.State        // nil: to be worked out
	left   []planner.LegReplan // nil: likewise
}

// sited answers what is asked about the site; false: the question is not one of those.
func (d *Desk) sited(name string, q *question, on *draft) (any, bool, error) {
	if name == "site" {
		out, err := d.recorded(q, on)
		return out, true, err
	}
	ask := map[string]func(*siteView) (any, error){
		"next":   func(v *siteView) (any, error) { return v.next(q) },
		"say":    func(v *siteView) (any, error) { return v.hear(q), nil },
		"grid":   func(v *siteView) (any, error) { return v.grid(q) },
		"keyed":  func(v *siteView) (any, error) { return v.keyed(q), nil },
		"office": func(v *siteView) (any, error) { return v.office(q), nil },
		"day":    func(v *siteView) (any, error) { return v.day(q), nil },
		"yard":   func(v *siteView) (any, error) { return v.yard(), nil },
		"ways":   func(v *siteView) (any, error) { return v.ways(), nil },
		"taken":  func(v *siteView) (any, error) { return v.taken(q) },
		"forms": func(v *siteView) (any, error) {
			return v.forms(q.Name), nil
		},
	}[name]
	if ask == nil {
		return nil, false, nil
	}
	if d.site == nil {
		return nil, true, ErrNoRecords
	}
	out, err := ask(d.siteView(on))
	return out, true, err
}

// siteView is the site as a view shows it.
type siteView struct {
	*draft
	*site
	answers *planner.Answers
	byID    map[string]Form // every form, once it was asked for
	asks    *field.Contract
}

// saying is how records are said here.
func (v *siteView) saying() recorded.Speaker {
	return recorded.Speaker{Speech: v.speech, Unit: v.job.Coordinates.Unit, Supplies: len(v.plan.Supplies)}
}

// contract is what the job asks of what is recorded.
func (v *siteView) contract() *field.Contract {
	if v.asks == nil {
		v.asks = field.Asks(v.job)
	}
	return v.asks
}

func (d *Desk) siteView(on *draft) *siteView {
	return &siteView{draft: on, site: d.site, answers: d.asked(on.view)}
}

// recorded takes records in: all of them anew, or some more.
func (d *Desk) recorded(q *question, on *draft) (Site, error) {
	if d.site == nil && q.More {
		return Site{}, ErrNoRecords
	}
	if !q.More {
		run := d.plan.Places()
		d.site = &site{book: field.NewBook(run).Under(field.Asks(on.job)), under: run}
	}
	records, faults := field.Read(strings.NewReader(q.Lines))
	for _, f := range faults {
		d.site.unread = append(d.site.unread, f.Text)
	}
	d.site.book.Add(records...)
	d.site.state, d.site.left = nil, nil
	if q.Now != "" {
		d.site.now = q.Now
	}
	return d.siteView(on).all(), nil
}

// is what the records come to.
func (v *siteView) is() *field.State {
	if v.state == nil {
		s := v.book.State(v.now)
		v.site.state = &s
	}
	return v.site.state
}

// rest is what is left of every leg, planned again; nil where the run is not laid out.
func (v *siteView) rest() []planner.LegReplan {
	if v.left == nil && v.answers != nil {
		v.site.left = v.answers.Replan(*v.is())
	}
	return v.site.left
}

func (v *siteView) all() Site {
	s := v.is()
	out := Site{Records: s.Records, Unread: filled(v.unread), Stages: v.done(), Findings: []SiteFinding{}, Log: v.log(40)}
	for _, f := range s.Findings {
		out.Findings = append(out.Findings, v.found(f))
	}
	for _, l := range v.rest() {
		for _, f := range l.Findings {
			out.Findings = append(out.Findings, v.found(f))
		}
	}
	return out
}

func (v *siteView) found(f finding.Finding) SiteFinding {
	out := SiteFinding{Kind: string(f.Kind), Text: f.Text, Try: f.Try}
	if f.Kind == finding.NotChecked {
		out.Text = f.Sentence()
	}
	out.Key = v.siteKey(f.Where.Place)
	if out.Key == "" && f.Where.Leg != "" {
		out.Key = "leg/" + f.Where.Leg
	}
	return out
}

// siteKey is the card of a place that a record names; empty: there is none.
func (v *siteView) siteKey(place string) string {
	unit, _, joint := strings.Cut(place, "/")
	if _, known := v.unitAt[unit]; joint && known {
		return "joint/" + place
	}
	if _, known := v.unitAt[place]; known {
		return "unit/" + place
	}
	if n := strings.LastIndexByte(place, '.'); n > 0 {
		if _, known := v.unitAt[place[:n]]; known {
			return "cover/" + place
		}
	}
	if slices.ContainsFunc(v.plan.Nodes, func(n planner.Node) bool { return n.ID == place }) {
		return "node/" + place
	}
	return ""
}

// log are the last records in words, the latest first: by their ids, which begin with the time of the device that made them.
func (v *siteView) log(most int) []SiteSaid {
	all := v.book.All()
	gone := map[string]bool{}
	for _, r := range all {
		if r.Corrects != "" {
			gone[r.Corrects] = true
		}
	}
	sorting.By(all, func(a, b field.Record) int { return strings.Compare(b.ID, a.ID) })
	out := []SiteSaid{}
	for i := range all[:min(most, len(all))] {
		r := &all[i]
		out = append(out, SiteSaid{r.ID, r.Number, string(r.Kind), v.saying().Sentence(r), r.Person, r.Made, gone[r.ID], v.siteKey(r.From), len(r.Photos), withWhat(r)})
	}
	return out
}

// done is how much of each stage is done, as far as records say anything of it.
func (v *siteView) done() []SiteStage {
	s := v.is()
	if s.Records == 0 {
		return []SiteStage{}
	}
	var set, laid, lids, filled, area, levels, pads, came, units int
	for l := range s.Legs {
		leg := &s.Legs[l]
		units += len(leg.Units)
		set, laid, lids = set+leg.Set, laid+leg.Laid, lids+leg.Lids
		for u := range leg.Units {
			one := leg.Units[u]
			if one.Filled() {
				filled++
			}
			if len(one.Evidence[field.Area]) > 0 {
				area++
			}
			for _, l := range one.Levels {
				switch l.Of {
				case "formation":
					levels++
				case "pad", "bed":
					pads++
				}
			}
		}
	}
	for _, y := range s.Yard {
		if y.What == "unit" {
			came += y.Came
		}
	}
	out := []SiteStage{}
	say := func(id, form string, done, of int) {
		if done > 0 {
			out = append(out, SiteStage{id, fmt.Sprintf(form, done, of), done, of})
		}
	}
	say("order", "%d came, %d wanted", came, v.plan.Totals.Bought)
	say("dig", "%d of %d levelled", levels, units)
	say("bed", "%d of %d levelled", pads, units)
	say("set", "%d of %d set", set, units)
	say("fill", "%d of %d filled", filled, units)
	say("cables", "%d of %d handed over", area, units)
	say("cover", "%d of %d laid", laid, lids)
	return out
}

// layersOf is how many layers a leg is filled in; 0: not known.
func (v *siteView) layersOf(leg string) int {
	if v.plan.Dig == nil {
		return 0
	}
	for i := range v.plan.Dig.Legs {
		if v.plan.Dig.Legs[i].Leg == leg {
			return len(v.plan.Dig.Legs[i].Volumes.Layers)
		}
	}
	return 0
}
