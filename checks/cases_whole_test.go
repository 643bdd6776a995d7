package checks_test

// loop is a tank, a pump and a filler in DN50 (50 mm): 11 m³/h run at
// 11 / 3600 / (π/4 0.05²) = 1.556 m/s. Outlet at 1 m, pump at 0.5 m, filler at
// 1 m, return nozzle at 1 + 0.9 x 1.8 = 2.62 m.
const loop = `
part T-1 alkali-tank size=DN50 inlet_size=DN50 diameter_m=1.2 height_m=1.8 elevation_m=1 vented=yes
part P-1 centrifugal-pump size=DN50 outlet_size=DN50 elevation_m=0.5 casing_drain=yes outlet_way=up hold_up_L=2
part F-1 filler-line size=DN50 needs_flow_m3h=11 smallest_bore_mm=50 largest_bore_mm=50 length_m=4 hold_up_L=8 elevation_m=1
run r1 T-1.outlet P-1.a DN50 1/-0.5
run r2 P-1.b F-1.a DN50 5/0.5
run r3 F-1.b T-1.return DN50 6/1.62
step s1 alkali-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1
`

// valved is a loop whose discharge runs through a butterfly valve and a divert valve.
const valved = loop + `
part V-1 butterfly-valve size=DN50
part V-2 divert-valve size=DN50
run r2 P-1.b V-1.a DN50 5/0.5
run r4 V-1.b V-2.c DN50 1/0
run r5 V-2.a F-1.a DN50 1/0
`

