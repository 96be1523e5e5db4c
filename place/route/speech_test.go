package route

import (
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// The same faults in UK words and metres, and in US words and feet: lengths by hand, 1 ft = 0.3048 m.
func TestFindingsInTheWordsOfTheJob(t *testing.T) {
	american := wording.Speech{US: true, Imperial: true}
	for _, c := range []struct{ text, uk, us string }{
		{"node N1 0 0\nnode N2 0 40\nnode N3 40 40\nnode N4 -5 20\nnode N5 5 20\nleg A N1 N2\nleg B N2 N3\nleg C N4 N5",
			"legs A and C cross at chainage 20.000 m of A (5.000 m of C) without a node",
			"legs A and C cross at station 65.62 ft of A (16.40 ft of C) without a node"},
		{"node N1 0 0\nnode N2 0 0.4\nnode N3 40 0.4\nleg A N1 N2\nleg B N2 N3",
			"the mitre at node N2 takes 450 mm of the inner face, and leg A is 400 mm long",
			`the miter at node N2 takes 1'-5 11/16" (17.717 in) of the inner face, and leg A is 1'-3 3/4" (15.748 in) long`},
	} {
		in := run(t, c.text)
		in.Width = 900 * measure.Millimetre
		if _, list := Build(in); !strings.Contains(texts(list), c.uk) {
			t.Errorf("got %s\nwant %s", texts(list), c.uk)
		}
		in.Speech = american
		if _, list := Build(in); !strings.Contains(texts(list), c.us) {
			t.Errorf("got %s\nwant %s", texts(list), c.us)
		}
	}
	in := run(t, "node N1 0 0\nnode N2 0 400\nleg A N1 N2")
	in.Scale, in.Speech = Scale{}, american
	if _, list := Build(in); !strings.Contains(texts(list), `400 ppm would be 6 5/16" on this run of 1312.3 ft`) {
		t.Errorf("got %s", texts(list))
	}
	d := Drawn{As: OuterFace, Apart: 457200 * measure.Micrometre, Right: true}
	if got, want := d.In(american), `the line drawn is the outer face on the right, looking up-station; the centerline lies 1'-6" to the left of it`; got != want {
		t.Errorf("got %s", got)
	}
}

// What a line refuses is worded once more for the job; what still fits is rounded down.
func TestRefusalsInTheWordsOfTheJob(t *testing.T) {
	_, err := Polyline([]Vertex{{At: Point{0, 0}}, {At: Point{0, 10}, Radius: 12}, {At: Point{10, 10}}})
	all, ok := err.(Refusals)
	if !ok || len(all) == 0 {
		t.Fatal(err)
	}
	if got, want := all[0].Error(), "between points 1 and 2 the arcs need 0.000 m + 12.000 m of straight to touch, and there are 10.000 m; try: a radius of at most 10.000 m at point 2"; got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
	us := all[0].In(wording.Speech{US: true, Imperial: true})
	if got, want := us.Error(), `between points 1 and 2 the arcs need 0.00 ft + 39.37 ft of straight to touch, and there are 32.81 ft; try: a radius of at most 32.80 ft at point 2`; got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
	if us.Limit != "32.81 ft" || us.Value != "39.37 ft" {
		t.Errorf("limit %s, value %s", us.Limit, us.Value)
	}
}
