package edit

import (
	"fmt"
	"strings"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// StretchesText writes the stretches of a run on one line as SetStretches reads
// them: "5 / -0.05; 2 / 0" is five metres that fall 5 cm and then two level ones. What
// is unknown is a question mark. Empty for a run without stretches.
func StretchesText(r *model.Run, system quantity.System) string {
	var out []string
	for _, s := range r.Stretches {
		one := func(key string) string {
			if t := StretchText(s, key, system); t != "" {
				return t
			}
			return "?"
		}
		out = append(out, one("length_m")+" / "+one("rise_m"))
	}
	return strings.Join(out, "; ")
}

// SetStretches makes the stretches of runs what a user typed on one line: length and
// rise of each, parted by a stroke, the stretches by semicolons. A length alone has
// an unknown rise. Empty text takes all stretches out. A *[PropertyError] tells what
// is wrong.
func (d *Drawing) SetStretches(runs []model.ID, text string, system quantity.System) (model.Edit, error) {
	stretches, err := d.typedStretches(text, system)
	if err != nil {
		return model.Edit{}, &PropertyError{Key: "stretches", Label: "Stretches", Message: err.Error()}
	}
	f := d.draft()
	for _, id := range runs {
		r := d.circuit.Run(id)
		if r == nil {
			return model.Edit{}, fmt.Errorf("there is no run %s", id)
		}
		next := model.Clone(r)
		next.Stretches = append([]model.Stretch(nil), stretches...)
		f.put(next)
	}
	return f.edit("set the stretches of " + d.allNames(runs)), nil
}

func (d *Drawing) typedStretches(text string, system quantity.System) ([]model.Stretch, error) {
	if strings.TrimSpace(text) == "" {
		return nil, nil
	}
	var out []model.Stretch
	for i, piece := range strings.Split(text, ";") {
		words := strings.Split(piece, "/")
		if len(words) > 2 || strings.TrimSpace(words[0]) == "" {
			return nil, fmt.Errorf("stretch %d: write its length and rise with a stroke between, as 5 / -0.05; further stretches follow after a semicolon", i+1)
		}
		var s model.Stretch
		for k, word := range words {
			if word = strings.TrimSpace(word); word == "?" {
				continue
			}
			key, field := "length_m", &s.Length
			if k == 1 {
				key, field = "rise_m", &s.Rise
			}
			v, err := d.typedLength(key, word, system)
			if err != nil {
				return nil, fmt.Errorf("stretch %d, %s: %w", i+1, strings.TrimSuffix(key, "_m"), err)
			}
			*field = v
		}
		length, told := s.Length.Get()
		if rise, ok := s.Rise.Get(); ok && told && (rise > length || -rise > length) {
			return nil, fmt.Errorf("stretch %d: it rises by more than it is long", i+1)
		}
		out = append(out, s)
	}
	return out, nil
}
