package checks_test

// drained is a vessel over a drain line: outlet at 2 m, 1.5 m straight down to the
// valve at 0.5 m, 10 m at 1 % to 0.4 m, 0.4 m down to the drain at 0 m.
const drained = `
part X-3 water-supply size=DN50
part T-2 process-vessel size=DN50 inlet_size=DN50 diameter_m=1.8 height_m=2.5 elevation_m=2 vented=yes
part V-1 butterfly-valve size=DN50 seat_a_mm=30 seat_b_mm=30
part X-1 sewer-drain size=DN50 elevation_m=0 air_gap_mm=100
run r0 X-3.a T-2.return DN50 3/-0.3
run r1 T-2.outlet V-1.a DN50 1.5/-1.5
run r2 V-1.b X-1.a DN50 10/-0.1 0.4/-0.4
step s1 final-rinse from=X-3 to=X-1 cleans=T-2 flow_m3h=11 V-1=open
step s2 drain from=T-2 to=X-1 V-1=open
`

var casesDraining = []ruleCase{
	{"no-drain-path", "bad", drained + `
note Nobody opens the valves. The flat vessel holds pi/4 x 1.8² x 2.5 = 6.3617 m³; r0 3 m and r1 0.5 m of 1.9635 L/m and 30 mm at the seat are 6.93 L;
note between the seats stand 1 m and twice 30 mm, 2.08 L: 9.01 L of tube. One drain would empty both: told once.
set T-2 bottom=flat top=flat
part V-2 butterfly-valve size=DN50 seat_a_mm=30 seat_b_mm=30
run r1 T-2.outlet V-2.a DN50 0.5/-0.5
run r3 V-2.b V-1.a DN50 1/-1
step s1 final-rinse from=X-3 to=X-1 cleans=T-2 flow_m3h=11 V-1=open V-2=open
step s2 drain from=T-2 to=X-1 V-1=closed V-2=closed
want T-2 no-drain-path "fix: no way leads from T-2 to an open drain in the drain steps: up to 6362 L in the vessel and up to 9.01 L in the tube stay"`},
	{"no-drain-path", "volume of the vessel unknown", drained + `
note Only the tube can be told: 3 m and 1.5 m of 1.9635 L/m and 30 mm at the seat are 8.89 L.
set T-2 diameter_m=
step s2 drain from=T-2 to=X-1 V-1=closed
want T-2 no-drain-path "an unknown volume in the vessel and up to 8.89 L in the tube stay"`},
	{"no-drain-path", "its programme has no drain step", drained + `
set T-2 diameter_m=
step s1 final-rinse from=X-3 to=X-1 cleans=T-2 flow_m3h=11 V-1=open programme=A
step s2 drain from=T-2 to=X-1 V-1=closed programme=B
want T-2 no-drain-path "stay; programme A has no drain step"`},
	{"no-drain-path", "tube alone, told at its lowest part", drained + `
note The vessel drains by V-1; between V-2 and V-3 2 m and twice 30 mm stay, 4.04 L. V-3 lies lower.
part TE-1 tee size=DN50 second_size=DN50 stub_mm=20 run_mm=120
part V-2 butterfly-valve size=DN50 seat_a_mm=30 seat_b_mm=30
part V-3 butterfly-valve size=DN50 seat_a_mm=30 seat_b_mm=30
part X-4 sewer-drain size=DN50
run r1 T-2.outlet TE-1.a DN50 1/-1
run r3 TE-1.b V-1.a DN50 0.5/-0.5
run r4 TE-1.branch V-2.a DN50 face
run r5 V-2.b V-3.a DN50 2/-0.2
run r6 V-3.b X-4.a DN50 1/-0.5
step s3 final-rinse from=X-3 to=X-4 cleans=T-2 flow_m3h=11 V-2=open V-3=open
want V-3 no-drain-path "no way leads from the tube at V-3 to an open drain in the drain steps: up to 4.04 L in the tube stay"`},
	{"no-drain-path", "good", drained},
	{"no-drain-path", "opened in the second of two drain steps", drained + `
step s2 drain from=T-2 to=X-1
step s3 drain from=T-2 to=X-1 V-1=open`},
	{"no-drain-path", "no drain step and a drain somewhere", drained + `
note Without a drain step every valve counts as open, and then everything drains.
drop s2`},
	{"no-drain-path", "no drain step and no drain at all", `
note A line that ends in a vessel which nothing empties: 2 m of tube of 1.9635 L/m; the vessel is where the step leads to.
part X-3 water-supply size=DN50
part T-2 process-vessel size=DN50 inlet_size=DN50
run r0 X-3.a T-2.return DN50 2/-0.3
step s1 first-rinse from=X-3 to=T-2 flow_m3h=11
want T-2 no-drain-path "even with every valve open .no step drains.: up to 3.93 L in the tube stay"`},
	{"no-drain-path", "what stands on the nozzle of a storing tank stays with it", drained + `
part T-1 water-tank size=DN50 inlet_size=DN50 elevation_m=6 height_m=2
part V-3 butterfly-valve size=DN50 seat_a_mm=30 seat_b_mm=30
drop X-3
run r0 V-3.b T-2.return DN50 3/-0.3
run r3 T-1.outlet V-3.a DN50 1/-1
step s1 final-rinse from=T-1 to=X-1 cleans=T-2 flow_m3h=11 V-1=open V-3=open`},

	{"liquid-pocket", "bad", drained + `
note A sag: 4 m down and 4 m up again to the height of the valve: 8 x 1.9635 = 15.7 L.
run r2 V-1.b X-1.a DN50 4/-0.3 4/0.3 2/-0.5
want r2 liquid-pocket "fix: 15.7 L stay around run from V-1 to X-1, stretch 1"`},
	{"liquid-pocket", "good", drained},
	{"liquid-pocket", "just within", drained + `
note 2 x 25 mm x 1.9635 L/m = 0.0982 L.
run r2 V-1.b X-1.a DN50 5/-0.1 0.025/-0.01 0.025/0.01 2/-0.4`},
	{"liquid-pocket", "just beyond", drained + `
note 2 x 26 mm x 1.9635 L/m = 0.1021 L.
run r2 V-1.b X-1.a DN50 5/-0.1 0.026/-0.01 0.026/0.01 2/-0.4
want r2 liquid-pocket "0.102 L stay"`},
	{"liquid-pocket", "up and over", drained + `
note The line rises 0.2 m behind the valve before it falls to the drain: what is before it fills to 0.2 m above the valve.
run r2 V-1.b X-1.a DN50 0.2/0.2 10/-0.1 0.6/-0.6
want V-1 liquid-pocket "stay around V-1"`},
	{"liquid-pocket", "a second drain at the bottom of the sag", drained + `
part TE-1 tee size=DN50 second_size=DN50 run_mm=120 stub_mm=20 elevation_m=0.2
part X-2 sewer-drain size=DN50
run r2 V-1.b TE-1.a DN50 4/-0.3
run r3 TE-1.b X-1.a DN50 4/0.3 2/-0.5
run r4 TE-1.branch X-2.a DN50 0.2/-0.2`},
	{"liquid-pocket", "a vessel below the sill", drained + `
note The line rises to 2.5 m, 0.5 m above the outlet of the flat vessel: pi/4 x 1.8² x 0.5 = 1272 L stay in it,
note with 1.5 m, twice 30 mm at the seat and 2 m of tube, 6.99 L: 1279 L.
set T-2 bottom=flat top=flat
run r2 V-1.b X-1.a DN50 2/2 2.6/-2.5
want V-1 liquid-pocket "fix: 1279 L stay in T-2 and around V-1"`},
	{"liquid-pocket", "volume unknown", drained + `
run r2 V-1.b X-1.a 4/-0.3 4/0.3 2/-0.5
want r2 liquid-pocket "how much is unknown without the tube size"`},
	{"liquid-pocket", "heights unknown", drained + `
set V-1 elevation_m=
run r1 T-2.outlet V-1.a DN50 1.5/?
run r2 V-1.b X-1.a DN50 10/?
want-not-assessed V-1 liquid-pocket "elevation of V-1"`},

	{"little-fall", "bad", drained + `
note 0.05 m over 10 m: 0.5 %.
run r2 V-1.b X-1.a DN50 10/-0.05 0.5/-0.45
want r2 little-fall "fix: run from V-1 to X-1, stretch 1 falls 0.5 % towards the drain, less than 1 %, over 10 m"`},
	{"little-fall", "just at the limit", drained + `
note 0.1 m over 10 m: 1 %.`},
	{"little-fall", "just below", drained + `
note 0.099 m over 10 m: 0.99 %.
run r2 V-1.b X-1.a DN50 10/-0.099 0.5/-0.401
want r2 little-fall "falls 0.99 %"`},
	{"little-fall", "level", drained + `
run r2 V-1.b X-1.a DN50 10/0 0.5/-0.5
want r2 little-fall "lies level, where it should fall 1 % towards the drain, over 10 m"`},
	{"little-fall", "falls away from the drain", drained + `
run r2 V-1.b X-1.a DN50 10/0.05 0.6/-0.55
want r2 little-fall "rises 0.5 % towards the drain, where it should fall 1 %, over 10 m"`},
	{"little-fall", "drawn the other way round", drained + `
note The run is drawn from the drain to the valve and rises that way: it drains against the drawing.
run r2 X-1.a V-1.b DN50 0.4/0.4 10/0.1`},
	{"little-fall", "a line is told once", drained + `
note Level, upright, 0.3 %, a valve, 0.5 %: the upright one is not judged; 4 + 3 + 2 = 9 m.
part V-2 butterfly-valve size=DN50 seat_a_mm=30 seat_b_mm=30
run r2 V-1.b V-2.a DN50 4/0 0.1/-0.1 3/-0.009
run r3 V-2.b X-1.a DN50 2/-0.01 0.381/-0.381
step s1 final-rinse from=X-3 to=X-1 cleans=T-2 flow_m3h=11 V-1=open V-2=open
step s2 drain from=T-2 to=X-1 V-1=open V-2=open
want r2 little-fall "fix: run from V-1 to V-2, stretch 1 lies level, where it should fall 1 % towards the drain, the worst of 3 stretches in a row, 9 m in all"`},
	{"little-fall", "two lines with a good one between", drained + `
part V-2 butterfly-valve size=DN50 seat_a_mm=30 seat_b_mm=30
run r2 V-1.b V-2.a DN50 4/0 3/-0.06
run r3 V-2.b X-1.a DN50 2/-0.01 0.43/-0.43
step s1 final-rinse from=X-3 to=X-1 cleans=T-2 flow_m3h=11 V-1=open V-2=open
step s2 drain from=T-2 to=X-1 V-1=open V-2=open
want r2 little-fall "run from V-1 to V-2, stretch 1 lies level, .* over 4 m"
want r3 little-fall "run from V-2 to X-1, stretch 1 falls 0.5 % towards the drain, less than 1 %, over 2 m"`},
	{"little-fall", "heights that disagree come first", drained + `
note The run falls 0.25 m by its stretches and 0.5 m by its ends: what it falls is not known.
run r2 V-1.b X-1.a DN50 10/0 0.25/-0.25`},
	{"little-fall", "unknown", drained + `
set X-1 elevation_m=
run r2 V-1.b X-1.a DN50 10/? 0.4/-0.4
want-not-assessed r2 little-fall "rise"`},

	{"concentric-on-level", "bad", `
part R-1 concentric-reducer size=DN50 second_size=DN40 lie=level
want R-1 concentric-on-level "fix: R-1 is concentric and lies level"`},
	{"concentric-on-level", "eccentric", `
part R-1 eccentric-reducer size=DN50 second_size=DN40 lie=level`},
	{"concentric-on-level", "upright", `
part R-1 concentric-reducer size=DN50 second_size=DN40 lie=upright`},
	{"concentric-on-level", "told by the stretch beside it", `
note 0.1 m over 3 m is level.
part R-1 concentric-reducer size=DN50 second_size=DN40
part F-1 filler-line
run r1 R-1.b F-1.a DN40 3/0.1
want R-1 concentric-on-level "lies level"`},
	{"concentric-on-level", "just steep enough", `
note A rise of half the length counts as upright, one just below it as level.
part R-1 concentric-reducer size=DN50 second_size=DN40
part R-2 concentric-reducer size=DN50 second_size=DN40
part F-1 filler-line
run r1 R-1.b F-1.a DN40 2/1
run r2 F-1.b R-2.b DN40 2/0.99
want R-2 concentric-on-level "lies level"`},
	{"concentric-on-level", "at a pump suction the aims collide", `
part R-1 concentric-reducer size=DN50 second_size=DN40 lie=level
part P-1 centrifugal-pump
run r1 R-1.b P-1.a DN40 0.3/0
want R-1 concentric-on-level "suction of P-1: flat at the top keeps air out, flat at the bottom lets it drain"`},
	{"concentric-on-level", "unknown", `
part R-1 concentric-reducer size=DN50 second_size=DN40
want-not-assessed R-1 concentric-on-level "of R-1"`},

	{"pump-keeps-liquid", "bad", `
part P-1 centrifugal-pump casing_drain=no outlet_way=up
want P-1 pump-keeps-liquid "note: P-1 has no casing drain and its outlet points up"`},
	{"pump-keeps-liquid", "good", `
part P-1 centrifugal-pump casing_drain=yes outlet_way=up`},
	{"pump-keeps-liquid", "outlet down", `
part P-1 centrifugal-pump casing_drain=no outlet_way=down`},
	{"pump-keeps-liquid", "outlet to the side", `
part P-1 lobe-pump casing_drain=no outlet_way=side
want P-1 pump-keeps-liquid "its outlet points to the side"`},
	{"pump-keeps-liquid", "unknown", `
note Of P-2 one property settles it; a dosing pump has no casing to drain.
part P-1 centrifugal-pump outlet_way=up
part P-2 centrifugal-pump casing_drain=yes
part P-3 dosing-pump
part P-4 centrifugal-pump casing_drain=no
want-not-assessed P-1 pump-keeps-liquid "casing drain of P-1"
want-not-assessed P-4 pump-keeps-liquid "discharge points of P-4"`},

	{"drain-without-air", "bad", drained + `
set T-2 vented=no
want X-1 drain-without-air "fix: what drains to X-1 has no inlet for air in step drain"`},
	{"drain-without-air", "good", drained},
	{"drain-without-air", "vent on a nozzle", drained + `
set T-2 vented=no
part X-4 vent size=DN50
run r4 T-2.vent X-4.a DN50 1/1`},
	{"drain-without-air", "vent behind a shut valve", drained + `
set T-2 vented=no
part X-4 vent size=DN50
part V-4 butterfly-valve size=DN50
run r4 T-2.nozzle V-4.a DN50 1/1
run r5 V-4.b X-4.a DN50 1/1
want X-1 drain-without-air "no inlet for air"`},
	{"drain-without-air", "the step opens the vent", drained + `
set T-2 vented=no
part X-4 vent size=DN50
part V-4 butterfly-valve size=DN50
run r4 T-2.nozzle V-4.a DN50 1/1
run r5 V-4.b X-4.a DN50 1/1
set s2 V-4=open`},
	{"drain-without-air", "the tail behind a shut valve needs none", drained + `
note In this drain step the valve to the sewer is shut; the tube below it is open at its end.
set T-2 vented=no
step s2 drain from=T-2 to=X-1 V-1=closed`},
	{"drain-without-air", "another drain step lets air in", drained + `
note In s3 the vent behind V-4 is shut, but what drains then has drained with air in s2.
set T-2 vented=no
part X-4 vent size=DN50
part V-4 butterfly-valve size=DN50
run r4 T-2.nozzle V-4.a DN50 1/1
run r5 V-4.b X-4.a DN50 1/1
set s2 V-4=open
step s3 drain from=T-2 to=X-1 V-1=open`},
	{"drain-without-air", "unknown", drained + `
set T-2 vented=
want-not-assessed X-1 drain-without-air "of T-2"`},

	{"sewer-joined", "bad", `
note Two bores of 50 mm are 100 mm.
part X-1 sewer-drain size=DN50 air_gap_mm=0
want X-1 sewer-joined "fix: X-1 has an air gap of 0 mm above the sewer; 100 mm are needed"`},
	{"sewer-joined", "just at the limit", `
part X-1 sewer-drain size=DN50 air_gap_mm=100`},
	{"sewer-joined", "just below", `
part X-1 sewer-drain size=DN50 air_gap_mm=99.9
want X-1 sewer-joined "99.9 mm above the sewer; 100 mm"`},
	{"sewer-joined", "a narrow drain needs 20 mm", `
note Two bores of 9.4 mm are 18.8 mm; 20 mm are the least.
part X-1 sewer-drain size=1/2in air_gap_mm=19
part X-2 sewer-drain size=1/2in air_gap_mm=20
want X-1 sewer-joined "20 mm are needed"`},
	{"sewer-joined", "unknown", `
note Less than 20 mm is too little whatever the bore.
part X-1 sewer-drain size=DN50
part X-2 sewer-drain air_gap_mm=50
part X-3 sewer-drain air_gap_mm=10
want-not-assessed X-1 sewer-joined "air gap of X-1"
want-not-assessed X-2 sewer-joined "tube size of X-2"
want X-3 sewer-joined "20 mm are needed"`},
}
