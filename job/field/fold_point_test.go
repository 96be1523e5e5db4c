package field

import (
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// listing is a contract with one hold point before setting that the clerk of works releases, and which rain ends.
func listing() job.Job {
	j := contract()
	j.Rules.Points = []job.Point{{Name: "bed", Kind: "hold", Before: "set", Release: "clerk of works", Lapses: []string{"rain"}}}
	return j
}

func pointsOf(b *Book) []PointState { return b.State("").Points }

// The bed of was released, A-001 and A-002 were set under it, and it rained twice: what is set stays done under it, the
// rest is open. Once all is set nothing is. Rain that is known to whoever set on is another matter.
func TestReleaseWhoseWorkIsDoneIsClosed(t *testing.T) {
	g := people(t)
	release := g.makes("w", Release, "A-001", "A-004", PointSays{Point: "bed", Party: "clerk of works"})
	release.Person, release.Made = "C. Works", "2026-11-27T07:00:00Z"
	set := g.makes("a", Set, "A-001", "A-002", SetSays{Within: true})
	rain, more := g.makes("e", Event, "", "", EventSays{"rain"}), g.makes("e", Event, "", "", EventSays{"rain"})
	rain.Person, rain.Made, more.Made = "S. Wren", "2026-11-27T09:00:00Z", "2026-11-28T09:00:00Z"
	rest := g.makes("a", Set, "A-003", "A-004", SetSays{Within: true})
	knew := g.makes("e", Set, "A-003", "A-004", SetSays{Within: true})
	for _, c := range []struct {
		what    string
		records []Record
		done    bool
		waits   []string
	}{
		{"half set", []Record{release, set, rain, more}, false, []string{"A-003", "A-004"}},
		{"all set", []Record{release, set, rain, more, rest}, true, nil},
		{"set by who knew of the rain", []Record{release, set, rain, more, knew}, false, []string{"A-003", "A-004"}},
	} {
		for range 6 {
			g.r.Shuffle(len(c.records), func(i, k int) { c.records[i], c.records[k] = c.records[k], c.records[i] })
			b := NewBook(small()).Under(Asks(listing()))
			for _, r := range c.records {
				b.Add(r)
				pointsOf(b) // what was told before has to be told anew
			}
			p := pointsOf(b)[0]
			if p.Done != c.done || !slices.Equal(p.Waits, c.waits) || p.Open() == c.done || len(p.Lapsed) != 2 {
				t.Fatalf("%s: %+v", c.what, p)
			}
			said := b.SayPoint(&p)
			for _, want := range []string{"clerk of works (C. Works) 2026-11-27 07:00", "rain, recorded by S. Wren 2026-11-27 09:00; and 1 more since"} {
				if !strings.Contains(said, want) {
					t.Errorf("%s: %q lacks %q", c.what, said, want)
				}
			}
			if strings.Contains(said, "open at A-003 to A-004") == c.done {
				t.Errorf("%s: %s", c.what, said)
			}
		}
	}
}

// What a release itself names ends it; where it names nothing, what the contract does, and its hours.
func TestContractSaysWhatEndsARelease(t *testing.T) {
	g := people(t)
	j := listing()
	j.Rules.Points[0].Hours = 10
	plain, own := PointSays{Point: "bed", Party: "Clerk of Works"}, PointSays{Point: "bed", Party: "Clerk of Works", Lapses: []string{"frost"}, Until: "2026-12-24"}
	at := func(says PointSays) Record {
		r := g.makes("w", Release, "A-001", "", says)
		r.Made = "2026-11-27T07:00:00Z"
		return r
	}
	rain := g.makes("e", Event, "", "", EventSays{"rain"})
	for i, c := range []struct {
		now     string
		records []Record
		want    Answer
	}{
		{"", []Record{at(plain)}, Yes}, {"", []Record{at(plain), rain}, No}, {"", []Record{at(own), rain}, Yes},
		{"2026-11-27T16:59:00Z", []Record{at(plain)}, Yes}, {"2026-11-27T17:01:00Z", []Record{at(plain)}, No}, {"2026-11-27T17:01:00Z", []Record{at(own)}, Yes},
	} {
		b := NewBook(small()).Under(Asks(j))
		b.Add(c.records...)
		if p := b.State(c.now).Points; p[0].Released.Is != c.want {
			t.Errorf("%d: %+v, want %s", i, p, c.want)
		}
	}
}

// A release by somebody else than the contract names is kept and counts for nobody's: cannot say, with both names.
func TestReleaseByAnother(t *testing.T) {
	g := people(t)
	odd := func(says PointSays, role string) (PointState, []string) {
		r := g.makes("a", Release, "A-001", "", says)
		r.Person, r.Role = "R. Ganger", role
		b := NewBook(small()).Under(Asks(listing()))
		b.Add(r)
		var ids []string
		s := b.State("")
		for _, f := range s.Findings {
			ids = append(ids, f.ID)
			if !strings.Contains(f.Text, "R. Ganger") || !strings.Contains(f.Text, r.ID) {
				t.Errorf("who, which: %s", f.Text)
			}
			if f.ID == "field.released-by-another" && !strings.Contains(f.Text, "clerk of works") {
				t.Error(f.Text)
			}
		}
		return s.Points[0], ids
	}
	for _, c := range []struct {
		says PointSays
		role string
		is   Answer
		ids  []string
	}{
		{PointSays{Point: "bed"}, "ganger", CantSay, []string{"field.released-by-another"}},
		{PointSays{Point: "bed"}, "Clerk of Works", Yes, nil},
		{PointSays{Point: "bed", Party: "the clerk of works, by message"}, "ganger", Yes, nil},
		{PointSays{Point: "bed", Party: "clerk of works", Lapses: []string{"hail"}}, "", Yes, []string{"field.lapse-unknown"}},
		{PointSays{Point: "nonesuch", Party: "R. Ganger"}, "ganger", Yes, []string{"field.point-not-listed"}},
	} {
		p, ids := odd(c.says, c.role)
		if p.Released.Is != c.is || !slices.Equal(ids, c.ids) {
			t.Errorf("%+v: %+v %q", c.says, p, ids)
		}
	}
}

// Work over a service that stands in the way is a fact, and said of every record of it: with what stands there and who found it. What
// the service's own device wrote before it was found is older, and what its owner's answer ended is no stop.
func TestWorkOnAStop(t *testing.T) {
	g := people(t)
	run := small()
	over := &run.Legs[0].Units[1]
	at := (over.Start + over.End) / 2
	old := g.makes("f", Set, "A-002", "", SetSays{Within: true})
	gas := g.makes("f", Service, "", "", ServiceSays{Name: "gas", Met: true, Leg: "A", At: at, Depth: NotKnown})
	gas.Person = "T. Finder"
	set := g.makes("a", Set, "A-001", "A-003", SetSays{Within: true})
	aside := g.makes("a", Set, "A-004", "", SetSays{Within: true})
	release := g.makes("b", Release, "A-002", "A-004", PointSays{Point: "bed and pads"})
	width := measure.Length(0)
	gone := g.makes("f", Service, "", "", ServiceSays{Name: "gas", Met: true, Leg: "A", At: at, Depth: InEnvelope, Width: &width, Keep: &width}, gas.ID)
	stops := func(records ...Record) (of []string) {
		b := NewBook(run)
		b.Add(records...)
		for _, f := range b.State("").Findings {
			if f.ID == "field.worked-on-a-stop" {
				if !strings.Contains(f.Text, "gas") || !strings.Contains(f.Text, "T. Finder") || !strings.Contains(f.Text, gas.ID) || f.Where.Leg != "A" {
					t.Errorf("%+v", f)
				}
				for _, r := range records {
					if r.ID != gas.ID && strings.Contains(f.Text, r.ID) && strings.Contains(f.Text, r.Person) {
						of = append(of, r.ID)
					}
				}
			}
		}
		slices.Sort(of)
		return of
	}
	want := []string{set.ID, release.ID}
	slices.Sort(want)
	if got := stops(old, gas, set, aside, release); !slices.Equal(got, want) {
		t.Errorf("%q, not %q", got, want)
	}
	if got := stops(old, gas, set, aside, release, gone); len(got) > 0 {
		t.Errorf("once it was moved: %q", got)
	}
}
