package window

import (
	"strings"

	"rinsewright/model"
)

// What a person must tell who departs from what the checks ask for: a reason, a name
// and a day.

// untold says which field of a reason, a name and a day is missing or wrong.
type untold struct {
	field *searchEntry
	text  string
}

func (u *untold) Error() string { return u.text }

// told checks the three fields in order; nil if all is there.
func (w *Window) told(reason, by, date *searchEntry) *untold {
	switch {
	case trimmed(reason) == "":
		return &untold{reason, "say why: the reason is what a later reader has to judge by"}
	case trimmed(by) == "":
		return &untold{by, "say who: a name is required"}
	}
	day := model.Date(trimmed(date))
	if _, ok := day.Time(); !ok {
		return &untold{date, "the date is written year-month-day, as " + string(today())}
	}
	if day > today() {
		return &untold{date, "the date lies in the future"}
	}
	return nil
}

func trimmed(e *searchEntry) string { return strings.TrimSpace(e.Text) }

const prefOwnName = "own-name"

// ownName is the name that was given last for a reason, or the author of the circuit.
func (w *Window) ownName() string {
	return orWord(w.app.Preferences().String(prefOwnName), w.circuit().Header().Author)
}

func (w *Window) keepOwnName(name string) { w.app.Preferences().SetString(prefOwnName, name) }
