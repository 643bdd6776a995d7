package edit

import (
	"strconv"
	"unicode"
	"unicode/utf8"
)

// counted gives "1 part", "5 parts".
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

// lowerFirst makes a title fit into a sentence; an abbreviation stays as it is.
func lowerFirst(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	second, _ := utf8.DecodeRuneInString(s[n:])
	if unicode.IsUpper(second) {
		return s
	}
	return string(unicode.ToLower(first)) + s[n:]
}

// upperFirst begins a sentence.
func upperFirst(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[n:]
}
