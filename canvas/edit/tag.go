package edit

import (
	"strconv"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// firstNumber is where the numbers of tags begin.
const firstNumber = 101

func (f *draft) tags() map[string]bool {
	if f.taken == nil {
		f.taken = map[string]bool{}
		for _, p := range f.circuit.Parts() {
			f.taken[p.Meta().Tag] = true
		}
		for _, r := range f.circuit.Runs() {
			f.taken[r.Tag] = true
		}
	}
	return f.taken
}

// nextTag gives and takes the lowest free tag of a prefix; none for no prefix.
func (f *draft) nextTag(prefix string) string {
	if prefix == "" {
		return ""
	}
	for n := firstNumber; ; n++ {
		if tag := prefix + "-" + strconv.Itoa(n); !f.tags()[tag] {
			f.taken[tag] = true
			return tag
		}
	}
}

// freeTag gives and takes the tag itself if nothing has it, or the next free one
// of its stem: V-103 for V-101, and "Filler 2" for "Filler".
func (f *draft) freeTag(tag string) string {
	if tag == "" || !f.tags()[tag] {
		if tag != "" {
			f.taken[tag] = true
		}
		return tag
	}
	stem := strings.TrimRight(tag, "0123456789")
	if prefix, ok := strings.CutSuffix(stem, "-"); ok && prefix != "" && stem != tag {
		return f.nextTag(prefix)
	}
	n := 2
	if stem == tag {
		stem += " "
	} else if k, err := strconv.Atoi(tag[len(stem):]); err == nil {
		n = k + 1
	}
	for ; ; n++ {
		if next := stem + strconv.Itoa(n); !f.tags()[next] {
			f.taken[next] = true
			return next
		}
	}
}

// NextTag gives the lowest free tag of a kind: prefix, dash, number from 101.
// Empty for a kind without a prefix.
func (d *Drawing) NextTag(k *catalogue.Kind) string { return d.draft().nextTag(k.Prefix) }

// Tag gives a part or a run another tag; empty takes it away. A tag that another
// part or run has is refused.
func (d *Drawing) Tag(id model.ID, tag string) (model.Edit, error) {
	tag = strings.TrimSpace(tag)
	f := d.draft()
	r := d.circuit.Record(id)
	var was string
	switch r := r.(type) {
	case model.Part:
		was = r.Meta().Tag
		next := model.Clone(r)
		next.Meta().Tag = tag
		f.put(next)
	case *model.Run:
		was = r.Tag
		next := model.Clone(r)
		next.Tag = tag
		f.put(next)
	default:
		return model.Edit{}, &PropertyError{Key: "tag", Label: "Tag", Message: "only parts and runs have a tag"}
	}
	if tag != "" && tag != was {
		for _, other := range d.circuit.Tagged(tag) {
			return model.Edit{}, &PropertyError{Key: "tag", Label: "Tag", Message: "the " + d.what(other) + " has the tag " + tag + " already"}
		}
	}
	if tag == "" {
		return f.edit("take the tag off " + d.name(r)), nil
	}
	return f.edit("tag " + d.name(r) + " " + tag), nil
}

// what tells what sort of thing a record is.
func (d *Drawing) what(r model.Record) string {
	if p, ok := r.(model.Part); ok {
		if k := d.kindOf(p); k != nil {
			return lowerFirst(k.Title)
		}
		return string(p.Class())
	}
	if _, ok := r.(*model.Run); ok {
		return "run"
	}
	return "step"
}
