package window

import (
	"html/template"
	"io"

	"rinsewright/model"
)

// pageForm is the list as a page to print: one programme a sheet, a box to tick for
// each thing to do. It needs nothing beside itself.
var pageForm = template.Must(template.New("switching").Parse(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>Switching list: {{.Name}}</title>
<style>
@page { margin: 14mm }
body { font: 10.5pt/1.35 sans-serif; color: #111; max-width: 190mm; margin: 0 auto; padding: 6mm }
section { break-after: page }
section:last-of-type { break-after: auto }
h1 { font-size: 15pt; margin: 0 }
h2 { font-size: 11.5pt; margin: 5mm 0 0; padding-top: 1.5mm; border-top: 1.5pt solid #111 }
.head, .sent, .foot { margin: .5mm 0; color: #333 }
.step { break-inside: avoid }
.caution { border: 1.2pt solid #111; padding: 1mm 2mm; margin: 1.5mm 0; font-weight: bold }
table { border-collapse: collapse; width: 100%; margin-top: 1.5mm }
th { text-align: left; font-weight: normal; color: #333; border-bottom: .5pt solid #555 }
td { border-bottom: .5pt dotted #777; padding: .9mm 1mm; vertical-align: top }
td.tick { width: 6mm } td.verb { width: 16mm } td.hand { width: 18mm } td.tag { width: 30mm; font-weight: bold }
.box { display: inline-block; width: 3.4mm; height: 3.4mm; border: .8pt solid #111 }
.foot { border-top: .5pt solid #555; margin-top: 6mm; padding-top: 2mm; font-size: 9pt }
.sign span { display: inline-block; width: 60mm; border-bottom: .5pt solid #111; margin-right: 6mm; height: 8mm }
</style>
</head>
<body>
{{$page := .}}{{range .Lists}}<section>
<h1>Switching list: {{.Title}}</h1>
<p class="head">{{$page.Name}}{{with $page.Plant}}, {{.}}{{end}}{{with $page.Revision}}, revision {{.}}{{end}}{{with $page.Date}}, {{.}}{{end}}</p>
<p class="head">{{$page.Begins}}</p>
{{range .Steps}}<div class="step">
<h2>{{.Number}}&ensp;{{.Name}}</h2>
{{with .What}}<p class="sent">{{.}}</p>{{end}}{{with .Ends}}<p class="sent">Ends: {{.}}</p>{{end}}
{{range .Caution}}<p class="caution">CAUTION: {{.}}</p>
{{end}}{{if .Acts}}<table>
<tr><th></th><th>Do</th><th>Tag</th><th>From</th><th>To</th><th></th></tr>
{{range .Acts}}<tr><td class="tick"><span class="box"></span></td><td class="verb">{{.Verb}}</td><td class="tag">{{.Tag}}</td><td>{{.From}}</td><td>{{.To}}</td><td class="hand">{{if .ByHand}}by hand{{end}}</td></tr>
{{end}}</table>{{else}}<p class="sent">Nothing changes.</p>{{end}}
</div>
{{end}}<p class="foot">{{$page.Caution}}</p>
<p class="sign">Done by <span></span>Date <span></span></p>
</section>
{{end}}</body>
</html>
`))

type page struct {
	Name, Plant, Revision, Date, Begins, Caution string
	Lists                                        []pageList
}

type pageList struct {
	Title string
	Steps []pageStep
}

type pageStep struct {
	Number           int
	Name, What, Ends string
	Caution          []string
	Acts             []pageAct
}

type pageAct struct {
	Verb, Tag, From, To string
	ByHand              bool
}

// switchingPage writes lists as a page of HTML.
func switchingPage(out io.Writer, c *model.Circuit, lists []switchingList) error {
	h := c.Header()
	p := page{Name: h.Name, Plant: h.Plant, Revision: h.Revision, Date: h.Date, Begins: switchingBegins, Caution: switchingCaution}
	for i := range lists {
		l := pageList{Title: lists[i].title()}
		for _, s := range lists[i].steps {
			x := pageStep{Number: s.number, Name: s.name, What: sentence(s.what), Ends: s.ends, Caution: s.caution}
			for _, a := range s.acts {
				x.Acts = append(x.Acts, pageAct{a.verb, a.tag, a.from, a.to, a.byHand})
			}
			l.Steps = append(l.Steps, x)
		}
		p.Lists = append(p.Lists, l)
	}
	return pageForm.Execute(out, p)
}
