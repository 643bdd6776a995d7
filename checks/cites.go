package checks

// Sources that several rules cite.
var (
	commonPractice = Citation{Standing: StandingPractice}
	byComputation  = Citation{Standing: StandingComputed}
	handbook16     = Citation{Source: "Handbook of Hygiene Control in the Food Industry", Clause: "chapter 16", Standing: StandingRead}
	handbook17     = Citation{Source: "Handbook of Hygiene Control in the Food Industry", Clause: "chapter 17", Standing: StandingRead}
	handbook27     = Citation{Source: "Handbook of Hygiene Control in the Food Industry", Clause: "chapter 27", Standing: StandingRead}
	foodSanitation = Citation{Source: "Principles of Food Sanitation", Standing: StandingRead}
)
