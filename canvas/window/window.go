package window

import (
	"net/url"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/assets/icon"
	"rinsewright/canvas/edit"
	"rinsewright/canvas/scene"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/flow"
	"rinsewright/model/quantity"
)

// Window is the program's one window with the document that is open in it.
// Everything in it runs on fyne's main goroutine.
type Window struct {
	app     fyne.App
	win     fyne.Window
	cat     *catalogue.Catalogue
	own     ownKinds
	doc     *edit.Document
	events  *Events
	actions *actions
	menu    *fyne.MainMenu
	items   []menuItem

	handOver *handOver            // the last dialog of exporting
	opener   func(*url.URL) error // hands a file to the system; nil: the toolkit's

	board    *board
	parts    *partsPanel
	props    *propertyPanel
	findings *findingsPanel
	open     *findingsPanel // not assessed
	missing  *missingPanel  // what values that would need
	steps    *stepsPanel
	flows    *flowPanel
	tabs     *tabs
	upkeep   *upkeep
	heights  *heightPanel
	panes    *panes
	tools    *toolbar
	status   *statusLine

	cautioned *widget.Label // beside the tabs
	chooser   *chooser      // asked last for a file

	solving  *solving
	solution *flow.Solution // of the step shown; nil while it is awaited, or without a step
	unsolved error          // why there is no solution at all
	drawn    *flow.Solution // whose values stand on the drawing: the last one of the step shown
	values   scene.Value    // what is written beside runs

	washing    *washRunner
	player     *player
	covering   *covering
	audit      *audit
	washPanel  *washPanel
	coverPanel *coverPanel
	sizing     *sizingPanel
	washTab    int // their places among the tabs
	coverTab   int

	checker *checker
	result  *checks.Result // of the present circuit; nil while it is awaited
	lines   *shownLineUp
	stepID  model.ID // of the step whose line-up is shown; empty: none
	file    file
	limits  []ownLimits // of the user's own, by name

	limitsView *limitsView // opened last
	rulePages  *rulePages  // opened last
	acceptance *acceptance // asked last

	saving  *autosaver
	system  quantity.System
	started bool
	quit    func()
	screen  func() (width, height int, ok bool)
}

// Options are what the program hands to the window.
type Options struct {
	App    fyne.App
	Kinds  *catalogue.Catalogue
	Events *Events // nil: none are written
	Quit   func()  // ends the program; nil: the app's own

	Screen func() (width, height int, ok bool) // size of the screen in pixels; nil: not known

	Main func(func()) // hands what was worked out beside the user to the main goroutine; nil: the toolkit's way
}

// New makes the window, with an empty circuit, and does not show it yet.
func New(o Options) *Window {
	w := &Window{app: o.App, cat: o.Kinds, events: o.Events, quit: o.Quit, screen: o.Screen}
	if w.quit == nil {
		w.quit = o.App.Quit
	}
	w.readKinds()
	w.readLook()
	w.readLimits()
	w.win = o.App.NewWindow("Rinsewright")
	w.win.SetIcon(fyne.NewStaticResource("rinsewright.png", icon.PNG))
	w.win.SetPadded(false)
	w.win.SetMaster()
	w.doc = edit.NewDocument(model.New("New circuit"), w.cat)
	w.lines = lineUpOf(w.doc.Circuit(), w.cat, nil)
	w.checker = newChecker(w.cat, w.checked)
	if o.Main != nil {
		w.checker.onMain = o.Main
	}
	w.solving = newSolving(w)
	w.saving = newAutosaver(w)
	w.washing, w.player, w.covering = newWashRunner(w), newPlayer(w), &covering{on: w}
	w.actions = w.makeActions()
	w.build()
	w.doc.Listen(w.changed)
	w.win.SetCloseIntercept(func() { w.guard("close", w.askQuit) })
	w.win.SetOnDropped(func(_ fyne.Position, uris []fyne.URI) {
		if len(uris) > 0 && !w.overlayOpen() {
			w.openAsked(uris[0].Path())
		}
	})
	w.readPlace()
	w.all()
	return w
}

