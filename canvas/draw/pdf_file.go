package draw

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"unicode/utf16"
)

// pdfFile is the body of a PDF: numbered objects and the table of where they lie.
type pdfFile struct {
	b  []byte
	at []int // by object number less one: its place; 0 while only its number is given

	pack *zlib.Writer // used again for each stream: a new one takes a megabyte
}

func (f *pdfFile) begin() {
	f.b = append(f.b, "%PDF-1.6\n%\xe2\xe3\xcf\xd3\n"...) // four bytes above 127: not text
}

// reserve gives the number of an object that is written later.
func (f *pdfFile) reserve() int {
	f.at = append(f.at, 0)
	return len(f.at)
}

// set writes an object.
func (f *pdfFile) set(n int, body string) {
	f.at[n-1] = len(f.b)
	f.b = fmt.Appendf(f.b, "%d 0 obj\n%s\nendobj\n", n, body)
}

// add writes an object and gives its number.
func (f *pdfFile) add(body string) int {
	n := f.reserve()
	f.set(n, body)
	return n
}

// stream writes a stream, packed; entries are those of its dictionary beside the
// length and end in a space.
func (f *pdfFile) stream(entries, content string) int {
	var packed bytes.Buffer
	if f.pack == nil {
		f.pack = zlib.NewWriter(&packed)
	} else {
		f.pack.Reset(&packed)
	}
	f.pack.Write([]byte(content)) // to memory: no error to be had
	f.pack.Close()
	return f.add(fmt.Sprintf("<< %s/Filter /FlateDecode /Length %d >>\nstream\n%s\nendstream", entries, packed.Len(), packed.String()))
}

// end writes the table of objects and the trailer.
func (f *pdfFile) end(root, info int) {
	start := len(f.b)
	f.b = fmt.Appendf(f.b, "xref\n0 %d\n0000000000 65535 f \n", len(f.at)+1)
	for _, at := range f.at {
		f.b = fmt.Appendf(f.b, "%010d 00000 n \n", at)
	}
	f.b = fmt.Appendf(f.b, "trailer\n<< /Size %d /Root %d 0 R /Info %d 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(f.at)+1, root, info, start)
}

// pdfText writes a text string: UTF-16 with its mark of byte order, as hexadecimal
// digits, so that no sign of it can be taken for syntax.
func pdfText(s string) string {
	out := []byte("<FEFF")
	for _, u := range utf16.Encode([]rune(s)) {
		out = fmt.Appendf(out, "%04X", u)
	}
	return string(append(out, '>'))
}
