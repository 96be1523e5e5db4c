package server

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"path"

	"github.com/danielgtaylor/huma/v2"

	"trenchwright/base/finding"
	"trenchwright/edge/store"
	"trenchwright/job"
	"trenchwright/view/dropped"
	"trenchwright/view/jobtext"
)

// mostParts is how many files may be dropped at once, with the job that they are for.
const mostParts = 64

// dropBody is a drop as it was sent: one file, or several as the parts of a form.
type dropBody struct {
	As      string `query:"as" enum:"job,route,ground,services" required:"true" doc:"what the file is read as"`
	Job     string `query:"job" doc:"the job that it is for: one of its revisions, or its id for what was saved last; the part job of a form stands before it"`
	Name    string `query:"name" doc:"name of the file, where it comes by itself"`
	Kind    string `header:"Content-Type"`
	RawBody []byte `contentType:"multipart/form-data" doc:"parts file, as many as belong together, and a part job with the job as JSON; or any one file as it is"`
	said    map[string]string
}

// Resolve takes everything else that the address says as said of the file: line, unit, role, clear and what else Asked names.
func (d *dropBody) Resolve(c huma.Context) []error {
	at := c.URL()
	d.said = map[string]string{}
	for name, values := range at.Query() {
		if name != "as" && name != "job" && name != "name" && values[0] != "" {
			d.said[name] = values[0]
		}
	}
	return nil
}

func (a *api) dropped(h huma.API) {
	huma.Register(h, huma.Operation{
		OperationID: "read", Method: http.MethodPost, Path: "/api/read", MaxBodyBytes: mostFile, BodyReadTimeout: slowestFile,
		Summary:     "What dropped files hold, before anything of it is kept",
		Description: "What can be said of the files goes into the address, by the names that the answer lists under asked. Nothing is kept: the page puts the files under keep, then saves the job.",
	}, func(ctx context.Context, in *dropBody) (*body[dropped.Preview], error) {
		d := dropped.Drop{As: in.As, Said: in.said, Kept: func(sum string) ([]byte, error) { return a.Store.Attachment(ctx, sum) }}
		err := a.parts(&d, in)
		if err == nil && d.Job == nil {
			err = a.jobOf(ctx, &d, in.Job)
		}
		if err != nil {
			return nil, a.answered(err)
		}
		all, err := a.Store.Jobs(ctx)
		if err != nil {
			return nil, a.answered(err)
		}
		for _, j := range all {
			d.Taken = append(d.Taken, j.ID)
		}
		a.reading.Lock() // a survey takes memory: one after the other
		defer a.reading.Unlock()
		p, err := dropped.Read(d)
		if err != nil {
			return nil, refused(http.StatusUnprocessableEntity, err.Error())
		}
		return &body[dropped.Preview]{p}, nil
	})
}

// parts are the files of a drop, and the job that came with them.
func (a *api) parts(d *dropped.Drop, in *dropBody) error {
	kind, more, err := mime.ParseMediaType(in.Kind)
	if kind != "multipart/form-data" || err != nil {
		d.Files = []dropped.File{{Name: baseName(in.Name), Bytes: in.RawBody}}
		return nil
	}
	form := multipart.NewReader(bytes.NewReader(in.RawBody), more["boundary"])
	for n := 0; ; n++ {
		part, err := form.NextPart()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return refused(http.StatusBadRequest, "the form is broken: "+err.Error())
		}
		if n == mostParts {
			return refused(http.StatusRequestEntityTooLarge, fmt.Sprintf("more than %d files came at once. Try: those that belong to one job", mostParts))
		}
		b, err := io.ReadAll(part)
		if err != nil {
			return refused(http.StatusBadRequest, "the form is broken: "+err.Error())
		}
		if part.FormName() != "job" {
			d.Files = append(d.Files, dropped.File{Name: baseName(part.FileName()), Bytes: b})
			continue
		}
		j, faults := job.FromJSON(b)
		if faults.Any(finding.Fault) {
			return faulty("the job that the file is for has faults", faults)
		}
		d.Job = &j
	}
}

func baseName(name string) string {
	if name = path.Base(name); name == "." || name == "/" {
		return "file"
	}
	return name
}

// jobOf is the job that a drop is for: a revision, the newest of a job, or, for a route alone, one to start from.
func (a *api) jobOf(ctx context.Context, d *dropped.Drop, named string) error {
	if named == "" {
		if d.As != dropped.AsRoute {
			return nil
		}
		j, faults := jobtext.Read("starter.yaml", bytes.NewReader(a.Starter))
		if len(faults) > 0 {
			return fmt.Errorf("the job to start from has faults: %v", faults)
		}
		d.Job = &j
		return nil
	}
	text, err := a.Store.Content(ctx, named)
	var r *store.Refused
	if errors.As(err, &r) && r.Why == store.NotThere {
		var all store.Detail
		if all, err = a.Store.Job(ctx, named); err == nil {
			text, err = a.Store.Content(ctx, all.Heads[len(all.Heads)-1])
		}
	}
	if err != nil {
		return err
	}
	j, faults := job.FromJSON(text)
	if faults.Any(finding.Fault) {
		return faulty("the job that the file is for has faults", faults)
	}
	d.Job = &j
	return nil
}

var _ huma.Resolver = (*dropBody)(nil)
