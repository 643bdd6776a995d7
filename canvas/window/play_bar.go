package window

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model/quantity"
)

// playBar chooses the programme and plays it.
type playBar struct {
	on        *Window
	root      fyne.CanvasObject
	programme *pickList
	names     []string // of the entries of programme
	last      *button
	toggle    *button
	next      *button
	stop      *button
	slider    *timeSlider
	told      *widget.Label
	speed     *pickList
	quietly   bool
}

func newPlayBar(on *Window) *playBar {
	b := &playBar{on: on}
	a := on.actions.play
	b.programme = newPickList(on, nil, func(string) {
		if i := b.programme.SelectedIndex(); !b.quietly && i >= 0 && i < len(b.names) {
			on.guard("choose a programme", func() { on.chooseWash(b.names[i]) })
		}
	})
	b.programme.PlaceHolder = "No programme"
	b.last = newButton(on, "", theme.MediaSkipPreviousIcon(), func() { on.do(a.last) })
	b.toggle = newButton(on, "Play", theme.MediaPlayIcon(), func() { on.do(a.toggle) })
	b.next = newButton(on, "", theme.MediaSkipNextIcon(), func() { on.do(a.next) })
	b.stop = newButton(on, "", theme.MediaStopIcon(), func() { on.do(a.stop) })
	b.slider = newTimeSlider(on)
	b.told = widget.NewLabel("–")
	b.told.Truncation = fyne.TextTruncateEllipsis
	var words []string
	for _, s := range playSpeeds {
		words = append(words, speedWords(s))
	}
	b.speed = newPickList(on, words, func(string) {
		if i := b.speed.SelectedIndex(); !b.quietly && i >= 0 {
			on.guard("choose a speed", func() { on.player.setSpeed(playSpeeds[i]) })
		}
	})
	b.root = withLayout(barRow{}, b.programme, b.last, b.toggle, b.next, b.stop, b.slider, b.told, b.speed)
	return b
}

// barRow lays the bar out: the slider takes what the others leave.
type barRow struct{}

// Widths of what has no width of its own.
const (
	barProgramme = 170
	barTold      = 236
	barSlider    = 120
)

func (barRow) width(i int, o fyne.CanvasObject) float32 {
	switch i {
	case 0:
		return barProgramme
	case 6:
		return barTold
	}
	return o.MinSize().Width
}

func (r barRow) MinSize(o []fyne.CanvasObject) fyne.Size {
	s := fyne.NewSize(barSlider, 0)
	for i, x := range o {
		if i != 5 && i != 0 && i != 6 {
			s.Width += r.width(i, x)
		}
		s.Height = max(s.Height, x.MinSize().Height)
	}
	s.Width += barProgramme
	return s
}

func (r barRow) Layout(o []fyne.CanvasObject, s fyne.Size) {
	const apart = 3
	left := s.Width - apart*float32(len(o)-1)
	for i, x := range o {
		if i != 5 {
			left -= r.width(i, x)
		}
	}
	told := float32(barTold)
	if left < barSlider {
		told = max(told-(barSlider-left), 90)
		left = barSlider
	}
	x := float32(0)
	for i, y := range o {
		w := r.width(i, y)
		switch i {
		case 5:
			w = left
		case 6:
			w = told
		}
		h := y.MinSize().Height
		y.Move(fyne.NewPos(x, (s.Height-h)/2))
		y.Resize(fyne.NewSize(w, h))
		x += w + apart
	}
}

// refresh offers the programmes and tells how the play stands.
func (b *playBar) refresh() {
	w := b.on
	name, some := w.washing.name()
	b.names = w.drawing().Programmes()
	b.quietly = true
	var words []string
	for _, n := range b.names {
		words = append(words, sentence(programmeWords(n)))
	}
	if !slices.Equal(words, b.programme.Options) {
		b.programme.SetOptions(words)
	}
	if at := slices.Index(b.names, name); some && at >= 0 {
		if b.programme.SelectedIndex() != at {
			b.programme.SetSelectedIndex(at)
		}
	} else {
		b.programme.ClearSelected()
	}
	if at := slices.Index(playSpeeds, w.player.speed); at != b.speed.SelectedIndex() {
		b.speed.SetSelectedIndex(at)
	}
	b.quietly = false
	for _, x := range []*button{b.last, b.toggle, b.next} {
		x.able(some)
	}
	b.move()
}

// move tells the time of the play.
func (b *playBar) move() {
	p := b.on.player
	b.stop.able(p.shown)
	text, icon := "Play", theme.MediaPlayIcon()
	if p.running {
		text, icon = "Pause", theme.MediaPauseIcon()
	}
	if b.toggle.Text != text {
		b.toggle.Text, b.toggle.Icon = text, icon
		b.toggle.Refresh()
	}
	b.slider.follow()
	set(b.told, p.momentWords())
}

// where tells a test where on the screen the slider lies, in pixels.
func (b *playBar) where() map[string]float64 {
	s := float64(b.on.win.Canvas().Scale())
	at, size := fyne.CurrentApp().Driver().AbsolutePositionForObject(b.slider), b.slider.Size()
	return map[string]float64{"x": float64(at.X) * s, "y": float64(at.Y) * s, "width": float64(size.Width) * s, "height": float64(size.Height) * s}
}

// timeSlider scrubs through the programme: by pointer, by arrow keys (ten seconds),
// by page keys (a step) and to the ends.
type timeSlider struct {
	widget.Slider
	on      *Window
	quietly bool
}

func newTimeSlider(on *Window) *timeSlider {
	s := &timeSlider{on: on}
	s.Max, s.Step = 1, 1
	s.Orientation = widget.Horizontal
	s.OnChanged = func(v float64) {
		if !s.quietly {
			on.guard("go to a time", func() { on.player.seek(quantity.Duration(v)) })
		}
	}
	s.ExtendBaseWidget(s)
	return s
}

// follow moves the slider to the time of the play.
func (s *timeSlider) follow() {
	s.quietly = true
	defer func() { s.quietly = false }()
	end := 1.0
	if r := s.on.washing.ran; r.ok() {
		end = max(float64(r.record.Cycle), 1)
	}
	if s.Max != end {
		s.Max = end
		s.Refresh()
	}
	s.SetValue(float64(s.on.player.at))
}

func (s *timeSlider) TypedKey(e *fyne.KeyEvent) {
	p := s.on.player
	do := func(what string, f func()) { s.on.guard(what, f) }
	switch {
	case s.on.function(e.Name):
	case e.Name == fyne.KeySpace, e.Name == fyne.KeyReturn, e.Name == fyne.KeyEnter:
		s.on.do(s.on.actions.play.toggle)
	case e.Name == fyne.KeyLeft:
		do("scrub", func() { p.seek(p.at - 10) })
	case e.Name == fyne.KeyRight:
		do("scrub", func() { p.seek(p.at + 10) })
	case e.Name == fyne.KeyHome:
		do("scrub", func() { p.seek(0) })
	case e.Name == fyne.KeyEnd:
		do("scrub", func() {
			if r := s.on.washing.ran; r.ok() {
				p.seek(r.record.Cycle)
			}
		})
	case e.Name == fyne.KeyPageDown:
		do("scrub", func() { p.skip(1) })
	case e.Name == fyne.KeyPageUp:
		do("scrub", func() { p.skip(-1) })
	case e.Name == fyne.KeyEscape:
		s.on.focusBoard()
	default:
		s.on.typedKey(e)
	}
}
