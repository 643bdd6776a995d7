package circuitfile

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"rinsewright/model"
)

// checker holds the values of a document against their shapes and collects what
// does not fit.
type checker struct {
	*document
	flaws []flaw
	path  []step
	at    int            // node of the record that is being looked at
	named string         // its label, once it was asked for
	of    int            // node of the record that has that label
	ids   map[string]int // node of each id
}

// step is one step of the path to a value: a key, or an index where key is empty.
type step struct {
	key   string
	index int
}

func (c *checker) full() bool { return len(c.flaws) >= maxFlaws }

func (c *checker) fault(n int, format string, args ...any) {
	if !c.full() {
		c.flaws = append(c.flaws, flaw{int(c.nodes[n].start), c.where(), fmt.Sprintf(format, args...)})
	}
}

// where puts the path in words: "parts[3] (V-12): seat_a_mm".
func (c *checker) where() string {
	var b strings.Builder
	for i, s := range c.path {
		switch {
		case s.key == "":
			fmt.Fprintf(&b, "[%d]", s.index)
			if i == 1 {
				b.WriteString(c.label())
			}
		case i == 0:
			b.WriteString(s.key)
		case i == 1 || i == 2:
			b.WriteString(": " + short(s.key))
		default:
			b.WriteString("." + short(s.key))
		}
	}
	return b.String()
}

// label tells the record at hand apart by its tag, name or id.
func (c *checker) label() string {
	if c.of != c.at { // looked up once a record: it may have many keys, and all wrong
		c.of, c.named = c.at, c.labelOf(c.at)
	}
	return c.named
}

func (c *checker) labelOf(record int) string {
	for _, key := range []string{"tag", "name", "id"} {
		n, ok := c.member(record, key)
		if !ok || c.nodes[n].sort != text {
			continue
		}
		if s := c.text(n); s != "" && utf8.RuneCountInString(s) <= mostShown {
			return " (" + onOneLine(s) + ")"
		}
	}
	return ""
}

// mostShown is how many characters of a text of the file stand in a message.
const mostShown = 40

// short gives a text of the file for a message.
func short(s string) string {
	if utf8.RuneCountInString(s) > mostShown {
		return onOneLine(string([]rune(s[:min(len(s), 4*mostShown)])[:mostShown])) + "…"
	}
	return onOneLine(s)
}

// onOneLine puts text with line breaks and the like in quotes and escapes.
func onOneLine(s string) string {
	for _, r := range s {
		if !strconv.IsPrint(r) {
			return strconv.Quote(s)
		}
	}
	return s
}

func (c *checker) value(n int, s *shape) {
	switch s.form {
	case formPart:
		c.part(n, s)
	case formObject:
		c.object(n, s)
	case formMap:
		c.mapping(n, s)
	case formList:
		c.list(n, s)
	case formText:
		c.words(n, s)
	case formFlag:
		c.is(n, boolean, s.what)
	case formNumber:
		c.number(n, s)
	case formWhole:
		c.whole(n, s)
	case formPair:
		c.pair(n, s)
	}
}

// is tells whether a value is of the sort that it must be.
func (c *checker) is(n int, want sort, what string) bool {
	got := c.nodes[n].sort
	switch {
	case got == want:
		return true
	case got == null:
		c.fault(n, "expected %s, found null; leave the key out where the value is not known", what)
	case got == object || got == list:
		c.fault(n, "expected %s, found %s", what, got)
	default:
		c.fault(n, "expected %s, found %s", what, c.quoted(n))
	}
	return false
}

// quoted gives a short value as it stands.
func (c *checker) quoted(n int) string {
	raw := c.raw(n)
	if utf8.RuneCount(raw) > mostShown {
		return c.nodes[n].sort.String()
	}
	return string(raw)
}

func (c *checker) part(n int, s *shape) {
	if !c.is(n, object, s.what) {
		return
	}
	cl, ok := c.member(n, "class")
	if !ok {
		c.fault(n, `"class" is missing`)
		return
	}
	var name string
	if c.nodes[cl].sort == text {
		name = c.text(cl)
	}
	of := s.classes[name]
	if of == nil {
		c.path = append(c.path, step{key: "class"})
		c.choice(cl, classNames())
		c.path = c.path[:len(c.path)-1]
		return
	}
	c.object(n, of)
}

func classNames() []string {
	var out []string
	for _, c := range model.Classes() {
		out = append(out, string(c))
	}
	return out
}

func (c *checker) object(n int, s *shape) {
	if !c.is(n, object, s.what) {
		return
	}
	var seen fieldSet
	end := int(c.nodes[n].after)
	for k := n + 1; k < end && !c.full(); k = int(c.nodes[k+1].after) {
		i, ok := s.byKey[string(c.raw(k)[1:c.nodes[k].end-c.nodes[k].start-1])]
		if !ok { // perhaps written with escapes
			i, ok = s.byKey[c.text(k)]
		}
		if !ok {
			c.fault(k, "%s has no key %s%s", s.what, c.quoted(k), suggestion(c.text(k), s.keys()))
			continue
		}
		c.path = append(c.path, step{key: s.fields[i].key})
		if seen.has(i) {
			c.fault(k, "the key stands twice in this object")
		}
		seen.add(i)
		c.value(k+1, s.fields[i].shape)
		if s.record && s.fields[i].key == "id" {
			c.id(k + 1)
		}
		c.path = c.path[:len(c.path)-1]
	}
	for i, f := range s.fields {
		if f.required && !seen.has(i) {
			c.fault(n, "%q is missing", f.key)
		}
	}
}

