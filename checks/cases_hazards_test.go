package checks_test

// supplied is the loop whose tank is filled from the mains through its fill nozzle.
const supplied = loop + `
part X-9 water-supply size=DN50
run r9 X-9.a T-1.fill DN50 2/0
`

// pairOfTanks is an alkali tank and an acid tank, each with a vent and a bund of its own.
const pairOfTanks = `
part T-1 alkali-tank size=DN50 inlet_size=DN50 bund=B-1
part T-2 acid-tank size=DN50 inlet_size=DN50 bund=B-2
part X-1 vent size=DN80
part X-2 vent size=DN80
run r1 T-1.vent X-1.a DN80 1/1
run r2 T-2.vent X-2.a DN80 1/1
`

// oneVent leads both vents to X-1.
const oneVent = pairOfTanks + `
drop X-2
drop r2
part TE-9 tee size=DN80 second_size=DN80
run r1 T-1.vent TE-9.a DN80 1/1
run r2 T-2.vent TE-9.branch DN80 1/1
run r3 TE-9.b X-1.a DN80 1/1
`

// oneSewer leads both outlets through a valve each to one drain.
const oneSewer = pairOfTanks + `
part V-1 butterfly-valve size=DN50
part V-2 butterfly-valve size=DN50
part TE-9 tee size=DN50 second_size=DN50
part X-9 sewer-drain size=DN50
run r5 T-1.outlet V-1.a DN50 face
run r6 T-2.outlet V-2.a DN50 face
run r7 V-1.b TE-9.a DN50 1/0
run r8 V-2.b TE-9.branch DN50 1/0
run r9 TE-9.b X-9.a DN50 1/-0.5
`

// shutHeater is the loop with a steam heater between two valves.
const shutHeater = loop + `
part V-1 butterfly-valve size=DN50
part V-2 butterfly-valve size=DN50
part E-1 plate-heater size=DN50 service_size=DN25
part V-7 steam-control-valve size=DN25
part X-7 steam-supply size=DN25
run r2 P-1.b V-1.a DN50 1/0.1
run r4 V-1.b E-1.a DN50 1/0.1
run r5 E-1.b V-2.a DN50 1/0.1
run r6 V-2.b F-1.a DN50 2/0.2
run r7 X-7.a V-7.a DN25 1/0
run r8 V-7.b E-1.s DN25 1/0
set s1 V-1=open V-2=open V-7=open temperature_C=75
`

// dosed is the loop with caustic from a drum, guarded.
const dosed = loop + `
part X-9 concentrate-supply size=DN25 medium=alkali
part C-9 check-valve size=DN25
part V-9 butterfly-valve size=DN25
run r7 X-9.a V-9.a DN25 1/0
run r8 V-9.b C-9.a DN25 face
run r9 C-9.b T-1.fill DN25 1/0
`

