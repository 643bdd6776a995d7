package window

import (
	"context"
	"fmt"
	"time"
)

// besideWork is something that is worked out beside the user. What is begun anew
// gives up what is under way; what comes late is dropped. All methods are called on
// the main goroutine.
type besideWork struct {
	on     *Window
	cancel context.CancelFunc
	timer  *time.Timer
	busy   bool
}

// begin runs work beside the user after a moment's rest; the function that it gives
// back takes in what was found, on the main goroutine. Work asks its context between
// pieces whether it is still wanted. A fault in it is told and harms nothing.
func (k *besideWork) begin(what string, wait time.Duration, work func(context.Context) (take func())) {
	k.stop()
	ctx, cancel := context.WithCancel(context.Background())
	k.cancel, k.busy = cancel, true
	onMain := k.on.checker.onMain
	k.timer = time.AfterFunc(wait, func() {
		if ctx.Err() != nil {
			return
		}
		take := attempted(ctx, work)
		if ctx.Err() != nil {
			return
		}
		onMain(func() {
			if ctx.Err() != nil {
				return
			}
			k.busy = false
			k.on.guard(what, take)
		})
	})
}

// attempted runs work. A fault in it is thrown again where it can be told.
func attempted(ctx context.Context, work func(context.Context) func()) (take func()) {
	defer func() {
		if x := recover(); x != nil {
			take = func() { panic(fmt.Sprint(x)) }
		}
	}()
	return work(ctx)
}

// stop gives up what is under way.
func (k *besideWork) stop() {
	if k.cancel != nil {
		k.cancel()
		k.timer.Stop()
	}
	k.cancel, k.busy = nil, false
}