func (w *Window) build() {
	w.status = newStatusLine()
	w.board = newBoard(w)
	w.parts = newPartsPanel(w)
	w.props = newPropertyPanel(w)
	w.findings = newFindingsPanel(w, false)
	w.open = newFindingsPanel(w, true)
	w.missing = newMissingPanel(w, w.open.root)
	w.steps = newStepsPanel(w)
	w.flows = newFlowPanel(w)
	w.washPanel = newWashPanel(w)
	w.coverPanel = newCoverPanel(w)
	w.audit = newAudit(w)
	w.tools = newToolbar(w)

	fold := newButton(w, "", theme.MenuDropDownIcon(), func() { w.do(w.actions.foldBottom) })
	w.cautioned = quiet(cautionShort)
	w.cautioned.Truncation = fyne.TextTruncateEllipsis
	w.cautioned.Alignment = fyne.TextAlignTrailing
	w.cautioned.Importance = widget.WarningImportance
	w.cautioned.Hide()
	w.tabs = newTabs(w, w.cautioned, fold)
	w.tabs.add("Findings", w.findings.root)
	w.tabs.add("Not assessed", w.missing.root)
	w.tabs.add("Steps", w.steps.root)
	w.tabs.add("Flow", w.flows.root)
	w.washTab = len(w.tabs.titles)
	w.tabs.add("Wash", w.washPanel.root)
	w.coverTab = len(w.tabs.titles)
	w.tabs.add("Coverage", w.coverPanel.root)
	w.upkeep = newUpkeep(w)
	w.upkeep.addTabs(w.tabs)
	w.heights = newHeightPanel(w)
	w.heights.addTab(w.tabs)
	w.audit.addTabs(w.tabs)
	w.sizing = newSizingPanel(w)
	w.sizing.addTab(w.tabs)
	bottom := container.NewBorder(bar(w.tabs.header), nil, nil, nil, panelPlain(w.tabs.body))
	w.panes = newPanes(w.parts.root, w.props.root, bottom, w.board)
	w.panes.least = w.tabs.header.MinSize().Height
	w.panes.onResize = w.keepPlace
	w.tabs.onPick = func(int) {
		if w.panes.hidden[paneBottom] {
			w.do(w.actions.foldBottom)
		}
		w.washLooked()
		w.missing.looked()
		w.upkeep.looked()
		w.sizing.looked()
		w.heights.looked()
	}
	w.menu = w.makeMenu()
	w.win.SetMainMenu(w.menu)
	w.win.SetContent(container.NewBorder(bar(w.tools.root), bar(w.status.root), nil, nil, w.panes.box))
	w.win.Canvas().SetOnTypedKey(w.typedKey)
	w.win.Canvas().SetOnTypedRune(w.typedRune)
	w.win.Canvas().AddShortcut(redoToo, func(fyne.Shortcut) { w.do(w.actions.redo) })
}

// panelPlain is panel without a border of its own.
func panelPlain(content fyne.CanvasObject) fyne.CanvasObject {
	return container.NewStack(newGround(colorPanel), content)
}

// Show shows the window.
func (w *Window) Show() {
	w.win.Show()
	w.started = true
	w.focusBoard()
	w.tellWrongKinds()
}

// Win gives fyne's window.
func (w *Window) Win() fyne.Window { return w.win }

func (w *Window) circuit() *model.Circuit     { return w.doc.Circuit() }
func (w *Window) drawing() *edit.Drawing      { return w.doc.Drawing() }
func (w *Window) kinds() *catalogue.Catalogue { return w.cat }
func (w *Window) units() quantity.System      { return w.system }

// tellHelp tells about the field that has the focus.
func (w *Window) tellHelp(text string) {
	p := w.props
	p.help.SetText(text)
	switch shown := text != ""; {
	case shown == p.foot.Visible():
	case shown:
		p.foot.Show()
	default:
		p.foot.Hide()
	}
}

// tellHint says something at the foot of the window; what the board would say
// comes back with the next move on it.
func (w *Window) tellHint(text string) {
	if w.board != nil {
		w.board.told = ""
	}
	w.status.tellHint(text)
	w.status.warn(false)
}

// apply makes an edit one step of the history.
func (w *Window) apply(e model.Edit) error {
	if e.Empty() {
		return nil
	}
	var err error
	w.guard(e.Label, func() { err = w.doc.Apply(e) })
	return err
}

// try applies an edit that was asked for, and says why if it cannot be.
func (w *Window) try(e model.Edit, err error) {
	w.tellIf(w.tried(e, err))
}

func (w *Window) tried(e model.Edit, err error) error {
	if err != nil {
		return err
	}
	return w.apply(e)
}

func (w *Window) setPosition(s *model.Step, v *model.Valve, position string) error {
	return w.tried(w.drawing().SetPosition(s.ID, v.ID, position))
}

func (w *Window) setRunning(s *model.Step, pump model.ID, runs bool) error {
	return w.tried(w.drawing().SetRunning(s.ID, pump, runs))
}

func (w *Window) setProfile(name string) error {
	return w.tried(w.drawing().SetProperty([]model.ID{model.HeaderID}, "profile", name, w.system))
}

// selectedRecords gives what is selected.
func (w *Window) selectedRecords() []model.Record {
	var out []model.Record
	for _, id := range w.doc.Selection() {
		if r := w.circuit().Record(id); r != nil {
			out = append(out, r)
		}
	}
	return out
}

// shownStep gives the step whose line-up the drawing shows, or nil.
func (w *Window) shownStep() *model.Step {
	if w.stepID == "" {
		return nil
	}
	return w.circuit().Step(w.stepID)
}

// showStep shows the line-up of a step; none for an empty id.
func (w *Window) showStep(id model.ID) {
	if w.stepID == id {
		return
	}
	w.stepID = id
	w.lineUpChanged()
	w.washChanged(0)
	w.player.stepShown()
	w.steps.refresh()
	w.steps.showRow()
	w.props.refresh()
	w.refreshMenu()
	w.events.tell("step", map[string]any{"id": string(id)})
}

func (w *Window) lineUpChanged() {
	w.lines = lineUpOf(w.circuit(), w.cat, w.shownStep())
	w.upkeep.changed(false)
	w.solve(0)
	w.heights.looked()
	w.tools.refresh()
	w.board.repaint()
}

// overlayOpen says whether a dialog or a list lies over the window.
func (w *Window) overlayOpen() bool { return w.win.Canvas().Overlays().Top() != nil }

func (w *Window) focus(f fyne.Focusable) { w.win.Canvas().Focus(f) }

func (w *Window) focusBoard() { w.win.Canvas().Focus(w.board) }
