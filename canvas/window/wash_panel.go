package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// washPanel runs the chosen programme in time: it plays it, tells what it uses and
// draws its trends.
type washPanel struct {
	on     *Window
	root   fyne.CanvasObject
	bar    *playBar
	sum    *widget.Label
	make   *button // leads to where a programme is made
	list   *keyList
	rows   []flowLine
	trends *trendGrid
	halves *beside
	empty  *widget.Label
	body   *fyne.Container
	shows  *ranWash // what the list and the trends are of
}

func newWashPanel(on *Window) *washPanel {
	p := &washPanel{on: on}
	p.bar = newPlayBar(on)
	p.sum = widget.NewLabel("")
	p.sum.Truncation = fyne.TextTruncateEllipsis
	p.list = newLineList(on, func() []flowLine { return p.rows })
	p.trends = newTrendGrid(on)
	caution := quiet(washCaution)
	caution.Importance = widget.WarningImportance
	caution.Truncation = fyne.TextTruncateEllipsis
	copyUse := newButton(on, "Copy", theme.ContentCopyIcon(), func() { on.do(on.actions.wash.copyUse) })
	var save *button
	save = newButton(on, "", theme.DownloadIcon(), func() { on.popActions(save, on.actions.wash.exports[:2]) })
	head := container.NewBorder(nil, nil, nil, container.NewHBox(copyUse, save), p.sum)
	left := container.NewBorder(head, caution, nil, nil, p.list)
	p.halves = newBeside(left, p.trends.root, 0.56)
	p.empty = widget.NewLabel("")
	p.empty.Wrapping = fyne.TextWrapWord
	p.empty.Alignment = fyne.TextAlignCenter
	p.make = newButton(on, "Go to the steps", theme.NavigateNextIcon(), func() { on.do(on.actions.gotoSteps) })
	p.body = container.NewStack(p.halves.box, container.NewVBox(p.empty, container.NewCenter(p.make)))
	p.root = container.NewBorder(p.bar.root, nil, nil, nil, p.body)
	return p
}

// newLineList makes a list of lines of which a click does what the line stands for.
func newLineList(on *Window, rows func() []flowLine) *keyList {
	l := newKeyList(on, func() int { return len(rows()) }, func() fyne.CanvasObject { return newFlowRow(on) },
		func(i widget.ListItemID, o fyne.CanvasObject) {
			if r := rows(); i < len(r) {
				o.(*flowRow).set(r[i])
			}
		})
	l.HideSeparators = true
	l.OnSelected = func(i widget.ListItemID) {
		l.UnselectAll()
		if r := rows(); i < len(r) && r[i].run != nil {
			on.guard("go to a place", r[i].run)
		}
	}
	return l
}

// again shows all anew: units or look have changed.
func (p *washPanel) again() {
	p.shows = nil
	p.refresh()
}

// refresh tells what was run last, or why there is nothing.
func (p *washPanel) refresh() {
	if p == nil {
		return
	}
	w := p.on
	p.bar.refresh()
	trouble := w.washTrouble()
	halves, empty := p.body.Objects[0], p.body.Objects[1]
	if trouble != "" {
		p.shows = nil
		p.empty.SetText(trouble)
		if _, some := w.washing.name(); some {
			p.make.Hide()
		} else {
			p.make.Show()
		}
		halves.Hide()
		empty.Show()
		return
	}
	halves.Show()
	empty.Hide()
	if p.shows == w.washing.ran {
		return
	}
	p.shows = w.washing.ran
	p.rows = w.washLines(p.shows)
	p.sum.SetText(w.simulatedWords(p.shows))
	p.list.Refresh()
	p.trends.refresh()
}
