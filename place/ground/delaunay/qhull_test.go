package delaunay

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"trenchwright/place/ground/exact"
)

// Against Qhull, an outside program (Debian's qhull-bin): the same triangles over random places, where there is only one
// answer; over grids, where there are many, triangles of the same area with no place inside a circle.
func TestAgainstQhull(t *testing.T) {
	if _, err := exec.LookPath("qdelaunay"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("qdelaunay is not installed: tools/packages qhull-bin")
		}
		t.Skip("SKIPPED: qdelaunay is not installed: tools/packages qhull-bin")
	}
	triangles, ties := 0, 0
	for seed := range uint64(12) {
		r := rand.New(rand.NewPCG(seed, 21))
		grid := seed%3 == 2
		n := 10 + r.IntN(3000)
		places := make([]exact.XY, n)
		for i := range places {
			places[i] = exact.XY{X: r.Int64N(1e9), Y: r.Int64N(1e9)}
			if grid {
				places[i] = exact.XY{X: 1000 * r.Int64N(60), Y: 1000 * r.Int64N(60)}
			}
		}
		m, same := Build(places)
		ours := corners3(m.Faces())
		theirs := qhull(t, places)
		if grid { // sliver triangles of no area are an answer there too
			theirs = slices.DeleteFunc(theirs, func(c [3]int32) bool { return exact.Side(places[c[0]], places[c[1]], places[c[2]]) == 0 })
			var faces []Face
			for _, c := range theirs {
				for k := range c {
					c[k] = same[c[k]]
				}
				if exact.Side(places[c[0]], places[c[1]], places[c[2]]) < 0 {
					c[1], c[2] = c[2], c[1]
				}
				faces = append(faces, Face{Corner: c})
			}
			if a, b := area(places, faces), area(places, m.Faces()); a.Cmp(b) != 0 {
				t.Errorf("seed %d: qhull covers %v, we %v", seed, a, b)
			}
			ties += len(ours)
			continue
		}
		slices.SortFunc(ours, compare3)
		slices.SortFunc(theirs, compare3)
		if !slices.Equal(ours, theirs) {
			t.Errorf("seed %d: %d triangles, qhull has %d, and they are not the same", seed, len(ours), len(theirs))
		}
		triangles += len(ours)
	}
	t.Logf("%d triangles are qhull's too; %d on grids, where there are many answers, cover the same", triangles, ties)
}

func corners3(faces []Face) [][3]int32 {
	var out [][3]int32
	for _, f := range faces {
		c := f.Corner
		slices.Sort(c[:])
		out = append(out, c)
	}
	return out
}

func compare3(a, b [3]int32) int { return slices.Compare(a[:], b[:]) }

// qhull are the triangles that qdelaunay answers with, corners sorted.
func qhull(t *testing.T, places []exact.XY) [][3]int32 {
	var in bytes.Buffer
	fmt.Fprintf(&in, "2\n%d\n", len(places))
	for _, p := range places {
		fmt.Fprintln(&in, p.X, p.Y)
	}
	cmd := exec.Command("qdelaunay", "Qt", "i")
	cmd.Stdin = &in
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("qdelaunay: %v", err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	var all [][3]int32
	for _, line := range lines[1:] {
		var c [3]int32
		if _, err := fmt.Sscan(line, &c[0], &c[1], &c[2]); err != nil {
			t.Fatalf("qdelaunay says %q: %v", line, err)
		}
		slices.Sort(c[:])
		all = append(all, c)
	}
	return all
}
