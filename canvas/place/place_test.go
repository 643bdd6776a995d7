package place_test

import (
	"math"
	"testing"
	"testing/fstest"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

const kinds = `[
{"kind": "pump", "title": "Pump", "class": "pump", "group": "g", "help": "h",
 "ports": [{"name": "out", "at": [10, -5], "way": "right", "role": "out", "service": "process"}],
 "symbol": {"box": [-5, -7, 10, 5], "draw": [{"circle": [0, 0, 5]}], "tag": [0, 8]}},
{"kind": "frame", "title": "Frame", "class": "frame", "group": "g", "help": "h",
 "symbol": {"box": [0, 0, 100, 50], "draw": [{"path": "M 0 0 H 100 V 50 H 0 Z"}], "tag": [0, 0]}}
]`

// Places worked out by hand: mirror left to right, then turn clockwise (y down),
// then move.
func TestBoxAndPorts(t *testing.T) {
	cat, err := catalogue.Load(fstest.MapFS{"kinds/test.json": {Data: []byte(kinds)}})
	if err != nil {
		t.Fatal(err)
	}
	kind := cat.Kind("pump")
	rect := func(x0, y0, x1, y1 float64) place.Rect {
		return place.Rect{Min: model.Point{X: x0, Y: y0}, Max: model.Point{X: x1, Y: y1}}
	}
	tests := []struct {
		turn     model.Turn
		mirrored bool
		box      place.Rect
		at, way  model.Point
	}{
		{0, false, rect(95, 93, 110, 105), model.Point{X: 110, Y: 95}, model.Point{X: 1}},
		{1, false, rect(95, 95, 107, 110), model.Point{X: 105, Y: 110}, model.Point{Y: 1}},
		{2, false, rect(90, 95, 105, 107), model.Point{X: 90, Y: 105}, model.Point{X: -1}},
		{3, false, rect(93, 90, 105, 105), model.Point{X: 95, Y: 90}, model.Point{Y: -1}},
		{0, true, rect(90, 93, 105, 105), model.Point{X: 90, Y: 95}, model.Point{X: -1}},
		{1, true, rect(95, 90, 107, 105), model.Point{X: 105, Y: 90}, model.Point{Y: -1}},
	}
	for _, tt := range tests {
		p := &model.Pump{Item: model.Item{ID: "p", Kind: "pump", At: model.Point{X: 100, Y: 100}, Turn: tt.turn, Mirrored: tt.mirrored}}
		if got := place.Box(p, kind); got != tt.box {
			t.Errorf("turn %d, mirrored %v: box %v, want %v", tt.turn, tt.mirrored, got, tt.box)
		}
		port := place.Ports(p, kind)[0]
		if port.Place != tt.at || port.Faces.X != tt.way.X || port.Faces.Y != tt.way.Y {
			t.Errorf("turn %d, mirrored %v: port at %v facing %v, want %v, %v", tt.turn, tt.mirrored, port.Place, port.Faces, tt.at, tt.way)
		}
	}

	f := &model.Frame{Item: model.Item{ID: "f", Kind: "frame", At: model.Point{X: 10, Y: 10}}, Width: quantity.Some(quantity.Millimetres(250))}
	if got, want := place.Box(f, cat.Kind("frame")), rect(10, 10, 260, 60); !near(got, want) {
		t.Errorf("frame of 250 mm: box %v, want %v", got, want)
	}
	if got, want := place.Box(f, nil), rect(0, 5, 20, 15); got != want {
		t.Errorf("unknown kind: box %v, want %v", got, want)
	}
}

func near(a, b place.Rect) bool {
	return math.Abs(a.Min.X-b.Min.X)+math.Abs(a.Min.Y-b.Min.Y)+math.Abs(a.Max.X-b.Max.X)+math.Abs(a.Max.Y-b.Max.Y) < 1e-9
}

func TestNearest(t *testing.T) {
	line := []model.Point{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 20}}
	tests := []struct {
		desc     string
		p        model.Point
		piece    int
		at       model.Point
		distance float64
	}{
		{"beside the first", model.Point{X: 4, Y: 3}, 0, model.Point{X: 4}, 3},
		{"before the start", model.Point{X: -3, Y: -4}, 0, model.Point{}, 5},
		{"beside the second", model.Point{X: 12, Y: 15}, 1, model.Point{X: 10, Y: 15}, 2},
		{"beyond the end", model.Point{X: 13, Y: 24}, 1, model.Point{X: 10, Y: 20}, 5},
		{"equally far from both", model.Point{X: 8, Y: 2}, 0, model.Point{X: 8}, 2},
	}
	for _, tt := range tests {
		piece, at, d := place.Nearest(line, tt.p)
		if piece != tt.piece || at != tt.at || math.Abs(d-tt.distance) > 1e-12 {
			t.Errorf("%s: piece %d at %v, %v away; want %d, %v, %v", tt.desc, piece, at, d, tt.piece, tt.at, tt.distance)
		}
	}
	if _, _, d := place.Nearest(nil, model.Point{}); !math.IsInf(d, 1) {
		t.Errorf("no line: %v away, want infinitely", d)
	}
	if piece, length := place.Longest(line); piece != 1 || length != 20 {
		t.Errorf("longest piece %d of %v, want 1 of 20", piece, length)
	}
}
