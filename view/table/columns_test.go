package table

import (
	"reflect"
	"testing"

	"trenchwright/base/measure"
)

func TestShelves(t *testing.T) {
	one := Table{Name: "t", Columns: []Column{{Key: "a", Head: "what"}, {Key: "l", Head: "length", Kind: KindLength, Places: 1}, {Key: "n", Kind: KindCount}}, Rows: [][]Cell{
		{Text("x"), Length(1500 * measure.Micrometre), Count(3)}, {{}, Text("NOT CHECKED"), {}}}}
	heads, rows := one.Shown()
	got := one.Shelves()
	for i, s := range got {
		if s.Head != heads[i] {
			t.Errorf("head %q, want %q", s.Head, heads[i])
		}
		for r := range rows {
			if s.Texts[r] != rows[r][i] {
				t.Errorf("cell %q, want %q", s.Texts[r], rows[r][i])
			}
		}
	}
	if l := got[1]; !l.Numeric || !reflect.DeepEqual(l.Figures, []float64{1.5, 0}) || !reflect.DeepEqual(l.Known, []bool{true, false}) {
		t.Errorf("length: %+v", l)
	}
	if got[0].Numeric || got[0].Figures != nil {
		t.Error("text is no figure")
	}
}