var casesHazards = []ruleCase{
	{"water-joined", "bad", supplied + `
note The tank is shut to the air: its inlet is no break.
set T-1 vented=no
set X-9 backflow=none
want X-9 water-joined "stop: X-9 is joined to the alkali of step alkali-wash: nothing between"`},
	{"water-joined", "break tank", supplied},
	{"water-joined", "straight into the line behind one valve", loop + `
part X-9 water-supply size=DN50 backflow=none
part V-9 butterfly-valve size=DN50
part TE-9 tee size=DN50 second_size=DN50
run r2 P-1.b TE-9.a DN50 2/0.2
run r8 TE-9.b F-1.a DN50 3/0.3
run r9 V-9.b TE-9.branch DN50 face
run r10 X-9.a V-9.a DN50 3/0
want X-9 water-joined "only V-9 between"`},
	{"water-joined", "mix-proof valve", loop + `
part X-9 water-supply size=DN50 backflow=none
part V-9 mix-proof-valve size=DN50 second_size=DN50
run r2 P-1.b V-9.a DN50 2/0.2
run r8 V-9.b F-1.a DN50 3/0.3
run r10 X-9.a V-9.c DN50 3/0`},
	{"water-joined", "reduced-pressure zone told", supplied + `
set T-1 vented=no
set X-9 backflow=reduced-pressure-zone`},
	{"water-joined", "check valve told", supplied + `
set T-1 vented=no
set X-9 backflow=check-valve
want X-9 water-joined "a check valve at the supply, which is no protection"`},
	{"water-joined", "no chemical in any step", supplied + `
set T-1 vented=no
set X-9 backflow=none
step s1 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11`},
	{"water-joined", "protection unknown", supplied + `
set T-1 vented=no
want-not-assessed X-9 water-joined "backflow protection of X-9"`},
	{"water-joined", "vent of the tank unknown", supplied + `
set T-1 vented=
want-not-assessed X-9 water-joined "vented of T-1"`},

	{"chemicals-share-drain", "bad", pairOfTanks + `
set T-2 bund=B-1
want T-1 chemicals-share-drain "stop: sodium hydroxide of T-1 and nitric acid of T-2 stand in one bund, B-1: where they meet they give heat, boiling and spray"`},
	{"chemicals-share-drain", "good", pairOfTanks},
	{"chemicals-share-drain", "acid and hypochlorite", pairOfTanks + `
set T-2 bund=B-1
set T-1 holds=disinfectant chemical=sodium-hypochlorite
want T-1 chemicals-share-drain "give chlorine gas"`},
	{"chemicals-share-drain", "two alkalis may share", pairOfTanks + `
set T-2 bund=B-1 holds=alkali`},
	{"chemicals-share-drain", "alkali and hypochlorite only mix", pairOfTanks + `
set T-2 bund=B-1 holds=disinfectant chemical=sodium-hypochlorite`},
	{"chemicals-share-drain", "one vent", oneVent + `
want X-1 chemicals-share-drain "breathe through one vent, X-1"`},
	{"chemicals-share-drain", "one drain in one step", oneSewer + `
step s1 drain from=T-1 to=X-9 V-1=open V-2=open
want X-9 chemicals-share-drain "run to one drain, X-9, in step drain"`},
	{"chemicals-share-drain", "one drain in two steps", oneSewer + `
step s1 drain from=T-1 to=X-9 V-1=open
step s2 drain from=T-2 to=X-9 V-2=open`},
	{"chemicals-share-drain", "one overflow", pairOfTanks + `
part TE-9 tee size=DN80 second_size=DN80
part X-9 sewer-drain size=DN80
run r5 T-1.overflow TE-9.a DN80 1/-1
run r6 T-2.overflow TE-9.branch DN80 1/-1
run r7 TE-9.b X-9.a DN80 1/-1
want X-9 chemicals-share-drain "overflow into one drain, X-9"`},
	{"chemicals-share-drain", "bund unknown", pairOfTanks + `
set T-2 bund=
want-not-assessed T-1 chemicals-share-drain "bund of T-2"`},
	{"chemicals-share-drain", "disinfectant not named", pairOfTanks + `
set T-2 holds=disinfectant
want-not-assessed T-1 chemicals-share-drain "chemical of T-2"`},

	{"concentrate-unguarded", "bad", loop + `
part X-9 concentrate-supply size=DN25 medium=alkali
run r7 X-9.a T-1.fill DN25 1/0
want X-9 concentrate-unguarded "fix: the line from X-9 lacks a valve that shuts and a check valve"`},
	{"concentrate-unguarded", "good", dosed},
	{"concentrate-unguarded", "no check valve", dosed + `
drop C-9
drop r8
run r9 V-9.b T-1.fill DN25 1/0
want X-9 concentrate-unguarded "lacks a check valve"`},
	{"concentrate-unguarded", "no shut-off", dosed + `
drop V-9
drop r8
run r7 X-9.a C-9.a DN25 1/0
want X-9 concentrate-unguarded "lacks a valve that shuts"`},
	{"concentrate-unguarded", "regulating valve does not shut", dosed + `
part V-9 regulating-valve size=DN25
want X-9 concentrate-unguarded "lacks a valve that shuts"`},
	{"concentrate-unguarded", "dosing pump", dosed + `
drop V-9
part P-9 dosing-pump size=DN25 outlet_size=DN25
run r7 X-9.a P-9.a DN25 1/0
run r8 P-9.b C-9.a DN25 face`},
	{"concentrate-unguarded", "a check valve of the circuit does not count", loop + `
note The concentrate joins the supply line; the check valve stands in that line.
part X-9 concentrate-supply size=DN25 medium=alkali
part V-9 butterfly-valve size=DN25
part TE-9 tee size=DN50 second_size=DN25
part C-9 check-valve size=DN50
run r2 P-1.b TE-9.a DN50 2/0.2
run r4 TE-9.b C-9.a DN50 1/0.1
run r5 C-9.b F-1.a DN50 2/0.2
run r7 X-9.a V-9.a DN25 1/0
run r8 V-9.b TE-9.branch DN25 face
want X-9 concentrate-unguarded "lacks a check valve"`},
	{"concentrate-unguarded", "water needs none", supplied},

	{"trapped-hot", "bad", shutHeater + `
step s0 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 V-1=open V-2=open
set s1 V-1=closed V-2=closed
want E-1 trapped-hot "stop: in step alkali-wash the liquid of E-1 is shut in while it is heated"`},
	{"trapped-hot", "good", shutHeater},
	{"trapped-hot", "one valve open towards the tank", shutHeater + `
note P-1 at rest lets liquid back to T-1.
step s0 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 V-1=open V-2=open
set s1 V-2=closed`},
	{"trapped-hot", "steam shut", shutHeater + `
step s0 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 V-1=open V-2=open
set s1 V-1=closed V-2=closed V-7=closed`},
	{"trapped-hot", "relief valve", shutHeater + `
part TE-9 tee size=DN50 second_size=DN25
part V-9 relief-valve size=DN25 set_bar=6
run r5 E-1.b TE-9.a DN50 1/0.1
run r9 TE-9.b V-2.a DN50 face
run r10 TE-9.branch V-9.a DN25 face
step s0 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 V-1=open V-2=open
set s1 V-1=closed V-2=closed`},
	{"trapped-hot", "check valve before the heater", shutHeater + `
note Forward only: with V-2 shut nothing leaves against the check valve.
drop V-1
part C-1 check-valve size=DN50
run r2 P-1.b C-1.a DN50 1/0.1
run r4 C-1.b E-1.a DN50 1/0.1
step s0 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 V-2=open
step s1 alkali-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=11 V-7=open
want E-1 trapped-hot "shut in"`},
	{"trapped-hot", "electric heater in a warm step", shutHeater + `
part E-1 electric-heater size=DN50
drop V-7
drop r7
drop r8
drop X-7
step s0 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 V-1=open V-2=open
step s1 alkali-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=11 temperature_C=75
want E-1 trapped-hot "shut in"`},
}
