package job

import (
	"strings"
	"testing"

	"trenchwright/base/finding"
)

// withDelivery is the sample job with a delivery, and with how its supply stacks units.
func withDelivery(delivery, units string) string {
	text := strings.Replace(sampleText, `"set_out": {`, `"delivery": `+delivery+`, "set_out": {`, 1)
	return strings.Replace(text, `"stacking": {"units_per_bundle": 2,`, `"stacking": {"units": `+units+`, "units_per_bundle": 2,`, 1)
}

const wholeDelivery = `{"from": "D2", "order": [{"leg": "B"}, {"leg": "A"}, {"leg": "C"}, {"leg": "D"}], "covers": "with", "ahead": "60 m", "cut_by": "site", "lift": "3200 kg", "loads_on_site": 2,
  "terms": [{"supply": "trough", "change_days": 21, "first_load": "2026-05-04"}],
  "vehicles": [{"id": "V1", "title": "lorry", "payload": "12 t", "deck_length": "7200 mm", "deck_width": "2450 mm", "deck_height": "2600 mm",
    "axles": {"deck_from": "-300 mm", "apart": "5300 mm", "front_empty": "5600 kg", "front_limit": "8 t", "rear_empty": "4900 kg", "rear_limit": "19 t"}}],
  "laydown": [{"id": "L1", "leg": "A", "at": "10 m", "long": "12 m", "side": "left", "edge": "2 m", "wide": "3 m", "bears": "20 t", "supports": 12}]}`

const wholeUnits = `{"wide": 1, "bearer": "80 mm", "bearers": 2, "packing": "20 kg", "high": 2, "on": ["units"]}`

func TestDeliveryComesBack(t *testing.T) {
	j, faults := FromJSON([]byte(withDelivery(wholeDelivery, wholeUnits)))
	if len(faults) > 0 {
		t.Fatal(texts(faults))
	}
	again, faults := FromJSON(CanonicalJSON(j))
	if len(faults) > 0 || Hash(again) != Hash(j) {
		t.Errorf("it comes back another: %s", texts(faults))
	}
	if got := strings.Join(j.Sequence(), ""); got != "BACD" {
		t.Errorf("laid in the order %s", got)
	}
	for _, f := range Missing(j) {
		if p := f.Where.Path; strings.HasPrefix(p, "delivery.vehicles") || strings.HasPrefix(p, "delivery.laydown") || strings.HasPrefix(p, "delivery.order") || strings.HasPrefix(p, "supplies[0].stacking.units.") {
			t.Errorf("said to be missing: %s", f.Text)
		}
	}
	bare, _ := FromJSON([]byte(withDelivery(`{"vehicles": [{"id": "V1"}], "laydown": [{"id": "L1", "leg": "A", "at": "10 m", "long": "12 m", "side": "left"}]}`, `{}`)))
	said := texts(Missing(bare))
	for _, want := range []string{"no payload of vehicle V1 on file. Ask: the haulier", "no length, width and height of the deck of vehicle V1 on file", "no whole set of axle figures of vehicle V1 on file", "no mass that the plant on site may lift on file",
		"no word on file about who saws and bores what is not plain", "no mass that may lie at laydown L1 on file", "no number side by side in a bundle of units of supply trough on file. Ask: the supplier", "no word on file about when legs A, B, C, D are laid"} {
		if !strings.Contains(said, want) {
			t.Errorf("not said: %s", want)
		}
	}
	for _, f := range Missing(bare) {
		if f.Kind != finding.NotChecked || len(finding.Speech(f)) > 0 {
			t.Errorf("%s: %v", f.Text, finding.Speech(f))
		}
	}
}

func TestDeliveryFaults(t *testing.T) {
	for want, change := range map[string][2]string{
		"terms of supply trough are written already":                          {`"terms": [`, `"terms": [{"supply": "trough"}, `},
		"front axles bear 9000 kg without a load, and their limit is 8000 kg": {`"front_empty": "5600 kg"`, `"front_empty": "9 t"`},
		"payload is 0 kg. It has to be more than 0 g":                         {`"payload": "12 t"`, `"payload": "0 kg"`},
		"deck length is 0 mm. It has to be more than 0 mm":                    {`"deck_length": "7200 mm"`, `"deck_length": "0 mm"`},
		"bears is -1000 kg":        {`"bears": "20 t"`, `"bears": "-1 t"`},
		"leg \"Z\" does not exist": {`"order": [{"leg": "B"}`, `"order": [{"leg": "Z"}`},
		"3 lie side by side, and units_per_bundle says 2 in all":          {`"wide": 1, "bearer"`, `"wide": 3, "bearer"`},
		"says what a bundle may stand on, and high says that none stands": {`"high": 2, "on"`, `"high": 1, "on"`},
	} {
		text := withDelivery(wholeDelivery, wholeUnits)
		if !strings.Contains(text, change[0]) {
			t.Fatalf("nothing to change: %s", change[0])
		}
		_, faults := FromJSON([]byte(strings.Replace(text, change[0], change[1], 1)))
		if !strings.Contains(texts(faults), want) {
			t.Errorf("want %q, got %s", want, texts(faults))
		}
	}
}
