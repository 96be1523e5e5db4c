package stamp

import (
	"fmt"
	"strings"
)

// FileName is what a file is called that leaves the program: by its job, by the state that it is of, and by what it is, so that two
// files in one folder are told apart: tram-depot_state-7_cutting.csv, with changes on one device alone
// tram-depot_state-7-2-unsent_cutting.csv. It is plain ASCII without spaces, whatever the job is called.
func (s Stamp) FileName(job, file string) string {
	return s.FilePrefix(job) + plain(file[strings.LastIndexByte(file, '/')+1:])
}

// FilePrefix is the part of it before what the file is.
func (s Stamp) FilePrefix(job string) string { return plain(job) + "_" + s.inFileName() + "_" }

func (s Stamp) inFileName() string {
	if !s.Known() {
		return "job-file"
	}
	state := fmt.Sprintf("state-%d", s.Number)
	if s.Number == 0 {
		state = "state-" + plain(s.Short())
	}
	if s.Issued != nil {
		state += "-issued"
	}
	if s.Unsent > 0 {
		state += fmt.Sprintf("-%d-unsent", s.Unsent)
	}
	return state
}

// WholeName is what a file with all states of a job is called, the latest of which are heads.
func (h History) WholeName(job string, heads []string) string {
	last := 0
	for _, id := range heads {
		last = max(last, h.Of(id).Number)
	}
	return fmt.Sprintf("%s_all-up-to-state-%d.zip", plain(job), last)
}

// plain is a name of letters, digits, dots and hyphens alone; it is never empty, and never hidden.
func plain(name string) string {
	const longest = 64
	var out strings.Builder
	for _, r := range name {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '.':
			out.WriteRune(r)
		case out.Len() > 0 && !strings.HasSuffix(out.String(), "-"):
			out.WriteByte('-')
		}
	}
	text := strings.Trim(out.String(), "-.")
	if text == "" {
		return "job"
	}
	return strings.TrimRight(text[:min(len(text), longest)], "-.")
}
