package report_test

import (
	"bytes"
	"context"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/canvas/report"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/quantity"
)

func demo(t testing.TB, name string) *model.Circuit {
	t.Helper()
	data, err := assets.Files.ReadFile("demo/" + name + ".circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := circuitfile.Decode(name, data)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func sourceOf(t testing.TB, c *model.Circuit) report.Source {
	t.Helper()
	profile := checks.Builtin(c.Header().Profile)
	result, err := checks.Run(context.Background(), c, catalogue.Builtin(), profile, checks.Rules())
	if err != nil {
		t.Fatal(err)
	}
	return report.Source{Snapshot: &checks.Snapshot{Circuit: c, Catalogue: catalogue.Builtin(), Profile: profile}, Result: result, Rules: checks.Rules(), Profile: profile}
}

func made(t testing.TB, c *model.Circuit, opt report.Options) (*report.Report, report.Source) {
	t.Helper()
	of := sourceOf(t, c)
	if opt.Day == "" {
		opt.Day = "2026-11-25"
	}
	r, err := report.Make(context.Background(), of, opt)
	if err != nil {
		t.Fatal(err)
	}
	return r, of
}

func bytesOf(t testing.TB, write func(io.Writer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// plain leaves out all space, so that a text is found however it was broken.
func plain(s string) string { return strings.Join(strings.Fields(s), "") }

// pdfText gives the text of a PDF as another program reads it (poppler's pdftotext).
func pdfText(t testing.TB, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "r.pdf")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-raw", path, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext: %v", err)
	}
	return string(out)
}

// htmlText parses HTML as python's own parser does (html.parser of its standard
// library) and gives its text, with its tags balanced.
func htmlText(t testing.TB, data []byte) string {
	t.Helper()
	const program = `
import sys
from html.parser import HTMLParser
empty = {"meta", "link", "br", "hr", "img", "input", "path", "rect", "circle"}
class P(HTMLParser):
    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.stack, self.text, self.ids = [], [], set()
    def handle_starttag(self, tag, attrs):
        for k, v in attrs:
            if k == "id":
                if v in self.ids: sys.exit("id twice: " + v)
                self.ids.add(v)
            if k in ("src", "href") and not v.startswith("#"): sys.exit("asks for " + v)
        if tag == "script": sys.exit("a script")
        if tag not in empty: self.stack.append(tag)
    def handle_startendtag(self, tag, attrs): pass
    def handle_endtag(self, tag):
        if tag in empty: return
        if not self.stack or self.stack.pop() != tag: sys.exit("tags do not match at " + tag)
    def handle_data(self, d):
        if not self.stack or self.stack[-1] not in ("style",): self.text.append(d)
p = P()
p.feed(sys.stdin.buffer.read().decode("utf-8"))
p.close()
if p.stack: sys.exit("open: " + " ".join(p.stack))
sys.stdout.buffer.write("".join(p.text).encode("utf-8"))
`
	cmd := exec.Command("python3", "-c", program)
	cmd.Stdin = bytes.NewReader(data)
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("the HTML does not parse: %v: %s", err, errs.String())
	}
	return string(out)
}

// told lists the texts that every form of a report must hold, out of its JSON.
func told(t testing.TB, data []byte) []string {
	t.Helper()
	var r struct {
		Cover    struct{ Title, By, Plant string }
		Findings []struct{ ID, Message, Measured, Limit, Where, Remedy, Source, Standing string }
		Accepted []struct {
			ID, Message string
			Accepted    struct{ Reason, By string }
		}
		Open  []struct{ ID, Message string } `json:"not_assessed"`
		Marks []struct {
			ID, Text string
			Number   int
		}
		Asked struct {
			Lists []struct {
				Questions []struct{ Question, Text, Evidence, Where string }
			}
		} `json:"checklists"`
		Steps []struct{ ID, Name string } `json:"calculations"`
	}
	if err := json.Unmarshal(data, &r); err != nil {
		t.Fatal(err)
	}
	out := []string{r.Cover.Title, r.Cover.By, r.Cover.Plant}
	for _, f := range r.Findings {
		out = append(out, f.ID, f.Message, f.Measured, f.Limit, f.Where, f.Remedy, f.Source, f.Standing)
	}
	for _, f := range r.Accepted {
		out = append(out, f.ID, f.Message, f.Accepted.Reason, f.Accepted.By)
	}
	for _, f := range r.Open {
		out = append(out, f.ID, f.Message)
	}
	for _, k := range r.Marks {
		out = append(out, k.ID, k.Text, fmt.Sprintf("M%d", k.Number))
	}
	for _, l := range r.Asked.Lists {
		for _, q := range l.Questions {
			out = append(out, q.Question, q.Text, q.Evidence, q.Where)
		}
	}
	for _, s := range r.Steps {
		out = append(out, s.ID, s.Name)
	}
	if len(out) < 100 {
		t.Fatalf("only %d texts in the JSON", len(out))
	}
	return out
}

// folded ignores the case of letters, since a sentence begins with a capital.
func folded(s string) string { return strings.ToLower(plain(s)) }

