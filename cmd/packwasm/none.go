//go:build !(js && wasm)

// Command packwasm writes the papers of a plan in browsers; anywhere else it only says so.
package main

import (
	"fmt"
	"os"
)

func main() {
	fmt.Fprintln(os.Stderr, "packwasm runs in browsers: go generate ./web")
	os.Exit(1)
}
