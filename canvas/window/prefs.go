package window

import (
	"os"
	"path/filepath"
	"slices"

	"fyne.io/fyne/v2"

	"rinsewright/canvas/scene"
	"rinsewright/model/quantity"
)

// What is kept from one start to the next.
const (
	prefLook      = "look"
	prefUnits     = "units"
	prefRecent    = "recent"
	prefFolder    = "folder"
	prefNoSnap    = "no-snap"
	prefNoGrid    = "no-grid"
	prefNoDetails = "no-step-details"
	prefValues    = "values"
	prefMarks     = "finding-marks"
	prefLimits    = "limits-files"
	prefWide      = "window-width"
	prefHigh      = "window-height"
	prefPane      = "pane-share-" // and its number
	prefHidden    = "pane-hidden-"
)

const mostRecent = 8

func (w *Window) look() Look {
	switch l := Look(w.app.Preferences().String(prefLook)); l {
	case LookLight, LookDark:
		return l
	}
	return LookSystem
}

// readLook puts the theme up before anything is built.
func (w *Window) readLook() {
	w.app.Settings().SetTheme(plainTheme{look: w.look()})
	if w.app.Preferences().String(prefUnits) == "us" {
		w.system = quantity.US
	}
	w.app.Settings().AddListener(func(fyne.Settings) { fyne.Do(w.again) })
}

func (w *Window) setLook(l Look) {
	w.app.Preferences().SetString(prefLook, string(l))
	w.app.Settings().SetTheme(plainTheme{look: l})
	w.again()
}

func (w *Window) setUnits(s quantity.System) {
	w.system = s
	name := "metric"
	if s == quantity.US {
		name = "us"
	}
	w.app.Preferences().SetString(prefUnits, name)
	w.again()
}

// again shows all anew: the look or the units have changed.
func (w *Window) again() {
	if w.board == nil {
		return
	}
	w.commitFocused()
	w.parts.again()
	w.props.again()
	w.findings.again()
	w.open.again()
	w.missing.again()
	w.steps.again()
	w.showValues()
	w.flows.again()
	w.washPanel.again()
	w.coverPanel.again()
	w.audit.again()
	w.covering.refresh()
	w.upkeep.again()
	w.sizing.again()
	w.heights.again()
	w.tools.refresh()
	w.board.repaint()
	w.refreshMenu()
	w.refreshStatus()
	w.win.Content().Refresh()
}

// readPlace gives window and panes the sizes that they had.
func (w *Window) readPlace() {
	p := w.app.Preferences()
	w.board.ed.SnapToGrid = !p.Bool(prefNoSnap)
	w.board.grid = !p.Bool(prefNoGrid)
	if v := scene.Value(p.String(prefValues)); slices.Contains(scene.ValueNames(), v) {
		w.values = v
	}
	switch m := marking(p.String(prefMarks)); m {
	case markGrave, markNone:
		w.board.marking = m
	}
	for i := range w.panes.share {
		n := string(rune('0' + i))
		if s := p.Float(prefPane + n); s > 0 && s < 1 {
			w.panes.share[i] = float32(s)
		}
		w.panes.hidden[i] = p.Bool(prefHidden + n)
	}
	size := fyne.NewSize(float32(p.Float(prefWide)), float32(p.Float(prefHigh)))
	if size.Width < 640 || size.Height < 420 {
		size = fyne.NewSize(1280, 800)
	}
	w.win.Resize(size)
}

// fitScreen makes a window smaller that is larger than the screen: the sizes were
// kept on another one.
func (w *Window) fitScreen() {
	if w.screen == nil {
		return
	}
	width, height, ok := w.screen()
	if !ok {
		return
	}
	cv := w.win.Canvas()
	most := fyne.NewSize(float32(width)/cv.Scale(), float32(height)/cv.Scale())
	if size := cv.Size(); size.Width > most.Width || size.Height > most.Height {
		w.win.Resize(fyne.NewSize(min(size.Width, most.Width), min(size.Height, most.Height)))
	}
}

func (w *Window) keepPlace() {
	p := w.app.Preferences()
	if s := w.win.Canvas().Size(); s.Width > 100 {
		p.SetFloat(prefWide, float64(s.Width))
		p.SetFloat(prefHigh, float64(s.Height))
	}
	for i, s := range w.panes.share {
		n := string(rune('0' + i))
		p.SetFloat(prefPane+n, float64(s))
		p.SetBool(prefHidden+n, w.panes.hidden[i])
	}
}

// recent gives the files that were open lately and are still there.
func (w *Window) recent() []string {
	list := w.app.Preferences().StringList(prefRecent)
	return slices.DeleteFunc(slices.Clone(list), func(path string) bool {
		_, err := os.Stat(path)
		return err != nil
	})
}

func (w *Window) remember(path string) {
	list := slices.DeleteFunc(w.recent(), func(p string) bool { return p == path })
	list = append([]string{path}, list...)
	w.app.Preferences().SetStringList(prefRecent, list[:min(len(list), mostRecent)])
	w.app.Preferences().SetString(prefFolder, filepath.Dir(path))
	w.refreshRecent()
}

// folder gives where files were last opened or saved.
func (w *Window) folder() string {
	if f := w.app.Preferences().String(prefFolder); f != "" {
		if info, err := os.Stat(f); err == nil && info.IsDir() {
			return f
		}
	}
	if home, err := os.UserHomeDir(); err == nil {
		return home
	}
	return "."
}
