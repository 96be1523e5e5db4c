package field

import (
	"encoding/json"
	"reflect"
	"testing"
)

// scan reads what encoding/json reads, to the same, or gives up.
func FuzzScan(f *testing.F) {
	g := people(f)
	for _, r := range g.made(60) {
		b, err := json.Marshal(r)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(b), string(r.Says))
	}
	f.Add(`{"id":"x","fix":{"latitude":1e2,"longitude":-0.5,"within_m":3},"instrument":{"id":"L","checked":"2026-11-01","set_up":"2"},"photos":["a"],"text":"é"}`, `{"Left":"1 mm","left":"2 mm","left":null}`)
	f.Add(`{}`, `{"of":"pad","four":["1 mm"],"read":["start left"]}`)
	f.Add(`{"number":-0,"number":1.5}`, `{"four":["1 mm",],"of":"\u0041"} `)
	f.Fuzz(func(t *testing.T, line, says string) {
		if r, ok := scanned([]byte(line), names{}); ok {
			var want Record
			if err := json.Unmarshal([]byte(line), &want); err != nil || !reflect.DeepEqual(r, want) {
				t.Fatalf("read as %+v\nwant %+v, %v", r, want, err)
			}
		}
		scans[SetSays](t, says)
		scans[GapSays](t, says)
		scans[LevelSays](t, says)
		scans[LayerSays](t, says)
		scans[CoverSays](t, says)
		scans[DeliverySays](t, says)
	})
}

func scans[T any](t *testing.T, text string) {
	t.Helper()
	var says, want T
	if !(&scan{}).hears([]byte(text), &says) {
		return
	}
	if err := json.Unmarshal([]byte(text), &want); err != nil || !reflect.DeepEqual(says, want) {
		t.Fatalf("%s was read as %+v, want %+v, %v", text, says, want, err)
	}
}

// Devices write what scan reads: only what people write by hand takes the slow way.
func TestDevicesWriteWhatIsReadQuickly(t *testing.T) {
	for _, r := range people(t).work(20, 400) {
		r.Instrument, r.Fix, r.Photos, r.Text = &Instrument{ID: "L7", Checked: "2026-11-02", SetUp: "3"}, &Fix{51.5, -0.125, 4}, []string{"ab"}, "so"
		line, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := scanned(line, names{}); !ok {
			t.Errorf("%s is read slowly", line)
		}
		e := entry{Record: &r}
		quickly := map[Kind]bool{Set: (&scan{}).hears(e.Says, &SetSays{}), Gap: (&scan{}).hears(e.Says, &GapSays{}), Level: (&scan{}).hears(e.Says, &LevelSays{}), Layer: (&scan{}).hears(e.Says, &LayerSays{}), Cover: (&scan{}).hears(e.Says, &CoverSays{}), Delivery: (&scan{}).hears(e.Says, &DeliverySays{})}
		if !quickly[r.Kind] {
			t.Errorf("%s is read slowly", r.Says)
		}
	}
}
