package layout

// faults says what a Problem contradicts itself in.
func (p *Problem) faults() error { return nil }
