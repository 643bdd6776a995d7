package report

import (
	"fmt"
	"slices"
	"strings"
)

// Chapter names a chapter. Cover, scope and cautions are in every report.
type Chapter string

// Chapters in their order.
const (
	Findings   Chapter = "findings"
	Accepted   Chapter = "accepted"
	Unassessed Chapter = "not-assessed"
	Marks      Chapter = "marks"
	Checklists Chapter = "checklists"
	Sheets     Chapter = "calculations"
	Programmes Chapter = "programmes"
	Lists      Chapter = "lists"
	Signatures Chapter = "signatures"
)

// Chapters lists the chapters that can be chosen, in order.
func Chapters() []Chapter {
	return []Chapter{Findings, Accepted, Unassessed, Marks, Checklists, Sheets, Programmes, Lists, Signatures}
}

// Title gives the heading of a chapter.
func (c Chapter) Title() string {
	switch c {
	case Findings:
		return "Findings"
	case Accepted:
		return "Accepted findings"
	case Unassessed:
		return "Not assessed"
	case Marks:
		return "Reviewers' marks"
	case Checklists:
		return "Checklists"
	case Sheets:
		return "Calculation sheets"
	case Programmes:
		return "Wash programmes and what they use"
	case Lists:
		return "Lists"
	case Signatures:
		return "Signatures"
	}
	return string(c)
}

// ParseChapters reads chapters parted by commas; none stands for all. The error
// names those there are.
func ParseChapters(text string) ([]Chapter, error) {
	if strings.TrimSpace(text) == "" {
		return Chapters(), nil
	}
	var out []Chapter
	for _, name := range strings.Split(text, ",") {
		c := Chapter(strings.TrimSpace(name))
		if !slices.Contains(Chapters(), c) {
			var all []string
			for _, x := range Chapters() {
				all = append(all, string(x))
			}
			return nil, fmt.Errorf("there is no chapter %q; chapters are %s", c, strings.Join(all, ", "))
		}
		out = append(out, c)
	}
	return out, nil
}
