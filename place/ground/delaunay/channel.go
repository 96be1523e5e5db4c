package delaunay

import "trenchwright/place/ground/exact"

// bank is one edge of a side of the channel, walked from one end of the line to the other.
type bank struct {
	begin, end int32
	own        edge // the edge in its triangle of the channel
	out        edge // what lies beyond it
	fixed      bool
	mate       int // where a triangle of the channel lies beyond too, the index of that bank; −1: none
}

// open digs the channel out and closes it with the line from one place to another as an edge.
func (m *Mesh) open(from, to int32, channel []edge) {
	left, right, triangles := m.banks(from, channel)
	turnRound(right) // from `to` to `from`: the right side seen from the other end is a left one
	for _, t := range triangles {
		m.all[t].dug = true
	}
	m.pair(left)
	m.pair(right)
	fresh := triangles
	l, rest := m.ears(left, fresh)
	r, _ := m.ears(right, rest)
	m.join(l, r)
	m.fix(l)
	for _, t := range triangles {
		m.note(t)
	}
	m.mend(triangles)
}

// banks are both sides of a channel, walked from the line's begin to its end, and its triangles.
func (m *Mesh) banks(from int32, channel []edge) (left, right []bank, triangles []int32) {
	first := channel[0]
	t, k := first.triangle(), first.corner()
	left = append(left, m.bank(from, m.all[t].corner[before[k]], at(t, after[k])))
	right = append(right, m.bank(from, m.all[t].corner[after[k]], at(t, before[k])))
	triangles = append(triangles, t)
	for i, e := range channel {
		o := m.beyond(e)
		t, k := o.triangle(), o.corner()
		triangles = append(triangles, t)
		c := &m.all[t].corner
		ahead, onLeft, onRight := c[k], c[after[k]], c[before[k]]
		onward := nowhere
		if i+1 < len(channel) {
			onward = channel[i+1]
		}
		if onward != at(t, before[k]) { // the edge from ahead to left's last place stays
			left = append(left, m.bank(onLeft, ahead, at(t, before[k])))
		}
		if onward != at(t, after[k]) {
			right = append(right, m.bank(onRight, ahead, at(t, after[k])))
		}
	}
	return left, right, triangles
}

func (m *Mesh) bank(begin, end int32, own edge) bank {
	return bank{begin: begin, end: end, own: own, out: m.beyond(own), fixed: m.isFixed(own), mate: -1}
}

// turnRound walks banks the other way.
func turnRound(b []bank) {
	for i, j := 0, len(b)-1; i <= j; i, j = i+1, j-1 {
		b[i], b[j] = b[j], b[i]
		b[i].begin, b[i].end = b[i].end, b[i].begin
		if i != j {
			b[j].begin, b[j].end = b[j].end, b[j].begin
		}
	}
}

// pair finds edges that hang into the channel: triangles of it lie on both sides of them, and the walk passes them twice.
func (m *Mesh) pair(b []bank) {
	var owns map[edge]int
	for i := range b {
		if !m.all[b[i].out.triangle()].dug {
			continue
		}
		if owns == nil {
			owns = make(map[edge]int, len(b))
			for j := range b {
				owns[b[j].own] = j
			}
		}
		b[i].mate = owns[b[i].out]
	}
}

// strand is one edge between neighbours on the stack of ears: what lies beyond it.
type strand struct {
	out   edge
	fixed bool
	mate  int
	bank  int
}

// ears closes the side of the channel that lies between a walk and the straight way back from its end to its begin, the
// walk on the left. It gives the side of that straight edge that lies towards the walk, and the triangles left over.
func (m *Mesh) ears(walk []bank, fresh []int32) (base edge, rest []int32) {
	waiting := make([]edge, len(walk)) // of banks with a mate: the edge of the new triangle on this side
	for i := range waiting {
		waiting[i] = nowhere
	}
	stack := []int32{walk[0].begin}
	var strands []strand
	for i, b := range walk {
		stack, strands = append(stack, b.end), append(strands, strand{b.out, b.fixed, b.mate, i})
		for n := len(stack); n >= 3 && m.convex(stack[n-3:]); n = len(stack) {
			t := fresh[0]
			fresh = fresh[1:]
			// Seen from the walk's side the ear runs clockwise; a triangle runs counterclockwise.
			m.all[t] = triangle{corner: [3]int32{stack[n-3], stack[n-1], stack[n-2]}}
			m.lay(at(t, 0), strands[n-2], waiting)
			m.lay(at(t, 1), strands[n-3], waiting)
			stack[n-2] = stack[n-1]
			stack, strands = stack[:n-1], strands[:n-2]
			strands[n-3] = strand{out: at(t, 2), mate: -1, bank: -1}
		}
	}
	if len(stack) != 2 {
		panic("delaunay: one side of a channel has no ear")
	}
	return strands[0].out, fresh
}

// convex tells whether the walk turns right at the middle one of three places.
func (m *Mesh) convex(s []int32) bool {
	return exact.Side(m.places[s[0]], m.places[s[1]], m.places[s[2]]) < 0
}

// lay puts an edge of a new triangle against what lies beyond it.
func (m *Mesh) lay(e edge, s strand, waiting []edge) {
	if s.fixed {
		m.all[e.triangle()].fixed |= 1 << e.corner()
	}
	switch {
	case s.mate < 0:
		m.join(e, s.out)
	case waiting[s.mate] != nowhere:
		m.join(e, waiting[s.mate])
	default:
		waiting[s.bank] = e
	}
}
