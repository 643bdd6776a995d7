package draw_test

import (
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// Letters over loop number in the balloon: ISA-5.1 (from memory).
func TestLoopNumber(t *testing.T) {
	cat := catalogue.Builtin()
	tests := []struct {
		kind, tag, letters, want string
		ok                       bool
	}{
		{"temperature-transmitter", "TT-101", "", "101", true},
		{"temperature-transmitter", "TIC-101", "TIC", "101", true},
		{"temperature-transmitter", "TIC-101", "", "", false}, // letters of the balloon and of the tag differ
		{"level-high-switch", "LSH-7B", "", "7B", true},
		{"level-high-switch", "LSH-", "", "", false},
		{"level-high-switch", "", "", "", false},
	}
	for _, tt := range tests {
		p := &model.Instrument{Item: model.Item{ID: "p1", Kind: tt.kind, Tag: tt.tag}}
		if tt.letters != "" {
			p.Letters = quantity.Some(tt.letters)
		}
		if got, ok := draw.LoopNumber(p, cat.Kind(tt.kind)); got != tt.want || ok != tt.ok {
			t.Errorf("%s %q %q: %q %v, want %q %v", tt.kind, tt.tag, tt.letters, got, ok, tt.want, tt.ok)
		}
	}
	v := &model.Valve{Item: model.Item{ID: "p2", Kind: "butterfly-valve", Tag: "V-1"}}
	if _, ok := draw.LoopNumber(v, cat.Kind("butterfly-valve")); ok {
		t.Error("a valve has a loop number")
	}
}
