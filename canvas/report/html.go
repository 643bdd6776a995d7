package report

import (
	"bufio"
	"bytes"
	"context"
	_ "embed"
	"fmt"
	"html"
	"io"
	"regexp"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/model"
)

//go:embed report.css
var stylesheet string

// WriteHTML writes a report as one HTML file that asks for nothing else: no script,
// no file, no address. It ends early with the context's error.
func (r *Report) WriteHTML(ctx context.Context, w io.Writer) error {
	h := &page{w: bufio.NewWriter(w)}
	title := r.Cover.Title
	if title == "" {
		title = "Circuit without a name"
	}
	h.printf("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n")
	h.printf("<title>Audit report: %s</title>\n<style>\n%s</style>\n</head>\n<body>\n", escaped(title), stylesheet)
	h.printf("<header>\n<p class=\"kind\">Audit of a cleaning circuit</p>\n<h1>%s</h1>\n", escaped(title))
	h.pairs(r.coverFacts())
	h.printf("<p class=\"alert\">%s</p>\n</header>\n", escaped(r.Cautions[0]))
	blocks := r.blocks()
	h.printf("<nav>\n<ul>\n")
	for _, b := range blocks {
		if c, ok := b.(heading); ok && c.level == 1 {
			h.printf("<li><a href=\"#%s\">%s</a></li>\n", escaped(c.anchor), escaped(c.text))
		}
	}
	h.printf("</ul>\n</nav>\n<main>\n")
	open := false
	for _, b := range blocks {
		if err := ctx.Err(); err != nil {
			return err
		}
		if c, ok := b.(heading); ok && c.level == 1 {
			if open {
				h.printf("</section>\n")
			}
			open = true
			h.printf("<section id=\"%s\">\n<h2>%s</h2>\n", escaped(c.anchor), escaped(c.text))
			continue
		}
		if err := h.block(b); err != nil {
			return err
		}
	}
	h.printf("</section>\n</main>\n<footer><p>%s</p></footer>\n</body>\n</html>\n", escaped(draw.Caution))
	if err := h.w.Flush(); err != nil {
		return fmt.Errorf("writing a report as HTML: %w", err)
	}
	return nil
}

type page struct{ w *bufio.Writer }

// printf leaves a failed write to Flush, which reports it.
func (h *page) printf(format string, args ...any) { fmt.Fprintf(h.w, format, args...) }

// escaped makes a text safe in HTML, also within quotes; signs that HTML cannot
// hold become U+FFFD.
func escaped(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < 0x20 && r != '\n' && r != '\t' || r >= 0x7f && r < 0xa0 {
			return 0xFFFD
		}
		return r
	}, s)
	return html.EscapeString(s)
}

func (h *page) block(b block) error {
	switch b := b.(type) {
	case heading:
		id := ""
		if b.anchor != "" {
			id = fmt.Sprintf(" id=\"%s\"", escaped(b.anchor))
		}
		h.printf("<h%d%s>%s</h%d>\n", b.level+1, id, escaped(b.text), b.level+1)
	case paragraph:
		class := ""
		switch {
		case b.alert:
			class = " class=\"alert\""
		case b.quiet:
			class = " class=\"quiet\""
		}
		h.printf("<p%s>%s</p>\n", class, escaped(b.text))
	case pairs:
		h.pairs(b)
	case tally:
		h.printf("<ul class=\"tally\">\n")
		for _, c := range b {
			h.printf("<li>")
			if err := h.sign(c.sign); err != nil {
				return err
			}
			h.printf("<b>%d</b> <span>%s</span></li>\n", c.n, escaped(c.what))
		}
		h.printf("</ul>\n")
	case grid:
		h.grid(b.Table)
	case figure:
		h.printf("<figure class=\"circuit\">\n")
		if err := h.picture(b.picture); err != nil {
			return err
		}
		h.printf("<figcaption>%s</figcaption>\n</figure>\n", escaped(b.caption))
	case entry:
		return h.entry(b)
	case question:
		h.printf("<article class=\"question\"><p><span class=\"reply %s\">%s</span> %s</p>\n", escaped(strings.ReplaceAll(b.reply, " ", "-")), escaped(b.reply), escaped(b.text))
		h.pairs(b.facts)
		h.printf("</article>\n")
	case signature:
		h.printf("<div class=\"signature\"><p>%s</p><dl><div><dd>%s</dd><dt>Name</dt></div><div><dd></dd><dt>Date</dt></div><div><dd></dd><dt>Signature</dt></div></dl></div>\n",
			escaped(b.role), escaped(b.name))
	}
	return nil
}

