package window

import (
	"errors"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/quantity"
)

// balanceForm asks which flow the branches of some valves are to pass.
type balanceForm struct {
	on     *Window
	root   *fyne.Container
	valves []model.ID
	fields []*fieldEntry // by valve
	ask    func()
}

func newBalanceForm(on *Window, ask func()) *balanceForm {
	return &balanceForm{on: on, ask: ask, root: container.NewVBox()}
}

// mostBalanced is how many valves are offered without scrolling.
const mostBalanced = 6

// fill offers the valves through which a share of the flow goes.
func (f *balanceForm) fill() {
	f.valves, f.fields = nil, nil
	f.root.RemoveAll()
	w := f.on
	if w.solution == nil {
		return
	}
	rows := container.NewVBox()
	for _, id := range w.branchValves() {
		e := newAskEntry(w, f.ask)
		e.PlaceHolder = "now " + w.flowNow(id)
		f.valves, f.fields = append(f.valves, id), append(f.fields, e)
		rows.Add(newFieldRow(nameOf(w.circuit().Record(id), w.cat), quantity.DisplayUnit[quantity.Flow](w.system).Name, e).box)
	}
	if len(f.valves) == 0 {
		f.root.Add(plainText("In this step the flow does not divide, or no valve stands in a branch."))
		return
	}
	f.root.Add(plainText("The flow that the branch of each valve is to pass; what is left empty is not set."))
	if len(f.valves) <= mostBalanced {
		f.root.Add(rows)
		return
	}
	s := container.NewVScroll(rows)
	s.SetMinSize(fyne.NewSize(0, 220))
	f.root.Add(s)
}

func plainText(text string) *widget.Label {
	l := quiet(text)
	l.Wrapping = fyne.TextWrapWord
	l.SizeName = theme.SizeNameCaptionText
	return l
}

// branchValves lists the valves that pass some of the flow and not all of it.
func (w *Window) branchValves() []model.ID {
	s := w.solution
	var out []model.ID
	for _, part := range movable(w.circuit(), w.cat) {
		if part.Class() != model.ClassValve {
			continue
		}
		for _, e := range s.Plant.PartEdges(part.RecordID()) {
			if q, ok := s.Edges[e].Flow.Get(); ok && q != 0 && s.Route.InFlow[e] && !s.Route.Whole[e] {
				out = append(out, part.RecordID())
				break
			}
		}
	}
	return out
}

// flowNow tells the greatest flow through a part as it was solved.
func (w *Window) flowNow(id model.ID) string {
	best := quantity.Flow(0)
	for _, e := range w.edgesOf(id) {
		q := w.solution.Edges[e].Flow.Or(0)
		best = max(best, q, -q)
	}
	return quantity.Text(best, w.system)
}

// answered tells how the valves and their pump are to be set, and offers to enter
// the Kv of the valves.
func (f *balanceForm) answered(d *designForm) (string, error) {
	w := f.on
	var wants []flow.Want
	for i, e := range f.fields {
		if strings.TrimSpace(e.Text) == "" {
			continue
		}
		q, err := positive[quantity.Flow](e.Text, nameOf(w.circuit().Record(f.valves[i]), w.cat), w.system)
		if err != nil {
			return "", err
		}
		wants = append(wants, flow.Want{Valve: f.valves[i], Flow: q})
	}
	if len(wants) == 0 {
		return "", errors.New("say the flow of at least one branch")
	}
	b, err := w.solution.BalanceBy(wants)
	if err != nil {
		return "", err
	}
	var lines []string
	var set []flow.Setting
	for _, x := range b.Settings {
		name := nameOf(w.circuit().Record(x.Valve), w.cat)
		kv, ok := x.Kv.Get()
		if !ok {
			lines = append(lines, fmt.Sprintf("%s cannot pass %s: its branch lacks %s of head.", name, quantity.Text(x.Flow, w.system), quantity.Text(max(-x.Drop, 0), w.system)))
			continue
		}
		lines = append(lines, fmt.Sprintf("%s throttled to %s passes %s and takes %s of head.", name, quantity.Text(kv, w.system), quantity.Text(x.Flow, w.system), quantity.Text(x.Drop, w.system)))
		if _, has := model.FindProperty(w.circuit().Record(x.Valve), "kv_m3h"); has {
			set = append(set, x)
		}
	}
	if speed, ok := b.Speed.Get(); ok && b.Pump != "" {
		lines = append(lines, fmt.Sprintf("%s then runs at %.0f %% of its rated speed.", nameOf(w.circuit().Record(b.Pump), w.cat), 100*float64(speed)))
	}
	if len(set) > 0 && len(set) == len(b.Settings) {
		d.give.SetText("Enter the Kv of " + plural(len(set), "valve"))
		d.edit = func() (model.Edit, error) { return w.kvEdit(set) }
	}
	return strings.Join(lines, "\n"), nil
}

// kvEdit enters the Kv of valves as one edit.
func (w *Window) kvEdit(set []flow.Setting) (model.Edit, error) {
	out := model.Edit{Label: "Set Kv of " + plural(len(set), "valve")}
	for _, x := range set {
		old, ok := w.circuit().Part(x.Valve).(*model.Valve)
		if !ok {
			continue
		}
		next := model.Clone(old)
		next.Kv = x.Kv
		out.Changes = append(out.Changes, model.Replacing(old, next))
	}
	return out, nil
}
