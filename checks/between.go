package checks

// Between is what became of the findings from one revision of a circuit to the
// next. Findings are the same if they have the same id. Each list is in the order
// of its result.
type Between struct {
	Came     []Finding // not there before
	Went     []Finding // not there any more
	Accepted []Finding // counted before, accepted now
	Counts   []Finding // accepted before, counts again
	Assessed []string  // ids of findings that could not be assessed before and can be now, whatever was found
	Unknown  []string  // ids of findings that could be assessed before and cannot be now
}

// Compare tells what became of the findings of an old result in a new one.
func Compare(old, new *Result) Between {
	var out Between
	was, is := byID(old), byID(new)
	for _, list := range [][]Finding{new.Findings, new.Accepted} {
		for _, f := range list {
			before, there := was[f.ID]
			switch {
			case !there:
				out.Came = append(out.Came, f)
			case before.Accepted == nil && f.Accepted != nil:
				out.Accepted = append(out.Accepted, f)
			case before.Accepted != nil && f.Accepted == nil:
				out.Counts = append(out.Counts, f)
			}
		}
	}
	for _, list := range [][]Finding{old.Findings, old.Accepted} {
		for _, f := range list {
			if _, there := is[f.ID]; !there {
				out.Went = append(out.Went, f)
			}
		}
	}
	out.Assessed = notIn(old.NotAssessed, new.NotAssessed)
	out.Unknown = notIn(new.NotAssessed, old.NotAssessed)
	return out
}

func byID(r *Result) map[string]Finding {
	out := map[string]Finding{}
	for _, list := range [][]Finding{r.Findings, r.Accepted} {
		for _, f := range list {
			out[f.ID] = f
		}
	}
	return out
}

// notIn gives the ids of the findings of a that are not in b.
func notIn(a, b []Finding) []string {
	there := map[string]bool{}
	for _, f := range b {
		there[f.ID] = true
	}
	var out []string
	for _, f := range a {
		if !there[f.ID] {
			out = append(out, f.ID)
		}
	}
	return out
}
