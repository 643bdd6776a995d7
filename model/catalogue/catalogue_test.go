package catalogue

import (
	"strings"
	"testing"
	"testing/fstest"
)

// A file holds one JSON value; what follows it is a fault, not silently left out.
func TestTextAfterTheEnd(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{`["a"]`, ""},
		{"[\"a\"]\n \n", ""},
		{`["a"] ["b"]`, "text after the end"},
		{`["a"]]`, "text after the end"},
		{`["a"] x`, "text after the end"},
	} {
		var list []string
		err := readStrict(fstest.MapFS{"kinds/a.json": {Data: []byte(tt.text)}}, "kinds/a.json", &list)
		if (err == nil) != (tt.want == "") || err != nil && !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: error %v, want %q", tt.text, err, tt.want)
		}
	}
}
