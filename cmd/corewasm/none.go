//go:build !(js && wasm)

// Command corewasm is the planning core for browsers; anywhere else it only says so.
package main

import (
	"fmt"
	"os"
)

func main() {
	fmt.Fprintln(os.Stderr, "corewasm runs in browsers: make workspace")
	os.Exit(1)
}
