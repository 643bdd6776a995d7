package edit

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"math/rand/v2"
	"runtime"
	"sync"
	"testing"
	"time"

	"rinsewright/assets"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
)

// sitting is how many things the user of the long sitting does. At one thing in two
// seconds 7200 are four hours:
//
//	go test -race -run Sitting ./canvas/edit -sitting 7200 -timeout 2h
var sitting = flag.Int("sitting", 240, "things that the user of the long sitting does")

// live checks snapshots beside the hand as the window does: a new one gives up the
// run on the old one, and what an edit did not touch is kept.
type live struct {
	t       *testing.T
	kept    checks.Checker
	profile *checks.Profile
	rules   []*checks.Rule
	day     model.Date
	cancel  context.CancelFunc
	done    chan *checks.Result // of the last snapshot that was handed over
	running sync.WaitGroup
}

func (l *live) see(c *model.Circuit) {
	if l.cancel != nil {
		l.cancel()
	}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan *checks.Result, 1)
	l.cancel, l.done = cancel, done
	l.running.Go(func() {
		r, err := l.kept.RunOn(ctx, l.day, c, catalogue.Builtin(), l.profile, l.rules)
		if err != nil && ctx.Err() == nil {
			l.t.Errorf("live checks: %v", err)
		}
		done <- r
	})
}

// inUse gives the memory in use once all that is not needed is given up.
func inUse() uint64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// A user sits for hours at demos and edits blindly, goes back and forward again, while
// the checks run beside the hand. What must hold: the results that grew with the edits
// are those of a run from nothing, the circuit is what the edits say, no fault, under
// the race detector no race, and no memory that is not given back: each edit keeps a
// bounded amount for undo, and with the document it is all given up.
func TestLongSitting(t *testing.T) {
	names, err := assets.Files.ReadDir("demo")
	if err != nil {
		t.Fatal(err)
	}
	var demos []*model.Circuit
	for _, n := range names {
		data, err := assets.Files.ReadFile("demo/" + n.Name())
		if err != nil {
			t.Fatal(err)
		}
		c, err := circuitfile.Decode(n.Name(), data)
		if err != nil {
			t.Fatal(err)
		}
		demos = append(demos, c)
	}
	cat := catalogue.Builtin()
	rng := rand.New(rand.NewPCG(17, 4))
	watch := &live{t: t, profile: checks.Builtin("food"), rules: checks.Rules(), day: "2026-03-02"}
	doc := NewDocument(demos[0], cat)
	e := NewEditor(doc)
	seen := doc.Circuit()

	// warm is what is kept once for all: caches of the catalogue, of fonts, of tables.
	before, err := checks.RunOn(context.Background(), watch.day, seen, cat, watch.profile, watch.rules)
	if err != nil || len(before.Findings)+len(before.NotAssessed) == 0 {
		t.Fatalf("the demo gives %v, %v", before, err)
	}
	warm := inUse()
	changes, compared, cancelled := 0, 0, 0
	chapter := max(*sitting/len(demos), 1)
	for i := range *sitting {
		if i > 0 && i%chapter == 0 { // the next demo is opened
			for doc.Redo() {
			}
			last := doc.Circuit()
			for doc.Undo() {
			}
			for doc.Redo() {
			}
			if d := difference(last, doc.Circuit()); d != "" {
				t.Fatalf("after %d: undoing all and redoing all changes %s", i, d)
			}
			grown := int64(inUse()) - int64(warm)
			t.Logf("after %d things: %d changes, %d MB above the start with all of them kept for undo", i, changes, grown>>20)
			doc.Reset(demos[(i/chapter)%len(demos)])
			e.Handle(Event{Kind: Key, Key: KeyEscape})
		}
		data := make([]byte, 24)
		for k := range data {
			data[k] = byte(rng.UintN(256))
		}
		h := &hand{data: data}
		switch rng.IntN(10) {
		case 0:
			doc.Undo()
		case 1:
			doc.Redo()
		case 2: // back a good way, as after a mistake
			for range rng.IntN(12) {
				doc.Undo()
			}
		default:
			h.act(e, cat.Kinds())
		}
		if len(doc.Circuit().Parts()) < 5 {
			for range 20 {
				doc.Undo()
			}
		}
		if doc.Circuit() == seen {
			continue
		}
		changes++
		seen = doc.Circuit()
		if watch.done != nil && len(watch.done) == 0 {
			cancelled++
		}
		watch.see(seen)
		rest := rng.IntN(12)
		if rest > 5 { // the hand does not rest: the next change comes into this run
			time.Sleep(time.Duration(rng.IntN(3)) * time.Millisecond)
			continue
		}
		select {
		case got := <-watch.done:
			if rest > 0 {
				continue
			}
			want, err := checks.RunOn(context.Background(), watch.day, seen, cat, watch.profile, watch.rules)
			if err != nil {
				t.Fatal(err)
			}
			compared++
			if a, b := told(t, got), told(t, want); !bytes.Equal(a, b) {
				t.Fatalf("after %d things the live result differs from that of a run from nothing:\n%s\n%s", i, a, b)
			}
		case <-time.After(5 * time.Minute):
			t.Fatal("the live checks do not end")
		}
	}
	if changes < *sitting/10 || compared == 0 {
		t.Errorf("%d changes and %d comparisons of %d things: too few to tell anything", changes, compared, *sitting)
	}
	if watch.cancel != nil {
		watch.cancel()
		watch.running.Wait()
	}
	kept := int64(inUse()) - int64(warm)
	doc, e, seen = nil, nil, nil
	watch.kept.Forget()
	left := int64(inUse()) - int64(warm)
	t.Logf("%d things, %d changes, %d runs given up for a later one, %d results compared; %d MB above the start with the document, %d KB without it",
		*sitting, changes, cancelled, compared, kept>>20, left>>10)
	const slack = 24 << 20 // pools and caches of the runtime and of packages
	if left > slack {
		t.Errorf("%d MB are not given back", left>>20)
	}
	if perChange := (kept - slack) / int64(max(changes, 1)); perChange > 64<<10 {
		t.Errorf("each change keeps %d KB", perChange>>10)
	}
}

func told(t *testing.T, r *checks.Result) []byte {
	t.Helper()
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
