package checks

var ruleDeviationExpired = &Rule{
	Name: "deviation-expired",
	Doc: Doc{
		Title:    "A deviation does not hold",
		Why:      "A finding is accepted by a person, for a reason, until a day. Past that day, or where it has grown, somebody must look again.",
		How:      "Of each deviation whose finding is there: compares its expiry with today, the severity and the steps of the finding with what was accepted, and asks for a reason, a name and a date. The finding itself counts again beside this.",
		Blind:    "Whether the reason was a good one. The day is that of the computer's clock.",
		Remedy:   "Put the finding right, or have it accepted anew.",
		Cites:    []Citation{{Standing: StandingPractice}},
		Severity: Fix,
	},
	Run:   runDeviationExpired,
	Audit: true,
}

func runDeviationExpired(p *Pass) {
	for _, j := range p.Deviations() {
		switch j.State {
		case DeviationExpired, DeviationIncomplete, DeviationOutgrown:
			p.reportDeviation(j, Say("accepted by %v on %v, but %v; the finding counts", orNobody(p, j), orNoDay(p, j), j.Why))
		}
	}
}
