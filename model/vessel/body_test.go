package vessel

import (
	"math"
	"slices"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance*max(1, math.Abs(b)) }

func mustNew(t testing.TB, bottom, top model.Shape, d, h quantity.Length) Body {
	t.Helper()
	b, err := New(bottom, top, d, h)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Depth and volume of a whole dished end in diameters: DIN 28011 and DIN 28013
// geometry, computed two ways (closed form and numerical integration of the
// profile) outside this program.
func TestDishedEnds(t *testing.T) {
	for _, c := range []struct {
		shape         model.Shape
		depth, volume float64
	}{
		{model.DIN28011, 0.19377423, 0.09896600},
		{model.DIN28013, 0.25447273, 0.13077173},
	} {
		for _, d := range []quantity.Length{0.3, 1, 4.2} {
			h, err := Depth(c.shape, d)
			if err != nil {
				t.Fatal(err)
			}
			b := mustNew(t, c.shape, model.Flat, d, h)
			d3 := float64(d * d * d)
			if !near(float64(h/d), c.depth, 1e-8) || !near(float64(b.Total())/d3, c.volume, 1e-8) {
				t.Errorf("%s of %v m: depth %v D, volume %v D³", c.shape, d, h/d, float64(b.Total())/d3)
			}
		}
	}
}

// Values of the TANK class of the Python library fluids 1.0.22: upright vessel of
// 2.0 m diameter with 2.5 m of shell and equal dished ends (dish and knuckle as
// DIN 28011 and DIN 28013 give them); the first is 9.437438 m³ with 1.145005 m³ at
// 0.50 m and 8.991221 m³ at 3.00 m. The last has a cone of 60° below (depth
// 0.75 √3 m) and a flat top, diameter 1.5 m, 2.0 m of shell.
func TestAt_ReferenceLibrary(t *testing.T) {
	for _, c := range []struct {
		bottom, top model.Shape
		d, h        quantity.Length
		total       float64
		at          map[quantity.Length]float64
	}{
		{model.DIN28011, model.DIN28011, 2, 3.2750969006805803, 9.437437555863818, map[quantity.Length]float64{
			0.05: 0.015577063574049393, 0.2: 0.24294983187761068, 0.3: 0.5202868245443902, 0.5: 1.1450049232403994,
			1.0: 2.7158012500352955, 2.9: 8.684817179063996, 3.0: 8.991220678701698, 3.2: 9.402446753830215}},
		{model.DIN28013, model.DIN28013, 2, 3.517890928482263, 9.946329370322887, map[quantity.Length]float64{
			0.05: 0.0124354709204596, 0.2: 0.192684349420174, 0.3: 0.4225678537849651, 0.5: 1.0180732974538205,
			1.0: 2.5888671902262104, 2.9: 8.557893232046817, 3.0: 8.872052497405797, 3.2: 9.475551365134795}},
		{model.Cone, model.Flat, 1.5, 3.299038105676658, 4.299488342074828, map[quantity.Length]float64{
			0.3: 0.009424777960769376, 1.0: 0.34906585039886584, 2.0: 2.0038985217158958}},
	} {
		b := mustNew(t, c.bottom, c.top, c.d, c.h)
		if !near(float64(b.Total()), c.total, 1e-9) {
			t.Errorf("%s: total %v, want %v", c.bottom, b.Total(), c.total)
		}
		for level, want := range c.at {
			if got := float64(b.At(level)); !near(got, want, 1e-9) {
				t.Errorf("%s: %v m³ at %v m, want %v", c.bottom, got, level, want)
			}
			if got, err := Volume(c.bottom, c.top, c.d, c.h, level); err != nil || got != b.At(level) {
				t.Errorf("Volume gives %v, %v", got, err)
			}
		}
	}
}

// An upright cylinder with flat ends holds π d²/4 · h (Euclid, Elements XII), a
// cone a third of that.
func TestAt_ClosedForms(t *testing.T) {
	b := mustNew(t, model.Flat, model.Flat, 1.2, 2)
	if got, want := float64(b.At(0.7)), math.Pi*0.36*0.7; !near(got, want, 1e-12) {
		t.Errorf("cylinder: %v, want %v", got, want)
	}
	if b.At(-1) != 0 || b.At(5) != b.Total() {
		t.Errorf("outside the vessel: %v and %v", b.At(-1), b.At(5))
	}
	depth, err := Depth(model.Cone, 1.2)
	if err != nil || !near(float64(depth), 0.6*math.Sqrt(3), 1e-12) {
		t.Errorf("cone of 60° is %v m deep: %v", depth, err)
	}
	c := mustNew(t, model.Cone, model.Flat, 1.2, depth)
	if got, want := float64(c.Total()), math.Pi*0.36*float64(depth)/3; !near(got, want, 1e-12) {
		t.Errorf("cone: %v, want %v", got, want)
	}
}

// A vessel upside down holds from the top what it holds from the bottom.
func TestAt_UpsideDown(t *testing.T) {
	shapes := []model.Shape{model.Flat, model.Cone, model.DIN28011, model.DIN28013}
	for _, low := range shapes {
		for _, high := range shapes {
			a, b := mustNew(t, low, high, 1.6, 3.1), mustNew(t, high, low, 1.6, 3.1)
			for z := quantity.Length(0); z <= 3.1; z += 0.05 {
				if got, want := float64(a.At(z)+b.At(3.1-z)), float64(a.Total()); !near(got, want, 1e-12) {
					t.Fatalf("%s/%s at %v: %v, want %v", low, high, z, got, want)
				}
			}
		}
	}
}

// The surface is what the volume grows by: dV/dz, by central difference.
func TestSurface_IsGrowthOfVolume(t *testing.T) {
	for _, s := range []model.Shape{model.Cone, model.DIN28011, model.DIN28013} {
		b := mustNew(t, s, s, 2, 4)
		for z := quantity.Length(0.03); z < 3.97; z += 0.07 {
			const dz = 1e-6
			want := float64(b.At(z+dz)-b.At(z-dz)) / (2 * dz)
			if got := float64(b.Surface(z)); !near(got, want, 1e-5) {
				t.Errorf("%s at %v: %v m², growth %v", s, z, got, want)
			}
		}
		if b.Surface(-0.1) != 0 || b.Surface(4.1) != 0 {
			t.Errorf("%s: surface outside the vessel", s)
		}
	}
}

func TestLevelFor_IsInverse(t *testing.T) {
	for _, s := range []model.Shape{model.Flat, model.Cone, model.DIN28011, model.DIN28013} {
		b := mustNew(t, s, s, 2, 4)
		for i := range 401 {
			want := quantity.Length(i) / 100
			got, err := b.LevelFor(b.At(want))
			// Near a pointed end the volume tells little of the level.
			if err != nil || math.Abs(float64(got-want)) > 1e-7 {
				t.Errorf("%s: level %v for the volume at %v: %v", s, got, want, err)
			}
		}
		for _, v := range []quantity.Volume{-0.001, b.Total() * 1.001, quantity.Volume(math.NaN())} {
			if l, err := b.LevelFor(v); err == nil {
				t.Errorf("%s: level %v for %v m³", s, l, v)
			}
		}
	}
}

func TestNew_Refuses(t *testing.T) {
	for _, c := range []struct {
		bottom, top model.Shape
		d, h        quantity.Length
		want        string
	}{
		{model.Flat, model.Flat, 0, 1, "above zero"},
		{model.Flat, model.Flat, 1, -1, "above zero"},
		{model.Flat, model.Flat, quantity.Length(math.NaN()), 1, "above zero"},
		{model.Flat, model.Flat, quantity.Length(math.Inf(1)), 1, "above zero"},
		{"round", model.Flat, 1, 1, "not known"},
		{model.Flat, "round", 1, 1, "not known"},
		{model.Cone, model.Cone, 1, 1.7, "do not fit"}, // 2 × 0.866 m
	} {
		if _, err := New(c.bottom, c.top, c.d, c.h); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v", c, err)
		}
		if _, err := Volume(c.bottom, c.top, c.d, c.h, 0.1); err == nil {
			t.Errorf("Volume takes %+v", c)
		}
	}
	if _, err := Depth("round", 1); err == nil {
		t.Error("Depth takes an unknown shape")
	}
}

