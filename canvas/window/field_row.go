package window

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// withLayout makes a container of a layout of our own.
func withLayout(l fyne.Layout, objects ...fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: l, Objects: objects}
}

// fieldRow is a label, an input, the unit, and beneath them what is wrong with
// what was typed.
type fieldRow struct {
	box     *fyne.Container
	message *widget.Label
}

func newFieldRow(label, unit string, input fyne.CanvasObject) *fieldRow {
	l := fieldLabel(label)
	if e, ok := input.(*fieldEntry); ok && !e.MultiLine {
		input = container.NewThemeOverride(input, barless{})
	}
	objects := []fyne.CanvasObject{l, input}
	if unit != "" {
		objects = append(objects, quiet(unit))
	}
	r := &fieldRow{message: widget.NewLabel("")}
	r.message.Wrapping = fyne.TextWrapWord
	r.message.SizeName = theme.SizeNameCaptionText
	r.message.Hide()
	r.box = container.NewVBox(withLayout(fieldLayout{}, objects...), r.message)
	return r
}

// tell shows what is wrong; nil clears it.
func (r *fieldRow) tell(err error) {
	if err == nil {
		if r.message.Visible() {
			r.message.Hide()
			r.box.Refresh()
		}
		return
	}
	r.message.Importance = widget.DangerImportance
	r.message.SetText(sentence(err.Error()))
	r.message.Show()
	r.box.Refresh()
}

// labelWide is the least that the label of a field gets.
const labelWide = 112

// fieldLabel is the name of a field: on two small lines where one does not hold
// it.
func fieldLabel(text string) *widget.Label {
	l := widget.NewLabel(text)
	room := labelWide - 2*theme.InnerPadding()
	if fyne.MeasureText(text, theme.TextSize(), fyne.TextStyle{}).Width <= room {
		return l
	}
	l.SizeName = theme.SizeNameCaptionText
	if fyne.MeasureText(text, theme.CaptionTextSize(), fyne.TextStyle{}).Width > room {
		l.SetText(twoLines(text, theme.CaptionTextSize()))
	}
	return l
}

// twoLines breaks a text at the word that makes the longer line shortest.
func twoLines(text string, size float32) string {
	words := strings.Fields(text)
	best, out := float32(-1), text
	for i := 1; i < len(words); i++ {
		a, b := strings.Join(words[:i], " "), strings.Join(words[i:], " ")
		wide := max(fyne.MeasureText(a, size, fyne.TextStyle{}).Width, fyne.MeasureText(b, size, fyne.TextStyle{}).Width)
		if best < 0 || wide < best {
			best, out = wide, a+"\n"+b
		}
	}
	return out
}

// fieldLayout gives the label about two fifths, the unit what it needs and the input
// the rest.
type fieldLayout struct{}

const unitWide = 46

func (fieldLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(labelWide+80, max(o[0].MinSize().Height, o[1].MinSize().Height))
}

func (fieldLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	label := max(s.Width*0.42, labelWide)
	right := float32(0)
	if len(o) > 2 {
		right = unitWide
	}
	h := o[0].MinSize().Height
	o[0].Move(fyne.NewPos(0, max(0, (min(s.Height, o[1].MinSize().Height)-h)/2)))
	o[0].Resize(fyne.NewSize(label, h))
	o[1].Move(fyne.NewPos(label, 0))
	o[1].Resize(fyne.NewSize(s.Width-label-right, s.Height))
	if len(o) > 2 {
		uh := o[2].MinSize().Height
		o[2].Move(fyne.NewPos(s.Width-right, (s.Height-uh)/2))
		o[2].Resize(fyne.NewSize(right, uh))
	}
}

// quiet is small text of little weight: a unit, help.
func quiet(text string) *widget.Label {
	l := widget.NewLabel(text)
	l.SizeName = theme.SizeNameCaptionText
	l.Importance = widget.LowImportance
	return l
}

// heading is the title of a group of fields.
func heading(text string) *widget.Label {
	l := widget.NewLabel(text)
	l.TextStyle.Bold = true
	l.Truncation = fyne.TextTruncateEllipsis
	return l
}

// sentence begins with a capital letter.
func sentence(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}
