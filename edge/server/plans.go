package server

import (
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
	"trenchwright/job/stamp"
	"trenchwright/place/ground"
	"trenchwright/view/pack"
	"trenchwright/view/pack/light"
	"trenchwright/view/screen"
)

func canonical(j job.Job) []byte { return job.CanonicalJSON(j) }

// maker makes plans and what follows from them once, and keeps it by what it was made from. One is made at a time: a plan uses
// the whole machine, and whoever waits for the same one gets it when it is there.
type maker struct {
	store *store.Store
	one   sync.Mutex
	held  *held
	last  planned // what was planned last; several files of one pack are asked for in a row
}

// planned is a job's plan and its pack.
type planned struct {
	hash     string
	job      job.Job
	surfaces []*ground.Surface
	plan     planner.Plan
	pack     *light.Pack // of the state that was asked for last
	of       stamp.Stamp
}

// packOf is the pack of a state of the job.
func (l *planned) packOf(of stamp.Stamp) *light.Pack {
	if l.pack == nil || stampKey(l.of) != stampKey(of) {
		l.pack, l.of = pack.Of(l.plan, l.job, of, l.surfaces...), of
	}
	return l.pack
}

const (
	planName   = "plan.json"
	listName   = "files"
	filesName  = "files/"
	screenName = "screen/" // behind it the system and the words of the view
)

// packFile is one file of a pack in its list.
type packFile struct {
	Path  string `json:"path"`
	About string `json:"about"`
}

// kept gives what is kept under a name for a revision, packed by gzip; where nothing is, it is made.
func (m *maker) kept(ctx context.Context, revision, name string) ([]byte, error) {
	return m.keptOf(ctx, revision, name, "", stamp.Stamp{})
}

// paper is one file of the pack of a revision, packed by gzip, and says which state of the job it is of; so does the name that it
// is kept by.
func (m *maker) paper(ctx context.Context, revision, path string) (b []byte, name string, err error) {
	r, err := m.store.Revision(ctx, revision)
	if err != nil {
		return nil, "", err
	}
	of, err := m.stamped(ctx, r)
	if err != nil {
		return nil, "", err
	}
	b, err = m.keptOf(ctx, revision, filesName+path, stampKey(of), of)
	return b, of.FileName(r.Job, path), err
}

// keptOf is kept for things that say of which state they are: key tells those of one state from those of another.
func (m *maker) keptOf(ctx context.Context, revision, name, key string, of stamp.Stamp) ([]byte, error) {
	held := revision + "/" + name + key
	if b, ok := m.held.get(held); ok { // a revision never changes
		return b, nil
	}
	b, err := m.fromStore(ctx, revision, name, key, of)
	if err == nil {
		m.held.put(held, b)
	}
	return b, err
}

// fromStore is keptOf without what is held in memory.
func (m *maker) fromStore(ctx context.Context, revision, name, key string, of stamp.Stamp) ([]byte, error) {
	r, err := m.store.Revision(ctx, revision)
	if err != nil {
		return nil, err
	}
	if b, ok, err := m.store.Kept(ctx, r.Hash, planner.Core, name+key); ok || err != nil {
		return b, err
	}
	m.one.Lock()
	defer m.one.Unlock()
	if b, ok, err := m.store.Kept(ctx, r.Hash, planner.Core, name+key); ok || err != nil {
		return b, err
	}
	if err := m.plan(ctx, r); err != nil {
		return nil, err
	}
	b, err := m.made(name, of)
	if err != nil {
		return nil, err
	}
	b = store.Packed(b)
	return b, m.store.Keep(ctx, r.Hash, planner.Core, name+key, b)
}

// plan plans a revision, unless it is the one that was planned last.
func (m *maker) plan(ctx context.Context, r store.Revision) error {
	if m.last.hash == r.Hash {
		return nil
	}
	text, err := m.store.Content(ctx, r.ID)
	if err != nil {
		return err
	}
	j, faults := job.FromJSON(text)
	if faults.Any(finding.Fault) {
		return faulty("this job has faults", faults)
	}
	sums := map[string]string{}
	for _, a := range j.Attachments {
		sums[a.Name] = a.SHA256
	}
	surfaces, err := planner.Surfaces(j, func(name string) ([]byte, error) { return m.store.Attachment(ctx, sums[name]) })
	if err != nil {
		return refused(http.StatusUnprocessableEntity, err.Error())
	}
	p := planner.Make(j, surfaces...)
	m.last = planned{hash: r.Hash, job: j, surfaces: surfaces, plan: p}
	return nil
}

