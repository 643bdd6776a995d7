package catalogue_test

import (
	"reflect"
	"slices"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// The kinds that circuits, checks and demos speak of by name, with the traits
// that the checks find them by.
var wantKinds = map[model.Class]map[string][]string{
	model.ClassVessel: {
		"water-tank":     {catalogue.TraitStorage},
		"alkali-tank":    {catalogue.TraitStorage},
		"acid-tank":      {catalogue.TraitStorage},
		"recovered-tank": {catalogue.TraitStorage},
		"process-vessel": {catalogue.TraitCleaned},
		"balance-tank":   {catalogue.TraitCleaned},
	},
	model.ClassPump: {
		"centrifugal-pump":  nil,
		"self-priming-pump": {catalogue.TraitPriming},
		"lobe-pump":         {catalogue.TraitPriming, catalogue.TraitDisplacement},
		"dosing-pump":       {catalogue.TraitDisplacement},
	},
	model.ClassExchanger: {
		"plate-heater":    {catalogue.TraitSteamHeated},
		"tube-heater":     {catalogue.TraitSteamHeated},
		"electric-heater": nil,
	},
	model.ClassValve: {
		"butterfly-valve":     {catalogue.TraitCleanable},
		"seat-valve":          {catalogue.TraitCleanable},
		"divert-valve":        {catalogue.TraitCleanable},
		"mix-proof-valve":     {catalogue.TraitMixProof},
		"diaphragm-valve":     {catalogue.TraitCleanable},
		"ball-valve":          {catalogue.TraitUncleanable},
		"gate-valve":          {catalogue.TraitUncleanable},
		"globe-valve":         {catalogue.TraitUncleanable},
		"plug-valve":          {catalogue.TraitUncleanable},
		"check-valve":         {catalogue.TraitCheck},
		"relief-valve":        {catalogue.TraitRelief},
		"regulating-valve":    {catalogue.TraitRegulating},
		"steam-control-valve": {catalogue.TraitRegulating},
		"sampling-valve":      {catalogue.TraitSample},
		"vacuum-relief-valve": {catalogue.TraitRelief, catalogue.TraitVent},
		"swing-bend":          {catalogue.TraitCleanable},
	},
	model.ClassSpray: {
		"spray-ball":        {catalogue.TraitSpray},
		"rotary-spray-head": {catalogue.TraitSpray},
		"rotary-jet-head":   {catalogue.TraitSpray},
	},
	model.ClassFitting: {
		"strainer":           {catalogue.TraitStrainer},
		"sight-glass":        nil,
		"concentric-reducer": {catalogue.TraitReducer, catalogue.TraitConcentric},
		"eccentric-reducer":  {catalogue.TraitReducer},
		"tee":                {catalogue.TraitTee},
		"short-tee":          {catalogue.TraitTee, catalogue.TraitShortOutlet},
		"cap":                {catalogue.TraitCap},
		"hose":               nil,
		"hatch":              {catalogue.TraitHatch},
		"agitator":           {catalogue.TraitAgitator},
		"steam-trap":         {catalogue.TraitSteamTrap},
	},
	model.ClassTerminal: {
		"water-supply":       {catalogue.TraitSupply},
		"steam-supply":       {catalogue.TraitSupply},
		"concentrate-supply": {catalogue.TraitSupply},
		"air-supply":         {catalogue.TraitSupply},
		"product-supply":     {catalogue.TraitSupply},
		"condensate-return":  nil,
		"product-outlet":     nil,
		"sewer-drain":        {catalogue.TraitSewer},
		"vent":               {catalogue.TraitVent},
	},
	model.ClassInstrument: {
		"temperature-transmitter":  {catalogue.TraitTemperature},
		"flow-transmitter":         {catalogue.TraitFlow},
		"flow-switch":              {catalogue.TraitFlowSwitch},
		"conductivity-transmitter": {catalogue.TraitConductivity},
		"pressure-transmitter":     {catalogue.TraitPressure},
		"pressure-gauge":           nil,
		"level-high-switch":        {catalogue.TraitLevelHigh},
		"level-low-switch":         {catalogue.TraitLevelLow},
		"level-transmitter":        {catalogue.TraitLevel},
	},
	model.ClassObject: {"filler-line": nil},
	model.ClassFrame: {
		"station-frame": {catalogue.TraitBoundary},
		"control-panel": nil,
	},
}

func TestKindsOfTheTradeAreThere(t *testing.T) {
	c := kinds(t)
	if n := len(c.Kinds()); n < 55 {
		t.Errorf("%d kinds, want at least 55", n)
	}
	for class, names := range wantKinds {
		for name, traits := range names {
			k := c.Kind(name)
			if k == nil {
				t.Errorf("no kind %q", name)
				continue
			}
			if k.Class != class {
				t.Errorf("%s is a %s, want %s", name, k.Class, class)
			}
			for _, trait := range traits {
				if !k.Has(trait) {
					t.Errorf("%s lacks the trait %q", name, trait)
				}
			}
		}
	}
}

// Both a clean and a crevice-ridden part would contradict itself in the checks.
func TestNoKindIsBothCleanableAndNot(t *testing.T) {
	for _, k := range kinds(t).Kinds() {
		if k.Has(catalogue.TraitCleanable) && k.Has(catalogue.TraitUncleanable) {
			t.Errorf("%s is both", k.Name)
		}
	}
}

// A valve with positions starts in one of them, and a path that is open in
// some only is what makes them differ.
func TestNormalPositionIsOneOfTheKind(t *testing.T) {
	for _, k := range kinds(t).Kinds() {
		if k.Class != model.ClassValve {
			continue
		}
		_, asked := k.Property("normal")
		if asked != (len(k.Positions) > 0) {
			t.Errorf("%s has the positions %v; a normal position offered: %v", k.Name, k.Positions, asked)
		}
		p := newPart(t, k).(*model.Valve)
		normal, known := p.Normal.Get()
		if known != asked || known && !slices.Contains(k.Positions, normal) {
			t.Errorf("%s: normal position %q (known: %v) is not one of %v", k.Name, normal, known, k.Positions)
		}
		if !k.Has(catalogue.TraitCheck) && !k.Has(catalogue.TraitRelief) && !slices.ContainsFunc(k.Paths, func(p catalogue.Path) bool { return len(p.OpenIn) > 0 }) {
			t.Errorf("%s: no path depends on its position", k.Name)
		}
	}
}

func TestEveryPortLeadsSomewhere(t *testing.T) {
	for _, k := range kinds(t).Kinds() {
		for _, port := range k.Ports {
			if !slices.ContainsFunc(k.Paths, func(p catalogue.Path) bool { return p.From == port.Name || p.To == port.Name }) {
				t.Errorf("%s: no path at port %q", k.Name, port.Name)
			}
		}
	}
}

// With every position open at once a part is one piece, except where two
// sides never mix: steam and liquid of an exchanger, a relief valve's seat.
func TestPathsJoinThePorts(t *testing.T) {
	for _, k := range kinds(t).Kinds() {
		want := 1
		switch {
		case len(k.Ports) == 0:
			want = 0
		case k.Class == model.ClassExchanger && len(k.Ports) == 4, k.Name == "relief-valve":
			want = 2
		}
		if got := pieces(k); got != want {
			t.Errorf("%s falls into %d pieces, want %d", k.Name, got, want)
		}
	}
}

func pieces(k *catalogue.Kind) int {
	piece := map[string]int{}
	for i, p := range k.Ports {
		piece[p.Name] = i
	}
	for i, p := range k.Inner {
		piece[p.Name] = len(k.Ports) + i
	}
	for range piece { // enough rounds to carry the lowest number along any way
		for _, p := range k.Paths {
			low := min(piece[p.From], piece[p.To])
			piece[p.From], piece[p.To] = low, low
		}
	}
	found := map[int]bool{}
	for _, n := range piece {
		found[n] = true
	}
	return len(found)
}

// The two lines of a mix-proof valve may meet while it is open only, and never
// reach the leak outlet while it is shut: that is what makes it proof.
func TestMixProofValveKeepsItsLinesApart(t *testing.T) {
	k := kinds(t).Kind("mix-proof-valve")
	for _, want := range []struct {
		position               string
		linesMeet              bool
		lowerLeaks, upperLeaks bool
	}{
		{"closed", false, false, false},
		{"open", true, false, false},
		{"lower-lift", false, true, false},
		{"upper-lift", false, false, true},
	} {
		lower, upper := reach(k, want.position, "a"), reach(k, want.position, "c")
		if !lower["b"] || !upper["d"] {
			t.Errorf("%s: a line is not open from end to end", want.position)
		}
		if lower["c"] != want.linesMeet || lower["leak"] != want.lowerLeaks || upper["leak"] != want.upperLeaks {
			t.Errorf("%s: lines meet %v, lower leaks %v, upper leaks %v; want %v, %v, %v", want.position,
				lower["c"], lower["leak"], upper["leak"], want.linesMeet, want.lowerLeaks, want.upperLeaks)
		}
	}
}

func TestDivertValveJoinsOneSide(t *testing.T) {
	k := kinds(t).Kind("divert-valve")
	for position, joined := range map[string]string{"to-a": "a", "to-b": "b"} {
		got := reach(k, position, "c")
		if !got[joined] || got["a"] == got["b"] {
			t.Errorf("%s: from c one reaches a %v, b %v", position, got["a"], got["b"])
		}
	}
}

// A check valve, a pump and a steam trap pass one way only.
func TestOneWayPartsPassFromInToOut(t *testing.T) {
	c := kinds(t)
	for _, name := range []string{"check-valve", "steam-trap", "centrifugal-pump", "self-priming-pump", "lobe-pump", "dosing-pump"} {
		k := c.Kind(name)
		if !reach(k, "", "a")["b"] || reach(k, "", "b")["a"] {
			t.Errorf("%s does not pass from a to b only", name)
		}
	}
	if k := c.Kind("vacuum-relief-valve"); !reach(k, "", "air")["a"] || reach(k, "", "a")["air"] {
		t.Error("a vacuum relief valve lets air in and nothing out")
	}
}

// reach gives the points to which liquid can pass from one in a position.
func reach(k *catalogue.Kind, position, from string) map[string]bool {
	seen := map[string]bool{from: true}
	for range len(k.Paths) {
		for _, p := range k.Paths {
			if len(p.OpenIn) > 0 && !slices.Contains(p.OpenIn, position) {
				continue
			}
			if seen[p.From] {
				seen[p.To] = true
			}
			if seen[p.To] && !p.OneWay {
				seen[p.From] = true
			}
		}
	}
	return seen
}

// A run must leave a symbol without crossing it.
func TestPortsLieAtTheEdgeTheyFace(t *testing.T) {
	for _, k := range kinds(t).Kinds() {
		box := k.Symbol.Box
		for _, p := range k.Ports {
			clear := map[string]bool{"left": p.At[0] <= box[0], "right": p.At[0] >= box[2], "up": p.At[1] <= box[1], "down": p.At[1] >= box[3]}
			if !clear[p.Way] {
				t.Errorf("%s: port %q at %v faces %s inside the box %v", k.Name, p.Name, p.At, p.Way, box)
			}
			for _, q := range k.Ports {
				if p.Name < q.Name && p.At == q.At {
					t.Errorf("%s: ports %q and %q lie on each other", k.Name, p.Name, q.Name)
				}
			}
		}
	}
}

func TestFiguresStayInTheBox(t *testing.T) {
	const over = 1.0 // mm
	for _, k := range kinds(t).Kinds() {
		box := k.Symbol.Box
		if box[0] >= box[2] || box[1] >= box[3] {
			t.Errorf("%s: box %v has no inside", k.Name, box)
		}
		for i, s := range k.Symbol.Draw {
			for _, p := range extent(t, s) {
				if p[0] < box[0]-over || p[0] > box[2]+over || p[1] < box[1]-over || p[1] > box[3]+over {
					t.Errorf("%s: figure %d reaches %.2f, outside the box %v", k.Name, i+1, p, box)
					break
				}
			}
		}
	}
}

// extent gives points that bound a figure; a text is taken as 0.6 of its height
// wide a letter, which holds for common sans-serif letters (common practice, no
// source).
func extent(t *testing.T, s catalogue.Shape) [][2]float64 {
	t.Helper()
	switch {
	case s.Circle != nil:
		x, y, r := s.Circle[0], s.Circle[1], s.Circle[2]
		return [][2]float64{{x - r, y - r}, {x + r, y + r}}
	case s.Text != "":
		letters := len([]rune(s.Text))
		if s.Text == "$letters" {
			letters = 4
		}
		w := 0.3 * s.Size * float64(letters)
		return [][2]float64{{s.At[0] - w, s.At[1] - s.Size/2}, {s.At[0] + w, s.At[1] + s.Size/2}}
	}
	segments, err := catalogue.ParsePath(s.Path)
	if err != nil {
		t.Fatal(err)
	}
	var out [][2]float64
	var at [2]float64
	for _, seg := range segments {
		switch seg.Op {
		case 'M', 'L':
			at = seg.P[0]
			out = append(out, at)
		case 'C':
			for i := 1; i <= 16; i++ {
				out = append(out, cubic(at, seg.P, float64(i)/16))
			}
			at = seg.P[2]
		}
	}
	return out
}

func cubic(from [2]float64, p [3][2]float64, t float64) (out [2]float64) {
	u := 1 - t
	for i := range out {
		out[i] = u*u*u*from[i] + 3*u*u*t*p[0][i] + 3*u*t*t*p[1][i] + t*t*t*p[2][i]
	}
	return out
}

// Every property of a class is offered by some kind of it, save the third seat
// of a valve, which awaits a kind that has one. What no kind offers could never
// be entered.
func TestEveryPropertyCanBeEntered(t *testing.T) {
	offered := map[model.Class]map[string]bool{}
	for _, k := range kinds(t).Kinds() {
		if offered[k.Class] == nil {
			offered[k.Class] = map[string]bool{}
		}
		for _, p := range k.Properties {
			offered[k.Class][p.Key] = true
		}
	}
	for _, class := range model.Classes() {
		for _, p := range model.Properties(model.NewPart(class)) {
			if !offered[class][p.Key] && !(class == model.ClassValve && p.Key == "seat_c_mm") {
				t.Errorf("no kind of class %s offers %q", class, p.Key)
			}
		}
	}
}

// What the paths and ports of a kind are computed from must be offered, or a
// check would ask for data that cannot be given.
func TestWhatPathsNeedCanBeEntered(t *testing.T) {
	for _, k := range kinds(t).Kinds() {
		for _, key := range needs(k) {
			if _, ok := k.Property(key); key != "" && !ok {
				t.Errorf("%s computes with %q but does not offer it", k.Name, key)
			}
		}
	}
}

func needs(k *catalogue.Kind) (keys []string) {
	for _, p := range k.Ports {
		keys = append(keys, p.Size)
		if p.Height != nil {
			keys = append(keys, p.Height.Property)
		}
	}
	for _, p := range k.Paths {
		keys = append(keys, p.Length, p.Bore, p.Volume)
	}
	return keys
}

func TestNewPartsHaveTheirStart(t *testing.T) {
	for _, k := range kinds(t).Kinds() {
		p := newPart(t, k)
		for key := range k.Start {
			prop, ok := model.FindProperty(p, key)
			if !ok {
				t.Errorf("%s: no property %q", k.Name, key)
				continue
			}
			v, known := prop.Value(p)
			if !known {
				t.Errorf("%s: %q is unknown in a new part", k.Name, key)
			}
			if c := prop.Choices(); c != nil && !slices.Contains(c, reflect.ValueOf(v).String()) {
				t.Errorf("%s: %q starts as %v, not one of %v", k.Name, key, v, c)
			}
		}
	}
}

// No dimension is invented for a new part: unknown is not zero, nor a guess.
// The sides of a frame are sizes of the drawing only.
func TestNewPartsHaveNoDimensions(t *testing.T) {
	for _, k := range kinds(t).Kinds() {
		if k.Class == model.ClassFrame {
			continue
		}
		p := newPart(t, k)
		for _, prop := range model.Properties(p) {
			if _, known := prop.Number(p); known {
				t.Errorf("%s: a new part already has %q", k.Name, prop.Key)
			}
		}
	}
}

// Letter codes of the instruments (ISA-5.1-2009, table 4.1, from memory).
func TestInstrumentLetters(t *testing.T) {
	c := kinds(t)
	for name, want := range map[string]string{
		"temperature-transmitter": "TT", "flow-transmitter": "FT", "flow-switch": "FS", "conductivity-transmitter": "AT",
		"pressure-transmitter": "PT", "pressure-gauge": "PI", "level-high-switch": "LSH", "level-low-switch": "LSL", "level-transmitter": "LT",
	} {
		k := c.Kind(name)
		if got := newPart(t, k).(*model.Instrument).Letters.Or(""); got != want || k.Prefix != want {
			t.Errorf("%s has the letters %q and the prefix %q, want %s", name, got, k.Prefix, want)
		}
	}
}

// A seat's fill and a figure's position must tell a shut valve from an open
// one, or a line-up could not be read off the drawing.
func TestPositionsLookDifferent(t *testing.T) {
	for _, k := range kinds(t).Kinds() {
		if len(k.Positions) < 2 {
			continue
		}
		byLook := map[string]string{}
		for _, position := range k.Positions {
			look := ""
			for i, s := range k.Symbol.Draw {
				if !s.Shown(k, position, "") {
					continue
				}
				fill := s.Fill
				if fill == "seat" {
					fill = map[bool]string{true: "paper", false: "ink"}[position == "open"]
				}
				look += string(rune('A'+i)) + fill + " "
			}
			if other, taken := byLook[look]; taken {
				t.Errorf("%s looks the same in %q and %q", k.Name, position, other)
			}
			byLook[look] = position
		}
	}
}

// One way of moving a valve is drawn at a time, and an unknown one not at all
// (ISO 14617-4 has a symbol for each; from memory).
func TestActuationIsDrawnOnce(t *testing.T) {
	for _, k := range kinds(t).Kinds() {
		shown := map[model.Actuation]string{}
		for _, moved := range []model.Actuation{"", model.Manual, model.Pneumatic, model.Electric} {
			for i, s := range k.Symbol.Draw {
				if len(s.Actuated) > 0 && s.Shown(k, "", moved) {
					shown[moved] += string(rune('A' + i))
				}
			}
		}
		if shown[""] != "" {
			t.Errorf("%s draws an actuation that is unknown", k.Name)
		}
		if _, asked := k.Property("actuation"); asked && k.Name != "swing-bend" {
			if shown[model.Manual] == "" || shown[model.Manual] == shown[model.Pneumatic] || shown[model.Pneumatic] == shown[model.Electric] {
				t.Errorf("%s draws its actuations as %v", k.Name, shown)
			}
		}
	}
}

func newPart(t *testing.T, k *catalogue.Kind) model.Part {
	t.Helper()
	p, err := k.New("p1", model.Point{X: 10, Y: 20})
	if err != nil {
		t.Fatalf("%s: %v", k.Name, err)
	}
	return p
}

func kinds(t *testing.T) *catalogue.Catalogue {
	t.Helper()
	return tubes(t)
}
