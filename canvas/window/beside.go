package window

import "fyne.io/fyne/v2"

// beside lays two things side by side with a divider between them.
type beside struct {
	left, right fyne.CanvasObject
	bar         *divider
	share       float32 // of the left one
	folded      bool    // the right one is put away
	box         *fyne.Container
}

func newBeside(left, right fyne.CanvasObject, share float32) *beside {
	b := &beside{left: left, right: right, share: share}
	b.bar = newDivider(false, b.drag, func() {})
	b.box = withLayout(b, left, b.bar, right)
	return b
}

const besideLeast = 140

func (b *beside) drag(d float32) {
	if w := b.box.Size().Width; w > 2*besideLeast {
		b.share = min(max(b.share+d/w, besideLeast/w), 1-besideLeast/w)
		b.Layout(nil, b.box.Size())
	}
}

func (b *beside) MinSize([]fyne.CanvasObject) fyne.Size {
	l, r := b.left.MinSize(), b.right.MinSize()
	return fyne.NewSize(besideLeast*2+barWide, max(l.Height, r.Height))
}

// fold puts the right one away, or back.
func (b *beside) fold(away bool) {
	b.folded = away
	for _, o := range []fyne.CanvasObject{b.bar, b.right} {
		if away {
			o.Hide()
		} else {
			o.Show()
		}
	}
	b.Layout(nil, b.box.Size())
}

func (b *beside) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	// Whole units, so that no column of pixels of a picture is lost.
	l := float32(int(s.Width*b.share - barWide/2))
	put := func(o fyne.CanvasObject, x, w float32) {
		o.Move(fyne.NewPos(x, 0))
		o.Resize(fyne.NewSize(max(w, 0), s.Height))
	}
	if b.folded {
		put(b.left, 0, s.Width)
		return
	}
	put(b.left, 0, l)
	put(b.bar, l, barWide)
	put(b.right, l+barWide, s.Width-l-barWide)
}
