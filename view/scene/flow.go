package scene

import "strings"

// A Block is something that a Flow lays down, the next below the last.
type Block interface {
	// Take lays as much as fits a width and a height, from (0, 0) down. used is
	// the height taken; 0 with a rest says that nothing fitted. On a fresh page
	// it must take something. rest is what goes on the next page, nil for none.
	Take(width, height float64, fresh bool) (marks []Mark, used float64, rest Block)
}

// Flow lays blocks down frames, as many as they need, and returns the marks of
// each page. frame says where page i, counted from 0, has room.
func Flow(frame func(page int) Box, blocks ...Block) [][]Mark {
	var pages [][]Mark
	var now []Mark
	box := frame(0)
	y, fresh := box.Top, true
	turn := func() {
		pages = append(pages, now)
		now, box = nil, frame(len(pages))
		y, fresh = box.Top, true
	}
	for i := 0; i < len(blocks); i++ {
		for b := blocks[i]; b != nil; {
			marks, used, rest := b.Take(box.Width(), box.Bottom-y, fresh)
			stranded := rest == nil && !fresh && keeps(b) && i+1 < len(blocks) && !begins(blocks[i+1], box, y+used)
			if !fresh && (used == 0 && rest != nil || stranded) {
				turn()
				continue
			}
			if len(marks) > 0 {
				now = append(now, Group{Transform: Shift(box.Left, y), Marks: marks})
			}
			y, fresh = y+used, fresh && used == 0
			if b = rest; b != nil {
				turn()
			}
		}
	}
	return append(pages, now)
}

// keeps reports whether a block must not be the last on its page.
func keeps(b Block) bool {
	p, ok := b.(Paragraph)
	return ok && p.WithNext
}

// begins reports whether a block has room to begin at y.
func begins(b Block, box Box, y float64) bool {
	_, used, rest := b.Take(box.Width(), box.Bottom-y, false)
	return used > 0 || rest == nil
}

// A Paragraph is lettering wrapped to the frame.
type Paragraph struct {
	String   string
	Size     float64 // 0: 2.5 mm
	Weight   Weight
	Colour   Colour
	Space    float64 // mm left free below it
	WithNext bool    // a heading: never the last on its page
}

// Take lays the lines that fit (see Block).
func (p Paragraph) Take(width, height float64, fresh bool) ([]Mark, float64, Block) {
	size := sizeOr(p.Size)
	step := LineStep(size)
	lines := Wrap(p.String, size, p.Weight, width)
	n := min(len(lines), int(max(0, (height+1e-6)/step)))
	if n == 0 && fresh {
		n = 1
	}
	if n == 0 {
		return nil, 0, p
	}
	mark := Text{At: Point{0, (lineStep - 1) * size / 2}, String: strings.Join(lines[:n], "\n"), Size: size,
		Weight: p.Weight, VAlign: Top, Colour: p.Colour}
	used := float64(step * float64(n))
	if n == len(lines) {
		return []Mark{mark}, used + p.Space, nil
	}
	p.String = strings.Join(lines[n:], "\n")
	return []Mark{mark}, used, p
}

// A Space is room left free; it vanishes at the top and the bottom of a page.
type Space float64

// Take takes the room that there is (see Block).
func (s Space) Take(_, height float64, fresh bool) ([]Mark, float64, Block) {
	if fresh {
		return nil, 0, nil
	}
	return nil, max(0, min(float64(s), height)), nil
}

// A Picture is marks of a fixed height, kept in one piece.
type Picture struct {
	Height float64
	Marks  []Mark
}

// Take lays the picture where it fits (see Block).
func (p Picture) Take(_, height float64, fresh bool) ([]Mark, float64, Block) {
	if p.Height > height && !fresh {
		return nil, 0, p
	}
	return p.Marks, p.Height, nil
}