var casesWhole = []ruleCase{
	{"open-end", "bad", loop + `
drop r2
want P-1 open-end "fix: nothing is joined to P-1, Discharge"
want F-1 open-end "F-1, Inlet"`},
	{"open-end", "a part on nothing at all is told by not-connected", loop + `
drop r2
drop r3
want P-1 open-end "nothing is joined to P-1, Discharge"`},
	{"open-end", "a port without a title", `
note A valve on a tank: its far port is named by where it lies in the drawing.
part T-1 water-tank
part V-1 butterfly-valve
run r1 T-1.outlet V-1.a face
want V-1 open-end "nothing is joined to V-1, port on the right"`},
	{"open-end", "good", loop},
	{"open-end", "loose run", loop + `
run r9 T-1.nozzle - DN25 1/1
want r9 open-end "end on nothing"`},
	{"open-end", "no such part and port", loop + `
run r8 T-1.nozzle X-9.a DN25
run r9 T-1.vent T-1.chimney DN25
want r8 open-end "x-9, which is not in the circuit"
want r9 open-end "has no such port"`},
	{"open-end", "tee branch without cap", loop + `
part TE-1 tee size=DN50 second_size=DN25
run r2 P-1.b TE-1.a DN50 5/0.5
run r4 TE-1.b F-1.a DN50 face
want TE-1 open-end "nothing is joined to TE-1, Branch"`},
	{"open-end", "tee branch with cap", loop + `
part TE-1 tee size=DN50 second_size=DN25
part X-1 cap size=DN25
run r2 P-1.b TE-1.a DN50 5/0.5
run r4 TE-1.b F-1.a DN50 face
run r5 TE-1.branch X-1.a DN25 face`},
	{"open-end", "spare nozzle may stay free", `
note A port that is not required may carry nothing: the far ends of a mix-proof valve.
part X-1 water-supply size=DN50
part X-2 water-supply size=DN50
part V-1 mix-proof-valve size=DN50 second_size=DN50
run r1 X-1.a V-1.a DN50 1/0
run r2 X-2.a V-1.c DN50 1/0`},

	{"port-shared", "bad", loop + `
run r9 P-1.b T-1.fill DN50 2/1
want P-1 port-shared "fix: 2 run ends meet at P-1, Discharge"`},
	{"port-shared", "good", loop},
	{"port-shared", "three", loop + `
run r8 P-1.b T-1.spray DN50 2/1
run r9 P-1.b T-1.fill DN50 2/1
want P-1 port-shared "3 run ends meet"`},
	{"port-shared", "a run from a port to itself", loop + `
run r9 T-1.nozzle T-1.nozzle DN50 2/0
want T-1 port-shared "2 run ends meet"`},
	{"port-shared", "with a tee", loop + `
part TE-1 tee size=DN50 second_size=DN50
run r2 P-1.b TE-1.a DN50 5/0.5
run r4 TE-1.b F-1.a DN50 face
run r9 TE-1.branch T-1.fill DN50 2/1`},

	{"not-connected", "bad", loop + `
part V-9 sampling-valve
want V-9 not-connected "V-9: no run joins"`},
	{"not-connected", "group of two", loop + `
part T-8 water-tank
part P-8 centrifugal-pump
run r8 T-8.outlet P-8.a DN50 1/0
want T-8 not-connected "T-8 and one more: no run joins this"`},
	{"not-connected", "named after its vessel", loop + `
part CA-8 cap
part T-8 recovered-tank
run r8 T-8.outlet CA-8.a face
want T-8 not-connected "T-8 and one more"`},
	{"not-connected", "good", loop},
	{"not-connected", "frame is no part", loop + `
part B-1 station-frame`},
	{"not-connected", "two groups of the same size", `
note Of equal groups the first in order of id counts as the circuit.
part A-1 water-tank
part A-2 centrifugal-pump
run r1 A-1.outlet A-2.a DN50 1/0
part B-1 water-tank
part B-2 centrifugal-pump
run r2 B-1.outlet B-2.a DN50 1/0
want B-1 not-connected "B-1 and one more"`},

	{"tag-missing", "bad", loop + `
set P-1 tag=
want P-1 tag-missing "note: centrifugal pump between T-1 and F-1 has no tag"`},
	{"tag-missing", "good", loop},
	{"tag-missing", "fittings and frames need none", loop + `
part TE-1 tee
part X-1 sewer-drain
part B-1 station-frame
set TE-1 tag=
set X-1 tag=
set B-1 tag=`},
	{"tag-missing", "told by its neighbours", loop + `
note The next part with a tag counts, beyond the tee that has none; a part that nothing joins has no neighbours.
part TE-1 tee size=DN50 second_size=DN25
part V-1 butterfly-valve size=DN50
part V-2 butterfly-valve size=DN25
part P-3 centrifugal-pump
run r2 P-1.b TE-1.a DN50 5/0.5
run r4 TE-1.b V-1.a DN50 face
run r5 V-1.b F-1.a DN50 face
run r6 TE-1.branch V-2.a DN25 face
set TE-1 tag=
set V-1 tag=
set V-2 tag=
set P-3 tag=
want V-1 tag-missing "butterfly valve between P-1 and F-1 has no tag"
want V-2 tag-missing "butterfly valve at P-1 has no tag"
want P-3 tag-missing "note: centrifugal pump has no tag"`},
	{"tag-missing", "two at once", loop + `
note Each gets a tag of its own; P-1 is free again, F-1 is too.
set P-1 tag=
set F-1 tag=
want P-1 tag-missing "has no tag"
want F-1 tag-missing "has no tag"`},

	{"tag-twice", "bad", loop + `
part P-2 centrifugal-pump
set P-2 tag=P-1
want P-2 tag-twice "fix: tag P-1 stands on the centrifugal pump between T-1 and F-1 and on the centrifugal pump"`},
	{"tag-twice", "good", loop},
	{"tag-twice", "three times", loop + `
part P-2 centrifugal-pump
part V-3 butterfly-valve
set P-2 tag=P-1
set V-3 tag=P-1
want P-2 tag-twice "P-1"
want V-3 tag-twice "P-1"`},
	{"tag-twice", "run and part", loop + `
set r2 tag=P-1
want r2 tag-twice "tag P-1 stands on the centrifugal pump between T-1 and F-1 and on the run from P-1"`},
	{"tag-twice", "no tag is not the same tag", loop + `
set P-1 tag=
set F-1 tag=
set r1 tag=
set r2 tag=`},

	{"position-unknown", "bad", valved + `
note The valve stood in the circuit once.
part V-9 butterfly-valve
step s2 first-rinse from=T-1 to=T-1 V-1=open V-9=open
drop V-9
want s2 position-unknown "fix: .*tells a position of v-9, which is not in the circuit"`},
	{"position-unknown", "good", valved + `
step s2 first-rinse from=T-1 to=T-1 V-1=open V-2=to-a`},
	{"position-unknown", "no such position", valved + `
step s2 first-rinse from=T-1 to=T-1 V-1=ajar
want s2 position-unknown "the position ajar of V-1, which has only closed and open"`},
	{"position-unknown", "the position of another kind", valved + `
note A divert valve that took the place of a butterfly valve: its position came with the step.
step s2 first-rinse from=T-1 to=T-1 V-2=open
want s2 position-unknown "the position open of V-2, which has only to-a and to-b"`},
	{"position-unknown", "a part without positions", valved + `
part V-9 butterfly-valve
step s2 first-rinse from=T-1 to=T-1 V-1=open V-9=open
drop V-9
part V-9 centrifugal-pump
want s2 position-unknown "a position of V-9, which has none"`},
	{"position-unknown", "several in one step, and in another", valved + `
part V-9 butterfly-valve
step s2 first-rinse from=T-1 to=T-1 V-1=ajar V-9=open
step s3 first-rinse from=T-1 to=T-1 V-9=closed
drop V-9
want s2 position-unknown "the position ajar of V-1, which has only closed and open; a position of v-9"
want s3 position-unknown "a position of v-9, which is not in the circuit"`},

	{"size-jump", "bad", loop + `
note 66 - 50 = 16 mm.
set r2 size=DN65
want r2 size-jump "fix: run from P-1 to F-1 has a bore of 66 mm, P-1 at one end 50 mm and F-1 at the other 50 mm, and no reducer is between them"`},
	{"size-jump", "between two bores", loop + `
note 66 - 50 = 16 mm at P-1, 66 - 38 = 28 mm at F-1: no one size fits both.
set r2 size=DN65
set F-1 size=DN40
set r3 size=DN40
set T-1 inlet_size=DN40
want r2 size-jump "P-1 at one end 50 mm and F-1 at the other 38 mm"`},
	{"size-jump", "at one end", loop + `
note 66 - 50 = 16 mm at P-1; F-1 fits.
set r2 size=DN65
set F-1 size=DN65
set r3 size=DN65
set T-1 inlet_size=DN65
want P-1 size-jump "P-1, Discharge has a bore of 50 mm, run from P-1 to F-1 one of 66 mm, and no reducer is between them"`},
	{"size-jump", "good", loop},
	{"size-jump", "names where a tag stands twice", loop + `
note Both valves are V-1: each is told by its neighbour. 66 - 50 = 16 mm.
part V-1 butterfly-valve size=DN50
part V-2 butterfly-valve size=DN65
set V-2 tag=V-1
run r2 P-1.b V-1.a DN50 5/0.5
run r4 V-1.b V-2.a DN50 1/0
run r5 V-2.b F-1.a DN65 face
set F-1 size=DN65
set r3 size=DN65
set T-1 inlet_size=DN65
want V-2 size-jump "V-1 .butterfly valve at F-1. towards V-1 has a bore of 66 mm, run from V-1 at P-1 to V-1 at F-1 one of 50 mm"`},
	{"size-jump", "just at the limit", loop + `
note ISO 2037 25 x 1.2 has 22.6 mm, ASME BPE 1 in x 1.65 has 22.1 mm: 0.5 mm apart, no more than the limit.
set r2 size=ISO_2037_25
set P-1 outlet_size=1in
set F-1 size=1in
set r3 size=1in
set T-1 inlet_size=1in`},
	{"size-jump", "just above the limit", loop + `
note ISO 2037 38 x 1.2 has 35.6 mm, ASME BPE 1 1/2 in x 1.65 has 34.8 mm: 0.8 mm apart.
set r2 size=ISO_2037_38
set P-1 outlet_size=1_1/2in
set F-1 size=1_1/2in
set r3 size=1_1/2in
set T-1 inlet_size=1_1/2in
want r2 size-jump "a bore of 35.6 mm, P-1 at one end 34.8 mm"`},
	{"size-jump", "with a reducer", loop + `
note The reducer takes the step from 50 to 66 mm.
part R-1 eccentric-reducer size=DN65 second_size=DN50
run r2 P-1.b R-1.b DN50 1/0
run r4 R-1.a F-1.a DN65 4/0.5
set F-1 size=DN65
set r3 size=DN65
set T-1 inlet_size=DN65`},
	{"size-jump", "face to face", loop + `
note No tube between: the two ports are compared.
part V-1 butterfly-valve size=DN40
part R-1 eccentric-reducer size=DN50 second_size=DN40
run r2 P-1.b V-1.a face
run r4 V-1.b R-1.b face
run r5 R-1.a F-1.a face
want P-1 size-jump "P-1, Discharge has a bore of 50 mm, V-1 towards P-1 one of 38 mm"`},
	{"size-jump", "sizes unknown", loop + `
set r2 size=
set P-1 size=
want-not-assessed r2 size-jump "tube size"
want-not-assessed P-1 size-jump "tube size of P-1"`},

	{"heights-disagree", "bad", loop + `
note The pump lies 0.5 m below the outlet of the tank; the run falls 0.2 m.
run r1 T-1.outlet P-1.a DN50 1/-0.2
want r1 heights-disagree "rise -0.2 m, its ends differ by -0.5 m: 0.3 m apart"`},
	{"heights-disagree", "good", loop},
	{"heights-disagree", "just within", loop + `
note 5 mm off is within 5 mm.
run r1 T-1.outlet P-1.a DN50 1/-0.495`},
	{"heights-disagree", "just beyond", loop + `
note 6 mm off.
run r1 T-1.outlet P-1.a DN50 1/-0.494
want r1 heights-disagree "0.006 m apart"`},
	{"heights-disagree", "several stretches add up", loop + `
note -1.5 + 0.4 + 0.6 = -0.5 m.
run r1 T-1.outlet P-1.a DN50 1.5/-1.5 0.4/0.4 2/0.6`},
	{"heights-disagree", "without an elevation there is nothing to compare", loop + `
set P-1 elevation_m=
set F-1 elevation_m=
run r1 T-1.outlet P-1.a DN50 1/-0.2
run r2 P-1.b F-1.a DN50 5/?`},

	{"wrong-way", "bad", loop + `
part C-1 check-valve size=DN50
run r2 P-1.b C-1.b DN50 5/0.5
run r4 C-1.a F-1.a DN50 face
want C-1 wrong-way "stop: C-1 passes one way only and stands against the flow from T-1 back to T-1"`},
	{"wrong-way", "good", loop + `
part C-1 check-valve size=DN50
run r2 P-1.b C-1.a DN50 5/0.5
run r4 C-1.b F-1.a DN50 face`},
	{"wrong-way", "pump turned round", loop + `
run r1 T-1.outlet P-1.b DN50 1/-0.5
run r2 P-1.a F-1.a DN50 5/0.5
want P-1 wrong-way "stands against the flow"`},
	{"wrong-way", "check valve beside an open way holds shut", loop + `
note The liquid flows past the check valve; that it shuts is its purpose.
part TE-1 tee size=DN50 second_size=DN50
part TE-2 tee size=DN50 second_size=DN50
part C-1 check-valve size=DN50
run r2 P-1.b TE-1.a DN50 5/0.5
run r4 TE-1.b TE-2.a DN50 1/0
run r5 TE-2.b F-1.a DN50 1/0
run r6 TE-1.branch C-1.b DN50 1/0
run r7 C-1.a TE-2.branch DN50 1/0`},
	{"wrong-way", "right in one step and wrong in the other", `
note Turning it round would only move the fault to the first step: no remedy is offered.
part T-1 water-tank
part T-2 water-tank
part C-1 check-valve size=DN50
part TE-1 tee size=DN50 second_size=DN50
part TE-2 tee size=DN50 second_size=DN50
part V-1 butterfly-valve size=DN50
part V-2 butterfly-valve size=DN50
part V-3 butterfly-valve size=DN50
run r1 T-1.outlet TE-1.a DN50 1/0
run r2 TE-1.b C-1.a DN50 1/0
run r3 C-1.b TE-2.a DN50 1/0
run r4 TE-2.b V-2.a DN50 1/0
run r5 V-2.b T-2.return DN50 1/0
run r6 T-2.outlet V-3.a DN50 1/0
run r7 V-3.b TE-2.branch DN50 1/0
run r8 TE-1.branch V-1.a DN50 1/0
run r9 V-1.b T-1.return DN50 1/0
step s1 first-rinse from=T-1 to=T-2 V-2=open
step s2 first-rinse from=T-2 to=T-1 V-3=open V-1=open
want C-1 wrong-way "from T-2 to T-1"`},

	{"no-route", "bad", loop + `
part V-1 butterfly-valve size=DN50
run r2 P-1.b V-1.a DN50 5/0.5
run r4 V-1.b F-1.a DN50 face
want s1 no-route "stop: step alkali-wash opens no way from T-1 back to T-1: shut on the way: V-1"
want-not-assessed s1 no-route "note: step alkali-wash: no route, so speed, sensors, dead legs and spray were not assessed"`},
	{"no-route", "good", loop + `
part V-1 butterfly-valve size=DN50
run r2 P-1.b V-1.a DN50 5/0.5
run r4 V-1.b F-1.a DN50 face
set s1 V-1=open`},
	{"no-route", "one step opens and one does not", loop + `
part V-1 butterfly-valve size=DN50
run r2 P-1.b V-1.a DN50 5/0.5
run r4 V-1.b F-1.a DN50 face
set s1 V-1=open
step s2 acid-wash from=T-1 to=T-1 flow_m3h=11
want s2 no-route "V-1"
want-not-assessed s2 no-route "note: step acid-wash: no route, so speed, sensors, dead legs and spray were not assessed"`},
	{"no-route", "position unknown", loop + `
note Nobody told where the valve stands; it is not taken as shut.
part V-1 butterfly-valve size=DN50 normal=
run r2 P-1.b V-1.a DN50 5/0.5
run r4 V-1.b F-1.a DN50 face
want-not-assessed s1 no-route "no route .unknown: normal position of V-1., so speed"`},
	{"no-route", "a branch of unknown position", loop + `
note The way is found without the valve; whether its branch is open nobody told.
part TE-9 tee size=DN50 second_size=DN50 run_mm=100 stub_mm=40
part V-9 butterfly-valve size=DN50 normal=
part X-9 cap size=DN50
run r2 P-1.b TE-9.a DN50 5/0.5
run r4 TE-9.b F-1.a DN50 face
run r9 TE-9.branch V-9.a DN50 face
run r10 V-9.b X-9.a DN50 1/0
want-not-assessed s1 no-route "unknown: normal position of V-9"`},
	{"no-route", "loose end on the way", loop + `
run r2 P-1.b - DN50 5/0.5
want s1 no-route "liquid gets as far as the loose end of run from P-1 to nowhere"
want-not-assessed s1 no-route "no route, so speed"`},
	{"no-route", "over a nozzle for air", loop + `
run r3 F-1.b T-1.vent DN50 6/1.62
want s1 no-route "T-1, Vent takes no process liquid"
want-not-assessed s1 no-route "no route, so speed"`},
	{"no-route", "against a check valve", loop + `
note Told by wrong-way; what is left out for it is told here.
part C-1 check-valve size=DN50
run r2 P-1.b C-1.b DN50 5/0.5
run r4 C-1.a F-1.a DN50 face
want-not-assessed s1 no-route "no route, so speed"`},
	{"no-route", "a drain step leaves nothing out", loop + `
part V-1 butterfly-valve size=DN50
run r2 P-1.b V-1.a DN50 5/0.5
run r4 V-1.b F-1.a DN50 face
step s1 drain from=T-1 to=T-1
want s1 no-route "V-1"`},
	{"no-route", "no source told", loop + `
step s2 acid-wash to=T-1
step s3 hold
want-not-assessed s2 no-route "source of step acid-wash"`},
	{"no-route", "nothing joins", loop + `
drop r2
want s1 no-route "from T-1 back to T-1: liquid gets as far as P-1, Discharge, to which nothing is joined"
want-not-assessed s1 no-route "note: step alkali-wash: no route, so speed, sensors, dead legs and spray were not assessed"`},

	{"open-to-two", "bad", loop + `
part T-2 acid-tank size=DN50
part TE-1 tee size=DN50 second_size=DN50
part V-2 butterfly-valve size=DN50
run r1 T-1.outlet TE-1.a DN50 1/-0.5
run r4 TE-1.b P-1.a DN50 face
run r5 TE-1.branch V-2.a DN50 1/0
run r6 V-2.b T-2.outlet DN50 1/0.5
set s1 V-2=open
want T-2 open-to-two "stop: alkali from T-1 lies open to T-2, which holds acid"`},
	{"open-to-two", "shut", loop + `
part T-2 acid-tank size=DN50
part TE-1 tee size=DN50 second_size=DN50
part V-2 butterfly-valve size=DN50
run r1 T-1.outlet TE-1.a DN50 1/-0.5
run r4 TE-1.b P-1.a DN50 face
run r5 TE-1.branch V-2.a DN50 1/0
run r6 V-2.b T-2.outlet DN50 1/0.5`},
	{"open-to-two", "same medium", loop + `
note Two tanks of the same medium may be joined.
part T-2 alkali-tank size=DN50
part TE-1 tee size=DN50 second_size=DN50
run r1 T-1.outlet TE-1.a DN50 1/-0.5
run r4 TE-1.b P-1.a DN50 face
run r6 TE-1.branch T-2.outlet DN50 1/0.5`},
	{"open-to-two", "sewer", loop + `
part X-1 sewer-drain size=DN50
part TE-1 tee size=DN50 second_size=DN50
part V-2 butterfly-valve size=DN50
run r2 P-1.b TE-1.a DN50 5/0.5
run r4 TE-1.b F-1.a DN50 face
run r5 TE-1.branch V-2.a DN50 1/0
run r6 V-2.b X-1.a DN50 1/-0.5
set s1 V-2=open
want X-1 open-to-two "T-1 lies open to X-1, though step alkali-wash leads to T-1"`},
	{"open-to-two", "sewer is where the step goes", loop + `
part X-1 sewer-drain size=DN50
run r3 F-1.b X-1.a DN50 6/-0.5
step s1 alkali-wash from=T-1 to=X-1 cleans=F-1 flow_m3h=11 running=P-1`},
	{"open-to-two", "drained into what the programme has cleaned", drained + `
note The drain step opens T-1 to T-2, which the rinse before it has cleaned.
part T-1 alkali-tank size=DN50 inlet_size=DN50
part TE-1 tee size=DN50 second_size=DN50
run r2 V-1.b TE-1.a DN50 9/-0.1
run r4 TE-1.b X-1.a DN50 1/-0.4
run r5 TE-1.branch T-1.outlet DN50 1/0.5
step s1 final-rinse from=X-3 to=T-2 cleans=T-2 flow_m3h=11
step s2 drain from=T-1 to=X-1 medium=alkali V-1=open`},
	{"open-to-two", "drained into what another programme cleans", drained + `
part T-1 alkali-tank size=DN50 inlet_size=DN50
part TE-1 tee size=DN50 second_size=DN50
run r2 V-1.b TE-1.a DN50 9/-0.1
run r4 TE-1.b X-1.a DN50 1/-0.4
run r5 TE-1.branch T-1.outlet DN50 1/0.5
step s1 final-rinse from=X-3 to=T-2 cleans=T-2 flow_m3h=11 programme=A
step s2 drain from=T-1 to=X-1 medium=alkali V-1=open
want T-2 open-to-two "alkali from T-1 lies open to T-2, which holds product"`},
	{"open-to-two", "medium unknown", loop + `
part T-2 acid-tank size=DN50 holds=
part TE-1 tee size=DN50 second_size=DN50
run r1 T-1.outlet TE-1.a DN50 1/-0.5
run r4 TE-1.b P-1.a DN50 face
run r6 TE-1.branch T-2.outlet DN50 1/0.5
want-not-assessed T-2 open-to-two "T-2"`},

	{"needs-data", "bad", `
note One gap is missing at two drains; the last word of the note is for the step that is not there.
part X-1 sewer-drain size=DN50
part X-2 sewer-drain size=DN50
want circuit needs-data "unknown: air gap of X-1 and one more; without it cannot be assessed: sewer-joined"
want circuit needs-data "there is no wash step"`},
	{"needs-data", "good", `
part X-1 sewer-drain size=DN50 air_gap_mm=100
step s1 hold`},
	{"needs-data", "no step at all", `
part X-1 sewer-drain size=DN50 air_gap_mm=100
want circuit needs-data "there is no wash step"`},
	{"needs-data", "empty circuit", `note Nothing is there, so nothing is missing.`},
	{"needs-data", "one property, two rules", `
note The size of the tee is missing for two rules and told once.
part TE-1 tee
part TE-2 tee
run r1 TE-1.a TE-2.a face
step s1 hold
want circuit needs-data "unknown: main tube size of TE-1 and one more; without it cannot be assessed: size-jump and small-tee"`},
}
