package onspot

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/demo/building"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/tools/seed"
)

const mm = measure.Millimetre

// noted puts records of one device onto a place, one after the other.
func (p *Place) noted(t *testing.T, records ...field.Record) {
	b := field.NewBook(p.Plan.Places())
	for i := range records {
		r := &records[i]
		r.ID, r.Job, r.Device, r.Number = field.ULID(int64(i+1), [10]byte{1}), p.Job.ID, "phone", i+1
		r.Person, r.Role, r.Made = "A. Nother", "ganger", fmt.Sprintf("2026-05-04T07:%02d:00Z", i)
		b.Add(*r)
	}
	s := b.State("")
	for _, f := range s.Findings {
		t.Log(f.Text)
	}
	p.Site = &Site{Book: b, State: s, Left: p.Answers.Replan(s)}
}

func says(v any) []byte {
	text, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return text
}

// planned is a level of a unit as planned, at its four corners.
func (p *Place) planned(place, of string) (four [4]measure.Length) {
	for _, l := range p.Plan.Places().Legs {
		for _, u := range l.Units {
			for _, one := range u.Levels {
				if u.Place == place && one.Of == of {
					return one.Four
				}
			}
		}
	}
	return four
}

// shifted are four corners as read, all of them off their plan by as much.
func shifted(four [4]measure.Length, by measure.Length) []measure.Length {
	return []measure.Length{four[0] + by, four[1] + by, four[2] + by, four[3] + by}
}

