package field

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
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

// Day writes up the records of one day (2026-11-27), of one device or one person where those are named.
func (b *Book) Day(date, device, person string) Day {
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
		stages[stage] = append(stages[stage], DayLine{timeOf(e.Made), e.Person, strings.TrimSuffix(e.From+" to "+e.To, " to "), Words(e.Record), e.ID, e.gone})
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

// Words is what a record says, in words: figures as they were written, then what the person added.
func Words(r *Record) string {
	e := &entry{}
	e.enter(r, nil)
	said := ""
	switch r.Kind {
	case Set:
		said = e.setWords()
	case Gap:
		if s, ok := hear[GapSays](e); ok {
			said = fmt.Sprintf("gap %s left, %s right", s.Left, s.Right)
		}
	case Delivery:
		if s, ok := hear[DeliverySays](e); ok {
			var lines []string
			for _, l := range s.Lines {
				line := fmt.Sprintf("%d of %s", l.Came, l.Name(exact))
				if l.Damaged > 0 {
					line += fmt.Sprintf(", %d of them damaged", l.Damaged)
				}
				if l.Short > 0 {
					line += fmt.Sprintf(", %d short", l.Short)
				}
				lines = append(lines, line)
			}
			said = strings.TrimSpace("came "+strings.Join(lines, "; ")) + joined(", ticket ", s.Ticket)
		}
	case Layer:
		if s, ok := hear[LayerSays](e); ok {
			said = fmt.Sprintf("layer %d, %s", s.Number, s.Side) + joined(", ", s.Plant) + passes(s.Passes)
		}
	case Cover:
		if s, ok := hear[CoverSays](e); ok {
			said = "covers " + s.Done + joined(", but for ", strings.Join(s.Missing, ", "))
		}
	default:
		said = e.otherWords()
	}
	if said == "" {
		said = string(r.Kind)
	}
	if r.Corrects != "" {
		said += " (corrects " + r.Corrects + ")"
	}
	return said + joined(": ", r.Text)
}

func passes(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(", %d passes", n)
}

func joined(before, text string) string {
	if text == "" {
		return ""
	}
	return before + text
}

func (e *entry) setWords() string {
	s, ok := hear[SetSays](e)
	switch {
	case !ok:
		return ""
	case s.Lifted:
		return "lifted out"
	}
	said := "set"
	if s.Within {
		said += ", all within"
	}
	for _, o := range s.Off {
		said += fmt.Sprintf("; %s %s", o.Place, ahead(o.By))
	}
	return said + joined(", batch ", s.Batch)
}

// otherWords are those of the rarer kinds.
func (e *entry) otherWords() string {
	switch e.Kind {
	case Inspection, Notice, Release:
		s, _ := hear[PointSays](e)
		return string(e.Kind) + " of " + s.Point + joined(", ", s.Party) + joined(", ", s.Result) + joined(", until ", s.Until)
	case Event:
		s, _ := hear[EventSays](e)
		return s.What
	case Level:
		s, _ := hear[LevelSays](e)
		said := "level of the " + s.Of
		if at := s.At(); at != nil {
			said += " " + at[0].MString() + " m"
			if at[1] != at[0] || at[2] != at[0] || at[3] != at[0] {
				said += ", " + at[1].MString() + " m, " + at[2].MString() + " m, " + at[3].MString() + " m"
			}
		} else if s.Within != nil && *s.Within {
			said += ", all within"
		}
		return said
	case LayerTest, Bond, CoverTest:
		s, _ := hear[TestSays](e)
		met := ""
		if s.Met != nil {
			met = map[bool]string{true: ": met", false: ": not met"}[*s.Met]
		}
		return string(e.Kind) + joined(" ", s.Method) + joined(" ", s.Value) + joined(", limit ", s.Limit) + met
	case Service, TrialHole:
		s, _ := hear[ServiceSays](e)
		met := map[bool]string{true: " found, ", false: " not met, "}[s.Met]
		return s.Name + met + "leg " + s.Leg + " at " + s.At.MString() + " m" + joined(", ", string(s.Depth))
	case SetUp:
		s, _ := hear[SetUpSays](e)
		return "set up on " + s.Benchmark + ", height of instrument " + s.Height().MString() + " m"
	case Angle:
		s, _ := hear[AngleSays](e)
		return "angle " + s.Angle.String()
	case Area:
		s, _ := hear[AreaSays](e)
		return "handed over to " + s.To + joined(", ", s.Condition)
	case Nonconforming, Repair:
		s, _ := hear[MatterSays](e)
		return string(e.Kind) + " " + s.Number + joined(", ", s.What) + joined(", ", s.Answer) + map[bool]string{true: ", closed"}[s.Closed]
	}
	return ""
}

// ahead is how far something is off its place, in words.
func ahead(l measure.Length) string {
	if l < 0 {
		return l.Abs().String() + " behind"
	}
	return l.String() + " ahead"
}
