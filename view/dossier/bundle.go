package dossier

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"strings"
	"time"

	"trenchwright/job"
	"trenchwright/view/geojson"
	"trenchwright/view/landxml"
	"trenchwright/view/scene/pdf"
	"trenchwright/view/table"
)

// File is one file of a dossier.
type File struct {
	Name string
	Data []byte
}

// The files that are named elsewhere.
const (
	Sums     = "SHA256SUMS" // as sha256sum writes and reads it
	howTo    = "HOW-TO-VERIFY.txt"
	pdfName  = "dossier.pdf"
	zipName  = "dossier.zip"
	cameName = "records.ndjson"
)

// Files are what a dossier is handed over as: the document, the zip with everything, the sums of both.
func (d *Dossier) Files() ([]File, error) {
	document, err := written(func(w io.Writer) error { return pdf.Write(w, d.Document()) })
	if err != nil {
		return nil, err
	}
	all, err := d.contents(document)
	if err != nil {
		return nil, err
	}
	packed, err := written(func(w io.Writer) error { return d.pack(w, summed(all)) })
	if err != nil {
		return nil, err
	}
	return summed([]File{{pdfName, document}, {zipName, packed}}), nil
}

// contents are the files of the zip.
func (d *Dossier) contents(document []byte) ([]File, error) {
	out := []File{{pdfName, document}, {cameName, d.Came}, {"job.json", job.CanonicalJSON(d.Job)}}
	plan, err := written(d.Plan.WriteJSON)
	if err != nil {
		return nil, err
	}
	out = append(out, File{"plan.json", plan})
	for _, t := range d.Tables() {
		b, err := written(func(w io.Writer) error { return table.WriteCSV(w, t) })
		if err != nil {
			return nil, err
		}
		out = append(out, File{"csv/" + t.Name + ".csv", b})
	}
	if x, ok := d.landXML(); ok {
		b, err := written(func(w io.Writer) error { return landxml.Write(w, x) })
		if err != nil {
			return nil, err
		}
		out = append(out, File{"interchange/as-built.xml", b})
	} else {
		out = append(out, File{"interchange/no-landxml.txt", []byte("No joint was measured and no place was shot, so there are no points to write.\n")})
	}
	features, why := d.geoJSON()
	if why != "" {
		out = append(out, File{"interchange/no-geojson.txt", []byte(why + ".\n")})
	} else {
		b, err := written(func(w io.Writer) error { return geojson.Write(w, features) })
		if err != nil {
			return nil, err
		}
		out = append(out, File{"interchange/as-built.geojson", b})
	}
	return append(out, d.attachments()...), nil
}

// attachments are the photos, each once. One whose bytes are no longer those that were hashed is left to the sums to find.
func (d *Dossier) attachments() []File {
	var out []File
	seen := map[string]bool{}
	for _, p := range d.Photos {
		if seen[p.Hash] {
			continue
		}
		seen[p.Hash] = true
		if b, err := p.Data(); err == nil && hash(b) == p.Hash {
			out = append(out, File{p.stored(), b})
		}
	}
	return out
}

func hash(b []byte) string {
	h := sha256.Sum256(b)
	return hex.EncodeToString(h[:])
}

// summed are files with the text that says how to verify them, and their sums.
func summed(files []File) []File {
	out := append(append([]File(nil), files...), File{howTo, []byte(verifying)})
	var sums strings.Builder
	for _, f := range out {
		fmt.Fprintf(&sums, "%s  %s\n", hash(f.Data), f.Name)
	}
	return append(out, File{Sums, []byte(sums.String())})
}

// verifying is for somebody who finds the dossier in twenty years.
const verifying = `How to prove that nothing in this dossier changed
==================================================

SHA256SUMS lists every file beside it with its SHA-256 hash (FIPS 180-4). With the usual tool, in this folder:

    sha256sum --check SHA256SUMS

With this program, which also looks into the zip and for files that nobody listed:

    trenchwright dossier --verify FOLDER
    trenchwright dossier --verify dossier.zip

dossier.zip holds everything: the document, every table as CSV (RFC 4180, UTF-8), the records as they came from the
devices (records.ndjson: one JSON object a line), the job and its plan as JSON, LandXML 1.2 and GeoJSON (RFC 7946) where
there are any, and under attachments/ every photo that was at hand, named by its SHA-256. It has a SHA256SUMS of its own.

Whoever changes a file and SHA256SUMS together is found only by somebody who kept the hash of SHA256SUMS apart. Write it
down where the dossier is handed over; the program prints it:  sha256sum SHA256SUMS
`

// pack writes files as a zip. Text is packed, pictures are stored; the same files give the same bytes.
func (d *Dossier) pack(w io.Writer, files []File) error {
	z := zip.NewWriter(w)
	made := d.lastDay()
	if made.Year() < 1980 { // a zip has no earlier days
		made = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	for _, f := range files {
		h := &zip.FileHeader{Name: f.Name, Method: zip.Deflate, Modified: made}
		if strings.HasPrefix(f.Name, "attachments/") || f.Name == pdfName {
			h.Method = zip.Store
		}
		part, err := z.CreateHeader(h)
		if err != nil {
			return err
		}
		if _, err := part.Write(f.Data); err != nil {
			return err
		}
	}
	return z.Close()
}

func written(write func(io.Writer) error) ([]byte, error) {
	var b bytes.Buffer
	err := write(&b)
	return b.Bytes(), err
}
