package edit

import (
	"testing"
	"testing/fstest"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// The kinds of the tests are made for them, so that the places in the tests do
// not depend on how the program's own symbols are drawn.
const testKinds = `[
{"kind":"tank","title":"Tank","class":"vessel","group":"Vessels","prefix":"T","help":"holds liquid",
 "ports":[
  {"name":"outlet","at":[0,20],"way":"down","role":"out","service":"process","size":"size"},
  {"name":"return","at":[-15,0],"way":"left","role":"in","service":"process","size":"inlet_size"},
  {"name":"spray","at":[0,-20],"way":"up","role":"in","service":"process","size":"inlet_size"}],
 "properties":[{"key":"diameter_m","label":"Diameter","help":"inside","least":0.2,"most":10}],
 "symbol":{"box":[-15,-20,15,20],"draw":[{"path":"M -15 -20 H 15 V 20 H -15 Z"}],"tag":[0,0]}},
{"kind":"pump","title":"Pump","class":"pump","group":"Pumps","prefix":"P","help":"moves liquid",
 "ports":[
  {"name":"a","at":[-5,0],"way":"left","role":"in","service":"process","size":"size"},
  {"name":"b","at":[5,0],"way":"right","role":"out","service":"process","size":"outlet_size"}],
 "symbol":{"box":[-5,-5,5,5],"draw":[{"circle":[0,0,5]}],"tag":[0,8]}},
{"kind":"valve","title":"Valve","class":"valve","group":"Valves","prefix":"V","help":"opens and shuts",
 "positions":["closed","open"],"start":{"normal":"closed"},
 "ports":[
  {"name":"a","at":[-5,0],"way":"left","role":"any","service":"process","size":"size"},
  {"name":"b","at":[5,0],"way":"right","role":"any","service":"process","size":"size"}],
 "symbol":{"box":[-5,-5,5,2.5],"draw":[{"path":"M -5 0 H 5"}],"tag":[0,8]}},
{"kind":"check-valve","title":"Check valve","class":"valve","group":"Valves","prefix":"V","help":"passes one way",
 "ports":[
  {"name":"in","at":[-5,0],"way":"left","role":"in","service":"process","size":"size"},
  {"name":"out","at":[5,0],"way":"right","role":"out","service":"process","size":"size"}],
 "symbol":{"box":[-5,-2.5,5,2.5],"draw":[{"path":"M -5 0 H 5"}],"tag":[0,8]}},
{"kind":"divert","title":"Divert valve","class":"valve","group":"Valves","prefix":"V","help":"sends one way or the other",
 "positions":["to-a","to-b"],"start":{"normal":"to-a"},
 "ports":[
  {"name":"c","at":[-5,0],"way":"left","role":"any","service":"process","size":"size"},
  {"name":"a","at":[5,0],"way":"right","role":"any","service":"process","size":"size"},
  {"name":"b","at":[0,5],"way":"down","role":"any","service":"process","size":"size"}],
 "symbol":{"box":[-5,-5,5,5],"draw":[{"path":"M -5 0 H 5"}],"tag":[0,8]}},
{"kind":"tee","title":"Tee","class":"fitting","group":"Fittings","help":"branches","traits":["tee"],
 "ports":[
  {"name":"a","at":[-2.5,0],"way":"left","role":"any","service":"process","size":"size"},
  {"name":"b","at":[2.5,0],"way":"right","role":"any","service":"process","size":"size"},
  {"name":"branch","at":[0,2.5],"way":"down","role":"any","service":"process","size":"second_size"}],
 "symbol":{"box":[-2.5,-1,2.5,2.5],"draw":[{"path":"M -2.5 0 H 2.5"}],"tag":[0,-4]}},
{"kind":"concentric","title":"Concentric reducer","class":"fitting","group":"Fittings","help":"joins two bores","traits":["reducer","concentric"],
 "ports":[
  {"name":"a","at":[-5,0],"way":"left","role":"any","service":"process","size":"size"},
  {"name":"b","at":[5,0],"way":"right","role":"any","service":"process","size":"second_size"}],
 "symbol":{"box":[-5,-2.5,5,2.5],"draw":[{"path":"M -5 0 H 5"}],"tag":[0,-4]}},
{"kind":"eccentric","title":"Eccentric reducer","class":"fitting","group":"Fittings","help":"joins two bores, flat below","traits":["reducer"],
 "ports":[
  {"name":"a","at":[-5,0],"way":"left","role":"any","service":"process","size":"size"},
  {"name":"b","at":[5,0],"way":"right","role":"any","service":"process","size":"second_size"}],
 "symbol":{"box":[-5,-2.5,5,2.5],"draw":[{"path":"M -5 0 H 5"}],"tag":[0,-4]}},
{"kind":"cap","title":"Cap","class":"fitting","group":"Fittings","help":"closes an end","traits":["cap"],
 "ports":[{"name":"a","at":[-2.5,0],"way":"left","role":"any","service":"process","size":"size"}],
 "symbol":{"box":[-2.5,-2.5,2.5,2.5],"draw":[{"path":"M -2.5 0 H 2.5"}],"tag":[0,-4]}},
{"kind":"spray-ball","title":"Spray ball","class":"spray","group":"Spray","prefix":"S","help":"wets the wall",
 "ports":[{"name":"a","at":[0,-5],"way":"up","role":"in","service":"process","size":"size"}],
 "symbol":{"box":[-5,-5,5,5],"draw":[{"circle":[0,0,5]}],"tag":[0,8]}},
{"kind":"frame","title":"Station frame","class":"frame","group":"Frames","help":"a boundary","traits":["boundary"],
 "start":{"width_mm":200,"depth_mm":100},
 "symbol":{"box":[-100,-50,100,50],"draw":[{"path":"M -100 -50 H 100 V 50 H -100 Z"}],"tag":[0,-55]}}
]`

const testTubes = `{"series":"S","title":"test","nominal_unit":"DN","source":"made for the tests",
"sizes":[{"nominal":"40","od_mm":41,"wall_mm":1.5},{"nominal":"50","od_mm":53,"wall_mm":1.5}]}`

const (
	dn40 model.TubeSize = "S DN40"
	dn50 model.TubeSize = "S DN50"
)

func testCatalogue(t testing.TB) *catalogue.Catalogue {
	t.Helper()
	c, err := catalogue.Load(fstest.MapFS{
		"kinds/test.json": {Data: []byte(testKinds)},
		"tubes/test.json": {Data: []byte(testTubes)},
	})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// sheet is a circuit being made for a test.
type sheet struct {
	t   testing.TB
	doc *Document
}

func newSheet(t testing.TB) *sheet {
	return &sheet{t, NewDocument(model.New("test"), testCatalogue(t))}
}

// part adds a part with an id of its own.
func (s *sheet) part(id model.ID, kind string, x, y float64, change ...func(model.Part)) model.ID {
	s.t.Helper()
	p, err := s.doc.cat.Kind(kind).New(id, model.Point{X: x, Y: y})
	if err != nil {
		s.t.Fatal(err)
	}
	for _, f := range change {
		f(p)
	}
	s.put(p)
	return id
}

// run adds a run from port to port.
func (s *sheet) run(id model.ID, from model.ID, fromPort string, to model.ID, toPort string, change ...func(*model.Run)) model.ID {
	s.t.Helper()
	r := &model.Run{ID: id, From: model.End{Part: from, Port: fromPort}, To: model.End{Part: to, Port: toPort}}
	for _, f := range change {
		f(r)
	}
	s.put(r)
	return id
}

func (s *sheet) step(id model.ID, change func(*model.Step)) {
	s.t.Helper()
	st := &model.Step{ID: id, Name: string(id), Order: len(s.doc.Circuit().Steps()) + 1}
	change(st)
	s.put(st)
}

func (s *sheet) put(r model.Record) {
	s.t.Helper()
	s.apply(model.Edit{Label: "make", Changes: []model.Change{model.Adding(r)}}, nil)
}

// apply applies an edit that must be possible, and checks that its inverse
// restores the circuit.
func (s *sheet) apply(e model.Edit, err error) model.Edit {
	s.t.Helper()
	if err != nil {
		s.t.Fatal(err)
	}
	before := s.doc.Circuit()
	after, err := before.Apply(e)
	if err != nil {
		s.t.Fatalf("%s: %v", e.Label, err)
	}
	back, err := after.Apply(e.Inverse())
	if err != nil {
		s.t.Fatalf("inverse of %s: %v", e.Label, err)
	}
	if d := difference(before, back); d != "" {
		s.t.Fatalf("inverse of %s does not restore: %s", e.Label, d)
	}
	if err := s.doc.Apply(e); err != nil {
		s.t.Fatal(err)
	}
	sound(s.t, s.doc.Circuit(), s.doc.cat)
	return e
}

func tagged(tag string) func(model.Part) { return func(p model.Part) { p.Meta().Tag = tag } }

func at(elevation float64) func(model.Part) {
	return func(p model.Part) { p.Meta().Elevation = quantity.Some(quantity.Length(elevation)) }
}

func sized(size model.TubeSize) func(*model.Run) {
	return func(r *model.Run) { r.Size = quantity.Some(size) }
}

func stretched(pairs ...[2]float64) func(*model.Run) {
	return func(r *model.Run) {
		for _, p := range pairs {
			r.Stretches = append(r.Stretches, stretch(p[0], p[1]))
		}
	}
}

func stretch(length, rise float64) model.Stretch {
	return model.Stretch{Length: quantity.Some(quantity.Length(length)), Rise: quantity.Some(quantity.Length(rise))}
}

func bent(points ...model.Point) func(*model.Run) {
	return func(r *model.Run) { r.Bends = points }
}

func pt(x, y float64) model.Point { return model.Point{X: x, Y: y} }
