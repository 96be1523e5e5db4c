package screen

import (
	"encoding/json"
	"math"
	"reflect"
	"testing"

	"trenchwright/job/edit"
)

// TestEncode holds the encoder to encoding/json: both are read back to the same.
func TestEncode(t *testing.T) {
	x := 1.25
	for _, v := range []any{
		Card{Key: "unit/A-001", Title: "\"quoted\" \\ <b>&amp; \u2028 \x01 ½ \n", Groups: []CardGroup{{Name: "x", Rows: []CardRow{{Label: "a", Open: true}}}}, Proof: []string{}, Sources: []string{"a", ""},
			Tries: []Try{{Said: "move", Edits: []edit.Edit{{Op: edit.MoveNode, AtMM: &x, Place: &[2]float64{1, -2.5}, Fields: []edit.Field{{Name: "a"}}}}}}, Strip: [2]float64{0, 1234567.125}},
		Screen{Legs: []Leg{{Key: "leg/A", From: -0.5, Try: []string{"x"}}}, Units: Units{Mark: []string{"A-001"}, Leg: []int{0, -3}, From: Numbers{0, 1.5, 2.125, -7}, Flags: []int{}}},
		Finding{At: &x}, Finding{}, Table{Columns: []TableColumn{{Sort: Gaps{1, 2}}}},
	} {
		var got, want any
		text := encode(v)
		if err := json.Unmarshal(text, &got); err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		plain, _ := json.Marshal(v)
		json.Unmarshal(plain, &want)
		if got, want = listed(got), listed(want); !reflect.DeepEqual(got, want) {
			t.Errorf("%s\n%s", text, plain)
		}
	}
	for v, want := range map[float64]string{0: "0", 1: "1", -1.5: "-1.5", 0.001: "0.001", 0.0004: "0", 12.34: "12.34", -0.0001: "0", 1234567.8906: "1234567.891", math.Inf(1): "null", math.NaN(): "null"} {
		if got := string(appendThousandths(nil, v)); got != want {
			t.Errorf("%v: %s, want %s", v, got, want)
		}
	}
}

// listed makes empty lists of nulls that stand for lists: encode writes none.
func listed(v any) any {
	switch x := v.(type) {
	case map[string]any:
		for k := range x {
			x[k] = listed(x[k])
		}
	case []any:
		if len(x) == 0 {
			return nil
		}
		for k := range x {
			x[k] = listed(x[k])
		}
	}
	return v
}
