package window

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

const unknownWord = "unknown"

// choiceField is a select whose first entry makes the value unknown.
type choiceField struct {
	widget.Select
	values   []string // as in the file, beside Options
	quietly  bool
	onCommit func(value string) error
	onFocus  func(bool)
	onKey    func(fyne.KeyName) bool // function keys; nil: none
	problem  func(error)
	words    func(string) string
}

// newChoiceField offers values; words gives how each is shown, nil stands for
// the value with its hyphens taken out.
func newChoiceField(values []string, optional bool, words func(string) string, onCommit func(string) error) *choiceField {
	if words == nil {
		words = plainWords
	}
	c := &choiceField{onCommit: onCommit, words: words}
	if optional {
		c.values = append(c.values, "")
		c.Options = append(c.Options, unknownWord)
	}
	for _, v := range values {
		c.values = append(c.values, v)
		c.Options = append(c.Options, words(v))
	}
	c.PlaceHolder = unknownWord
	c.OnChanged = func(string) {
		if c.quietly || c.onCommit == nil {
			return
		}
		if i := c.SelectedIndex(); i >= 0 {
			err := c.onCommit(c.values[i])
			if c.problem != nil {
				c.problem(err)
			}
		}
	}
	c.ExtendBaseWidget(c)
	return c
}

// setShown shows the value that the circuit holds; mixed stands for several.
func (c *choiceField) setShown(value string, mixed bool) {
	c.quietly = true
	defer func() { c.quietly = false }()
	c.reword()
	if mixed {
		c.PlaceHolder = "several values"
		c.ClearSelected()
		return
	}
	c.PlaceHolder = unknownWord
	for i, v := range c.values {
		if v == value && v != "" {
			if c.SelectedIndex() != i {
				c.SetSelectedIndex(i)
			}
			return
		}
	}
	c.ClearSelected()
}

// reword writes the choices anew: what is joined to a valve may have changed.
func (c *choiceField) reword() {
	for i, v := range c.values {
		if v == "" {
			continue
		}
		if text := c.words(v); text != c.Options[i] {
			if c.Selected == c.Options[i] {
				c.Selected = text
			}
			c.Options[i] = text
			c.Refresh()
		}
	}
}

func (c *choiceField) TypedKey(e *fyne.KeyEvent) {
	if c.onKey == nil || !c.onKey(e.Name) {
		c.Select.TypedKey(e)
	}
}

func (c *choiceField) FocusGained() {
	c.Select.FocusGained()
	if c.onFocus != nil {
		c.onFocus(true)
	}
}

func (c *choiceField) FocusLost() {
	c.Select.FocusLost()
	if c.onFocus != nil {
		c.onFocus(false)
	}
}

// Tapped tells the help line too: a click opens the list without focusing.
func (c *choiceField) Tapped(e *fyne.PointEvent) {
	if c.onFocus != nil {
		c.onFocus(true)
	}
	c.Select.Tapped(e)
}

// plainWords shows a value of the file as words.
func plainWords(v string) string {
	switch v {
	case "dished-din-28011":
		return "dished, DIN 28011"
	case "dished-din-28013":
		return "dished, DIN 28013"
	}
	return strings.ReplaceAll(v, "-", " ")
}
