package papers

import (
	"slices"
	"testing"

	"trenchwright/demo"
	"trenchwright/view/scene"
)

// seen is what stands on a page: its lettering, and how far down there are rules.
type seen struct {
	said  []scene.Lettering
	rules []float64
}

func (s *seen) Letter(l scene.Lettering) { s.said = append(s.said, l) }
func (s *seen) Shape(o scene.Outline, _ scene.Colour, pen scene.Stroke) {
	for _, step := range o {
		s.rules = append(s.rules, step.To.Y)
	}
}
func (s *seen) Begin(scene.Scope)      {}
func (s *seen) End()                   {}
func (s *seen) Link(scene.Box, string) {}

// No title of a table, and no words above one, are the last thing on a page: some of the table stands below them.
func TestTitlesStandWithTheirTables(t *testing.T) {
	titles := 0
	for _, name := range demo.Names() {
		for _, p := range all(t, input(t, name)) {
			tabled := map[string]bool{}
			for _, part := range p.Parts {
				tabled[part.Title] = len(part.Lines) > 0 || len(part.Heads) > 0 && len(part.Rows) > 0 || len(part.Sign) > 0
			}
			for _, page := range p.Pages() {
				var s seen
				if err := scene.Draw(page, &s); err != nil {
					t.Fatal(err)
				}
				foot := page.Height - edge - footHigh
				says := func(text string) bool {
					return slices.ContainsFunc(s.said, func(l scene.Lettering) bool { return l.String == text })
				}
				for _, part := range p.Parts { // whoever signs has what is signed on the same page, where that is a few lines
					if n := len(part.Lines); n > 0 && n <= fewLines && len(part.Rows) == 0 && len(part.Sign) > 0 && says("name, firm") && says(part.Sign[0]) && !says(part.Title) {
						t.Errorf("%s: %s: %q is signed on another page", name, page.Name, part.Title)
					}
				}
				for _, l := range s.said {
					if l.Weight != scene.Bold || !tabled[l.String] || p.Held {
						continue
					}
					titles++
					below := false
					for _, y := range s.rules {
						below = below || y > l.Start.Y+1 && y < foot+0.5
					}
					if !below {
						t.Errorf("%s: %s: %q is the last thing on its page", name, page.Name, l.String)
					}
				}
			}
		}
	}
	if titles < 200 {
		t.Errorf("%d titles", titles)
	}
}
