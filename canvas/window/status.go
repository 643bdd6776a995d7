package window

import (
	"fmt"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
)

// statusLine tells at the foot of the window where the pointer is, what a click
// would do, and how circuit and file stand.
type statusLine struct {
	root                           fyne.CanvasObject
	place, hint, state, zoom, file *widget.Label
}

func newStatusLine() *statusLine {
	label := func() *widget.Label {
		l := widget.NewLabel("")
		l.SizeName = theme.SizeNameCaptionText
		l.Truncation = fyne.TextTruncateEllipsis
		return l
	}
	s := &statusLine{place: label(), hint: label(), state: label(), zoom: label(), file: label()}
	s.root = withLayout(statusLayout{}, s.place, s.hint, s.state, s.zoom, s.file)
	return s
}

func (s *statusLine) tellPlace(p model.Point, on bool) {
	text := ""
	if on {
		text = fmt.Sprintf("%.1f, %.1f mm", p.X, p.Y)
	}
	set(s.place, text)
}

func (s *statusLine) tellHint(text string)   { set(s.hint, text) }
func (s *statusLine) tellState(text string)  { set(s.state, text) }
func (s *statusLine) tellFile(text string)   { set(s.file, text) }
func (s *statusLine) tellZoom(scale float64) { set(s.zoom, fmt.Sprintf("%.0f %%", scale*100)) }

// set avoids painting what is the same.
func set(l *widget.Label, text string) {
	if l.Text != text {
		l.SetText(text)
	}
}

// warn tells whether the hint speaks of something wrong.
func (s *statusLine) warn(on bool) {
	look := widget.MediumImportance
	if on {
		look = widget.WarningImportance
	}
	if s.hint.Importance != look || s.hint.TextStyle.Bold != on {
		s.hint.Importance, s.hint.TextStyle.Bold = look, on
		s.hint.Refresh()
	}
}

// flash draws the eye to the hint for a moment.
func (s *statusLine) flash() {
	s.warn(true)
	time.AfterFunc(2*time.Second, func() {
		fyne.Do(func() {
			s.warn(false)
		})
	})
}

// statusLayout gives each field its place; the hint has what is left.
type statusLayout struct{}

func (statusLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(400, o[0].MinSize().Height-4)
}

func (statusLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	widths := []float32{112, 0, 320, 56, 200}
	rest := s.Width
	for _, w := range widths {
		rest -= w
	}
	widths[1] = max(rest, 0)
	x := float32(0)
	for i, obj := range o {
		h := obj.MinSize().Height
		obj.Move(fyne.NewPos(x, (s.Height-h)/2))
		obj.Resize(fyne.NewSize(widths[i], h))
		x += widths[i]
	}
}
