package report

import (
	"encoding/json"
	"fmt"
	"io"
)

// WriteJSON writes a report as one indented JSON object.
func (r *Report) WriteJSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	if err := e.Encode(r); err != nil {
		return fmt.Errorf("writing a report as JSON: %w", err)
	}
	return nil
}
