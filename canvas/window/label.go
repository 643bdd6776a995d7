package window

import (
	"fmt"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// caption is how a property is shown where no kind tells it.
type caption struct{ label, help string }

// captions are of runs, of steps, and of what every part has.
var captions = map[string]caption{
	"elevation_m":   {"Elevation", "Height of the part's reference point above the plant's zero. Draining and pump suction need it."},
	"size":          {"Tube size", "A size of a published tube table; it gives the inside diameter."},
	"elbows":        {"Elbows (90°)", "How many bends of the tube the run has. They add to the pressure drop."},
	"carries":       {"Carries", "Medium by which the run is coloured when no step says what flows."},
	"purpose":       {"Purpose", "What the step is for."},
	"medium":        {"Medium", "What is sent through the circuit."},
	"strength_pct":  {"Strength", "Share of the cleaning agent by mass."},
	"temperature_C": {"Temperature", "Of the liquid as it should arrive at the return."},
	"flow_m3h":      {"Flow", "Flow of the supply in this step."},
	"time_min":      {"Time", "How long the step lasts, counted from what Timer from says."},

	"chemical":              {"Chemical", "Agent that the strength is of. Unknown: sodium hydroxide for alkali, nitric acid for acid, peracetic acid for disinfectant."},
	"pump_speed_pct":        {"Pump speed", "Of the rated speed, where no flow is asked."},
	"optional":              {"Optional", "Whether the step is not done every time."},
	"timer_from":            {"Timer from", "When the time begins to count: at once, or when the return has the temperature or the strength of the step."},
	"end_conductivity_mScm": {"Return conductivity", "Risen to this by a chemical, fallen to it by any other medium."},
	"end_temperature_C":     {"Return temperature", "The return has come to this."},
	"end_volume_L":          {"Volume sent", "So much has been sent."},
	"longest_min":           {"Longest", "Ends the step in any case. What ends it by then is a fault to be looked into."},
}

// captionOf tells how a property of a record is shown.
func captionOf(r model.Record, key string, cat *catalogue.Catalogue) caption {
	if p, ok := r.(model.Part); ok {
		if k := cat.Kind(p.Meta().Kind); k != nil {
			if info, ok := k.Property(key); ok {
				return caption{info.Label, info.Help}
			}
		}
	}
	if c, ok := captions[key]; ok {
		return c
	}
	return caption{keyWords(key), ""}
}

// keyWords makes words of a key: "set_bar" gives "Set".
func keyWords(key string) string {
	parts := strings.Split(key, "_")
	if n := len(parts); n > 1 {
		switch parts[n-1] {
		case "m", "mm", "m2", "L", "m3h", "bar", "C", "pct", "kW", "min", "Wm2K", "rpm":
			parts = parts[:n-1]
		}
	}
	return sentence(strings.Join(parts, " "))
}

// nameOf is how a record is called in a sentence: its tag, or what it is.
func nameOf(r model.Record, cat *catalogue.Catalogue) string {
	switch r := r.(type) {
	case model.Part:
		m := r.Meta()
		if m.Tag != "" {
			return m.Tag
		}
		return titleOf(r, cat) + ", no tag"
	case *model.Run:
		if r.Tag != "" {
			return r.Tag
		}
		return "a run"
	case *model.Step:
		return "step " + stepName(r)
	}
	return "the circuit"
}

func titleOf(p model.Part, cat *catalogue.Catalogue) string {
	if k := cat.Kind(p.Meta().Kind); k != nil {
		return k.Title
	}
	return sentence(strings.ReplaceAll(p.Meta().Kind, "-", " "))
}

// stepName is a step's name, or its purpose.
func stepName(s *model.Step) string {
	if s.Name != "" {
		return s.Name
	}
	if p, ok := s.Purpose.Get(); ok {
		return sentence(plainWords(string(p)))
	}
	return "without a name"
}

// stepLabel numbers a step within its programme and names the programme where
// there are several.
func stepLabel(c *model.Circuit, s *model.Step) string {
	n, several := 0, false
	for _, o := range c.Steps() {
		if o.Programme != s.Programme {
			several = true
		} else if o.Order < s.Order || o.Order == s.Order && o.ID <= s.ID {
			n++
		}
	}
	text := fmt.Sprintf("%d  %s", n, stepName(s))
	if several && s.Programme != "" {
		text = s.Programme + ", " + text
	}
	return text
}

// unitName is the unit in which a property is shown; empty if it has none.
func unitName(p model.Property, s quantity.System) string {
	if u, ok := quantity.UnitOf(p.Type, s); ok {
		return u.Name
	}
	return ""
}

// whatIs says what sort of thing a record is.
func (w *Window) whatIs(r model.Record) string {
	switch r := r.(type) {
	case model.Part:
		return titleOf(r, w.cat)
	case *model.Run:
		return "Pipe run, " + w.props.endName(r.From) + " to " + w.props.endName(r.To)
	case *model.Step:
		return "Step"
	}
	return ""
}
