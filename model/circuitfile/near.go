package circuitfile

import "strings"

// suggestion gives "; did you mean ...?" for the known word nearest to a wrong
// one, or nothing where none is near.
func suggestion(wrong string, words []string) string {
	if len(wrong) > longestWord {
		return ""
	}
	best, least := "", 1+max(2, len(wrong)/3)
	for _, w := range words {
		if strings.HasPrefix(w, wrong+"_") { // the unit was left out
			best = w
			break
		}
		if d := distance(strings.ToLower(wrong), w, least); d < least {
			best, least = w, d
		}
	}
	if best == "" {
		return ""
	}
	return `; did you mean "` + best + `"?`
}

// longestWord is beyond every word that the file knows.
const longestWord = 100

// distance is the least number of letters to put in, take out or exchange that
// makes a into b (Levenshtein 1966), or limit where it is not less.
func distance(a, b string, limit int) int {
	if len(a)-len(b) >= limit || len(b)-len(a) >= limit {
		return limit
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
