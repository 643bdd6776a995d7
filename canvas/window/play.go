package window

import (
	"fmt"
	"math"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/plot"
	"rinsewright/model/quantity"
)

// framePause is the least time between two frames of a play.
const framePause = 33 * time.Millisecond

// longestFrame is the most time that one frame moves on by: after a stall the play
// goes on where it stood.
const longestFrame = 250 * time.Millisecond

// playSpeeds are how many seconds of the wash pass in one.
var playSpeeds = []float64{1, 2, 5, 10, 20, 60, 120}

const usualSpeed = 10

// player plays the programme that was run: it shows on the drawing what is where at a
// time, and moves that time on. All methods are called on the main goroutine.
type player struct {
	on      *Window
	at      quantity.Duration
	speed   float64
	shown   bool // the drawing shows the time at
	running bool
	last    time.Time // of the last frame
	timer   *time.Timer
	turn    int // of the play that the timer is for
	told    time.Time
	frames  int  // since then
	leading bool // the step shown follows the play
	now     func() time.Time
}

func newPlayer(on *Window) *player {
	return &player{on: on, speed: usualSpeed, now: time.Now}
}

// can says whether there is something to be played.
func (p *player) can() bool {
	r := p.on.washing.ran
	return p.on.washing.fresh() && r.ok() && r.record.Cycle > 0
}

// toggle plays or pauses. What was not run yet is run first.
func (p *player) toggle() {
	if p.running {
		p.pause()
		return
	}
	p.on.washing.with(p.play)
}

// play goes on from where it stands, from the beginning if that is the end.
func (p *player) play() {
	if !p.can() {
		p.on.tellHint(p.on.washTrouble())
		return
	}
	if end := p.on.washing.ran.record.Cycle; p.at >= end-1e-6 {
		p.at = 0
	}
	p.running, p.last = true, p.now()
	p.turn++
	p.show()
	p.tell("play")
	p.next(p.turn)
}

func (p *player) pause() {
	if !p.running {
		return
	}
	p.halt()
	p.show()
	p.tell("pause")
}

// halt stops the clock.
func (p *player) halt() {
	p.running = false
	p.turn++
	if p.timer != nil {
		p.timer.Stop()
	}
}

// end stops the play and shows the step again, and says why; empty: nothing is said.
func (p *player) end(why string) {
	if !p.shown && !p.running {
		return
	}
	p.halt()
	p.shown = false
	p.on.board.showMoment(nil)
	p.on.trendCursor()
	p.on.washPanel.bar.refresh()
	if why != "" {
		p.on.tellHint(why)
	}
	p.tell("stop")
}

// next asks for the next frame.
func (p *player) next(turn int) {
	onMain := p.on.checker.onMain
	// What the frame took counts, but something is left for hand and screen.
	p.timer = time.AfterFunc(max(framePause-p.now().Sub(p.last), framePause/4), func() {
		onMain(func() {
			if p.running && p.turn == turn {
				p.on.guard("play", p.frame)
			}
		})
	})
}

// frame moves the time on by what has passed and shows it.
func (p *player) frame() {
	now := p.now()
	passed := min(now.Sub(p.last), longestFrame)
	p.last = now
	p.at += quantity.Duration(p.speed * passed.Seconds())
	if end := p.on.washing.ran.record.Cycle; p.at >= end {
		p.at = end
		p.pause()
		return
	}
	p.show()
	p.next(p.turn)
}

// seek goes to a time, playing or not.
func (p *player) seek(t quantity.Duration) {
	p.on.washing.with(func() {
		if !p.can() {
			return
		}
		p.at = min(max(t, 0), p.on.washing.ran.record.Cycle)
		p.last = p.now()
		p.show()
		p.tell("seek")
	})
}

// skip goes on or back by steps of the programme: to the beginning of the next one,
// of the one that runs, or of the one before if that has only just begun.
func (p *player) skip(by int) {
	p.on.washing.with(func() {
		if !p.can() {
			return
		}
		r := p.on.washing.ran
		at := r.play.Step(p.at)
		if by < 0 && p.at > r.record.Steps[at].Start+3 {
			p.seek(r.record.Steps[at].Start)
			return
		}
		for i := at + by; i >= 0 && i < len(r.record.Steps); i += by {
			if r.record.Steps[i].Time > 0 {
				p.seek(r.record.Steps[i].Start)
				return
			}
		}
		if by > 0 {
			p.seek(r.record.Cycle)
		}
	})
}

// faster takes the next speed, or the one before.
func (p *player) faster(by int) {
	at := 0
	for i, s := range playSpeeds {
		if s <= p.speed {
			at = i
		}
	}
	p.setSpeed(playSpeeds[min(max(at+by, 0), len(playSpeeds)-1)])
}

func (p *player) setSpeed(s float64) {
	p.speed = s
	p.on.washPanel.bar.refresh()
	p.on.tellHint("Speed " + speedWords(s))
}

func speedWords(s float64) string { return fmt.Sprintf("%g×", s) }

// show puts the present time on the drawing, the bar and the trends.
func (p *player) show() {
	r := p.on.washing.ran
	if !p.can() {
		return
	}
	p.on.covering.hide()
	p.shown = true
	if step := r.record.Steps[r.play.Step(p.at)].Step; step.ID != p.on.stepID {
		p.leading = true
		p.on.showStep(step.ID)
		p.leading = false
	}
	p.frames++
	opt := r.play.At(p.at)
	p.on.board.showMoment(&opt)
	p.on.washPanel.bar.move()
	p.on.trendCursor()
	if p.on.events != nil && p.now().Sub(p.told) >= longestFrame {
		p.tell("moment")
	}
}

