package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"

	"trenchwright/edge/folder"
	"trenchwright/job/field"
	"trenchwright/view/dossier"
)

// dossierCommand makes what is handed over of a run, and proves what was made.
type dossierCommand struct {
	Job     string   `arg:"" help:"The job, as YAML or JSON, or as the workspace saves it as one file, or the name of a demo job; with --verify alone a dossier, its folder or its zip."`
	Records string   `help:"The file of its records; a job saved as one file has them." placeholder:"FILE"`
	Photos  string   `help:"The folder of the photos that records name; their hashes tell which is which." placeholder:"DIR"`
	Leg     []string `help:"Of this leg alone; may be said more than once." placeholder:"LEG"`
	From    string   `help:"Of a stretch alone: from this place, --to that one of the same leg." placeholder:"PLACE"`
	To      string   `help:"See --from." placeholder:"PLACE"`
	Until   string   `help:"As it stood on a date, or when the server had so many records." placeholder:"MOMENT"`
	Now     string   `help:"The moment for what ends by itself, such as a release: 2026-11-27T18:00:00Z." placeholder:"TIME"`
	Out     string   `short:"o" help:"Folder for the dossier." placeholder:"DIR"`
	Verify  bool     `help:"Prove that nothing in a dossier changed: the one that was just made, or without -o the one that is named."`
	JSON    bool     `name:"json" help:"Answer as JSON."`
}

// dossierAnswer is what `trenchwright dossier --json` prints.
type dossierAnswer struct {
	Folder  string         `json:"folder,omitempty"`
	Files   []string       `json:"files"`
	Records int            `json:"records"`
	Gaps    int            `json:"gaps"` // lines of gaps in the evidence and open matters
	Proof   *dossier.Proof `json:"proof,omitempty"`
}

