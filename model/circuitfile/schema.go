package circuitfile

import (
	"bytes"
	"encoding/json"
	"strings"

	"rinsewright/model"
)

// schemaNode is one schema of JSON Schema draft 2020-12. Maps are written in
// order of key by encoding/json, so the text is stable.
type schemaNode struct {
	Dialect     string                 `json:"$schema,omitempty"`
	ID          string                 `json:"$id,omitempty"`
	Ref         string                 `json:"$ref,omitempty"`
	Title       string                 `json:"title,omitempty"`
	Description string                 `json:"description,omitempty"`
	Type        string                 `json:"type,omitempty"`
	Const       any                    `json:"const,omitempty"`
	Enum        []string               `json:"enum,omitempty"`
	Not         *schemaNode            `json:"not,omitempty"`
	MinLength   int                    `json:"minLength,omitempty"`
	Pattern     string                 `json:"pattern,omitempty"`
	Minimum     *float64               `json:"minimum,omitempty"`
	Maximum     *float64               `json:"maximum,omitempty"`
	Required    []string               `json:"required,omitempty"`
	Properties  map[string]*schemaNode `json:"properties,omitempty"`
	Additional  any                    `json:"additionalProperties,omitempty"` // false or a schema
	Items       *schemaNode            `json:"items,omitempty"`
	MinItems    int                    `json:"minItems,omitempty"`
	MaxItems    int                    `json:"maxItems,omitempty"`
	AllOf       []condition            `json:"allOf,omitempty"`
	Defs        map[string]*schemaNode `json:"$defs,omitempty"`
}

type condition struct {
	If   *schemaNode `json:"if"`
	Then *schemaNode `json:"then"`
}

// Schema gives the JSON Schema (draft 2020-12) of the circuit file, made from
// the Go types of the records. It says all that [Decode] demands of single
// values; that no id and no key stands twice, and that a month has the day of a
// date, is beyond a schema.
func Schema() []byte {
	root := schemaOf(envelope)
	root.Dialect = "https://json-schema.org/draft/2020-12/schema"
	root.ID = "urn:rinsewright:circuit:1"
	root.Title = "Rinsewright circuit"
	root.Description = "A circuit for cleaning in place: its parts, pipe runs and wash steps. A key that is left out is a value that is not known."
	root.Defs = map[string]*schemaNode{"part": root.Properties["parts"].Items}
	root.Properties["parts"].Items = &schemaNode{Ref: "#/$defs/part"}
	for _, l := range recordLists {
		root.Defs[l.name] = root.Properties[l.key].Items
		root.Properties[l.key].Items = &schemaNode{Ref: "#/$defs/" + l.name}
		root.Defs[l.name].Description = describedSorts[l.name]
	}
	for _, c := range model.Classes() {
		root.Defs[string(c)] = schemaOf(partShape(c))
		root.Defs[string(c)].Description = describedSorts[string(c)]
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(root); err != nil {
		panic("circuitfile: schema: " + err.Error()) // made of literals only
	}
	return b.Bytes()
}

func schemaOf(s *shape) *schemaNode {
	switch s.form {
	case formPart:
		return schemaOfPart()
	case formObject:
		n := &schemaNode{Type: "object", Properties: map[string]*schemaNode{}, Additional: false}
		for _, f := range s.fields {
			of := schemaOf(f.shape)
			of.Description = describe(s, f)
			if f.key == "id" {
				of.Not = &schemaNode{Const: string(model.HeaderID)}
			}
			n.Properties[f.key] = of
			if f.required {
				n.Required = append(n.Required, f.key)
			}
		}
		return n
	case formMap:
		return &schemaNode{Type: "object", Additional: schemaOf(s.elem)}
	case formList:
		return &schemaNode{Type: "array", Items: schemaOf(s.elem)}
	case formText:
		n := &schemaNode{Type: "string", Enum: s.choices}
		if len(s.choices) == 1 {
			n = &schemaNode{Const: s.choices[0]}
		}
		if s.nonEmpty {
			n.MinLength = 1
		}
		n.Pattern = s.pattern
		return n
	case formFlag:
		return &schemaNode{Type: "boolean"}
	case formNumber:
		return &schemaNode{Type: "number", Minimum: &s.least, Maximum: &s.most}
	case formWhole:
		return &schemaNode{Type: "integer", Minimum: &s.least, Maximum: &s.most}
	case formPair:
		coordinate := &schemaNode{Type: "number", Minimum: &s.least, Maximum: &s.most}
		return &schemaNode{Type: "array", Items: coordinate, MinItems: 2, MaxItems: 2}
	}
	panic("circuitfile: form without a schema")
}

// schemaOfPart sends each class to its own schema.
func schemaOfPart() *schemaNode {
	n := &schemaNode{
		Description: "One thing placed on the drawing; its class tells which keys it may have.",
		Type:        "object",
		Required:    []string{"class"},
		Properties:  map[string]*schemaNode{"class": {Type: "string", Enum: classNames()}},
	}
	for _, c := range classNames() {
		n.AllOf = append(n.AllOf, condition{
			If:   &schemaNode{Properties: map[string]*schemaNode{"class": {Const: c}}, Required: []string{"class"}},
			Then: &schemaNode{Ref: "#/$defs/" + c},
		})
	}
	return n
}

// describe gives the words on a key of an object and, for a quantity, its unit.
func describe(owner *shape, f field) string {
	words := described(owner, f.key)
	if unit, ok := strings.CutPrefix(f.shape.what, "a number in "); ok && f.shape.form == formNumber {
		return words + " (" + unit + ")"
	}
	return words
}

// described gives the words on a key: those of the one sort of object, if there
// are such, else those for all.
func described(owner *shape, key string) string {
	if words, ok := describedKeys[owner.what+": "+key]; ok {
		return words
	}
	return describedKeys[key]
}
