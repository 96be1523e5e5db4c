package dossier

import (
	"slices"
	"testing"
)

// TestAPhotoOfACardIsToldOnce tells the photo of a day card in one line, however many records it came with, and others apart from it.
func TestAPhotoOfACardIsToldOnce(t *testing.T) {
	got := together([]named{
		{"c", "F-001", "set", "", "2026-11-27", "B", "office", "office/1", ""}, {"c", "F-001", "level", "", "2026-11-27", "B", "office", "office/3", ""}, {"d", "F-002", "note", "", "2026-11-27", "B", "phone", "phone/1", ""},
		{"c", "F-002", "set", "", "2026-11-27", "B", "office", "office/4", ""}, {"c", "F-002", "set", "", "2026-11-28", "B", "office", "office/9", ""},
	})
	want := []named{
		{"c", "F-001 first, F-002 last", "set, level", "", "2026-11-27", "B", "office", "office/1 and 2 more", ""}, {"d", "F-002", "note", "", "2026-11-27", "B", "phone", "phone/1", ""},
		{"c", "F-002", "set", "", "2026-11-28", "B", "office", "office/9", ""},
	}
	if !slices.Equal(got, want) {
		t.Errorf("%v\nwant %v", got, want)
	}
}
