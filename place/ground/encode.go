package ground

import (
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"slices"
	"strings"
)

// The bytes of a surface, version 1. Numbers are variable-length as in encoding/binary: u unsigned, s signed (zigzag).
//
//	"twground" and the byte 1
//	role, name       each u length in bytes, at most 1000, and UTF-8
//	origin           s easting, s northing, nanometres
//	points           u count; sorted by easting, northing, level; no two equal. Of each, in nanometres less those of the
//	                 point before (the first one less 0): s easting, s northing, s level
//	faces            u count; sorted by corners; no two equal. Corners are numbers of points, counterclockwise from the
//	                 least. Of each: u first corner less that of the face before, u second less first, u third less first
//	SHA-256 of all of the above, 32 bytes
//
// The same surface has the same bytes whoever made it and wherever, and no other bytes are read: Decode refuses what
// Encode would not have written. Points that no face uses, invisible faces, faces without area in plan and the order in
// which faces were given are not kept; where faces lie over each other, another one may hold after reading.

const (
	magic   = "twground"
	version = 1
)

// Encode is s as bytes.
func (s *Surface) Encode() []byte {
	order, number := s.sortedVertices()
	b := append([]byte(magic), version)
	b = appendText(appendText(b, string(s.Role)), s.Name)
	b = binary.AppendVarint(b, int64(s.Origin.E))
	b = binary.AppendVarint(b, int64(s.Origin.N))
	b = binary.AppendUvarint(b, uint64(len(order)))
	last := vertex{}
	for _, i := range order {
		v := s.vertices[i]
		b = binary.AppendVarint(b, v.X-last.X)
		b = binary.AppendVarint(b, v.Y-last.Y)
		b = binary.AppendVarint(b, v.Z-last.Z)
		last = v
	}
	faces := s.sortedFaces(number)
	b = binary.AppendUvarint(b, uint64(len(faces)))
	first := int32(0)
	for _, c := range faces {
		b = binary.AppendUvarint(b, uint64(c[0]-first))
		b = binary.AppendUvarint(b, uint64(c[1]-c[0]))
		b = binary.AppendUvarint(b, uint64(c[2]-c[0]))
		first = c[0]
	}
	sum := sha256.Sum256(b)
	return append(b, sum[:]...)
}

// maxText is the greatest length of a name in bytes; what is longer is cut.
const maxText = 1000

func appendText(b []byte, text string) []byte {
	text = strings.ToValidUTF8(text[:min(len(text), maxText)], "")
	b = binary.AppendUvarint(b, uint64(len(text)))
	return append(b, text...)
}

// sortedVertices are the vertices that faces use, in order, equal ones once, and the number of each in that order.
func (s *Surface) sortedVertices() (order []int32, number []int32) {
	number = make([]int32, len(s.vertices))
	for i := range number {
		number[i] = none
	}
	for i := range s.faces {
		for _, c := range s.faces[i].corner {
			if number[c] == none {
				number[c] = 0
				order = append(order, c)
			}
		}
	}
	slices.SortFunc(order, func(a, b int32) int {
		return cmp.Or(compareVertices(s.vertices[a], s.vertices[b]), cmp.Compare(a, b))
	})
	kept := order[:0]
	for _, i := range order {
		if n := len(kept); n == 0 || s.vertices[kept[n-1]] != s.vertices[i] {
			kept = append(kept, i)
		}
		number[i] = int32(len(kept) - 1)
	}
	return kept, number
}

// sortedFaces are the faces by the numbers of their corners, the least corner first.
func (s *Surface) sortedFaces(number []int32) [][3]int32 {
	faces := make([][3]int32, len(s.faces))
	for i := range s.faces {
		c := s.faces[i].corner
		for k := range 3 {
			faces[i][k] = number[c[k]]
		}
		for faces[i][0] > faces[i][1] || faces[i][0] > faces[i][2] {
			faces[i] = [3]int32{faces[i][1], faces[i][2], faces[i][0]}
		}
	}
	slices.SortFunc(faces, compareFaces)
	return faces
}

func compareFaces(a, b [3]int32) int {
	return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]), cmp.Compare(a[2], b[2]))
}
