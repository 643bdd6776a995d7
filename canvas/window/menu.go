package window

import (
	"path/filepath"
	"reflect"
	"slices"

	"fyne.io/fyne/v2"
)

// menuItem is an entry of the menu with what it stands for.
type menuItem struct {
	item *fyne.MenuItem
	of   *action
}

func (w *Window) makeMenu() *fyne.MainMenu {
	a := w.actions
	pr := a.programmes
	line := (*action)(nil)
	list := func(title string, actions ...*action) *fyne.Menu {
		m := fyne.NewMenu(title)
		for _, x := range actions {
			if x == line {
				m.Items = append(m.Items, fyne.NewMenuItemSeparator())
				continue
			}
			item := w.item(x)
			w.items = append(w.items, menuItem{item, x})
			m.Items = append(m.Items, item)
		}
		return m
	}
	w.items = nil
	under := func(title string, m *fyne.Menu) *fyne.MenuItem {
		item := fyne.NewMenuItem(title, nil)
		item.ChildMenu = m
		return item
	}
	fileMenu := list("File", a.newFile, a.openFile, line, a.saveFile, a.saveAs, line, a.exportSheets, a.exportLists, a.exportPNG, a.exportSVG, a.exportCSV, a.exportJSON, line, a.quit)
	at := len(fileMenu.Items) - 2 // before the line above Quit
	fileMenu.Items = slices.Insert(fileMenu.Items, at, under("Export switching list", list("", pr.listText, pr.listCSV, pr.listPage)), under("Export a plot", list("", a.plots...)), under("Export the wash", list("", a.wash.exports...)))
	fileMenu.Items = slices.Insert(fileMenu.Items, at, append([]*fyne.MenuItem{fyne.NewMenuItemSeparator()}, list("", a.audit.files()...).Items...)...)
	recent := fyne.NewMenuItem("Open recent", nil)
	recent.ChildMenu = w.recentMenu()
	demos := fyne.NewMenuItem("Open demo circuit", nil)
	demos.ChildMenu = w.demoMenu()
	fileMenu.Items = append(fileMenu.Items[:2:2], append([]*fyne.MenuItem{recent, demos}, fileMenu.Items[2:]...)...)
	last := fileMenu.Items[len(fileMenu.Items)-1]
	last.IsQuit = true
	dev := a.deviation
	check := list("Check", a.recheck, a.nextFinding, a.lastFinding, line, dev.accept, dev.withdraw, dev.show, dev.missing, line, dev.rule, dev.rules, dev.limits, line)
	for _, name := range w.limitsNames() {
		x := &action{label: "Limits: " + w.limitsTitle(name), checked: func() bool { return w.profile().Name == name },
			run: func() { w.tellIf(w.setProfile(name)) }}
		item := w.item(x)
		w.items = append(w.items, menuItem{item, x})
		check.Items = append(check.Items, item)
	}
	own := w.item(a.ownLimits)
	w.items = append(w.items, menuItem{own, a.ownLimits})
	check.Items = append(check.Items, own)
	view := list("View", a.zoomIn, a.zoomOut, a.natural, a.fit, a.fitSelection, a.grid)
	view.Items = append(view.Items, list("", a.onBoard.rulers, a.onBoard.overview).Items...)
	view.Items = append(view.Items, under("Information on the drawing", list("", a.onBoard.layers...)), under("Marks of findings", list("", a.marksAll, a.marksGrave, a.marksNone)), under("Values beside runs", list("", append(slices.Clone(a.values), line, a.nextValues, a.lastValues)...)), fyne.NewMenuItemSeparator())
	view.Items = append(view.Items, list("", a.showParts, a.showProps, a.foldBottom, line).Items...)
	view.Items = append(view.Items,
		under("Go to", list("", a.gotoSearch, a.gotoBoard, a.gotoProps, a.gotoFindings, a.gotoSteps, a.gotoFlow, a.wash.goWash, a.wash.goCover, a.onBoard.heights)),
		under("Light or dark", list("", a.lookSystem, a.lookLight, a.lookDark)),
		under("Units", list("", a.unitsMetric, a.unitsUS)))
	washMenu := list("Wash", append(a.play.list(), line, a.wash.coverShow, a.wash.hot, line, a.wash.copyUse, a.wash.copyCover)...)
	washMenu.Items = append(washMenu.Items, under("Trends", list("", a.wash.shown...)))
	drawMenu := list("Draw", a.toolSelect, a.toolRun, a.toolPan, line, a.turnRight, a.turnLeft, a.mirror, a.upset, a.straighten, a.join, a.replaceKind, line, a.groups.show, a.groups.save, line, a.snap)
	drawMenu.Items = append(drawMenu.Items, under("Sizing of a station", list("", a.sizing.list()...)))
	drawMenu.Items = append(drawMenu.Items, list("", a.onBoard.freeLabels, a.onBoard.insert, a.onBoard.ownKinds, a.onBoard.menuHere).Items...)
	drawMenu.Items = slices.Insert(drawMenu.Items, 4, under("Align and space", list("", a.arrange...)))
	return fyne.NewMainMenu(fileMenu,
		list("Edit", a.undo, a.redo, line, a.cut, a.copy, a.paste, a.duplicate, a.delete, line, a.selectAll, a.selectNone, a.nextPart, a.lastPart, a.find),
		drawMenu,
		view,
		list("Steps", pr.add, pr.duplicate, pr.rename, pr.remove, pr.before, pr.after, pr.all, line, pr.find, pr.findAll, pr.steam, pr.empty, pr.list, line, a.addStep, a.duplicateStep, a.deleteStep, line, a.stepUp, a.stepDown, line, a.stepBefore, a.stepAfter, a.stepNone, line, a.design),
		washMenu,
		list("Upkeep", a.upkeep.menu()...),
		check,
		list("Audit", a.audit.menu()...),
		list("Help", a.shortcuts, dev.help, a.cautions, line, a.about))
}