// stepShown follows a step that was asked for while the play is shown.
func (p *player) stepShown() {
	if !p.shown || p.leading {
		return
	}
	r := p.on.washing.ran
	if r.ok() && p.on.washing.fresh() {
		for _, s := range r.record.Steps {
			if s.Step.ID == p.on.stepID && s.Time > 0 {
				p.seek(s.Start)
				return
			}
		}
	}
	p.end("")
}

// tell lets a test follow the play.
func (p *player) tell(what string) {
	since := p.now().Sub(p.told).Seconds()
	frames := p.frames
	p.told, p.frames = p.now(), 0
	if p.on.events == nil {
		return
	}
	fields := map[string]any{"at_s": math.Round(100*float64(p.at)) / 100, "running": p.running, "speed": p.speed}
	if what == "moment" && since < 2 {
		fields["frames_per_s"] = math.Round(float64(frames) / since)
	}
	if r := p.on.washing.ran; r.ok() && p.shown {
		fields["step"] = r.record.Steps[r.play.Step(p.at)].Step.Name
		for of, values := range p.on.washPanel.trends.values() {
			for name, v := range values {
				fields[string(of)+" "+name] = v
			}
		}
	}
	p.on.events.tell(what, fields)
}

// momentWords tells the time: "12:05 of 44:00, 2 Alkali wash".
func (p *player) momentWords() string {
	r := p.on.washing.ran
	if !p.can() {
		return "–"
	}
	i := r.play.Step(p.at)
	return clockWords(p.at) + " of " + clockWords(r.record.Cycle) + "   " + fmt.Sprintf("%d  %s", i+1, stepName(r.record.Steps[i].Step))
}

// clockWords writes a time in minutes and seconds: "12:05".
func clockWords(t quantity.Duration) string {
	s := int(math.Round(float64(t)))
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

// showMoment shows a state of the circuit on the drawing in place of that of the
// step; nil: the step again.
func (b *board) showMoment(opt *draw.Options) {
	was := b.moment
	b.moment, b.picture = opt, nil
	if b.lens != nil {
		b.lens = nil
		b.on.lensChanged()
	}
	b.raster.Refresh()
	if (was == nil) != (opt == nil) {
		b.refreshOverlay() // what it shows is told there
	}
}

// momentOptions gives the options of the moment shown, with the values of its step.
func (b *board) momentOptions() draw.Options {
	opt := *b.moment
	if b.on.player.shown {
		opt.Values = b.on.lines.options.Values
	}
	return opt
}

// playActions are what can be asked of a play.
type playActions struct {
	toggle, stop, next, last, on, back, faster, slower, start *action
}

func (w *Window) playActions() playActions {
	some := func() bool { return len(w.circuit().Steps()) > 0 }
	shown := func() bool { return w.player != nil && w.player.shown }
	var a playActions
	a.toggle = &action{label: "Play the programme", key: "T", enabled: some, run: func() { w.player.toggle() }}
	a.toggle.labelNow = func() string {
		if w.player != nil && w.player.running {
			return "Pause the programme"
		}
		return a.toggle.label
	}
	a.stop = &action{label: "End the play, show the step", key: "Shift+T", enabled: shown, run: func() { w.player.end("") }}
	a.next = &action{label: "Play from the next step", short: "Next step", key: "PageDown", enabled: some, run: func() { w.player.skip(1) }}
	a.last = &action{label: "Play from the step before", short: "Step before", key: "PageUp", enabled: some, run: func() { w.player.skip(-1) }}
	a.on = &action{label: "Ten seconds on", key: ".", enabled: some, run: func() { w.player.seek(w.player.at + 10) }}
	a.back = &action{label: "Ten seconds back", key: ",", enabled: some, run: func() { w.player.seek(w.player.at - 10) }}
	a.faster = &action{label: "Faster", key: "]", enabled: some, run: func() { w.player.faster(1) }}
	a.slower = &action{label: "Slower", key: "[", enabled: some, run: func() { w.player.faster(-1) }}
	a.start = &action{label: "From the beginning", enabled: some, run: func() { w.player.seek(0) }}
	return a
}

func (a playActions) list() []*action {
	return []*action{a.toggle, a.stop, nil, a.next, a.last, a.on, a.back, a.start, nil, a.faster, a.slower}
}

// cursorValues gives the values of the trends shown at the time of the play.
func (g *trendGrid) values() map[plot.Trend]map[string]float64 {
	out := map[plot.Trend]map[string]float64{}
	for _, v := range g.views {
		if !v.cursorShown {
			continue
		}
		values := map[string]float64{}
		for i, x := range v.chart.ValuesAt(v.cursor) {
			if !math.IsNaN(x) {
				values[v.chart.Lines[i].Name] = math.Round(1000*x) / 1000
			}
		}
		out[v.of] = values
	}
	return out
}

// playKey does what a plain key stands for while nothing else takes it.
func (w *Window) playKey(name fyne.KeyName) bool {
	pressed := string(name)
	switch name {
	case fyne.KeyPageDown:
		pressed = "PageDown"
	case fyne.KeyPageUp:
		pressed = "PageUp"
	}
	for _, x := range w.actions.play.list() {
		if x == nil {
			continue
		}
		key, shift := strings.CutPrefix(x.key, "Shift+")
		if key == pressed && key != "" && shift == (held()&fyne.KeyModifierShift != 0) {
			w.do(x)
			return true
		}
	}
	return false
}
