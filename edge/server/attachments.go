package server

import (
	"bytes"
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"
)

// SumPath names a file by its hash in an address.
type SumPath struct {
	SHA256 string `path:"sha256"`
}

func (a *api) attachments(h huma.API) {
	huma.Get(h, "/api/attachments/{sha256}", func(ctx context.Context, in *SumPath) (*contentAnswer, error) {
		b, err := a.Store.Attachment(ctx, in.SHA256)
		return &contentAnswer{"application/octet-stream", forGood, b}, a.answered(err)
	})
	huma.Register(h, huma.Operation{
		OperationID: "attach", Method: http.MethodPut, Path: "/api/attachments/{sha256}", MaxBodyBytes: mostFile, BodyReadTimeout: slowestFile, DefaultStatus: http.StatusNoContent,
		Summary: "Keep a file under its hash",
	}, func(ctx context.Context, in *struct {
		SumPath
		RawBody []byte `contentType:"application/octet-stream"`
	}) (*struct{}, error) {
		return nil, a.answered(a.Store.PutAttachment(ctx, in.SHA256, bytes.NewReader(in.RawBody)))
	})
}
