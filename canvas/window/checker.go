package window

import (
	"context"
	"time"

	"fyne.io/fyne/v2"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// settle is how long the hand must rest before the checks run.
const settle = 80 * time.Millisecond

// settleFlow is how long it must rest before the flow is solved.
const settleFlow = 40 * time.Millisecond

// checker runs the checks beside the user on snapshots. A new snapshot cancels
// the run on the old one; a result that comes late is dropped. All methods are
// called on the main goroutine.
type checker struct {
	cat    *catalogue.Catalogue
	rules  []*checks.Rule
	kept   checks.Checker // what an edit did not touch is not worked out again
	wanted *model.Circuit // whose result is awaited; nil: none
	cancel context.CancelFunc
	timer  *time.Timer
	onDone func(*model.Circuit, *checks.Result, error)
	onMain func(func()) // hands back to the main goroutine
}

func newChecker(cat *catalogue.Catalogue, onDone func(*model.Circuit, *checks.Result, error)) *checker {
	return &checker{cat: cat, rules: checks.Rules(), onDone: onDone, onMain: fyne.Do}
}

// want asks for the result of a snapshot after a moment's rest.
func (k *checker) want(c *model.Circuit, profile *checks.Profile, wait time.Duration) {
	k.stop()
	k.wanted = c
	ctx, cancel := context.WithCancel(context.Background())
	k.cancel = cancel
	k.timer = time.AfterFunc(wait, func() {
		if ctx.Err() != nil {
			return
		}
		result, err := k.kept.Run(ctx, c, k.cat, profile, k.rules)
		if ctx.Err() != nil {
			return
		}
		k.onMain(func() {
			if k.wanted != c || ctx.Err() != nil {
				return // the circuit has changed meanwhile
			}
			k.wanted = nil
			k.onDone(c, result, err)
		})
	})
}

// stop gives up what is under way.
func (k *checker) stop() {
	if k.cancel != nil {
		k.cancel()
		k.timer.Stop()
	}
	k.cancel, k.wanted = nil, nil
}
