package report

import (
	"rinsewright/canvas/draw"
)

// A report is set from blocks, which both writers know.
type block interface{}

// heading begins something. Level 1 is a chapter, 2 a part of it, 3 less.
type heading struct {
	level  int
	text   string
	anchor string
}

// paragraph is running text.
type paragraph struct {
	text  string
	quiet bool
	alert bool // a caution: with a bar beside it
}

// pairs are names with what they stand for.
type pairs [][2]string

// tally is a row of counts, each with its sign.
type tally []count

type count struct {
	n    int
	what string
	sign func(p *draw.Picture) // in a box of 8 by 8 mm about [0, 0]; nil: none
}

// grid is a table.
type grid struct{ Table }

// figure is a drawing.
type figure struct {
	picture *draw.Picture
	caption string
}

// entry is one finding or mark: a sign and a title, what is told of it, and a small
// drawing beside.
type entry struct {
	sign   func(p *draw.Picture)
	title  string
	id     string
	anchor string
	text   string
	facts  pairs
	spot   *draw.Picture
}

// question is one question of a checklist with its answer.
type question struct {
	reply string
	text  string
	facts pairs
}

// signature is a line to sign on.
type signature struct{ role, name string }

// newPage asks for a new page on paper.
type newPage struct{}
