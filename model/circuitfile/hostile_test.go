package circuitfile

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"
	"time"
)

// hostileMB is how long the hostile files are.
var hostileMB = flag.Int("hostile-mb", 3, "length of the hostile files in MB, up to 250")

// hostileFiles are texts made to cost time or memory. Each is given a length in
// bytes and what its error must say; empty where any will do.
var hostileFiles = []struct {
	name string
	make func(n int) string
	want string
}{
	{"open brackets", func(n int) string { return strings.Repeat("[", n) }, "deep"},
	{"open objects", func(n int) string { return strings.Repeat(`{"a":`, n/5) }, "deep"},
	{"spaces", func(n int) string { return strings.Repeat(" ", n) }, "the file is empty"},
	{"zeros", func(n int) string { return strings.Repeat("\x00", n) }, "expected a value"},
	{"one long text", func(n int) string { return `"` + strings.Repeat("x", n) + `"` }, "not a circuit file"},
	{"text without end", func(n int) string { return `"` + strings.Repeat("x", n) }, "no closing quote"},
	{"long schema", func(n int) string { return `{"schema": "` + strings.Repeat("x", n) + `"}` }, "not a circuit file"},
	{"many values", func(n int) string {
		return `{"schema": "rinsewright-circuit", "x": [` + strings.Repeat("1,", n/2) + `1]}`
	}, ""},
	{"many keys", func(n int) string {
		return `{"schema": "rinsewright-circuit", ` + strings.Repeat(`"a":1,`, n/6) + `"version": 1}`
	}, "has no key"},
	{"many keys of one part", func(n int) string { return file(valve + `, ` + strings.Repeat(`"a":1,`, n/6) + `"b":1}`) }, "has no key"},
	{"one known key again and again", func(n int) string { return file(valve + strings.Repeat(`, "tag":"a"`, n/11) + `}`) }, "stands twice"},
	{"a long key", func(n int) string { return file(valve + `, "` + strings.Repeat("k", n) + `": 1}`) }, "has no key"},
	{"a long choice", func(n int) string { return file(valve + `, "fails_to": "` + strings.Repeat("k", n) + `"}`) }, "expected one of"},
	{"a long class", func(n int) string { return file(`{"class": "` + strings.Repeat("valve", n/5) + `"}`) }, "expected one of"},
	{"a long number", func(n int) string { return file(valve + `, "kv_m3h": ` + strings.Repeat("9", n) + `}`) }, "too great a number"},
	{"a giant exponent", func(n int) string { return file(valve + `, "kv_m3h": 1e` + strings.Repeat("9", n) + `}`) }, "too great a number"},
	{"a tiny exponent", func(n int) string { return file(valve + `, "bar_max": 1e-` + strings.Repeat("9", n) + `}`) }, ""},
	{"one id again and again", func(n int) string {
		one := valve + "}"
		return file(strings.Repeat(one+",\n", n/(len(one)+2)) + one)
	}, "is taken by the record"},
	{"one long id twice", func(n int) string {
		one := strings.Replace(valve, `"p1"`, `"`+strings.Repeat("p", n/2)+`"`, 1) + "}"
		return file(one + "," + one)
	}, "is taken by the record"},
	{"records without end", func(n int) string { return file(strings.Repeat("{},", n/3) + "{}") }, ""},
	{"a run with bends without end", func(n int) string {
		return strings.Replace(file(valve+"}"), `"parts"`, `"runs": [{"id":"r","from":{},"to":{},"bends_mm":[`+strings.Repeat("[1,2],", n/6)+`[1,2]]}], "parts"`, 1)
	}, "more than 100000"},
	{"keys of a map without end", func(n int) string {
		var b strings.Builder
		for i := 0; b.Len() < n; i++ {
			fmt.Fprintf(&b, `"v%d":"x",`, i)
		}
		return strings.Replace(file(valve+"}"), `"parts"`, `"steps": [{"id":"s","order":1,"name":"x","positions":{`+b.String()+`"v":"y"}}], "parts"`, 1)
	}, "more than 100000"},
	{"escapes", func(n int) string { return file(valve + `, "tag": "` + strings.Repeat(`\u0041`, n/6) + `"}`) }, ""},
	{"no UTF-8", func(n int) string { return strings.Repeat("\xff", n) }, "not UTF-8"},
	{"lines without end", func(n int) string { return strings.Repeat("\n", n) + "x" }, "expected a value"},
}

// Hostile files end in a clear and short error, or are read, in a number of bytes
// of memory that is bounded by the length of the file, and without hanging.
func TestHostileFiles(t *testing.T) {
	if *hostileMB > 250 {
		t.Fatal("-hostile-mb is up to 250")
	}
	for _, h := range hostileFiles {
		t.Run(h.name, func(t *testing.T) {
			text := []byte(h.make(*hostileMB << 20))
			guard := time.AfterFunc(5*time.Minute, func() { // not a matter of speed but of not ending
				debug.SetTraceback("all")
				panic("reading " + h.name + " hangs")
			})
			defer guard.Stop()
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			begin := time.Now()
			_, err := Decode("f", text)
			took := time.Since(begin)
			runtime.ReadMemStats(&after)
			used := after.TotalAlloc - before.TotalAlloc
			t.Logf("%d MB in %v, %d MB of memory claimed in all", len(text)>>20, took.Round(time.Millisecond), used>>20)
			if most := uint64(len(text))*60 + 64<<20; used > most {
				t.Errorf("%d MB of memory claimed for a file of %d MB", used>>20, len(text)>>20)
			}
			switch {
			case err == nil && h.want != "":
				t.Error("it was read")
			case err != nil && len(text) <= MaxBytes && !strings.Contains(err.Error(), h.want):
				t.Errorf("the error %.300q does not say %q", err, h.want)
			case err != nil && len(text) > MaxBytes && !strings.Contains(err.Error(), "longer than"):
				t.Errorf("the error %.300q does not say that the file is too long", err)
			case err != nil && len(err.Error()) > 20_000:
				t.Errorf("the error is %d bytes long: %.300q", len(err.Error()), err)
			}
		})
	}
}

// A file beyond what is read is refused for its length, without being read whole:
// this one is sparse, 8 GB long.
func TestFileOfManyGigabytes(t *testing.T) {
	path := filepath.Join(t.TempDir(), "long.circuit.json")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Truncate(8 << 30); err != nil {
		t.Fatal(err)
	}
	f.Close()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err = ReadFile(path)
	runtime.ReadMemStats(&after)
	if err == nil || !strings.Contains(err.Error(), "longer than") {
		t.Errorf("the error is %v", err)
	}
	if used := after.TotalAlloc - before.TotalAlloc; used > 64<<20 {
		t.Errorf("%d MB claimed to refuse it", used>>20)
	}
}
