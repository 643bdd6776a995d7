package edit

import (
	"testing"

	"rinsewright/model"
)

func TestBendsBefore(t *testing.T) {
	line := []model.Point{pt(0, 0), pt(50, 0), pt(50, 40), pt(10, 40), pt(10, 0), pt(10, -20)} // crosses itself at (10, 0)
	bends := []model.Point{pt(50, 0), pt(50, 40), pt(10, 40), pt(10, 0)}
	for _, tt := range []struct {
		at   model.Point
		want int
	}{
		{pt(5, 0), 0}, {pt(30, 0), 0}, {pt(50, 20), 1}, {pt(30, 40), 2}, {pt(10, 20), 3}, {pt(10, -15), 4},
	} {
		if n := bendsBefore(line, bends, spotOn(line, tt.at)); n != tt.want {
			t.Errorf("%d bends before %v, want %d", n, tt.at, tt.want)
		}
	}
}

func TestSameLine(t *testing.T) {
	line := []model.Point{pt(0, 0), pt(50, 0), pt(50, 40)}
	for _, tt := range []struct {
		desc  string
		other []model.Point
		want  bool
	}{
		{"a point on the way", []model.Point{pt(0, 0), pt(20, 0), pt(50, 0), pt(50, 40)}, true},
		{"another corner", []model.Point{pt(0, 0), pt(0, 40), pt(50, 40)}, false},
		{"another end", []model.Point{pt(0, 0), pt(50, 0), pt(50, 45)}, false},
		{"out and back", []model.Point{pt(0, 0), pt(60, 0), pt(50, 0), pt(50, 40)}, false},
		{"none", nil, false},
	} {
		if got := sameLine(line, tt.other); got != tt.want {
			t.Errorf("%s: %v", tt.desc, got)
		}
	}
}
