package window

import (
	"fmt"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// Signs of marks: a square, a diamond, a capsule and a shield, as on paper. Those
// that are settled are hollow.
var markIcons = map[model.MarkClass][2]fyne.Resource{
	model.MarkMust:     markIcon("must", `M3 3 H21 V21 H3 Z`, `M5 5 V19 H19 V5 Z`),
	model.MarkShould:   markIcon("should", `M12 0.5 L23.5 12 L12 23.5 L0.5 12 Z`, `M12 3.4 L3.4 12 L12 20.6 L20.6 12 Z`),
	model.MarkQuestion: markIcon("question", `M8 4 H16 C20.4 4 24 7.6 24 12 C24 16.4 20.4 20 16 20 H8 C3.6 20 0 16.4 0 12 C0 7.6 3.6 4 8 4 Z`, `M8 6 C4.7 6 2 8.7 2 12 C2 15.3 4.7 18 8 18 H16 C19.3 18 22 15.3 22 12 C22 8.7 19.3 6 16 6 Z`),
	model.MarkPraise:   markIcon("praise", `M3 2 H21 V15 L12 23 L3 15 Z`, `M5 4 V14 L12 20.3 L19 14 V4 Z`),
}

func markIcon(name, outer, inner string) [2]fyne.Resource {
	return [2]fyne.Resource{
		svg("mark-"+name, `<path d="`+outer+`" fill="#000000"/>`, theme.ColorNamePrimary),
		svg("mark-"+name+"-settled", `<path d="`+outer+` `+inner+`" fill="#000000" fill-rule="evenodd"/>`, colorQuiet),
	}
}

func signOf(k *model.Mark) fyne.Resource {
	pair, ok := markIcons[k.Class]
	if !ok {
		pair = markIcons[model.MarkQuestion]
	}
	if settledMark(k) {
		return pair[1]
	}
	return pair[0]
}

func settledMark(k *model.Mark) bool {
	return k.State() == model.MarkDone || k.State() == model.MarkRejected
}

func markName(k *model.Mark) string { return fmt.Sprintf("M%d", k.Number) }

// markPlace tells where a mark sits.
func (w *Window) markPlace(k *model.Mark) string {
	switch p := k.Pin; {
	case w.circuit().Adrift(k) && p.Was != "":
		return "was on " + p.Was + ", which is gone"
	case w.circuit().Adrift(k):
		return "what it was on is gone"
	case p.On != "":
		return nameOf(w.circuit().Record(p.On), w.cat)
	case p.To != nil:
		return "an area"
	case p.At != nil:
		return "a place on the drawing"
	}
	return "the whole circuit"
}

// historyLine tells one line of a mark's history.
func historyLine(e model.Entry) string {
	when := string(e.At)
	if t, ok := e.At.Time(); ok {
		when = t.Local().Format("2006-01-02 15:04")
	}
	out := strings.TrimSpace(when + "  " + e.By)
	if s, ok := e.State.Get(); ok {
		out += ": " + string(s)
	}
	if e.Text != "" {
		out += "\n" + e.Text
	}
	return out
}

func entryNow(by string, state quantity.Opt[model.MarkState], text string) model.Entry {
	return model.Entry{At: model.MomentOf(time.Now()), By: by, State: state, Text: strings.TrimSpace(text)}
}
