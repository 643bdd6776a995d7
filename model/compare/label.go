package compare

import (
	"reflect"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// labels are the words for keys that no kind names.
var labels = map[string]string{
	"class": "sort of part", "kind": "kind", "tag": "tag", "name": "name", "note": "note", "at_mm": "place on the drawing",
	"turn": "quarter turns", "mirrored": "mirrored", "elevation_m": "elevation", "from": "from", "to": "to", "size": "tube size",
	"stretches": "stretches", "length_m": "length", "rise_m": "rise", "elbows": "bends of the tube", "bends_mm": "bends on the drawing", "label_mm": "place of the label",
	"carries": "medium carried", "curve": "curve", "flow_m3h": "flow", "head_m": "head", "port": "port", "part": "part",
	"programme": "programme", "order": "place in the programme", "purpose": "purpose", "medium": "medium", "strength_pct": "strength",
	"time_min": "time", "ends_on": "end condition", "source": "source", "destination": "destination", "cleans": "cleans",
	"positions": "position", "running": "running", "plant": "plant", "author": "author", "revision": "revision", "date": "date",
	"profile": "limits profile", "customer": "customer", "project": "project", "drawing_number": "drawing number", "sheet": "sheet",
	"revisions": "table of revisions", "limits": "changed limit", "limit": "limit", "value": "value", "unit": "unit", "reason": "reason",
	"by": "by", "what": "what", "mark": "mark", "rule": "rule", "finding": "finding", "places": "places", "steps": "steps",
	"gravest": "gravest severity accepted", "was": "was at", "expires": "expires", "reference": "reference", "number": "number",
	"text": "text", "pin": "pinned to", "attachments": "attachment", "history": "history", "question": "question", "on": "on",
	"answer": "answer", "evidence": "evidence", "element": "at", "first": "first stretch", "last": "last stretch", "key": "property",
	"state": "state", "at": "at", "along_pct": "along", "to_mm": "to",
}

// label gives the words for a field of a record.
func label(r model.Record, key string, t reflect.Type, cat *catalogue.Catalogue) string {
	if p, ok := r.(model.Part); ok && cat != nil {
		if k := cat.Kind(p.Meta().Kind); k != nil {
			if prop, ok := k.Property(key); ok {
				return lowerFirst(prop.Label)
			}
		}
	}
	if words, ok := labels[key]; ok {
		return words
	}
	return plainLabel(key, t)
}

// lowerFirst writes a label inside a sentence: "Flow coefficient Kv" begins small,
// "NPSH required" does not.
func lowerFirst(words string) string {
	if len(words) < 2 || words[1] >= 'A' && words[1] <= 'Z' {
		return words
	}
	return strings.ToLower(words[:1]) + words[1:]
}

// plainLabel makes words of a key: without its unit and its underscores.
func plainLabel(key string, t reflect.Type) string {
	if inner, ok := known(t); ok {
		t = inner
	}
	if t != nil {
		if u, ok := quantity.FileUnit(t); ok && u.Key != "" {
			key = strings.TrimSuffix(key, "_"+u.Key)
		}
	}
	return strings.ReplaceAll(key, "_", " ")
}
