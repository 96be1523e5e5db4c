package planner

import (
	"fmt"

	"trenchwright/job"
)

// place is the name of the nth place on a leg, from 1: B-017. It is given once and never means another place.
func place(leg string, n int) string { return job.PlaceName(leg, n) }

// coverMark is the name of the nth cover on a unit, from 1: B-017.2.
func coverMark(unit string, n int) string { return fmt.Sprintf("%s.%d", unit, n) }

// offcutMark is the name of the nth offcut of what is cut for a mark, from 0: B-017/a, then /b.
func offcutMark(mark string, n int) string {
	letters := ""
	for n++; n > 0; n = (n - 1) / 26 {
		letters = string(rune('a'+(n-1)%26)) + letters
	}
	return mark + "/" + letters
}
