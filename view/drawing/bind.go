package drawing

import (
	"fmt"
	"strings"

	"trenchwright/job/planner"
	"trenchwright/job/stamp"
	"trenchwright/view/scene"
)

// sheetKind is one kind of sheet of the pack. Without a word it is called as its first sheet is: on the two sides of the
// ocean not the same.
type sheetKind struct{ name, word string }

// sheetKinds are all kinds in the order of the pack. A page's name begins with its kind.
func sheetKinds() []sheetKind {
	return []sheetKind{
		{"strip", "Strip"}, {"section", "Long section"}, {"across", "Cross sections"}, {"digsheet", "Dig sheet"}, {"running", "Running"}, {"plan", "Plan"}, {"detail", "Details"}, {"cut", "Cutting"}, {"schedule", "Schedule"},
		{"joints", "Joints"}, {"setout", ""}, {"volumes", "Volumes"}, {"digrules", "Beside"}, {"checks", "Checks"}, {"bill", "Bill"}, {"delivery", "Delivery"}, {"findings", "Findings"}, {"programme", "Programme"}, {"ahead", "Days ahead"}, {"card", "Cut cards"},
	}
}

// kindOf is the kind of a page: its name before the dash.
func kindOf(p scene.Page) string {
	kind, _, _ := strings.Cut(p.Name, "-")
	return kind
}

// Head is what stands before the number of every page: which state of the job it is of.
func Head(p planner.Plan, of stamp.Stamp) string {
	if of.Known() {
		return of.Brief(p.Job.Hash)
	}
	return joined(" · ", prefixed("revision ", p.Job.Revision), p.Job.On, of.Brief(p.Job.Hash))
}

// Bind makes loose sheets one pack: it gives each the number of its page, with head before it (see Head), and the
// row of words that lead to the other sheets, its own word underlined. In the bookmarks the first sheet of a kind stands
// over the others. The pages given are not changed.
func Bind(pages []scene.Page, head string) []scene.Page {
	first, titles := map[string]string{}, map[string]string{}
	for _, p := range pages {
		if _, ok := first[kindOf(p)]; !ok {
			first[kindOf(p)] = p.Name
			titles[kindOf(p)], _, _ = strings.Cut(p.Title, ",")
		}
	}
	bound := make([]scene.Page, len(pages))
	for i, p := range pages {
		marks := append([]scene.Mark{}, p.Marks...)
		number := fmt.Sprintf("page %d of %d", i+1, len(pages))
		if p.Width < 200 { // cards are cut apart
			number = fmt.Sprintf("card %d of %d", i+1, len(pages))
			marks = append(marks, scene.Text{At: scene.Point{X: p.Width - cardEdge - codeWide, Y: 6}, String: number, Size: 1.8, Align: scene.Right, VAlign: scene.Top})
		} else {
			marks = append(marks, tabs(p, first, titles)...)
			size := sizeFor(p)
			room := float64((p.Width-2*edge)*headPart) - scene.TextWidth(" · "+number, size, scene.Regular)
			said, _, _ := scene.Fit(head, size, size, scene.Regular, room)
			marks = append(marks, scene.Text{At: scene.Point{X: p.Width - edge, Y: edge + headFor(size).note},
				String: joined(" · ", said, number), Size: size, Align: scene.Right})
		}
		p.Marks, p.Level = marks, 1
		if first[kindOf(p)] == p.Name {
			p.Level = 0
		}
		bound[i] = p
	}
	return bound
}

// headPart is how much of the width is there for the head and the number; the rest is the sheet's own line.
const headPart = 0.3

func sizeFor(p scene.Page) float64 {
	if p.Width > 800 {
		return 2.5
	}
	return 1.8
}

// tabs is the row of words at the upper right.
func tabs(p scene.Page, first, titles map[string]string) []scene.Mark {
	size := sizeFor(p)
	var marks []scene.Mark
	x := p.Width - edge
	kinds := sheetKinds()
	for i := len(kinds) - 1; i >= 0; i-- {
		k := kinds[i]
		target, there := first[k.name]
		if !there {
			continue
		}
		if k.word == "" {
			k.word = titles[k.name]
		}
		here := k.name == kindOf(p)
		weight := scene.Regular
		if here {
			weight = scene.Bold
		}
		width := scene.TextWidth(k.word, size, weight)
		base := edge + float64(0.75*headFor(size).name)
		marks = append(marks, scene.Text{At: scene.Point{X: x - width, Y: base}, String: k.word, Size: size, Weight: weight},
			scene.Link{Area: scene.Box{Left: x - width, Top: base - size - 1, Right: x, Bottom: base + 1.6}, To: "#" + target})
		pen := scene.Pen(scene.Fine)
		if here {
			pen = scene.Pen(scene.Thick)
		}
		marks = append(marks, scene.Line(scene.Point{X: x - width, Y: base + 1.4}, scene.Point{X: x, Y: base + 1.4}, pen))
		x -= width + 3.2
	}
	return marks
}

// Impose puts cards four on a page of A4, with lines to cut along. Three or fewer are left over on the last page.
func Impose(cards []scene.Page) []scene.Page {
	const width, height = 297.0, 210.0
	var pages []scene.Page
	for i := 0; i < len(cards); i += 4 {
		part := cards[i:min(len(cards), i+4)]
		p := scene.Page{Width: width, Height: height, Name: fmt.Sprintf("cards-%d", i/4+1), Level: 0,
			Title: fmt.Sprintf("%s to %s", part[0].Title, afterCard(part[len(part)-1].Title))}
		for k, c := range part {
			x, y := float64(float64(k%2)*width/2), float64(float64(k/2)*height/2)
			p.Marks = append(p.Marks, scene.Group{Name: c.Name, Transform: scene.Shift(x+float64((width/2-c.Width)/2), y+float64((height/2-c.Height)/2)), Frame: c.Frame, Marks: c.Marks})
		}
		pen := scene.Pen(scene.Fine).Dashed(2, 2)
		p.Marks = append(p.Marks,
			scene.Line(scene.Point{X: width / 2, Y: 3}, scene.Point{X: width / 2, Y: height - 3}, pen),
			scene.Line(scene.Point{X: 3, Y: height / 2}, scene.Point{X: width - 3, Y: height / 2}, pen))
		pages = append(pages, p)
	}
	return pages
}

// afterCard is a card's title without what kind of card it is.
func afterCard(title string) string {
	if _, name, ok := strings.Cut(title, " card "); ok {
		return name
	}
	return title
}
