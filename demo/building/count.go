package building

import (
	"fmt"
	"slices"

	"trenchwright/base/sorting"
)

// Count is what a build came to.
type Count struct {
	Job        string           `json:"job"`
	Seed       uint64           `json:"seed"`
	Days       int              `json:"days"`
	Records    int              `json:"records"`
	Devices    int              `json:"devices"`
	Units      int              `json:"units"`
	Covers     int              `json:"covers"`
	Cuts       int              `json:"cuts"` // made on site
	Services   int              `json:"services_found"`
	Taken      int              `json:"answers_taken"`         // that changed pieces
	Relevelled int              `json:"lies_off_the_new_plan"` // readings of what was made true, and is wanted at another level since an answer was taken
	BedsAgain  int              `json:"beds_made_again"`       // and formations, to other levels, since an answer was taken
	Surprises  map[string]int   `json:"surprises"`             // by kind
	Changed    map[string][]int `json:"-"`                     // pieces that each of them changed
	Pieces     Spread           `json:"changed_pieces"`
	OfLayout   Spread           `json:"changed_pieces_where_the_layout_is_touched"`
	Open       []string         `json:"open"`
}

// Spread are the pieces that so many surprises changed.
type Spread struct {
	Surprises int `json:"surprises"`
	None      int `json:"none"` // changed no piece at all
	Median    int `json:"median"`
	In90      int `json:"in_90_percent"` // 9 in 10 changed no more
	Most      int `json:"most"`
}

// ofLayout are the surprises that can touch the layout at all.
var ofLayout = []string{"run drifted", "service below the bed", "service in bed or pad", "service in the unit's envelope", "closing piece", "cracked while set", "bend not as drawn"}

// SpreadOf is how many pieces surprises of some kinds changed; no kinds: of all.
func SpreadOf(changed map[string][]int, kinds ...string) Spread {
	var all []int
	for kind, list := range changed {
		if len(kinds) == 0 || slices.Contains(kinds, kind) {
			all = append(all, list...)
		}
	}
	sorting.Ascending(all)
	s := Spread{Surprises: len(all)}
	if len(all) == 0 {
		return s
	}
	for _, n := range all {
		if n == 0 {
			s.None++
		}
	}
	s.Median, s.In90, s.Most = all[(len(all)-1)/2], all[(9*len(all)+9)/10-1], all[len(all)-1]
	return s
}

// SpreadOfLayout is how many pieces those surprises changed that can touch the layout at all.
func SpreadOfLayout(changed map[string][]int) Spread { return SpreadOf(changed, ofLayout...) }

// Say is the spread in words.
func (s Spread) Say() string {
	if s.Surprises == 0 {
		return ""
	}
	return fmt.Sprintf("median %d, 9 in 10 no more than %d, most %d; %d of %d changed none", s.Median, s.In90, s.Most, s.None, s.Surprises)
}

// Kinds are the kinds of surprises that there were, by name.
func (c Count) Kinds() []string {
	var kinds []string
	for k := range c.Surprises {
		kinds = append(kinds, k)
	}
	sorting.Ascending(kinds)
	return kinds
}

// counted is what the build came to.
func (s *site) counted(r *Result) Count {
	c := s.counts
	c.Job, c.Seed, c.Days, c.Records, c.Devices = s.job.ID, s.seed, s.day, len(r.Records), len(s.devices)
	for _, l := range s.legs {
		c.Units += len(l.laid)
		for _, u := range l.laid {
			for _, d := range u.lids {
				if d.lies {
					c.Covers++
				}
			}
		}
	}
	c.Pieces, c.OfLayout, c.Open = SpreadOf(c.Changed), SpreadOfLayout(c.Changed), append([]string{}, r.Open...)
	return c
}

// surprise counts one. On a leg, what it changes is known when somebody asks there next.
func (s *site) surprise(kind string, l *leg, changed int) {
	s.counts.Surprises[kind]++
	if l != nil {
		l.unpaid = append(l.unpaid, kind)
		return
	}
	s.counts.Changed[kind] = append(s.counts.Changed[kind], changed)
}
