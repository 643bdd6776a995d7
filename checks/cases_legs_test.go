package checks_test

// branch is the loop with a tee whose branch leads to a shut valve. L is the stub
// from the inner wall of the main, the run between, and the seat of the valve.
const branch = loop + `
part TE-1 tee size=DN50 second_size=DN50 run_mm=120 stub_mm=20 branch_way=side elevation_m=1
part V-2 butterfly-valve size=DN50 seat_a_mm=25 seat_b_mm=25
part X-1 sewer-drain size=DN50
run r2 P-1.b TE-1.a DN50 5/0.5
run r4 TE-1.b F-1.a DN50 face
run r5 TE-1.branch V-2.a DN50 0.03/0
run r6 V-2.b X-1.a DN50 1/-0.5
`

// standby is the branch with a second pump on it, which no step uses.
const standby = branch + `
part P-2 centrifugal-pump size=DN50 outlet_size=DN50
run r5 TE-1.branch P-2.a DN50 face
run r7 P-2.b V-2.a DN50 0.1/0
`

var casesLegs = []ruleCase{
	{"dead-leg", "bad", branch + `
note 20 + 155 + 25 = 200 mm in 50 mm: 4 D.
run r5 TE-1.branch V-2.a DN50 0.155/0
want V-2 dead-leg "fix: dead leg from TE-1 to V-2, seat towards TE-1: 200 mm long and 50 mm wide, 4 D, longer than 1.5 D"`},
	{"dead-leg", "good", branch + `
note A short outlet, and the valve right on it: 10 + 0 + 25 = 35 mm: 0.7 D.
set TE-1 stub_mm=10
run r5 TE-1.branch V-2.a DN50 face`},
	{"dead-leg", "just at the limit", branch + `
note 20 + 30 + 25 = 75 mm: 1.5 D, not longer than 1.5 D.`},
	{"dead-leg", "just beyond the limit", branch + `
note 20 + 31 + 25 = 76 mm: 1.52 D. An outlet of 19 mm would do.
run r5 TE-1.branch V-2.a DN50 0.031/0
want V-2 dead-leg "fix: .* 76 mm long and 50 mm wide, 1.52 D"`},
	{"dead-leg", "short outlet cures it", branch + `
note 60 + 0 + 25 = 85 mm: 1.7 D; an outlet of 50 mm gives 75 mm.
set TE-1 stub_mm=60
run r5 TE-1.branch V-2.a DN50 face
want V-2 dead-leg "1.7 D"`},
	{"dead-leg", "just below stop", branch + `
note 20 + 230 + 25 = 275 mm from the wall, 300 mm from the axis: 6 D there, not above.
run r5 TE-1.branch V-2.a DN50 0.23/0
want V-2 dead-leg "fix: .* 275 mm"`},
	{"dead-leg", "just above stop", branch + `
note 276 mm from the wall, 301 mm from the axis: above 6 D.
run r5 TE-1.branch V-2.a DN50 0.231/0
want V-2 dead-leg "stop: .* 276 mm long and 50 mm wide, 5.52 D, longer than 1.5 D; 6.02 D from the axis of the flowing tube, longer than the 6 D above which it must not be built"`},
	{"dead-leg", "pharma allows 2 D", branch + `
profile pharma
note 20 + 55 + 25 = 100 mm: 2 D, the limit there.
run r5 TE-1.branch V-2.a DN50 0.055/0`},
	{"dead-leg", "pharma just beyond", branch + `
profile pharma
note 101 mm: 2.02 D.
run r5 TE-1.branch V-2.a DN50 0.056/0
want V-2 dead-leg "2.02 D, longer than 2 D"`},
	{"dead-leg", "narrow branch", branch + `
note The same 75 mm in 26 mm are 2.88 D.
set TE-1 second_size=DN25
set V-2 size=DN25
run r5 TE-1.branch V-2.a DN25 0.03/0
want V-2 dead-leg "75 mm long and 26 mm wide, 2.88 D"`},
	{"dead-leg", "flow passes it in every step", branch + `
note The branch is the way to the destination; what is beyond the tee on the main is shut off.
part V-3 butterfly-valve size=DN50 seat_a_mm=25 seat_b_mm=25
run r4 TE-1.b V-3.a DN50 face
run r7 V-3.b F-1.a DN50 face
step s1 alkali-wash from=T-1 to=X-1 flow_m3h=11 running=P-1 V-2=open
run r5 TE-1.branch V-2.a DN50 0.155/0
note Straight on from the tee: 60 - 25 (half the bore of the branch) + 25 = 60 mm: 1.2 D.`},
	{"dead-leg", "worst of two steps", branch + `
note In the second step V-2 is open and its far side stands full to V-3: 20 + 155 + 50 + 1000 + 25 = 1250 mm: 25 D at V-3; V-2 is told from the first.
part V-3 butterfly-valve size=DN50 seat_a_mm=25 seat_b_mm=25
run r5 TE-1.branch V-2.a DN50 0.155/0
run r6 V-2.b V-3.a DN50 1/0
run r7 V-3.b X-1.a DN50 1/-0.5
step s2 acid-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1 V-2=open
want V-2 dead-leg "fix: .* 4 D"
want V-3 dead-leg "stop: dead leg from TE-1 to V-3, seat towards V-2: 1250 mm long and 50 mm wide, 25 D"`},
	{"dead-leg", "seat unknown", branch + `
note 20 + 30 mm are within the limit, but the seat adds what nobody told.
set V-2 seat_a_mm=
want-not-assessed V-2 dead-leg "V-2"`},
	{"dead-leg", "unknown but long enough to condemn", branch + `
note 20 + 155 mm are 3.5 D without the seat.
set V-2 seat_a_mm=
run r5 TE-1.branch V-2.a DN50 0.155/0
want V-2 dead-leg "at least 175 mm long"`},
	{"dead-leg", "to a valve whose position nobody told", branch + `
note 75 mm to V-2 are within the limit, but open, it would leave 1 m more full.
set V-2 normal=
want-not-assessed V-2 dead-leg "normal position of V-2"`},
	{"dead-leg", "too long whether the valve is open or not", branch + `
note 200 mm to V-2 are 4 D already.
set V-2 normal=
run r5 TE-1.branch V-2.a DN50 0.155/0
want V-2 dead-leg "at least 200 mm long"`},
	{"dead-leg", "draining is not cleaning", branch + `
run r5 TE-1.branch V-2.a DN50 0.155/0
step s1 drain from=T-1 to=T-1`},

	{"dead-leg-upward", "bad", branch + `
note V-2 leads back to the tank, not to the open.
set TE-1 branch_way=up
run r6 V-2.b T-1.fill DN50 5/1
drop X-1
want TE-1 dead-leg-upward "note: the branch of TE-1 points up and no flow passes it"`},
	{"dead-leg-upward", "side", branch},
	{"dead-leg-upward", "down", branch + `
set TE-1 branch_way=down`},
	{"dead-leg-upward", "flow passes it", branch + `
set TE-1 branch_way=up
step s1 alkali-wash from=T-1 to=X-1 flow_m3h=11 running=P-1 V-2=open`},
	{"dead-leg-upward", "a drain is no vent", branch + `
set TE-1 branch_way=up
want TE-1 dead-leg-upward "points up"`},
	{"dead-leg-upward", "high-point vent", branch + `
note Behind V-2 stands a vent; the branch points up so that air gets out.
set TE-1 branch_way=up
part X-2 vent size=DN50
drop X-1
run r6 V-2.b X-2.a DN50 1/0.5`},
	{"dead-leg-upward", "vacuum breaker", branch + `
set TE-1 branch_way=up
part V-3 vacuum-relief-valve size=DN50
drop V-2
drop r6
drop X-1
run r5 TE-1.branch V-3.a DN50 0.03/0`},
	{"dead-leg-upward", "valve to the open", branch + `
set TE-1 branch_way=up
part V-3 sampling-valve size=DN50 seat_a_mm=8
drop V-2
drop r6
drop X-1
run r5 TE-1.branch V-3.a DN50 0.03/0`},
	{"dead-leg-upward", "a vent behind a second valve is none", branch + `
set TE-1 branch_way=up
part V-3 butterfly-valve size=DN50
part X-2 vent size=DN50
drop X-1
run r6 V-2.b V-3.a DN50 1/0.5
run r7 V-3.b X-2.a DN50 1/0.5
want TE-1 dead-leg-upward "points up"`},
	{"dead-leg-upward", "in one step only", branch + `
set TE-1 branch_way=up
step s1 alkali-wash from=T-1 to=X-1 flow_m3h=11 running=P-1 V-2=open
step s2 acid-wash from=T-1 to=T-1 flow_m3h=11 running=P-1
want TE-1 dead-leg-upward "points up"`},
	{"dead-leg-upward", "way unknown", branch + `
set TE-1 branch_way=
want-not-assessed TE-1 dead-leg-upward "branch points of TE-1"`},

	{"dead-leg-downward", "bad", branch + `
note V-2 leads back to the tank, not to a drain.
set TE-1 branch_way=down
run r6 V-2.b T-1.fill DN50 5/1
drop X-1
want TE-1 dead-leg-downward "note: the branch of TE-1 points down and no flow passes it"`},
	{"dead-leg-downward", "side", branch},
	{"dead-leg-downward", "capped", branch + `
set TE-1 branch_way=down
part CA-1 cap size=DN50
drop V-2
drop r6
drop X-1
run r5 TE-1.branch CA-1.a face
want TE-1 dead-leg-downward "points down"`},
	{"dead-leg-downward", "low-point drain to sewer", branch + `
note Turning this branch to the side would keep the line from draining.
set TE-1 branch_way=down`},
	{"dead-leg-downward", "opened by a drain step", branch + `
note V-2 leads to another tank by way of V-3; the drain step opens it.
set TE-1 branch_way=down
part T-2 water-tank inlet_size=DN50
part V-3 butterfly-valve size=DN50
drop X-1
run r6 V-2.b V-3.a DN50 1/-0.5
run r7 V-3.b T-2.return DN50 1/-0.5
step s2 drain to=T-2 V-2=open V-3=open`},
	{"dead-leg-downward", "no step opens it", branch + `
set TE-1 branch_way=down
part T-2 water-tank inlet_size=DN50
part V-3 butterfly-valve size=DN50
drop X-1
run r6 V-2.b V-3.a DN50 1/-0.5
run r7 V-3.b T-2.return DN50 1/-0.5
step s2 drain to=T-2 V-3=open
want TE-1 dead-leg-downward "points down"`},
	{"dead-leg-downward", "up", branch + `
set TE-1 branch_way=up`},
	{"dead-leg-downward", "flow passes it", branch + `
set TE-1 branch_way=down
step s1 alkali-wash from=T-1 to=X-1 flow_m3h=11 running=P-1 V-2=open`},
	{"dead-leg-downward", "way unknown", branch + `
set TE-1 branch_way=
want-not-assessed TE-1 dead-leg-downward "branch points"`},

	{"small-tee", "half inch", `
note Published for full-size 1/2 in tees: 5.58 D.
part TE-1 tee size=1/2in second_size=1/2in
want TE-1 small-tee "note: TE-1 of ASME BPE 1/2: the branch of a full-size standard tee is 5.58 D long, longer than 1.5 D"`},
	{"small-tee", "three quarters", `
note 19.05 mm outside is above 13 mm.
part TE-1 tee size=3/4in second_size=3/4in`},
	{"small-tee", "just at the limit", `
note 14.1 / 9.40 = 1.5 D.
part TE-1 tee size=1/2in second_size=1/2in stub_mm=14.1`},
	{"small-tee", "just beyond", `
note 14.2 / 9.40 = 1.511 D.
part TE-1 tee size=1/2in second_size=1/2in stub_mm=14.2
want TE-1 small-tee "its branch is 1.51 D long"`},
	{"small-tee", "pharma allows 2 D", `
profile pharma
note 18.8 / 9.40 = 2 D.
part TE-1 tee size=1/2in second_size=1/2in stub_mm=18.8`},
	{"small-tee", "unequal", `
note The branch of an unequal tee is judged as a dead leg, not here.
part TE-1 tee size=1/2in second_size=3/4in`},
	{"small-tee", "in a line that is never cleaned", loop + `
note The tee stands in the line that doses concentrate into the tank; no cleaning step reaches it, for the check valve holds.
part X-1 concentrate-supply size=1/2in
part TE-1 tee size=1/2in second_size=1/2in
part CA-1 cap size=1/2in
part C-1 check-valve size=1/2in
run r4 X-1.a TE-1.a 1/2in 1/0
run r5 TE-1.branch CA-1.a face
run r6 TE-1.b C-1.a 1/2in 1/0
run r7 C-1.b T-1.nozzle 1/2in 1/0.5`},
	{"small-tee", "in a line that is cleaned", loop + `
note 1/2 in, full size: 5.58 D.
part TE-1 tee size=1/2in second_size=1/2in
part CA-1 cap size=1/2in
run r2 P-1.b TE-1.a 1/2in 5/0.5
run r4 TE-1.b F-1.a face
run r5 TE-1.branch CA-1.a face
want TE-1 small-tee "5.58 D long"`},
	{"small-tee", "unknown", `
note For DN10 nothing is published; the short outlet tells its stub itself.
part TE-1 tee size=DN10 second_size=DN10
part TE-2 short-tee size=1/2in second_size=1/2in
part TE-3 tee second_size=DN10
part TE-4 tee size=DN10
want-not-assessed TE-1 small-tee "branch length of TE-1"
want-not-assessed TE-2 small-tee "branch length of TE-2"
want-not-assessed TE-3 small-tee "main tube size of TE-3"
want-not-assessed TE-4 small-tee "branch tube size of TE-4"`},

	{"sensor-in-dead-leg", "bad", branch + `
note The pocket of the transmitter is 40 mm deep and 20 mm wide: 2 D.
part TT-1 temperature-transmitter size=DN50 stub_mm=40 pocket_bore_mm=20
run r4 TE-1.b TT-1.a DN50 face
run r7 TT-1.b F-1.a DN50 face
want TT-1 sensor-in-dead-leg "fix: dead leg in TT-1: 40 mm long and 20 mm wide, 2 D"`},
	{"sensor-in-dead-leg", "flush", branch + `
part TT-1 temperature-transmitter size=DN50 stub_mm=0 pocket_bore_mm=20
run r4 TE-1.b TT-1.a DN50 face
run r7 TT-1.b F-1.a DN50 face`},
	{"sensor-in-dead-leg", "just at the limit", branch + `
note 30 / 20 = 1.5 D.
part TT-1 temperature-transmitter size=DN50 stub_mm=30 pocket_bore_mm=20
run r4 TE-1.b TT-1.a DN50 face
run r7 TT-1.b F-1.a DN50 face`},
	{"sensor-in-dead-leg", "just beyond", branch + `
note 30.1 / 20 = 1.505 D.
part TT-1 temperature-transmitter size=DN50 stub_mm=30.1 pocket_bore_mm=20
run r4 TE-1.b TT-1.a DN50 face
run r7 TT-1.b F-1.a DN50 face
want TT-1 sensor-in-dead-leg "1.51 D|1.5 D"`},
	{"sensor-in-dead-leg", "gauge on a long stub", branch + `
note 20 + 180 + 10 = 210 mm in at least 10 mm: 21 D.
part PI-1 pressure-gauge size=DN50 stub_mm=10 pocket_bore_mm=10
run r5 TE-1.branch PI-1.a DN50 0.18/0
drop V-2
drop r6
want PI-1 sensor-in-dead-leg "stop: .* 210 mm long and 10 mm wide, 21 D"`},
	{"sensor-in-dead-leg", "not reached", branch + `
note Behind the shut valve nothing is wet.
part TT-1 temperature-transmitter size=DN50 stub_mm=40 pocket_bore_mm=20
run r6 V-2.b TT-1.a DN50 1/-0.5
run r7 TT-1.b X-1.a DN50 face`},
	{"sensor-in-dead-leg", "unknown", branch + `
part TT-1 temperature-transmitter size=DN50
run r4 TE-1.b TT-1.a DN50 face
run r7 TT-1.b F-1.a DN50 face
want-not-assessed TT-1 sensor-in-dead-leg "of TT-1"`},

	{"never-swept", "bad", standby + `
want P-2 never-swept "stop: cleaning liquid reaches P-2, but no flow passes it in any step"`},
	{"never-swept", "good", loop},
	{"never-swept", "a tube is a dead leg and told there", branch + `
run r5 TE-1.branch V-2.a DN50 1/0`},
	{"never-swept", "swept in another step", standby + `
step s2 acid-wash from=T-1 to=X-1 flow_m3h=11 running=P-1,P-2 V-2=open`},
	{"never-swept", "draining does not count", standby + `
step s2 drain from=T-1 to=X-1 V-2=open
want P-2 never-swept "no flow passes it"`},
	{"never-swept", "not wetted", standby + `
note The pump stands behind the shut valve.
run r5 TE-1.branch V-2.a DN50 0.03/0
run r6 V-2.b P-2.a DN50 1/-0.5
run r7 P-2.b X-1.a DN50 1/-0.5`},
	{"never-swept", "what only leaks to a sewer is told by open-to-two", standby + `
set s1 V-2=open`},
	{"never-swept", "promised and not kept", loop + `
note F-2 is joined to nothing that flows.
part F-2 filler-line size=DN50
set s1 cleans=F-1,F-2
want F-2 never-swept "stop: F-2 is to be cleaned, but no flow passes it in any step that says so"`},
	{"never-swept", "promised and kept in one of two steps", loop + `
step s2 acid-wash from=T-1 to=T-1 cleans=T-1,F-1 flow_m3h=11 running=P-1`},

	{"uncleanable-part", "bad", loop + `
part V-1 ball-valve size=DN50
run r2 P-1.b V-1.a DN50 5/0.5
run r4 V-1.b F-1.a DN50 face
set s1 V-1=open
want V-1 uncleanable-part "fix: V-1 is a ball valve in a cleaned line"`},
	{"uncleanable-part", "good", loop + `
part V-1 seat-valve size=DN50
run r2 P-1.b V-1.a DN50 5/0.5
run r4 V-1.b F-1.a DN50 face
set s1 V-1=open`},
	{"uncleanable-part", "shut on a branch it is still wet on one side", branch + `
part V-9 globe-valve size=DN50
run r5 TE-1.branch V-9.a DN50 0.03/0
run r7 V-9.b V-2.a DN50 face
want V-9 uncleanable-part "globe valve"`},
	{"uncleanable-part", "behind a shut valve", branch + `
part V-9 gate-valve size=DN50
run r6 V-2.b V-9.a DN50 1/0
run r7 V-9.b X-1.a DN50 1/-0.5`},
	{"uncleanable-part", "reached in another step", branch + `
part V-9 gate-valve size=DN50
run r6 V-2.b V-9.a DN50 1/0
run r7 V-9.b X-1.a DN50 1/-0.5
step s2 acid-wash from=T-1 to=T-1 flow_m3h=11 running=P-1 V-2=open
want V-9 uncleanable-part "gate valve"`},
	{"uncleanable-part", "only drained through", branch + `
part V-9 gate-valve size=DN50
run r6 V-2.b V-9.a DN50 1/0
run r7 V-9.b X-1.a DN50 1/-0.5
step s2 drain from=T-1 to=X-1 running=P-1 V-2=open V-9=open`},
}
