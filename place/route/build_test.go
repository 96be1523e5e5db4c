package route

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// ground: the coordinates are ground.
var ground = Scale{Factor: 1, Stated: true}

// run reads a small notation: nodes "N 0 0", legs "A N M" with vertices "20,30" or "20,30r5" between.
func run(t testing.TB, text string) Input {
	t.Helper()
	in := Input{Scale: ground}
	for line := range strings.Lines(text) {
		f := strings.Fields(line)
		switch {
		case len(f) == 0:
		case f[0] == "node":
			n := NodeInput{ID: f[1]}
			scan(t, f[2]+" "+f[3], "%f %f", &n.At.E, &n.At.N)
			if len(f) > 4 {
				n.OnLeg = f[4]
			}
			in.Nodes = append(in.Nodes, n)
		case f[0] == "leg":
			l := LegInput{ID: f[1], From: f[2], To: f[3]}
			for _, w := range f[4:] {
				v := Vertex{}
				at, radius, rounded := strings.Cut(w, "r")
				scan(t, at, "%f,%f", &v.At.E, &v.At.N)
				if rounded {
					scan(t, radius, "%f", &v.Radius)
				}
				l.Via = append(l.Via, v)
			}
			in.Legs = append(in.Legs, l)
		default:
			t.Fatalf("cannot read %q", line)
		}
	}
	return in
}

func scan(t testing.TB, text, format string, into ...any) {
	t.Helper()
	if _, err := fmt.Sscanf(text, format, into...); err != nil {
		t.Fatalf("cannot read %q: %v", text, err)
	}
}

func mustBuild(t testing.TB, in Input) Network {
	t.Helper()
	n, list := Build(in)
	if len(list) > 0 {
		t.Fatalf("findings: %+v", list)
	}
	return n
}

func TestKindsOfNode(t *testing.T) {
	in := run(t, `
node N1 0 0
node N2 0 40
node N3 30 40
node N4 30 80
node N5 60 40
node N6 60 10
node N7 90 40
node N8 60 70
node N9 45 40 D
node N10 45 30
leg A N1 N2
leg B N2 N3
leg C N3 N4
leg D N3 N5
leg E N5 N6
leg F N7 N5
leg G N5 N8
leg H N9 N10
`)
	n := mustBuild(t, in)
	for id, want := range map[string]NodeKind{"N1": End, "N2": Turn, "N3": Tee, "N5": Cross, "N9": Branch, "N10": End} {
		if v, _ := n.Node(id); v.Kind != want {
			t.Errorf("node %s is a %s, want %s", id, v.Kind, want)
		}
	}
	bend, _ := n.Node("N2")
	if b := bend.Bend; b.Deflection != 90*measure.Degree || !b.Right() || math.Abs(b.Tan-1) > 1e-12 || n.Legs[b.In].ID != "A" || n.Legs[b.Out].ID != "B" {
		t.Errorf("bend %+v, want 90° to the right from A to B", b)
	}
	tee, _ := n.Node("N3")
	if p := tee.Straight; len(p) != 1 || n.Legs[tee.Arms[p[0].In].Leg].ID != "B" || n.Legs[tee.Arms[p[0].Out].Leg].ID != "D" || p[0].Deflection != 0 {
		t.Errorf("straight through the tee: %+v, want B to D", p)
	}
	var bearings []string
	for _, a := range tee.Arms {
		bearings = append(bearings, fmt.Sprintf("%s %.0f +%.0f", n.Legs[a.Leg].ID, a.Bearing.Degrees(), a.Next.Degrees()))
	}
	if got := strings.Join(bearings, ", "); got != "C 0 +90, D 90 +180, B 270 +90" {
		t.Errorf("arms of the tee: %s", got)
	}
	cross, _ := n.Node("N5")
	if p := cross.Straight; len(p) != 2 || n.Legs[cross.Arms[p[0].In].Leg].ID != "E" || n.Legs[cross.Arms[p[1].In].Leg].ID != "D" {
		t.Errorf("straight through the cross: %+v", p)
	}
	branch, _ := n.Node("N9")
	if o := branch.On; o == nil || n.Legs[o.Leg].ID != "D" || o.Chainage != 15*measure.Metre || !o.Right || o.Angle != 90*measure.Degree {
		t.Errorf("branch %+v, want on D at 15 m to the right", o)
	}
}

