package scene_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/view/scene"
	"trenchwright/view/scene/internal/specimen"
)

// flowed lays blocks on pages of a size with a frame 10 mm inside.
func flowed(width, height float64, blocks ...scene.Block) []scene.Page {
	frame := scene.Box{Left: 10, Top: 10, Right: width - 10, Bottom: height - 10}
	var pages []scene.Page
	for i, marks := range scene.Flow(func(int) scene.Box { return frame }, blocks...) {
		pages = append(pages, scene.Page{Width: width, Height: height, Frame: frame, Title: fmt.Sprint("page ", i+1), Marks: marks})
	}
	return pages
}

func TestASchedulePartsOverPages(t *testing.T) {
	pages := flowed(210, 148, specimen.Schedule(60))
	if len(pages) < 3 {
		t.Fatalf("60 rows went on %d pages", len(pages))
	}
	all := map[string]int{}
	for i, p := range pages {
		readable(t, p)
		on := lines(t, p)
		if on["place"] != 1 || on["what to know"] != 1 {
			t.Errorf("page %d has no head", i+1)
		}
		for s, n := range on {
			all[s] += n
		}
	}
	for i := range 60 {
		if s := fmt.Sprintf("A-%03d", i+1); all[s] != 1 {
			t.Errorf("%s stands %d times", s, all[s])
		}
	}
}

// Columns keep their widths from page to page.
func TestColumnsStandUnderEachOther(t *testing.T) {
	where := map[string]map[float64]bool{}
	for _, p := range flowed(210, 148, specimen.Schedule(60)) {
		c := collector{}
		if err := scene.Draw(p, &c); err != nil {
			t.Fatal(err)
		}
		for _, l := range c.lines {
			if l.String == "place" || l.String == "kind" || l.String == "what to know" {
				if where[l.String] == nil {
					where[l.String] = map[float64]bool{}
				}
				where[l.String][l.Start.X] = true
			}
		}
	}
	for head, xs := range where {
		if len(xs) != 1 {
			t.Errorf("%q stands at %v", head, xs)
		}
	}
}

// Whatever the columns and cells: nothing is lost, cut or laid on something
// else, and no page is left without rows.
func TestTablesOfAnyKind(t *testing.T) {
	cell := rapid.StringOfN(rapid.SampledFrom([]rune("abc 123 ½″,-\n")), 0, 40, -1)
	rapid.Check(t, func(t *rapid.T) {
		table := scene.Table{Size: rapid.SampledFrom([]float64{0, 1.8, 3.5}).Draw(t, "size")}
		n := rapid.IntRange(1, 5).Draw(t, "columns")
		for range n {
			table.Columns = append(table.Columns, scene.Column{
				Head: rapid.SampledFrom([]string{"", "place", "two words"}).Draw(t, "head"), Width: rapid.SampledFrom([]float64{-2, -1, 0, 0, 20}).Draw(t, "width"),
				Align: rapid.SampledFrom([]scene.Align{scene.Left, scene.Centre, scene.Right}).Draw(t, "align")})
		}
		want := 0
		for range rapid.IntRange(0, 25).Draw(t, "rows") {
			row := scene.Row{Bold: rapid.Bool().Draw(t, "bold")}
			for range n {
				s := cell.Draw(t, "cell")
				want += letters(s)
				row.Cells = append(row.Cells, s)
			}
			table.Rows = append(table.Rows, row)
		}
		head := 0
		for _, c := range table.Columns {
			head += letters(c.Head)
		}
		pages := flowed(200, rapid.SampledFrom([]float64{70, 120, 400}).Draw(t, "height"), table)
		for i, p := range pages {
			readable(t, p)
			c := collector{}
			if err := scene.Draw(p, &c); err != nil {
				t.Fatal(err)
			}
			on := 0
			for _, l := range c.lines {
				on += letters(l.String)
			}
			want -= on - head
			if len(p.Marks) == 0 {
				t.Errorf("page %d is empty", i+1)
			}
		}
		if want != 0 {
			t.Errorf("%d letters went missing", want)
		}
	})
}

func letters(s string) int {
	return len([]rune(strings.NewReplacer(" ", "", "\n", "").Replace(s)))
}

func TestARowHigherThanAPageIsParted(t *testing.T) {
	long := strings.Repeat("look at the seam before you cut ", 80)
	pages := flowed(80, 60, scene.Table{Columns: []scene.Column{{Head: "note", Width: -1}, {Head: "no", Width: 10}},
		Rows: []scene.Row{{Cells: []string{"short", "1"}}, {Cells: []string{long, "2"}}, {Cells: []string{"end", "3"}}}})
	words := 0
	for _, p := range pages {
		readable(t, p)
		for s, n := range lines(t, p) {
			words += n * strings.Count(s, "seam")
		}
	}
	if words != 80 || len(pages) < 5 {
		t.Errorf("%d of 80 lines came through on %d pages", words, len(pages))
	}
}

func TestHeadingsGoWithWhatFollows(t *testing.T) {
	for height := 60.0; height < 120; height += 3 {
		pages := flowed(200, height,
			scene.Picture{Height: 30, Marks: []scene.Mark{scene.Text{At: scene.Point{X: 0, Y: 15}, String: "picture", Size: 3}}},
			scene.Space(5),
			scene.Paragraph{String: "Heading", Size: 3.5, Weight: scene.Bold, Space: 2, WithNext: true},
			specimen.Schedule(3))
		for _, p := range pages {
			readable(t, p)
			on := lines(t, p)
			if on["Heading"] > 0 && on["A-001"] == 0 {
				t.Errorf("at a height of %v the heading stands alone", height)
			}
		}
	}
}

func TestParagraphsWrapAndPart(t *testing.T) {
	text := strings.Repeat("one two three four five six seven ", 40)
	sum := 0
	pages := flowed(100, 60, scene.Paragraph{String: text}, scene.Space(4), scene.Paragraph{String: "last"})
	for _, p := range pages {
		readable(t, p)
		for s, n := range lines(t, p) {
			sum += n * len(strings.Fields(s))
		}
	}
	if want := 7*40 + 1; sum != want {
		t.Errorf("%d of %d words came through", sum, want)
	}
	if got := flowed(100, 60); len(got) != 1 || len(got[0].Marks) != 0 {
		t.Errorf("nothing to lay gives %d pages", len(got))
	}
}

// A frame that holds nothing must not go on for ever.
func TestAFrameTooSmallForAnything(t *testing.T) {
	box := func(int) scene.Box { return scene.Box{Right: 3, Bottom: 1} }
	pages := scene.Flow(box, scene.Paragraph{String: "a b"}, scene.Picture{Height: 9}, specimen.Schedule(2), scene.Space(4))
	if len(pages) < 5 || len(pages) > 2000 {
		t.Errorf("%d pages", len(pages))
	}
}
