package compare_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/circuitfile"
)

// The oracle knows nothing of the records' types: it works on the circuit as
// JSON, from the file.

type object = map[string]any

// objectsOf gives each record of a circuit as JSON, by its id.
func objectsOf(t testing.TB, c *model.Circuit) map[string]object {
	t.Helper()
	text, err := circuitfile.Encode(c)
	if err != nil {
		t.Fatal(err)
	}
	var f object
	if err := json.Unmarshal(text, &f); err != nil {
		t.Fatal(err)
	}
	out := map[string]object{"circuit": f["circuit"].(object)}
	for _, list := range []string{"parts", "runs", "steps", "deviations", "marks", "answers"} {
		records, _ := f[list].([]any)
		for _, r := range records {
			out[r.(object)["id"].(string)] = r.(object)
		}
	}
	return out
}

func text(v any) string {
	b, _ := json.Marshal(v) // came from JSON
	return string(b)
}

// keysThatDiffer lists "id key" of all that tells two circuits apart, and "id +"
// or "id -" for records that are new or gone.
func keysThatDiffer(a, b map[string]object) []string {
	var out []string
	for id, x := range a {
		y, there := b[id]
		if !there {
			out = append(out, id+" -")
			continue
		}
		for key := range union(x, y) {
			if text(x[key]) != text(y[key]) {
				out = append(out, id+" "+key)
			}
		}
	}
	for id := range b {
		if a[id] == nil {
			out = append(out, id+" +")
		}
	}
	slices.Sort(out)
	return out
}

func union(maps ...object) map[string]bool {
	out := map[string]bool{}
	for _, m := range maps {
		for key := range m {
			out[key] = true
		}
	}
	return out
}

// merged merges three circuits by the words of the documentation: gives the
// records and what is in conflict, as "id key element".
func merged(base, mine, theirs map[string]object) (map[string]object, []string) {
	out := map[string]object{}
	var conflicts []string
	ids := map[string]bool{}
	for _, m := range []map[string]object{base, mine, theirs} {
		for id := range m {
			ids[id] = true
		}
	}
	for id := range ids {
		b, m, t := base[id], mine[id], theirs[id]
		switch {
		case text(m) == text(t) || text(b) == text(t):
			out[id] = m
		case text(b) == text(m):
			out[id] = t
		case m == nil || t == nil:
			conflicts = append(conflicts, id+"  ")
			out[id] = m
		default:
			r := object{}
			for key := range union(b, m, t) {
				v, c := value(key, b[key], m[key], t[key])
				if v != nil {
					r[key] = v
				}
				for _, element := range c {
					conflicts = append(conflicts, id+" "+key+" "+element)
				}
			}
			out[id] = r
		}
		if out[id] == nil {
			delete(out, id)
		}
	}
	slices.Sort(conflicts)
	return out, conflicts
}

func value(key string, b, m, t any) (any, []string) {
	switch {
	case text(m) == text(t) || text(b) == text(t):
		return m, nil
	case text(b) == text(m):
		return t, nil
	case key == "positions":
		return positions(b, m, t)
	case strings.Contains(" cleans running attachments steps revisions ", " "+key+" ") && noneTwice(b) && noneTwice(m) && noneTwice(t):
		return lists(b, m, t), nil
	case key == "limits" && byLimit(b) != nil && byLimit(m) != nil && byLimit(t) != nil:
		all, c := positions(any(byLimit(b)), any(byLimit(m)), any(byLimit(t)))
		list := []any{}
		if all != nil {
			for _, l := range all.(object) {
				list = append(list, l)
			}
		}
		return list, c
	case key == "history" && noneTwice(b) && noneTwice(m) && noneTwice(t):
		all := lists(b, m, t).([]any)
		slices.SortStableFunc(all, func(x, y any) int {
			return strings.Compare(fmt.Sprint(x.(object)["at"]), fmt.Sprint(y.(object)["at"]))
		})
		return all, nil
	}
	return m, []string{""}
}

func positions(b, m, t any) (any, []string) {
	x, _ := b.(object)
	y, _ := m.(object)
	z, _ := t.(object)
	out := object{}
	var conflicts []string
	for key := range union(x, y, z) {
		v, c := value("", x[key], y[key], z[key])
		if v != nil {
			out[key] = v
		}
		if c != nil {
			conflicts = append(conflicts, key)
		}
	}
	if len(out) == 0 {
		return nil, conflicts
	}
	return out, conflicts
}

// byLimit gives changed limits by their name; nil if one stands twice.
func byLimit(v any) object {
	list, _ := v.([]any)
	out := object{}
	for _, e := range list {
		name := e.(object)["limit"].(string)
		if out[name] != nil {
			return nil
		}
		out[name] = e
	}
	return out
}

func noneTwice(v any) bool {
	list, _ := v.([]any)
	seen := map[string]bool{}
	for _, e := range list {
		if seen[text(e)] {
			return false
		}
		seen[text(e)] = true
	}
	return true
}

// lists is a set merge; the order is told by sortedLists in the comparison.
func lists(b, m, t any) any {
	x, _ := b.([]any)
	y, _ := m.([]any)
	z, _ := t.([]any)
	has := func(list []any, e any) bool {
		return slices.ContainsFunc(list, func(o any) bool { return text(o) == text(e) })
	}
	out := []any{}
	for _, e := range x {
		if has(y, e) && has(z, e) {
			out = append(out, e)
		}
	}
	for _, e := range slices.Concat(y, z) {
		if !has(x, e) && !has(out, e) {
			out = append(out, e)
		}
	}
	return out
}

// sortedLists sorts the lists that are merged as sets, for comparison.
func sortedLists(records map[string]object) map[string]object {
	for _, r := range records {
		for _, key := range []string{"cleans", "running", "attachments", "steps", "revisions", "limits", "history"} {
			list, ok := r[key].([]any)
			if !ok {
				continue
			}
			if len(list) == 0 {
				delete(r, key)
				continue
			}
			slices.SortFunc(list, func(a, b any) int { return strings.Compare(text(a), text(b)) })
		}
	}
	return records
}
