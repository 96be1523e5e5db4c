package field

import (
	"cmp"
	"slices"
	"strings"

	"trenchwright/base/sorting"
)

// Day is what the records of one day say, as its report has it. Which day a record is of is what the clock of its device said: that is
// shown, and decides nothing else.
type Day struct {
	Date        string    `json:"date"`
	Records     int       `json:"records"`
	People      []OfDay   `json:"people"` // name and role
	Instruments []OfDay   `json:"instruments"`
	Stages      []StageOf `json:"stages"` // in the order of the stages, of each what was done
	Photos      []string  `json:"photos"`
	Late        []string  `json:"late"` // records that correct one of another day
}

// OfDay is somebody or something, and in how many records.
type OfDay struct {
	Name    string `json:"name"`
	Of      string `json:"of"` // the role; the day of an instrument's last check
	Records int    `json:"records"`
}

// StageOf is what was done in one stage.
type StageOf struct {
	Stage string    `json:"stage"`
	Lines []DayLine `json:"lines"`
}

// DayLine is one record in words.
type DayLine struct {
	Time   string `json:"time"` // of day
	Person string `json:"person"`
	Where  string `json:"where"`
	Text   string `json:"text"`
	By     string `json:"by"`
	Gone   bool   `json:"gone"` // a later record took its place
}

// Day writes up the records of one day (2026-11-27), of one device or one person where those are named, each as say has it.
func (b *Book) Day(date, device, person string, say func(*Record) string) Day {
	d := Day{Date: date}
	var of []*entry
	for e := range b.records.all() {
		if strings.HasPrefix(e.Made, date) && (device == "" || e.Device == device) && (person == "" || e.Person == person) {
			of = append(of, e)
		}
	}
	slices.SortFunc(of, func(a, b *entry) int { return cmp.Or(cmp.Compare(a.Made, b.Made), inOrder(a, b)) })
	d.Records = len(of)
	stages := map[string][]DayLine{}
	for _, e := range of {
		d.People = counted(d.People, e.Person, e.Role)
		if i := e.Instrument; i != nil {
			d.Instruments = counted(d.Instruments, i.ID, i.Checked)
		}
		for _, p := range e.Photos {
			if !slices.Contains(d.Photos, p) {
				d.Photos = append(d.Photos, p)
			}
		}
		if old := b.records.of(e.Corrects); old != nil && !strings.HasPrefix(old.Made, date) {
			d.Late = append(d.Late, e.ID)
		}
		stage := StageOfKind(e.Kind)
		stages[stage] = append(stages[stage], DayLine{timeOf(e.Made), e.Person, strings.TrimSuffix(e.From+" to "+e.To, " to "), say(e.Record), e.ID, e.gone})
	}
	for _, stage := range dayOrder() {
		if lines := stages[stage]; len(lines) > 0 {
			d.Stages = append(d.Stages, StageOf{stage, lines})
		}
	}
	byName := func(a, b OfDay) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.Of, b.Of)) }
	sorting.By(d.People, byName)
	sorting.By(d.Instruments, byName)
	return d
}

func counted(list []OfDay, name, of string) []OfDay {
	i := slices.IndexFunc(list, func(o OfDay) bool { return o.Name == name && o.Of == of })
	if i < 0 {
		i, list = len(list), append(list, OfDay{Name: name, Of: of})
	}
	list[i].Records++
	return list
}

// timeOf is the time of day of an RFC 3339 time, to the minute.
func timeOf(made string) string {
	if _, at, ok := strings.Cut(made, "T"); ok && len(at) >= 5 {
		return at[:5]
	}
	return ""
}

// dayOrder is the order of a day's report: the weather and the words of the day, then the stages.
func dayOrder() []string {
	return []string{"Day", "Order", "Dig", "Bed", "Set", "Fill", "Cables", "Cover", "Inspect", "Hand over"}
}

// StageOfKind is the stage under which a kind is found.
func StageOfKind(k Kind) string {
	switch k {
	case Delivery, Count, Damage:
		return "Order"
	case Service, TrialHole:
		return "Dig"
	case Level, Rock, SetUp, Check:
		return "Bed"
	case Set, Gap, Angle, Cut, Entry, Bond, Fabric:
		return "Set"
	case Layer, LayerTest:
		return "Fill"
	case Area:
		return "Cables"
	case Part, Cover, CoverTest:
		return "Cover"
	case Inspection, Notice, Release, Nonconforming, Repair:
		return "Inspect"
	case Shot:
		return "Hand over"
	}
	return "Day"
}