func TestAllFormsTellTheSame(t *testing.T) {
	for _, system := range []quantity.System{quantity.Metric, quantity.US} {
		r, of := made(t, demo(t, "oat-drink-station-faults"), report.Options{By: "A. Reviewer", System: system})
		if len(r.Findings) != len(of.Result.Findings) || len(r.Findings) == 0 || len(r.Accepted) == 0 || len(r.Marks) == 0 || len(r.Steps) == 0 {
			t.Fatalf("%d findings, %d accepted, %d marks, %d steps", len(r.Findings), len(r.Accepted), len(r.Marks), len(r.Steps))
		}
		want := told(t, bytesOf(t, r.WriteJSON))
		pdf := folded(pdfText(t, bytesOf(t, func(w io.Writer) error { return r.WritePDF(context.Background(), w) })))
		html := folded(htmlText(t, bytesOf(t, func(w io.Writer) error { return r.WriteHTML(context.Background(), w) })))
		for _, text := range want {
			if !strings.Contains(html, folded(text)) {
				t.Errorf("the HTML does not tell %q", text)
			}
		}
		// A text that goes over to a new page has its foot and head in between, and
		// columns of a row stand side by side.
		missed := 0
		for _, text := range want {
			if !strings.Contains(pdf, folded(text)) && !wordsIn(pdf, text) {
				t.Errorf("the PDF does not tell %q", text)
				missed++
			}
		}
		if system == quantity.US && (strings.Contains(html, "m³/h") || !strings.Contains(html, "gpm")) {
			t.Error("US units are not told, or metric ones are")
		}
	}
}

// wordsIn says whether all words of a text are there, in some order.
func wordsIn(text, of string) bool {
	for _, w := range strings.Fields(of) {
		if !strings.Contains(text, folded(w)) {
			return false
		}
	}
	return true
}

func TestNumbersAreThoseOfTheChecks(t *testing.T) {
	r, of := made(t, demo(t, "oat-drink-station-faults"), report.Options{})
	var out struct {
		Summary  checks.Counts
		Findings []struct {
			ID      string
			Number  int
			Finding json.RawMessage
		}
	}
	if err := json.Unmarshal(bytesOf(t, r.WriteJSON), &out); err != nil {
		t.Fatal(err)
	}
	if out.Summary != of.Result.Counts {
		t.Errorf("counts %+v, of the checks %+v", out.Summary, of.Result.Counts)
	}
	for i, f := range out.Findings {
		want, err := json.Marshal(of.Result.Findings[i])
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := json.Compact(&b, f.Finding); err != nil {
			t.Fatal(err)
		}
		var x, y any
		if json.Unmarshal(b.Bytes(), &x) != nil || json.Unmarshal(want, &y) != nil || fmt.Sprint(x) != fmt.Sprint(y) || f.ID != of.Result.Findings[i].ID || f.Number != i+1 {
			t.Errorf("finding %d is not that of the checks: %s, %s", i, b.String(), want)
		}
	}
}

func TestTheSameReportIsTheSameBytes(t *testing.T) {
	c := demo(t, "oat-drink-station-faults")
	a, _ := made(t, c, report.Options{})
	b, _ := made(t, c, report.Options{})
	for name, write := range map[string]func(r *report.Report) func(io.Writer) error{
		"pdf": func(r *report.Report) func(io.Writer) error {
			return func(w io.Writer) error { return r.WritePDF(context.Background(), w) }
		},
		"html": func(r *report.Report) func(io.Writer) error {
			return func(w io.Writer) error { return r.WriteHTML(context.Background(), w) }
		},
		"json": func(r *report.Report) func(io.Writer) error { return r.WriteJSON },
	} {
		if !bytes.Equal(bytesOf(t, write(a)), bytesOf(t, write(b))) {
			t.Errorf("two reports as %s differ", name)
		}
	}
}

// A circuit of somebody else may hold anything as text.
func TestTextsAreEscaped(t *testing.T) {
	c := demo(t, "oat-drink-station-faults")
	bad := `</title><script>alert(1)</script>"'><img src=x onerror=y>&amp;` + "\x01\u0085"
	h := model.Clone(c.Header())
	h.Name, h.Author = bad, bad
	mark := &model.Mark{ID: "m-bad", Number: c.NextMarkNumber(), Class: model.MarkMust, Text: bad, Attachments: []string{`javascript:alert(1)`}}
	answer := &model.Answer{ID: "a-bad", Question: `x" onclick="`, Reply: model.ReplyNo, Evidence: bad}
	c, err := c.Apply(model.Edit{Changes: []model.Change{model.Replacing(c.Header(), h), model.Adding(mark), model.Adding(answer)}})
	if err != nil {
		t.Fatal(err)
	}
	r, _ := made(t, c, report.Options{By: bad, File: bad})
	data := bytesOf(t, func(w io.Writer) error { return r.WriteHTML(context.Background(), w) })
	text := htmlText(t, data) // refuses scripts and sources
	if !strings.Contains(text, "<script>alert(1)</script>") || !strings.Contains(text, "&amp;") {
		t.Error("the text does not come out as it was typed")
	}
	if regexp.MustCompile(`<[^>]* onclick=`).Match(data) {
		t.Error("an attribute came out of a text")
	}
	pdfText(t, bytesOf(t, func(w io.Writer) error { return r.WritePDF(context.Background(), w) }))
}

