package server

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"trenchwright/edge/store"
	"trenchwright/job/stamp"
)

// stamped is the stamp of a revision: papers of it say so which state of the job they are of.
func (m *maker) stamped(ctx context.Context, r store.Revision) (stamp.Stamp, error) {
	d, err := m.store.Job(ctx, r.Job)
	if err != nil {
		return stamp.Stamp{}, err
	}
	return historyOf(d).Of(r.ID), nil
}

// historyOf is what the store knows of a job, as stamps follow from it.
func historyOf(d store.Detail) stamp.History {
	var h stamp.History
	for _, r := range d.Revisions {
		h.Revisions = append(h.Revisions, stamp.Revision{ID: r.ID, Parents: r.Parents, Author: r.Author, At: r.At})
	}
	for _, i := range d.Issued {
		h.Issued = append(h.Issued, stamp.Issue{Name: i.Name, Revision: i.Revision, Author: i.Author, Core: i.Core, At: i.At})
	}
	return h
}

// stampKey is what stands behind the name of a file that is kept: the same content may be in several states of a job, and a
// state becomes an issued one.
func stampKey(s stamp.Stamp) string {
	sum := sha256.Sum256([]byte(fmt.Sprintf("%q %q", s.Brief(""), s.Line("", ""))))
	return " " + hex.EncodeToString(sum[:8])
}
