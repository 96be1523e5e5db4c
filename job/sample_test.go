package job

import "testing"

// sampleText is an invented job with something of everything in it. It has no faults.
const sampleText = `{
  "format": 1, "id": "yard-7", "name": "Feeder along the east fence", "owner": "invented works", "by": "site engineer", "on": "2026-03-02",
  "revision": {"id": "r2", "parents": "r1", "author": "site engineer", "device": "office", "note": "tee moved"},
  "system": "metric", "words": "uk",
  "coordinates": {"system": "works grid", "height_datum": "works datum", "unit": "m", "scale_factor": 0.99963, "scale_from": "D3",
    "line": {"kind": "offset", "side": "left", "offset": "1200 mm", "from": "kerb"}, "origin": [1000, 2000]},
  "documents": [
    {"id": "D1", "title": "unit drawing", "revision": "B", "page": 3, "entered_by": "site engineer", "entered_on": "2026-03-02"},
    {"id": "D2", "title": "specification", "revision": "2", "entered_by": "site engineer", "entered_on": "2026-02-28"},
    {"id": "D3", "title": "control survey"}],
  "supplies": [
    {"id": "trough", "title": "trough 600 x 500", "from": "D1",
      "unit": {"lengths": ["3000 mm", "1500 mm"], "inner": "600 mm x 500 mm", "outer": {"value": "780 mm × 600 mm", "page": "4"},
        "mass": "612.5 kg/m", "ends": "plain", "may_turn": true, "out_of_square": "3 mm", "height_tolerance": "3 mm",
        "cast_in": [{"kind": "insert", "name": "L1", "of": "3000 mm", "at": "600 mm", "end": "B", "side": "left", "edge": "250 mm", "level": "400 mm"},
          {"kind": "drain", "of": "1500 mm", "at": "750 mm", "side": "floor", "diameter": "60 mm"}],
        "no_cut": [{"of": "3000 mm", "from": "550 mm", "to": "650 mm", "why": "inserts"}], "batch_note": "none seen yet"},
      "joint": {"gap": "10 mm in 8 mm..14 mm", "mitre_gap": "12 mm", "end_gap": "10 mm"},
      "saw": {"shortest": "600 mm", "kerf": {"assumed": "5 mm", "by": "foreman", "on": "2026-03-01", "note": "measured on two"},
        "least_slice": "8 mm", "keep_factory_end": true},
      "cover": {"lengths": ["996 mm", "496 mm"], "gap": "4 mm in 2 mm..8 mm", "width": "700 mm", "thickness": "80 mm", "thickness_tolerance": "2 mm", "shortest": "300 mm",
        "mass": "130 kg/m", "may_turn_over": false, "rating": "as the sheet says", "cut_keeps_rating": false, "lifted_by": "keys"},
      "bearing": {"on": "pads", "pad_along": "300 mm", "pad_across": "900 mm", "pad_thick": "20 mm"},
      "lifting": {"by": "inserts", "hook": "ring clutch", "cut_lift": "not by inserts", "off_centre": "60 mm"},
      "fittings": [{"id": "tee-1", "kind": "tee", "title": "cast tee", "from": "D2", "fall": "level", "mass": "1.18 t",
        "arms": [{"name": "through", "length": "900 mm"}, {"name": "through-2", "length": "900 mm"}, {"name": "branch", "length": "750 mm", "supply": "heavy"}],
        "covers": [{"name": "C-1", "count": 2, "mass": "95 kg"}]},
        {"id": "bend-45", "kind": "bend", "angle": "45°", "arms": [{"length": "700 mm"}, {"length": "700 mm"}]}],
      "loose_parts": [{"name": "joint seal", "per": "joint", "number": 1.9, "unit": "m", "pack": 25, "from": "D1"}],
      "stacking": {"units_per_bundle": 2, "covers_per_pallet": 8, "pads_per_pallet": 200},
      "rating": {"value": "as the sheet says", "page": "2"}, "cut_keeps_rating": false},
    {"id": "heavy", "unit": {"lengths": "3000 mm"}, "joint": {"gap": "10 mm"}, "saw": {"no_cuts": true}}],
  "route": {
    "nodes": [{"id": "N1", "at": [1000, 2000.5], "level": 101.25, "end": {"kind": "building", "thickness": "250 mm", "face": "outer"}, "note": "substation"},
      {"id": "N2", "at": [1060.25, 2000.5], "fitting": "tee-1", "through": ["A", "B"]},
      {"id": "N3", "at": [1100, 2000.5], "end": {"kind": "existing", "level": 101, "skew": "-1.5°", "section": "780 mm x 600 mm", "gap": "15 mm"}},
      {"id": "N4", "at": [1060.25, 1980], "end": {"kind": "plate", "thickness": "120 mm"}},
      {"id": "N5", "at": [1020, 2020], "end": {"kind": "open"}},
      {"id": "N6", "at": [1020, 2001], "sawn": {"into": "A", "opening": "600 mm", "clear": "150 mm"}}],
    "legs": [{"id": "A", "from": "N1", "to": "N2", "via": [{"at": [1030, 2000.5], "radius": "450 m"}], "lay_from": "N2", "first": "1500 mm", "hold": true,
        "crossings": [{"id": "X1", "name": "gate", "at": "31.2 m", "path": "3500 mm", "margin": "500 mm", "skew": "75°", "supply": "heavy", "reach": "600 mm",
          "strips": [{"from": "-1100 mm", "to": "-700 mm"}, {"from": "700 mm", "to": "1100 mm", "detail": "D2"}], "may_cut": true, "vehicle": "lorry"}],
        "entries": [{"id": "E1", "at": "12.4 m", "side": "left", "diameter": "110 mm", "clear": "100 mm", "level": "250 mm"}],
        "services": [{"id": "W1", "name": "water main", "at": "55 m", "width": "200 mm", "clear": "300 mm", "skew": "60°", "depth": "900 mm", "quality": "trial hole"}],
        "supports": [{"id": "P1", "at": "1500 mm", "every": "1500 mm", "width": "60 mm", "clear": "50 mm"}],
        "zones": [{"id": "Z1", "from": "20 m", "to": "21.5 m", "why": "mast"}],
        "joints": [{"id": "J1", "at": "30 m", "tol": "5 mm", "why": "movement joint"}],
        "built": {"to": "A-002", "courses": [{"from": "A-001", "length": "1500 mm", "start": "0 mm"}, {"from": "A-002", "to": "A-004", "supply": "trough", "length": "3000 mm", "start": "1510 mm", "pitch": "3010 mm"},
          {"from": "A-004A", "length": "800 mm", "stock": "1500 mm", "start": "10540 mm", "with": ["A-006"]}], "grades": [{"to": "A-002", "grade": "-0.3 %"}, {"to": "A-004A"}], "counted": ["01JD0000000000000000000001"], "withdrawn": ["A-005"]}},
      {"id": "B", "from": "N2", "to": "N3"}, {"id": "C", "from": "N2", "to": "N4", "supply": "heavy"}, {"id": "D", "from": "N6", "to": "N5"}]},
  "overrides": [{"stop": "lifting.set/L1", "figures": "2900 kg against 2600 kg", "by": "V. Alder", "reason": "it stands nearer", "document": "D2", "on": "2026-03-06"}],
  "programme": {"from": "D2", "start": "2026-04-07", "stretch": "24 m", "open": "60 m", "currency": "EUR",
    "calendars": [{"id": "day", "shifts": [{"days": ["mon", "tue"], "from": "07:00", "to": "15:30"}], "off": [{"from": "2026-05-01", "to": "2026-05-03", "why": "holiday"}]}],
    "works": [{"work": "dig"}, {"work": "bed", "behind": "6 m", "wait": "12 h", "lag": "4 h", "from": "D2"}],
    "gangs": [{"id": "dig-1", "title": "excavator", "calendar": "day", "does": [{"work": "dig", "rate": "18 m3/h"}, {"work": "bed", "rate": "120 m/shift"}], "legs": ["A"], "begins": "either", "people": 3, "cost": "185.00"}],
    "windows": [{"name": "n1", "kind": "notice", "works": ["dig"], "leg": "A", "from": "1 m", "to": "20 m", "given": "2026-03-30", "lead": 2, "last": "2026-05-08", "why": "mains"},
      {"name": "c1", "kind": "closure", "works": ["dig", "bed"], "first": "2026-04-13", "last": "2026-04-17", "opens": "22:00", "shuts": "05:00"}],
    "loads": [{"name": "L1", "work": "bed", "leg": "A", "from": "0 m", "to": "20 m", "on": "2026-04-15", "at": "09:00", "what": "stone"}]},
  "ground": {"from": "D3", "surfaces": [{"id": "natural", "role": "existing", "file": "survey.csv", "columns": "PENZC", "unit": "m", "edge": "40 m"},
    {"id": "paving", "role": "finished", "file": "paving.xml", "name": "FG", "from": "D2"}]},
  "set_out": {"from": "D3", "benchmarks": [{"id": "BM1", "at": [1004.2, 2011.5], "where": "bolt in the kerb", "level": 101.482, "from": "D3"}, {"id": "BM2", "where": "step of the substation", "level": 101.9}],
    "control": [{"id": "CP1", "at": [1004.2, 2011.5], "where": "nail", "level": 101.2, "from": "D3"}, {"id": "CP2", "at": [1050, 2030]}],
    "pegs": [{"side": "right", "offset": "3 m", "from": "D3"}, {"leg": "A", "side": "both", "offset": "4 m", "at": ["5 m", "10 m"]}]},
  "levels": {"from": "D2", "above": "0 mm", "grades": "straight", "least": "0.3 %", "most": {"value": "5 %", "page": 12}, "stepped_beyond": "8 %", "setting": "0.05 %", "beam": "1200 mm", "reading": "1 mm",
    "apart": 3, "break": "200 mm", "above_weight": "1", "below_weight": 2,
    "stretches": [{"leg": "A", "from": "12 m", "to": "36 m", "grades": "follow", "toward": "N2", "least": "0.5 %", "most": "3 %", "crossfall": "-2 %"}],
    "pins": [{"id": "L1", "leg": "A", "at": "31.2 m", "level": 101.25, "of": "cover", "why": "kerb"}],
    "outlets": [{"id": "O1", "leg": "A", "at": "24 m", "into": "manhole 7", "of": "both", "drain": 100.15}],
    "drain": {"diameter": "110 mm", "below": "150 mm", "wall": "3.2 mm", "deepest": "900 mm", "least": "1:200", "most": "8 %", "setting": "0.05 %", "break": "2 m", "bedding": "100 mm",
      "ways": [{"leg": "A", "toward": "N2", "from": "1 m", "to": "36 m"}], "surround": "100 mm", "trench": "400 mm", "offset": "-250 mm"}},
  "dig": {"from": "D2", "jurisdiction": "osha", "soil": {"value": "B", "by": "competent person", "on": "2026-03-01"}, "sides": "benched", "slope": "1:1",
    "bench": {"height": "1200 mm", "width": "1200 mm"}, "room": "450 mm", "compactor": "plate", "over_dig": "50 mm", "bed": "150 mm", "topsoil": "200 mm",
    "layer": "200 mm", "fabric": {"lap": "500 mm", "sheet": "50 m", "up": "300 mm"}, "bulking": [{"of": "soil", "loose": 1.25, "compacted": "0.9", "from": "D2"}],
    "reuse": true, "load": 8, "strip": {"left": "6 m", "right": "9 m", "setback": "1 m", "heap": "1:1.5", "uses": [{"what": "spoil", "side": "left"}, {"what": "plant", "side": "right", "width": "3 m"}]},
    "influence": "1:1", "tolerance": "500 mm", "upright": "600 mm", "method": {"class": "plate-1800", "fill": "cohesive", "wholly_cohesive": true}, "surcharge": "1:1",
    "hours": 24, "signs": false, "wet": false, "oxygen": "20.9", "beside": "1:5", "support": {"document": "D2", "by": "the maker", "until": "4 m"}, "shield": {"above": "500 mm", "below": "300 mm"},
    "engineer": {"document": "D1", "by": "engineer for temporary works", "until": "6.5 m"}, "ladders": [{"leg": "A", "at": "12 m"}], "ladder_above": "1 m",
    "stretches": [{"leg": "A", "from": "12 m", "to": "20 m", "why": "beside the mast", "sides": "supported", "soil": "C", "wet": true, "signs": true, "hours": 12, "beside": "1:5", "upright": "0 mm",
      "slope": "1:2", "support": {"document": "D2", "by": "the maker", "until": "4 m"}}, {"leg": "A", "from": "20 m", "sides": "sloped"}], "walkways": [{"leg": "A", "at": "31 m", "guardrail": true}]},
  "rules": {"from": "D2", "drift_reserve": "1 mm", "lip_limit": {"value": "3 mm", "page": 11}, "saw_tolerance": "3 mm", "unit_scatter": "2 mm", "formation_tolerance": "20 mm", "bed_tolerance": "5 mm", "cover_tolerance": "6 mm",
    "spares": [{"what": "covers", "percent": 2.5, "at_least": 1, "from": "common practice"}, {"what": "joint seal", "percent": "5", "from": "D2"}],
    "points": [{"name": "formation", "kind": "hold", "before": "bed", "notice": "24 h", "to": "clerk of works", "release": "engineer", "from": "D2"}],
    "prefer": ["clearance", "few-lengths"]},
  "yard": [{"supply": "trough", "length": "3000 mm", "count": 4}, {"supply": "trough", "length": "1240 mm", "mark": "B-017/a", "ends": [{"factory": true}, {"angle": "-22.5°"}]}],
  "attachments": [{"name": "survey.csv", "sha256": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", "role": "survey"}]
}`

// sample is sampleText as a job of its own, which a test may spoil.
func sample(t testing.TB) Job {
	t.Helper()
	j, faults := FromJSON([]byte(sampleText))
	for _, f := range faults {
		t.Errorf("line %d column %d: %s %s", f.Where.Line, f.Where.Column, f.Text, f.Try)
	}
	if t.Failed() {
		t.FailNow()
	}
	return j
}
