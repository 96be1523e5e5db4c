package field

import "time"

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
