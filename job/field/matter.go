package field

import (
	"cmp"
	"strings"
)

// What is broken and lies, and nonconformances, in words: where, what, by whom and when.

// Broken is a unit that lies and cannot be used, or of which people who did not know of each other say this and that.
type Broken struct {
	Leg     string   `json:"leg"`
	Place   string   `json:"place"`
	Damaged Fact     `json:"damaged"`
	Text    string   `json:"text"` // who says so and when, in their words
	By      []string `json:"by"`
}

// Broken are the units that are damaged and lie, in laying order.
func (b *Book) Broken() []Broken {
	var list []Broken
	b.each(func(at spot, u *UnitState) {
		if u.Damaged.Is == No || u.Set.Is == No && len(u.Set.By) > 0 { // lifted: it does not lie
			return
		}
		var said []string
		for _, id := range u.Damaged.By {
			e := b.records.of(id)
			says, _ := hear[DamageSays](e)
			text := "cannot be used"
			if says.Usable {
				text = "may be used as it is"
			}
			if e.Text != "" {
				text += ": " + e.Text
			}
			said = append(said, text+" (by "+cmp.Or(e.Person, "somebody")+" "+minute(e.Made)+")")
		}
		list = append(list, Broken{b.run.Legs[at.leg].ID, u.Place, u.Damaged, strings.Join(said, "; "), u.Damaged.By})
	})
	return list
}

// SayMatter is how a nonconformance stands, in words: where it is, what was found by whom and when, and what was decided.
func (b *Book) SayMatter(m *MatterState) string {
	text := map[Answer]string{Yes: "closed", No: "open", CantSay: "cannot say: people who did not know of each other closed it and left it open"}[m.Closed.Is]
	for _, e := range standing(b.matters[m.Number]) {
		says, _ := hear[MatterSays](e)
		what := strings.Trim(says.What+": "+e.Text, ": ")
		if e.Kind == Repair {
			what = strings.Trim("repair: "+what, ": ")
		}
		if says.By != "" || says.Answer != "" {
			what += ", decided by " + strings.Trim(says.By+": "+says.Answer, ": ")
		}
		text += "; " + strings.TrimSpace(what+b.stretchWords(e.From, e.To)) + " (" + cmp.Or(e.Person, "somebody") + " " + minute(e.Made) + ")"
	}
	return text
}
