package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// notice is a line of warning with its sign that leads to the place it tells of.
type notice struct {
	widget.BaseWidget
	on    *Window
	text  string
	full  string // told at the foot of the window while the pointer is on it
	onTap func()
	label *widget.Label
	icon  *widget.Icon
}

var (
	_ fyne.Tappable      = (*notice)(nil)
	_ desktop.Hoverable  = (*notice)(nil)
	_ desktop.Cursorable = (*notice)(nil)
)

func newNotice(on *Window) *notice {
	n := &notice{on: on, label: widget.NewLabel(""), icon: widget.NewIcon(iconFix)}
	n.label.Importance = widget.WarningImportance
	n.label.SizeName = theme.SizeNameCaptionText
	n.label.Truncation = fyne.TextTruncateEllipsis
	n.ExtendBaseWidget(n)
	n.Hide()
	return n
}

// tell shows a text; an empty one hides the notice.
func (n *notice) tell(text, full string, onTap func()) {
	n.full, n.onTap = full, onTap
	if text == "" {
		n.text = ""
		n.Hide()
		return
	}
	if n.text != text {
		n.text = text
		n.label.SetText(text)
	}
	n.Show()
}

func (n *notice) Tapped(*fyne.PointEvent) {
	if n.onTap != nil {
		n.on.guard("go to a place", n.onTap)
	}
}

func (n *notice) Cursor() desktop.Cursor {
	if n.onTap != nil {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

func (n *notice) MouseIn(*desktop.MouseEvent) {
	n.on.tellHint(n.full)
	n.label.TextStyle.Underline = n.onTap != nil
	n.label.Refresh()
}
func (n *notice) MouseMoved(*desktop.MouseEvent) {}
func (n *notice) MouseOut() {
	n.on.tellHint("")
	n.label.TextStyle.Underline = false
	n.label.Refresh()
}

func (n *notice) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(withLayout(markLayout{}, n.icon, n.label))
}
