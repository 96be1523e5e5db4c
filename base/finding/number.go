package finding

import "strconv"

// Number is what every paper and screen calls the finding at one place of a plan's list, the first being №1. The sign keeps it
// from being read as a unit of a leg.
func Number(i int) string { return "№" + strconv.Itoa(i+1) }
