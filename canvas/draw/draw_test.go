package draw_test

import (
	"fmt"
	"math"
	"testing"
	"testing/fstest"

	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// The kinds of these tests, so that pictures do not change with the data of the
// program: a valve, a tank, an instrument and a frame.
const kinds = `[
{"kind": "valve", "title": "Valve", "class": "valve", "group": "g", "help": "h", "positions": ["closed", "open"],
 "ports": [{"name": "a", "at": [-5, 0], "way": "left", "role": "any", "service": "process"},
           {"name": "b", "at": [5, 0], "way": "right", "role": "any", "service": "process"}],
 "paths": [{"from": "a", "to": "b", "open_in": ["open"]}],
 "symbol": {"box": [-5, -7, 5, 3], "tag": [0, 6],
  "draw": [{"path": "M -5 -3 L 5 3 V -3 L -5 3 Z", "fill": "seat"},
           {"path": "M -2 -3 H 2", "when": ["open"]},
           {"path": "M -2 -7 H 2 V -4 H -2 Z", "actuated": ["pneumatic"]}]}},
{"kind": "tank", "title": "Tank", "class": "vessel", "group": "g", "help": "h",
 "ports": [{"name": "out", "at": [0, 20], "way": "down", "role": "out", "service": "process"},
           {"name": "in", "at": [-10, -20], "way": "up", "role": "in", "service": "process"}],
 "symbol": {"box": [-15, -20, 15, 20], "tag": [0, -12],
  "draw": [{"path": "M -15 -20 H 15 V 15 C 15 18 8 20 0 20 C -8 20 -15 18 -15 15 Z", "fill": "medium", "no_line": true},
           {"path": "M -15 -20 H 15 V 15 C 15 18 8 20 0 20 C -8 20 -15 18 -15 15 Z"}]}},
{"kind": "meter", "title": "Meter", "class": "instrument", "group": "g", "help": "h", "prefix": "FT",
 "ports": [{"name": "a", "at": [0, 5], "way": "down", "role": "any", "service": "process"}],
 "symbol": {"box": [-5, -5, 5, 5], "tag": [0, -7.5],
  "draw": [{"circle": [0, 0, 5], "fill": "paper"}, {"text": "$letters", "at": [0, 0], "size": 2.8}]}},
{"kind": "frame", "title": "Frame", "class": "frame", "group": "g", "help": "h",
 "symbol": {"box": [-50, -50, 50, 50], "tag": [-40, -40], "draw": [{"path": "M -50 -50 H 50 V 50 H -50 Z", "dash": true}]}}
]`

func testKinds(t testing.TB) *catalogue.Catalogue {
	t.Helper()
	cat, err := catalogue.Load(fstest.MapFS{
		"kinds/test.json": {Data: []byte(kinds)},
		"tubes/test.json": {Data: []byte(`{"series": "EN 10357-A", "title": "t", "nominal_unit": "DN", "source": "s",
			"sizes": [{"nominal": "50", "od_mm": 53, "wall_mm": 1.5}]}`)},
	})
	if err != nil {
		t.Fatal(err)
	}
	return cat
}

func apply(t testing.TB, c *model.Circuit, records ...model.Record) *model.Circuit {
	t.Helper()
	var e model.Edit
	for _, r := range records {
		e.Changes = append(e.Changes, model.Adding(r))
	}
	next, err := c.Apply(e)
	if err != nil {
		t.Fatal(err)
	}
	return next
}

func item(id model.ID, kind, tag string, x, y float64) model.Item {
	return model.Item{ID: id, Kind: kind, Tag: tag, At: model.Point{X: x, Y: y}}
}

func pipe(id model.ID, from model.ID, a string, to model.ID, b string, carries model.Medium) *model.Run {
	r := &model.Run{ID: id, From: model.End{Part: from, Port: a}, To: model.End{Part: to, Port: b},
		Size: quantity.Some(model.TubeSize("EN 10357-A DN50"))}
	if carries != "" {
		r.Carries = quantity.Some(carries)
	}
	return r
}

// sample is a small circuit with one of everything that a picture can hold: a
// crossing, a turned part, a frame, and a kind that nobody knows.
func sample(t testing.TB) *model.Circuit {
	valve := func(id model.ID, tag string, x, y float64, turn model.Turn) *model.Valve {
		v := &model.Valve{Item: item(id, "valve", tag, x, y), Actuation: quantity.Some(model.Pneumatic)}
		v.Turn = turn
		return v
	}
	f := &model.Frame{Item: item("p9", "frame", "S-1", 60, 45), Text: quantity.Some("Station")}
	f.Width, f.Depth = quantity.Some(quantity.Millimetres(150)), quantity.Some(quantity.Millimetres(110))
	return apply(t, model.New("sample"),
		&model.Vessel{Item: item("p1", "tank", "T-1", 20, 25), Holds: quantity.Some(model.Alkali)},
		valve("p2", "V-2", 60, 60, 0),
		valve("p3", "V-3", 100, 60, 0),
		valve("p4", "V-4", 80, 20, 1),
		valve("p5", "V-5", 80, 90, 1),
		&model.Instrument{Item: item("p6", "meter", "FT-6", 110, 25)},
		&model.Pump{Item: item("p7", "of-tomorrow", "X-7", 50, 20)},
		f,
		pipe("r1", "p1", "out", "p2", "a", model.Alkali),
		pipe("r2", "p2", "b", "p3", "a", model.Acid),
		pipe("r3", "p4", "b", "p5", "a", model.Water),
	)
}

// plant makes n valves in rows with a run each; every tenth run crosses others.
func plant(t testing.TB, n int) *model.Circuit {
	var records []model.Record
	wide := int(math.Ceil(math.Sqrt(float64(n) * 1.6)))
	media := model.Medium("").Choices()
	id := func(i int) model.ID { return model.ID(fmt.Sprintf("p%05d", i)) }
	for i := range n {
		x, y := float64(i%wide)*25, float64(i/wide)*25
		switch i % 10 {
		case 4:
			records = append(records, &model.Instrument{Item: item(id(i), "meter", fmt.Sprintf("FT-%d", i), x, y)})
		default:
			records = append(records, &model.Valve{Item: item(id(i), "valve", fmt.Sprintf("V-%d", i), x, y),
				Normal: quantity.Some([]string{"closed", "open"}[i%2])})
		}
	}
	for i := range n {
		to := i + 1
		if i%10 == 0 {
			to = i + 2*wide + 3
		}
		records = append(records, pipe(model.ID(fmt.Sprintf("r%05d", i)), id(i), "b", id(to%n), "a", model.Medium(media[i%len(media)])))
	}
	return apply(t, model.New("plant"), records...)
}

func texts(p *draw.Picture, layer draw.Layer) map[string]int {
	out := map[string]int{}
	for _, it := range p.Items {
		if t, ok := it.Figure.(draw.Text); ok && it.Layer == layer {
			out[t.String]++
		}
	}
	return out
}

func runPath(t *testing.T, p *draw.Picture, id model.ID) draw.Path {
	t.Helper()
	for _, it := range p.Items {
		if path, ok := it.Figure.(draw.Path); ok && it.Record == id {
			return path
		}
	}
	t.Fatalf("run %s is not in the picture", id)
	return draw.Path{}
}

func symbolOf(t *testing.T, p *draw.Picture, id model.ID) draw.Symbol {
	t.Helper()
	for _, it := range p.Items {
		if s, ok := it.Figure.(draw.Symbol); ok && it.Record == id && it.Layer != draw.LayerRun {
			return s
		}
	}
	t.Fatalf("part %s is not in the picture", id)
	return draw.Symbol{}
}
