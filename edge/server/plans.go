package server

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"path"
	"strings"
	"sync"

	"github.com/danielgtaylor/huma/v2"

	"trenchwright/base/finding"
	"trenchwright/edge/store"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
	"trenchwright/view/pack"
)

func canonical(j job.Job) []byte { return job.CanonicalJSON(j) }

// maker makes plans and packs once, and keeps them by what they were made from. One is made at a time: a plan uses the whole
// machine, and whoever waits for the same one gets it when it is there.
type maker struct {
	store *store.Store
	one   *sync.Mutex
}

func newMaker(s *store.Store) maker { return maker{s, &sync.Mutex{}} }

// planned is a job with its ground and its plan.
type planned struct {
	job      job.Job
	surfaces []*ground.Surface
	plan     planner.Plan
}

func (m maker) read(ctx context.Context, revision string) (job.Job, string, error) {
	r, err := m.store.Revision(ctx, revision)
	if err != nil {
		return job.Job{}, "", err
	}
	text, err := m.store.Content(ctx, revision)
	if err != nil {
		return job.Job{}, "", err
	}
	j, faults := job.FromJSON(text)
	if faults.Any(finding.Fault) {
		return j, "", faulty("this job has faults", faults)
	}
	return j, r.Hash, nil
}

func (m maker) make(ctx context.Context, j job.Job) (planned, error) {
	sums := map[string]string{}
	for _, a := range j.Attachments {
		sums[a.Name] = a.SHA256
	}
	surfaces, err := planner.Surfaces(j, func(name string) ([]byte, error) { return m.store.Attachment(ctx, sums[name]) })
	if err != nil {
		return planned{}, refused(http.StatusUnprocessableEntity, err.Error())
	}
	return planned{j, surfaces, planner.Make(j, surfaces...)}, nil
}

// kept gives what is kept under a name for a revision, packed by gzip; where nothing is, all that a plan gives is made once.
func (m maker) kept(ctx context.Context, revision, name string) ([]byte, error) {
	j, hash, err := m.read(ctx, revision)
	if err != nil {
		return nil, err
	}
	if b, ok, err := m.store.Kept(ctx, hash, planner.Core, name); ok || err != nil {
		return b, err
	}
	m.one.Lock()
	defer m.one.Unlock()
	if b, ok, err := m.store.Kept(ctx, hash, planner.Core, name); ok || err != nil {
		return b, err
	}
	p, err := m.make(ctx, j)
	if err != nil {
		return nil, err
	}
	if name == planName {
		text, err := json.Marshal(p.plan)
		if err != nil {
			return nil, err
		}
		b := pressed(text)
		return b, m.store.Keep(ctx, hash, planner.Core, name, b)
	}
	return m.pack(ctx, p, hash, name)
}

const (
	planName = "plan.json"
	listName = "files"
)

// packFile is one file of a pack in its list.
type packFile struct {
	Path  string `json:"path"`
	Bytes int    `json:"bytes"`
}

// pack makes and keeps every file of a pack and the list of them.
func (m maker) pack(ctx context.Context, p planned, hash, name string) ([]byte, error) {
	var list []packFile
	var wanted []byte
	keep := func(at string, b []byte) error {
		if at == name {
			wanted = b
		}
		return m.store.Keep(ctx, hash, planner.Core, at, b)
	}
	for _, f := range pack.Files(p.plan, p.job, p.surfaces...) {
		list = append(list, packFile{f.Name, len(f.Data)})
		if err := keep("files/"+f.Name, pressed(f.Data)); err != nil {
			return nil, err
		}
	}
	text, err := json.Marshal(list)
	if err != nil {
		return nil, err
	}
	if err := keep(listName, pressed(text)); err != nil {
		return nil, err
	}
	if wanted == nil {
		return nil, refused(http.StatusNotFound, fmt.Sprintf("the pack has no file %s", strings.TrimPrefix(name, "files/")))
	}
	return wanted, nil
}

func pressed(b []byte) []byte {
	var z bytes.Buffer
	w := gzip.NewWriter(&z)
	_, _ = w.Write(b)
	_ = w.Close()
	return z.Bytes()
}

func (a *api) plans(h huma.API) {
	huma.Register(h, huma.Operation{
		OperationID: "plan", Method: http.MethodGet, Path: "/api/revisions/{revision}/plan", Summary: "The plan of a revision",
	}, func(ctx context.Context, in *struct {
		revisionPath
		Accepts string `header:"Accept-Encoding"`
	}) (*huma.StreamResponse, error) {
		b, err := a.plan.kept(ctx, in.Revision, planName)
		if err != nil {
			return nil, a.answered(err)
		}
		return sent(b, "application/json", "", in.Accepts), nil
	})
	huma.Register(h, huma.Operation{
		OperationID: "files", Method: http.MethodGet, Path: "/api/revisions/{revision}/files", Summary: "What the pack of a revision holds",
	}, func(ctx context.Context, in *struct {
		revisionPath
		Accepts string `header:"Accept-Encoding"`
	}) (*huma.StreamResponse, error) {
		b, err := a.plan.kept(ctx, in.Revision, listName)
		if err != nil {
			return nil, a.answered(err)
		}
		return sent(b, "application/json", "", in.Accepts), nil
	})
	huma.Register(h, huma.Operation{
		OperationID: "file", Method: http.MethodGet, Path: "/api/revisions/{revision}/files/{path...}", Summary: "One file of the pack",
	}, func(ctx context.Context, in *struct {
		revisionPath
		Path    string `path:"path"`
		Accepts string `header:"Accept-Encoding"`
	}) (*huma.StreamResponse, error) {
		b, err := a.plan.kept(ctx, in.Revision, "files/"+in.Path)
		if err != nil {
			return nil, a.answered(err)
		}
		return sent(b, mediaOf(in.Path), path.Base(in.Path), in.Accepts), nil
	})
}

// sent answers with bytes that are packed already; to whoever cannot unpack them they go unpacked. Name is what a browser calls
// the file when it keeps it.
func sent(packed []byte, kind, name, accepts string) *huma.StreamResponse {
	return &huma.StreamResponse{Body: func(c huma.Context) {
		c.SetHeader("Content-Type", kind)
		c.SetHeader("Cache-Control", "private, no-cache")
		c.SetHeader("Vary", "Accept-Encoding")
		if name != "" {
			c.SetHeader("Content-Disposition", fmt.Sprintf("inline; filename=%q", name))
		}
		if strings.Contains(accepts, "gzip") {
			c.SetHeader("Content-Encoding", "gzip")
			_, _ = c.BodyWriter().Write(packed)
			return
		}
		if z, err := gzip.NewReader(bytes.NewReader(packed)); err == nil {
			_, _ = io.Copy(c.BodyWriter(), z)
		}
	}}
}

// mediaOf is the media type of a file of a pack.
func mediaOf(name string) string {
	kind, ok := map[string]string{
		".json": "application/json", ".geojson": "application/geo+json", ".pdf": "application/pdf", ".svg": "image/svg+xml", ".png": "image/png",
		".csv": "text/csv; charset=utf-8", ".txt": "text/plain; charset=utf-8", ".xml": "application/xml", ".yaml": "text/plain; charset=utf-8",
		".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
	}[path.Ext(name)]
	if !ok {
		return "application/octet-stream"
	}
	return kind
}
