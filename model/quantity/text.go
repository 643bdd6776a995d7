package quantity

import (
	"fmt"
	"math"
	"reflect"
	"regexp"
	"strconv"
	"strings"
)

// Text gives v with its unit under s, rounded to three significant figures or
// whole numbers above 1000: "10.6 m³/h".
func Text[T ~float64](v T, s System) string { return withUnit(DisplayUnit[T](s), float64(v)) }

func withUnit(u Unit, si float64) string {
	n := Number(u.FromSI(si))
	if u.Name == "" {
		return n
	}
	return n + " " + u.Name
}

// OptText is Text, or "unknown".
func OptText[T ~float64](v Opt[T], s System) string {
	if x, ok := v.Get(); ok {
		return Text(x, s)
	}
	return "unknown"
}

// Number writes x to three significant figures without an exponent, and whole
// from 1000 on; trailing zeros go.
func Number(x float64) string {
	if math.IsNaN(x) {
		return "unknown"
	}
	if math.IsInf(x, 0) {
		return "without limit"
	}
	a := math.Abs(x)
	if a < 1e-9 {
		return "0"
	}
	digits := 2 - int(math.Floor(math.Log10(a)))
	if digits < 0 {
		digits = 0
	}
	t := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.Contains(t, ".") {
		t = strings.TrimRight(strings.TrimRight(t, "0"), ".")
	}
	if t == "-0" {
		t = "0"
	}
	return t
}

// Parse reads what a user typed as a value of type t (a quantity type), in the
// unit shown under s or followed by any unit of either system ("2 in", "50 mm",
// "180 °F"). A decimal comma is taken as a point; under US a number that could be
// one with thousands parted by commas is refused. It gives the SI value.
func Parse(text string, t reflect.Type, s System) (float64, error) {
	all, ok := bySort[t]
	if !ok {
		return 0, fmt.Errorf("not a quantity: %s", t)
	}
	shown, _ := UnitOf(t, s)
	return ParseIn(text, s, shown, append([]Unit{all.metric, all.us, all.file}, alsoRead[t]...)...)
}

// ParseIn is [Parse] for what has no type of its own: a number in the unit that is
// shown, or followed by the name or key of one of some units. Of those the first
// two are named in an error.
func ParseIn(text string, s System, shown Unit, units ...Unit) (float64, error) {
	wanted := "a number"
	if shown.Name != "" {
		wanted += " in " + strings.TrimSpace(shown.Name)
	}
	number, name := splitUnit(text)
	if number == "" {
		return 0, fmt.Errorf("expected %s", wanted)
	}
	if s == US && thousands.MatchString(number) {
		return 0, fmt.Errorf("%q may mean a thousand or a point; write %s or %s", number, strings.ReplaceAll(number, ",", ""), strings.Replace(number, ",", ".", 1))
	}
	x, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return 0, fmt.Errorf("%q is not a number; expected %s", strings.TrimSpace(text), wanted)
	}
	if name == "" {
		return shown.ToSI(x), nil
	}
	for _, u := range units {
		if sameUnit(name, u.Name) || sameUnit(name, u.Key) {
			return u.ToSI(x), nil
		}
	}
	use := ""
	for i, u := range units[:min(2, len(units))] {
		if u.Name == "" || i > 0 && u.Name == units[0].Name {
			continue
		}
		if use != "" {
			use += " or "
		}
		use += strings.TrimSpace(u.Name)
	}
	if use == "" {
		return 0, fmt.Errorf("%q is not a unit for this; it has none", name)
	}
	return 0, fmt.Errorf("%q is not a unit for this; use %s", name, use)
}

// thousands is how readers of US units part thousands; elsewhere the comma is
// that of a decimal.
var thousands = regexp.MustCompile(`^[-+]?[0-9]{1,3}(,[0-9]{3})+(\.[0-9]*)?$`)

func splitUnit(text string) (number, unit string) {
	text = strings.TrimSpace(text)
	i := strings.IndexFunc(text, func(r rune) bool {
		return !strings.ContainsRune("0123456789.,+-eE", r)
	})
	if i < 0 {
		return text, ""
	}
	return text[:i], strings.TrimSpace(text[i:])
}

func sameUnit(a, b string) bool {
	plain := strings.NewReplacer("³", "3", "²", "2", "°", "", "/", "", "·", "", " ", "")
	return strings.EqualFold(plain.Replace(a), plain.Replace(b))
}
