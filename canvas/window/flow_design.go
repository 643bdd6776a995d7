package window

import (
	"fmt"
	"reflect"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
	"rinsewright/model/hydraulic"
	"rinsewright/model/quantity"
)

// questions of a design that the solved step can answer, in the order of the
// list.
var questions = []string{"Speed of the supply pump for a flow", "Head that the supply pump must add for a flow", "Smallest tube for a flow"}

// designForm asks for a flow and answers a question about it.
type designForm struct {
	on     *Window
	root   fyne.CanvasObject
	what   *pickList
	flow   *fieldEntry
	answer *widget.Label
	ask    *button
	give   *button // gives the tube that was found to what is selected
	found  model.TubeSize
}

func newDesignForm(on *Window) *designForm {
	d := &designForm{on: on, answer: widget.NewLabel("")}
	d.answer.Wrapping = fyne.TextWrapWord
	d.what = newPickList(on, questions, func(string) { d.answer.SetText("") })
	d.flow = newFieldEntry(func(string) error { return nil })
	d.flow.onKey = on.function
	d.ask = newButton(on, "Work out", theme.ConfirmIcon(), d.work)
	d.give = newButton(on, "Give it to the selected runs", theme.ConfirmIcon(), d.giveTube)
	d.give.Hide()
	d.root = container.NewVBox(heading("What would be needed"), d.what, container.NewBorder(nil, nil, nil, d.ask, d.flow), d.answer, d.give)
	return d
}

func (d *designForm) refresh() {
	d.flow.PlaceHolder = "flow, " + quantity.DisplayUnit[quantity.Flow](d.on.system).Name
	d.flow.Refresh()
	d.answer.SetText("")
	d.give.Hide()
}

func (d *designForm) work() {
	d.found = ""
	text, err := d.work1()
	if err != nil {
		text = sentence(err.Error())
	}
	d.answer.SetText(text)
	if d.found != "" && len(d.selectedRuns()) > 0 {
		d.give.Show()
	} else {
		d.give.Hide()
	}
	d.on.events.tell("answer", map[string]any{"text": text})
}

func (d *designForm) work1() (string, error) {
	s := d.on.solution
	if s == nil {
		return "", fmt.Errorf("choose a step whose flow is solved")
	}
	x, err := quantity.Parse(d.flow.Text, reflect.TypeFor[quantity.Flow](), d.on.system)
	if err != nil {
		return "", err
	}
	if x <= 0 {
		return "", fmt.Errorf("the flow must be above zero")
	}
	q := quantity.Flow(x)
	switch i := d.what.SelectedIndex(); i {
	case 0, 1:
		pump, ok := d.supplyPump()
		if !ok {
			return "", fmt.Errorf("no pump runs in this step")
		}
		name := nameOf(d.on.circuit().Record(pump), d.on.cat)
		if i == 1 {
			head, err := s.HeadFor(pump, q)
			if err != nil {
				return "", err
			}
			return fmt.Sprintf("%s must add %s for %s.", name, quantity.Text(head, d.on.system), quantity.Text(q, d.on.system)), nil
		}
		speed, err := s.SpeedFor(pump, q)
		if err != nil {
			return "", err
		}
		text := fmt.Sprintf("%s passes %s at %.0f %% of its rated speed.", name, quantity.Text(q, d.on.system), 100*float64(speed))
		if speed > 1 {
			text += " That is above its rated speed: take a larger pump, or ask its maker."
		}
		return text, nil
	case 2:
		return d.tube(q)
	}
	return "", fmt.Errorf("choose what is to be worked out")
}

// supplyPump gives the pump whose speed sets the flow, else the first that runs.
func (d *designForm) supplyPump() (model.ID, bool) {
	if id := d.on.solution.Supply.Pump; id != "" {
		return id, true
	}
	for _, p := range d.on.solution.Pumps {
		if p.Running {
			return p.Pump, true
		}
	}
	return "", false
}

// tube names the smallest tube of the series of the circuit that keeps the
// velocity below the limit of the profile, and says what it makes of the least.
func (d *designForm) tube(q quantity.Flow) (string, error) {
	var series model.TubeSize
	for _, r := range d.on.circuit().Runs() {
		if size, ok := r.Size.Get(); ok && d.on.lines.passes(r.ID) != passesNothing {
			series = size
			break
		}
	}
	if series == "" {
		return "", fmt.Errorf("no run that flows has a tube size; its series is not known")
	}
	most, _ := d.on.profile().Limit("velocity-most")
	least, _ := d.on.profile().Limit("velocity-least")
	tube, state, err := d.on.solution.TubeFor(q, hydraulic.Limits{MostVelocity: quantity.Velocity(most.Is())}, series)
	if err != nil {
		return "", err
	}
	d.found = tube.Size
	text := fmt.Sprintf("%s: %s in it, below %s.", tube.Size, quantity.Text(state.Velocity, d.on.system), most.Value.Text(d.on.system))
	if float64(state.Velocity) < least.Is() {
		text += fmt.Sprintf(" It is not swept: the least is %s.", least.Value.Text(d.on.system))
	}
	return text, nil
}

func (d *designForm) selectedRuns() []model.ID {
	var out []model.ID
	for _, id := range d.on.doc.Selection() {
		if d.on.circuit().Run(id) != nil {
			out = append(out, id)
		}
	}
	return out
}

// giveTube sets the tube that was found on the runs that are selected, as one
// edit.
func (d *designForm) giveTube() {
	d.on.try(d.on.drawing().SetProperty(d.selectedRuns(), "size", string(d.found), d.on.system))
}
