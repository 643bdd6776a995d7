package fluid

import "fmt"

// Medium is what a circuit carries, by its chemical name.
type Medium string

const (
	PureWater      Medium = "water"
	RecoveredWater Medium = "recovered-water" // taken as water; its load is not known
	Caustic        Medium = "sodium-hydroxide"
	NitricAcid     Medium = "nitric-acid"
	PhosphoricAcid Medium = "phosphoric-acid"
	PeraceticAcid  Medium = "peracetic-acid"
)

// Media lists the media in the order of their declaration.
func Media() []Medium {
	list := make([]Medium, len(substances))
	for i, s := range substances {
		list[i] = s.medium
	}
	return list
}

// substance is what is known of one medium.
type substance struct {
	medium       Medium
	name         string // in a sentence: "nitric acid"
	density      Basis
	viscosity    Basis
	heat         Basis
	vapour       Basis
	conductivity *Basis  // nil: not known
	perKelvin    float64 // temperature coefficient of conductivity at 25 °C, 1/K; 0: not known
	solute       *solute // nil: taken as water
	thickening   curve   // viscosity relative to water over the mass fraction
	conducts     conduction
}

func substanceOf(m Medium) (*substance, error) {
	for _, s := range substances {
		if s.medium == m {
			return s, nil
		}
	}
	return nil, fmt.Errorf("fluid: %q is not one of the media", m)
}
