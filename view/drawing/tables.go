package drawing

import (
	"fmt"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// listing is the ledgers of one kind of sheet.
type listing struct {
	kind, title, note string
	ledgers           []ledger
}

// mostSheets is how many sheets of joints, or of covers, anybody wants on paper.
const mostSheets = 6

// TableSheets are the lists of a plan on sheets: what is cut, what is laid where, joints, set-out, bill, findings. What
// they say is what the tables of the workbook say, shown as people read it.
func TableSheets(p planner.Plan, j job.Job, style Style) []scene.Page {
	d := newDraft(p, j, style)
	var pages []scene.Page
	for _, l := range d.listings() {
		pages = append(pages, d.listed(l)...)
	}
	return pages
}

func (d *draft) listings() []listing {
	along := "; " + d.words.chainage + " of each leg from its first node"
	return slices.Concat([]listing{
		{kind: "cut", title: "Cutting list", note: "each bought " + d.words.unit + " and " + d.words.cover + " that is sawn, what comes from it and how it lies on it; left and right are those of somebody looking " + d.words.upChainage,
			ledgers: append(d.cutLedgers(), d.heldLedger())},
		{kind: "schedule", title: "Schedule in laying order", note: "plain " + d.words.units + " as their type, special ones by their mark; every " + d.words.cover + " lies wholly on one " + d.words.unit + along,
			ledgers: []ledger{d.scheduleLedger(), d.coverLedger()}},
		{kind: "joints", title: "Joints and where none may stand", note: "how much of each joint's gap, between least and greatest, is used up, and by what" + along, ledgers: append([]ledger{d.jointLedger()}, d.zoneLedgers()...)},
		{kind: "setout", title: capital(d.words.setOut), note: d.words.centreline + " of the run at the middle of each joint and at both ends of each leg" + along, ledgers: append(append([]ledger{d.pointLedger()}, d.gradeLedgers()...), d.setOutLedger(), d.pegLedger())},
	}, d.digListings(), []listing{d.checkListing(),
		{kind: "bill", title: "Bill of what is ordered", note: "spares by the rules that the job states; nothing is added that nobody asked for", ledgers: append(d.billLedgers(), d.totalsLedger())},
		{kind: "delivery", title: "Order and delivery", note: "what comes on which vehicle, in which order, and where it is put down; who drives, lifts and receives decides", ledgers: d.deliveryLedgers()},
		{kind: "findings", title: "Findings and proof", note: "this program calculates and keeps record; it decides nothing. Local codes, the supplier's drawings and the licensed engineer come first", ledgers: []ledger{d.findingLedger(), d.proofLedger()}},
	})
}

// listed sets one kind of sheet.
func (d *draft) listed(l listing) []scene.Page {
	sheetOf := func(i, n int) *sheet {
		title := l.title
		if n > 1 {
			title = fmt.Sprintf("%s, %d of %d", l.title, i+1, n)
		}
		s := &sheet{draft: d, kind: l.kind, title: title, note: l.note}
		if i+1 < n && slices.ContainsFunc(l.ledgers[0].notes, func(n ledgerNote) bool { return n.letter != "" }) {
			s.note += "; what the letters say stands where the list ends"
		}
		if l.kind != "findings" {
			s.concerns, s.general = d.concerns(d.listConcern(l.kind)), d.concerns(general)
		}
		s.frame(i + 1)
		return s
	}
	box, size := sheetOf(0, 1).free, d.style.Size.small()
	var printed []ledger
	for _, one := range l.ledgers {
		if len(one.groups) > 0 && (one.most == 0 || len(pressedIn(box, letterings(size)[0], []ledger{one})) <= one.most) {
			printed = append(printed, one)
		}
	}
	if len(printed) == 0 {
		return nil
	}
	laid := pressed(box, size, printed)
	var pages []scene.Page
	for i, marks := range laid {
		s := sheetOf(i, len(laid))
		s.add(marks...)
		pages = append(pages, s.page)
	}
	return pages
}

// listConcern chooses the findings that a kind of list tells in full: those of pieces on the cutting list, those of places
// without a piece beside the joints.
func (d *draft) listConcern(kind string) func(finding.Finding) bool {
	return func(f finding.Finding) bool {
		_, piece := d.place(f.Where.Place)
		switch kind {
		case "cut":
			return piece
		case "joints":
			return !general(f) && !piece
		}
		return false
	}
}
