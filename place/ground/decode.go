package ground

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"unicode/utf8"

	"trenchwright/base/measure"
	"trenchwright/place/ground/exact"
	"trenchwright/place/route"
)

// Decode reads what Encode wrote, and nothing else. Every number is checked before it is used, and nothing is made larger
// than the bytes allow.
func Decode(b []byte) (*Surface, error) {
	body := len(b) - sha256.Size
	if body <= len(magic) || string(b[:len(magic)]) != magic {
		return nil, errors.New("these bytes are no ground: they do not begin with " + magic)
	}
	if v := b[len(magic)]; v != version {
		return nil, fmt.Errorf("this ground is written in version %d; this program reads version %d", v, version)
	}
	if sha256.Sum256(b[:body]) != [sha256.Size]byte(b[body:]) {
		return nil, errors.New("this ground was changed or cut short: its checksum does not agree with it")
	}
	r := reader{rest: b[len(magic)+1 : body]}
	s := &Surface{tidy: true}
	s.Role, s.Name = Role(r.text()), r.text()
	s.Origin = route.Origin{E: measure.Length(r.signed(maxOrigin)), N: measure.Length(r.signed(maxOrigin))}
	s.readVertices(&r)
	s.readFaces(&r)
	if r.wrong == "" && len(r.rest) > 0 {
		r.refuse("%d bytes stand behind its faces", len(r.rest))
	}
	if r.wrong != "" {
		return nil, errors.New("this ground is broken: " + r.wrong)
	}
	s.measure(len(s.vertices), 0, nil)
	s.finish(newTeller(Source{Name: s.Name, Origin: s.Origin}))
	return s, nil
}

// maxOrigin is what an origin's coordinate may be, in nanometres: any length of record but the very greatest.
const maxOrigin = 1 << 62

// readVertices reads the points: in order, within reach, no two equal.
func (s *Surface) readVertices(r *reader) {
	n := r.count(3)
	s.vertices = make([]vertex, 0, n)
	last := vertex{}
	for i := range n {
		const step = 2 * exact.Reach
		v := vertex{exact.XY{X: last.X + r.signed(step), Y: last.Y + r.signed(step)}, last.Z + r.signed(step)}
		switch {
		case r.wrong != "":
			return
		case !v.Usable() || max(v.Z, -v.Z) > Highest*1e9:
			r.refuse("point %d lies out of reach", i+1)
			return
		case i > 0 && compareVertices(last, v) >= 0:
			r.refuse("point %d does not stand behind the one before", i+1)
			return
		}
		s.vertices = append(s.vertices, v)
		last = v
	}
}

// readFaces reads the faces: in order, counterclockwise, with area in plan, no two equal; and sees that they use all
// points.
func (s *Surface) readFaces(r *reader) {
	n := r.count(3)
	s.faces = make([]face, 0, n)
	used := make([]bool, len(s.vertices))
	left := len(used)
	var last [3]int32
	for i := range n {
		first := int64(last[0]) + r.unsigned(int64(len(used)))
		second, third := first+r.unsigned(int64(len(used))), first+r.unsigned(int64(len(used)))
		if r.wrong != "" {
			return
		}
		if first == second || first == third || max(second, third) >= int64(len(used)) {
			r.refuse("face %d has corners that do not exist or are one", i+1)
			return
		}
		c := [3]int32{int32(first), int32(second), int32(third)}
		if i > 0 && compareFaces(last, c) >= 0 {
			r.refuse("face %d does not stand behind the one before", i+1)
			return
		}
		if exact.Side(s.vertices[c[0]].XY, s.vertices[c[1]].XY, s.vertices[c[2]].XY) <= 0 {
			r.refuse("face %d does not run counterclockwise", i+1)
			return
		}
		for _, k := range c {
			if !used[k] {
				used[k] = true
				left--
			}
		}
		s.faces = append(s.faces, face{corner: c, beyond: [3]int32{none, none, none}})
		last = c
	}
	if n == 0 {
		r.refuse("it has no faces")
	} else if left > 0 {
		r.refuse("%d points belong to no face", left)
	}
}

// reader takes numbers off bytes; what was wrong first is kept, and from then on everything is nought.
type reader struct {
	rest  []byte
	wrong string
}

func (r *reader) refuse(form string, args ...any) {
	if r.wrong == "" {
		r.wrong = fmt.Sprintf(form, args...)
	}
	r.rest = nil
}

// number is any number, written as short as it can be.
func (r *reader) number() uint64 {
	v, n := binary.Uvarint(r.rest)
	if n <= 0 || n > 1 && r.rest[n-1] == 0 {
		r.refuse("a number is cut short or longer than it needs to be")
		return 0
	}
	r.rest = r.rest[n:]
	return v
}

// unsigned is a number up to most.
func (r *reader) unsigned(most int64) int64 {
	v := r.number()
	if v > uint64(most) {
		r.refuse("a number is greater than it can be: %d, at most %d", v, most)
		return 0
	}
	return int64(v)
}

// signed is a number from −most to most.
func (r *reader) signed(most int64) int64 {
	v := r.number()
	x := int64(v >> 1)
	if v&1 == 1 {
		x = ^x
	}
	if x > most || x < -most {
		r.refuse("a number is greater than it can be: %d, at most %d", x, most)
		return 0
	}
	return x
}

// count is how many things follow, each at least so many bytes long.
func (r *reader) count(bytes int) int {
	return int(r.unsigned(int64(len(r.rest) / bytes)))
}

// text is a short piece of UTF-8.
func (r *reader) text() string {
	n := r.unsigned(maxText)
	if int64(len(r.rest)) < n || !utf8.Valid(r.rest[:n]) {
		r.refuse("a name is cut short or is no text")
		return ""
	}
	s := string(r.rest[:n])
	r.rest = r.rest[n:]
	return s
}
