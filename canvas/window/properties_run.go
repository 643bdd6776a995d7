package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/edit"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// runRows adds a run's stretches and what follows from them.
func (p *propertyPanel) runRows() {
	f := p.form
	run := func() *model.Run { r, _ := f.records()[0].(*model.Run); return r }
	f.heading("Stretches from " + p.endName(run().From))
	if len(run().Stretches) == 0 {
		f.remark("None given: one straight stretch of unknown length. Add stretches with their lengths and rises to check draining and pressure.")
	} else {
		p.stretchTable(run)
	}
	id := run().ID
	add := newButton(p.on, "Add stretch", theme.ContentAddIcon(), func() {
		p.on.try(p.on.drawing().AddStretch(id, len(run().Stretches)))
	})
	if f.keys["stretches"] == nil {
		f.keys["stretches"] = add
	}
	f.box.Add(container.NewHBox(add))
	f.heading("Follows from it")
	f.fact("Length", func() string { return quantity.OptText(run().Length(), p.on.units()) })
	f.fact("Rise", func() string { return quantity.OptText(run().Rise(), p.on.units()) })
	f.fact("Inside diameter", func() string { return quantity.OptText(p.bore(run()), p.on.units()) })
	f.fact("Hold-up", func() string { return quantity.OptText(p.holdUp(run()), p.on.units()) })
	p.runFlowRows(run)
}

// stretchTable adds a line of two fields for each stretch.
func (p *propertyPanel) stretchTable(run func() *model.Run) {
	f := p.form
	unit := quantity.DisplayUnit[quantity.Length](p.on.units()).Name
	f.box.Add(withLayout(stretchLayout{}, quiet(""), quiet("Length, "+unit), quiet("Rise, "+unit), widget.NewLabel("")))
	id := run().ID
	for i := range run().Stretches {
		cell := func(key string) *fieldEntry {
			e := newFieldEntry(func(text string) error {
				x, err := p.on.drawing().SetStretch(id, i, key, text, p.on.units())
				if err != nil {
					return plainError(err)
				}
				return p.on.apply(x)
			})
			e.PlaceHolder = unknownWord
			e.onKey = p.on.function
			f.rows = append(f.rows, func() {
				if s := run().Stretches; i < len(s) {
					e.setShown(edit.StretchText(s[i], key, p.on.units()))
				}
			})
			return e
		}
		length, rise := cell("length_m"), cell("rise_m")
		if i == 0 {
			f.keys["stretches"] = length
		}
		length.onFocus = f.helpOn("Length", "Of this straight piece of tube, along its axis.")
		rise.onFocus = f.helpOn("Rise", "Of its far end above its near end. A negative number falls: 10 m that fall 1 % rise -0.1 m.")
		remove := newButton(p.on, "", theme.ContentRemoveIcon(), func() {
			p.on.try(p.on.drawing().RemoveStretch(id, i))
		})
		row := newFieldRow("", "", widget.NewLabel(""))
		row.box.Objects[0] = withLayout(stretchLayout{}, quiet(quantity.Number(float64(i+1))), length, rise, remove)
		length.problem = tellRow(row)
		rise.problem = tellRow(row)
		f.box.Add(row.box)
	}
}

// stretchLayout: a number, two fields, a button.
type stretchLayout struct{}

func (stretchLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	h := float32(0)
	for _, x := range o {
		h = max(h, x.MinSize().Height)
	}
	return fyne.NewSize(160, h)
}

func (stretchLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	const number, button, gap = 26, 32, 4
	w := (s.Width - number - button - 2*gap) / 2
	x := float32(0)
	for i, width := range []float32{number, w, w, button} {
		h := min(o[i].MinSize().Height, s.Height)
		o[i].Move(fyne.NewPos(x, (s.Height-h)/2))
		o[i].Resize(fyne.NewSize(width, h))
		x += width
		if i == 1 || i == 2 {
			x += gap
		}
	}
}