func TestOf_NamesWhatIsMissing(t *testing.T) {
	v := &model.Vessel{Diameter: quantity.Some(quantity.Length(2)), Top: quantity.Some(model.Flat)}
	if _, missing, err := Of(v); err != nil || !slices.Equal(missing, []string{"height_m", "bottom"}) {
		t.Errorf("missing %v, %v", missing, err)
	}
	v.Height, v.Bottom = quantity.Some(quantity.Length(1)), quantity.Some(model.Flat)
	b, missing, err := Of(v)
	if err != nil || missing != nil || !near(float64(b.Total()), math.Pi, 1e-12) || b.Height() != 1 {
		t.Errorf("%v m³, missing %v, %v", b.Total(), missing, err)
	}
	v.Bottom = quantity.Some(model.Cone)
	if _, _, err := Of(v); err == nil {
		t.Error("a cone of 1.7 m fits into 1 m")
	}
}

func BenchmarkAt(b *testing.B) {
	v := mustNew(b, model.DIN28013, model.DIN28011, 2, 4)
	for b.Loop() {
		v.At(0.3)
	}
}

func BenchmarkLevelFor(b *testing.B) {
	v := mustNew(b, model.DIN28013, model.DIN28011, 2, 4)
	for b.Loop() {
		v.LevelFor(5)
	}
}
