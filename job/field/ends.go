package field

import "time"

// over tells why a release has run out by the end that was written for it; empty: it has not. A moment without a zone is read as UTC,
// a day runs out at its end. An end that cannot be read has come: nobody can say that the release still holds.
func over(until, now string) string {
	if until == "" {
		return ""
	}
	end, ok := moment(until)
	if !ok {
		return "when it ends cannot be read: " + until
	}
	if at, ok := moment(now); ok && end.Before(at) {
		return "it ran until " + until
	}
	return ""
}

// moment reads a time, or the end of a day.
func moment(text string) (time.Time, bool) {
	for _, layout := range []string{time.RFC3339, "2006-01-02T15:04Z07:00", "2006-01-02T15:04:05", "2006-01-02T15:04", "2006-01-02 15:04"} {
		if t, err := time.Parse(layout, text); err == nil {
			return t, true
		}
	}
	t, err := time.Parse(time.DateOnly, text)
	return t.AddDate(0, 0, 1), err == nil
}

// Readable tells whether the end of a release is a moment or a day.
func Readable(until string) bool {
	_, ok := moment(until)
	return until == "" || ok
}
