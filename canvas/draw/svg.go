package draw

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"rinsewright/model/catalogue"
)

var _ Writer = WriteSVG

// WriteSVG writes a picture as SVG 1.1 in its true size; one user unit is one
// millimetre. Each layer is a group with its name as id (a layer that comes again
// later has a number behind it), and text stays text.
func WriteSVG(w io.Writer, p *Picture, pal Palette) error {
	s := &svg{w: bufio.NewWriter(w), pal: pal}
	b := p.Bounds
	s.printf(`<?xml version="1.0" encoding="UTF-8"?>`+"\n"+
		`<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="%smm" height="%smm" viewBox="%s %s %s %s" `+
		`font-family="sans-serif" stroke-linecap="round" stroke-linejoin="round">`+"\n",
		number(b.Width()), number(b.Height()), number(b.Min.X), number(b.Min.Y), number(b.Width()), number(b.Height()))
	s.printf(`<rect id="paper" x="%s" y="%s" width="%s" height="%s" fill="%s"/>`+"\n",
		number(b.Min.X), number(b.Min.Y), number(b.Width()), number(b.Height()), s.colour(Paper))
	times := map[Layer]int{}
	for i := range p.Items {
		it := &p.Items[i]
		if i == 0 || it.Layer != p.Items[i-1].Layer {
			if i > 0 {
				s.printf("</g>\n")
			}
			times[it.Layer]++
			id := string(it.Layer)
			if n := times[it.Layer]; n > 1 {
				id += "-" + strconv.Itoa(n)
			}
			s.printf(`<g id="%s">`+"\n", escaped(id))
		}
		s.figure(it.Figure)
	}
	if len(p.Items) > 0 {
		s.printf("</g>\n")
	}
	s.printf("</svg>\n")
	return s.w.Flush()
}

type svg struct {
	w   *bufio.Writer
	pal Palette
}

// printf leaves a failed write to Flush, which reports it.
func (s *svg) printf(format string, args ...any) { fmt.Fprintf(s.w, format, args...) }

func (s *svg) colour(r Role) string {
	if r == None {
		return "none"
	}
	c := s.pal.Colour(r)
	return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
}

func (s *svg) figure(f Figure) {
	switch f := f.(type) {
	case Path:
		s.path(f)
	case Text:
		s.text(f)
	case Symbol:
		for _, part := range f.Figures() {
			s.figure(part)
		}
	}
}

func (s *svg) path(p Path) {
	st := p.Style
	s.printf(`<path d="%s" fill="%s"`, pathData(p.Segments), s.colour(st.Fill))
	if st.Stroke != None && st.Width > 0 {
		s.printf(` stroke="%s" stroke-width="%s"`, s.colour(st.Stroke), number(st.Width))
		if len(st.Dash) > 0 {
			s.printf(` stroke-linecap="butt" stroke-dasharray="`)
			for i, d := range st.Dash {
				if i > 0 {
					s.printf(" ")
				}
				s.printf("%s", number(d))
			}
			s.printf(`"`)
		}
	}
	s.printf("/>\n")
}

func pathData(segments []catalogue.Segment) string {
	var b strings.Builder
	for _, seg := range segments {
		b.WriteByte(seg.Op)
		for _, q := range seg.P[:points(seg.Op)] {
			b.WriteString(number(q[0]))
			b.WriteByte(' ')
			b.WriteString(number(q[1]))
			b.WriteByte(' ')
		}
	}
	return strings.TrimSpace(b.String())
}

func (s *svg) text(t Text) {
	if t.String == "" || t.Role == None {
		return
	}
	anchor := map[Anchor]string{Middle: "middle", Start: "start", End: "end"}[t.Anchor]
	s.printf(`<text font-size="%s" text-anchor="%s" fill="%s"`, number(emOf(t.Height)), anchor, s.colour(t.Role))
	if turn := ((t.Turn % 4) + 4) % 4; turn == 0 {
		s.printf(` x="%s" y="%s"`, number(t.At.X), number(t.At.Y+t.Height/2))
	} else {
		s.printf(` transform="translate(%s %s) rotate(%d)" y="%s"`, number(t.At.X), number(t.At.Y), 90*turn, number(t.Height/2))
	}
	s.printf(">%s</text>\n", escaped(t.String))
}

// escaped makes a text safe for XML; signs that XML cannot hold become U+FFFD.
func escaped(text string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(text)) // a strings.Builder never fails
	return b.String()
}

// number writes millimetres to a thousandth.
func number(v float64) string {
	v = math.Round(v*1000) / 1000
	if v == 0 {
		v = 0 // no minus sign before zero
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
