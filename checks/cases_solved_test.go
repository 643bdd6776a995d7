package checks_test

// pumped is the loop with all that its flow is solved from: 11 m³/h of water at 80 °C
// in 50 mm, 1.556 m/s. The tank stands 1.2 m full, its surface at 2.2 m; the return
// nozzle lies at 2.62 m. Worked by hand with Colebrook and 1.5 µm: f 0.01569, head
// lost 0.0387 m/m over 16 m, velocity head 0.1235 m, entrance 0.5 and exit 1:
// 0.42 + 0.620 + 0.185 = 1.225 m.
const pumped = loop + `
set T-1 level_m=1.2
set P-1 rated_flow_m3h=11 rated_head_m=1.5 efficiency_pct=55 npsh_required_m=2 motor_kW=0.12
step s1 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1 temperature_C=80
`

// parallel is pumped with two ways of 200 m and 400 m open at once.
const parallel = pumped + `
part TE-1 tee size=DN50 second_size=DN50 elevation_m=1
part TE-2 tee size=DN50 second_size=DN50 elevation_m=1
part V-2 butterfly-valve size=DN50 kv_m3h=175
set P-1 rated_flow_m3h=12 rated_head_m=12
run r2 P-1.b TE-1.a DN50 5/0.5
run r4 TE-1.b TE-2.a DN50 200/0
run r5 TE-2.b F-1.a DN50 1/0
run r6 TE-1.branch V-2.a DN50 200/0
run r7 V-2.b TE-2.branch DN50 200/0
set s1 flow_m3h=10.6 V-2=open
`

// showered is the sprayed vessel, solved: water of 20 °C, the return lifts it from 2 m
// to the nozzle of T-1 at 2.62 m.
const showered = sprayed + `
set T-1 level_m=1.2
set P-1 rated_flow_m3h=12 rated_head_m=35 efficiency_pct=55 npsh_required_m=2 motor_kW=3
set S-1 rated_pressure_bar=2 least_pressure_bar=1 most_pressure_bar=3
set P-2 rated_flow_m3h=14 rated_head_m=6 efficiency_pct=45 npsh_required_m=1.5 motor_kW=1.1
step s1 final-rinse from=T-1 to=T-1 cleans=T-2 flow_m3h=11 running=P-1,P-2 temperature_C=20
`

