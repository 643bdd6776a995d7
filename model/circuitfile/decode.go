package circuitfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"

	"rinsewright/model"
)

// ReadFile reads a circuit from a file. What is wrong in the file is told as
// [Errors]; a file that cannot be read at all gives the error of package os.
func ReadFile(path string) (*model.Circuit, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, unreadable(path, err)
	}
	defer f.Close()
	var data bytes.Buffer
	if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
		if info.Size() > MaxBytes {
			return nil, tooLong(path)
		}
		data.Grow(int(info.Size()) + bytes.MinRead)
	}
	// One byte more than is allowed: Decode then says that it is too long.
	if _, err := io.Copy(&data, io.LimitReader(f, MaxBytes+1)); err != nil {
		return nil, unreadable(path, err)
	}
	return Decode(path, data.Bytes())
}

// unreadable begins with the file, as all errors about files do.
func unreadable(path string, err error) error {
	var at *os.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return fmt.Errorf("%s: the circuit cannot be read: %w", path, err)
}

// Decode reads a circuit from the text of a file; name stands in the errors,
// which are always [Errors]. A byte order mark is passed over.
func Decode(name string, data []byte) (*model.Circuit, error) {
	if len(data) > MaxBytes {
		return nil, tooLong(name)
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	doc, flaws := checked(data)
	if flaws != nil {
		return nil, located(name, data, flaws)
	}
	c, fault := decode(doc)
	if fault != nil {
		return nil, located(name, data, []flaw{*fault})
	}
	return c, nil
}

func tooLong(name string) error {
	return Errors{{File: name, Message: fmt.Sprintf("the file is longer than %d MiB", MaxBytes>>20)}}
}

// checked scans a text and tells all that keeps it from being a circuit.
func checked(data []byte) (*document, []flaw) {
	doc, broken := scan(data)
	if broken != nil {
		return nil, []flaw{*broken}
	}
	if f := otherFile(doc); f != nil {
		return nil, []flaw{*f}
	}
	if f := tooMany(doc); f != nil {
		return nil, []flaw{*f}
	}
	c := checker{document: doc, ids: make(map[string]int, len(doc.nodes)/20)}
	c.value(0, envelope)
	return doc, c.flaws
}

// otherFile finds what makes all further errors pointless: the text is no
// circuit file, or one of a later program.
func otherFile(d *document) *flaw {
	if d.nodes[0].sort != object {
		return &flaw{at: int(d.nodes[0].start), message: "this is not a circuit file: expected an object, found " + d.nodes[0].sort.String()}
	}
	n, ok := d.member(0, "schema")
	if !ok {
		return &flaw{at: int(d.nodes[0].start), message: `this is not a circuit file: "schema" is missing`}
	}
	if d.nodes[n].sort != text || d.text(n) != SchemaName {
		return &flaw{at: int(d.nodes[n].start), where: "schema",
			message: fmt.Sprintf("this is not a circuit file: expected %q, found %s", SchemaName, short(string(d.raw(n))))}
	}
	if n, ok := d.member(0, "version"); ok && d.nodes[n].sort == number {
		if v, err := strconv.Atoi(string(d.raw(n))); err == nil && v > Version {
			return &flaw{at: int(d.nodes[n].start), where: "version",
				message: fmt.Sprintf("this file was written by a newer version (format %d); this program reads up to %d", v, Version)}
		}
	}
	return nil
}

func tooMany(d *document) *flaw {
	total := 0
	keys := []string{"parts"}
	for _, l := range recordLists {
		keys = append(keys, l.key)
	}
	for _, key := range keys {
		n, ok := d.member(0, key)
		if !ok || d.nodes[n].sort != list {
			continue
		}
		if total += d.count(n); total > MaxRecords {
			return &flaw{at: int(d.nodes[n].start), where: key,
				message: fmt.Sprintf("the circuit has more than %d records", MaxRecords)}
		}
	}
	return nil
}

// decode makes the records of a document that has been checked.
func decode(d *document) (*model.Circuit, *flaw) {
	all := model.Records{Header: new(model.Header)}
	if n, ok := d.member(0, "circuit"); ok {
		if f := unmarshal(d, n, all.Header); f != nil {
			return nil, f
		}
	}
	var f *flaw
	if all.Parts, f = records(d, "parts", func(n int) model.Part {
		class, _ := d.member(n, "class")
		return model.NewPart(model.Class(d.text(class)))
	}); f != nil {
		return nil, f
	}
	if all.Runs, f = records(d, "runs", empty[model.Run]); f != nil {
		return nil, f
	}
	if all.Steps, f = records(d, "steps", empty[model.Step]); f != nil {
		return nil, f
	}
	if all.Deviations, f = records(d, "deviations", empty[model.Deviation]); f != nil {
		return nil, f
	}
	if all.Marks, f = records(d, "marks", empty[model.Mark]); f != nil {
		return nil, f
	}
	if all.Answers, f = records(d, "answers", empty[model.Answer]); f != nil {
		return nil, f
	}
	c, err := all.Circuit()
	if err != nil {
		return nil, &flaw{message: err.Error()}
	}
	return c, nil
}

// empty makes a record to be read into, whatever stands at the node.
func empty[R any](int) *R { return new(R) }

func records[R model.Record](d *document, key string, empty func(n int) R) ([]R, *flaw) {
	n, ok := d.member(0, key)
	if !ok {
		return nil, nil
	}
	out := make([]R, 0, d.count(n))
	for e := n + 1; e < int(d.nodes[n].after); e = int(d.nodes[e].after) {
		r := empty(e)
		if f := unmarshal(d, e, r); f != nil {
			f.where = fmt.Sprintf("%s[%d]", key, len(out))
			return nil, f
		}
		out = append(out, r)
	}
	return out, nil
}

func unmarshal(d *document, n int, into any) *flaw {
	if err := json.Unmarshal(d.raw(n), into); err != nil {
		return &flaw{at: int(d.nodes[n].start), message: err.Error()}
	}
	return nil
}