// asPlanned is the job of a revision with its plan.
func (m *maker) asPlanned(ctx context.Context, r store.Revision) (planned, error) {
	m.one.Lock()
	defer m.one.Unlock()
	err := m.plan(ctx, r)
	return m.last, err
}

// made is one thing that follows from the plan made last.
func (m *maker) made(name string, of stamp.Stamp) ([]byte, error) {
	if name == planName {
		return json.Marshal(m.last.plan)
	}
	if name == listName {
		var list []packFile
		for _, f := range m.last.packOf(of).Files() {
			list = append(list, packFile{f.Name, f.About})
		}
		return json.Marshal(list)
	}
	if view, ok := strings.CutPrefix(name, screenName); ok {
		system, words, _ := strings.Cut(view, "/")
		return screen.JSON(m.last.plan, m.last.job, screen.View{System: system, Words: words}, m.last.surfaces...), nil
	}
	path := strings.TrimPrefix(name, filesName)
	if f, ok := m.last.packOf(of).Find(path); ok {
		return f.Make()
	}
	return nil, refused(http.StatusNotFound, fmt.Sprintf("the pack has no file %s", path))
}

func (a *api) plans(h huma.API) {
	huma.Register(h, huma.Operation{
		OperationID: "plan", Method: http.MethodGet, Path: "/api/revisions/{revision}/plan", Summary: "The plan of a revision",
	}, func(ctx context.Context, in *struct {
		RevisionPath
		Accepts string `header:"Accept-Encoding"`
	}) (*huma.StreamResponse, error) {
		b, err := a.plan.kept(ctx, in.Revision, planName)
		if err != nil {
			return nil, a.answered(err)
		}
		return sent(b, "application/json", "", in.Accepts), nil
	})
	huma.Register(h, huma.Operation{
		OperationID: "screen", Method: http.MethodGet, Path: "/api/revisions/{revision}/screen",
		Summary: "A planned revision as a browser draws it, byte for byte what its own core would answer",
	}, func(ctx context.Context, in *struct {
		RevisionPath
		Core    string `query:"core" required:"true" doc:"where the asking page has its core from: one that this server does not serve is refused, its plans may be others"`
		System  string `query:"system" enum:"metric,imperial" doc:"none: as the job has it"`
		Words   string `query:"words" enum:"uk,us" doc:"none: as the job has them"`
		Accepts string `header:"Accept-Encoding"`
	}) (*huma.StreamResponse, error) {
		if _, ours := a.files.by[in.Core]; !ours {
			return nil, refused(http.StatusConflict, "the core of this page is not the core of this server")
		}
		b, err := a.plan.kept(ctx, in.Revision, screenName+in.System+"/"+in.Words)
		if err != nil {
			return nil, a.answered(err)
		}
		return sent(b, "application/json", "", in.Accepts), nil
	})
	huma.Register(h, huma.Operation{
		OperationID: "files", Method: http.MethodGet, Path: "/api/revisions/{revision}/files", Summary: "What the pack of a revision holds",
	}, func(ctx context.Context, in *struct {
		RevisionPath
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
		RevisionPath
		Path    string `path:"path"`
		Accepts string `header:"Accept-Encoding"`
	}) (*huma.StreamResponse, error) {
		b, name, err := a.plan.paper(ctx, in.Revision, in.Path)
		if err != nil {
			return nil, a.answered(err)
		}
		return sent(b, mediaOf(in.Path), name, in.Accepts), nil
	})
	const written, described = "/api/revisions/{revision}/files/{path...}", "/api/revisions/{revision}/files/{path}"
	paths := h.OpenAPI().Paths // whose way of writing knows no rest of a path
	paths[described] = paths[written]
	delete(paths, written)
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
		if z, err := store.Unpacked(packed); err == nil {
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
