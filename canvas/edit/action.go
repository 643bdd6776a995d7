package edit

import "rinsewright/model"

// Action is a command of the editor, for menus and keys.
type Action struct {
	Name     string // "turn-right"
	Label    string // as in a menu: "Turn right"
	Shortcut string // as in a menu: "Ctrl+Z"; empty: none
	Enabled  func(*Document) bool
	Do       func(*Document) error

	title func(*Document) string
}

// Title gives the label for the present state: "Undo move V-12".
func (a Action) Title(d *Document) string {
	if a.title != nil {
		return a.title(d)
	}
	return a.Label
}

// Run does the action if it is enabled.
func (a Action) Run(d *Document) error {
	if !a.Enabled(d) {
		return nil
	}
	return a.Do(d)
}

// FarNudge is how many grid steps Shift with an arrow key moves.
const FarNudge = 4

// Actions lists all commands in the order of the menu.
func Actions() []Action {
	list := []Action{
		{Name: "undo", Label: "Undo", Shortcut: "Ctrl+Z", Enabled: (*Document).CanUndo, title: (*Document).UndoLabel,
			Do: func(d *Document) error { d.Undo(); return nil }},
		{Name: "redo", Label: "Redo", Shortcut: "Ctrl+Y", Enabled: (*Document).CanRedo, title: (*Document).RedoLabel,
			Do: func(d *Document) error { d.Redo(); return nil }},
		{Name: "cut", Label: "Cut", Shortcut: "Ctrl+X", Enabled: anySelected, Do: (*Document).Cut},
		{Name: "copy", Label: "Copy", Shortcut: "Ctrl+C", Enabled: anySelected,
			Do: func(d *Document) error { d.Copy(); return nil }},
		{Name: "paste", Label: "Paste", Shortcut: "Ctrl+V", Do: (*Document).Paste,
			Enabled: func(d *Document) bool { return !d.clip.Empty() }},
		{Name: "duplicate", Label: "Duplicate", Shortcut: "Ctrl+D", Enabled: partSelected, Do: (*Document).Duplicate},
		{Name: "delete", Label: "Delete", Shortcut: "Delete", Enabled: anySelected,
			Do: func(d *Document) error { return d.Apply(d.drawing.Delete(d.selection)) }},
		{Name: "select-all", Label: "Select all", Shortcut: "Ctrl+A", Enabled: func(d *Document) bool { return len(d.Circuit().Parts())+len(d.Circuit().Runs()) > 0 },
			Do: func(d *Document) error { d.SelectAll(); return nil }},
		{Name: "select-none", Label: "Select nothing", Enabled: anySelected,
			Do: func(d *Document) error { d.Select(); return nil }},
		{Name: "select-next", Label: "Select the next part", Shortcut: "Tab", Enabled: anyPart,
			Do: func(d *Document) error { d.selectNeighbour(1); return nil }},
		{Name: "select-previous", Label: "Select the part before", Shortcut: "Shift+Tab", Enabled: anyPart,
			Do: func(d *Document) error { d.selectNeighbour(-1); return nil }},
		{Name: "connect", Label: "Connect the two parts", Enabled: twoPartsSelected, Do: (*Document).connectSelected},
		align("align-left", "Align left sides", EdgeLeft), align("align-centre", "Align upright, by the middle", EdgeCentre),
		align("align-right", "Align right sides", EdgeRight), align("align-top", "Align upper sides", EdgeTop),
		align("align-middle", "Align level, by the middle", EdgeMiddle), align("align-bottom", "Align lower sides", EdgeBottom),
		{Name: "distribute-level", Label: "Same gaps from left to right", Enabled: threeSelected,
			Do: func(d *Document) error { return d.Apply(d.drawing.Distribute(d.selection, true)) }},
		{Name: "distribute-upright", Label: "Same gaps from top to bottom", Enabled: threeSelected,
			Do: func(d *Document) error { return d.Apply(d.drawing.Distribute(d.selection, false)) }},
		{Name: "turn-right", Label: "Turn right", Shortcut: "R", Enabled: partSelected,
			Do: func(d *Document) error { return d.Apply(d.drawing.Turn(d.selection, 1)) }},
		{Name: "turn-left", Label: "Turn left", Shortcut: "Shift+R", Enabled: partSelected,
			Do: func(d *Document) error { return d.Apply(d.drawing.Turn(d.selection, -1)) }},
		{Name: "mirror", Label: "Mirror", Shortcut: "M", Enabled: partSelected,
			Do: func(d *Document) error { return d.Apply(d.drawing.Mirror(d.selection)) }},
		{Name: "upset", Label: "Turn upside down", Shortcut: "Shift+M", Enabled: partSelected,
			Do: func(d *Document) error { return d.Apply(d.drawing.Upset(d.selection)) }},
		{Name: "free-labels", Label: "Let labels find their place", Enabled: labelled,
			Do: func(d *Document) error { return d.Apply(d.drawing.FreeLabels(d.selection)) }},
		{Name: "straighten", Label: "Take bends off", Enabled: bentSelected,
			Do: func(d *Document) error { return d.Apply(d.drawing.Straighten(d.selection)) }},
	}
	for _, way := range []struct {
		name string
		by   model.Point
	}{{"left", model.Point{X: -1}}, {"right", model.Point{X: 1}}, {"up", model.Point{Y: -1}}, {"down", model.Point{Y: 1}}} {
		list = append(list,
			nudge("nudge-"+way.name, "Nudge "+way.name, upperFirst(way.name), scaled(way.by, Grid)),
			nudge("nudge-far-"+way.name, "Nudge far "+way.name, "Shift+"+upperFirst(way.name), scaled(way.by, FarNudge*Grid)))
	}
	return list
}