// fieldSet is a set of fields of one object, a bit a field.
type fieldSet [maxFields / 64]uint64

// maxFields is the most fields that an object may have; [shape.add] holds it.
const maxFields = 128

func (s *fieldSet) has(i int) bool { return s[i/64]&(1<<(i%64)) != 0 }
func (s *fieldSet) add(i int)      { s[i/64] |= 1 << (i % 64) }

// id takes note of a record's id and refuses one that is taken.
func (c *checker) id(n int) {
	if c.nodes[n].sort != text {
		return // has been told
	}
	id := c.text(n)
	if id == "" {
		return // has been told
	}
	if id == string(model.HeaderID) {
		c.fault(n, "the id %q is kept for the circuit itself", id)
		return
	}
	first, taken := c.ids[id]
	if !taken {
		c.ids[id] = n
		return
	}
	if len(c.flaws) > 5*MaxErrors { // will not be told; lines are counted from the beginning
		c.fault(n, "the id is taken")
		return
	}
	p := position{line: 1}
	p.advance(c.data, int(c.nodes[first].start))
	c.fault(n, "the id %q is taken by the record at line %d", short(id), p.line)
}

func (c *checker) mapping(n int, s *shape) {
	if !c.is(n, object, s.what) {
		return
	}
	end := int(c.nodes[n].after)
	if c.members(n) > maxListed {
		c.fault(n, "the object has more than %d keys", maxListed)
		return
	}
	seen := map[string]bool{}
	for k := n + 1; k < end && !c.full(); k = int(c.nodes[k+1].after) {
		key := c.text(k)
		c.path = append(c.path, step{key: key})
		if seen[key] {
			c.fault(k, "the key stands twice in this object")
		}
		seen[key] = true
		c.value(k+1, s.elem)
		c.path = c.path[:len(c.path)-1]
	}
}

func (c *checker) list(n int, s *shape) {
	if !c.is(n, list, s.what) {
		return
	}
	end, index := int(c.nodes[n].after), 0
	if !s.elem.record && c.count(n) > maxListed {
		c.fault(n, "the list has more than %d values", maxListed)
		return
	}
	for e := n + 1; e < end && !c.full(); e = int(c.nodes[e].after) {
		if s.elem.record {
			c.at = e
		}
		c.path = append(c.path, step{index: index})
		c.value(e, s.elem)
		c.path = c.path[:len(c.path)-1]
		index++
	}
}

func (c *checker) words(n int, s *shape) {
	switch {
	case s.choices != nil:
		c.choice(n, s.choices)
	case !c.is(n, text, s.what):
	case s.nonEmpty && c.text(n) == "":
		c.fault(n, "expected text, found none")
	case s.valid != nil && !s.valid(c.text(n)):
		c.fault(n, "expected %s, found %s", s.what, c.quoted(n))
	}
}

func (c *checker) choice(n int, choices []string) {
	what := "one of " + strings.Join(choices, ", ")
	if len(choices) == 1 {
		what = strconv.Quote(choices[0])
	}
	if !c.is(n, text, what) {
		return
	}
	got := c.text(n)
	for _, w := range choices {
		if w == got {
			return
		}
	}
	c.fault(n, "expected %s, found %s%s", what, c.quoted(n), suggestion(got, choices))
}

func (c *checker) number(n int, s *shape) {
	if !c.is(n, number, s.what) {
		return
	}
	x, err := strconv.ParseFloat(string(c.raw(n)), 64)
	switch {
	case err != nil: // too great for a float64: the syntax has been scanned
		c.fault(n, "%s is too great a number", c.quoted(n))
	case x < s.least && s.least == 0:
		c.fault(n, "must not be below 0, found %s", c.quoted(n))
	case x < s.least || x > s.most:
		c.fault(n, "must lie between %s and %s, found %s", plain(s.least), plain(s.most), c.quoted(n))
	}
}

// plain writes a bound without an exponent.
func plain(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func (c *checker) whole(n int, s *shape) {
	if !c.is(n, number, s.what) {
		return
	}
	x, err := strconv.ParseInt(string(c.raw(n)), 10, 64)
	if err != nil {
		if f, err := strconv.ParseFloat(string(c.raw(n)), 64); err == nil && math.Abs(f) < math.MaxInt64 {
			c.fault(n, "expected a whole number, found %s", c.quoted(n))
			return
		}
		x = math.MaxInt64
	}
	if f := float64(x); f < s.least || f > s.most {
		c.fault(n, "expected a whole number from %s to %s, found %s", plain(s.least), plain(s.most), c.quoted(n))
	}
}

func (c *checker) pair(n int, s *shape) {
	if !c.is(n, list, s.what) {
		return
	}
	if count := c.count(n); count != 2 {
		c.fault(n, "expected %s, found %d", s.what, count)
		return
	}
	coordinate := shape{form: formNumber, what: "a number in mm", least: s.least, most: s.most}
	for e := n + 1; e < int(c.nodes[n].after); e = int(c.nodes[e].after) {
		c.number(e, &coordinate)
	}
}
