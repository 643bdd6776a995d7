package circuitfile

import (
	"bytes"
	"encoding/json"
	"fmt"

	"rinsewright/model"
)

// Encode gives the text of a circuit's file. The same circuit always gives the
// same text. The error names the record and the key that cannot be written; what
// Encode gives, [Decode] reads.
func Encode(c *model.Circuit) ([]byte, error) {
	compact, err := marshal(c)
	if err != nil {
		return nil, err
	}
	if len(compact) > MaxBytes {
		return nil, fmt.Errorf("the circuit cannot be written: its file would be longer than %d MiB", MaxBytes>>20)
	}
	// A file that is written but cannot be opened again would lose all work, so
	// the text is held against the same rules as on reading.
	doc, flaws := checked(compact)
	if flaws != nil {
		f := flaws[0]
		return nil, fmt.Errorf("the circuit cannot be written: %w", &Error{Where: f.where, Message: f.message})
	}
	w := writer{document: doc}
	w.out.Grow(len(compact) * 3 / 2)
	w.value(0, envelope, 0)
	w.out.WriteByte('\n')
	if w.out.Len() > MaxBytes {
		return nil, fmt.Errorf("the circuit cannot be written: its file would be longer than %d MiB", MaxBytes>>20)
	}
	return w.out.Bytes(), nil
}

// marshal gives the text on one line.
func marshal(c *model.Circuit) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false) // "<" and "&" stay as a reader expects them
	put := func(r model.Record) error {
		if err := enc.Encode(r); err != nil {
			return fmt.Errorf("the circuit cannot be written: record %s: %w", r.RecordID(), err)
		}
		b.Truncate(b.Len() - 1) // the encoder ends each value with a new line
		return nil
	}
	fmt.Fprintf(&b, `{"schema":%q,"version":%d,"circuit":`, SchemaName, Version)
	if err := put(c.Header()); err != nil {
		return nil, err
	}
	b.WriteString(`,"parts":[`)
	for i, p := range c.Parts() {
		if i > 0 {
			b.WriteByte(',')
		}
		start := b.Len()
		if err := put(p); err != nil {
			return nil, err
		}
		body := bytes.Clone(b.Bytes()[start+1:]) // without its {
		b.Truncate(start)
		fmt.Fprintf(&b, `{"class":%q,%s`, p.Class(), body)
	}
	b.WriteByte(']')
	for _, l := range recordLists {
		records := l.of(c)
		if l.audit && len(records) == 0 {
			continue
		}
		fmt.Fprintf(&b, ",%q:[", l.key)
		for i, r := range records {
			if i > 0 {
				b.WriteByte(',')
			}
			if err := put(r); err != nil {
				return nil, err
			}
		}
		b.WriteByte(']')
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// writer lays out a text: what is open over several lines, the rest on one.
type writer struct {
	*document
	out bytes.Buffer
}

func (w *writer) value(n int, s *shape, indent int) {
	switch w.nodes[n].sort {
	case object:
		w.out.WriteByte('{')
		w.members(n, s, indent)
		w.out.WriteByte('}')
	case list:
		w.out.WriteByte('[')
		w.elements(n, s, indent)
		w.out.WriteByte(']')
	default:
		w.out.Write(w.raw(n))
	}
}

func (w *writer) members(n int, s *shape, indent int) {
	if s.form == formPart {
		class, _ := w.member(n, "class")
		s = s.classes[w.text(class)]
	}
	open := s.open && int(w.nodes[n].after) > n+1
	for k := n + 1; k < int(w.nodes[n].after); k = int(w.nodes[k+1].after) {
		w.between(k == n+1, indent, open)
		w.out.Write(w.raw(k))
		w.out.WriteString(": ")
		of := s.elem
		if s.form == formObject {
			of = s.fields[s.byKey[w.text(k)]].shape
		}
		w.value(k+1, of, indent+1)
	}
	w.end(indent, open)
}

func (w *writer) elements(n int, s *shape, indent int) {
	open := s.open && int(w.nodes[n].after) > n+1
	for e := n + 1; e < int(w.nodes[n].after); e = int(w.nodes[e].after) {
		w.between(e == n+1, indent, open)
		w.value(e, s.elem, indent+1)
	}
	w.end(indent, open)
}

// between parts a member or element from what stands before it.
func (w *writer) between(first bool, indent int, open bool) {
	if !first {
		w.out.WriteByte(',')
	}
	if open {
		w.line(indent + 1)
	} else if !first {
		w.out.WriteByte(' ')
	}
}

func (w *writer) end(indent int, open bool) {
	if open {
		w.line(indent)
	}
}

func (w *writer) line(indent int) {
	w.out.WriteByte('\n')
	for range indent {
		w.out.WriteString("  ")
	}
}
