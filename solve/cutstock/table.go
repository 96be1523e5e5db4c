package cutstock

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// Where all pieces are plain and their sizes lie on a grid that is coarse for the unit, the way that is worth most is
// found sum by sum instead of by search: the work depends on the grid, not on how much alike the pieces are.

// mostCells bounds the work on a table: cells times kinds.
const mostCells = 8_000_000

// tabled finds the way that is worth most from a table; ok is false where there is no use for one.
func (s *shop) tabled(index int, r ranking, most []int) (value int64, takes []take, steps int64, ok bool) {
	u := &s.units[index]
	t := sumTable{shop: s, unit: u}
	if u.table != nil || len(u.NoCut) > 0 || u.A.Skew != 0 || u.B.Skew != 0 || len(r.firm) > 0 {
		return 0, nil, 0, false
	}
	grid := int64(0)
	for i := range s.kinds {
		grid = gcd(grid, int64(s.kinds[i].size))
	}
	t.cells = int64(u.Length+s.saw.kerf)/grid + 1
	for i, k := range s.kinds {
		if r.value[i] > 0 {
			t.addKind(i, int64(k.size)/grid, most[i])
		}
	}
	if t.cells*int64(len(t.packs)) > mostCells {
		return 0, nil, 0, false
	}
	t.fill(r.value)
	value, takes = t.best(grid)
	return value, takes, t.cells * int64(len(t.packs)), true
}

// sumTable is the most that pieces of each sum of sizes are worth.
type sumTable struct {
	shop  *shop
	unit  *unit
	cells int64
	packs []pack
	worth []int64  // by sum; below 0: no such sum
	taken [][]bool // by pack, by sum: whether the pack is in it
}

// pack is some pieces of a kind that are taken together or not at all: 1, 2, 4 … of them make every number.
type pack struct {
	kind, n int
	size    int64
}

func (t *sumTable) addKind(kind int, size int64, most int) {
	most = int(min(int64(most), t.cells/size))
	for n := 1; most > 0; n *= 2 {
		n = min(n, most)
		t.packs = append(t.packs, pack{kind, n, size * int64(n)})
		most -= n
	}
}

func (t *sumTable) fill(value []int64) {
	t.worth = slices.Repeat([]int64{-1}, int(t.cells))
	t.worth[0] = 0
	for _, p := range t.packs {
		taken := make([]bool, t.cells)
		worth := value[p.kind] * int64(p.n)
		for c := t.cells - 1; c >= p.size; c-- {
			if before := t.worth[c-p.size]; before >= 0 && before+worth > t.worth[c] {
				t.worth[c], taken[c] = before+worth, true
			}
		}
		t.taken = append(t.taken, taken)
	}
}

// best is the way that is worth most of those that leave nothing or enough for the saw.
func (t *sumTable) best(grid int64) (int64, []take) {
	reach := t.unit.Length + t.shop.saw.kerf
	best := int64(0)
	for c := range t.cells {
		left := reach - measure.Length(c*grid)
		if (left == 0 || left >= t.shop.saw.slice) && t.worth[c] > t.worth[best] {
			best = c
		}
	}
	counts := map[int]int{}
	at := best
	for i := len(t.packs) - 1; i >= 0; i-- {
		if t.taken[i][at] {
			at -= t.packs[i].size
			counts[t.packs[i].kind] += t.packs[i].n
		}
	}
	var takes []take
	for kind, n := range counts {
		takes = append(takes, take{kind, n})
	}
	sorting.By(takes, func(a, b take) int { return cmp.Compare(a.kind, b.kind) })
	return t.worth[best], takes
}
