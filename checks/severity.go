package checks

import (
	"encoding/json"
	"fmt"
)

// Severity says what a finding asks for.
type Severity int

const (
	Note Severity = iota // look at it
	Fix                  // put it right
	Stop                 // must not be built or run so
)

var severityTexts = [...]string{Note: "note", Fix: "fix", Stop: "stop"}

// String gives "note", "fix" or "stop".
func (s Severity) String() string {
	if s < Note || s > Stop {
		return fmt.Sprintf("severity %d", int(s))
	}
	return severityTexts[s]
}

// MarshalJSON writes the text of the severity.
func (s Severity) MarshalJSON() ([]byte, error) { return json.Marshal(s.String()) }

// UnmarshalJSON reads the text of a severity.
func (s *Severity) UnmarshalJSON(b []byte) error {
	var text string
	if err := json.Unmarshal(b, &text); err != nil {
		return err
	}
	for i, t := range severityTexts {
		if t == text {
			*s = Severity(i)
			return nil
		}
	}
	return fmt.Errorf("checks: %q is not note, fix or stop", text)
}
