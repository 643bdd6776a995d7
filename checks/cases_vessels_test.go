package checks_test

// sprayed is a vessel washed through a strainer and a spray ball. Bottom outlet at
// 2 m, spray nozzle at 4.5 m.
const sprayed = `
part T-1 alkali-tank size=DN50 inlet_size=DN50 diameter_m=1.2 height_m=1.8 elevation_m=1 vented=yes
part P-1 centrifugal-pump size=DN50 outlet_size=DN50 elevation_m=0.5
part ST-1 strainer size=DN50 mesh_mm=0.5
part S-1 spray-ball size=DN50 rated_flow_m3h=11
part T-2 process-vessel size=DN50 inlet_size=DN50 diameter_m=1.8 height_m=2.5 elevation_m=2 vented=yes
part P-2 self-priming-pump size=DN50 outlet_size=DN50 elevation_m=0.5
run r1 T-1.outlet P-1.a DN50 1/-0.5
run r2 P-1.b ST-1.a DN50 5/3
run r3 ST-1.b S-1.a DN50 1/1
run r4 S-1.out T-2.spray face
run r5 T-2.outlet P-2.a DN50 2/-1.5
run r6 P-2.b T-1.return DN50 5/2.12
step s1 alkali-wash from=T-1 to=T-1 cleans=T-2 flow_m3h=11 running=P-1,P-2
`

// filled is the same with the product line on the vessel, kept off by one valve.
const filled = sprayed + `
part V-9 butterfly-valve size=DN50
part X-9 product-supply size=DN50
run r8 V-9.b T-2.product_in DN50 face
run r9 X-9.a V-9.a DN50 3/0
`

