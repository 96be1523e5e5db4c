package server

import (
	"context"
	"errors"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"trenchwright/edge/store"
)

type enrolment struct {
	Code    string    `json:"code" doc:"eight signs"`
	Ends    time.Time `json:"ends"`
	Reached []string  `json:"reached" doc:"addresses at which a phone reaches the workspace; none: it is on this machine alone"`
}

func (a *api) devices(h huma.API) {
	huma.Register(h, huma.Operation{
		OperationID: "enrol", Method: http.MethodPost, Path: "/api/enrolments", DefaultStatus: http.StatusCreated,
		Summary: "Make a code that lets one device in, within an hour: by the office alone",
	}, func(ctx context.Context, in *Asker) (*body[enrolment], error) {
		if err := inOffice(*in); err != nil {
			return nil, err
		}
		e, err := a.Store.Enrol(ctx)
		return &body[enrolment]{enrolment{e.Code, e.Ends, append([]string{}, a.Reached...)}}, a.answered(err)
	})
	type letIn struct {
		Device store.Device `json:"device"`
		Token  string       `json:"token" doc:"what the device is known by from now on: Authorization: Bearer TOKEN"`
	}
	huma.Register(h, huma.Operation{
		OperationID: "let-in", Method: http.MethodPost, Path: "/api/devices", DefaultStatus: http.StatusCreated,
		Summary: "Let a device in by a code. The same device may come with the same code again: its answer may have been lost",
	}, func(ctx context.Context, in *struct {
		Body struct {
			Code   string `json:"code" maxLength:"40" doc:"as the office made it; spaces and dashes do not matter"`
			Name   string `json:"name" maxLength:"80" doc:"what people call the device"`
			Device string `json:"device,omitempty" doc:"the id that it writes into its records; without it, it is given one"`
		}
	}) (*body[letIn], error) {
		if a.guesses.tooMany(time.Now()) {
			return nil, refused(http.StatusTooManyRequests, "too many codes were wrong in the last minute. Wait a minute, then type it once more")
		}
		d, token, err := a.Store.LetIn(ctx, in.Body.Code, in.Body.Device, in.Body.Name)
		var r *store.Refused
		if errors.As(err, &r) {
			a.guesses.wrong()
		}
		return &body[letIn]{letIn{d, token}}, a.answered(err)
	})
	huma.Get(h, "/api/devices", func(ctx context.Context, in *Asker) (*body[[]store.Device], error) {
		if err := inOffice(*in); err != nil {
			return nil, err
		}
		list, err := a.Store.Devices(ctx)
		return &body[[]store.Device]{list}, a.answered(err)
	})
	huma.Register(h, huma.Operation{
		OperationID: "shut-out", Method: http.MethodPost, Path: "/api/devices/{device}/shut-out", Summary: "Let a device in no more: by the office alone. What it brought stays",
	}, func(ctx context.Context, in *struct {
		Asker
		Device string `path:"device"`
	}) (*body[store.Device], error) {
		if err := inOffice(in.Asker); err != nil {
			return nil, err
		}
		d, err := a.Store.ShutOut(ctx, in.Device)
		return &body[store.Device]{d}, a.answered(err)
	})
}
