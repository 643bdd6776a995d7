package sizing

import (
	"slices"

	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// term is something that a line is computed from: a figure that was told, an
// assumption, or another line.
type term struct {
	label   string
	value   Value
	basis   Basis
	missing []string // where the value is not known
}

// told gives what was told of an object; missing where it was not.
func told[T ~float64](label, of string, v quantity.Opt[T]) term {
	t := term{label: label, value: Maybe(v)}
	if !t.value.Known() {
		t.missing = []string{label + " of " + of}
	}
	return t
}

// calc makes the lines of a sheet.
type calc struct {
	p       *Project
	cat     *catalogue.Catalogue
	tubes   []catalogue.Tube // of the series
	section string
	sheet   *Sheet
	given   map[string]Assumption
}

// assume gives the assumption of a key.
func (c *calc) assume(key string) term {
	a, ok := c.given[key]
	if !ok {
		panic("sizing: there is no assumption " + key)
	}
	return term{label: lowerFirst(a.Label), value: a.Value, basis: a.Basis}
}

// si gives the number of an assumption.
func (c *calc) si(key string) float64 { return c.assume(key).value.si }

// result says what a line is.
type result struct {
	key, of, label, formula string
	basis                   Basis
	in                      []term
}

var computed = Basis{Standing: StandingComputed}

// line adds a result. compute gets the numbers of the terms in SI; it is not called
// where one of them is not known, and the result then is not known either. An error
// leaves the result unknown and tells why.
func (c *calc) line(r result, compute func(x []float64) (Value, error)) term {
	if r.basis == (Basis{}) {
		r.basis = computed
	}
	l := Line{Section: c.section, Key: r.key, Of: r.of, Label: r.label, Formula: r.formula, Basis: r.basis}
	var x []float64
	for _, t := range r.in {
		l.Inputs = append(l.Inputs, Input{t.label, t.value, t.basis})
		x = append(x, t.value.si)
		if !t.value.Known() {
			for _, m := range t.missing {
				if !slices.Contains(l.Missing, m) {
					l.Missing = append(l.Missing, m)
				}
			}
			if len(t.missing) == 0 {
				l.Missing = append(l.Missing, t.label)
			}
		}
	}
	if len(l.Missing) == 0 {
		v, err := compute(x)
		if err != nil {
			l.Why = err.Error()
			l.Missing = nil
		} else {
			l.Value = v
		}
	}
	c.sheet.Lines = append(c.sheet.Lines, l)
	out := term{label: lowerFirst(r.label), value: l.Value, missing: l.Missing}
	if r.of != "" && r.of != r.label {
		out.label += " of " + r.of
	}
	if !l.Value.Known() && len(out.missing) == 0 {
		out.missing = []string{out.label + " (" + l.Why + ")"}
	}
	return out
}

// why tells what to look out for with the last line.
func (c *calc) why(text string) { c.sheet.Lines[len(c.sheet.Lines)-1].Why = text }

// most gives the largest of some lines; not known while one is not.
func (c *calc) most(r result) term {
	return c.line(r, func(x []float64) (Value, error) {
		at := 0
		for i := range x {
			if x[i] > x[at] {
				at = i
			}
		}
		return r.in[at].value, nil
	})
}

// sum adds lines up.
func (c *calc) sum(r result) term {
	return c.line(r, func(x []float64) (Value, error) {
		v := r.in[0].value
		v.si = 0
		for _, t := range x {
			v.si += t
		}
		return v, nil
	})
}

func lowerFirst(s string) string {
	if len(s) < 2 || s[1] >= 'A' && s[1] <= 'Z' {
		return s
	}
	if s[0] >= 'A' && s[0] <= 'Z' {
		return string(s[0]+'a'-'A') + s[1:]
	}
	return s
}
