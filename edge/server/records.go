package server

import (
	"context"
	"fmt"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"trenchwright/edge/store"
)

// mostAtOnce is how large records may be that come at once.
const mostAtOnce = 8 << 20

type recordsAnswer struct {
	ContentType string `header:"Content-Type"`
	LastSeq     int64  `header:"Last-Seq" doc:"the sequence number of the last line; without lines, the one that was asked from"`
	Body        []byte
}

const ndjson = "application/x-ndjson"

func (a *api) records(h huma.API) {
	huma.Register(h, huma.Operation{
		OperationID: "put-records", Method: http.MethodPost, Path: "/api/jobs/{job}/records", MaxBodyBytes: mostAtOnce, BodyReadTimeout: slowestJob,
		Summary:     "Keep records from site: one JSON object a line",
		Description: "A record is kept once however often it comes, and as it came, understood or not. What is acknowledged is on the disk. A record is never refused for what it says; a line that is no record is named under unread. The job may come later.",
	}, func(ctx context.Context, in *struct {
		JobPath
		Asker
		RawBody []byte `contentType:"application/x-ndjson"`
	}) (*body[store.Acknowledged], error) {
		by, err := a.device(ctx, in.Asker)
		if err != nil {
			return nil, err
		}
		got, err := a.Store.PutRecords(ctx, in.Job, by, in.RawBody)
		return &body[store.Acknowledged]{got}, a.answered(err)
	})
	huma.Register(h, huma.Operation{
		OperationID: "get-records", Method: http.MethodGet, Path: "/api/jobs/{job}/records",
		Summary: "Records of a job as they came, one a line, in the order in which the server took them",
	}, func(ctx context.Context, in *struct {
		JobPath
		Asker
		After    int64 `query:"after" minimum:"0" doc:"the sequence number that the last answer gave"`
		Limit    int   `query:"limit" minimum:"1" maximum:"10000" default:"2000"`
		Numbered bool  `query:"numbered" doc:"each line has its sequence number round the record as it came: {\"seq\":17,\"record\":{…}}"`
	}) (*recordsAnswer, error) {
		if _, err := a.device(ctx, in.Asker); err != nil {
			return nil, err
		}
		r, err := a.Store.Records(ctx, in.Job, in.After, in.Limit)
		if err != nil {
			return nil, a.answered(err)
		}
		return &recordsAnswer{ndjson, r.Last, r.Text(in.Numbered)}, nil
	})
}

// PhotoHere is how much of a photo is here.
type PhotoHere struct {
	Here  int64 `json:"here" doc:"bytes from its beginning; the next piece begins there"`
	Whole bool  `json:"whole"`
}

func (a *api) photos(h huma.API) {
	huma.Register(h, huma.Operation{
		OperationID: "photo-here", Method: http.MethodHead, Path: "/api/photos/{sha256}", Summary: "How much of a photo or voice note is here",
	}, func(ctx context.Context, in *struct {
		SumPath
		Asker
	}) (*struct {
		Here  int64 `header:"Here" doc:"bytes from its beginning"`
		Whole bool  `header:"Whole"`
	}, error) {
		if _, err := a.device(ctx, in.Asker); err != nil {
			return nil, err
		}
		p, err := a.Store.Photo(ctx, in.SHA256)
		return &struct {
			Here  int64 `header:"Here" doc:"bytes from its beginning"`
			Whole bool  `header:"Whole"`
		}{p.Bytes, p.Whole}, a.answered(err)
	})
	huma.Register(h, huma.Operation{
		OperationID: "put-photo", Method: http.MethodPut, Path: "/api/photos/{sha256}", MaxBodyBytes: store.MostPiece + 1, BodyReadTimeout: slowestJob,
		Summary:     "Keep a piece of a photo or voice note",
		Description: "Pieces have at most 1 MiB and follow on each other; the answer says where the next begins, whether this one was needed or not. With the last the sum is looked at, and the photo is an attachment from then on.",
	}, func(ctx context.Context, in *struct {
		SumPath
		Asker
		Range   string `header:"Content-Range" required:"true" doc:"bytes 0-1048575/12000000"`
		RawBody []byte `contentType:"application/octet-stream"`
	}) (*body[PhotoHere], error) {
		by, err := a.device(ctx, in.Asker)
		if err != nil {
			return nil, err
		}
		var first, last, total int64
		if n, err := fmt.Sscanf(in.Range, "bytes %d-%d/%d", &first, &last, &total); n != 3 || err != nil || last-first+1 != int64(len(in.RawBody)) {
			return nil, refused(http.StatusUnprocessableEntity, fmt.Sprintf("Content-Range %q does not say which %d bytes of how many these are. Try: bytes 0-1048575/12000000", shortly(in.Range), len(in.RawBody)))
		}
		p, err := a.Store.PutPiece(ctx, store.Piece{SHA256: in.SHA256, Start: first, Total: total, Bytes: in.RawBody, By: by})
		return &body[PhotoHere]{PhotoHere{p.Bytes, p.Whole}}, a.answered(err)
	})
}