// Where something is recorded it is what a moment begins with: the figures that nobody typed come from the records, with who recorded
// them; what lies, what came and what was found is said. Figures by hand, from the plan and what the records say.
func TestMomentsBeginWithTheRecords(t *testing.T) {
	p := stand(t, "tram-depot", "B-006")
	six := &p.Plan.Units[p.Unit()]
	seven := &p.Plan.Units[p.Unit()+1]
	if six.Mark != "B-006" || seven.Mark != "B-007" {
		t.Fatal(six.Mark, seven.Mark)
	}
	long := measure.Length(six.Length)
	formation, pad := p.planned("B-006", "formation"), p.planned("B-006", "pad")
	joint := measure.Length(seven.Chainage)
	far := measure.Length(p.Plan.Units[p.Unit()+4].Chainage) // where B-010 begins
	p.noted(t,
		field.Record{Kind: field.Level, From: "B-006", Instrument: &field.Instrument{ID: "level 2"}, Says: says(field.LevelSays{Of: "formation", Four: shifted(formation, -40*mm), Plus: mm})},
		field.Record{Kind: field.Check, Instrument: &field.Instrument{ID: "level 2"}, Says: says(field.CheckSays{Method: "two pegs", Met: new(true)})},
		field.Record{Kind: field.Level, From: "B-006", Instrument: &field.Instrument{ID: "level 2"}, Says: says(field.LevelSays{Of: "pad", Four: shifted(pad, 5*mm), Plus: mm})},
		field.Record{Kind: field.Set, From: "B-001", To: "B-006", Says: says(field.SetSays{Within: true})},
		field.Record{Kind: field.Set, From: "B-006", Says: says(field.SetSays{Within: true, Measure: new(long - 30*mm)})},
		field.Record{Kind: field.Cover, From: "B-001", To: "B-005", Says: says(field.CoverSays{Done: "laid"})},
		field.Record{Kind: field.Service, Says: says(field.ServiceSays{Name: "pipe 4", Met: true, Leg: "B", At: far, Width: new(110 * mm), Keep: new(250 * mm), Depth: field.BelowBed})},
		field.Record{Kind: field.Entry, From: "B-006", Says: says(field.EntrySays{Wall: "left", Diameter: new(90 * mm), At: new(50 * mm), Made: "cored"})},
		field.Record{Kind: field.Damage, From: "B-006", Says: says(field.DamageSays{Count: 1})},
		field.Record{Kind: field.Angle, From: p.leg().From, Says: says(field.AngleSays{Angle: measure.FromDegrees(14), Plus: measure.FromDegrees(0.1)})},
	)
	depth := measure.FromMetres(*p.levels().Existing) - (formation[0]+formation[1]+formation[2]+formation[3])/4 + 40*mm
	const who = "recorded by A. Nother, ganger, 2026-05-04 07:"
	for _, c := range []struct {
		id    string
		typed map[string]string
		want  []string // among what is said
		given []string // label: figure, where from
	}{
		{"service", nil, []string{"recorded: pipe 4, its middle at", "joint B-009/B-010 stands", "inside the service", "recorded: it lies below the bed", "recorded so far, way on 1 of leg B"},
			[]string{"how wide it is: 110 mm, " + who + "06", "no joint within, each side: 250 mm, " + who + "06"}},
		{"short", nil, []string{"recorded: 6 units lie"}, nil},
		{"closer", nil, []string{"recorded: 6 of 18 units of leg B lie", "gap to hold now"}, nil},
		{"covers", map[string]string{"gap": "6 mm"}, []string{"recorded: " + fmt.Sprint(p.lids("B-001", "B-005")) + " of 53 covers of leg B lie, the last of them on B-005", "leaves its unit"},
			[]string{"length of the unit with its joint: " + p.typed(long-30*mm+p.Job.Supplies[0].Joint.Gap.Value.Nominal) + ", " + who + "04, with the gap of the plan"}},
		{"level", map[string]string{"level": p.coverLevel(t, 0.02)}, []string{"6 units of leg B lie already; as planned B-005 stands 11.8 mm below"}, nil},
		{"water", map[string]string{"water": "300 mm"}, []string{"B-006 lies (" + who + "04), 0 of its " + fmt.Sprint(p.lids("B-006", "B-006")) + " covers on it: the line without covers counts now"}, nil},
		{"reach", map[string]string{"pick": "3 m", "set": "3.5 m"}, []string{"B-006 lies already", "the next to set on leg B is B-007"}, []string{"mass of the piece: " + p.typedMass(*seven.Mass) + ", the plan: B-007"}},
		{"vehicle", map[string]string{"axle": "80 kN"}, []string{"STOP: by the records 0 of the", "STOP: B-006 is recorded as damaged (" + who + "08)", "recorded: an entry was cored into B-006 (" + who + "07)"}, nil},
		{"deeper", nil, nil, []string{"depth of the dig here: " + p.typed(depth) + ", from the ground as it was to the level read, " + who + "00"}},
		{"instrument", nil, []string{"recorded: level 2 checked by two pegs: as it has to be (" + who + "01)", "read again: level of pad, B-006, 1 place", "1 record is in doubt; 1 older than its last check that it met"}, []string{"which instrument, as it is recorded: level 2, the last one that levels were read with by the records"}},
		{"bed", nil, []string{"recorded: pad of B-006, start left: 5 mm high", "left as it is, joint"}, []string{"off its level, higher above 0: 5 mm, " + who + "02"}},
		{"conduit", map[string]string{"clear": "100 mm"}, []string{"recorded: an entry at 50 mm of B-006 (" + who + "07)", "B-006, 50 mm from its start", "joint B-005/B-006 stands", "B-005 lies already (" + who + "03): the joint moves only", "B-006 lies already (" + who + "04)"}, []string{"outside diameter: 90 mm, " + who + "07"}},
	} {
		m, _ := Find(c.id)
		here := *p
		if c.id == "service" {
			here.Spot.At, here.Spot.Name = far+900*mm, ""
		}
		a := m.At(&here, c.typed)
		all := strings.Join(append(append(append([]string{}, a.Stop...), a.Lines...), a.Faults...), "\n")
		for _, want := range c.want {
			if !strings.Contains(all, want) {
				t.Errorf("%s: %q is not in\n%s", c.id, want, all)
			}
		}
		var given []string
		for _, g := range a.Given {
			given = append(given, g.Label+": "+g.Is+", "+g.From)
		}
		for _, want := range c.given {
			if !strings.Contains(strings.Join(given, "\n"), want) {
				t.Errorf("%s: %q is not in\n%s\n%v", c.id, want, strings.Join(given, "\n"), a.Faults)
			}
		}
	}
	// 40 mm below the whole of B-006 and its joint, as wide as the bottom of the dig.
	over := 0.0
	for _, part := range (&asking{Place: p}).wants("stone") {
		over += part.over
	}
	if over != 0 {
		t.Errorf("its pads were read: it has its stone already, and %g m³ were wanted for what is below", over)
	}
	dig := stand(t, "tram-depot", "B-006")
	dig.Spot.At = measure.Length(six.Chainage)
	dig.noted(t, field.Record{Kind: field.Level, From: "B-006", Says: says(field.LevelSays{Of: "formation", Four: shifted(formation, -40*mm)})})
	for _, part := range (&asking{Place: dig}).wants("stone") {
		over += part.over
	}
	want := 0.04 * measure.Length(dig.Answers.Depth(dig.Spot).Dig.Bottom).Metres() * (joint - measure.Length(six.Chainage)).Metres()
	if math.Abs(over-want) > 1e-6 || want < 0.01 {
		t.Errorf("%.6f m³ of stone for what was dug too deep, by hand %.6f", over, want)
	}
	m, _ := Find("stone")
	if a := m.At(dig, map[string]string{"left": "500 m3"}); !strings.Contains(strings.Join(a.Lines, "\n"), "recorded: it was dug too deep") {
		t.Errorf("stone: %v", a.Lines)
	}
	bends := stand(t, "tram-depot", "B-001")
	bends.Site = p.Site
	m, _ = Find("bend")
	if a := m.At(bends, nil); len(a.Given) == 0 || a.Given[0].Is != "14.00°" || !strings.Contains(strings.Join(a.Lines, "\n"), "recorded: 14.00° measured, 12.50° drawn") {
		t.Errorf("bend: %+v", a)
	}
}

