package checks_test

// Steps of one programme need no plant to be judged by their order.
const washed = `
step s1 first-rinse
step s2 alkali-wash
step s3 rinse-between
step s4 acid-wash
step s5 final-rinse
`

// onlyTank is a programme that has one tank for all, with a drain valve on it.
const onlyTank = `
part T-1 water-tank size=DN50 inlet_size=DN50
part V-1 butterfly-valve size=DN50
part X-1 sewer-drain size=DN50
part X-2 water-supply size=DN50
run r1 T-1.outlet V-1.a DN50 1/-1
run r2 V-1.b X-1.a DN50 1/-1
run r3 X-2.a T-1.fill DN50 1/-1
step s1 first-rinse from=T-1 to=X-1 medium=water
step s2 alkali-wash from=T-1 to=T-1
step s3 rinse-between from=T-1 to=X-1
step s4 final-rinse from=T-1 to=X-1
`

// pushed is a wash of a filler line from the alkali tank T-1, a rinse from the water tank
// T-2 that pushes the alkali back, and the next wash. What the rinse passes holds 12 m of
// 1.963 L, 0.236 L of main in the tee, 8 L of the filler and 2 L of the pump, near 34 L.
const pushed = loop + `
part T-2 water-tank size=DN50 inlet_size=DN50 elevation_m=1
part V-1 butterfly-valve size=DN50 seat_a_mm=25 seat_b_mm=25
part V-2 butterfly-valve size=DN50 seat_a_mm=25 seat_b_mm=25
part TE-1 tee size=DN50 second_size=DN50 stub_mm=30 run_mm=120
run r1 T-1.outlet V-1.a DN50 1/-0.5
run r4 V-1.b TE-1.branch DN50 face
run r5 TE-1.b P-1.a DN50 face
run r6 T-2.outlet V-2.a DN50 1/-0.5
run r7 V-2.b TE-1.a DN50 face
step s1 alkali-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1 V-1=open
step s2 rinse-between from=T-2 to=T-1 cleans=F-1 flow_m3h=11 running=P-1 V-2=open end_volume_L=33.5
step s3 alkali-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1 V-1=open
`

