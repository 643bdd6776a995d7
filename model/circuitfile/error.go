package circuitfile

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// Error is one mistake in a circuit file.
type Error struct {
	File    string // as it was given
	Line    int    // from 1; 0 where the mistake has no place in the text
	Column  int    // in characters (runes), from 1
	Where   string // in the circuit: "parts[3] (V-12): seat_a_mm"; may be empty
	Message string
}

// Error gives "file:line:column: where: message", without what is empty.
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", e.Line, e.Column)
	}
	for _, s := range []string{e.Where, e.Message} {
		if s == "" {
			continue
		}
		if b.Len() > 0 {
			b.WriteString(": ")
		}
		b.WriteString(s)
	}
	return b.String()
}

// Errors are the mistakes of one file in order of their place. At most
// [MaxErrors] are told; where there were more, the last one says how many.
type Errors []*Error

// MaxErrors is how many mistakes of a file are told.
const MaxErrors = 20

// Error gives one mistake a line.
func (list Errors) Error() string {
	lines := make([]string, len(list))
	for i, e := range list {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives each mistake to errors.As.
func (list Errors) Unwrap() []error {
	out := make([]error, len(list))
	for i, e := range list {
		out[i] = e
	}
	return out
}

// flaw is a mistake before its line and column are known. These are counted
// only when there is something to report, so a sound file is not slowed.
type flaw struct {
	at      int // offset in bytes
	where   string
	message string
}

// maxFlaws ends the search in a file that is wrong from end to end.
const maxFlaws = 1000

// located gives the flaws as errors with line and column; nil for none.
func located(file string, data []byte, flaws []flaw) error {
	if len(flaws) == 0 {
		return nil
	}
	slices.SortStableFunc(flaws, func(a, b flaw) int { return cmp.Compare(a.at, b.at) })
	var out Errors
	count := position{line: 1}
	for i, f := range flaws {
		count.advance(data, f.at)
		e := &Error{File: file, Line: count.line, Column: count.column(data), Where: f.where, Message: f.message}
		if i == MaxErrors {
			more := fmt.Sprintf("and %d more mistakes from here on", len(flaws)-MaxErrors)
			if len(flaws) >= maxFlaws {
				more = fmt.Sprintf("and more than %d further mistakes from here on", maxFlaws-MaxErrors-1)
			}
			e.Where, e.Message = "", more
			return append(out, e)
		}
		out = append(out, e)
	}
	return out
}

// position counts lines forward through a text.
type position struct {
	at, line, lineStart int
}

func (p *position) advance(data []byte, to int) {
	to = min(to, len(data))
	for {
		i := bytes.IndexByte(data[p.at:to], '\n')
		if i < 0 {
			break
		}
		p.at += i + 1
		p.line++
		p.lineStart = p.at
	}
	p.at = to
}

func (p *position) column(data []byte) int {
	return utf8.RuneCount(data[p.lineStart:p.at]) + 1
}
