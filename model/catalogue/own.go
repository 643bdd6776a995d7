package catalogue

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"sort"
	"strings"
)

// OwnGroup is the group under which kinds of the user's own stand in the store of
// parts.
const OwnGroup = "Own"

// Limits of a file of own kinds: far above any use, far below what hurts.
const (
	mostOwnBytes = 1 << 20
	mostOwnKinds = 500
)

// KindError tells what is wrong with a file of own kinds, and where.
type KindError struct {
	File         string
	Line, Column int    // from 1; 0 where the whole file is meant
	Kind         string // name of the kind; empty: not known
	Message      string
}

func (e *KindError) Error() string {
	at := e.File
	if e.Line > 0 {
		at = fmt.Sprintf("%s:%d:%d", e.File, e.Line, e.Column)
	}
	if e.Kind != "" {
		return fmt.Sprintf("%s: kind %q: %s", at, e.Kind, e.Message)
	}
	return at + ": " + e.Message
}

// WithOwn gives the catalogue with the kinds of a user's own added: those of all
// *.json files at the top of a folder, each a list of kinds in the form of
// [Kind], as those of the program are. They stand in the group [OwnGroup], in the
// order of their files. A kind that is wrong, or whose name the catalogue has
// already, is left out and told of by a [KindError]; the others are taken. The
// catalogue itself is not changed.
func (c *Catalogue) WithOwn(folder fs.FS) (*Catalogue, []*KindError) {
	names, err := fs.Glob(folder, "*.json")
	if err != nil || len(names) == 0 {
		return c, nil
	}
	next := &Catalogue{kinds: append([]*Kind(nil), c.kinds...), byName: make(map[string]*Kind, len(c.byName)), tubes: c.tubes, bySize: c.bySize}
	for _, k := range c.kinds {
		next.byName[k.Name] = k
	}
	sort.Strings(names)
	var wrong []*KindError
	for _, name := range names {
		wrong = append(wrong, next.addOwn(folder, name)...)
	}
	return next, wrong
}

func (c *Catalogue) addOwn(folder fs.FS, name string) []*KindError {
	f, err := folder.Open(name)
	if err != nil {
		return []*KindError{{File: path.Base(name), Message: "cannot be read: " + err.Error()}}
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, mostOwnBytes+1))
	switch {
	case err != nil:
		return []*KindError{{File: path.Base(name), Message: "cannot be read: " + err.Error()}}
	case len(b) > mostOwnBytes:
		return []*KindError{{File: path.Base(name), Message: "is larger than 1 MiB"}}
	}
	o := &ownFile{name: path.Base(name), text: b}
	o.read(func(k *Kind, at int) {
		if c.byName[k.Name] != nil {
			o.fail(at, k.Name, "the name is taken: give it one that no other kind has")
			return
		}
		c.byName[k.Name] = k
		c.kinds = append(c.kinds, k)
	})
	return o.wrong
}

// ownFile is a file of own kinds while it is read.
type ownFile struct {
	name  string
	text  []byte
	wrong []*KindError
}

// fail notes what is wrong at an offset; below 0 the whole file is meant.
func (o *ownFile) fail(at int, kind, message string) {
	e := &KindError{File: o.name, Kind: kind, Message: message}
	if at >= 0 {
		before := o.text[:min(at, len(o.text))]
		e.Line = 1 + bytes.Count(before, []byte("\n"))
		e.Column = 1 + len([]rune(string(before[bytes.LastIndexByte(before, '\n')+1:])))
	}
	o.wrong = append(o.wrong, e)
}

// read hands on each sound kind with the offset at which it begins.
func (o *ownFile) read(take func(k *Kind, at int)) {
	if at := o.skip(0); at < len(o.text) && o.text[at] != '[' {
		o.fail(at, "", "expected a list of kinds: [ { … } ]")
		return
	}
	var list []json.RawMessage
	if err := json.Unmarshal(o.text, &list); err != nil {
		o.failJSON(err, 0, "")
		return
	}
	if len(list) > mostOwnKinds {
		o.fail(-1, "", fmt.Sprintf("has more than %d kinds", mostOwnKinds))
		return
	}
	at := 0
	for _, raw := range list {
		at += bytes.Index(o.text[at:], raw) // in the order of the file, each behind the one before
		o.kind(raw, at, take)
		at += len(raw)
	}
}

func (o *ownFile) kind(raw []byte, at int, take func(k *Kind, at int)) {
	var named struct {
		Kind string `json:"kind"`
	}
	_ = json.Unmarshal(raw, &named) // only for the message; a fault is told below
	k := &Kind{}
	d := json.NewDecoder(bytes.NewReader(raw))
	d.DisallowUnknownFields()
	if err := d.Decode(k); err != nil {
		o.failJSON(err, at, named.Kind)
		return
	}
	if k.Group != "" {
		k.Words = append(k.Words, k.Group)
	}
	k.Group = OwnGroup
	if err := k.validate(); err != nil {
		o.fail(o.find(err.Error(), raw, at), k.Name, err.Error())
		return
	}
	take(k, at)
}

// failJSON tells of a fault of decoding; at is the offset of what was decoded.
func (o *ownFile) failJSON(err error, at int, kind string) {
	var syntax *json.SyntaxError
	var wrongType *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax) && strings.Contains(syntax.Error(), "unexpected end"):
		o.fail(len(o.text), kind, "the file ends in the middle")
	case errors.As(err, &syntax):
		o.fail(at+max(int(syntax.Offset)-1, 0), kind, syntax.Error())
	case errors.As(err, &wrongType):
		where := ""
		if wrongType.Field != "" {
			where = "key " + wrongType.Field + ": "
		}
		o.fail(at+max(int(wrongType.Offset)-1, 0), kind, fmt.Sprintf("%sa %s does not fit here", where, wrongType.Value))
	default:
		message := strings.TrimPrefix(err.Error(), "json: ")
		o.fail(o.find(message, o.text[at:], at), kind, message)
	}
}

// find gives the offset of what a message names in quotes, or of the begin.
func (o *ownFile) find(message string, in []byte, at int) int {
	for rest := message; ; {
		_, after, ok := strings.Cut(rest, `"`)
		if !ok {
			return at
		}
		word, next, ok := strings.Cut(after, `"`)
		if !ok {
			return at
		}
		if i := bytes.Index(in, []byte(`"`+word+`"`)); i >= 0 && word != "" {
			return at + i
		}
		rest = next
	}
}

// skip gives the offset of the first thing behind blanks.
func (o *ownFile) skip(at int) int {
	for at < len(o.text) && strings.ContainsRune(" \t\r\n", rune(o.text[at])) {
		at++
	}
	return at
}
