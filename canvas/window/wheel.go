package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// wheel lies over a scrolled form and takes nothing but the wheel. Without it
// every entry in the form would take the wheel for its own text.
type wheel struct {
	widget.BaseWidget
	of *container.Scroll
}

var _ fyne.Scrollable = (*wheel)(nil)

// scrolledForm gives a scroll that turns wherever the pointer is over it.
func scrolledForm(s *container.Scroll) fyne.CanvasObject {
	w := &wheel{of: s}
	w.ExtendBaseWidget(w)
	return container.NewStack(s, w)
}

func (w *wheel) Scrolled(e *fyne.ScrollEvent) { w.of.Scrolled(e) }

func (w *wheel) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(canvas.NewRectangle(nil))
}
