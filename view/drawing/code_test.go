package drawing

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"image"
	"image/draw"
	"image/png"
	"math"
	"os"
	"os/exec"
	"strings"
	"testing"

	"trenchwright/view/scene"
	"trenchwright/view/scene/raster"
)

// paint finds the code of a page and whatever lies in its quiet. Groups within the code's are none.
type paint struct {
	in     bool
	depth  int
	code   scene.Box
	others []scene.Box
	words  []string
}

func (p *paint) Begin(s scene.Scope) {
	if s.Name == "code" {
		p.in = true
	}
}
func (p *paint) End()                 { p.in = false }
func (*paint) Link(scene.Box, string) {}
func (p *paint) Letter(l scene.Lettering) {
	q := l.Quad(0)
	p.saw(round(q[:]), l.String)
}
func (p *paint) Shape(o scene.Outline, _ scene.Colour, pen scene.Stroke) {
	for _, c := range o.Flat(0.05) {
		b := round(c.Points).Inset(-pen.Width / 2)
		if p.in {
			p.code = p.code.Union(b)
		} else {
			p.saw(b, "a shape")
		}
	}
}
func (p *paint) saw(b scene.Box, what string) {
	p.others, p.words = append(p.others, b), append(p.words, what)
}

func round(all []scene.Point) scene.Box {
	b := scene.Box{Left: 1e9, Top: 1e9, Right: -1e9, Bottom: -1e9}
	for _, q := range all {
		b = scene.Box{Left: min(b.Left, q.X), Top: min(b.Top, q.Y), Right: max(b.Right, q.X), Bottom: max(b.Bottom, q.Y)}
	}
	return b
}

// Every card carries a code of 15 mm or more with its quiet, four modules wide (ISO/IEC 18004), in which nothing else lies.
func TestCodesAreLargeEnoughAndQuiet(t *testing.T) {
	for _, run := range append(cardViews(), onItsGround("hand-troughs")) {
		style := StyleFor(run.job, A4)
		day, err := DayCards(run.plan, run.job, style, Day{})
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range append(Bind(append(LevelCards(run.plan, run.job, style), CutCards(run.plan, run.job, style)...), ""), day...) {
			var p paint
			if err := scene.Draw(c, &p); err != nil {
				t.Fatal(err)
			}
			if p.code.Empty() {
				t.Errorf("%s, %s has no code", run.name, c.Name)
				continue
			}
			all := codeSide
			if c.Width > cardWidth {
				all = codeSideDay
			}
			around := (all - p.code.Width()) / 2
			version := (p.code.Width()/around*codeQuiet - 17) / 4 // of a code with 17 + 4 modules a version on its side
			if all < 15 || version < 1 || math.Abs(version-math.Round(version)) > 0.01 {
				t.Errorf("%s, %s: the code is %.2f mm wide, %.2f mm with its quiet", run.name, c.Name, p.code.Width(), all)
			}
			quiet := p.code.Inset(-around)
			for i, b := range p.others {
				if b.Left < quiet.Right && b.Right > quiet.Left && b.Top < quiet.Bottom && b.Bottom > quiet.Top {
					t.Errorf("%s, %s: %q lies on the code: %+v on %+v", run.name, c.Name, p.words[i], b, quiet)
				}
			}
		}
	}
}

// What another reader reads off the picture of a card is its code: the job, its state, and a place that the run has, as it is typed.
func TestCodesAreReadBack(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("no node on this machine")
		}
		t.Skip("SKIPPED: no node on this machine: codes were not read back")
	}
	var pixels bytes.Buffer
	var names, begins []string
	places := map[string]map[string]bool{}
	for _, run := range cardViews() {
		style := StyleFor(run.job, A4)
		day, err := DayCards(run.plan, run.job, style, Day{})
		if err != nil {
			t.Fatal(err)
		}
		d := newDraft(run.plan, run.job, style)
		begin := d.code("")
		if places[begin] == nil { // the same job in feet has the same code
			places[begin] = map[string]bool{}
		}
		for _, u := range run.plan.Units {
			places[begin][u.Mark] = true
		}
		for _, c := range run.plan.Covers {
			places[begin][d.coverPiece(c).mark] = true
		}
		for leg, rows := range d.places() {
			for _, r := range rows {
				places[begin][d.placeCode(d.plan.Legs[leg].Name, r.Place, r.Chainage)] = true
			}
		}
		for _, p := range run.plan.Pegs {
			places[begin][d.placeCode(p.Leg, p.Place, p.Chainage)] = true
		}
		done := map[string]int{}
		for _, c := range append(Bind(append(LevelCards(run.plan, run.job, style), CutCards(run.plan, run.job, style)...), ""), day...) {
			kind := strings.TrimRight(c.Name, "0123456789.") // a few of each kind
			if done[kind]++; done[kind] > 1 || len(done) > 14 {
				continue
			}
			var page bytes.Buffer
			if err := raster.WritePNG(&page, c, 150); err != nil {
				t.Fatal(err)
			}
			img, err := png.Decode(&page)
			if err != nil {
				t.Fatal(err)
			}
			whole := image.NewRGBA(img.Bounds())
			draw.Draw(whole, whole.Rect, img, image.Point{}, draw.Src)
			pixels.Write(binary.LittleEndian.AppendUint32(binary.LittleEndian.AppendUint32(nil, uint32(whole.Rect.Dx())), uint32(whole.Rect.Dy())))
			pixels.Write(whole.Pix)
			names, begins = append(names, run.name+", "+c.Name), append(begins, begin)
		}
	}
	read := exec.Command(node, "testdata/codes.mjs")
	read.Stdin, read.Stderr = &pixels, os.Stderr
	out, err := read.Output()
	if err != nil {
		t.Fatal(err)
	}
	var said []*string
	if err := json.Unmarshal(out, &said); err != nil || len(said) != len(names) {
		t.Fatal(len(said), len(names), err)
	}
	for i, s := range said {
		if s == nil {
			t.Errorf("%s: no code was found in the picture", names[i])
			continue
		}
		place, ok := strings.CutPrefix(*s, begins[i])
		if first, _, _ := strings.Cut(place, " to "); !ok || !places[begins[i]][first] {
			t.Errorf("%s: the code says %q", names[i], *s)
		}
	}
	t.Logf("%d cards read", len(names))
}