func (h *page) pairs(list pairs) {
	h.printf("<dl>\n")
	for _, q := range list {
		h.printf("<div><dt>%s</dt><dd>%s</dd></div>\n", escaped(q[0]), escaped(q[1]))
	}
	h.printf("</dl>\n")
}

func (h *page) grid(t Table) {
	if len(t.Rows) == 0 {
		h.printf("<p class=\"quiet\">Nothing to list.</p>\n")
	} else {
		columns, empty := usedColumns(t)
		h.printf("<div class=\"wide\"><table>\n<thead><tr>")
		for _, i := range columns {
			h.printf("<th scope=\"col\"%s>%s</th>", numberClass(t, i), escaped(t.Columns[i].Words()))
		}
		h.printf("</tr></thead>\n<tbody>\n")
		for _, row := range t.Rows {
			h.printf("<tr>")
			for _, i := range columns {
				h.printf("<td%s>%s</td>", numberClass(t, i), escaped(cellText(row[i])))
			}
			h.printf("</tr>\n")
		}
		h.printf("</tbody>\n</table></div>\n")
		if len(empty) > 0 {
			h.printf("<p class=\"quiet\">Columns without a value: %s.</p>\n", escaped(strings.Join(empty, ", ")))
		}
	}
	for _, r := range t.Remarks {
		h.printf("<p class=\"quiet\">%s</p>\n", escaped(r))
	}
}

func numberClass(t Table, column int) string {
	if numeric(t, column) {
		return " class=\"number\""
	}
	return ""
}

func (h *page) entry(e entry) error {
	h.printf("<article class=\"entry\" id=\"%s\">\n<h3>", escaped(e.anchor))
	if err := h.sign(e.sign); err != nil {
		return err
	}
	h.printf("<span>%s</span></h3>\n", escaped(e.title))
	if e.spot != nil {
		h.printf("<figure>\n")
		if err := h.picture(e.spot); err != nil {
			return err
		}
		h.printf("</figure>\n")
	}
	if e.text != "" {
		h.printf("<p>%s</p>\n", escaped(e.text))
	}
	h.pairs(e.facts)
	h.printf("</article>\n")
	return nil
}

func (h *page) sign(set func(*draw.Picture)) error {
	if set == nil {
		return nil
	}
	p := &draw.Picture{}
	set(p)
	p.Bounds = place.Rect{Min: model.Point{X: -4.3, Y: -4.3}, Max: model.Point{X: 4.3, Y: 4.3}}
	return h.picture(p)
}

var (
	ids   = regexp.MustCompile(`<(g|rect) id="[^"]*"`)
	sized = regexp.MustCompile(`<svg [^>]*(viewBox="[^"]*")[^>]*>`)
)

// picture sets a drawing into the text. Ids are left out: they would come again.
func (h *page) picture(p *draw.Picture) error {
	var b bytes.Buffer
	if err := draw.WriteSVG(&b, p, draw.Light); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	s := b.String()
	if i := strings.Index(s, "<svg"); i > 0 {
		s = s[i:]
	}
	s = ids.ReplaceAllString(s, "<$1")
	s = sized.ReplaceAllString(s, fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" $1 style="width:%.1fmm" stroke-linecap="round" stroke-linejoin="round" font-family="sans-serif">`, p.Bounds.Width()))
	h.w.WriteString(s)
	return nil
}
