package checks_test

import (
	"fmt"
	"strings"
)

var kindOf = map[string]string{
	"P": "centrifugal-pump", "E": "plate-heater", "F": "filler-line", "V": "butterfly-valve", "TE": "tee",
	"TT": "temperature-transmitter", "TI": "temperature-indicator", "FT": "flow-transmitter", "FS": "flow-switch",
	"PT": "pressure-transmitter", "AT": "conductivity-transmitter",
}

// chain is a tank with parts in a row from its outlet to its return, all DN50,
// one metre apart, and one alkali step over them.
func chain(tags string) string {
	var b strings.Builder
	b.WriteString("part T-1 alkali-tank size=DN50 inlet_size=DN50 vented=yes\n")
	last := "T-1.outlet"
	for i, tag := range strings.Fields(tags) {
		prefix, _, _ := strings.Cut(tag, "-")
		fmt.Fprintf(&b, "part %s %s size=DN50\nrun c%d %s %s.a DN50 1/0\n", tag, kindOf[prefix], i, last, tag)
		last = tag + ".b"
	}
	fmt.Fprintf(&b, "run c99 %s T-1.return DN50 1/0\n", last)
	b.WriteString("step s1 alkali-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1\n")
	return b.String()
}

// around leads a second step past the given part of a chain, through a valve.
func around(from, to string) string {
	return fmt.Sprintf(`
part TE-8 tee size=DN50 second_size=DN50
part TE-9 tee size=DN50 second_size=DN50
part V-8 butterfly-valve size=DN50
part V-9 butterfly-valve size=DN50
run d1 %s TE-8.a DN50 1/0
run d2 TE-8.b V-8.a DN50 1/0
run d4 TE-9.b %s DN50 1/0
run d5 TE-8.branch V-9.a DN50 1/0
run d6 V-9.b TE-9.branch DN50 1/0
set s1 V-8=open
step s2 acid-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1 V-9=open
`, from, to)
}

// bypassed leads round what stands between TE-1 and TE-2 of a chain.
const bypassed = `
part V-7 butterfly-valve size=DN50
run d8 TE-1.branch V-7.a DN50 1/0
run d9 V-7.b TE-2.branch DN50 1/0
`

