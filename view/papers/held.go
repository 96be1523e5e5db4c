package papers

import (
	"strings"

	"trenchwright/view/scene"
)

// heldBack is what stands in the place of a paper that a stop holds back: which stops, both figures, who may answer for each.
func (p Paper) heldBack(width float64) []scene.Block {
	out := []scene.Block{scene.Paragraph{String: "HELD BACK: this is no " + lower(p.Title), Size: 3.6, Weight: scene.Bold, Space: 2},
		scene.Paragraph{String: "A hard stop holds this paper back. What was done and found on site is recorded all the same.", Size: 2.2, Space: 2}}
	for _, s := range p.Stops {
		g := Part{Heads: []Head{{Wide: 3}, {Wide: 8}}, Rows: [][]string{{"stop", s.What}, {"figures", s.Figures}, {"rule", s.Rule}, {"who may override", s.Decides}}}
		if s.Lapsed != "" {
			g.Rows = append(g.Rows, []string{"override", s.Lapsed})
		}
		if s.Over != nil {
			g.Rows = append(g.Rows, over(s)...)
		} else {
			g.Rows = append(g.Rows, []string{"in the job, by a named person, with a reason and a document", s.Entry()})
		}
		out = append(out, g.grid(width), scene.Space(3))
	}
	return out
}

// overridden are the stops that somebody answers for, in full.
func (p Paper) overridden(width float64) []scene.Block {
	var out []scene.Block
	for _, s := range p.Stops {
		if s.Over == nil {
			continue
		}
		g := Part{Heads: []Head{{Name: "HARD STOP, OVERRIDDEN", Wide: 3}, {Name: s.Name, Wide: 8}}, Rows: append([][]string{{"stop", s.What}, {"figures", s.Figures}, {"rule", s.Rule}}, over(s)...)}
		out = append(out, framed{g.grid(width)}, scene.Space(2))
	}
	return out
}

// over are the rows of an override.
func over(s Stop) [][]string {
	return [][]string{{"answered for by", s.Over.By}, {"reason", s.Over.Reason}, {"document", s.Source}, {"day", s.Over.On}}
}

// framed is a block in a heavy frame.
type framed struct{ scene.Block }

// Take lays what fits (see scene.Block).
func (f framed) Take(width, height float64, fresh bool) ([]scene.Mark, float64, scene.Block) {
	marks, used, rest := f.Block.Take(width, height, fresh)
	if used > 0 && len(marks) > 0 {
		marks = append(marks, scene.Path{Outline: scene.Polygon(scene.Point{}, scene.Point{X: width}, scene.Point{X: width, Y: used}, scene.Point{Y: used}), Stroke: scene.Pen(scene.Broad)})
	}
	if rest != nil {
		rest = framed{rest}
	}
	return marks, used, rest
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func lower(s string) string {
	if s == "" {
		return s
	}
	return string(s[0]|0x20) + s[1:]
}
