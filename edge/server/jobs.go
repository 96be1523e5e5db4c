package server

import (
	"context"
	"encoding/json"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"trenchwright/edge/store"
	"trenchwright/job/merge"
	"trenchwright/job/planner"
)

type aboutBody struct {
	Version string `json:"version" doc:"of the program"`
	Core    string `json:"core" doc:"of the planning core: another one may give other plans, and must not issue"`
	Offline bool   `json:"offline" doc:"whether a browser that came so can work without signal"`
	Said    string `json:"said" doc:"the same in words"`
	Office  bool   `json:"office" doc:"whether this browser is the office: it is on the machine that the workspace runs on, and lets devices in"`
	Trust   string `json:"trust,omitempty" doc:"page that says how a phone comes to trust this server; none where it needs no telling"`
}

// CameBy is how a request came.
type CameBy struct {
	tls  bool
	host string
}

// Resolve looks at the connection.
func (c *CameBy) Resolve(h huma.Context) []error {
	c.tls, c.host = h.TLS() != nil, h.Host()
	return nil
}

// JobPath names a job in an address.
type JobPath struct {
	Job string `path:"job" doc:"the job's own id"`
}

type body[T any] struct{ Body T }

func (a *api) jobs(h huma.API) {
	huma.Get(h, "/api/about", func(_ context.Context, in *struct {
		CameBy
		Asker
	}) (*body[aboutBody], error) {
		b := aboutBody{Version: a.Version, Core: planner.Core, Office: in.office, Offline: offline(in.tls, in.host), Said: offlineSaid(in.tls, in.host, a.TLS)}
		if a.Trust != nil || !b.Offline {
			b.Trust = "/trust"
		}
		return &body[aboutBody]{b}, nil
	})
	huma.Get(h, "/api/jobs", func(ctx context.Context, _ *struct{}) (*body[[]store.Info], error) {
		all, err := a.Store.Jobs(ctx)
		if all == nil {
			all = []store.Info{}
		}
		return &body[[]store.Info]{all}, a.answered(err)
	})
	huma.Get(h, "/api/jobs/{job}", func(ctx context.Context, in *JobPath) (*body[store.Detail], error) {
		d, err := a.Store.Job(ctx, in.Job)
		return &body[store.Detail]{d}, a.answered(err)
	})
}

// draftBody is a revision as a device sends it.
type draftBody struct {
	ID      string          `json:"id" doc:"a ULID made on the device; sent again, it is the same revision"`
	Parents []string        `json:"parents" doc:"the revisions that it was made from: none for a new job, two for a merge"`
	Author  string          `json:"author,omitempty"`
	Device  string          `json:"device,omitempty"`
	Note    string          `json:"note,omitempty"`
	Content json.RawMessage `json:"content" doc:"the job"`
}

// RevisionPath names a revision in an address.
type RevisionPath struct {
	Revision string `path:"revision"`
}

type contentAnswer struct {
	ContentType  string `header:"Content-Type"`
	CacheControl string `header:"Cache-Control"`
	Body         []byte
}

// forGood is how long browsers may keep what never changes.
const forGood = "private, max-age=31536000, immutable"

func (a *api) revisions(h huma.API) {
	huma.Register(h, huma.Operation{
		OperationID: "save", Method: http.MethodPost, Path: "/api/jobs/{job}/revisions", MaxBodyBytes: mostJob, BodyReadTimeout: slowestJob,
		Summary: "Save a job as a new revision. On an older parent it makes a second head; nothing is written over",
	}, func(ctx context.Context, in *struct {
		JobPath
		Body draftBody
	}) (*body[store.Saved], error) {
		b := in.Body
		s, err := a.Store.Save(ctx, store.Draft{ID: b.ID, Job: in.Job, Parents: b.Parents, Author: b.Author, Device: b.Device, Note: b.Note, Content: b.Content})
		return &body[store.Saved]{s}, a.answered(err)
	})
	huma.Get(h, "/api/revisions/{revision}", func(ctx context.Context, in *RevisionPath) (*contentAnswer, error) {
		b, err := a.Store.Content(ctx, in.Revision)
		return &contentAnswer{"application/json", forGood, b}, a.answered(err)
	})
	type merged struct {
		Base    string          `json:"base"`
		Content json.RawMessage `json:"content"`
		Clashes []merge.Clash   `json:"clashes" doc:"what both changed differently: a person settles it"`
	}
	huma.Get(h, "/api/merge", func(ctx context.Context, in *struct {
		One   string   `query:"one" doc:"a revision; where both changed the same, its value stands"`
		Other string   `query:"other"`
		Take  []string `query:"take" doc:"paths whose value the other side gives"`
	}) (*body[merged], error) {
		m, err := a.Store.Merge(ctx, in.One, in.Other, in.Take...)
		if err != nil {
			return nil, a.answered(err)
		}
		return &body[merged]{merged{m.Base, canonical(m.Job), m.Clashes}}, nil
	})
}