var casesVessels = []ruleCase{
	{"spray-missing", "bad", sprayed + `
drop S-1
drop r4
run r3 ST-1.b T-2.return DN50 1/1
want T-2 spray-missing "stop: T-2 is cleaned but has no spray device"`},
	{"spray-missing", "good", sprayed},
	{"spray-missing", "no flow comes to it", sprayed + `
part TE-1 tee size=DN50 second_size=DN50
part V-1 butterfly-valve size=DN50
run r3 ST-1.b TE-1.a DN50 1/1
run r7 TE-1.b V-1.a DN50 face
run r8 V-1.b S-1.a DN50 face
run r9 TE-1.branch T-2.return DN50 1/0
want T-2 spray-missing "no flow comes to its spray device S-1"`},
	{"spray-missing", "fed in another step", sprayed + `
note In s1 the liquid comes in by the return nozzle only, in s2 by the spray ball.
part TE-1 tee size=DN50 second_size=DN50
part V-1 butterfly-valve size=DN50
part V-2 butterfly-valve size=DN50
run r3 ST-1.b TE-1.a DN50 1/1
run r7 TE-1.b V-1.a DN50 face
run r8 V-1.b S-1.a DN50 face
run r9 TE-1.branch V-2.a DN50 1/0
run r10 V-2.b T-2.return DN50 1/0
set s1 V-2=open
step s2 acid-wash from=T-1 to=T-1 cleans=T-2 flow_m3h=11 V-1=open`},
	{"spray-missing", "not cleaned", sprayed + `
drop S-1
drop r4
run r3 ST-1.b T-2.return DN50 1/1
step s1 alkali-wash from=T-1 to=T-1 flow_m3h=11`},
	{"spray-missing", "an object needs none", loop},

	{"spray-unprotected", "bad", sprayed + `
drop ST-1
drop r3
run r2 P-1.b S-1.a DN50 5/4
want S-1 spray-unprotected "fix: no strainer stands before S-1 on the way from T-1"`},
	{"spray-unprotected", "good", sprayed},
	{"spray-unprotected", "bypass open", sprayed + `
part TE-1 tee size=DN50 second_size=DN50
part TE-2 tee size=DN50 second_size=DN50
part V-1 butterfly-valve size=DN50
run r2 P-1.b TE-1.a DN50 5/3
run r7 TE-1.b ST-1.a DN50 1/0
run r3 ST-1.b TE-2.a DN50 1/1
run r8 TE-2.b S-1.a DN50 face
run r9 TE-1.branch V-1.a DN50 1/0
run r10 V-1.b TE-2.branch DN50 1/1
set s1 V-1=open
want S-1 spray-unprotected "no strainer"`},
	{"spray-unprotected", "bypass shut", sprayed + `
part TE-1 tee size=DN50 second_size=DN50
part TE-2 tee size=DN50 second_size=DN50
part V-1 butterfly-valve size=DN50
run r2 P-1.b TE-1.a DN50 5/3
run r7 TE-1.b ST-1.a DN50 1/0
run r3 ST-1.b TE-2.a DN50 1/1
run r8 TE-2.b S-1.a DN50 face
run r9 TE-1.branch V-1.a DN50 1/0
run r10 V-1.b TE-2.branch DN50 1/1`},
	{"spray-unprotected", "strainer after it does not help", sprayed + `
drop ST-1
drop r3
part ST-2 strainer size=DN50
run r2 P-1.b S-1.a DN50 5/4
run r5 T-2.outlet ST-2.a DN50 1/-1
run r7 ST-2.b P-2.a DN50 1/-0.5
want S-1 spray-unprotected "no strainer"`},
	{"spray-unprotected", "strainer before the pump", sprayed + `
drop ST-1
drop r3
part ST-2 strainer size=DN50
run r1 T-1.outlet ST-2.a DN50 face
run r7 ST-2.b P-1.a DN50 1/-0.5
run r2 P-1.b S-1.a DN50 5/4`},

	{"product-touches-cleaning", "bad", filled + `
want V-9 product-touches-cleaning "stop: only one closed seat of V-9 keeps the alkali of step alkali-wash from the product of X-9"`},
	{"product-touches-cleaning", "mix-proof valve", sprayed + `
part V-9 mix-proof-valve size=DN50 second_size=DN50
part X-9 product-supply size=DN50
run r8 V-9.a T-2.product_in DN50 face
run r9 X-9.a V-9.c DN50 3/0`},
	{"product-touches-cleaning", "swing bend away", sprayed + `
part V-9 swing-bend size=DN50
part X-9 product-supply size=DN50
run r8 V-9.b T-2.product_in DN50 face
run r9 X-9.a V-9.a DN50 3/0`},
	{"product-touches-cleaning", "swing bend joined and a valve", sprayed + `
note The bend was left in; one seat remains.
part V-9 swing-bend size=DN50
part V-10 butterfly-valve size=DN50
part X-9 product-supply size=DN50
run r8 V-9.b T-2.product_in DN50 face
run r7 V-10.b V-9.a DN50 1/0
run r9 X-9.a V-10.a DN50 3/0
set s1 V-9=joined
want V-10 product-touches-cleaning "one closed seat of V-10"`},
	{"product-touches-cleaning", "two valves with a drained middle", filled + `
part V-10 butterfly-valve size=DN50
part V-11 butterfly-valve size=DN25 normal=open
part TE-9 tee size=DN50 second_size=DN25
part X-11 sewer-drain size=DN25
run r9 TE-9.a V-9.a DN50 0.2/0
run r10 V-10.b TE-9.b DN50 0.2/0
run r11 X-9.a V-10.a DN50 3/0
run r12 TE-9.branch V-11.a DN25 0.1/-0.1
run r13 V-11.b X-11.a DN25 0.5/-0.5`},
	{"product-touches-cleaning", "two valves with the drain shut", filled + `
part V-10 butterfly-valve size=DN50
part V-11 butterfly-valve size=DN25 normal=open
part TE-9 tee size=DN50 second_size=DN25
part X-11 sewer-drain size=DN25
run r9 TE-9.a V-9.a DN50 0.2/0
run r10 V-10.b TE-9.b DN50 0.2/0
run r11 X-9.a V-10.a DN50 3/0
run r12 TE-9.branch V-11.a DN25 0.1/-0.1
run r13 V-11.b X-11.a DN25 0.5/-0.5
set s1 V-11=closed
want V-9 product-touches-cleaning "only V-9 and V-10, and no open drain is between them, keeps"`},
	{"product-touches-cleaning", "check valve", sprayed + `
part C-9 check-valve size=DN50
part X-9 product-supply size=DN50
run r8 C-9.b T-2.return DN50 face
run r9 X-9.a C-9.a DN50 3/0
want C-9 product-touches-cleaning "C-9, which is no positive shut-off"`},
	{"product-touches-cleaning", "vessel with product on the same line", sprayed + `
note T-3 holds product in this step and is not cleaned; one seat keeps the supply from it.
part T-3 process-vessel size=DN50 inlet_size=DN50
part V-3 butterfly-valve size=DN50
part TE-1 tee size=DN50 second_size=DN50
run r2 P-1.b TE-1.a DN50 5/3
run r7 TE-1.b ST-1.a DN50 face
run r8 TE-1.branch V-3.a DN50 1/0
run r9 V-3.b T-3.return DN50 1/0
want V-3 product-touches-cleaning "from the product of T-3"`},
	{"product-touches-cleaning", "the vessel is cleaned in the same step", sprayed + `
part T-3 process-vessel size=DN50 inlet_size=DN50
part V-3 butterfly-valve size=DN50
part TE-1 tee size=DN50 second_size=DN50
run r2 P-1.b TE-1.a DN50 5/3
run r7 TE-1.b ST-1.a DN50 face
run r8 TE-1.branch V-3.a DN50 1/0
run r9 V-3.b T-3.return DN50 1/0
set s1 cleans=T-2,T-3`},
	{"product-touches-cleaning", "production with a chemical behind one seat", filled + `
note While product flows, the alkali of T-1 stands behind V-1.
part V-1 butterfly-valve size=DN50
part X-8 product-outlet size=DN50
part TE-1 tee size=DN50 second_size=DN50
drop P-1
drop r1
run r2 V-1.b ST-1.a DN50 5/3
run r1 T-1.outlet V-1.a DN50 1/-0.5
run r5 T-2.outlet TE-1.a DN50 2/-1.5
run r7 TE-1.b P-2.a DN50 1/0
run r10 TE-1.branch X-8.a DN50 3/0
drop r6
drop s1
step s2 production from=X-9 to=X-8 V-9=open
want V-1 product-touches-cleaning "keeps the product of step production from the alkali of T-1"`},
	{"product-touches-cleaning", "nobody told what it holds", sprayed + `
part T-3 process-vessel size=DN50 inlet_size=DN50 holds=
part V-3 butterfly-valve size=DN50
part TE-1 tee size=DN50 second_size=DN50
run r2 P-1.b TE-1.a DN50 5/3
run r7 TE-1.b ST-1.a DN50 face
run r8 TE-1.branch V-3.a DN50 1/0
run r9 V-3.b T-3.return DN50 1/0
want-not-assessed V-3 product-touches-cleaning "of T-3"`},

	{"no-position-proof", "bad", filled + `
set V-9 position_proof=no
want V-9 no-position-proof "fix: V-9 keeps the liquid of step alkali-wash from the product of X-9 and does not report its position"`},
	{"no-position-proof", "good", filled + `
set V-9 position_proof=yes`},
	{"no-position-proof", "hand valve", filled + `
set V-9 position_proof=no actuation=manual`},
	{"no-position-proof", "nothing else behind it", filled + `
note Behind the valve stands the same medium.
set V-9 position_proof=no
set X-9 medium=alkali`},
	{"no-position-proof", "the step decides what is another medium", filled + `
set V-9 position_proof=no
set X-9 medium=alkali
step s2 acid-wash from=T-1 to=T-1 cleans=T-2 flow_m3h=11
want V-9 no-position-proof "liquid of step acid-wash from the alkali of X-9"`},
	{"no-position-proof", "mix-proof valves too", sprayed + `
part V-9 mix-proof-valve size=DN50 second_size=DN50 position_proof=no
part X-9 product-supply size=DN50
run r8 V-9.a T-2.product_in DN50 face
run r9 X-9.a V-9.c DN50 3/0
want V-9 no-position-proof "from the product of X-9"`},
	{"no-position-proof", "unknown", filled + `
want-not-assessed V-9 no-position-proof "of V-9"`},

	{"no-high-level", "bad", loop + `
want T-1 no-high-level "stop: T-1 has no high-level switch"`},
	{"no-high-level", "good", loop + `
part LSH-1 level-high-switch
run r8 T-1.high LSH-1.a face`},
	{"no-high-level", "transmitter with a switching point", loop + `
part LT-1 level-transmitter set_at=90%
run r8 T-1.level LT-1.a face`},
	{"no-high-level", "transmitter that only shows", loop + `
part LT-1 level-transmitter
run r8 T-1.level LT-1.a face
want T-1 no-high-level "high-level switch"`},
	{"no-high-level", "low switch does not help", loop + `
part LSL-1 level-low-switch
run r8 T-1.low LSL-1.a face
want T-1 no-high-level "high-level switch"`},
	{"no-high-level", "process vessel is none of a station", sprayed + `
part LSH-1 level-high-switch
run r8 T-1.high LSH-1.a face`},

	{"no-low-level", "bad", loop + `
want T-1 no-low-level "fix: T-1 has no low-level switch"`},
	{"no-low-level", "good", loop + `
part LSL-1 level-low-switch
run r8 T-1.low LSL-1.a face`},
	{"no-low-level", "transmitter with a switching point", loop + `
part LT-1 level-transmitter set_at=10%
run r8 T-1.level LT-1.a face`},
	{"no-low-level", "high switch does not help", loop + `
part LSH-1 level-high-switch
run r8 T-1.high LSH-1.a face
want T-1 no-low-level "low-level switch"`},
	{"no-low-level", "two tanks, one switch", loop + `
part T-2 water-tank
part LSL-1 level-low-switch
run r8 T-1.low LSL-1.a face
want T-2 no-low-level "T-2"`},

	{"no-over-temperature", "bad", `
part E-1 plate-heater over_temperature_limit=no
want E-1 no-over-temperature "stop: E-1 has no temperature limit of its own"`},
	{"no-over-temperature", "good", `
part E-1 plate-heater over_temperature_limit=yes`},
	{"no-over-temperature", "electric heater", `
part E-1 electric-heater over_temperature_limit=no
want E-1 no-over-temperature "stop: E-1"`},
	{"no-over-temperature", "a cooler heats nothing", `
part E-1 plate-cooler`},
	{"no-over-temperature", "unknown", `
part E-1 tube-heater
want-not-assessed E-1 no-over-temperature "of E-1"`},

	{"no-relief", "bad", steam + `
want E-1 no-relief "stop: no relief valve protects the steam side of E-1"`},
	{"no-relief", "good", steam + `
part TE-1 tee size=DN25 second_size=DN25
part V-8 relief-valve size=DN25 set_bar=6
run r1 V-7.b TE-1.a DN25 1/0
run r3 TE-1.b E-1.s DN25 1/0
run r4 TE-1.branch V-8.a DN25 face`},
	{"no-relief", "upstream of the control valve", steam + `
note A control valve does not shut tight; the relief upstream of it protects.
part TE-1 tee size=DN25 second_size=DN25
part V-8 relief-valve size=DN25 set_bar=6
run r0 X-1.a TE-1.a DN25 1/0
run r3 TE-1.b V-7.a DN25 1/0
run r4 TE-1.branch V-8.a DN25 face`},
	{"no-relief", "behind a valve that shuts", steam + `
part TE-1 tee size=DN25 second_size=DN25
part V-6 globe-valve size=DN25
part V-8 relief-valve size=DN25 set_bar=6
run r1 V-7.b TE-1.a DN25 1/0
run r3 TE-1.b E-1.s DN25 1/0
run r4 TE-1.branch V-6.a DN25 face
run r5 V-6.b V-8.a DN25 face
want E-1 no-relief "no relief valve"`},
	{"no-relief", "set just at the rating", steam + `
note 10 bar is not above 10 bar.
part TE-1 tee size=DN25 second_size=DN25
part V-8 relief-valve size=DN25 set_bar=10
run r1 V-7.b TE-1.a DN25 1/0
run r3 TE-1.b E-1.s DN25 1/0
run r4 TE-1.branch V-8.a DN25 face`},
	{"no-relief", "set above the rating", steam + `
part TE-1 tee size=DN25 second_size=DN25
part V-8 relief-valve size=DN25 set_bar=10.1
run r1 V-7.b TE-1.a DN25 1/0
run r3 TE-1.b E-1.s DN25 1/0
run r4 TE-1.branch V-8.a DN25 face
want E-1 no-relief "V-8 opens at 10.1 bar, above the 10 bar"`},
	{"no-relief", "vacuum breaker is no relief", steam + `
part TE-1 tee size=DN25 second_size=DN25
part V-8 vacuum-relief-valve size=DN25
run r1 V-7.b TE-1.a DN25 1/0
run r3 TE-1.b E-1.s DN25 1/0
run r4 TE-1.branch V-8.a DN25 face
want E-1 no-relief "no relief valve"`},
	{"no-relief", "unknown", steam + `
part TE-1 tee size=DN25 second_size=DN25
part V-8 relief-valve size=DN25
run r1 V-7.b TE-1.a DN25 1/0
run r3 TE-1.b E-1.s DN25 1/0
run r4 TE-1.branch V-8.a DN25 face
want-not-assessed E-1 no-relief "of V-8"`},
}

// steam is a heater with its steam supply, control valve and trap.
const steam = `
part X-1 steam-supply size=DN25 pressure_bar=6
part V-7 steam-control-valve size=DN25
part E-1 plate-heater service_size=DN25 rated_pressure_bar=10
part ST-1 steam-trap size=DN25
part X-2 condensate-return size=DN25
run r0 X-1.a V-7.a DN25 1/0
run r1 V-7.b E-1.s DN25 1/0
run r2 E-1.k ST-1.a DN25 1/0
run r6 ST-1.b X-2.a DN25 1/0
`
