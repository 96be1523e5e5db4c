package field

import (
	"bytes"
	"strings"
	"testing"
)

// What is not understood is kept, counts nowhere, and is said.
func TestWhatIsNotUnderstoodIsKept(t *testing.T) {
	g := people(t)
	odd := []Record{
		g.makes("a", Set, "Z-001", "", SetSays{Within: true}), g.makes("a", Set, "A-001", "B-001", SetSays{Within: true}),
		g.makes("a", "what comes one day", "A-001", "", map[string]int{"x": 1}), g.makes("a", Delivery, "", "", map[string]int{"lines": 3}),
	}
	b := NewBook(small())
	b.Add(odd...)
	s := b.State("")
	if b.Len() != 4 || s.Records != 4 || len(s.Findings) != 4 || s.Legs[0].Set+s.Legs[1].Set != 0 {
		t.Fatalf("%d records, %d findings\n%s", b.Len(), len(s.Findings), said(s))
	}
	if !strings.Contains(said(s), "names Z-001, which is no stretch of one leg of this plan") || !strings.Contains(said(s), "names A-001 to B-001") {
		t.Error(said(s))
	}
	copied := g.makes("b", Set, "A-001", "", SetSays{Within: true})
	copied.ID = odd[0].ID
	b.Add(copied)
	if !strings.Contains(said(b.State("")), "Two different records have the id") {
		t.Error(said(b.State("")))
	}
}

// The two ends of what an id can hold, worked by hand from the form of ULIDs.
func TestULID(t *testing.T) {
	if got := ULID(0, [10]byte{}); got != strings.Repeat("0", 26) || !isULID(got) {
		t.Error(got)
	}
	if got := ULID(1<<48-1, [10]byte{255, 255, 255, 255, 255, 255, 255, 255, 255, 255}); got != "7"+strings.Repeat("Z", 25) || !isULID(got) {
		t.Error(got)
	}
	// The example of the published form, https://github.com/ulid/spec (time 1469922850259 as 01ARZ3NDEKT..., from memory).
	if got := ULID(1469922850259, [10]byte{}); got[:10] != "01ARZ3NDEK" {
		t.Error(got)
	}
	for _, bad := range []string{"", "01ARZ3NDEKTSV4RRFFQ69G5FA", "8ZZZZZZZZZZZZZZZZZZZZZZZZZ", "01ARZ3NDEKTSV4RRFFQ69G5FAI", "01ARZ3NDEKTSV4RRFFQ69G5Fa-"} {
		if isULID(bad) {
			t.Errorf("%q passes for one", bad)
		}
	}
}

func TestReadSaysWhatIsNoRecord(t *testing.T) {
	g := people(t)
	var file bytes.Buffer
	if err := Write(&file, []Record{g.makes("a", Note, "", "", nil)}); err != nil {
		t.Fatal(err)
	}
	file.WriteString("\n{\n{\"id\":\"x\"}\n{\"id\":\"01ARZ3NDEKTSV4RRFFQ69G5FAV\",\"kind\":\"note\"}\n")
	list, faults := Read(&file)
	if len(list) != 1 || len(faults) != 3 || faults[0].Where.Line != 3 || !strings.Contains(faults[1].Text, "line 4 is no record: id \"x\" is no ULID") {
		t.Errorf("%d records\n%v", len(list), faults)
	}
	if _, faults := Read(strings.NewReader(strings.Repeat("x", longestLine+1))); len(faults) != 1 || !strings.Contains(faults[0].Text, "more than 1048576 bytes") {
		t.Error(faults)
	}
}

// What this version does not know of a record is written as it came.
func TestMembersOfLaterVersionsAreKept(t *testing.T) {
	line := `{"id":"01ARZ3NDEKTSV4RRFFQ69G5FAV","device":"a","number":1, "kind":"set","from":"A-001","weather":{"rain": 3},"says":{"within":true,"crew":4}}`
	list, faults := Read(strings.NewReader(line))
	var file bytes.Buffer
	if err := Write(&file, list); err != nil || len(faults) > 0 || file.String() != line+"\n" {
		t.Fatalf("%v %v\n%s", err, faults, file.String())
	}
	if stateOf(list...).at("A-001").Set.Is != Yes {
		t.Error("it does not count")
	}
}

func FuzzRead(f *testing.F) {
	f.Add(`{"id":"01ARZ3NDEKTSV4RRFFQ69G5FAV","device":"a","number":1,"kind":"set","from":"A-001","says":{"within":true,"off":[{"place":"A-001","by":"7 mm"}]}}`)
	f.Add(`{"id":"01ARZ3NDEKTSV4RRFFQ69G5FAV","device":"a","number":1,"kind":"layer test","from":"A-001","says":{"met":true,"number":-1}}`)
	f.Add(`{"id":"01ARZ3NDEKTSV4RRFFQ69G5FAV","device":"a","number":1,"kind":"count","corrects":"01ARZ3NDEKTSV4RRFFQ69G5FAV","says":{"lines":[{}]}}`)
	f.Fuzz(func(t *testing.T, text string) {
		list, _ := Read(strings.NewReader(text))
		b := NewBook(small())
		b.Add(list...)
		b.State("")
	})
}
