package window

import (
	"encoding/json"
	"io"
	"sync"
	"time"
)

// Events writes what happens in the window as lines of JSON, so that a test
// which drives the real window can wait for it. A nil Events writes nothing.
type Events struct {
	mu    sync.Mutex
	out   io.Writer
	start time.Time
}

// NewEvents writes to out.
func NewEvents(out io.Writer) *Events { return &Events{out: out, start: time.Now()} }

// tell writes one line: what happened, the time since the start in ms, and what
// belongs to it.
func (e *Events) tell(what string, fields map[string]any) {
	if e == nil {
		return
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	line := map[string]any{"event": what, "ms": time.Since(e.start).Milliseconds()}
	for k, v := range fields {
		line[k] = v
	}
	b, err := json.Marshal(line) // keys come out sorted
	if err != nil {
		return
	}
	e.out.Write(append(b, '\n')) // a test that cannot read it fails by its deadline
}
