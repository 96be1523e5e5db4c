package planner

import (
	"trenchwright/base/measure"
)

// mm writes a length for a sentence, exact.
func mm(l measure.Length) string { return l.MMString() + " mm" }

// roundMM writes a length for a sentence to the tenth of a millimetre.
func roundMM(l measure.Length) string {
	const tenth = measure.Millimetre / 10
	return mm((l + tenth/2) / tenth * tenth)
}