var casesProgramme = []ruleCase{
	{"no-final-rinse", "bad", washed + `
drop s5
want s4 no-final-rinse "stop: no rinse follows the acid of step acid-wash"`},
	{"no-final-rinse", "good", washed},
	{"no-final-rinse", "a water tank to rinse from", washed + `
part T-1 water-tank
drop s5
want s4 no-final-rinse "no rinse follows"`},
	{"no-final-rinse", "recovered water only", washed + `
set s5 medium=recovered-water
want s4 no-final-rinse "fix: the acid of step acid-wash is rinsed out with recovered water only"`},
	{"no-final-rinse", "recovered, then fresh", washed + `
set s5 medium=recovered-water
step s6 final-rinse`},
	{"no-final-rinse", "ends on a disinfectant", washed + `
step s6 disinfection
want s6 no-final-rinse "note: the programme ends on the disinfectant"`},
	{"no-final-rinse", "draining after the rinse", washed + `
step s6 drain`},
	{"no-final-rinse", "another programme rinses", `
note The rinse of another programme does not help.
step s1 alkali-wash programme=A
step s2 final-rinse programme=B
want s1 no-final-rinse "no rinse follows the alkali"`},
	{"no-final-rinse", "medium unknown", washed + `
set s5 medium=
want s4 no-final-rinse "no rinse follows"
want-not-assessed s5 no-final-rinse "medium of step final-rinse"`},

	{"chemicals-meet", "bad", washed + `
drop s3
want s4 chemicals-meet "stop: the acid of step acid-wash meets the alkali of step alkali-wash: no rinse is between them"`},
	{"chemicals-meet", "good", washed},
	{"chemicals-meet", "chlorine after acid", washed + `
drop s5
step s6 disinfection
want s6 chemicals-meet "the disinfectant of step disinfection meets the acid"`},
	{"chemicals-meet", "draining between is no rinse", `
step s1 alkali-wash
step s2 drain
step s3 acid-wash
want s3 chemicals-meet "no rinse is between them"`},
	{"chemicals-meet", "the same chemical twice", `
step s1 alkali-wash
step s2 alkali-wash`},
	{"chemicals-meet", "in two programmes", `
step s1 alkali-wash programme=A
step s2 acid-wash programme=B`},
	{"chemicals-meet", "the rinse goes another way", chain("P-1 F-1") + around("P-1.b", "F-1.a") + `
note Both chemicals go by V-8, the rinse between them by V-9: d2 and d3 keep the first.
drop c1
run d3 V-8.b TE-9.a DN50 1/0
step s2 rinse-between from=T-1 to=T-1 cleans=F-1 V-9=open
step s3 acid-wash from=T-1 to=T-1 cleans=F-1 V-8=open
want s3 chemicals-meet "meets the alkali of step alkali-wash in run from TE-8 to V-8 and one more, which no rinse between them reaches"`},
	{"chemicals-meet", "the rinse goes the same way", chain("P-1 F-1") + around("P-1.b", "F-1.a") + `
drop c1
run d3 V-8.b TE-9.a DN50 1/0
step s2 rinse-between from=T-1 to=T-1 cleans=F-1 V-8=open
step s3 acid-wash from=T-1 to=T-1 cleans=F-1 V-8=open`},
	{"chemicals-meet", "medium unknown", washed + `
set s3 medium=
want-not-assessed s3 chemicals-meet "medium of step rinse-between"
want s4 chemicals-meet "no rinse is between them"`},

	{"rinse-from-used-tank", "bad", onlyTank + `
want s3 rinse-from-used-tank "stop: step rinse-between draws water from T-1, into which step alkali-wash has sent alkali; so does step final-rinse"`},
	{"rinse-from-used-tank", "good", onlyTank + `
note The alkali has a tank of its own.
part T-2 alkali-tank
set s2 from=T-2 to=T-2`},
	{"rinse-from-used-tank", "emptied by a drain step from the tank", onlyTank + `
set s3 name=empty purpose=drain from=T-1 to=X-1`},
	{"rinse-from-used-tank", "emptied by opening its outlet to a sewer", onlyTank + `
note The drain step names neither source nor destination: V-1 leads from the outlet of T-1 to X-1.
set s3 purpose=drain from= to= V-1=open`},
	{"rinse-from-used-tank", "a drain step that leaves the tank shut", onlyTank + `
set s3 name=blow purpose=drain from= to=
want s4 rinse-from-used-tank "step final-rinse draws water from T-1, into which step alkali-wash has sent alkali"`},
	{"rinse-from-used-tank", "prepared anew", onlyTank + `
set s3 name=refill purpose=prepare from=X-2 to=T-1`},
	{"rinse-from-used-tank", "prepared with the chemical", onlyTank + `
note What is prepared in T-1 before the wash is drawn as alkali in s2 and as water in s3.
set s1 name=dose purpose=prepare from=X-2 to=T-1 medium=alkali
set s2 to=X-1
want s3 rinse-from-used-tank "step rinse-between draws water from T-1, into which step dose has sent alkali"`},
	{"rinse-from-used-tank", "water may be drawn as recovered water", `
part T-3 recovered-tank
part T-1 water-tank
step s1 final-rinse from=T-1 to=T-3
step s2 first-rinse from=T-3 to=T-3`},
	{"rinse-from-used-tank", "recovered water may not be drawn as water", `
part T-1 water-tank
step s1 first-rinse from=T-1 to=T-1
step s2 final-rinse from=T-1 to=T-1
want s2 rinse-from-used-tank "draws water from T-1, into which step first-rinse has sent recovered-water"`},
	{"rinse-from-used-tank", "in another programme", `
note Each programme begins with its tanks as they should be.
part T-1 water-tank
step s1 alkali-wash from=T-1 to=T-1 programme=A
step s2 final-rinse from=T-1 to=T-1 programme=B`},
	{"rinse-from-used-tank", "the rinse pushes the solution back", pushed},
	{"rinse-from-used-tank", "the rinse sends more than the circuit holds", pushed + `
set s2 end_volume_L=35
want s3 rinse-from-used-tank "stop: step alkali-wash draws alkali from T-1, into which step rinse-between has sent water"`},
	{"rinse-from-used-tank", "it ends by the conductivity of the return", pushed + `
set s2 end_volume_L= end_conductivity_mScm=20 time_min=2`},
	{"rinse-from-used-tank", "it tells no end", pushed + `
set s2 end_volume_L=
want-not-assessed s2 rinse-from-used-tank "time of step rinse-between"`},
	{"rinse-from-used-tank", "another rinse comes first", pushed + `
note By then water stands in the circuit, not alkali.
drop s2
drop s3
step s5 rinse-between from=T-2 to=T-2
step s6 rinse-between from=T-2 to=T-1 cleans=F-1 flow_m3h=11 running=P-1 V-2=open end_volume_L=30
step s7 alkali-wash from=T-1 to=T-1
want s7 rinse-from-used-tank "into which step rinse-between has sent water"`},
	{"rinse-from-used-tank", "it pushes into another chemical's tank", pushed + `
set s1 medium=acid
want s3 rinse-from-used-tank "into which step alkali-wash has sent acid"`},
	{"rinse-from-used-tank", "it is acid that pushes", pushed + `
set s2 medium=acid
want s3 rinse-from-used-tank "into which step rinse-between has sent acid"`},
	{"rinse-from-used-tank", "the wash came from elsewhere", pushed + `
note What stands in the circuit is of T-3, another tank of alkali.
part T-3 alkali-tank size=DN50
set s1 from=T-3
want s3 rinse-from-used-tank "into which step rinse-between has sent water"`},
	{"rinse-from-used-tank", "no way leads back", pushed + `
set s2 V-2=closed
want s3 rinse-from-used-tank "into which step rinse-between has sent water"`},
	{"rinse-from-used-tank", "medium unknown", onlyTank + `
set s3 medium=
set s4 medium=
want-not-assessed s3 rinse-from-used-tank "medium of step rinse-between"
want-not-assessed s4 rinse-from-used-tank "medium of step final-rinse"`},

	{"no-recovery", "bad", `
part T-3 recovered-tank
part X-1 sewer-drain
run r1 T-3.outlet X-1.a DN50 1/-1
step s1 final-rinse to=X-1
want s1 no-recovery "note: step final-rinse sends clean water to X-1 while T-3 stands by"`},
	{"no-recovery", "a tank that nothing joins does not stand by", `
part T-3 recovered-tank
part X-1 sewer-drain
step s1 final-rinse to=X-1`},
	{"no-recovery", "good", `
part T-3 recovered-tank
step s1 final-rinse to=T-3`},
	{"no-recovery", "the later part is recovered", `
part T-3 recovered-tank
part X-1 sewer-drain
run r1 T-3.outlet X-1.a DN50 1/-1
step s1 final-rinse to=X-1
step s2 final-rinse to=T-3`},
	{"no-recovery", "no tank", `
part X-1 sewer-drain
step s1 final-rinse to=X-1`},
	{"no-recovery", "first rinse may go to sewer", `
part T-3 recovered-tank
part X-1 sewer-drain
run r1 T-3.outlet X-1.a DN50 1/-1
step s1 first-rinse to=X-1`},
	{"no-recovery", "another programme recovers", `
part T-3 recovered-tank
part X-1 sewer-drain
run r1 T-3.outlet X-1.a DN50 1/-1
step s1 final-rinse to=X-1 programme=A
step s2 final-rinse to=T-3 programme=B
want s1 no-recovery "stands by"`},
}
