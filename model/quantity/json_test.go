package quantity_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	. "rinsewright/model/quantity"
)

type sample struct {
	Flow        Opt[Flow]        `json:"flow_m3h,omitzero"`
	Temperature Opt[Temperature] `json:"temperature_C,omitzero"`
	Vented      Opt[bool]        `json:"vented,omitzero"`
	Seal        Opt[string]      `json:"seal,omitzero"`
	Elbows      Opt[int]         `json:"elbows,omitzero"`
}

func TestJSON(t *testing.T) {
	tests := []struct {
		value sample
		text  string
	}{
		{sample{}, `{}`},
		{sample{Flow: Some(Flow(0.05))}, `{"flow_m3h":180}`}, // not 180.00000000000003
		{sample{Flow: Some(Flow(0))}, `{"flow_m3h":0}`},      // known and zero is not unknown
		{sample{Temperature: Some(Celsius(-0.5))}, `{"temperature_C":-0.5}`},
		{sample{Temperature: Some(Celsius(82.2))}, `{"temperature_C":82.2}`},
		{sample{Vented: Some(false), Seal: Some(""), Elbows: Some(0)}, `{"vented":false,"seal":"","elbows":0}`},
	}
	for _, tt := range tests {
		got, err := json.Marshal(tt.value)
		if err != nil || string(got) != tt.text {
			t.Errorf("%v is written %s (%v), want %s", tt.value, got, err, tt.text)
		}
		var back sample
		if err := json.Unmarshal([]byte(tt.text), &back); err != nil {
			t.Errorf("%s: %v", tt.text, err)
		}
		again, err := json.Marshal(back)
		if err != nil || string(again) != tt.text {
			t.Errorf("%s is written again as %s (%v)", tt.text, again, err)
		}
	}
}

// Every number of up to twelve figures keeps its text.
func TestJSONKeepsTheText(t *testing.T) {
	for _, text := range []string{"0.1", "0.3", "118", "0.864978", "12345.6789012", "99.9999999999", "0.000001", "0.01", "-0.05", "273.15", "1000000"} {
		for _, key := range []string{"flow_m3h", "temperature_C"} {
			in := `{"` + key + `":` + text + `}`
			var s sample
			if err := json.Unmarshal([]byte(in), &s); err != nil {
				t.Fatal(err)
			}
			out, err := json.Marshal(s)
			if err != nil || string(out) != in {
				t.Errorf("%s is written again as %s (%v)", in, out, err)
			}
		}
	}
}

func TestJSONRefused(t *testing.T) {
	tests := []struct{ text, want string }{
		{`{"flow_m3h":null}`, "leave the key out"},
		{`{"vented":null}`, "leave the key out"},
		{`{"flow_m3h":"18"}`, "expected a number in m³/h"},
		{`{"flow_m3h":1e999}`, "expected a number in m³/h"},
		{`{"vented":1}`, "bool"},
		{`{"elbows":1.5}`, "int"},
	}
	for _, tt := range tests {
		var s sample
		if err := json.Unmarshal([]byte(tt.text), &s); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: error %v, want one with %q", tt.text, err, tt.want)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1)} {
		if _, err := json.Marshal(sample{Flow: Some(Flow(x))}); err == nil {
			t.Errorf("%v is written", x)
		}
	}
}

func TestOpt(t *testing.T) {
	var unknown Opt[Length]
	if _, ok := unknown.Get(); ok || unknown.Known() || !unknown.IsZero() || unknown.Or(3) != 3 {
		t.Error("the zero Opt is known")
	}
	zero := Some(Length(0))
	if v, ok := zero.Get(); !ok || v != 0 || !zero.Known() || zero.IsZero() || zero.Or(3) != 0 {
		t.Error("a known zero counts as unknown")
	}
	unknown.Set(Length(2))
	if unknown.Or(0) != 2 {
		t.Error("Set does not set")
	}
}
