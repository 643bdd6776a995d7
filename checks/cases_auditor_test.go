package checks_test

// weir is the loop with a diaphragm valve in the supply.
const weir = loop + `
part V-9 diaphragm-valve size=DN50 turned_to_drain=yes
run r2 P-1.b V-9.a DN50 2/0.2
run r4 V-9.b F-1.a DN50 3/0.3
set s1 V-9=open
`

// recovers is the loop beside a tank for recovered water.
const recovers = loop + `
part T-3 recovered-tank size=DN50 inlet_size=DN50
step s2 acid-wash from=T-1 to=T-1 cleans=T-3 temperature_C=60
`

// rinsed is the pumped loop sent to a drain: 1 + 5 + 6 m of 1.9635 L/m, 23.6 L, pump
// 2 L, object 8 L: 33.6 L; 1.5 times that are 50.3 L. 11 m³/h are 183.3 L/min.
const rinsed = pumped + `
part X-9 sewer-drain size=DN50 elevation_m=2.5
run r3 F-1.b X-9.a DN50 6/1.5
step s1 final-rinse from=T-1 to=X-9 cleans=F-1 flow_m3h=11 running=P-1 temperature_C=20 time_min=1
`

// failing is the sprayed vessel with product behind a pneumatic valve.
const failing = filled + `
set V-9 actuation=pneumatic fails_to=closed
`

