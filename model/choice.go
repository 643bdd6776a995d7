package model

// A choice is a property with a closed list of values. Choices gives them in
// the order in which they are offered.
type choice interface{ Choices() []string }

// Medium is what flows, or what a vessel holds or a terminal supplies.
type Medium string

const (
	Water      Medium = "water"
	Recovered  Medium = "recovered-water"
	Alkali     Medium = "alkali"
	Acid       Medium = "acid"
	Disinfect  Medium = "disinfectant"
	Product    Medium = "product"
	Steam      Medium = "steam"
	Condensate Medium = "condensate"
	Air        Medium = "air"
	Gas        Medium = "gas"
	Sewage     Medium = "sewage"
)

func (Medium) Choices() []string {
	return []string{"water", "recovered-water", "alkali", "acid", "disinfectant", "product",
		"steam", "condensate", "air", "gas", "sewage"}
}

// Cleaning says whether the medium is one that a wash step sends through a
// circuit.
func (m Medium) Cleaning() bool {
	switch m {
	case Water, Recovered, Alkali, Acid, Disinfect:
		return true
	}
	return false
}

// Way is the direction in which a branch or an outlet points in the plant.
type Way string

const (
	Up   Way = "up"
	Side Way = "side"
	Down Way = "down"
)

func (Way) Choices() []string { return []string{"up", "side", "down"} }

// Shape is the form of a vessel's bottom or top. Dished heads are
// torispherical after DIN 28011 (Kloepper) or DIN 28013 (Korbbogen).
type Shape string

const (
	Flat     Shape = "flat"
	Cone     Shape = "cone"
	DIN28011 Shape = "dished-din-28011"
	DIN28013 Shape = "dished-din-28013"
)

func (Shape) Choices() []string {
	return []string{"flat", "cone", "dished-din-28011", "dished-din-28013"}
}

// Actuation is how a valve is moved.
type Actuation string

const (
	Manual    Actuation = "manual"
	Pneumatic Actuation = "pneumatic"
	Electric  Actuation = "electric"
)

func (Actuation) Choices() []string { return []string{"manual", "pneumatic", "electric"} }

// FailsTo is where a valve goes when its air or current fails.
type FailsTo string

const (
	FailsClosed FailsTo = "closed"
	FailsOpen   FailsTo = "open"
	FailsStay   FailsTo = "stays"
)

func (FailsTo) Choices() []string { return []string{"closed", "open", "stays"} }

// FlatSide is the side on which an eccentric reducer is flat.
type FlatSide string

const (
	FlatBottom FlatSide = "bottom"
	FlatTop    FlatSide = "top"
)

func (FlatSide) Choices() []string { return []string{"bottom", "top"} }

// Lie is how a part lies in the plant.
type Lie string

const (
	Level   Lie = "level"
	Upright Lie = "upright"
)

func (Lie) Choices() []string { return []string{"level", "upright"} }

// Purpose is what a wash step is for.
type Purpose string

const (
	FirstRinse   Purpose = "first-rinse"
	AlkaliWash   Purpose = "alkali-wash"
	RinseBetween Purpose = "rinse-between"
	AcidWash     Purpose = "acid-wash"
	Disinfection Purpose = "disinfection"
	FinalRinse   Purpose = "final-rinse"
	Drain        Purpose = "drain"
	AirBlow      Purpose = "air-blow"
	Hold         Purpose = "hold"
	Prepare      Purpose = "prepare"
	Production   Purpose = "production"
)

func (Purpose) Choices() []string {
	return []string{"first-rinse", "alkali-wash", "rinse-between", "acid-wash", "disinfection",
		"final-rinse", "drain", "air-blow", "hold", "prepare", "production"}
}

// Chemical is the agent of a cleaning solution.
type Chemical string

const (
	SodiumHydroxide    Chemical = "sodium-hydroxide"
	NitricAcid         Chemical = "nitric-acid"
	PhosphoricAcid     Chemical = "phosphoric-acid"
	PeraceticAcid      Chemical = "peracetic-acid"
	SodiumHypochlorite Chemical = "sodium-hypochlorite"
)

func (Chemical) Choices() []string {
	return []string{"sodium-hydroxide", "nitric-acid", "phosphoric-acid", "peracetic-acid", "sodium-hypochlorite"}
}

// TimerFrom is when the time of a step begins to count.
type TimerFrom string

const (
	TimerStart      TimerFrom = "start"                  // of the step
	TimerWarm       TimerFrom = "return-warm"            // the return has the step's temperature
	TimerStrong     TimerFrom = "return-strong"          // the return has the step's strength
	TimerWarmStrong TimerFrom = "return-warm-and-strong" // both
)

func (TimerFrom) Choices() []string {
	return []string{"start", "return-warm", "return-strong", "return-warm-and-strong"}
}

// Soil is what a wash is to take off.
type Soil string

const (
	ProteinFat  Soil = "protein-fat"  // milk and its like, not heated
	ProteinBurn Soil = "protein-burn" // the same, burnt on a hot wall
	Starch      Soil = "starch"       // cereal drinks, sauces
	Sugar       Soil = "sugar"        // juices, syrups, soft drinks
	YeastHops   Soil = "yeast-hops"   // fermenters, bright beer, wine
	Wort        Soil = "wort"         // brewhouse
	MineralSoil Soil = "mineral"      // scale alone
)

func (Soil) Choices() []string {
	return []string{"protein-fat", "protein-burn", "starch", "sugar", "yeast-hops", "wort", "mineral"}
}

// Material is what a wall is made of.
type Material string

const (
	Steel304    Material = "steel-1.4301"
	Steel316L   Material = "steel-1.4404"
	Aluminium   Material = "aluminium"
	CopperAlloy Material = "copper-alloy"
)

func (Material) Choices() []string {
	return []string{"steel-1.4301", "steel-1.4404", "aluminium", "copper-alloy"}
}

// HeadGas is what stands above the liquid of a vessel.
type HeadGas string

const (
	AirGas        HeadGas = "air"
	Nitrogen      HeadGas = "nitrogen"
	CarbonDioxide HeadGas = "carbon-dioxide"
)

func (HeadGas) Choices() []string { return []string{"air", "nitrogen", "carbon-dioxide"} }

// Backflow is what keeps liquid of the circuit from running back into a supply.
type Backflow string

const (
	BackflowNone    Backflow = "none"
	BackflowCheck   Backflow = "check-valve"
	BackflowReduced Backflow = "reduced-pressure-zone" // disconnector with a vented middle zone
	BackflowAirGap  Backflow = "air-gap"               // break tank on the side of the mains
)

func (Backflow) Choices() []string {
	return []string{"none", "check-valve", "reduced-pressure-zone", "air-gap"}
}
