package dossier

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
	"strings"
	"time"

	"trenchwright/job"
	"trenchwright/view/geojson"
	"trenchwright/view/landxml"
	"trenchwright/view/scene/pdf"
	"trenchwright/view/table"
)

// File is one file of a dossier. It is written as a stream, for the photos of a job are larger than a memory.
type File struct {
	Name  string
	Write func(io.Writer) error
}

// The files that are named elsewhere.
const (
	Sums     = "SHA256SUMS" // as sha256sum writes and reads it
	howTo    = "HOW-TO-VERIFY.txt"
	index    = "README.txt"
	pdfName  = "dossier.pdf"
	zipName  = "dossier.zip"
	cameName = "records.ndjson"
	photosIn = "attachments/"
)

// Files are what a dossier is handed over as: the document, the zip with everything, the sums of both. The last waits until
// those before it are written, by whoever writes them, or have failed.
func (d *Dossier) Files() ([]File, error) {
	document, inside, err := d.inside()
	if err != nil {
		return nil, err
	}
	packed := make(chan string, 1)
	return []File{held(pdfName, document), {zipName, func(w io.Writer) error {
		sum := sha256.New()
		err := d.pack(io.MultiWriter(w, sum), inside)
		packed <- hexOf(sum)
		return err
	}}, held(howTo, []byte(verifying)), {Sums, func(w io.Writer) error {
		return sumsOf(w, []summed{{pdfName, hashOf(document)}, {zipName, <-packed}, {howTo, hashOf([]byte(verifying))}})
	}}}, nil
}

// Zip writes the zip with everything alone: it has its own sums, and proves itself.
func (d *Dossier) Zip(w io.Writer) error {
	_, inside, err := d.inside()
	if err != nil {
		return err
	}
	return d.pack(w, inside)
}

// inside is the document, and the files of the zip.
func (d *Dossier) inside() (document []byte, files []File, err error) {
	document, err = written(func(w io.Writer) error { return pdf.Write(w, d.Document()) })
	if err == nil {
		files, err = d.contents(document)
	}
	return document, files, err
}

// held is a file whose bytes are at hand.
func held(name string, data []byte) File {
	return File{name, func(w io.Writer) error { _, err := w.Write(data); return err }}
}

// contents are the files of the zip, but for their sums.
func (d *Dossier) contents(document []byte) ([]File, error) {
	out := []File{held(pdfName, document), held(cameName, d.Came), held("job.json", job.CanonicalJSON(d.Job)), {"plan.json", d.Plan.WriteJSON}}
	tables := d.Tables()
	for _, t := range tables {
		out = append(out, File{"csv/" + t.Name + ".csv", func(w io.Writer) error { return table.WriteCSV(w, filed(t)) }})
	}
	if x, ok := d.landXML(); ok {
		out = append(out, File{"interchange/as-built.xml", func(w io.Writer) error { return landxml.Write(w, x) }})
	} else {
		out = append(out, held("interchange/no-landxml.txt", []byte("No joint was measured and no place was shot, so there are no points to write.\n")))
	}
	features, why := d.geoJSON()
	if why != "" {
		out = append(out, held("interchange/no-geojson.txt", []byte(why+".\n")))
	} else {
		out = append(out, File{"interchange/as-built.geojson", func(w io.Writer) error { return geojson.Write(w, features) }})
	}
	if at := d.positionFeatures(); len(at) > 0 {
		out = append(out, File{"interchange/positions.geojson", func(w io.Writer) error { return geojson.Write(w, at) }})
	}
	out = append(out, d.attachments()...)
	return append(out, held(index, d.indexText(tables, out)), held(howTo, []byte(verifying))), nil
}

// attachments are the photos, each once. One whose bytes are no longer those that were hashed is no evidence: it breaks off.
func (d *Dossier) attachments() []File {
	var out []File
	seen := map[string]bool{}
	for _, p := range d.Photos {
		if seen[p.Hash] {
			continue
		}
		seen[p.Hash] = true
		out = append(out, File{p.stored(), func(w io.Writer) error {
			from, err := p.Open()
			if err != nil {
				return err
			}
			defer from.Close()
			sum := sha256.New()
			if _, err := io.Copy(io.MultiWriter(w, sum), from); err != nil {
				return err
			}
			if hexOf(sum) != p.Hash {
				return fmt.Errorf("%s changed while the dossier was made", p.Name)
			}
			return nil
		}})
	}
	return out
}

func hexOf(h hash.Hash) string { return hex.EncodeToString(h.Sum(nil)) }

func hashOf(b []byte) string {
	h := sha256.Sum256(b)
	return hex.EncodeToString(h[:])
}

// summed is a file and the hash of its bytes.
type summed struct{ name, sum string }

func sumsOf(w io.Writer, files []summed) error {
	for _, f := range files {
		if _, err := fmt.Fprintf(w, "%s  %s\n", f.sum, f.name); err != nil {
			return err
		}
	}
	return nil
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
devices (records.ndjson: one JSON object a line, some with the server's number round it), the job and its plan as JSON, LandXML 1.2 and GeoJSON (RFC 7946) where
there are any, and under attachments/ every photo that was at hand, named by its SHA-256. README.txt in it says what every
file and every column is. It has a SHA256SUMS of its own.

Whoever changes a file and SHA256SUMS together is found only by somebody who kept the hash of SHA256SUMS apart. Write it
down where the dossier is handed over; the program prints it:  sha256sum SHA256SUMS
`

// pack writes files as a zip, their sums last. Text is packed, pictures are stored; the same files give the same bytes.
func (d *Dossier) pack(w io.Writer, files []File) error {
	z := zip.NewWriter(w)
	made := d.lastDay()
	if made.Year() < 1980 { // a zip has no earlier days
		made = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	put := func(f File) (string, error) {
		h := &zip.FileHeader{Name: f.Name, Method: zip.Deflate, Modified: made}
		if strings.HasPrefix(f.Name, photosIn) || f.Name == pdfName {
			h.Method = zip.Store
		}
		part, err := z.CreateHeader(h)
		if err != nil {
			return "", err
		}
		sum := sha256.New()
		err = f.Write(io.MultiWriter(part, sum))
		return hexOf(sum), err
	}
	var sums []summed
	for _, f := range files {
		sum, err := put(f)
		if err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
		sums = append(sums, summed{f.Name, sum})
	}
	if _, err := put(File{Sums, func(w io.Writer) error { return sumsOf(w, sums) }}); err != nil {
		return err
	}
	return z.Close()
}

func written(write func(io.Writer) error) ([]byte, error) {
	var b bytes.Buffer
	err := write(&b)
	return b.Bytes(), err
}
