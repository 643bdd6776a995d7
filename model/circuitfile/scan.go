package circuitfile

import (
	"encoding/json"
	"fmt"
	"strconv"
	"unicode/utf8"
)

// sort is the sort of a JSON value.
type sort uint8

const (
	object sort = iota
	list
	text
	number
	boolean
	null
)

func (s sort) String() string {
	return [...]string{"an object", "a list", "text", "a number", "true or false", "null"}[s]
}

// node is one JSON value of a text. The members of an object follow it as pairs
// of nodes, key and value; the elements of a list follow it one by one.
type node struct {
	sort       sort
	start, end int32 // in the text
	after      int32 // index of the first node that is not inside this one
}

// document is a text and its values in order; the first is the whole.
type document struct {
	data  []byte
	nodes []node
}

// raw gives the JSON text of a value.
func (d *document) raw(n int) []byte { return d.data[d.nodes[n].start:d.nodes[n].end] }

// text gives the value of a text or a key.
func (d *document) text(n int) string {
	raw := d.raw(n)
	for _, c := range raw {
		if c == '\\' {
			var s string
			if json.Unmarshal(raw, &s) == nil { // has been scanned, so it is sound
				return s
			}
		}
	}
	return string(raw[1 : len(raw)-1])
}

// member gives the value of a key of an object.
func (d *document) member(n int, key string) (int, bool) {
	if d.nodes[n].sort != object {
		return 0, false
	}
	end := int(d.nodes[n].after)
	for k := n + 1; k < end; k = int(d.nodes[k+1].after) {
		if d.text(k) == key {
			return k + 1, true
		}
	}
	return 0, false
}

// count counts the elements of a list.
func (d *document) count(n int) int {
	count := 0
	for i := n + 1; i < int(d.nodes[n].after); i = int(d.nodes[i].after) {
		count++
	}
	return count
}

// members counts the keys of an object.
func (d *document) members(n int) int {
	count := 0
	for k := n + 1; k < int(d.nodes[n].after); k = int(d.nodes[k+1].after) {
		count++
	}
	return count
}

// scan finds the values in a text. It accepts what RFC 8259 does, within the
// limits on depth and number of values. It keeps offsets, which encoding/json
// does not give for every mistake.
func scan(data []byte) (*document, *flaw) {
	if at, ok := invalidUTF8(data); ok {
		return nil, &flaw{at: at, message: "the text is not UTF-8"}
	}
	s := &scanner{document: document{data: data, nodes: make([]node, 0, len(data)/12+8)}}
	s.space()
	if s.at == len(data) {
		return nil, &flaw{at: s.at, message: "the file is empty; expected a circuit"}
	}
	if !s.value(1) {
		return nil, s.flaw
	}
	s.space()
	if s.at < len(data) {
		return nil, &flaw{at: s.at, message: "expected nothing after the end of the circuit, found " + s.found()}
	}
	return &s.document, nil
}

func invalidUTF8(data []byte) (at int, invalid bool) {
	if utf8.Valid(data) {
		return 0, false
	}
	for at < len(data) {
		r, size := utf8.DecodeRune(data[at:])
		if r == utf8.RuneError && size == 1 {
			break
		}
		at += size
	}
	return at, true
}

type scanner struct {
	document
	at   int
	flaw *flaw
}

func (s *scanner) fail(at int, format string, args ...any) bool {
	s.flaw = &flaw{at: at, message: fmt.Sprintf(format, args...)}
	return false
}

// peek gives the next byte, 0 at the end. (A byte 0 is refused wherever it stands.)
func (s *scanner) peek() byte {
	if s.at < len(s.data) {
		return s.data[s.at]
	}
	return 0
}

func (s *scanner) space() {
	for s.at < len(s.data) {
		switch s.data[s.at] {
		case ' ', '\t', '\n', '\r':
			s.at++
		default:
			return
		}
	}
}

// found says what stands at the place, for messages.
func (s *scanner) found() string {
	if s.at >= len(s.data) {
		return "the end of the file"
	}
	r, _ := utf8.DecodeRune(s.data[s.at:])
	switch {
	case r == '"':
		return "text"
	case r == '/':
		return "/ (comments are not possible in JSON)"
	case r == '\'':
		return "' (text stands between double quotes)"
	}
	if w := s.word(); len(w) > 1 {
		return w
	}
	if strconv.IsPrint(r) {
		return string(r)
	}
	return fmt.Sprintf("the character %U", r)
}

// word gives the letters and digits at the place, at most 20.
func (s *scanner) word() string {
	end := s.at
	for end < len(s.data) && end-s.at < 20 && isWord(s.data[end]) {
		end++
	}
	return string(s.data[s.at:end])
}

func isWord(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9' || c == '_'
}

func (s *scanner) open(k sort) (int, bool) {
	if len(s.nodes) >= maxValues {
		return 0, s.fail(s.at, "the file has more than %d values", maxValues)
	}
	s.nodes = append(s.nodes, node{sort: k, start: int32(s.at)})
	return len(s.nodes) - 1, true
}