// The pictures within the HTML are XML of their own.
func TestPicturesAreXML(t *testing.T) {
	r, _ := made(t, demo(t, "oat-drink-station-faults"), report.Options{})
	data := bytesOf(t, func(w io.Writer) error { return r.WriteHTML(context.Background(), w) })
	all := regexp.MustCompile(`(?s)<svg.*?</svg>`).FindAll(data, -1)
	if len(all) < len(r.Findings)+20 {
		t.Fatalf("%d pictures for %d findings", len(all), len(r.Findings))
	}
	for _, s := range all {
		d := xml.NewDecoder(bytes.NewReader(s))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%v in %.200s", err, s)
			}
		}
	}
}

func TestPDFIsSound(t *testing.T) {
	r, _ := made(t, demo(t, "pharma-loop-draft"), report.Options{System: quantity.US})
	path := filepath.Join(t.TempDir(), "r.pdf")
	if err := os.WriteFile(path, bytesOf(t, func(w io.Writer) error { return r.WritePDF(context.Background(), w) }), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("qpdf", "--check", path).CombinedOutput(); err != nil {
		t.Errorf("qpdf: %v: %s", err, out)
	}
}

// An empty circuit gives a report that says so.
func TestEmptyCircuit(t *testing.T) {
	r, _ := made(t, model.New(""), report.Options{})
	text := htmlText(t, bytesOf(t, func(w io.Writer) error { return r.WriteHTML(context.Background(), w) }))
	for _, want := range []string{"No findings", "No reviewer has set a mark", "There is no wash programme", "Circuit without a name"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in the report of an empty circuit", want)
		}
	}
	pdfText(t, bytesOf(t, func(w io.Writer) error { return r.WritePDF(context.Background(), w) }))
}

func TestChaptersAreChosen(t *testing.T) {
	chapters, err := report.ParseChapters("signatures, findings")
	if err != nil {
		t.Fatal(err)
	}
	r, _ := made(t, demo(t, "oat-drink-station-faults"), report.Options{Chapters: chapters})
	if !slices.Equal(r.Chapters, []report.Chapter{report.Findings, report.Signatures}) {
		t.Errorf("chapters are %v", r.Chapters)
	}
	text := htmlText(t, bytesOf(t, func(w io.Writer) error { return r.WriteHTML(context.Background(), w) }))
	if strings.Contains(text, "Runs in which liquid moves") || !strings.Contains(text, "Approved by") {
		t.Error("the chapters are not those that were chosen")
	}
	if _, err := report.ParseChapters("findings,pictures"); err == nil || !strings.Contains(err.Error(), "not-assessed") {
		t.Errorf("a chapter that there is not: %v", err)
	}
}

func TestProgressAndCancel(t *testing.T) {
	of := sourceOf(t, demo(t, "oat-drink-station-faults"))
	ctx, cancel := context.WithCancel(context.Background())
	last, calls := -1, 0
	_, err := report.Make(ctx, of, report.Options{Progress: func(done, total int, what string) {
		calls++
		if done < last || done > total || what == "" {
			t.Errorf("progress %d of %d after %d, %q", done, total, last, what)
		}
		if last = done; done > total/4 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) || calls < 10 {
		t.Errorf("cancelled after %d calls: %v", calls, err)
	}
	r, err := report.Make(context.Background(), of, report.Options{Progress: func(done, total int, what string) { last = total - done }})
	if err != nil || last != 0 {
		t.Errorf("%d left at the end, %v", last, err)
	}
	if err := r.WritePDF(ctx, io.Discard); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled PDF: %v", err)
	}
	if err := r.WriteHTML(ctx, io.Discard); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled HTML: %v", err)
	}
	if _, err := report.Make(context.Background(), report.Source{}, report.Options{}); err == nil {
		t.Error("a report of nothing was made")
	}
}

// BenchmarkReport makes and writes a report of 200 findings and more, with all
// chapters, from the result of the checks.
func BenchmarkReport(b *testing.B) {
	c := demo(b, "oat-drink-station-faults")
	of := sourceOf(b, c)
	result := *of.Result
	for len(result.Findings) < 200 {
		result.Findings = append(result.Findings, of.Result.Findings...)
	}
	for _, form := range []string{"pdf", "html", "json"} {
		b.Run(form, func(b *testing.B) {
			b.ReportMetric(float64(len(result.Findings)), "findings")
			for b.Loop() {
				src := of
				src.Result = &result
				src.Snapshot = &checks.Snapshot{Circuit: c, Catalogue: catalogue.Builtin(), Profile: of.Profile}
				r, err := report.Make(context.Background(), src, report.Options{})
				if err != nil {
					b.Fatal(err)
				}
				switch form {
				case "pdf":
					err = r.WritePDF(context.Background(), io.Discard)
				case "html":
					err = r.WriteHTML(context.Background(), io.Discard)
				default:
					err = r.WriteJSON(io.Discard)
				}
				if err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
