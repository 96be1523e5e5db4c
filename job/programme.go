package job

import (
	"errors"
	"strconv"
	"strings"

	"trenchwright/base/measure"
)

// Programme is by whom, how fast and when the run is built. Nothing of it has a default: a work without a rate has no dates.
type Programme struct {
	From      string                `json:"from,omitempty" ref:"document" example:"D2" jsonschema:"document id these figures come from unless one says otherwise"`
	Start     string                `json:"start" rule:"date" example:"2026-04-07" jsonschema:"the first day on which anything is done, YYYY-MM-DD"`
	Stretch   measure.Length        `json:"stretch,omitempty" in:"(0,)" example:"24 m" jsonschema:"legs are dated in stretches of no more than that, which end where a unit does; each leg as a whole where left out"`
	Open      Entry[measure.Length] `json:"open,omitzero" in:"(0,)" example:"60 m" jsonschema:"how much of the dig may be open at once, all gangs together"`
	Currency  string                `json:"currency,omitempty" example:"EUR" jsonschema:"what costs are counted in"`
	Calendars []Calendar            `json:"calendars,omitempty" jsonschema:"when people work"`
	Works     []Work                `json:"works,omitempty" jsonschema:"what is done on every leg, in the order of this job: each behind the one before it"`
	Gangs     []Gang                `json:"gangs,omitempty" jsonschema:"who does it, each one thing at a time"`
	Windows   []TimeWindow          `json:"windows,omitempty" jsonschema:"when something may be done, or may not"`
	Loads     []ComingLoad          `json:"loads,omitempty" jsonschema:"what has to be there before something is done, and when it comes"`
}

// Calendar is a working week, and days off.
type Calendar struct {
	ID     string    `json:"id" rule:"id" example:"day" jsonschema:"name of the calendar"`
	Shifts []Shift   `json:"shifts,omitempty" jsonschema:"hours that are worked"`
	Off    []DaysOff `json:"off,omitempty" jsonschema:"days on which nobody works"`
}

// Shift is hours of some days of the week.
type Shift struct {
	Days []string `json:"days" oneof:"mon|tue|wed|thu|fri|sat|sun" example:"mon" jsonschema:"mon, tue, wed, thu, fri, sat, sun"`
	From string   `json:"from" rule:"clock" example:"07:00" jsonschema:"when it begins"`
	To   string   `json:"to" rule:"clock" example:"15:30" jsonschema:"when it ends; on the next day where that is not later than from"`
}

// DaysOff are days on which nobody works.
type DaysOff struct {
	From string `json:"from" rule:"date" example:"2026-05-01" jsonschema:"the first day"`
	To   string `json:"to,omitempty" rule:"date" example:"2026-05-03" jsonschema:"the last day; the first one where left out"`
	Why  string `json:"why,omitempty" example:"holiday" jsonschema:"the reason"`
}

// Work is one work, and how far it keeps behind the one before it.
type Work struct {
	Work   string         `json:"work" oneof:"set-out|dig|bed|set|fill|cables|cover|test" example:"bed" jsonschema:"set-out, dig, bed, set, fill, cables, cover or test"`
	Behind measure.Length `json:"behind,omitempty" in:"[0,)" example:"6 m" jsonschema:"the work before it is done at least so far ahead"`
	Wait   string         `json:"wait,omitempty" rule:"hours" example:"12 h" jsonschema:"so long ago by the clock, as mortar has to harden"`
	Lag    string         `json:"lag,omitempty" rule:"hours" example:"4 h" jsonschema:"so many working hours ago"`
	From   string         `json:"from,omitempty" ref:"document" example:"D2" jsonschema:"document id that says so"`
}

// Gang is people and plant that do one thing at a time.
type Gang struct {
	ID       string        `json:"id" rule:"id" example:"dig-1" jsonschema:"name of the gang"`
	Title    string        `json:"title,omitempty" example:"excavator 8 t, two people" jsonschema:"who and what it is"`
	Calendar string        `json:"calendar" example:"day" jsonschema:"calendar that it works by"`
	Does     []Rate        `json:"does" jsonschema:"what it does, and how fast"`
	Legs     []string      `json:"legs,omitempty" ref:"leg" example:"A" jsonschema:"legs that it works on; all of them where left out"`
	Begins   string        `json:"begins,omitempty" oneof:"low|high|either" example:"low" jsonschema:"at which end of a leg it begins: low or high chainage, or either, and the better one is looked for; where the leg is laid from where left out"`
	People   Entry[int]    `json:"people,omitzero" in:"[1,)" example:"3" jsonschema:"how many people"`
	Cost     Entry[string] `json:"cost,omitzero" rule:"decimal" example:"185.00" jsonschema:"what it costs in an hour that it works, with its plant"`
}

// Rate is how fast a gang does one work.
type Rate struct {
	Work string        `json:"work" oneof:"set-out|dig|bed|set|fill|cables|cover|test" example:"dig" jsonschema:"set-out, dig, bed, set, fill, cables, cover or test"`
	Rate Entry[string] `json:"rate,omitzero" rule:"rate" example:"18 m3/h" jsonschema:"how much in an hour or a shift: m3 of dig, bed and fill, no of units, covers and joints, m or ft of run for all of them; a work without it has no dates"`
}

