package store

import (
	"trenchwright/job"
)

// limits are what is taken from outside at most.
type limits struct {
	attachment int64 // bytes of one file
	plan       int64 // bytes of one issued plan
	packed     int64 // bytes of a job in one file
	unpacked   int64 // bytes of all that is in it
	manifest   int64 // bytes of its table of contents
	entries    int   // things in it
}

var usualLimits = limits{
	attachment: 128 << 20,
	plan:       256 << 20,
	packed:     1 << 30,
	unpacked:   4 << 30,
	manifest:   64 << 20,
	entries:    100_000,
}

// mostContent is how long the text of a job is at most.
const mostContent = job.MaxBytes

// The forms of a job in one file that this program reads. A job with records is written in the second, any other in the first.
const (
	manifestFormat = 1
	formatOfSite   = 2
)

const manifestName = "manifest.json"

// manifest is the table of contents of a job in one file: everything but the bytes of contents, attachments, plans and records,
// which lie beside it under their sums.
type manifest struct {
	Format      int            `json:"format"`
	Job         string         `json:"job"`
	Revisions   []Revision     `json:"revisions"` // parents before what was made of them
	Attachments []attachedFile `json:"attachments"`
	Issued      []Issued       `json:"issued"`
	Records     []recordsFile  `json:"records,omitempty"` // in their order
}

// recordsFile is some thousand records of the job, one a line.
type recordsFile struct {
	SHA256  string `json:"sha256"`
	Records int    `json:"records"`
}

type attachedFile struct {
	SHA256 string `json:"sha256"`
	Size   int64  `json:"size"`
}

func contentName(hash string) string    { return "contents/" + hash + ".json" }
func attachedName(sum string) string    { return "attachments/" + sum }
func recordsName(sum string) string     { return "records/" + sum + ".ndjson" }
func planName(planSHA256 string) string { return "issued/" + planSHA256 + ".json" }

// beside is every file that has to lie beside the manifest, and how large it may be.
func (m *manifest) beside(l limits) map[string]int64 {
	most := map[string]int64{}
	for _, r := range m.Revisions {
		most[contentName(r.Hash)] = mostContent
	}
	for _, a := range m.Attachments {
		most[attachedName(a.SHA256)] = l.attachment
	}
	for _, i := range m.Issued {
		most[planName(i.PlanSHA256)] = l.plan
	}
	for _, r := range m.Records {
		most[recordsName(r.SHA256)] = mostGiven + mostRecord + 1
	}
	return most
}