// lids counts the covers of units as planned.
func (p *Place) lids(from, to string) (n int) {
	for _, c := range p.Plan.Covers {
		if c.Unit >= from && c.Unit <= to {
			n++
		}
	}
	return n
}

// coverLevel is a level of the covers here, so much above its plan, as it is typed.
func (p *Place) coverLevel(t *testing.T, above float64) string {
	for _, r := range p.Plan.SetOut {
		if r.Place == "B-006/B-007" && r.Levels != nil && r.Levels.Cover != nil {
			return strings.Fields((&asking{Place: p}).levelText(*r.Levels.Cover + above))[0]
		}
	}
	t.Fatal("no level of the covers")
	return ""
}

// At any time of a build, anywhere on the run, every moment answers from the records: in whole sentences, with a source beside each figure,
// and with nothing typed where the records tell. What is typed is what counts.
func TestMomentsOfABuild(t *testing.T) {
	r := rand.New(rand.NewPCG(seed.Of(t), 31))
	asked, recordedBy := 0, 0
	for _, name := range demo.Names() {
		p := stand(t, name, "B-002")
		for _, days := range []int{2, 9 + r.IntN(20)} {
			built, err := building.Build(building.Planned{Job: p.Job, Plan: *p.Plan, Answers: p.Answers, Surfaces: p.Surfaces}, building.Options{Seed: r.Uint64N(1 << 32), Days: days})
			if err != nil {
				t.Fatal(err)
			}
			b := field.NewBook(p.Plan.Places())
			b.Add(built.Records...)
			s := b.State("")
			p.Site = &Site{Book: b, State: s, Left: p.Answers.Replan(s)}
			for range 6 {
				u := &p.Plan.Units[r.IntN(len(p.Plan.Units))]
				if p.Spot, err = p.Answers.Find(u.Mark, ""); err != nil {
					t.Fatal(err)
				}
				for _, m := range All() {
					typed := map[string]string{}
					for i := range m.Fields {
						f := &m.Fields[i]
						if is, _ := f.Known(p); is == "" && !f.Optional(p) && len(f.Only) == 0 {
							typed[f.Name] = f.Like
						}
					}
					if _, wants := typed["level"]; wants {
						continue // a level that is possible here is another test's
					}
					here := *p
					a := m.At(&here, typed)
					asked++
					if len(a.Faults) > 0 || len(a.Lines)+len(a.Open)+len(a.Stop) == 0 {
						t.Errorf("%s, %d days, %s: %s: %+v", name, days, u.Mark, m.ID, a)
					}
					for _, line := range append(append([]string{}, a.Lines...), a.Stop...) {
						if strings.Contains(line, "%!") || strings.Contains(line, "  ") || strings.Contains(line, "()") || strings.Contains(line, ", ,") {
							t.Errorf("%s, %s: %s says %q", name, u.Mark, m.ID, line)
						}
					}
					for _, g := range a.Given {
						if g.Is == "" || g.From == "" {
							t.Errorf("%s, %s: %s: %+v", name, u.Mark, m.ID, g)
						}
						if strings.Contains(g.From, "recorded by ") {
							recordedBy++
						}
					}
				}
			}
		}
	}
	if t.Logf("%d answers, %d figures from the records", asked, recordedBy); recordedBy < 20 {
		t.Error("too few to say anything")
	}
}

