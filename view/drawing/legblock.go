package drawing

import "trenchwright/view/scene"

// legBlock is all that a dig sheet has to say of one leg. Where it must go on in another column it says again of which leg.
type legBlock struct {
	name     string
	size     float64
	together bool // not parted where a column of its own has room for all of it
	blocks   []scene.Block
	begun    bool // it goes on
}

// leastBegun is the height of what a leg begins with at the foot of a column, in capitals: its name, the head of its table and
// a few rows.
const leastBegun = 18

// Take lays as much as fits (see scene.Block).
func (b legBlock) Take(width, height float64, fresh bool) (marks []scene.Mark, used float64, rest scene.Block) {
	blocks := b.blocks
	if b.begun {
		head := scene.Paragraph{String: "Leg " + b.name + ", goes on", Size: 1.3 * b.size, Weight: scene.Bold, Space: 2}
		blocks = append([]scene.Block{head}, blocks...)
	}
	y, bare := 0.0, fresh
	for i, one := range blocks {
		laid, took, left := one.Take(width, height-y, bare)
		if len(laid) > 0 {
			marks = append(marks, scene.Group{Transform: scene.Shift(0, y), Marks: laid})
		}
		y, bare = y+took, bare && took == 0
		if left == nil {
			continue
		}
		if !fresh && (b.together || y < leastBegun*b.size) {
			return nil, 0, b
		}
		b.blocks, b.begun = append([]scene.Block{left}, blocks[i+1:]...), true
		return marks, y, b
	}
	return marks, y, nil
}
