package demo

import _ "embed"

//go:embed starter.yaml
var starter string

// Starter is a small commented job to begin from.
func Starter() string { return starter }
