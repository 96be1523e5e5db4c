package peer

import (
	"errors"
	"os/exec"
)

// QDelaunay is where the triangulator of Debian's package qhull-bin stands, and its version; the error says that it is
// missing.
func QDelaunay() (at, version string, err error) {
	at, err = exec.LookPath("qdelaunay")
	if err != nil {
		return "", "", errors.New("qdelaunay is not installed: tools/packages qhull-bin")
	}
	return at, debianVersion("qhull-bin"), nil
}
