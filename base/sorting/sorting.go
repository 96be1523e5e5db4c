// Package sorting sorts lists by one sort that all types of elements share.
//
// The sorts of package slices are quicker, but compiled anew for every type: some 25 kB each in the planning core that a
// browser has to load. A solver's inner loop is worth that; nearly every list of a job is short, sorted already, or
// sorted once.
package sorting

import (
	"cmp"
	"slices"
	"sort"
)

// short lists are sorted in place one by one, which is quicker and takes no memory.
const short = 12

// By sorts list by compare, which is below 0 where a comes before b and above 0 where it comes after. What compares equal
// keeps its order, so that equal lists always come out equal.
func By[T any](list []T, compare func(a, b T) int) {
	if len(list) <= short {
		for i := 1; i < len(list); i++ {
			for k := i; k > 0 && compare(list[k], list[k-1]) < 0; k-- {
				list[k], list[k-1] = list[k-1], list[k]
			}
		}
		return
	}
	if slices.IsSortedFunc(list, compare) {
		return
	}
	sort.SliceStable(list, func(i, j int) bool { return compare(list[i], list[j]) < 0 })
}

// Ascending sorts numbers or texts, the least first.
func Ascending[T cmp.Ordered](list []T) { By(list, cmp.Compare) }
