// Package web is the workspace for browsers, packed into the program: web/src is built into web/dist by `go generate ./web`,
// and only what is packed there by gzip is embedded.
package web

import (
	"embed"
	"io/fs"
)

//go:generate go -C tools run .

//go:embed all:dist
var dist embed.FS

// Files are the files of the workspace by their paths, each packed by gzip under its path with .gz behind it. Without
// index.html.gz the workspace was not built into this program.
func Files() fs.FS {
	in, err := fs.Sub(dist, "dist")
	if err != nil {
		panic(err) // the path above is one that fs.Sub takes
	}
	return in
}
