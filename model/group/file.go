package group

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"rinsewright/model/circuitfile"
)

// SchemaName and Version stand at the head of a group's file.
const (
	SchemaName = "rinsewright-group"
	Version    = 1
)

// file is the file but for what the circuit file tells of parts and runs.
type file struct {
	Schema  string          `json:"schema"`
	Version int             `json:"version"`
	Name    string          `json:"name"`
	Title   string          `json:"title"`
	Heading string          `json:"heading"`
	Words   []string        `json:"words,omitempty"`
	Help    string          `json:"help"`
	Free    []End           `json:"free,omitempty"`
	Parts   json.RawMessage `json:"parts"`
	Runs    json.RawMessage `json:"runs"`
}

// Decode reads a group; name stands in the errors. It refuses keys that it does not
// know; whether the group can be placed is for [Group.Check] to say.
func Decode(name string, data []byte) (*Group, error) {
	if len(data) > circuitfile.MaxBytes {
		return nil, fmt.Errorf("%s: the file is too long", name)
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	var f file
	if err := d.Decode(&f); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s: something follows the end of the group", name)
	}
	switch {
	case f.Schema != SchemaName:
		return nil, fmt.Errorf("%s: its schema is %q, not %q: it is not a group", name, f.Schema, SchemaName)
	case f.Version != Version:
		return nil, fmt.Errorf("%s: its version is %d; this program reads version %d", name, f.Version, Version)
	}
	c, err := circuitfile.Decode(name, envelope(data, f))
	if err != nil {
		return nil, err
	}
	return &Group{Name: f.Name, Title: f.Title, Heading: f.Heading, Words: f.Words, Help: f.Help, Free: f.Free, Circuit: c}, nil
}

// envelope makes a circuit file of the fragment. Its lines have the numbers that
// they have in the group's file, as far as parts stand before runs there.
func envelope(data []byte, f file) []byte {
	var b bytes.Buffer
	title, _ := json.Marshal(f.Title) // a string always can be written
	fmt.Fprintf(&b, `{"schema": %q, "version": %d, "circuit": {"name": %s}, `, circuitfile.SchemaName, circuitfile.Version, title)
	put := func(key string, raw json.RawMessage) {
		if len(raw) == 0 {
			raw = json.RawMessage("[]")
		} else if at := bytes.Index(data, raw); at >= 0 {
			above := bytes.Count(data[:at], []byte("\n")) - bytes.Count(b.Bytes(), []byte("\n"))
			b.WriteString(strings.Repeat("\n", max(above, 0)))
		}
		fmt.Fprintf(&b, "%q: %s, ", key, raw)
	}
	put("parts", f.Parts)
	put("runs", f.Runs)
	b.WriteString(`"steps": []}`)
	return b.Bytes()
}

// Encode gives the text of a group's file; the same group always gives the same
// text, and [Decode] reads it.
func Encode(g *Group) ([]byte, error) {
	text, err := circuitfile.Encode(g.Circuit)
	if err != nil {
		return nil, err
	}
	var lists struct {
		Parts json.RawMessage `json:"parts"`
		Runs  json.RawMessage `json:"runs"`
	}
	if err := json.Unmarshal(text, &lists); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	b.WriteString("{\n")
	line := func(key string, v any) error {
		var value bytes.Buffer
		enc := json.NewEncoder(&value)
		enc.SetEscapeHTML(false)
		if err := enc.Encode(v); err != nil {
			return err
		}
		fmt.Fprintf(&b, "  %q: %s,\n", key, bytes.TrimSpace(value.Bytes()))
		return nil
	}
	for _, l := range []struct {
		key   string
		value any
	}{{"schema", SchemaName}, {"version", Version}, {"name", g.Name}, {"title", g.Title}, {"heading", g.Heading},
		{"words", append([]string{}, g.Words...)}, {"help", g.Help}, {"free", append([]End{}, g.Free...)}} {
		if err := line(l.key, l.value); err != nil {
			return nil, err
		}
	}
	// The lists keep the lines that the circuit file gives them.
	fmt.Fprintf(&b, "  \"parts\": %s,\n  \"runs\": %s\n}\n", lists.Parts, lists.Runs)
	return b.Bytes(), nil
}
