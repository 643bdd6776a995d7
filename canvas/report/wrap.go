package report

import (
	"strings"

	"rinsewright/canvas/draw"
)

// wrapped breaks a text into lines of a width. A word that is longer than a line is
// broken, behind a sign that parts it where there is one.
func wrapped(s string, height, width float64) []string {
	var out []string
	for _, part := range strings.Split(s, "\n") {
		out = append(out, wrappedLine(part, height, width)...)
	}
	return out
}

func wrappedLine(s string, height, width float64) []string {
	if draw.TextWidth(s, height) <= width {
		return []string{strings.Join(strings.Fields(s), " ")}
	}
	var out []string
	line, wide := "", 0.0
	space := draw.TextWidth(" ", height)
	for _, word := range strings.Fields(s) {
		w := draw.TextWidth(word, height)
		if line != "" && wide+space+w <= width {
			line += " " + word
			wide += space + w
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		for w > width && len([]rune(word)) > 1 {
			n := breakAt(word, height, width)
			out = append(out, word[:n])
			word = word[n:]
			w = draw.TextWidth(word, height)
		}
		line, wide = word, w
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// breakAt gives after how many bytes a long word is broken.
func breakAt(word string, height, width float64) int {
	fits, parted := 0, 0
	for i, r := range word {
		end := i + len(string(r))
		if end >= len(word) || draw.TextWidth(word[:end], height) > width {
			break
		}
		fits = end
		if strings.ContainsRune("-_/.:@,;", r) {
			parted = end
		}
	}
	switch {
	case parted > fits/2:
		return parted
	case fits > 0:
		return fits
	}
	for _, r := range word {
		return len(string(r))
	}
	return len(word)
}
