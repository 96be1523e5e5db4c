package job

import (
	"fmt"
	"slices"
	"strings"
)

// programme checks what holds between calendars, works, gangs, windows and loads.
func (c *checker) programme() {
	p := c.job.Programme
	if p == nil {
		return
	}
	root := (*place)(nil).field("programme")
	var calendars, works []string
	for i, k := range p.Calendars {
		at := root.field("calendars").item(i, k.ID)
		calendars = append(calendars, k.ID)
		c.calendar(&k, at)
	}
	for i, w := range p.Works {
		if at := root.field("works").item(i, w.Work); slices.Contains(works, w.Work) {
			c.say("twice", at, fmt.Sprintf("%s is among the works already.", w.Work), "Write each work once, where it comes in the order of this job.")
		}
		works = append(works, w.Work)
	}
	for i, g := range p.Gangs {
		at := root.field("gangs").item(i, g.ID)
		if g.Calendar != "" && !slices.Contains(calendars, g.Calendar) {
			c.say("unknown", at.field("calendar"), fmt.Sprintf("no calendar is called %s.%s", quoted(g.Calendar), didYouMean(g.Calendar, calendars)), "One of: "+listed(calendars)+".")
		}
		var does []string
		for k, r := range g.Does {
			at := at.field("does").item(k, r.Work)
			if slices.Contains(does, r.Work) {
				c.say("twice", at, fmt.Sprintf("gang %s does %s already.", g.ID, r.Work), "Keep the rate that is right.")
			}
			if speed, err := ReadRate(r.Rate.Value); err == nil && (speed.Of == "m3" && !slices.Contains([]string{"dig", "bed", "fill"}, r.Work) || speed.Of == "no" && !slices.Contains([]string{"set-out", "set", "cover", "test"}, r.Work)) {
				c.say("number", at.field("rate"), fmt.Sprintf("%s is not counted in %s.", r.Work, speed.Of), "Write m3 of dig, bed and fill, no of units (set-out, set, test) and covers, m or ft of run for all of them.")
			}
			if does = append(does, r.Work); !slices.Contains(works, r.Work) && r.Work != "" {
				c.say("unknown", at.field("work"), fmt.Sprintf("%s is not among the works of this programme.", r.Work), "Write it under works, where it comes in the order of this job.")
			}
		}
	}
	for i, w := range p.Windows {
		c.timeWindow(&w, root.field("windows").item(i, w.ID))
	}
	for i, l := range p.Loads {
		if at := root.field("loads").item(i, l.ID); l.To > 0 && l.To <= l.From && c.sound(at, "from", "to") {
			c.say("interval", at.field("to"), fmt.Sprintf("the load is laid from %s, and to %s is not further.", c.length(l.From), c.length(l.To)), "Write the smaller chainage first.")
		}
	}
}

func (c *checker) calendar(k *Calendar, at *place) {
	days := 0
	for i, s := range k.Shifts {
		days += len(s.Days)
		from, err1 := ReadClock(s.From)
		to, err2 := ReadClock(s.To)
		if err1 == nil && err2 == nil && from == to {
			c.say("interval", at.field("shifts").item(i, "").field("to"), fmt.Sprintf("a shift from %s to %s has no length.", s.From, s.To), "Write when it ends: 15:30; on the next day where that is earlier than its beginning.")
		}
	}
	if days == 0 && c.sound(at, "shifts") {
		c.say("calendar", at.field("shifts"), fmt.Sprintf("calendar %s has no working day: 0 of at least 1.", k.ID), `Write shifts: [{days: [mon, tue, wed, thu, fri], from: "07:00", to: "15:30"}].`)
	}
	for i, o := range k.Off {
		c.inOrder(at.field("off").item(i, ""), "days off", o.From, o.To, "from", "to")
	}
}

// inOrder checks that an end does not come before its beginning; days as they are written sort as they come.
func (c *checker) inOrder(at *place, what, from, to, first, last string) {
	if isDate(from) && isDate(to) && to < from {
		one := c.say("interval", at.field(last), fmt.Sprintf("the %s end on %s, before they begin on %s.", what, to, from), fmt.Sprintf("Write the earlier day as %s, or leave %s out.", first, last))
		one.Limit, one.Value = from, to
	}
}

func (c *checker) timeWindow(w *TimeWindow, at *place) {
	if w.To > 0 && w.To <= w.From && c.sound(at, "from", "to") {
		c.say("interval", at.field("to"), fmt.Sprintf("it begins at %s, and to %s is not further.", c.length(w.From), c.length(w.To)), "Write the smaller chainage first.")
	}
	if w.Leg == "" && (w.From > 0 || w.To > 0) {
		c.say("missing-field", at.field("leg"), "chainages are stated, and no leg that they are on.", "Write leg, or leave from and to out.")
	}
	wants := map[string][]string{"notice": {"given", "last"}, "closure": {"first", "last", "opens", "shuts"}, "halt": {"first", "last"}}[w.Kind]
	have := map[string]string{"given": w.Given, "first": w.First, "last": w.Last, "opens": w.Opens, "shuts": w.Shuts}
	var lacks []string
	for _, name := range wants {
		if have[name] == "" {
			lacks = append(lacks, name)
		}
	}
	if len(lacks) > 0 && c.sound(at, wants...) {
		c.say("missing-field", at.field(lacks[0]), fmt.Sprintf("a %s needs %s, and %s is not there.", w.Kind, strings.Join(wants, ", "), strings.Join(lacks, ", ")), "Write "+lacks[0]+".")
		return
	}
	c.inOrder(at, "days of the "+w.Kind, w.Given, w.Last, "given", "last")
	c.inOrder(at, "days of the "+w.Kind, w.First, w.Last, "first", "last")
}
