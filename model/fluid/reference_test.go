package fluid

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os/exec"
	"testing"

	"rinsewright/model/quantity"
)

// question asks the reference library for one value; see testdata/iapws_reference.py.
type question struct {
	Kind string  `json:"kind"`
	X    float64 `json:"x"`
	Y    float64 `json:"y"`
}

// asked is a question with our own answer to it.
type asked struct {
	question
	ours []float64
}

// TestAgainstReferenceLibrary compares random states with the iapws library for
// Python (Debian package python3-iapws 1.5), all in one process.
func TestAgainstReferenceLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 97))
	between := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	var all []asked
	ask := func(kind string, x, y float64, ours ...float64) {
		all = append(all, asked{question{kind, x, y}, ours})
	}
	for range 300 {
		T := between(273.16, 623)
		p := between(saturationPressure(T), highestPressure)
		s := must(At(quantity.Temperature(T), quantity.Pressure(p)))(t)
		ask("region1", T, p, s.Volume, float64(s.Enthalpy), float64(s.Entropy), float64(s.HeatCapacity))
		ask("viscosity", float64(s.Density()), T, float64(s.Viscosity()))
		ask("conductance", float64(s.Density()), T, float64(s.Conductance()))
		ask("ph1", p, float64(s.Enthalpy), float64(must(TemperatureOfEnthalpy(s.Pressure, s.Enthalpy))(t)))
		ask("ps1", p, float64(s.Entropy), float64(must(TemperatureOfEntropy(s.Pressure, s.Entropy))(t)))

		T = between(273.16, 1073)
		high := highestPressure
		if T <= highestLiquid {
			high = saturationPressure(T)
		} else if b := boundary23Pressure(T); b < high {
			high = b
		}
		p = between(700, high)
		if T <= highestLiquid && high <= 700 {
			continue
		}
		s = must(At(quantity.Temperature(T), quantity.Pressure(p)))(t)
		ask("region2", T, p, s.Volume, float64(s.Enthalpy), float64(s.Entropy), float64(s.HeatCapacity))
		ask("viscosity", float64(s.Density()), T, float64(s.Viscosity()))
		ask("conductance", float64(s.Density()), T, float64(s.Conductance()))
		ask("ph2", p, float64(s.Enthalpy), float64(must(TemperatureOfEnthalpy(s.Pressure, s.Enthalpy))(t)))
		ask("ps2", p, float64(s.Entropy), float64(must(TemperatureOfEntropy(s.Pressure, s.Entropy))(t)))

		T = between(273.16, 647)
		ask("psat", T, 0, float64(must(SaturationPressure(quantity.Temperature(T)))(t)))
		p = between(700, 22e6)
		ask("tsat", p, 0, float64(must(SaturationTemperature(quantity.Pressure(p)))(t)))
	}
	theirs := askReference(t, all)
	for i, a := range all {
		for k := range a.ours {
			nearly(t, fmt.Sprintf("%s(%.9g, %.9g)[%d]", a.Kind, a.X, a.Y, k), a.ours[k], theirs[i][k], 1e-11)
		}
	}
}

// must turns a pair of value and error into the value, failing the test on an error.
func must[T any](v T, err error) func(*testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func askReference(t *testing.T, all []asked) [][]float64 {
	t.Helper()
	questions := make([]question, len(all))
	for i, a := range all {
		questions[i] = a.question
	}
	in, err := json.Marshal(questions)
	if err != nil {
		t.Fatal(err)
	}
	// The interpreter is named by its path: another python3 may come first and
	// would lack the library.
	cmd := exec.Command("/usr/bin/python3", "testdata/iapws_reference.py")
	cmd.Stdin = bytes.NewReader(in)
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("the reference needs the Debian package python3-iapws: %v\n%s", err, complaint.String())
	}
	var answers [][]float64
	if err := json.Unmarshal(out, &answers); err != nil {
		t.Fatal(err)
	}
	if len(answers) != len(all) {
		t.Fatalf("asked %d questions, got %d answers", len(all), len(answers))
	}
	return answers
}
