package programme

import (
	"strconv"
	"time"
)

// InHours is a span of time as it is said: 7.5 h, 40 min below an hour.
func InHours(t Moment) string {
	if t != 0 && t < Hour && t > -Hour {
		return strconv.FormatFloat(float64(t)/60, 'f', -1, 64) + " min"
	}
	tenths := (int64(t)*10 + 1800) / 3600
	return strconv.FormatFloat(float64(tenths)/10, 'f', -1, 64) + " h"
}

// at is a moment as package time writes it. The clock of the site is read as if it were of no zone.
func (t Moment) at() time.Time { return time.Unix(int64(t), 0).UTC() }

// String is a moment with its minute: 2026-04-17 08:30.
func (t Moment) String() string { return t.at().Format("2006-01-02 15:04") }

// Date is its day: 2026-04-17.
func (t Moment) Date() string { return t.at().Format(time.DateOnly) }

// Weekday is the short name of its day of the week: Fri.
func (t Moment) Weekday() string { return t.at().Format("Mon") }

// ReadDate reads a day as it is written in a job: its first moment.
func ReadDate(text string) (Moment, error) {
	t, err := time.Parse(time.DateOnly, text)
	return Moment(t.Unix()), err
}