func (c *dossierCommand) Run(p program) error {
	if c.Verify && c.Out == "" {
		return c.proves(p, c.Job, dossierAnswer{Files: []string{}})
	}
	saved := c.Out != "" && c.Records == "" && isOneFile(c.Job)
	if c.Out == "" || c.Records == "" && !saved {
		return outcome{exitUsage, "trenchwright dossier: a dossier is made of --records FILE into -o DIR, or of a job saved as one file; --verify alone proves one"}
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if saved {
		dir, err := os.MkdirTemp("", "trenchwright-dossier-")
		if err != nil {
			return err
		}
		defer os.RemoveAll(dir)
		o, err := unpacked(ctx, c.Job, dir)
		if err != nil {
			return outcome{exitFaults, fmt.Sprintf("trenchwright dossier: %s: %v", c.Job, err)}
		}
		c.Job, c.Records = o.job, o.records
		if c.Photos == "" {
			c.Photos = o.photos
		}
	}
	on, _, err := p.buildable("dossier", c.Job)
	if err != nil {
		return err
	}
	in := dossier.Input{Plan: on.Plan, Job: on.Job, Now: c.Now, Part: dossier.Part{Legs: c.Leg, From: c.From, To: c.To}}
	if err := in.Part.Fault(on.Plan); err != nil {
		return outcome{exitUsage, fmt.Sprintf("trenchwright dossier: %v", err)}
	}
	if in.Came, err = os.ReadFile(c.Records); err != nil {
		return outcome{exitUsage, fmt.Sprintf("trenchwright dossier: %v", err)}
	}
	if in.Records, in.Unread, err = recordsIn(c.Records); err != nil {
		return outcome{exitUsage, fmt.Sprintf("trenchwright dossier: %s: %v", c.Records, err)}
	}
	if c.Until != "" {
		upto, err := momentIn("dossier", c.Until, in.Records)
		if err != nil {
			return err
		}
		in.Until, in.Records, in.Came = upto.String(), upto.Of(in.Records), upto.Lines(in.Came)
	}
	if in.Photos, err = photosIn(c.Photos, in.Records); err != nil {
		return outcome{exitUsage, fmt.Sprintf("trenchwright dossier: --photos: %v", err)}
	}
	d := dossier.Of(in)
	files, err := d.Files()
	if err != nil {
		return outcome{exitBroken, "trenchwright dossier: " + err.Error()}
	}
	a := dossierAnswer{Folder: c.Out, Records: d.State().Records, Gaps: d.Gaps()}
	var put []folder.File
	for _, f := range files {
		a.Files = append(a.Files, f.Name)
		put = append(put, folder.File{Name: f.Name, Write: f.Write})
	}
	if err := folder.ReplaceListed(ctx, c.Out, put, p.progress(len(put))); err != nil {
		return unwritten("dossier", err)
	}
	if c.Verify {
		return c.proves(p, c.Out, a)
	}
	if c.JSON {
		return p.json(a)
	}
	sum, err := sumOf(filepath.Join(c.Out, dossier.Sums))
	if err != nil {
		return unwritten("dossier", err)
	}
	c.show(p, a)
	fmt.Fprintf(p.out, "SHA-256 of %s, to be kept apart: %s\n", dossier.Sums, sum)
	return nil
}

func (c *dossierCommand) show(p program, a dossierAnswer) {
	if a.Folder != "" {
		fmt.Fprintf(p.out, "%s, %s in gaps and open matters: %s\n", plural(a.Records, "record", "records"), plural(a.Gaps, "line", "lines"), filepath.Join(a.Folder, "dossier.pdf"))
	}
}

// proves holds a dossier against its sums, and fails where anything differs.
func (c *dossierCommand) proves(p program, name string, a dossierAnswer) error {
	proof, err := proofOf(name)
	if missing := (*fs.PathError)(nil); errors.As(err, &missing) {
		return outcome{exitUsage, fmt.Sprintf("trenchwright dossier: %v", err)}
	}
	if err != nil {
		return outcome{exitFaults, fmt.Sprintf("trenchwright dossier: %s: %v", name, err)}
	}
	if a.Proof = &proof; c.JSON {
		if err := p.json(a); err != nil {
			return err
		}
	} else {
		c.show(p, a)
		for _, l := range []struct {
			what  string
			names []string
		}{{"changed", proof.Changed}, {"missing", proof.Missing}, {"not listed", proof.Unlisted}} {
			for _, n := range l.names {
				fmt.Fprintf(p.out, "%s: %s\n", l.what, n)
			}
		}
		if proof.Proven() {
			fmt.Fprintf(p.out, "%s: all of them are what they were\n", plural(proof.Files, "file", "files"))
		}
		fmt.Fprintf(p.out, "SHA-256 of %s: %s; hold it against the one that was kept apart\n", dossier.Sums, proof.Sums)
	}
	if !proof.Proven() {
		return outcome{exitFaults, fmt.Sprintf("trenchwright dossier: %s is not what it was", name)}
	}
	return nil
}

// proofOf proves a dossier: its folder, or its zip.
func proofOf(name string) (dossier.Proof, error) {
	info, err := os.Stat(name)
	if err != nil {
		return dossier.Proof{}, err
	}
	if info.IsDir() {
		return dossier.Verify(os.DirFS(name))
	}
	f, err := os.Open(name)
	if err != nil {
		return dossier.Proof{}, err
	}
	defer f.Close()
	return dossier.VerifyZip(f, info.Size())
}

// photosIn are the files of a folder that records name by their hash; others are left where they are.
func photosIn(dir string, records []field.Record) ([]dossier.Photo, error) {
	if dir == "" {
		return nil, nil
	}
	named := map[string]bool{}
	for _, r := range records {
		for _, h := range r.Attachments() {
			named[strings.ToLower(h)] = true
		}
	}
	var out []dossier.Photo
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || !e.Type().IsRegular() {
			return err
		}
		h, err := sumOf(path)
		if named[h] {
			out = append(out, dossier.Photo{Hash: h, Name: filepath.Base(path), Open: func() (io.ReadCloser, error) { return os.Open(path) }})
		}
		return err
	})
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("there is no folder %s", dir)
	}
	slices.SortFunc(out, func(a, b dossier.Photo) int { return strings.Compare(a.Hash+a.Name, b.Hash+b.Name) })
	return out, err
}

// sumOf is the SHA-256 of a file.
func sumOf(path string) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// Help is shown below the flags.
func (dossierCommand) Help() string {
	return `Example:

    trenchwright dossier job.yaml --records site.ndjson --photos photos -o handover --verify
    trenchwright dossier job.yaml --records site.ndjson --from A-003 --to A-017 -o part
    trenchwright dossier yard_all-up-to-state-12.zip -o handover     a job as the workspace saves it as one file
    trenchwright dossier job.yaml --records site.ndjson --until 240 -o month     as it stood when the server had 240 records
    trenchwright dossier --verify handover

dossier.pdf begins with the run on its strip, as its index, and with the gaps in the evidence. dossier.zip holds it with every table as
CSV, the records as they came, LandXML, GeoJSON and the photos; SHA256SUMS proves both, with this program or with sha256sum alone.`
}
