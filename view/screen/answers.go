package screen

// Table is a table with rows that are ready to be shown, and figures that it can be sorted by.
type Table struct {
	Name    string        `json:"name"`
	Title   string        `json:"title"`
	Notes   []string      `json:"notes"`
	Columns []TableColumn `json:"columns"`
	Rows    int           `json:"rows"`
	Keys    []string      `json:"keys"` // of each row: the card that belongs to it; empty: none
}

// TableColumn is one column with all of its cells.
type TableColumn struct {
	Key     string   `json:"key"`
	Head    string   `json:"head"` // with its unit
	Numeric bool     `json:"numeric"`
	Texts   []string `json:"texts"`
	Sort    Gaps     `json:"sort"` // of a numeric column: one figure a row, null where there is none
}
