package job

import "strings"

// brokenPlaces are the paths that something was said of already, each with every path around it, so that one slip is
// not reported a second time as what follows from it.
type brokenPlaces map[string]bool // true: the place itself; false: something inside it

func (b brokenPlaces) add(path string) {
	b[path] = true
	for up := parent(path); up != ""; up = parent(up) {
		if _, known := b[up]; !known {
			b[up] = false
		}
	}
}

// covers tells whether path or anything around it is broken.
func (b brokenPlaces) covers(path string) bool {
	if len(b) == 0 {
		return false
	}
	for ; path != ""; path = parent(path) {
		if b[path] {
			return true
		}
	}
	return false
}

// touches tells whether path, anything around it or anything in it is broken.
func (b brokenPlaces) touches(path string) bool {
	_, inside := b[path]
	return inside || b.covers(path)
}

// parent is the path around path: legs[2] of legs[2].from, legs of legs[2].
func parent(path string) string {
	return path[:max(0, strings.LastIndexAny(path, ".["))]
}