// refreshMenu brings labels, ticks and what is greyed up to date.
func (w *Window) refreshMenu() {
	if w.menu == nil {
		return
	}
	changed := false
	for _, m := range w.items {
		now := w.item(m.of)
		if m.item.Label != now.Label || m.item.Disabled != now.Disabled || m.item.Checked != now.Checked {
			m.item.Label, m.item.Disabled, m.item.Checked = now.Label, now.Disabled, now.Checked
			changed = true
		}
	}
	if changed {
		w.menu.Refresh()
	}
}

func (w *Window) recentMenu() *fyne.Menu {
	m := fyne.NewMenu("")
	for _, path := range w.recent() {
		m.Items = append(m.Items, fyne.NewMenuItem(filepath.Base(path)+"  in  "+filepath.Dir(path), func() {
			if !w.overlayOpen() {
				w.guard("open", func() { w.openAsked(path) })
			}
		}))
	}
	if len(m.Items) == 0 {
		none := fyne.NewMenuItem("None yet", nil)
		none.Disabled = true
		m.Items = append(m.Items, none)
	}
	return m
}

// refreshRecent puts the recent files into the menu anew.
func (w *Window) refreshRecent() {
	if w.menu == nil {
		return
	}
	for _, item := range w.menu.Items[0].Items {
		if item.Label == "Open recent" {
			next := w.recentMenu()
			if !reflect.DeepEqual(labels(item.ChildMenu), labels(next)) {
				item.ChildMenu = next
				w.menu.Refresh()
			}
		}
	}
}

func labels(m *fyne.Menu) []string {
	var out []string
	for _, i := range m.Items {
		out = append(out, i.Label)
	}
	return out
}

func (w *Window) demoMenu() *fyne.Menu {
	m := fyne.NewMenu("")
	for _, d := range demos() {
		m.Items = append(m.Items, fyne.NewMenuItem(d.title, func() {
			if !w.overlayOpen() {
				w.guard("open", func() {
					w.unlessDirty("They are lost when another one is opened.", func() { w.OpenCopy(d.file, d.data) })
				})
			}
		}))
	}
	if len(m.Items) == 0 {
		none := fyne.NewMenuItem("None in this build", nil)
		none.Disabled = true
		m.Items = append(m.Items, none)
	}
	return m
}