// TimeWindow is when something may be done, or may not.
type TimeWindow struct {
	ID    string         `json:"name" example:"notice-1" jsonschema:"name or number of the notice; one may stand there for several stretches"`
	Kind  string         `json:"kind" oneof:"notice|closure|halt" example:"notice" jsonschema:"notice: a locate notice or permit, work goes on only while it holds; closure: work goes on only in these hours; halt: nothing goes on, for weather or frost"`
	Works []string       `json:"works" oneof:"set-out|dig|bed|set|fill|cables|cover|test" example:"dig" jsonschema:"works that it is for"`
	Leg   string         `json:"leg,omitempty" ref:"leg" example:"A" jsonschema:"leg that it is for; all of them where left out"`
	From  measure.Length `json:"from,omitempty" in:"[0,)" example:"12 m" jsonschema:"chainage where it begins; the leg's start where left out"`
	To    measure.Length `json:"to,omitempty" in:"(0,)" example:"36 m" jsonschema:"chainage where it ends; the leg's end where left out"`
	Given string         `json:"given,omitempty" rule:"date" example:"2026-03-30" jsonschema:"of a notice: the day on which it was given"`
	Lead  int            `json:"lead,omitempty" in:"[0,)" example:"2" jsonschema:"of a notice: working days, Monday to Friday, that pass before work may begin"`
	First string         `json:"first,omitempty" rule:"date" example:"2026-04-13" jsonschema:"of a closure or a halt: the first day"`
	Last  string         `json:"last,omitempty" rule:"date" example:"2026-05-08" jsonschema:"the last day: a notice lapses behind it"`
	Opens string         `json:"opens,omitempty" rule:"clock" example:"22:00" jsonschema:"of a closure: when it begins each day"`
	Shuts string         `json:"shuts,omitempty" rule:"clock" example:"05:00" jsonschema:"of a closure: when it ends, on the next day where that is not later than opens"`
	Why   string         `json:"why,omitempty" example:"yard road" jsonschema:"the reason"`
}

// ComingLoad is a load that a stretch waits for.
type ComingLoad struct {
	ID   string         `json:"name" example:"L1" jsonschema:"name or number of the load; one may stand there for several stretches"`
	Work string         `json:"work" oneof:"set-out|dig|bed|set|fill|cables|cover|test" example:"set" jsonschema:"work that waits for it"`
	Leg  string         `json:"leg" ref:"leg" example:"A" jsonschema:"leg that it is for"`
	From measure.Length `json:"from,omitempty" in:"[0,)" example:"0 m" jsonschema:"chainage from which it is laid; the leg's start where left out"`
	To   measure.Length `json:"to,omitempty" in:"(0,)" example:"48 m" jsonschema:"chainage until which it is; the leg's end where left out"`
	On   string         `json:"on" rule:"date" example:"2026-04-15" jsonschema:"day on which it comes"`
	At   string         `json:"at,omitempty" rule:"clock" example:"09:00" jsonschema:"hour at which it is there; the beginning of the day where left out"`
	What string         `json:"what,omitempty" example:"8 bundles of units" jsonschema:"what is on it"`
}

// ReadClock reads an hour of the day in seconds: 07:00, 24:00.
func ReadClock(text string) (int, error) {
	h, m, ok := strings.Cut(text, ":")
	hours, err1 := strconv.Atoi(h)
	minutes, err2 := strconv.Atoi(m)
	if !ok || len(h) != 2 || len(m) != 2 || err1 != nil || err2 != nil || hours < 0 || minutes < 0 || minutes > 59 || hours*60+minutes > 24*60 {
		return 0, errors.New("it is no hour of the day")
	}
	return (hours*60 + minutes) * 60, nil
}

// ReadHours reads a span of time in seconds: 4 h, 30 min, 2 d of 24 hours each.
func ReadHours(text string) (int, error) {
	for _, unit := range []struct {
		name string
		size float64
	}{{"min", 60}, {"h", 3600}, {"d", 86400}} {
		number, ok := strings.CutSuffix(strings.TrimSpace(text), unit.name)
		if number = strings.TrimSpace(number); ok && isDecimal(number) {
			x, err := strconv.ParseFloat(number, 64)
			if err != nil || x > 1e5 {
				return 0, errors.New("it is longer than anybody waits")
			}
			return int(float64(x*unit.size) + 0.5), nil
		}
	}
	return 0, errors.New("it is no span of hours")
}

// Speed is how much of something is done in an hour, or in a shift.
type Speed struct {
	Of       string  // m3, no, or m of run
	Amount   float64 // m³, pieces or m
	PerShift bool
}

// ReadRate reads a rate: 18 m3/h, 40 m/shift, 6 no/h, 12 yd3/h, 60 ft/shift.
func ReadRate(text string) (Speed, error) {
	amount, per, ok := strings.Cut(text, "/")
	per = strings.TrimSpace(per)
	if !ok || per != "h" && per != "shift" {
		return Speed{}, errors.New("it says neither /h nor /shift")
	}
	for _, unit := range []struct {
		name, of string
		size     float64
	}{{"m3", "m3", 1}, {"m³", "m3", 1}, {"yd3", "m3", cubicYard}, {"yd³", "m3", cubicYard}, {"no", "no", 1}, {"ft", "m", 0.3048}, {"m", "m", 1}} {
		number, is := strings.CutSuffix(strings.TrimSpace(amount), unit.name)
		if number = strings.TrimSpace(number); !is || !isDecimal(number) {
			continue
		}
		x, err := strconv.ParseFloat(number, 64)
		if err != nil || x <= 0 {
			return Speed{}, errors.New("it is not above 0")
		}
		return Speed{unit.of, float64(x * unit.size), per == "shift"}, nil
	}
	return Speed{}, errors.New("it is no number of m3, yd3, no, m or ft")
}
