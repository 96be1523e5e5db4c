package store

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"strings"
)

// parcel is a job in one file, whose table of contents and sums were found to be right.
type parcel struct {
	manifest
	limit limits
	names []string             // of the files, in their order
	files map[string]*zip.File // by name
	most  map[string]int64     // how large each may be; manifestName apart, these are all that there may be
}

// unpack looks at all of a zip file and keeps nothing. Names in it are only compared, never used as paths.
func unpack(r io.ReaderAt, length int64, l limits) (*parcel, error) {
	p := &parcel{limit: l, files: map[string]*zip.File{}}
	m := &metered{r: r, left: int64(l.entries)*mostPerEntry + directoryTail}
	z, err := zip.NewReader(m, length)
	if m.left < 0 || err == nil && len(z.File) > l.entries {
		return nil, refuse(TooLarge, "Export the job again", "there are more than %d things in the file", l.entries)
	}
	if err != nil {
		return nil, refuse(Unfit, "Give a file that was exported by this program", "the file is no zip file, or a damaged one: %s", err)
	}
	m.free = true
	for _, f := range z.File {
		if p.files[f.Name] != nil {
			return nil, refuse(Unfit, "Export the job again", "%s is in the file twice", shortened(f.Name))
		}
		p.files[f.Name] = f
		p.names = append(p.names, f.Name)
	}
	if err := p.readManifest(); err != nil {
		return nil, err
	}
	if err := p.checkManifest(); err != nil {
		return nil, err
	}
	p.most = p.beside(l)
	return p, p.checkFiles()
}

// What reading the list of a zip file's entries may take: for each entry, and at its end.
const (
	mostPerEntry  = 256     // bytes; this program's own names take 120
	directoryTail = 1 << 18 // bytes
)

// metered stops a list of entries without end. When the list was read, it lets everything through.
type metered struct {
	r    io.ReaderAt
	left int64
	free bool
}

var errTooMany = errors.New("too many entries")

func (m *metered) ReadAt(b []byte, at int64) (int, error) {
	if m.free {
		return m.r.ReadAt(b, at)
	}
	if m.left < 0 {
		return 0, errTooMany
	}
	n, err := m.r.ReadAt(b, at)
	m.left -= int64(n)
	return n, err
}

func (p *parcel) readManifest() error {
	f := p.files[manifestName]
	if f == nil {
		return refuse(Unfit, "Give a file that was exported by this program", "there is no %s in the file", manifestName)
	}
	b, err := p.bytes(f, p.limit.manifest)
	if err != nil {
		return err
	}
	var form struct {
		Format int `json:"format"`
	}
	if err := json.Unmarshal(b, &form); err != nil {
		return badManifest(err.Error())
	}
	if form.Format != manifestFormat && form.Format != formatOfSite {
		return refuse(Unfit, "Use a newer version of this program", "the file has format %d; this program reads formats up to %d", form.Format, formatOfSite)
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	if err := d.Decode(&p.manifest); err != nil {
		return badManifest(err.Error())
	}
	return nil
}

func badManifest(why string) error {
	return refuse(Unfit, "Export the job again", "%s cannot be read: %s", manifestName, strings.TrimPrefix(why, "json: "))
}

// checkManifest looks whether the table of contents makes sense by itself.
func (p *parcel) checkManifest() error {
	if !isName(p.Job) || len(p.Revisions) == 0 {
		return badManifest("it holds no job")
	}
	hashes := map[string]string{}
	for _, r := range p.Revisions {
		if r.Job != p.Job || !isSHA256(r.Hash) || hashes[r.ID] != "" {
			return badManifest("revision " + shortened(r.ID) + " is twice in it, or of another job, or has no hash")
		}
		hashes[r.ID] = r.Hash
	}
	for _, a := range p.Attachments {
		if !isSHA256(a.SHA256) {
			return badManifest(shortened(a.SHA256) + " is no SHA-256 sum")
		}
	}
	for _, r := range p.Records {
		if !isSHA256(r.SHA256) {
			return badManifest(shortened(r.SHA256) + " is no SHA-256 sum")
		}
	}
	for _, i := range p.Issued {
		if i.Job != p.Job || !isSHA256(i.PlanSHA256) || hashes[i.Revision] == "" || hashes[i.Revision] != i.Hash {
			return badManifest("issue " + shortened(i.ID) + " is of no revision in it")
		}
	}
	return nil
}

// checkFiles reads everything once: each file is named in the table of contents, is there once, keeps its limit and has its
// sum.
func (p *parcel) checkFiles() error {
	for _, name := range p.names {
		if _, known := p.most[name]; !known && name != manifestName {
			return refuse(Unfit, "Export the job again", "%s in the file is not in its %s", shortened(name), manifestName)
		}
	}
	left := p.limit.unpacked
	for _, name := range p.order() {
		f := p.files[name]
		if f == nil {
			return refuse(Unfit, "Export the job again", "%s is missing in the file", name)
		}
		n, sum, err := summed(f, min(p.most[name], left))
		if err != nil {
			return err
		}
		if left -= n; !strings.Contains(name, sum) {
			return refuse(Unfit, "Send or export it again", "%s is damaged: its SHA-256 sum is %s", name, sum)
		}
	}
	return nil
}

// order is the files beside the manifest as that has them.
func (p *parcel) order() []string {
	var list []string
	seen := map[string]bool{}
	add := func(name string) {
		if !seen[name] {
			seen[name], list = true, append(list, name)
		}
	}
	for _, r := range p.Revisions {
		add(contentName(r.Hash))
	}
	for _, a := range p.Attachments {
		add(attachedName(a.SHA256))
	}
	for _, i := range p.Issued {
		add(planName(i.PlanSHA256))
	}
	for _, r := range p.Records {
		add(recordsName(r.SHA256))
	}
	return list
}

// summed is how long f is and its SHA-256 sum.
func summed(f *zip.File, most int64) (int64, string, error) {
	h := sha256.New()
	n, err := copyFile(h, f, most)
	return n, hex.EncodeToString(h.Sum(nil)), err
}

// copyFile unpacks f, whatever it says of its own size, up to most bytes.
func copyFile(to io.Writer, f *zip.File, most int64) (int64, error) {
	r, err := f.Open()
	if err != nil {
		return 0, refuse(Unfit, "Export the job again", "%s cannot be unpacked: %s", shortened(f.Name), err)
	}
	defer r.Close()
	n, err := io.Copy(to, io.LimitReader(r, most+1))
	if n > most {
		return n, refuse(TooLarge, "Export the job again; if it is so large, it cannot be moved as one file", "%s unpacks to more than %s", shortened(f.Name), size(most))
	}
	if err != nil {
		return n, refuse(Unfit, "Send or export it again", "%s is damaged: %s", shortened(f.Name), err)
	}
	return n, nil
}

// bytes is f unpacked.
func (p *parcel) bytes(f *zip.File, most int64) ([]byte, error) {
	var b bytes.Buffer
	_, err := copyFile(&b, f, most)
	return b.Bytes(), err
}

// get is one of the files that were found to be right.
func (p *parcel) get(name string) ([]byte, error) {
	return p.bytes(p.files[name], p.most[name])
}
