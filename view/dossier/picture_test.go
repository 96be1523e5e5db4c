package dossier

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"trenchwright/job/field"
	"trenchwright/tools/seed"
	"trenchwright/view/scene"
)

// camera is a picture of so many pixels, dark in its upper left corner and red at its right edge, as a JPEG that says how the camera
// was held; 0: it does not say.
func camera(t testing.TB, wide, high, turn int) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, wide, high))
	for y := range high {
		for x := range wide {
			c := color.RGBA{200, 210, 220, 255}
			switch {
			case x < wide/4 && y < high/4:
				c = color.RGBA{10, 10, 10, 255}
			case x >= wide-wide/8:
				c = color.RGBA{220, 20, 20, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	if turn == 0 {
		return b.Bytes()
	}
	tiff := append([]byte("II*\x00\x08\x00\x00\x00\x01\x00"), 0x12, 0x01, 3, 0, 1, 0, 0, 0, byte(turn), 0, 0, 0, 0, 0, 0, 0)
	app := append([]byte("Exif\x00\x00"), tiff...)
	head := binary.BigEndian.AppendUint16([]byte{0xff, 0xd8, 0xff, 0xe1}, uint16(len(app)+2))
	return slices.Concat(head, app, b.Bytes()[2:])
}

// However the camera was held, the picture stands upright, no side has more pixels than are shown, and its sides keep their ratio.
func TestPhotosStandUpright(t *testing.T) {
	const wide, high = 1600, 800
	// where the dark corner comes to lie: left, top; by the table of the standard for each way of holding
	corner := map[int][2]bool{0: {true, true}, 1: {true, true}, 2: {false, true}, 3: {false, false}, 4: {true, false}, 5: {true, true}, 6: {false, true}, 7: {false, false}, 8: {true, false}}
	for turn, at := range corner {
		p := shown(camera(t, wide, high, turn))
		w, h := shownLong, shownLong/2
		if turn > 4 {
			w, h = h, w
		}
		if p.why != "" || p.width != w || p.height != h {
			t.Errorf("held %d: %d × %d, %s", turn, p.width, p.height, p.why)
			continue
		}
		m, err := jpeg.Decode(bytes.NewReader(p.jpeg))
		if err != nil {
			t.Fatal(err)
		}
		x, y := w/16, h/16
		if !at[0] {
			x = w - 1 - x
		}
		if !at[1] {
			y = h - 1 - y
		}
		if r, _, _, _ := m.At(x, y).RGBA(); r > 0x4000 {
			t.Errorf("held %d: the dark corner is not where it belongs", turn)
		}
	}
}

// A pixel is the mean of those that it stands for, added up one by one.
func TestShrunkAgainstAddingUp(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 4))
	for range 3 {
		w, h := shownLong+1+r.IntN(900), 1+r.IntN(300)
		m := image.NewNRGBA(image.Rect(0, 0, w, h))
		for i := range m.Pix {
			m.Pix[i] = uint8(r.IntN(256))
			if i%4 == 3 {
				m.Pix[i] = 255
			}
		}
		got := shrunk(m)
		for range 500 {
			x, y := r.IntN(got.Rect.Dx()), r.IntN(got.Rect.Dy())
			sum, n := 0, 0
			for v := y * h / got.Rect.Dy(); v < (y+1)*h/got.Rect.Dy(); v++ {
				for u := x * w / got.Rect.Dx(); u < (x+1)*w/got.Rect.Dx(); u++ {
					sum, n = sum+int(m.NRGBAAt(u, v).G), n+1
				}
			}
			if g := int(got.RGBAAt(x, y).G); n == 0 || g*n-sum > n || sum-g*n > n {
				t.Fatalf("seed %d: %d at %d, %d of %d × %d; %d pixels come to %d", seed, g, x, y, w, h, n, sum)
			}
		}
	}
}

// What can be shown is shown once under its place; what is missing, is no picture, was cut short or is other bytes than its hash says is told.
func TestPhotosByPlace(t *testing.T) {
	in := built()[0]
	in.Records, in.Photos = slices.Clone(in.Records), nil
	for i := range in.Records {
		in.Records[i].Photos = nil
	}
	place := slices.IndexFunc(in.Records, func(r field.Record) bool { return r.Kind == field.Cut })
	var small bytes.Buffer
	if err := png.Encode(&small, image.NewGray(image.Rect(0, 0, 40, 30))); err != nil {
		t.Fatal(err)
	}
	whole := camera(t, 400, 300, 6)
	holds := map[string][]byte{"a.jpg": whole, "b.png": small.Bytes(), "c.txt": []byte("a voice"), "d.jpg": whole[:len(whole)/2], "e.jpg": []byte("other bytes")}
	sums := map[string]string{}
	for name, b := range holds {
		sums[name] = hashOf(b)
		if name == "e.jpg" {
			sums[name] = hashOf([]byte("as it was"))
		}
		in.Records[place].Photos = append(in.Records[place].Photos, sums[name])
		in.Photos = append(in.Photos, Photo{Hash: sums[name], Name: name, Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(b)), nil }})
	}
	slices.Sort(in.Records[place].Photos)
	gone := strings.Repeat("ab", 32)
	in.Records[place+1].Photos = []string{gone}
	d := Of(in)
	photos := 0
	var said []string
	for _, p := range d.Document().Pages {
		for _, m := range flat(p.Marks) {
			switch m := m.(type) {
			case scene.Photo:
				photos++
			case scene.Text:
				said = append(said, strings.Split(m.String, "\n")...)
			}
		}
		if over, err := scene.Overlaps(p); err != nil || len(over) > 0 {
			t.Errorf("%s: %v %v", p.Name, over, err)
		}
	}
	text := strings.Join(said, " ")
	if photos != 2 || !strings.Contains(text, "Of 6 photos and other attachments 2 are shown below. Not here: 1;") || !strings.Contains(text, "Here, and not shown: 3;") {
		t.Errorf("%d are shown\n%s", photos, text)
	}
	for _, want := range []string{in.Records[place].From, sums["a.jpg"], in.Records[place].Made} {
		if !strings.Contains(text, want) {
			t.Errorf("%s does not stand beside its photo", want)
		}
	}
	rows, err := csv.NewReader(bytes.NewReader(csvOf(t, d, "photos"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for name, why := range map[string]string{"a.jpg": "yes", "b.png": "yes", "c.txt": "yes; not shown: it is neither JPEG nor PNG", "d.jpg": "yes; not shown: it is damaged: invalid JPEG format: short Huffman data", "e.jpg": "yes; not shown: its bytes are not those of its hash"} {
		if !slices.ContainsFunc(rows, func(r []string) bool { return slices.Contains(r, sums[name]) && slices.Contains(r, why) }) {
			t.Errorf("%s: not told as %q in %v", name, why, rows)
		}
	}
	in.Photos = slices.DeleteFunc(in.Photos, func(p Photo) bool { return p.Name == "e.jpg" }) // other bytes break a dossier off
	if p, err := Verify(files(t, in)); err != nil || !p.Proven() {
		t.Errorf("%+v, %v", p, err)
	}
}

// flat are marks with those of their groups.
func flat(marks []scene.Mark) []scene.Mark {
	var out []scene.Mark
	for _, m := range marks {
		if g, ok := m.(scene.Group); ok {
			out = append(out, flat(g.Marks)...)
			continue
		}
		out = append(out, m)
	}
	return out
}

// csvOf is one table as a file.
func csvOf(t *testing.T, d *Dossier, name string) []byte {
	t.Helper()
	inside, err := d.contents(nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range inside {
		if f.Name == "csv/"+name+".csv" {
			b, err := written(f.Write)
			if err != nil {
				t.Fatal(err)
			}
			return b
		}
	}
	t.Fatalf("there is no table %s", name)
	return nil
}

// Whatever somebody calls a photo is shown, or it is said why not.
func FuzzShown(f *testing.F) {
	f.Add(camera(f, 40, 30, 6))
	f.Add(camera(f, 40, 30, 6)[:60])
	f.Add([]byte("\x89PNG\r\n\x1a\n"))
	f.Add([]byte("\xff\xd8\xff\xe1\x00\x10Exif\x00\x00II*\x00\xff\xff\xff\xff"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if c, _, err := image.DecodeConfig(bytes.NewReader(b)); err == nil && c.Width > 1<<20/max(1, c.Height) {
			return // a fuzzer would wait for memory alone
		}
		if p := shown(b); (p.why == "") != (len(p.jpeg) > 0 && p.width > 0 && p.height > 0) {
			t.Fatalf("%d × %d, %q", p.width, p.height, p.why)
		}
	})
}
