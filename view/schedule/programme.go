package schedule

import (
	"strconv"
	"strings"

	"trenchwright/base/wording"
	"trenchwright/view/table"
)

// aheadDays is how many working days the list of what comes next has, from the first one on.
const aheadDays = 10

// ProgrammeTitles are those of the tables of a programme.
var ProgrammeTitles = [...]string{"Programme, stretch by stretch", "Days ahead, gang by gang"}

// Programme are when everything is done, and what every gang does on the first days; none where the job has no programme.
func (s Set) Programme() []table.Table {
	o := s.timed()
	if o == nil {
		return nil
	}
	dates := table.Table{Name: "programme", Title: ProgrammeTitles[0], Columns: []table.Column{
		text("leg", "leg"), text("work", "work"), s.surveyed("from", s.say("from %s", wording.Chainage)), s.surveyed("to", "to"), text("places", "places"), text("amount", "amount"), text("gang", "gang"), text("begins", "begins"), text("ends", "ends"),
		text("float", "float"), text("free", "free"), text("waits", "waits"),
	}, Notes: s.notes(o.Claim, "float: hours of work that it may slip without putting off the end; free: without putting off anything. A work without a rate on file has no dates")}
	for i := range o.Activities {
		a := &o.Activities[i]
		float := hoursOf(a.Total)
		if a.Critical {
			float = "decides the end"
		}
		dates.Rows = append(dates.Rows, []table.Cell{table.Text(a.Leg), table.Text(a.Work), mm(a.From), mm(a.To), said(a.First + " to " + a.Last), table.Text(a.Quantity(s.speech.Imperial)), table.Text(a.Gang), table.Text(a.Begin), table.Text(a.End), table.Text(float), table.Text(hoursOf(a.Free)), said(a.Waits)})
	}
	for _, u := range o.Undated {
		row := make([]table.Cell, len(dates.Columns))
		row[0], row[1], row[len(row)-1] = table.Text(u.Leg), table.Text(u.Work), table.Text(u.Why)
		dates.Rows = append(dates.Rows, row)
	}
	ahead := table.Table{Name: "ahead", Title: ProgrammeTitles[1], Columns: []table.Column{
		text("day", "day"), text("gang", "gang"), text("hours", "hours"), text("work", "work"), text("leg", "leg"), s.surveyed("from", s.say("from %s", wording.Chainage)), s.surveyed("to", "to"), text("places", "places"), text("needs", "what must be there before"),
	}, Notes: s.notes("the first days on which somebody works; the trench is entered only after the day's inspection by the competent person")}
	for _, a := range o.LookAhead("", aheadDays) {
		ahead.Rows = append(ahead.Rows, []table.Cell{table.Text(a.Weekday + " " + a.Day), table.Text(a.Gang), table.Text(a.Begin + " to " + a.End), table.Text(a.Work), table.Text(a.Leg), mm(a.From), mm(a.To), said(a.First + " to " + a.Last), said(strings.Join(a.Needs, "; "))})
	}
	return []table.Table{dates, ahead}
}

// hoursOf is a span of hours as it is printed.
func hoursOf(h float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(h, 'f', 1, 64), ".0") + " h"
}
