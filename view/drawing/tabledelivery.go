package drawing

import (
	"strings"

	"trenchwright/view/schedule"
)

// deliveryLedgers are how what is ordered comes; none where the job says nothing about deliveries.
func (d *draft) deliveryLedgers() []ledger {
	var out []ledger
	for _, t := range schedule.Of(d.plan, d.job).Delivery() {
		l := d.ledgerOf(t)
		switch t.Name {
		case "bundles":
			l.most = mostSheets
		case "receiving":
			for g := range l.groups {
				for r := range l.groups[g].rows {
					toWrite(l.groups[g].rows[r].cells, 3)
				}
			}
		}
		out = append(out, l)
	}
	return out
}

// toWrite makes room to write in the cells from one on that are empty.
func toWrite(cells []string, from int) {
	for i := from; i < len(cells); i++ {
		if cells[i] == "" {
			cells[i] = strings.Repeat("_", 8)
		}
	}
}