var casesAuditor = []ruleCase{
	{"diaphragm-keeps-liquid", "bad", weir + `
set V-9 turned_to_drain=no
want V-9 diaphragm-keeps-liquid "fix: the body of V-9 is not turned to its mark"`},
	{"diaphragm-keeps-liquid", "good", weir},
	{"diaphragm-keeps-liquid", "no liquid comes to it", loop + `
note V-9 stands behind a shut valve.
part TE-9 tee size=DN50 second_size=DN50
part V-8 butterfly-valve size=DN50
part V-9 diaphragm-valve size=DN50 turned_to_drain=no
run r2 P-1.b TE-9.a DN50 2/0.2
run r8 TE-9.b F-1.a DN50 3/0.3
run r9 TE-9.branch V-8.a DN50 face
run r10 V-8.b V-9.a DN50 1/0`},
	{"diaphragm-keeps-liquid", "another kind of valve", loop + `
part V-9 butterfly-valve size=DN50
run r2 P-1.b V-9.a DN50 2/0.2
run r4 V-9.b F-1.a DN50 3/0.3
set s1 V-9=open`},
	{"diaphragm-keeps-liquid", "unknown", weir + `
set V-9 turned_to_drain=
want-not-assessed V-9 diaphragm-keeps-liquid "turned to drain of V-9"`},

	{"recovery-never-washed", "bad", loop + `
part T-3 recovered-tank size=DN50 inlet_size=DN50
want T-3 recovery-never-washed "fix: no step washes T-3"`},
	{"recovery-never-washed", "good", recovers},
	{"recovery-never-washed", "water just hot enough", recovers + `
step s2 final-rinse from=T-1 to=T-1 cleans=T-3 temperature_C=77`},
	{"recovery-never-washed", "water not quite hot enough", recovers + `
step s2 final-rinse from=T-1 to=T-1 cleans=T-3 temperature_C=76.5
want T-3 recovery-never-washed "no step washes T-3"`},
	{"recovery-never-washed", "another tank", loop + `
part T-3 water-tank size=DN50 inlet_size=DN50`},

	{"rinse-too-short", "bad", rinsed + `
note 0.25 min are 45.8 L.
set s1 time_min=0.25
want s1 rinse-too-short "fix: step final-rinse sends 45.8 L through a circuit of 33.6 L; 50.3 L are needed"`},
	{"rinse-too-short", "good", rinsed},
	{"rinse-too-short", "just enough", rinsed + `
note 0.275 min are 50.4 L.
set s1 time_min=0.275`},
	{"rinse-too-short", "just too little", rinsed + `
note 0.274 min are 50.2 L.
set s1 time_min=0.274
want s1 rinse-too-short "50.2 L"`},
	{"rinse-too-short", "ends by volume", rinsed + `
set s1 time_min=0.25 end_volume_L=60`},
	{"rinse-too-short", "ends by conductivity", rinsed + `
set s1 time_min=0.25 end_conductivity_mScm=0.5`},
	{"rinse-too-short", "a wash goes round", rinsed + `
set s1 time_min=0.25
step s1 alkali-wash from=T-1 to=X-9 cleans=F-1 flow_m3h=11 running=P-1 time_min=0.25 temperature_C=20 strength_pct=1`},
	{"rinse-too-short", "time unknown", rinsed + `
set s1 time_min=
want-not-assessed s1 rinse-too-short "time of step"`},

	{"last-rinse-recovered", "bad", loop + `
part T-3 recovered-tank size=DN50
step s1 final-rinse from=T-3 to=T-1 cleans=F-1
want s1 last-rinse-recovered "fix: step final-rinse sends recovered water of T-3"`},
	{"last-rinse-recovered", "good", loop + `
step s1 final-rinse from=T-1 to=T-1 cleans=F-1`},
	{"last-rinse-recovered", "first rinse may", loop + `
part T-3 recovered-tank size=DN50
step s1 first-rinse from=T-3 to=T-1 cleans=F-1`},
	{"last-rinse-recovered", "medium told", loop + `
step s1 final-rinse from=T-1 to=T-1 cleans=F-1 medium=recovered-water
want s1 last-rinse-recovered "sends recovered water"`},
	{"last-rinse-recovered", "unknown", loop + `
step s1 final-rinse from=T-1 to=T-1 cleans=F-1 medium=
want-not-assessed s1 last-rinse-recovered "medium of step"`},

	{"no-first-rinse", "bad", loop + `
want s1 no-first-rinse "note: step alkali-wash sends alkali over unrinsed soil and back to T-1"`},
	{"no-first-rinse", "good", loop + `
step s0 first-rinse from=T-1 to=T-1 cleans=F-1
step s1 alkali-wash from=T-1 to=T-1 cleans=F-1`},
	{"no-first-rinse", "rinse in another programme", loop + `
step s0 first-rinse from=T-1 to=T-1 cleans=F-1 programme=A
step s1 alkali-wash from=T-1 to=T-1 cleans=F-1 programme=B
want s1 no-first-rinse "unrinsed soil"`},
	{"no-first-rinse", "sent away", loop + `
part X-9 sewer-drain size=DN50
step s1 alkali-wash from=T-1 to=X-9 cleans=F-1`},
	{"no-first-rinse", "unknown", loop + `
step s1 alkali-wash from=T-1 to=T-1 cleans=F-1 medium=
want-not-assessed s1 no-first-rinse "medium of step"`},

	{"rinse-not-proved", "bad", loop + `
step s2 final-rinse from=T-1 to=T-1 cleans=F-1
want s2 rinse-not-proved "note: step final-rinse ends by time alone: nothing tells that the alkali of step alkali-wash is out"`},
	{"rinse-not-proved", "good", loop + `
step s2 final-rinse from=T-1 to=T-1 cleans=F-1 end_conductivity_mScm=0.5`},
	{"rinse-not-proved", "in words", loop + `
step s2 final-rinse from=T-1 to=T-1 cleans=F-1 ends_on=return_as_the_supply`},
	{"rinse-not-proved", "no chemical before", loop + `
step s1 first-rinse from=T-1 to=T-1 cleans=F-1
step s2 final-rinse from=T-1 to=T-1 cleans=F-1`},
	{"rinse-not-proved", "a rinse between may", loop + `
step s2 rinse-between from=T-1 to=T-1 cleans=F-1`},

	{"wash-through-recovery", "bad", loop + `
set T-1 holds=recovered-water
want s1 wash-through-recovery "fix: step alkali-wash runs alkali through T-1, which holds recovered-water"`},
	{"wash-through-recovery", "good", loop},
	{"wash-through-recovery", "made up before", loop + `
set T-1 holds=water
step s0 prepare from=T-1 to=T-1 medium=alkali
step s1 alkali-wash from=T-1 to=T-1 cleans=F-1`},
	{"wash-through-recovery", "made up afterwards", loop + `
set T-1 holds=water
step s2 prepare from=T-1 to=T-1 medium=alkali
want s1 wash-through-recovery "through T-1, which holds water"`},
	{"wash-through-recovery", "a rinse may", loop + `
set T-1 holds=recovered-water
step s1 first-rinse from=T-1 to=T-1 cleans=F-1`},

	{"strainer-coarse", "bad", sprayed + `
set ST-1 mesh_mm=1.5
want ST-1 strainer-coarse "fix: ST-1 before S-1 has a mesh of 1.5 mm, coarser than 1 mm"`},
	{"strainer-coarse", "good", sprayed},
	{"strainer-coarse", "just at the limit", sprayed + `
set ST-1 mesh_mm=1`},
	{"strainer-coarse", "just above", sprayed + `
set ST-1 mesh_mm=1.01
want ST-1 strainer-coarse "1.01 mm"`},
	{"strainer-coarse", "a finer one follows", sprayed + `
set ST-1 mesh_mm=3
part ST-2 strainer size=DN50 mesh_mm=0.5
run r3 ST-1.b ST-2.a DN50 1/1
run r7 ST-2.b S-1.a DN50 face`},
	{"strainer-coarse", "unknown", sprayed + `
set ST-1 mesh_mm=
want-not-assessed ST-1 strainer-coarse "of ST-1"`},

	{"flat-bottom", "bad", sprayed + `
set T-2 bottom=flat
want T-2 flat-bottom "note: the bottom of T-2 is flat"`},
	{"flat-bottom", "good", sprayed},
	{"flat-bottom", "dished", sprayed + `
set T-2 bottom=dished-din-28013`},
	{"flat-bottom", "unknown", sprayed + `
set T-2 bottom=
want-not-assessed T-2 flat-bottom "bottom of T-2"`},

	{"barrier-fails-open", "bad", failing + `
set V-9 fails_to=open
want V-9 barrier-fails-open "stop: V-9 keeps the liquid of step alkali-wash from the product of X-9; when air or current fails it does not close"`},
	{"barrier-fails-open", "good", failing},
	{"barrier-fails-open", "stays where it is", failing + `
set V-9 fails_to=stays
want V-9 barrier-fails-open "does not close"`},
	{"barrier-fails-open", "hand valve", failing + `
set V-9 actuation=manual fails_to=open`},
	{"barrier-fails-open", "no product behind", failing + `
set V-9 fails_to=open
set X-9 medium=alkali`},
	{"barrier-fails-open", "unknown", failing + `
set V-9 fails_to=
want-not-assessed V-9 barrier-fails-open "fail position of V-9"`},
}