var casesSolved = []ruleCase{
	{"weak-shear", "bad", pumped + `
note 11 m³/h in 66 mm: 0.893 m/s, Re 161 800, f 0.01647, f ρ v²/8 = 0.01647 x 971.8 x 0.893² / 8 = 1.596 Pa.
set r2 size=DN65
want r2 weak-shear "note: .*: 11 m³/h at 0.893 m/s shear the wall with 1.6 Pa, weaker than 3 Pa"`},
	{"weak-shear", "good", pumped + `
note 4.62 Pa at 1.556 m/s and 80 °C in 50 mm; the table of tubes gives 4.32 Pa at 1.5 m/s.`},
	{"weak-shear", "just at the limit", pumped + `
note By Colebrook 3 Pa in 66 mm at 80 °C are 15.582 m³/h.
set P-1 rated_flow_m3h=20 rated_head_m=4
set r2 size=DN65
set s1 flow_m3h=15.6`},
	{"weak-shear", "just below", pumped + `
set P-1 rated_flow_m3h=20 rated_head_m=4
set r2 size=DN65
set s1 flow_m3h=15.56
want r2 weak-shear "3 Pa"`},
	{"weak-shear", "cold water holds harder", pumped + `
note 15 m³/h in 66 mm: 3.51 Pa at 20 °C, 2.80 Pa at 80 °C.
set P-1 rated_flow_m3h=20 rated_head_m=4
set r2 size=DN65
set s1 flow_m3h=15 temperature_C=20`},
	{"weak-shear", "hot step of the two", pumped + `
set P-1 rated_flow_m3h=20 rated_head_m=4
set r2 size=DN65
set s1 flow_m3h=15 temperature_C=20
step s2 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=15 running=P-1 temperature_C=80
want r2 weak-shear "2.8 Pa"`},
	{"weak-shear", "unknown", pumped + `
set s1 temperature_C=
want-not-assessed s1 weak-shear "temperature of step final-rinse"`},

	{"weak-shear", "unknown in steps alike", pumped + `
note What is missing in one is missing in the other, each told at its own.
set s1 temperature_C=
step s2 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1
want-not-assessed s1 weak-shear "temperature of step"
want-not-assessed s2 weak-shear "temperature of step"`},

	{"laminar-or-unsteady", "bad", pumped + `
note 1 m³/h of 10 °C in 50 mm: 0.1415 m/s x 0.05 m x 999.7 / 0.0013059 = 5415.
set s1 flow_m3h=1 temperature_C=10
want r1 laminar-or-unsteady "Reynolds number of 5415, below 10000: not surely"
want r2 laminar-or-unsteady "5415"
want r3 laminar-or-unsteady "5415"`},
	{"laminar-or-unsteady", "good", pumped},
	{"laminar-or-unsteady", "just at the limit", pumped + `
note Re 10 000 at 10 °C are 0.2613 m/s, 1.8467 m³/h.
set s1 flow_m3h=1.85 temperature_C=10`},
	{"laminar-or-unsteady", "just below", pumped + `
set s1 flow_m3h=1.84 temperature_C=10
want r1 laminar-or-unsteady "below 10000"
want r2 laminar-or-unsteady "below 10000"
want r3 laminar-or-unsteady "below 10000"`},
	{"laminar-or-unsteady", "warm water is thinner", pumped + `
set s1 flow_m3h=1.84 temperature_C=80`},
	{"laminar-or-unsteady", "may be laminar", pumped + `
note 0.7 m³/h at 10 °C: 3790.
set s1 flow_m3h=0.7 temperature_C=10
want r1 laminar-or-unsteady "fix: .* Reynolds number of 3790, below 4000: it may be laminar"
want r2 laminar-or-unsteady "laminar"
want r3 laminar-or-unsteady "laminar"`},
	{"laminar-or-unsteady", "unknown", pumped + `
set s1 medium=
want-not-assessed s1 laminar-or-unsteady "medium"`},

	{"laminar-or-unsteady", "a liquid that is not known", pumped + `
set s1 medium=product
want-not-assessed s1 laminar-or-unsteady "flow of product is not computed"`},

	{"split-flow", "solved", parallel + `
note Tube alone: the head lost is the same over 200 m and 400 m at 59.5 % and 40.5 %, 0.893 and 0.607 m/s; tees and valve take a little from the longer way.
want TE-1 split-flow "fix: the flow divides at TE-1 into 2 open ways, (59[.][0-9]|60[.][0-3]) % at (0.89[0-9]|0.90[0-4]) m/s and (40[.][0-9]|39[.][7-9]) % at (0.60[0-9]|0.59[6-9]) m/s: slower than 1.5 m/s"`},
	{"split-flow", "both ways swept", parallel + `
note 40.5 % of 27 m³/h are 10.9 m³/h, 1.55 m/s.
set P-1 rated_flow_m3h=30 rated_head_m=50
set s1 flow_m3h=27
want TE-1 split-flow "note: .*each way is swept"`},
	{"split-flow", "one way just too slow", parallel + `
note 40.5 % of 25.5 m³/h are 10.3 m³/h, 1.46 m/s.
set P-1 rated_flow_m3h=30 rated_head_m=50
set s1 flow_m3h=25.5
want TE-1 split-flow "fix: .* at 1.4[0-9] m/s.*slower than 1.5 m/s"`},

	{"slow-run", "the pump does not reach what is asked", pumped + `
note At 11 m³/h 1.225 m are needed and the pump gives 0.7 m there.
set P-1 rated_flow_m3h=11 rated_head_m=0.7
want r1 slow-run "slower than 1.5 m/s; the 11 m³/h asked for are not reached"
want r2 slow-run "not reached"
want r3 slow-run "not reached"
want F-1 slow-run "not reached"`},

	{"slow-run", "a vessel fills", showered + `
note Nothing runs in the return: bowl-fills tells why.
run r6 P-2.b T-1.return DN50 5/6.5
set T-1 elevation_m=5.38
run r1 T-1.outlet P-1.a DN50 1/-4.88
set s1 running=P-1`},

	{"undersized-branch", "friction alone", pumped + `
note 2 m³/h in 16 mm: 2.763 m/s, f 0.02181, 0.02181 / 0.016 x 0.3893 = 0.530 m/m. In 20 mm 1.77 m/s and 0.182.
set F-1 needs_flow_m3h=2
set r1 size=DN20
set r2 size=DN15
want r2 undersized-branch "too narrow for F-1: the 2 m³/h that it needs lose 53 % of its length in head, the limit is 50 %; EN 10357-A DN20 would do"`},
	{"undersized-branch", "part of the flow is lost on the way", pumped + `
note V-2 stands open to the sewer in s1.
part TE-1 tee size=DN50 second_size=DN50 elevation_m=1
part V-2 butterfly-valve size=DN50 kv_m3h=175
part X-1 sewer-drain size=DN50
set P-1 rated_flow_m3h=12 rated_head_m=5
run r2 P-1.b TE-1.a DN50 5/0.5
run r4 TE-1.b F-1.a DN50 face
run r5 TE-1.branch V-2.a DN50 1/0
run r6 V-2.b X-1.a DN50 1/-0.5
set s1 V-2=open
want F-1 undersized-branch "F-1 gets .* of the 11 m³/h that step final-rinse asks for; it needs 11 m³/h"`},

	{"spray-starved", "good", showered + `
note pi x 1.8 m x 31 L/min = 175.3 L/min = 10.518 m³/h.`},
	{"spray-starved", "bad", showered + `
note 9 m³/h over 5.655 m: 26.5 L/min a metre.
set s1 flow_m3h=9
want T-2 spray-starved "fix: T-2 is sprayed with 9 m³/h, 26.5 L/min·m of its circumference, less than 31 L/min·m: 10.5 m³/h are needed"`},
	{"spray-starved", "just at the limit", showered + `
set s1 flow_m3h=10.52`},
	{"spray-starved", "just below", showered + `
set s1 flow_m3h=10.515
want T-2 spray-starved "31 L/min·m"`},
	{"spray-starved", "the poorer of two steps", showered + `
step s2 final-rinse from=T-1 to=T-1 cleans=T-2 flow_m3h=10 running=P-1,P-2 temperature_C=20
want T-2 spray-starved "10 m³/h"`},
	{"spray-starved", "dairy accepts less for a plain vessel", showered + `
profile dairy
note pi x 1.8 m x 25 L/min = 8.48 m³/h.
set T-2 agitated=no
set s1 flow_m3h=9`},
	{"spray-starved", "a jet head cleans by impact", showered + `
note pi x 1.8 m x 18.6 L/min = 6.31 m³/h.
part S-1 rotary-jet-head size=DN50 rated_flow_m3h=7 rated_pressure_bar=2 least_pressure_bar=1 most_pressure_bar=3
set s1 flow_m3h=7`},
	{"spray-starved", "a head that turns", showered + `
note pi x 1.8 m x 23.6 L/min = 8.007 m³/h.
part S-1 rotary-spray-head size=DN50 rated_flow_m3h=8 rated_pressure_bar=2 least_pressure_bar=1 most_pressure_bar=3
set s1 flow_m3h=8
want T-2 spray-starved "23.6 L/min·m"`},
	{"spray-starved", "too little pressure", showered + `
note 10.7 m³/h: 2 bar x (10.7/11)² x 0.998 = 1.89 bar.
set S-1 least_pressure_bar=1.9
set s1 flow_m3h=10.7
want S-1 spray-starved "S-1 gets 1.89 bar, less than the 1.9 bar that it needs"`},
	{"spray-starved", "too much pressure", showered + `
note 13 m³/h: 2 bar x (13/11)² x 0.998 = 2.79 bar.
set P-1 rated_flow_m3h=16
set S-1 most_pressure_bar=2.5
set s1 flow_m3h=13
want S-1 spray-starved "S-1 gets 2.79 bar, more than the 2.5 bar"`},
	{"spray-starved", "unknown", showered + `
set S-1 most_pressure_bar=
set T-2 diameter_m=
want-not-assessed S-1 spray-starved "maximum pressure of S-1"
want-not-assessed T-2 spray-starved "diameter of T-2"`},
	{"spray-starved", "not solved", showered + `
set S-1 rated_pressure_bar=
note Where the whole flow passes it is known all the same.
want-not-assessed S-1 spray-starved "rated pressure of S-1"`},

	{"bowl-fills", "good", showered},
	{"bowl-fills", "by its own fall alone", showered + `
note 0.62 m to rise, 7 m x 0.0472 = 0.33 m, entrance and exit 0.19 m, a bend 0.04 m: some 1.2 m must stand in T-2.
drop P-2
drop r6
run r5 T-2.outlet T-1.return DN50 2/-1.5 5/2.12
step s1 final-rinse from=T-1 to=T-1 cleans=T-2 flow_m3h=11 running=P-1 temperature_C=20
want T-2 bowl-fills "fix: in T-2 the liquid stands at 1.[12][0-9]* m before the 11 m³/h that come in can leave by its own fall, above 0.3 m"`},
	{"bowl-fills", "to the top", showered + `
note The nozzle of T-1 lies 5 m above the outlet of T-2, which is 2.5 m high.
run r6 P-2.b T-1.return DN50 5/6.5
set T-1 elevation_m=5.38
run r1 T-1.outlet P-1.a DN50 1/-4.88
set s1 running=P-1
want T-2 bowl-fills "fix: T-2 fills to the top: 11 m³/h come in, 0 m³/h can leave by its own fall"`},
	{"bowl-fills", "puddle just below the limit", showered + `
set P-2 rated_flow_m3h=11 rated_head_m=0.90`},
	{"bowl-fills", "puddle just above the limit", showered + `
set P-2 rated_flow_m3h=11 rated_head_m=0.80
want T-2 bowl-fills "stands at"`},
	{"bowl-fills", "in another step", showered + `
step s2 final-rinse from=T-1 to=T-1 cleans=T-2 flow_m3h=11 running=P-1 temperature_C=20
want T-2 bowl-fills "by its own fall"`},
	{"bowl-fills", "unknown", showered + `
run r6 P-2.b T-1.return DN50 ?/2.12
want-not-assessed T-2 bowl-fills "of run from P-2 to T-1"`},

	{"return-falls-behind", "good", showered},
	{"return-falls-behind", "bad", showered + `
note P-2 is made for the 11 m³/h that come in at the 1.2 m that they need: nothing is left.
set P-2 rated_flow_m3h=11 rated_head_m=1.2
want T-2 return-falls-behind "fix: 11 m³/h come into T-2 and .* at most can leave through P-2: .* more, less than 10 %"`},
	{"return-falls-behind", "just at the limit", showered + `
set P-2 rated_flow_m3h=12.1 rated_head_m=1.4`},
	{"return-falls-behind", "just below", showered + `
set P-2 rated_flow_m3h=12.1 rated_head_m=1.2
want T-2 return-falls-behind "through P-2"`},
	{"return-falls-behind", "cannot draw air", showered + `
part P-2 centrifugal-pump size=DN50 outlet_size=DN50 elevation_m=0.5 rated_flow_m3h=14 rated_head_m=6
want P-2 return-falls-behind "fix: P-2 empties T-2, draws air and does not prime itself"`},
	{"return-falls-behind", "more comes in another step", showered + `
set P-1 rated_flow_m3h=30 rated_head_m=40
set S-1 rated_flow_m3h=30
step s2 final-rinse from=T-1 to=T-1 cleans=T-2 flow_m3h=24 running=P-1,P-2 temperature_C=20
want T-2 return-falls-behind "24 m³/h come into T-2"`},
	{"return-falls-behind", "unknown", showered + `
part P-2 centrifugal-pump size=DN50 outlet_size=DN50 elevation_m=0.5 rated_flow_m3h=14 rated_head_m=6 self_priming=
want-not-assessed P-2 return-falls-behind "self-priming of P-2"`},

	{"air-not-carried", "bad", pumped + `
note 4 m³/h in 50 mm: 0.566 m/s, Fr 0.566 / 0.700 = 0.808. The line goes up 3 m and down 2.5 m.
run r2 P-1.b F-1.a DN50 3/3 2/-2.5
set s1 flow_m3h=4
want r2 air-not-carried "fix: air stays at .* the flow falls with 0.566 m/s, Froude number 0.808, below 1, and no vent"`},
	{"air-not-carried", "good", pumped + `
note 11 m³/h: Fr 2.22.
run r2 P-1.b F-1.a DN50 3/3 2/-2.5`},
	{"air-not-carried", "just at the limit", pumped + `
note Fr 1 in 50 mm is 0.700 m/s, 4.9497 m³/h.
run r2 P-1.b F-1.a DN50 3/3 2/-2.5
set s1 flow_m3h=4.951`},
	{"air-not-carried", "just below", pumped + `
run r2 P-1.b F-1.a DN50 3/3 2/-2.5
set s1 flow_m3h=4.948
want r2 air-not-carried "below 1"`},
	{"air-not-carried", "a vent lets it out", pumped + `
part TE-1 tee size=DN50 second_size=DN50 elevation_m=3.5
part VT-1 vent size=DN50
run r2 P-1.b TE-1.a DN50 3/3
run r4 TE-1.b F-1.a DN50 2/-2.5
run r5 TE-1.branch VT-1.a DN50 0.3/0.3
set s1 flow_m3h=4`},
	{"air-not-carried", "wide tube in one step", pumped + `
note 11 m³/h in 100 mm: 0.389 m/s, Fr 0.393.
run r2 P-1.b F-1.a DN100 3/3 2/-2.5
want r2 air-not-carried "Froude number 0.393"`},
	{"air-not-carried", "rising lines vent themselves", pumped + `
set s1 flow_m3h=4`},

	{"pump-too-small", "good", pumped},
	{"pump-too-small", "bad", pumped + `
note 0.7 m where 1.225 m are needed.
set P-1 rated_head_m=0.7
want P-1 pump-too-small "fix: P-1 gives .* at its full speed, less than the 11 m³/h that step final-rinse asks for; that needs a head of 1.2[23] m"`},
	{"pump-too-small", "just at the limit", pumped + `
set P-1 rated_head_m=1.24`},
	{"pump-too-small", "just below", pumped + `
set P-1 rated_head_m=1.21
want P-1 pump-too-small "needs a head of 1.2[23] m"`},
	{"pump-too-small", "another step asks for more", pumped + `
step s2 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=15 running=P-1 temperature_C=80
want P-1 pump-too-small "less than the 15 m³/h that step final-rinse asks for"`},
	{"pump-too-small", "unknown", pumped + `
set P-1 rated_head_m=
step s2 final-rinse from=T-1 to=T-1 cleans=F-1 running=P-1 temperature_C=80
want-not-assessed P-1 pump-too-small "rated head of P-1"
want-not-assessed s2 pump-too-small "flow of step"`},

	{"pump-off-curve", "good", pumped + `
note n² x 1.2 x 1.5 m - 0.2 x 1.5 m = 1.225 m: n = 0.92; 11 / (0.92 x 11) = 109 %.`},
	{"pump-off-curve", "bad", pumped + `
note n² x 24 - 4 x (11/12)² = 1.225: n = 0.437; 11 / (0.437 x 12) = 210 %.
set P-1 rated_flow_m3h=12 rated_head_m=20
want P-1 pump-off-curve "note: P-1 passes 11 m³/h at 43.[67] % of its speed: 2(09|10) % of its rated flow at that speed, more than 120 % in every step"`},
	{"pump-off-curve", "just at the limit", pumped + `
note 120 %: n = 11 / (1.2 x 10) = 0.9167; 0.8403 x 1.2 H - 0.2 H x 1.21 = 0.7664 H = 1.225 m: H = 1.599 m.
set P-1 rated_flow_m3h=10 rated_head_m=1.58`},
	{"pump-off-curve", "just beyond", pumped + `
set P-1 rated_flow_m3h=10 rated_head_m=1.62
want P-1 pump-off-curve "more than 120 %"`},
	{"pump-off-curve", "another step suits it", pumped + `
note At 8 m³/h some 0.42 + 0.46 = 0.88 m: n² x 1.944 - 0.324 x 0.64 = 0.88: n = 0.748, 8 / (0.748 x 10) = 107 %.
set P-1 rated_flow_m3h=10 rated_head_m=1.62
step s2 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=8 running=P-1 temperature_C=80`},
	{"pump-off-curve", "beyond its end", pumped + `
note At 1.4 x 6 = 8.4 m³/h the curve ends with 0.808 x 1.5 = 1.21 m; the line there takes some 0.42 + 0.49 = 0.91 m.
set P-1 rated_flow_m3h=6 rated_head_m=1.5
want P-1 pump-off-curve "fix: P-1 passes .* at full speed, beyond the end of its curve"
want P-1 pump-off-curve "note: "`},
	{"pump-off-curve", "unknown", pumped + `
set P-1 rated_flow_m3h=
want-not-assessed P-1 pump-off-curve "rated flow of P-1"`},

	{"pump-starved", "good", pumped + `
note (101.325 - 47.415) kPa / (971.8 x 9.80665) = 5.657 m; 2.2 - 0.5 = 1.7 m above; 0.101 m lost: 7.256 m.`},
	{"pump-starved", "bad", pumped + `
set P-1 npsh_required_m=8
want P-1 pump-starved "stop: P-1 has an NPSH of 7.2[56] m at its suction at 80 °C; it needs 8 m, with the margin 10.4 m"`},
	{"pump-starved", "just at the limit", pumped + `
note 7.256 / 1.3 = 5.58 m.
set P-1 npsh_required_m=5.57`},
	{"pump-starved", "just below", pumped + `
set P-1 npsh_required_m=5.6
want P-1 pump-starved "fix: .* it needs 5.6 m, with the margin 7.28 m"`},
	{"pump-starved", "in the hotter step", pumped + `
note 95 °C: 16.716 kPa are 1.772 m, 3.37 m in all; 2.9 m and 30 % are 3.77 m.
set P-1 npsh_required_m=2.9
step s2 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1 temperature_C=95
want P-1 pump-starved "fix: P-1 has an NPSH of 3.3[78] m at its suction at 95 °C"`},
	{"pump-starved", "margin in metres", pumped + `
note 1 m and 0.5 m are more than 1.3 m: at 99 °C (97.8 kPa) 0.376 + 1.7 - 0.1 = 1.97 m are above 1.5 m.
set P-1 npsh_required_m=1
set s1 temperature_C=99`},
	{"pump-starved", "unknown", pumped + `
set P-1 npsh_required_m=
want-not-assessed P-1 pump-starved "npsh required of P-1"`},

	{"motor-overloaded", "good", pumped},
	{"motor-overloaded", "bad", pumped + `
note 971.8 x 9.80665 x 11/3600 x 1.225 / 0.55 = 64.9 W; with 15 % 74.6 W.
set P-1 motor_kW=0.06
want P-1 motor-overloaded "fix: P-1 takes 0.0649 kW at its shaft, with 15 % more than its motor of 0.06 kW gives"`},
	{"motor-overloaded", "just at the limit", pumped + `
set P-1 motor_kW=0.075`},
	{"motor-overloaded", "just beyond", pumped + `
set P-1 motor_kW=0.0742
want P-1 motor-overloaded "with 15 % more"`},
	{"motor-overloaded", "in another step", pumped + `
note The cold water of s2 takes more head and weighs more.
set P-1 motor_kW=0.075 rated_head_m=1.8
step s2 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1 temperature_C=10
want P-1 motor-overloaded "0.07[0-9]* kW"`},
	{"motor-overloaded", "unknown", pumped + `
set P-1 efficiency_pct=
want-not-assessed P-1 motor-overloaded "efficiency of P-1"`},
}
