package checks_test

import (
	"context"
	"fmt"

	"rinsewright/checks"
	"rinsewright/checks/checktest"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// ruleLongSuction is a rule of one's own: it needs a name, its documentation and
// one function.
var ruleLongSuction = &checks.Rule{
	Name: "long-suction",
	Doc: checks.Doc{
		Title:    "Long suction line",
		Why:      "A pump far from its tank loses its prime.",
		How:      "The length of each run that ends on the inlet of a pump.",
		Blind:    "Fittings in the line.",
		Remedy:   "Set the pump beside its tank.",
		Cites:    []checks.Citation{{Standing: checks.StandingPractice}},
		Severity: checks.Note,
	},
	Run: func(p *checks.Pass) {
		for _, run := range p.Circuit.Runs() {
			pump, ok := p.Circuit.Part(run.To.Part).(*model.Pump)
			if !ok {
				continue
			}
			length, known := run.Length().Get()
			if !known {
				p.NotAssessed(model.PlaceOf(run.ID), checks.Missing(run.ID, "stretches"))
				continue
			}
			if length > 5 {
				p.Report(checks.Finding{At: model.PlaceOf(run.ID), Measured: checks.Of(length),
					Message: checks.Say("%v draws through %v of tube", p.Name(pump.ID), checks.Of(length))})
			}
		}
	},
}

func Example_customRule() {
	circuit, err := checktest.Sketch(`
part T-1 water-tank
part P-1 centrifugal-pump
run r1 T-1.outlet P-1.a DN50 12/-0.5`)
	if err != nil {
		fmt.Println(err)
		return
	}
	rules := append(checks.Rules(), ruleLongSuction)
	result, err := checks.Run(context.Background(), circuit, catalogue.Builtin(), checks.Builtin("food"), rules)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range result.Findings {
		if f.Rule == ruleLongSuction.Name {
			fmt.Println(f.Severity, f.ID)
			fmt.Println(f.Text(quantity.Metric))
			fmt.Println(f.Text(quantity.US))
			fmt.Println(f.Source)
		}
	}
	// Output:
	// note long-suction@r1
	// P-1 draws through 12 m of tube
	// P-1 draws through 39.4 ft of tube
	// common practice, no source
}

func ExampleRun() {
	circuit, err := checktest.Sketch(`
part T-1 alkali-tank
part LSL-1 level-low-switch
run r1 T-1.low LSL-1.a face`)
	if err != nil {
		fmt.Println(err)
		return
	}
	result, err := checks.Run(context.Background(), circuit, catalogue.Builtin(), checks.Builtin("dairy"), checks.Rules())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range result.Findings {
		if f.Severity == checks.Stop {
			fmt.Println(f.Text(quantity.Metric))
			fmt.Println("  " + f.Fixes[0].Message)
		}
	}
	// Output:
	// T-1 has no high-level switch against overfilling
	//   add a high-level switch to it
}
