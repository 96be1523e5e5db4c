package field

import "encoding/json"

// SaysOf is what a record says, and whether it can be understood.
func SaysOf[T any](r *Record) (says T, ok bool) {
	if len(r.Says) == 0 {
		return says, true
	}
	return says, json.Unmarshal(r.Says, &says) == nil
}
