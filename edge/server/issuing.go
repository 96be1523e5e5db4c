package server

import (
	"context"
	"fmt"
	"io"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"trenchwright/edge/store"
	"trenchwright/job/planner"
)

func (a *api) issuing(h huma.API) {
	huma.Register(h, huma.Operation{
		OperationID: "issue", Method: http.MethodPost, Path: "/api/jobs/{job}/issued", DefaultStatus: http.StatusCreated,
		Summary: "Issue a revision: its plan is stored as bytes and never made again",
	}, func(ctx context.Context, in *struct {
		JobPath
		Body struct {
			Revision string `json:"revision"`
			Name     string `json:"name" doc:"what people call it: Issue 3 for the trench gang"`
			Author   string `json:"author"`
			Core     string `json:"core" doc:"version of the core that showed the plan"`
		}
	}) (*body[store.Issued], error) {
		if in.Body.Core != planner.Core {
			return nil, refused(http.StatusConflict, fmt.Sprintf("the page plans with core %s, the server with core %s: the page may record, but not issue. Try: change over to the new version first", in.Body.Core, planner.Core))
		}
		packed, err := a.plan.kept(ctx, in.Body.Revision, planName)
		if err != nil {
			return nil, a.answered(err)
		}
		z, err := store.Unpacked(packed)
		if err != nil {
			return nil, a.answered(err)
		}
		plan, err := io.ReadAll(z)
		if err != nil {
			return nil, a.answered(err)
		}
		i, err := a.Store.Issue(ctx, store.Issuing{Revision: in.Body.Revision, Name: in.Body.Name, Author: in.Body.Author, Core: planner.Core, Plan: plan})
		return &body[store.Issued]{i}, a.answered(err)
	})
	type issuedPath struct {
		Issued string `path:"issued"`
	}
	huma.Get(h, "/api/issued/{issued}", func(ctx context.Context, in *issuedPath) (*body[store.Issued], error) {
		i, err := a.Store.Issued(ctx, in.Issued)
		return &body[store.Issued]{i}, a.answered(err)
	})
	huma.Get(h, "/api/issued/{issued}/plan", func(ctx context.Context, in *issuedPath) (*contentAnswer, error) {
		b, err := a.Store.IssuedPlan(ctx, in.Issued)
		return &contentAnswer{"application/json", forGood, b}, a.answered(err)
	})
}
