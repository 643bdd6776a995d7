package edit

import (
	"math"
	"strconv"
	"strings"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// condition is one asked of a property: key, sign, value.
type condition struct {
	key, sign, value string
}

// signs of conditions; of two that begin alike the longer comes first.
var signs = []string{"!=", "<=", ">=", "=", "<", ">"}

// parsed parts a text that is searched for into conditions and the other words.
// A value with blanks stands in quotes: size="EN 10357-A DN50".
func parsed(text string) (rest string, conditions []condition) {
	var words []string
	for _, word := range wordsOf(text) {
		if c, ok := conditionOf(word); ok {
			conditions = append(conditions, c)
		} else {
			words = append(words, strings.Trim(word, `"`))
		}
	}
	return strings.Join(words, " "), conditions
}

// wordsOf parts a text at blanks outside quotes.
func wordsOf(text string) []string {
	var out []string
	word, quoted := "", false
	for _, r := range text + " " {
		if r == '"' {
			quoted = !quoted
		}
		if r != ' ' || quoted {
			word += string(r)
			continue
		}
		if word != "" {
			out = append(out, word)
		}
		word = ""
	}
	if word != "" {
		out = append(out, strings.TrimSpace(word)) // the quote is still open
	}
	return out
}

func conditionOf(word string) (condition, bool) {
	first := strings.IndexAny(word, "!<>=")
	if first <= 0 {
		return condition{}, false
	}
	for _, sign := range signs {
		if value, ok := strings.CutPrefix(word[first:], sign); ok {
			return condition{bareKey(word[:first]), sign, strings.ToLower(strings.Trim(value, `"`))}, true
		}
	}
	return condition{}, false
}

// bareKey makes keys and labels comparable: small letters without blanks and signs
// between words.
func bareKey(key string) string {
	return strings.NewReplacer(" ", "", "_", "", "-", "").Replace(strings.ToLower(key))
}

// holds says whether a record has what a condition asks.
func (d *Drawing) holds(r model.Record, c condition, system quantity.System) bool {
	if text, ok := d.whatItIs(r, c.key); ok {
		return compared(text, c)
	}
	p, ok := d.propertyNamed(r, c.key)
	if !ok {
		return false
	}
	if c.value == "" { // whether it is entered
		if part, isPart := r.(model.Part); isPart {
			if k := d.kindOf(part); k != nil {
				if _, ok := k.Property(p.Key); !ok {
					return false // the kind has no such thing, so it is not missing
				}
			}
		}
		_, known := p.Value(r)
		return known == (c.sign == "!=") && (c.sign == "=" || c.sign == "!=")
	}
	text := p.Text(r, system)
	if text == "" {
		return false // unknown is neither alike nor unlike
	}
	return compared(text, c)
}

// whatItIs answers the keys that are no properties.
func (d *Drawing) whatItIs(r model.Record, key string) (string, bool) {
	_, isRun := r.(*model.Run)
	part, isPart := r.(model.Part)
	yes := map[bool]string{true: "yes", false: "no"}
	switch key {
	case "run":
		return yes[isRun], true
	case "part":
		return yes[isPart], true
	case "tag", "note":
		return d.Text(r.RecordID(), key, quantity.Metric), true
	case "class":
		if isPart {
			return string(part.Class()), true
		}
		return d.what(r), true
	case "kind":
		if !isPart {
			return d.what(r), true
		}
		if k := d.kindOf(part); k != nil {
			return k.Name + " " + k.Title, true
		}
		return part.Meta().Kind, true
	}
	return "", false
}

// propertyNamed finds the property of a record that a user means: by its key,
// the key without its unit, or its label.
func (d *Drawing) propertyNamed(r model.Record, name string) (model.Property, bool) {
	for _, p := range model.Properties(r) {
		key := p.Key
		if bareKey(key) == name || bareKey(d.Label(r, key)) == name {
			return p, true
		}
		if u, ok := quantity.FileUnit(p.Type); ok && bareKey(strings.TrimSuffix(key, "_"+u.Key)) == name {
			return p, true
		}
	}
	return model.Property{}, false
}

// compared says whether a text stands to a value as a condition asks: numbers by
// their size, words alike if the text holds the value.
func compared(text string, c condition) bool {
	text = strings.ToLower(text)
	x, errX := strconv.ParseFloat(text, 64)
	y, errY := strconv.ParseFloat(c.value, 64)
	if errX != nil || errY != nil {
		switch c.sign {
		case "=":
			return text == c.value || c.value != "" && strings.Contains(text, c.value)
		case "!=":
			return text != c.value && (c.value == "" || !strings.Contains(text, c.value))
		}
		return false // words are neither more nor less
	}
	const near = 1e-9
	alike := math.Abs(x-y) <= near*max(math.Abs(x), math.Abs(y), 1)
	switch c.sign {
	case "=":
		return alike
	case "!=":
		return !alike
	case "<":
		return x < y && !alike
	case "<=":
		return x < y || alike
	case ">":
		return x > y && !alike
	}
	return x > y || alike
}
