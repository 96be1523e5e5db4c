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

// touches tells whether path, anything around it or anything in it is broken.
func (b brokenPlaces) touches(path string) bool {
	if len(b) == 0 {
		return false
	}
	if _, inside := b[path]; inside {
		return true
	}
	for up := parent(path); up != ""; up = parent(up) {
		if b[up] {
			return true
		}
	}
	return false
}

// parent is the path around path: legs[2] of legs[2].from, legs of legs[2].
func parent(path string) string {
	return path[:max(0, strings.LastIndexAny(path, ".["))]
}
