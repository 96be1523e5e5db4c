package sorting

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// pair is sorted by its key alone; at tells equal keys apart.
type pair struct{ key, at int }

func TestBySortsLikeSlicesAndKeepsWhatIsEqualInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := make([]pair, 0)
		for i, key := range rapid.SliceOf(rapid.IntRange(0, 9)).Draw(t, "keys") {
			list = append(list, pair{key, i})
		}
		byKey := func(a, b pair) int { return a.key - b.key }
		want := slices.Clone(list)
		slices.SortStableFunc(want, byKey)
		By(list, byKey)
		if !slices.Equal(list, want) {
			t.Fatalf("%v, wanted %v", list, want)
		}
	})
}

func TestAscendingSortsTextsAndNumbers(t *testing.T) {
	texts, numbers := []string{"b", "", "a", "B"}, []int64{3, -1, 2, -1}
	Ascending(texts)
	Ascending(numbers)
	if !slices.Equal(texts, []string{"", "B", "a", "b"}) || !slices.Equal(numbers, []int64{-1, -1, 2, 3}) {
		t.Error(texts, numbers)
	}
}

func TestByTakesNothingAtAll(t *testing.T) {
	By(nil, func(a, b int) int { panic("nothing to compare") })
	By([]int{1}, func(a, b int) int { panic("nothing to compare") })
}
