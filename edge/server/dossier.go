package server

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"trenchwright/job/field"
	"trenchwright/view/dossier"
)

// What is handed over is made when somebody asks for it, of the records that are here at that moment; nothing of it is kept.
func (a *api) dossiers(h huma.API) {
	huma.Register(h, huma.Operation{
		OperationID: "dossier", Method: http.MethodGet, Path: "/api/revisions/{revision}/dossier",
		Summary:     "What is handed over of a run or a part of it: one zip, which proves itself",
		Description: "The head says how many records are in it (Records), how many lines of gaps in the evidence and open matters (Gaps), and how many photos that records name are not here (Photos-Missing).",
	}, func(ctx context.Context, in *struct {
		RevisionPath
		Asker
		Leg   []string `query:"leg,explode" doc:"of this leg alone; none: the whole run"`
		From  string   `query:"from" doc:"of a stretch alone: from this place"`
		To    string   `query:"to" doc:"to that one of the same leg"`
		Until string   `query:"until" doc:"as it stood on a date, or when the server had so many records"`
		Now   string   `query:"now" doc:"the moment for what ends by itself, such as a release; none: nothing does"`
	}) (*huma.StreamResponse, error) {
		if _, err := a.device(ctx, in.Asker); err != nil {
			return nil, err
		}
		if _, err := time.Parse(time.RFC3339, in.Now); in.Now != "" && err != nil {
			return nil, refused(http.StatusUnprocessableEntity, fmt.Sprintf("now=%s is no moment; write for example 2026-11-27T18:00:00Z", shortly(in.Now)))
		}
		r, err := a.Store.Revision(ctx, in.Revision)
		if err != nil {
			return nil, a.answered(err)
		}
		p, err := a.plan.asPlanned(ctx, r)
		if err != nil {
			return nil, a.answered(err)
		}
		of, err := a.plan.stamped(ctx, r)
		if err != nil {
			return nil, a.answered(err)
		}
		from := dossier.Input{Plan: p.plan, Job: p.job, Now: in.Now, Part: dossier.Part{Legs: in.Leg, From: in.From, To: in.To}}
		if err := from.Part.Fault(p.plan); err != nil {
			return nil, refused(http.StatusUnprocessableEntity, err.Error())
		}
		if from.Came, err = a.Store.AllRecords(ctx, r.Job); err != nil {
			return nil, a.answered(err)
		}
		from.Records, from.Unread = field.Read(bytes.NewReader(from.Came))
		if in.Until != "" {
			upto, err := field.MomentOf(in.Until, from.Records)
			if err != nil {
				return nil, refused(http.StatusUnprocessableEntity, err.Error())
			}
			from.Until, from.Records, from.Came = upto.String(), upto.Of(from.Records), upto.Lines(from.Came)
		}
		missing, err := a.photosOf(ctx, &from)
		if err != nil {
			return nil, a.answered(err)
		}
		d := dossier.Of(from)
		return &huma.StreamResponse{Body: func(c huma.Context) {
			out := &begun{c: c, name: of.FileName(r.Job, from.Part.Name()+".zip"), said: map[string]string{
				"Records": strconv.Itoa(d.State().Records), "Gaps": strconv.Itoa(d.Gaps()), "Photos-Missing": strconv.Itoa(missing),
			}}
			a.ended(out, "a dossier", d.Zip(out))
		}}, nil
	})
}

// photosOf hands a dossier the photos that its records name, as far as they are here, and counts those that are not.
func (a *api) photosOf(ctx context.Context, in *dossier.Input) (missing int, err error) {
	seen := map[string]bool{}
	for _, r := range in.Records {
		for _, sum := range r.Attachments() {
			if sum = strings.ToLower(sum); seen[sum] {
				continue
			}
			seen[sum] = true
			gone, err := a.Store.Missing(ctx, []string{sum})
			if err != nil {
				return 0, err
			}
			if len(gone) > 0 {
				missing++
				continue
			}
			in.Photos = append(in.Photos, dossier.Photo{Hash: sum, Name: sum, Open: func() (io.ReadCloser, error) {
				b, err := a.Store.Attachment(ctx, sum)
				return io.NopCloser(bytes.NewReader(b)), err
			}})
		}
	}
	return missing, nil
}
