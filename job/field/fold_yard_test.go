package field

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
)

// Whoever counts starts anew: what was known before is in the count, what comes after moves it. A unit that is set again takes one.
func TestCountStartsAnew(t *testing.T) {
	g := people(t)
	came := g.makes("a", Delivery, "", "", DeliverySays{Ticket: "t1", Lines: []Delivered{{Piece: plain, Came: 10, Damaged: 1}}})
	set := g.makes("b", Set, "A-001", "A-003", SetSays{Within: true})
	if got := stateOf(came, set).has(plain); got.Have != 6 || got.Came != 10 || got.Used != 3 || got.Damaged != 1 {
		t.Fatalf("10 came, 1 broken, 3 set: %+v", got)
	}
	count := g.makes("a", Count, "", "", CountSays{[]Counted{{Piece: plain, Count: 5}}, map[string]int{"a": 1, "b": 1}})
	if got := stateOf(came, set, count).has(plain); got.Have != 5 || !slices.Equal(got.By, []string{count.ID}) {
		t.Fatalf("5 were counted: %+v", got)
	}
	more := g.makes("a", Delivery, "", "", DeliverySays{Ticket: "t2", Lines: []Delivered{{Piece: plain, Came: 4}}})
	next := g.makes("b", Set, "B-001", "", SetSays{Within: true})
	if got := stateOf(next, more, count, set, came).has(plain); got.Have != 8 {
		t.Fatalf("5 were counted, 4 came, 1 was set: %+v", got)
	}
	few := g.makes("a", Delivery, "", "", DeliverySays{Ticket: "t3", Lines: []Delivered{{Piece: plain, Came: 2}}})
	if s := stateOf(set, few); !strings.Contains(said(s), "More of T3 unit 3000 mm was used than there was: came 2, damaged 0, set or cut 3.") {
		t.Errorf("nothing is said of units that never came:\n%s", said(s))
	}
	if s := stateOf(set); len(s.Findings) > 0 {
		t.Errorf("where nobody records what comes, something is short:\n%s", said(s))
	}
}

// What lay when somebody counted did not come out of the yard once more, whether it was lifted and put back since, or its record was
// put right; nor did what came then.
func TestCountKnowsWhatLayAlready(t *testing.T) {
	g := people(t)
	came := g.makes("yard", Delivery, "", "", DeliverySays{Ticket: "T1", Lines: []Delivered{{Piece: lid, Came: 9}, {Piece: plain, Came: 5}}})
	set := g.makes("a", Set, "A-001", "", SetSays{Within: true})
	laid := g.makes("a", Cover, "A-001", "", CoverSays{Done: "laid"})
	count := g.makes("yard", Count, "", "", CountSays{[]Counted{{Piece: lid, Count: 7}, {Piece: plain, Count: 4}}, map[string]int{"yard": 1, "a": 2}})
	lifted := g.makes("a", Cover, "A-001", "", CoverSays{Done: "lifted"})
	back := g.makes("b", Cover, "A-001", "", CoverSays{Done: "laid"}, lifted.ID)
	right := g.makes("a", Set, "A-001", "", SetSays{Within: true})
	right.Corrects = set.ID
	ticket := g.makes("yard", Delivery, "", "", DeliverySays{Ticket: "T1", Lines: []Delivered{{Piece: lid, Came: 8}, {Piece: plain, Came: 5}}})
	ticket.Corrects = came.ID
	more := g.makes("b", Cover, "A-002", "", CoverSays{Done: "laid"})
	put := g.makes("c", Cover, "A-003", "", CoverSays{Done: "laid"}) // counted as gone too: its lids are told by three who knew each of the one before
	off := g.makes("0", Cover, "A-003", "", CoverSays{Done: "lifted"}, put.ID)
	on := g.makes("1", Cover, "A-003", "", CoverSays{Done: "laid"}, off.ID)
	count.Says = json.RawMessage(strings.Replace(string(count.Says), `"a":2`, `"a":2,"c":1`, 1))
	all := []Record{came, set, laid, count, lifted, back, right, ticket, more, put, off, on}
	for range 20 {
		g.r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		s := stateOf(all...)
		if n := s.has(lid).Have; n != 5 {
			t.Errorf("%d covers in the yard: 7 were counted, 2 were laid since", n)
		}
		if n := s.has(plain).Have; n != 4 {
			t.Errorf("%d units in the yard: 4 were counted, none was set since", n)
		}
	}
}