// align brings what is selected to one side.
func align(name, label string, edge Edge) Action {
	return Action{Name: name, Label: label, Enabled: partsSelected, Do: func(d *Document) error {
		return d.Apply(d.drawing.Align(d.selection, edge))
	}}
}

// nudge moves what is selected; several in quick succession are one step.
func nudge(name, label, shortcut string, by model.Point) Action {
	return Action{Name: name, Label: label, Shortcut: shortcut, Enabled: anySelected, Do: func(d *Document) error {
		return d.ApplyTyped(d.drawing.Move(d.selection, by), "nudge")
	}}
}

// ActionNamed gives the action of a name.
func ActionNamed(name string) (Action, bool) {
	for _, a := range Actions() {
		if a.Name == name {
			return a, true
		}
	}
	return Action{}, false
}

func anySelected(d *Document) bool { return len(d.selection) > 0 }

func partSelected(d *Document) bool {
	for _, id := range d.selection {
		if d.Circuit().Part(id) != nil {
			return true
		}
	}
	return false
}

func anyPart(d *Document) bool { return len(d.Circuit().Parts()) > 0 }

func partsSelected(d *Document) bool { return len(d.selectedParts()) > 1 }

func threeSelected(d *Document) bool { return len(d.selectedParts()) > 2 }

func twoPartsSelected(d *Document) bool { return len(d.selectedParts()) == 2 }

// selectedParts gives the parts among what is selected, in the order of it.
func (d *Document) selectedParts() []model.Part {
	var out []model.Part
	for _, id := range d.selection {
		if p := d.Circuit().Part(id); p != nil {
			out = append(out, p)
		}
	}
	return out
}

func bentSelected(d *Document) bool {
	for _, id := range d.selection {
		if r := d.Circuit().Run(id); r != nil && len(r.Bends) > 0 {
			return true
		}
	}
	return false
}

// key does the command of a plain key while no gesture is under way.
func (e *Editor) key(ev Event) {
	name := map[string]string{
		KeyTab: "select-next", KeyEscape: "select-none", KeyDelete: "delete", KeyBackspace: "delete", KeyTurn: "turn-right", KeyMirror: "mirror",
		KeyLeft: "nudge-left", KeyRight: "nudge-right", KeyUp: "nudge-up", KeyDown: "nudge-down",
	}[ev.Key]
	if ev.Modifiers.Shift {
		switch ev.Key {
		case KeyLeft, KeyRight, KeyUp, KeyDown:
			name = "nudge-far-" + ev.Key
		case KeyTurn:
			name = "turn-left"
		case KeyMirror:
			name = "upset"
		case KeyTab:
			name = "select-previous"
		}
	}
	a, ok := ActionNamed(name)
	if !ok {
		return
	}
	e.busy = true
	err := a.Run(e.doc)
	e.busy = false
	if err != nil {
		e.message = upperFirst(err.Error())
	}
}