// Layout notes §5: the unit coming into a right bend ends with s = +t, the one leaving starts with s = -t; a left bend the
// other way round. s is a property of the cut: it stays when a leg is drawn the other way.
func TestHandOfMitres(t *testing.T) {
	for _, c := range []struct {
		name, legs string
		out        string
		in, leave  float64
	}{
		{"right", "leg A N1 N2\nleg B N2 N3", "90 40", 1, -1},
		{"left", "leg A N1 N2\nleg B N2 N3", "-90 40", -1, 1},
		{"right, second leg drawn back", "leg A N1 N2\nleg B N3 N2", "90 40", 1, -1},
		{"right, first leg drawn back", "leg A N2 N1\nleg B N2 N3", "90 40", 1, -1},
	} {
		n := mustBuild(t, run(t, "node N1 0 0\nnode N2 0 40\nnode N3 "+c.out+"\n"+c.legs))
		slope := func(id string) float64 {
			l, _ := n.Leg(id)
			if n.Nodes[l.From].ID == "N2" {
				return l.Start.Slope
			}
			return l.End.Slope
		}
		bend, _ := n.Node("N2")
		first, second := "A", "B"
		if n.Legs[bend.Bend.In].ID == "B" {
			t.Errorf("%s: followed from B to A though both say A first", c.name)
		}
		if math.Abs(slope(first)-c.in) > 1e-12 || math.Abs(slope(second)-c.leave) > 1e-12 {
			t.Errorf("%s: slopes %v and %v, want %v and %v", c.name, slope(first), slope(second), c.in, c.leave)
		}
	}
}

// s from its meaning: the cut line of a mitre halves the angle, so with x up-chainage and y to the left it is x = a + s·y.
func TestSlopeHalvesTheAngle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDice(t)
		turn := d.within(-150, 150)
		if math.Abs(turn) < 1 {
			return
		}
		mid := Point{d.within(-1e4, 1e4), d.within(-1e4, 1e4)}
		start := Towards(measure.FromDegrees(d.within(0, 360)))
		in := Input{Scale: ground, Nodes: []NodeInput{{ID: "N1", At: mid.Plus(start.Times(-50))}, {ID: "N2", At: mid},
			{ID: "N3", At: mid.Plus(start.Turned(turn * math.Pi / 180).Times(50))}}}
		in.Legs = []LegInput{{ID: "A", From: "N1", To: "N2"}, {ID: "B", From: "N2", To: "N3"}}
		for i := range in.Legs {
			if d.IntN(2) == 0 {
				in.Legs[i].From, in.Legs[i].To = in.Legs[i].To, in.Legs[i].From
			}
		}
		n, list := Build(in)
		if len(list) > 0 {
			t.Fatal(list)
		}
		// The cut line runs along the bisector of the two outward directions.
		bisector := sum(start.Back(), start.Turned(turn*math.Pi/180)).Unit()
		for _, l := range n.Legs {
			face, pose := l.End, l.Line.End()
			if n.Nodes[l.From].ID == "N2" {
				face, pose = l.Start, l.Line.Start()
			}
			cut := sum(pose.Along.Times(face.Slope), pose.Along.Right().Back()).Unit() // (s, 1) in (x, y = left)
			if c := math.Abs(cut.cross(bisector)); c > 1e-9 {
				t.Fatalf("leg %s: the cut leaves the bisector by %v", l.ID, c)
			}
		}
	})
}

func sum(v, w Vector) Vector { return Vector{v.E + w.E, v.N + w.N} }

