package model

import "time"

// Date is a day of the calendar as ISO 8601 writes it: "2026-11-25". Empty is
// no date. Dates compare as text.
type Date string

// DatePattern is the form of a [Date] as a regular expression of ECMA-262, for
// the schema of the file; that a month has the day is beyond it.
const DatePattern = `^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$`

// DateOf gives the day of a time where it was taken.
func DateOf(t time.Time) Date { return Date(t.Format(time.DateOnly)) }

// Time gives the beginning of the day in UTC; not ok if there is no such day.
func (d Date) Time() (t time.Time, ok bool) {
	t, err := time.Parse(time.DateOnly, string(d))
	return t, err == nil
}

// Moment is a time in UTC to the second as RFC 3339 writes it:
// "2026-11-25T13:18:14Z". Empty is none. Moments compare as text.
type Moment string

// MomentPattern is the form of a [Moment] as a regular expression of ECMA-262.
const MomentPattern = `^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])T([01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9]Z$`

const momentForm = "2006-01-02T15:04:05Z"

// MomentOf gives a time in UTC, to the second.
func MomentOf(t time.Time) Moment { return Moment(t.UTC().Format(momentForm)) }

// Time gives the moment; not ok if there is none such.
func (m Moment) Time() (t time.Time, ok bool) {
	t, err := time.Parse(momentForm, string(m))
	return t, err == nil
}
