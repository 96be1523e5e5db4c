package job

// Entry is one figure with its pedigree. In a job it is written bare (`kerf: 5 mm`: it then comes from the document of
// the thing it stands in), as `{value: 5 mm, from: D2, page: 7}`, or as `{assumed: 5 mm, note: measured on two}`.
// The zero value is a figure that nobody entered.
type Entry[T any] struct {
	Value   T
	Known   bool   // somebody entered it or assumed it
	Assumed bool   // assumed on the spot: printed so wherever it goes
	From    string // document id; empty: the document of the supply or rules it stands in
	Page    string
	By      string // who entered it, where it differs from the document's
	On      string // when, YYYY-MM-DD
	Note    string
}

// Known makes an entered figure, for code that builds jobs.
func Known[T any](v T) Entry[T] { return Entry[T]{Value: v, Known: true} }

// IsZero tells encoding/json to leave out what nobody entered.
func (e Entry[T]) IsZero() bool { return !e.Known }