func TestFaultsAllAtOnce(t *testing.T) {
	in := run(t, `
node N1 0 0
node N1 5 5
node N2 0 40
node N4 70 70
node N5 80 80
leg A N1 N2 0,10 5,20
leg A N2 N9
leg C N2 N2
leg D N4 N5 75,75
`)
	in.Nodes = append(in.Nodes, NodeInput{}, NodeInput{ID: "N7", At: Point{math.NaN(), 0}})
	in.Scale.Factor = 2
	n, list := Build(in)
	if len(n.Legs) != 0 || len(n.Nodes) != 0 {
		t.Error("a faulty run gave a network")
	}
	got := texts(list)
	want := `route.scale-factor at route.scale: combined scale factor 2 is outside 0.99 to 1.01
route.same-id at route.nodes[1]: node id "N1" is used twice: nodes 1 and 2
route.no-id at route.nodes[5]: node 6 has no id
route.bad-point at route.nodes[6]: node "N7" at (NaN, 0) is not a place within 10000 km of the origin
route.leg-turns at route.legs[0].via[0]: leg A turns 26.565° at point 1 and has no radius there; a leg is laid through without a break
route.leg-turns at route.legs[0].via[1]: leg A turns 40.601° at point 2 and has no radius there; a leg is laid through without a break
route.same-id at route.legs[1]: leg id "A" is used twice: legs 1 and 2
route.no-such-node at route.legs[1].to: leg A names node "N9", which is not declared
route.leg-in-circle at route.legs[2]: leg C begins and ends at node N2
route.lonely-node at route.nodes[6]: no leg begins or ends at node N7
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func texts(list finding.List) string {
	var b strings.Builder
	for _, f := range list {
		fmt.Fprintf(&b, "%s at %s: %s\n", f.ID, f.Where.Path, f.Text)
	}
	return b.String()
}

func TestFindingsOfTheWhole(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       string
	}{
		{"no legs", "", "route.no-legs at route.legs: the run has no legs\n"},
		{"two runs", "node N1 0 0\nnode N2 0 10\nnode N3 50 0\nnode N4 50 10\nleg A N1 N2\nleg B N3 N4",
			"route.disconnected at route.nodes[2]: no leg joins nodes N3, N4 to node N1 and the rest of the run\n"},
		{"folded", "node N1 0 0\nnode N2 0 40\nnode N3 1 0\nleg A N1 N2\nleg B N2 N3",
			"route.too-sharp at route.nodes[1]: the run turns 178.568° at node N2: legs A and B lie beside each other\n"},
		{"five legs", "node N0 0 0\nnode N1 0 10\nnode N2 10 0\nnode N3 0 -10\nnode N4 -10 0\nnode N5 9 9\nleg A N0 N1\nleg B N0 N2\nleg C N0 N3\nleg D N0 N4\nleg E N0 N5",
			"route.too-many-legs at route.nodes[0]: 5 legs meet at node N0; a fitting takes four at most\n"},
		{"crossing without a node", "node N1 0 0\nnode N2 0 40\nnode N3 40 40\nnode N4 40 10\nnode N5 -10 10\nleg A N1 N2\nleg B N2 N3\nleg C N3 N4\nleg D N4 N5",
			"route.legs-cross at route.legs[0]: legs A and D cross at chainage 10.000 m of A (40.000 m of D) without a node\n"},
		{"the same leg twice", "node N1 0 0\nnode N2 0 40\nleg A N1 N2\nleg B N1 N2",
			"route.too-sharp at route.nodes[0]: the run turns 180.000° at node N1: legs A and B lie beside each other\n" +
				"route.too-sharp at route.nodes[1]: the run turns 180.000° at node N2: legs A and B lie beside each other\n"},
		{"a star of three", "node N0 0 0\nnode N1 0 10\nnode N2 8.660254037844386 -5\nnode N3 -8.660254037844386 -5\nleg A N1 N0\nleg B N0 N2\nleg C N0 N3",
			"route.tee-without-through at route.nodes[0]: at node N0 no two legs go straight on more than the others; the least turn is 60.00°\n"},
		{"crooked tee", "node N0 0 0\nnode N1 0 10\nnode N2 0.1 -10\nnode N3 10 0\nleg A N1 N0\nleg B N0 N2\nleg C N0 N3",
			"route.crooked-fitting at route.nodes[0]: the run turns 0.573° from leg A to leg B at tee N0; a fitting goes straight through unless its drawing says otherwise\n"},
		{"branch off its leg", "node N1 0 0\nnode N2 0 40\nnode N3 0.5 10 A\nnode N4 20 10\nleg A N1 N2\nleg B N3 N4",
			"route.branch-off-leg at route.nodes[2].on_leg: node N3 is to lie on leg A, and lies 0.500 m from it\n" +
				"route.disconnected at route.nodes[2]: no leg joins nodes N3, N4 to node N1 and the rest of the run\n"},
		{"branch on nothing", "node N1 0 0\nnode N2 0 40\nnode N3 0 10 X\nnode N4 20 10\nleg A N1 N2\nleg B N3 N4\nleg C N2 N4",
			"route.no-such-leg at route.nodes[2].on_leg: node N3 lies on leg \"X\", which is not declared\n" +
				"route.legs-cross at route.legs[0]: legs A and B cross at chainage 10.000 m of A (0.000 m of B) without a node\n"},
	} {
		if _, list := Build(run(t, c.text)); texts(list) != c.want {
			t.Errorf("%s: got\n%swant\n%s", c.name, texts(list), c.want)
		}
	}
}

func TestNoScaleFactorIsNotChecked(t *testing.T) {
	in := run(t, "node N1 0 0\nnode N2 0 400\nleg A N1 N2")
	in.Scale = Scale{}
	n, list := Build(in)
	if len(list) != 1 || list[0].Kind != finding.NotChecked || n.Length() != 400*measure.Metre ||
		!strings.Contains(list[0].Text, "NOT CHECKED: no combined scale factor on file") || !strings.Contains(list[0].Text, "160 mm on this run of 400.0 m") {
		t.Errorf("findings %+v", list)
	}
	in.Scale = Scale{0.9996, true}
	n, list = Build(in)
	if len(list) != 0 || math.Abs(n.Length().Metres()-400/0.9996) > 1e-9 {
		t.Errorf("length %v, findings %+v", n.Length().Metres(), list)
	}
	if n.Nodes[1].At != (Point{0, 400}) {
		t.Error("a coordinate moved")
	}
}

// The trade's figure (computed): the outer face taken for the centreline, W 900, 90°: 900 mm of length a bend.
func TestOuterFaceTakenForCentreline(t *testing.T) {
	in := run(t, "node N1 0 0\nnode N2 0 40\nnode N3 40 40\nleg A N1 N2\nleg B N2 N3")
	before := mustBuild(t, in).Length()
	in.Drawn = Drawn{As: OuterFace, Apart: 450 * measure.Millimetre} // on the left: the outside of a right bend
	n := mustBuild(t, in)
	if got := before - n.Length(); (got - 900*measure.Millimetre).Abs() > 1 {
		t.Errorf("drawn as the outer face the run is %v mm shorter, want 900", got.Millimetres())
	}
	if at := n.Nodes[1].At; at.Distance(Point{0.45, 39.55}) > 1e-9 {
		t.Errorf("the bend is at %v", at)
	}
	in.Drawn.Right = true
	if got := mustBuild(t, in).Length() - before; (got - 900*measure.Millimetre).Abs() > 1 {
		t.Errorf("on the other side it is %v mm longer, want 900", got.Millimetres())
	}
	if got, want := in.Drawn.String(), "the line drawn is the outer face on the right, looking up-chainage; the centreline lies 450 mm to the left of it"; got != want {
		t.Errorf("got %s", got)
	}
}

// From the centreline to a face and back: the drawn line of a network, made by offsets, gives the network again.
func TestDrawnLineThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDice(t)
		v := d.vertices()
		in := Input{Scale: ground}
		if d.IntN(2) == 0 {
			in.Scale.Factor = d.within(0.999, 1.001)
		}
		for i, p := range v { // every vertex is a node; arcs would be legs of their own
			in.Nodes = append(in.Nodes, NodeInput{ID: fmt.Sprint("N", i), At: p.At})
			if i > 0 {
				in.Legs = append(in.Legs, LegInput{ID: fmt.Sprint("L", i), From: fmt.Sprint("N", i-1), To: fmt.Sprint("N", i)})
			}
		}
		for i := range v {
			v[i].Radius = 0
		}
		whole, err := Polyline(v)
		if err != nil {
			t.Fatal(err)
		}
		if whole, err = whole.Scaled(in.Scale.Factor); err != nil {
			t.Fatal(err)
		}
		apart, right := d.length(500*measure.Millimetre), d.IntN(2) == 0
		side := apart
		if !right {
			side = -apart
		}
		face, err := whole.Offset(side)
		if err != nil {
			t.Fatal(err)
		}
		drawn := in
		drawn.Nodes = append([]NodeInput(nil), in.Nodes...)
		for i := range drawn.Nodes {
			drawn.Nodes[i].At = face.elements[min(i, len(face.elements)-1)].From
		}
		drawn.Nodes[len(v)-1].At = face.End().At
		drawn.Drawn = Drawn{As: BesideOf, Of: "kerb", Right: right, Apart: apart}
		want, faults := Build(in)
		if faults.Any(finding.Fault) {
			t.Fatal(faults)
		}
		got, faults := Build(drawn)
		if faults.Any(finding.Fault) {
			t.Fatal(faults)
		}
		for i := range want.Nodes {
			if m := got.Nodes[i].At.Distance(want.Nodes[i].At); m > 1e-6 {
				t.Fatalf("node %d comes back %v m off", i, m)
			}
		}
		if (got.Length() - want.Length()).Abs() > 1000 {
			t.Fatalf("length %d, want %d", got.Length(), want.Length())
		}
	})
}

// A tee, a cross, a curve and a branch, all drawn along the left face: the nodes move to where the centrelines meet.
func TestDrawnFaceWithFittings(t *testing.T) {
	in := run(t, `
node N1 0 0
node N2 0 40
node N3 40 40
node N4 0 80
node N5 20 20
node N6 0 60 D
node N7 -30 70
leg A N1 N2
leg B N2 N3 20,40r5 20,60r5
leg D N2 N4
leg H N6 N7
`)
	in.Nodes = append(in.Nodes[:4], in.Nodes[5:]...)
	in.Drawn = Drawn{As: OuterFace, Apart: 300 * measure.Millimetre}
	n := mustBuild(t, in)
	tee, _ := n.Node("N2")
	// A and D move 0.3 m east; B, which leaves east, moves 0.3 m south.
	if tee.At.Distance(Point{0.3, 39.7}) > 1e-9 {
		t.Errorf("the tee is at %v, want (0.3, 39.7)", tee.At)
	}
	branch, _ := n.Node("N6")
	if branch.On == nil || math.Abs(branch.At.E-0.3) > 1e-9 || branch.Kind != Branch {
		t.Errorf("the branch is at %v: %+v", branch.At, branch.On)
	}
	b, _ := n.Leg("B")
	if s := b.Line.Stretches(); len(s) != 5 || s[1].Radius != -5300*measure.Millimetre || s[3].Radius != 4700*measure.Millimetre {
		t.Errorf("curves of B %+v", s)
	}
	in.Legs[2] = LegInput{ID: "D", From: "N4", To: "N2"} // now the drawn line changes its side at the tee
	if _, list := Build(in); !strings.Contains(texts(list), "moved to the centreline, the legs at node N2 do not meet in one point") {
		t.Errorf("legs drawn head on: %s", texts(list))
	}
}

func TestMitreThatEatsItsLeg(t *testing.T) {
	in := run(t, "node N1 0 0\nnode N2 0 0.4\nnode N3 40 0.4\nleg A N1 N2\nleg B N2 N3")
	in.Width = 900 * measure.Millimetre
	if _, list := Build(in); texts(list) != "route.mitre-eats-leg at route.nodes[1]: the mitre at node N2 takes 450 mm of the inner face, and leg A is 400 mm long\n" {
		t.Errorf("got %s", texts(list))
	}
}

// A great network: a grid of streets, 10 000 legs, every node of the right kind and every leg found to cross none.
func TestGrid(t *testing.T) {
	const n = 70
	in := grid(n, 0)
	net := mustBuild(t, in)
	kinds := map[NodeKind]int{}
	for _, v := range net.Nodes {
		kinds[v.Kind]++
	}
	if kinds[Cross] != (n-2)*(n-2) || kinds[Tee] != 4*(n-2) || kinds[Turn] != 4 {
		t.Errorf("kinds %v", kinds)
	}
	if want := measure.Length(2*n*(n-1)) * 50 * measure.Metre; net.Length() != want {
		t.Errorf("length %v, want %v", net.Length(), want)
	}
}

func grid(n int, jitter float64) Input {
	in := Input{Scale: ground}
	r := rand.New(rand.NewPCG(1, 2))
	id := func(i, j int) string { return fmt.Sprintf("N%d-%d", i, j) }
	for i := range n {
		for j := range n {
			in.Nodes = append(in.Nodes, NodeInput{ID: id(i, j), At: Point{float64(50*i) + jitter*r.Float64(), float64(50*j) + jitter*r.Float64()}})
			if i > 0 {
				in.Legs = append(in.Legs, LegInput{ID: fmt.Sprintf("E%d-%d", i, j), From: id(i-1, j), To: id(i, j)})
			}
			if j > 0 {
				in.Legs = append(in.Legs, LegInput{ID: fmt.Sprintf("N%d-%d", i, j), From: id(i, j-1), To: id(i, j)})
			}
		}
	}
	return in
}

func BenchmarkBuildGrid(b *testing.B) {
	in := grid(70, 0.001)
	b.ReportAllocs()
	for b.Loop() {
		Build(in)
	}
	b.ReportMetric(float64(len(in.Legs)), "legs")
}
