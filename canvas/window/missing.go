package window

import (
	"cmp"
	"slices"
	"strings"

	"rinsewright/checks"
	"rinsewright/model"
)

// missingValue is one value that was never told, or cannot be as it was, and what
// waits for it; or, without a key, a judgement that no value would help.
type missingValue struct {
	record  model.ID
	key     string
	why     string   // it cannot be as entered; empty: it never was
	name    string   // of the record
	label   string   // of the property
	rules   []string // titles, sorted
	waiting int      // judgements
}

func (m *missingValue) same(o *missingValue) bool {
	return m.record == o.record && m.key == o.key && (m.key != "" || m.label == o.label)
}

// missingOf lists what judgements wait for, that for which most of them wait first,
// and counts the judgements that no value would help.
func (w *Window) missingOf(r *checks.Result) (list []missingValue, others int) {
	type which struct {
		record model.ID
		key    string
	}
	at := map[which]int{}
	for i := range r.NotAssessed {
		f := &r.NotAssessed[i]
		helped := false
		for _, m := range f.Missing {
			record := w.circuit().Record(m.Record)
			if record == nil {
				continue
			}
			helped = true
			k := which{m.Record, m.Key}
			j, known := at[k]
			if !known {
				j = len(list)
				at[k] = j
				list = append(list, missingValue{record: m.Record, key: m.Key, name: w.longName(record), label: captionOf(record, m.Key, w.cat).label})
			}
			x := &list[j]
			x.waiting++
			x.why = cmp.Or(x.why, m.Why)
			if title := w.findings.title(f); !slices.Contains(x.rules, title) {
				x.rules = append(x.rules, title)
			}
		}
		if !helped {
			others++
			list = append(list, missingValue{record: f.At.Element, name: sentence(f.Where), label: sentence(f.Text(w.units())), rules: []string{w.findings.title(f)}, waiting: 1})
		}
	}
	for i := range list {
		slices.Sort(list[i].rules)
	}
	slices.SortFunc(list, func(a, b missingValue) int {
		if (a.key == "") != (b.key == "") { // what cannot be typed comes last
			return cmp.Compare(b.key, a.key)
		}
		return cmp.Or(cmp.Compare(b.waiting, a.waiting), strings.Compare(a.label, b.label), strings.Compare(a.name, b.name), cmp.Compare(a.record, b.record), strings.Compare(a.key, b.key))
	})
	return list, others
}

// longName calls a record so that it is told from others of its sort.
func (w *Window) longName(r model.Record) string {
	switch r := r.(type) {
	case *model.Run:
		ends := w.props.endName(r.From) + " to " + w.props.endName(r.To)
		if r.Tag != "" {
			return r.Tag + ", " + ends
		}
		return "Run, " + ends
	case *model.Step:
		return "Step " + stepLabel(w.circuit(), r)
	}
	return sentence(nameOf(r, w.cat))
}
