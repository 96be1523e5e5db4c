package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/edge/folder"
	"trenchwright/job"
	"trenchwright/view/drawing"
	"trenchwright/view/pack"
)

// writePages writes the reduced book out fair: as one document where a name ends in .pdf, else into a folder of its own, with
// every page as a picture beside it; a folder that was written so before is written over, with nothing else in it.
func (p program) writePages(out string, w bookWork, a bookAnswer) error {
	b := w.pages(a)
	if strings.EqualFold(filepath.Ext(out), ".pdf") {
		text, err := pack.BookDocument(b).Make()
		if err == nil {
			err = replaceFile(out, text)
		}
		if err != nil {
			return unwritten("levelbook", err)
		}
		return nil
	}
	var files []folder.File
	for _, f := range pack.BookFiles(b) {
		files = append(files, folder.File{Name: f.Name, Make: f.Make})
	}
	if err := folder.ReplaceListed(context.Background(), out, files, p.progress(len(files)+1)); err != nil {
		return unwritten("levelbook", err)
	}
	return nil
}

// replaceFile puts a file in place when it is whole.
func replaceFile(name string, text []byte) error {
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+"-*")
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if err = errors.Join(err, f.Chmod(0o644), f.Close()); err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return nil
}

// pages are the book as it is printed: the words are those of the side of the ocean whose unit it has.
func (w bookWork) pages(a bookAnswer) drawing.LevelBook {
	f := w.book.Figures
	b := drawing.LevelBook{Name: strings.TrimSuffix(filepath.Base(w.file), filepath.Ext(w.file)), Book: w.book, Reduced: w.reduced, Verdict: a.Verdict, Remarks: make([]string, len(w.book.Rows))}
	if f.Unit == measure.UnitFoot || f.Unit == measure.UnitSurveyFoot {
		b.Words = job.US
	}
	if w.spread != nil {
		b.Adjusted = w.spread.Levels
	}
	at := map[int]int{}
	for i, r := range w.book.Rows {
		at[r.Line] = i
	}
	for _, j := range a.Judged {
		b.Closing = append(b.Closing, judgedText(j))
		if i, ok := at[j.Line]; ok {
			b.Remarks[i] = strings.TrimPrefix(b.Remarks[i]+"; off by "+string(j.Off), "; ")
		}
	}
	for _, t := range append([]string{a.Why}, a.NotChecked...) {
		if t != "" && (len(b.Why) == 0 || !strings.HasSuffix(a.Why, t)) {
			b.Why = append(b.Why, t)
		}
	}
	for _, t := range a.Notes {
		b.Why = append(b.Why, "note: "+t)
	}
	return b
}

// judgedText is one thing that was held against a known level.
func judgedText(j bookJudged) string {
	allowed := ""
	if j.Allowed != nil {
		allowed = fmt.Sprintf(", allowed %s", *j.Allowed)
	}
	return fmt.Sprintf("%s, %s in line %d: off by %s%s: %s", j.What, j.Point, j.Line, j.Off, allowed, j.Verdict)
}