// A rating is of a whole piece: a cover or a unit that is cut by the plan, or that was cut by the records, has none.
func TestCutPiecesInheritNoRating(t *testing.T) {
	for _, at := range []string{"A-014", "B-006"} {
		p := stand(t, "tram-depot", at)
		s := (&asking{Place: p}).supply()
		s.Rating, s.Cover.Rating, s.RatedOn = job.Known("200 kN"), job.Known("200 kN"), job.Known(job.Section{Width: 300 * mm, Height: 300 * mm})
		m, _ := Find("vehicle")
		refused := func(of string) bool {
			here := *p
			a := m.At(&here, map[string]string{"axle": "80 kN", "dynamic": "20", "tyre": "300 mm x 250 mm"})
			for _, c := range a.Checks {
				if strings.HasPrefix(c.What, of) && strings.Contains(strings.Join(c.Missing, " "), "does not inherit it") {
					return true
				}
			}
			return false
		}
		if cut := at == "A-014"; refused("units") != cut || refused("covers") != cut {
			t.Errorf("%s: cut by the plan %t, of the unit refused %t, of its covers %t", at, cut, refused("units"), refused("covers"))
		}
		if at == "B-006" {
			p.noted(t, field.Record{Kind: field.Cover, From: "B-006", Says: says(field.CoverSays{Done: "laid", Trimmed: []string{"B-006.1"}})},
				field.Record{Kind: field.Cut, Says: says(field.CutSays{Mark: "B-006", Left: new(2 * measure.Metre), Right: new(2 * measure.Metre)})})
			if !refused("units") || !refused("covers") {
				t.Errorf("cut by the records: of the unit refused %t, of its covers %t", refused("units"), refused("covers"))
			}
		}
	}
}

// What is typed is of what somebody has before them, not of what is recorded beside it; and records that name no instrument stop nothing.
func TestWhatIsTypedIsAnsweredHere(t *testing.T) {
	p := stand(t, "tram-depot", "B-006")
	at := p.Spot.At
	p.noted(t, field.Record{Kind: field.Service, Says: says(field.ServiceSays{Name: "pipe 4", Met: true, Leg: "B", At: at + 1500*mm, Width: new(110 * mm), Keep: new(250 * mm), Depth: field.BelowBed})})
	m, _ := Find("service")
	a := m.At(p, map[string]string{"width": "60 mm", "clear": "100 mm"})
	if all := strings.Join(a.Lines, "\n"); p.Spot.At != at || strings.Contains(all, "answered there") || !strings.Contains(all, "recorded near here: pipe 4") || len(a.Open) != 1 {
		t.Errorf("%v %v", a.Lines, a.Open)
	}
	m, _ = Find("instrument")
	pegs := map[string]string{"mid-a": "2.340 m", "mid-b": "1.795 m", "end-a": "1.985 m", "end-b": "1.435 m", "apart": "40 m", "beyond": "5 m"}
	if a := m.At(p, pegs); len(a.Faults) > 0 || !strings.Contains(strings.Join(a.Lines, "\n"), "peg B stands 545 mm above peg A") {
		t.Errorf("%+v", a)
	}
	delete(pegs, "apart")
	if a := m.At(p, pegs); len(a.Faults) != 1 {
		t.Errorf("one of six is missing: %+v", a)
	}
}