var casesSensors = []ruleCase{
	{"no-supply-flow", "bad", chain("P-1 F-1") + `
want P-1 no-supply-flow "fix: nothing measures flow in the supply before F-1"`},
	{"no-supply-flow", "good", chain("P-1 FT-1 F-1")},
	{"no-supply-flow", "behind what is cleaned", chain("P-1 F-1 FT-1") + `
want P-1 no-supply-flow "nothing measures flow"`},
	{"no-supply-flow", "a switch is no meter", chain("P-1 FS-1 F-1") + `
want P-1 no-supply-flow "nothing measures flow"`},
	{"no-supply-flow", "another step goes past it", chain("P-1 FT-1 F-1") + around("P-1.b", "F-1.a") + `
drop c1
drop c2
run d3 V-8.b FT-1.a DN50 1/0
run d7 FT-1.b TE-9.a DN50 1/0
want P-1 no-supply-flow "nothing measures flow"`},
	{"no-supply-flow", "rinse to sewer of a vessel", sprayed + `
want P-1 no-supply-flow "before T-2"`},
	{"no-supply-flow", "nothing is cleaned", `
part T-1 alkali-tank
part P-1 centrifugal-pump
run r1 T-1.outlet P-1.a DN50 1/0
run r2 P-1.b T-1.return DN50 1/0
step s1 alkali-wash from=T-1 to=T-1
want-not-assessed s1 no-supply-flow "cleans"`},

	{"no-supply-temperature", "bad", chain("P-1 E-1 F-1") + `
want E-1 no-supply-temperature "nothing measures temperature in the supply after E-1 and before F-1"`},
	{"no-supply-temperature", "good", chain("P-1 E-1 TT-1 F-1")},
	{"no-supply-temperature", "before the heater it is too early", chain("P-1 TT-1 E-1 F-1") + `
want E-1 no-supply-temperature "after E-1"`},
	{"no-supply-temperature", "without a heater anywhere will do", chain("TT-1 P-1 F-1")},
	{"no-supply-temperature", "an indicator only shows", chain("P-1 E-1 TI-1 F-1") + `
want E-1 no-supply-temperature "nothing measures temperature"`},
	{"no-supply-temperature", "a cold rinse needs none", chain("P-1 E-1 F-1") + `
step s1 first-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11`},
	{"no-supply-temperature", "a hot rinse does", chain("P-1 E-1 F-1") + `
step s1 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 temperature_C=85
want E-1 no-supply-temperature "nothing measures temperature"`},

	{"no-supply-temperature", "a bypass round the heater is open", chain("P-1 TE-1 E-1 TE-2 TT-1 F-1") + bypassed + `
note TT-1 stands where both ways have met again and sees what goes to F-1.
set s1 V-7=open`},
	{"no-supply-temperature", "before the bypass it is too early", chain("P-1 TT-1 TE-1 E-1 TE-2 F-1") + bypassed + `
set s1 V-7=open
want E-1 no-supply-temperature "after E-1 and before F-1"`},
	{"no-supply-temperature", "beside the bypass it sees a part of the flow", chain("P-1 TE-1 E-1 TT-1 TE-2 F-1") + bypassed + `
note With V-7 open TT-1 sees what the heater leaves, not what goes to F-1.
step s2 acid-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1 V-7=open
want E-1 no-supply-temperature "after E-1 and before F-1"`},

	{"no-supply-pressure", "bad", chain("P-1 F-1") + `
want P-1 no-supply-pressure "nothing measures pressure in the supply after P-1 and before F-1"`},
	{"no-supply-pressure", "good", chain("P-1 PT-1 F-1")},
	{"no-supply-pressure", "before the pump", chain("PT-1 P-1 F-1") + `
want P-1 no-supply-pressure "after P-1"`},
	{"no-supply-pressure", "gauge on a branch", chain("P-1 TE-1 F-1") + `
part PI-1 pressure-gauge size=DN50
set TE-1 second_size=DN50
run r8 TE-1.branch PI-1.a DN50 0.05/0`},
	{"no-supply-pressure", "gauge behind a valve of its own", chain("P-1 TE-1 F-1") + `
note A shut valve blinds the gauge.
part PI-1 pressure-gauge size=DN50
part V-7 butterfly-valve size=DN50
set TE-1 second_size=DN50
run r8 TE-1.branch V-7.a DN50 0.05/0
run r9 V-7.b PI-1.a DN50 0.05/0
want P-1 no-supply-pressure "nothing measures pressure"`},

	{"no-return-temperature", "bad", chain("P-1 F-1") + `
want F-1 no-return-temperature "fix: nothing measures temperature in the return from F-1 to T-1"`},
	{"no-return-temperature", "good", chain("P-1 F-1 TT-2")},
	{"no-return-temperature", "in the supply", chain("P-1 TT-1 F-1") + `
want F-1 no-return-temperature "in the return from F-1"`},
	{"no-return-temperature", "a cold rinse needs none", chain("P-1 F-1") + `
step s1 first-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11`},
	{"no-return-temperature", "the return that it sees is another one", chain("P-1 F-1 TT-2") + around("F-1.b", "T-1.return") + `
drop c2
drop c99
run d3 V-8.b TT-2.a DN50 1/0
run d7 TT-2.b TE-9.a DN50 1/0
want F-1 no-return-temperature "in the return from F-1"`},

	{"no-return-conductivity", "bad", chain("P-1 F-1") + `
want F-1 no-return-conductivity "nothing measures conductivity in the return from F-1 to T-1"`},
	{"no-return-conductivity", "good", chain("P-1 F-1 AT-2")},
	{"no-return-conductivity", "in the supply", chain("P-1 AT-1 F-1") + `
want F-1 no-return-conductivity "in the return"`},
	{"no-return-conductivity", "behind the divert it sees one of two ways", chain("P-1 F-1 AT-2") + around("F-1.b", "T-1.return") + `
drop c2
drop c99
run d3 V-8.b AT-2.a DN50 1/0
run d7 AT-2.b TE-9.a DN50 1/0
want F-1 no-return-conductivity "in the return from F-1"`},
	{"no-return-conductivity", "a vessel that is the destination has no return", `
part T-1 alkali-tank
part P-1 centrifugal-pump
part T-2 process-vessel
run r1 T-1.outlet P-1.a DN50 1/0
run r2 P-1.b T-2.return DN50 1/0
step s1 alkali-wash from=T-1 to=T-2 cleans=T-2`},
	{"no-return-conductivity", "draining needs none", chain("P-1 F-1") + `
step s1 drain from=T-1 to=T-1 cleans=F-1`},

	{"no-return-flow", "bad", chain("P-1 F-1") + `
want F-1 no-return-flow "nothing measures flow in the return from F-1"`},
	{"no-return-flow", "a return that several share is told once, at its pump", sprayed + `
note s1 washes T-2, s2 a filler beside it; both return through P-2, where one switch would see both.
part TE-1 tee size=DN50 second_size=DN50
part TE-2 tee size=DN50 second_size=DN50
part V-1 butterfly-valve size=DN50
part V-2 butterfly-valve size=DN50
part V-3 butterfly-valve size=DN50
part F-1 filler-line size=DN50
run r3 ST-1.b TE-1.a DN50 1/0
run r7 TE-1.b V-1.a DN50 1/1
run r8 V-1.b S-1.a DN50 face
run r9 TE-1.branch V-2.a DN50 1/0
run r10 V-2.b F-1.a DN50 1/0
run r11 F-1.b TE-2.branch DN50 1/-1.5
run r5 T-2.outlet V-3.a DN50 1/-1
run r12 V-3.b TE-2.a DN50 1/-0.5
run r13 TE-2.b P-2.a DN50 face
set s1 V-1=open V-3=open
step s2 alkali-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1,P-2 V-2=open
want P-2 no-return-flow "nothing measures flow in the return through P-2"`},
	{"no-return-flow", "switch", chain("P-1 F-1 FS-2")},
	{"no-return-flow", "meter", chain("P-1 F-1 FT-2")},
	{"no-return-flow", "in the supply", chain("P-1 FT-1 F-1") + `
want F-1 no-return-flow "in the return"`},
	{"no-return-flow", "two objects in a row", chain("P-1 F-1 FS-1 F-2") + `
note The return begins behind the last of them.
set s1 cleans=F-1,F-2
want F-2 no-return-flow "in the return from F-2"`},

	{"no-strength-control", "bad", chain("P-1 F-1") + `
want T-1 no-strength-control "nothing measures the strength of the alkali that comes from T-1"`},
	{"no-strength-control", "in the supply", chain("P-1 AT-1 F-1")},
	{"no-strength-control", "on the tank", chain("P-1 F-1") + `
part AT-3 conductivity-transmitter
run r8 T-1.nozzle AT-3.a face`},
	{"no-strength-control", "in the return only", chain("P-1 F-1 AT-2") + `
want T-1 no-strength-control "strength of the alkali"`},
	{"no-strength-control", "a rinse needs none", chain("P-1 F-1") + `
step s1 first-rinse from=T-1 to=T-1 cleans=F-1`},
	{"no-strength-control", "medium unknown", chain("P-1 F-1") + `
step s1 alkali-wash from=T-1 to=T-1 cleans=F-1 medium=
want-not-assessed s1 no-strength-control "medium of step alkali-wash"`},

	{"flow-meter-upset", "bad", chain("P-1 FT-1 F-1") + `
note 100 mm before are 2 D of 5; 50 mm after are 1 D of 2.
run c1 P-1.b FT-1.a DN50 0.1/0
run c2 FT-1.b F-1.a DN50 0.05/0
want FT-1 flow-meter-upset "note: 100 mm of straight tube before FT-1, 2 D; 5 D are wanted"
want FT-1 flow-meter-upset "note: 50 mm of straight tube after FT-1, 1 D; 2 D are wanted"`},
	{"flow-meter-upset", "good", chain("P-1 FT-1 F-1")},
	{"flow-meter-upset", "just at the limit", chain("P-1 FT-1 F-1") + `
note 5 x 50 = 250 mm, 2 x 50 = 100 mm.
run c1 P-1.b FT-1.a DN50 0.5/0 0.25/0
run c2 FT-1.b F-1.a DN50 0.1/0 0.5/0`},
	{"flow-meter-upset", "just below", chain("P-1 FT-1 F-1") + `
run c1 P-1.b FT-1.a DN50 0.5/0 0.249/0
run c2 FT-1.b F-1.a DN50 0.099/0 0.5/0
want FT-1 flow-meter-upset "249 mm of straight tube before"
want FT-1 flow-meter-upset "99 mm of straight tube after"`},
	{"flow-meter-upset", "the flow comes from the other side", chain("P-1 FT-1 F-1") + `
note Mounted the other way round: 120 mm before its port b are 2.4 D; 1 m after its port a is enough.
run c1 P-1.b FT-1.b DN50 0.12/0
run c2 FT-1.a F-1.a DN50 1/0
want FT-1 flow-meter-upset "120 mm of straight tube before FT-1, 2.4 D"`},
	{"flow-meter-upset", "unknown", chain("P-1 FT-1 F-1") + `
run c1 P-1.b FT-1.a DN50
run c2 FT-1.b F-1.a DN50 ?/0
want-not-assessed FT-1 flow-meter-upset "lengths of the stretches"
want-not-assessed FT-1 flow-meter-upset "lengths of the stretches"`},

	{"sensor-misses-step", "bad", chain("P-1 F-1 AT-2") + around("F-1.b", "T-1.return") + `
note s2 goes past AT-2 and ends on it.
drop c2
drop c99
run d3 V-8.b AT-2.a DN50 1/0
run d7 AT-2.b TE-9.a DN50 1/0
set s2 ends_on=AT-2_below_2_mS/cm
want s2 sensor-misses-step "fix: step acid-wash ends on \"AT-2 below 2 mS/cm\", but its flow does not pass AT-2"`},
	{"sensor-misses-step", "good", chain("P-1 F-1 AT-2") + `
set s1 ends_on=AT-2_below_2_mS/cm`},
	{"sensor-misses-step", "the other step passes it", chain("P-1 F-1 AT-2") + around("F-1.b", "T-1.return") + `
drop c2
drop c99
run d3 V-8.b AT-2.a DN50 1/0
run d7 AT-2.b TE-9.a DN50 1/0
set s1 ends_on=AT-2_below_2_mS/cm`},
	{"sensor-misses-step", "on the tank of the step", chain("P-1 F-1") + `
part LT-1 level-transmitter
run r8 T-1.level LT-1.a face
set s1 ends_on=LT-1<10%`},
	{"sensor-misses-step", "a longer tag is another tag", chain("P-1 F-1 AT-2") + `
note AT-22 is not AT-2; nothing is drawn under that tag.
set s1 ends_on=AT-22_below_2`},

	{"no-sample-point", "bad", chain("P-1 F-1") + `
want F-1 no-sample-point "note: no sampling valve is in the return from F-1 to T-1"`},
	{"no-sample-point", "good", chain("P-1 F-1 TE-1") + `
part V-7 sampling-valve size=DN50
set TE-1 second_size=DN50
run r8 TE-1.branch V-7.a DN50 face`},
	{"no-sample-point", "in the supply", chain("P-1 TE-1 F-1") + `
part V-7 sampling-valve size=DN50
set TE-1 second_size=DN50
run r8 TE-1.branch V-7.a DN50 face
want F-1 no-sample-point "in the return"`},
	{"no-sample-point", "a rinse needs none", chain("P-1 F-1") + `
step s1 first-rinse from=T-1 to=T-1 cleans=F-1`},
	{"no-sample-point", "behind a shut valve", chain("P-1 F-1 TE-1") + `
part V-6 butterfly-valve size=DN50
part V-7 sampling-valve size=DN50
set TE-1 second_size=DN50
run r8 TE-1.branch V-6.a DN50 face
run r9 V-6.b V-7.a DN50 face
want F-1 no-sample-point "no sampling valve"`},
}
