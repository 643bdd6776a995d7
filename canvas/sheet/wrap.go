package sheet

import (
	"strings"

	"rinsewright/canvas/draw"
)

// wrapped breaks a text into lines of a width, at most so many; the last one ends
// in an ellipsis where more would follow. A word that is longer than a line is
// broken.
func wrapped(s string, height, width float64, most int) []string {
	var out []string
	line := ""
	put := func() {
		if line != "" {
			out = append(out, line)
			line = ""
		}
	}
	for _, word := range strings.Fields(s) {
		next := word
		if line != "" {
			next = line + " " + word
		}
		if draw.TextWidth(next, height) <= width {
			line = next
			continue
		}
		put()
		for draw.TextWidth(word, height) > width && len([]rune(word)) > 1 {
			n := len([]rune(word)) - 1
			for n > 1 && draw.TextWidth(string([]rune(word)[:n]), height) > width {
				n--
			}
			out = append(out, string([]rune(word)[:n]))
			word = string([]rune(word)[n:])
		}
		line = word
	}
	put()
	if len(out) <= most {
		return out
	}
	last := []rune(out[most-1])
	for len(last) > 0 && draw.TextWidth(string(last)+"…", height) > width {
		last = last[:len(last)-1]
	}
	out[most-1] = strings.TrimRight(string(last), " ,;") + "…"
	return out[:most]
}

// fit gives the largest height from most down to least at which a text needs no
// more than so many lines, and the lines.
func fit(s string, most, least, width float64, lines int) (float64, []string) {
	for h := most; h > least; h -= 0.1 {
		if l := wrapped(s, h, width, lines+1); len(l) <= lines {
			return h, l
		}
	}
	return least, wrapped(s, least, width, lines)
}