func (s *scanner) close(n int) bool {
	s.nodes[n].end = int32(s.at)
	s.nodes[n].after = int32(len(s.nodes))
	return true
}

func (s *scanner) value(depth int) bool {
	if depth > MaxDepth {
		return s.fail(s.at, "values stand inside each other more than %d deep", MaxDepth)
	}
	switch c := s.peek(); {
	case c == '{':
		return s.object(depth)
	case c == '[':
		return s.list(depth)
	case c == '"':
		return s.text()
	case c == '-' || '0' <= c && c <= '9':
		return s.number()
	}
	switch w := s.word(); w {
	case "true", "false":
		return s.literal(boolean, len(w))
	case "null":
		return s.literal(null, len(w))
	}
	return s.fail(s.at, "expected a value, found %s", s.found())
}

func (s *scanner) literal(k sort, size int) bool {
	n, ok := s.open(k)
	if !ok {
		return false
	}
	s.at += size
	return s.close(n)
}

func (s *scanner) object(depth int) bool {
	n, ok := s.open(object)
	if !ok {
		return false
	}
	s.at++
	s.space()
	if s.peek() == '}' {
		s.at++
		return s.close(n)
	}
	for {
		if s.peek() != '"' {
			return s.fail(s.at, "expected a key in double quotes, found %s", s.found())
		}
		if !s.text() {
			return false
		}
		s.space()
		if s.peek() != ':' {
			return s.fail(s.at, "expected : after the key, found %s", s.found())
		}
		s.at++
		s.space()
		if !s.value(depth + 1) {
			return false
		}
		if more, ok := s.comma('}'); !ok {
			return false
		} else if !more {
			return s.close(n)
		}
	}
}

func (s *scanner) list(depth int) bool {
	n, ok := s.open(list)
	if !ok {
		return false
	}
	s.at++
	s.space()
	if s.peek() == ']' {
		s.at++
		return s.close(n)
	}
	for {
		if !s.value(depth + 1) {
			return false
		}
		if more, ok := s.comma(']'); !ok {
			return false
		} else if !more {
			return s.close(n)
		}
	}
}

// comma passes a comma (more is true) or the closing bracket.
func (s *scanner) comma(closing byte) (more, ok bool) {
	s.space()
	switch s.peek() {
	case closing:
		s.at++
		return false, true
	case ',':
		comma := s.at
		s.at++
		s.space()
		if s.peek() == closing {
			return false, s.fail(comma, "nothing follows this comma but %c; take it out", closing)
		}
		return true, true
	}
	return false, s.fail(s.at, "expected , or %c, found %s", closing, s.found())
}

func (s *scanner) text() bool {
	n, ok := s.open(text)
	if !ok {
		return false
	}
	start := s.at
	s.at++
	for s.at < len(s.data) {
		switch c := s.data[s.at]; {
		case c == '"':
			s.at++
			return s.close(n)
		case c == '\\':
			if !s.escape() {
				return false
			}
		case c == '\n' || c == '\r':
			return s.fail(start, "this text has no closing quote on its line")
		case c < ' ':
			return s.fail(s.at, "the character %U must be written \\u%04x in text", c, c)
		default:
			s.at++
		}
	}
	return s.fail(start, "this text has no closing quote")
}

func (s *scanner) escape() bool {
	if s.at+1 < len(s.data) {
		switch s.data[s.at+1] {
		case '"', '\\', '/', 'b', 'f', 'n', 'r', 't':
			s.at += 2
			return true
		case 'u':
			if s.at+6 <= len(s.data) && isHex(s.data[s.at+2:s.at+6]) {
				s.at += 6
				return true
			}
		}
	}
	return s.fail(s.at, `\ begins an escape that JSON does not know; write \\ for a backslash`)
}

func isHex(b []byte) bool {
	for _, c := range b {
		if !('0' <= c && c <= '9' || 'a' <= c && c <= 'f' || 'A' <= c && c <= 'F') {
			return false
		}
	}
	return true
}

func (s *scanner) number() bool {
	n, ok := s.open(number)
	if !ok {
		return false
	}
	start := s.at
	if s.peek() == '-' {
		s.at++
	}
	leading := s.peek()
	switch count := s.digits(); {
	case count == 0:
		return s.fail(start, "expected a digit after the minus sign")
	case count > 1 && leading == '0':
		return s.fail(start, "a number does not begin with a needless 0")
	}
	if s.peek() == '.' {
		s.at++
		if s.digits() == 0 {
			return s.fail(start, "expected a digit after the decimal point")
		}
	}
	if c := s.peek(); c == 'e' || c == 'E' {
		s.at++
		if c := s.peek(); c == '+' || c == '-' {
			s.at++
		}
		if s.digits() == 0 {
			return s.fail(start, "expected a digit in the exponent")
		}
	}
	return s.close(n)
}

func (s *scanner) digits() int {
	start := s.at
	for s.at < len(s.data) && '0' <= s.data[s.at] && s.data[s.at] <= '9' {
		s.at++
	}
	return s.at - start
}
