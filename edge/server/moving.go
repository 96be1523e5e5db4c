package server

import (
	"bytes"
	"context"
	"fmt"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"trenchwright/edge/store"
)

func (a *api) moving(h huma.API) {
	huma.Register(h, huma.Operation{
		OperationID: "export", Method: http.MethodGet, Path: "/api/jobs/{job}/export", Summary: "A job with all its revisions, files and issued plans as one zip",
	}, func(ctx context.Context, in *JobPath) (*huma.StreamResponse, error) {
		d, err := a.Store.Job(ctx, in.Job)
		if err != nil {
			return nil, a.answered(err)
		}
		var b bytes.Buffer
		if err := a.Store.Export(ctx, in.Job, &b); err != nil {
			return nil, a.answered(err)
		}
		return &huma.StreamResponse{Body: func(c huma.Context) {
			c.SetHeader("Content-Type", "application/zip")
			c.SetHeader("Content-Disposition", fmt.Sprintf("attachment; filename=%q", historyOf(d).WholeName(in.Job, d.Heads)))
			_, _ = c.BodyWriter().Write(b.Bytes())
		}}, nil
	})
	huma.Register(h, huma.Operation{
		OperationID: "import", Method: http.MethodPost, Path: "/api/import", MaxBodyBytes: mostFile, BodyReadTimeout: slowestFile, Summary: "Take in a job that was exported: all of it, or nothing",
	}, func(ctx context.Context, in *struct {
		RawBody []byte `contentType:"application/zip"`
	}) (*body[store.Imported], error) {
		i, err := a.Store.Import(ctx, bytes.NewReader(in.RawBody))
		return &body[store.Imported]{i}, a.answered(err)
	})
}
