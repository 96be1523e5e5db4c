package earthwork

import "testing"

func TestNobodyTellsWithoutAFactorWhatTheFillTakes(t *testing.T) {
	open := Balance{Dug: (*Factor)(nil).Bank(7)}
	open.settle(nil, 3, true)
	if !open.Open || open.Back != (State{Compacted: 3}) || open.Leaves != (State{}) || open.In != (State{}) {
		t.Errorf("3 m³ of fill out of 7 m³ dug, no factor: %+v", open)
	}
	all := Balance{Dug: (*Factor)(nil).Bank(7)}
	all.settle(nil, 0, true)
	if all.Open || all.Leaves != (State{Bank: 7}) {
		t.Errorf("nothing is filled in, no factor: all 7 m³ leave, not %+v", all)
	}
	known := Balance{Dug: (&Factor{Loose: 1.25, Compacted: 0.5}).Bank(7)}
	known.settle(&Factor{Loose: 1.25, Compacted: 0.5}, 3, true)
	if known.Open || known.Leaves.Bank != 1 {
		t.Errorf("3 m³ compacted at 0.5 take 6 m³ of 7: 1 m³ leaves, not %+v", known)
	}
}
