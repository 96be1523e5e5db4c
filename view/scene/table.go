package scene

// A Column is one column of a Table.
type Column struct {
	Head   string
	Width  float64 // mm; 0: as wide as its widest cell, negative: a share of what is left
	Align  Align
	Weight Weight // of its cells
}

// A Row is one row of a Table. Missing cells are empty.
type Row struct {
	Cells []string
	Bold  bool // a total or a heading within the table
	Rule  bool // a stronger rule above it
}

// A Table is rows under a head that is repeated on every page. Cells are
// wrapped to their column and never cut; rows are parted by thin rules.
type Table struct {
	Columns []Column
	Rows    []Row
	Size    float64 // height of the capitals; 0: 2.5 mm
}
