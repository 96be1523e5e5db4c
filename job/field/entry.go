package field

import "encoding/json"

// entry is a record as a book holds it: what it says is read once, when somebody first asks.
type entry struct {
	Record
	heard any  // what was read of Says: a pointer to the type of its kind
	gone  bool // another record took its place
}

// hear reads what an entry says as its kind says it; false: it says something else, or nothing that can be read. A record without
// anything to read says the zero value. What is handed out is shared, and never changed.
func hear[T any](e *entry) (*T, bool) {
	if says, ok := e.heard.(*T); ok {
		return read(says)
	}
	says := new(T)
	if len(e.Says) > 0 && !heardQuickly(e.Says, says) {
		says = new(T)
		if json.Unmarshal(e.Says, says) != nil {
			says = nil
		}
	}
	e.heard = says
	return read(says)
}

// read tells what could not be read from what could, and hands out the zero value for it.
func read[T any](says *T) (*T, bool) {
	if says == nil {
		return new(T), false
	}
	return says, true
}
