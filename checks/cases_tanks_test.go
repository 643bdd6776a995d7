package checks_test

// hotThenCold is the flat vessel of 6.3617 m³ washed at 80 °C and then rinsed at 20 °C.
const hotThenCold = sprayed + `
set T-2 bottom=flat top=flat vented=no
set s1 temperature_C=80
step s2 final-rinse from=T-1 to=T-1 cleans=T-2 flow_m3h=11 running=P-1,P-2 temperature_C=20
`

var casesTanks = []ruleCase{
	{"vessel-can-collapse", "bad", hotThenCold + `
note Sealed at 80 °C, IAPWS-IF97: (101.325 - 47.415) x 293.15/353.15 + 2.339 = 47.09 kPa, 54.2 kPa below the air.
want T-2 vessel-can-collapse "stop: T-2 has no free vent in step final-rinse: from 80 °C to 20 °C the sealed vessel comes to 0.471 bar absolute, 0.542 bar below the air; it is taken to bear 0.005 bar"`},
	{"vessel-can-collapse", "rated for it", hotThenCold + `
note 0.543 bar is above 0.5423.
set T-2 rated_vacuum_bar=0.543`},
	{"vessel-can-collapse", "rated for just too little", hotThenCold + `
set T-2 rated_vacuum_bar=0.542
want T-2 vessel-can-collapse "0.542 bar below the air; it is rated for 0.542 bar below the air"`},
	{"vessel-can-collapse", "cold before hot", hotThenCold + `
note Cold first and hot last: nothing cools the vessel.
step s1 alkali-wash from=T-1 to=T-1 cleans=T-2 flow_m3h=11 running=P-1,P-2 temperature_C=80`},
	{"vessel-can-collapse", "free vent of the size needed", hotThenCold + `
note 1.75 K/s: 6.3617 x 293.15/101.325 x (1.92/353.15 + 53.91/353.15²) x 1.75 = 0.189 m³/s of air; DN150, 17671 mm²: 17.8 m/s, 191 Pa.
set T-2 vented=yes vent_size=DN150`},
	{"vessel-can-collapse", "free vent that is too small", hotThenCold + `
note DN50, 1963 mm²: 0.189/(0.6 x 0.0019635) = 160 m/s, 15.4 kPa.
set T-2 vented=yes vent_size=DN50
want T-2 vessel-can-collapse "at 1.75 K/s the 6[78]. m³/h of air that it draws through a bore of 50 mm leave 0.15. bar below the air .0.471 bar absolute if the vent is shut.; it is taken to bear 0.005 bar"`},
	{"vessel-can-collapse", "the vent is shut in the cold step", hotThenCold + `
part V-9 butterfly-valve size=DN150 normal=open
part X-9 vent size=DN150
run r8 T-2.vent V-9.a DN150 face
run r9 V-9.b X-9.a DN150 1/1
set s2 V-9=closed
want T-2 vessel-can-collapse "no free vent in step final-rinse"`},
	{"vessel-can-collapse", "the vent is open in the cold step", hotThenCold + `
part V-9 butterfly-valve size=DN150 normal=open
part X-9 vent size=DN150
run r8 T-2.vent V-9.a DN150 face
run r9 V-9.b X-9.a DN150 1/1`},
	{"vessel-can-collapse", "vacuum breaker that opens too late", hotThenCold + `
note 191 Pa in DN150 and a setting of 10 mbar: 0.0119 bar.
part V-9 vacuum-relief-valve size=DN150 set_bar=-0.01
run r8 T-2.vent V-9.a DN150 face
want T-2 vessel-can-collapse "leave 0.0119 bar below the air"`},
	{"vessel-can-collapse", "size of the vent unknown", hotThenCold + `
set T-2 vented=yes
want-not-assessed T-2 vessel-can-collapse "vent size of T-2"`},
	{"vessel-can-collapse", "temperature unknown", hotThenCold + `
set s1 temperature_C=
want-not-assessed T-2 vessel-can-collapse "temperature of step alkali-wash"`},
	{"vessel-can-collapse", "in another programme", hotThenCold + `
note Between programmes the vessel has time to cool.
set s1 programme=A
set s2 programme=B`},

	{"carbonate-vacuum", "bad", hotThenCold + `
set T-2 gas=carbon-dioxide
want T-2 carbonate-vacuum "stop: step alkali-wash sends alkali into T-2, which holds carbon dioxide and has no free vent"`},
	{"carbonate-vacuum", "nitrogen", hotThenCold + `
set T-2 gas=nitrogen`},
	{"carbonate-vacuum", "free vent", hotThenCold + `
set T-2 gas=carbon-dioxide vented=yes vent_size=DN80
want T-2 carbonate-vacuum "note: .* the vent is free, but the alkali is spent on the gas"`},
	{"carbonate-vacuum", "acid instead", hotThenCold + `
set T-2 gas=carbon-dioxide
step s1 acid-wash from=T-1 to=T-1 cleans=T-2 flow_m3h=11 running=P-1,P-2`},
	{"carbonate-vacuum", "blown out before", hotThenCold + `
note A step that blows air through the vessel comes first.
set T-2 gas=carbon-dioxide
step s0 air-blow from=T-1 to=T-1
step s1 alkali-wash from=T-1 to=T-1 cleans=T-2 flow_m3h=11 running=P-1,P-2`},
	{"carbonate-vacuum", "blown out afterwards", hotThenCold + `
set T-2 gas=carbon-dioxide
step s3 air-blow from=T-1 to=T-1
want T-2 carbonate-vacuum "no free vent"`},
	{"carbonate-vacuum", "gas unknown", hotThenCold + `
want-not-assessed T-2 carbonate-vacuum "gas above of T-2"`},
	{"carbonate-vacuum", "gas unknown and vented", sprayed},

	{"vent-small", "bad", sprayed + `
note Fill 50 mm, vent 50 mm: 1.2 x 50 = 60.
part X-9 vent size=DN50
run r8 T-1.vent X-9.a DN50 1/1
set T-2 vent_size=DN50
want T-1 vent-small "fix: the vent of T-1 has a bore of 50 mm; for its fill line of 50 mm it needs 60 mm"`},
	{"vent-small", "good", sprayed + `
part X-9 vent size=DN65
run r8 T-1.vent X-9.a DN65 1/1
set T-2 vent_size=DN50`},
	{"vent-small", "narrow place on the way", sprayed + `
part X-9 vent size=DN80
run r8 T-1.vent X-9.a DN40 1/1
set T-2 vent_size=DN50
want T-1 vent-small "a bore of 38 mm"`},
	{"vent-small", "two vents add up", sprayed + `
note 50 mm twice: 50 x 1.414 = 70.7 mm.
part X-8 vent size=DN50
part X-9 vent size=DN50
run r7 T-1.nozzle X-8.a DN50 1/1
run r8 T-1.vent X-9.a DN50 1/1
set T-2 vent_size=DN50`},
	{"vent-small", "just at the limit of a cleaned vessel", sprayed + `
note Outlet 50 mm, vent 50 mm.
set T-1 vent_size=DN65
set T-2 vent_size=DN50`},
	{"vent-small", "just below at a cleaned vessel", sprayed + `
set T-1 vent_size=DN65
set T-2 vent_size=DN40
want T-2 vent-small "the vent of T-2 has a bore of 38 mm; for its outlet of 50 mm it needs 50 mm"`},
	{"vent-small", "a valve that stands shut", sprayed + `
set T-1 vented=no
set T-2 vent_size=DN50
part V-9 butterfly-valve size=DN80
part X-9 vent size=DN80
run r8 T-1.vent V-9.a DN80 face
run r9 V-9.b X-9.a DN80 1/1
want T-1 vent-small "T-1 has no vent"`},
	{"vent-small", "that valve normally open", sprayed + `
set T-1 vented=no
set T-2 vent_size=DN50
part V-9 butterfly-valve size=DN80 normal=open
part X-9 vent size=DN80
run r8 T-1.vent V-9.a DN80 face
run r9 V-9.b X-9.a DN80 1/1`},
	{"vent-small", "unknown", sprayed + `
want-not-assessed T-1 vent-small "vent size of T-1"
want-not-assessed T-2 vent-small "vent size of T-2"`},

	{"overflow-missing", "bad", sprayed + `
want T-1 overflow-missing "fix: T-1 has no overflow"`},
	{"overflow-missing", "good", sprayed + `
set T-1 overflow_size=DN65`},
	{"overflow-missing", "just too small", sprayed + `
note 1.2 x 50 = 60 mm: DN65 has 66, DN50 50.
set T-1 overflow_size=DN50
want T-1 overflow-missing "the overflow of T-1 has a bore of 50 mm; for its fill line of 50 mm it needs 60 mm"`},
	{"overflow-missing", "drawn", sprayed + `
part X-9 sewer-drain size=DN65
run r8 T-1.overflow X-9.a DN65 2/-2`},
	{"overflow-missing", "drawn too small", sprayed + `
part X-9 sewer-drain size=DN40
run r8 T-1.overflow X-9.a DN40 2/-2
want T-1 overflow-missing "a bore of 38 mm"`},
	{"overflow-missing", "a narrower fill line needs less", sprayed + `
note All that fills is 38 mm: 45.6.
part X-9 sewer-drain size=DN50
run r8 T-1.overflow X-9.a DN50 2/-2
run r6 P-2.b T-1.return DN40 5/2.12`},
	{"overflow-missing", "closed tank", sprayed + `
set T-1 vented=no`},
	{"overflow-missing", "size of the fill line unknown", sprayed + `
set T-1 overflow_size=DN65
run r6 P-2.b T-1.return 5/2.12
set T-1 inlet_size=
want-not-assessed T-1 overflow-missing "tube size of run"`},

	{"spray-shadow", "bad", sprayed + `
set T-2 agitated=yes baffled=yes
want T-2 spray-shadow "note: T-2 has an agitator and baffles and 1 spray device only, 2 are needed"`},
	{"spray-shadow", "good", sprayed + `
set T-2 agitated=no baffled=no`},
	{"spray-shadow", "second device", sprayed + `
set T-2 agitated=yes baffled=yes
part S-2 spray-ball size=DN50 rated_flow_m3h=5
run r8 S-2.out T-2.spray2 face`},
	{"spray-shadow", "agitator that is drawn", sprayed + `
part A-2 agitator
run r8 T-2.agitator A-2.a face
want T-2 spray-shadow "has an agitator and 1 spray device"`},
	{"spray-shadow", "baffles only", sprayed + `
set T-2 agitated=no baffled=yes
want T-2 spray-shadow "has baffles"`},
	{"spray-shadow", "no step cleans it", sprayed + `
set T-2 agitated=yes
step s1 alkali-wash from=T-1 to=T-1 flow_m3h=11`},
	{"spray-shadow", "unknown", sprayed + `
want-not-assessed T-2 spray-shadow "agitator of T-2|agitated of T-2"`},
}

// highLeg is the sprayed vessel with a branch in its supply that rises 1 m to a shut valve.
const highLeg = sprayed + `
part TE-9 tee size=DN50 second_size=DN50 stub_mm=30 run_mm=120 branch_way=up
part V-9 butterfly-valve size=DN50 seat_a_mm=30 seat_b_mm=30
part X-9 product-supply size=DN50
run r2 P-1.b TE-9.a DN50 2/1.5
run r9 TE-9.b ST-1.a DN50 3/1.5
run r10 TE-9.branch V-9.a DN50 1/1
run r11 V-9.b X-9.a DN50 1/0
`

var casesVolumes = []ruleCase{
	{"air-pocket", "bad", highLeg + `
note 30 mm of stub, 1 m and 30 mm to the seat, 1.9635 L/m: 2.08 L.
want V-9 air-pocket "fix: 2.[01]. L of air stay at V-9.*: nothing flows there and no vent is above it"`},
	{"air-pocket", "branch to the side", highLeg + `
note The branch falls: its air goes up into the flow.
run r10 TE-9.branch V-9.a DN50 1/-0.05`},
	{"air-pocket", "vent on the high point", highLeg + `
drop X-9
drop r11
drop V-9
part X-8 vent size=DN25
run r10 TE-9.branch X-8.a DN50 1/1`},
	{"air-pocket", "just within", highLeg + `
note 20 mm of tube above the axis, face to face with a seat at 25 mm: 0.045 x 1.9635 = 0.088 L.
set TE-9 stub_mm=0
set V-9 seat_a_mm=25
run r10 TE-9.branch V-9.a DN50 0.02/0.02`},
	{"air-pocket", "just beyond", highLeg + `
note 30 mm of tube and 25 mm to the seat: 0.055 x 1.9635 = 0.108 L.
set TE-9 stub_mm=0
set V-9 seat_a_mm=25
run r10 TE-9.branch V-9.a DN50 0.03/0.03
want V-9 air-pocket "0.108 L of air"`},
	{"air-pocket", "flow passes it in another step", highLeg + `
note In s2 the liquid leaves by the branch; there the flow has to carry the air.
part X-8 sewer-drain size=DN50
run r11 V-9.b X-8.a DN50 1/0
drop X-9
step s2 rinse-between from=T-1 to=X-8 flow_m3h=11 running=P-1 V-9=open`},
	{"air-pocket", "bore unknown", highLeg + `
run r10 TE-9.branch V-9.a 1/1
want-not-assessed V-9 air-pocket "tube size of run"`},

	{"drain-slow", "bad", drained + `
note t = 2 A √h / (Cd a √2g) with A = π/4 x 1.8² = 2.5447 m², h = 5/2.5447 = 1.9649 m, a = 530.9 mm²: 5057 s = 84.3 min.
set T-2 bottom=flat top=flat size=DN25 working_volume_L=5000
want T-2 drain-slow "note: 5000 L of T-2 run out through a bore of 26 mm in 84.3 min, longer than 60 min"`},
	{"drain-slow", "good", drained + `
note The same through 50 mm: 22.8 min.
set T-2 bottom=flat top=flat working_volume_L=5000`},
	{"drain-slow", "just within", drained + `
note √h = 1.4018 x 3600/5057, h = 0.9958 m: 2534 L take 60 min.
set T-2 bottom=flat top=flat size=DN25 working_volume_L=2530`},
	{"drain-slow", "just beyond", drained + `
set T-2 bottom=flat top=flat size=DN25 working_volume_L=2540
want T-2 drain-slow "60.1 min"`},
	{"drain-slow", "narrower than the outlet", drained + `
set T-2 working_volume_L=3000
set X-1 size=DN40
want X-1 drain-slow "T-2 drains through X-1.* of 38 mm, narrower than its outlet of 50 mm"`},
	{"drain-slow", "shut in the drain step", drained + `
set T-2 bottom=flat top=flat size=DN25 working_volume_L=5000
set s2 V-1=closed`},
	{"drain-slow", "a dished bottom leaves less above it", drained + `
note The dish holds less than a flat bottom of its height, so the level stands higher; still below the limit.
set T-2 working_volume_L=5000`},
	{"drain-slow", "unknown", drained + `
want-not-assessed T-2 drain-slow "working volume of T-2"`},

	{"tank-too-small", "bad", pumped + `
note 11 m³/h for 3 min: 550 L.
set F-1 hold_up_L=10
set P-1 hold_up_L=2
set T-1 working_volume_L=540
want T-1 tank-too-small "fix: T-1 holds 540 L; 11 m³/h for 3 min are 550 L"`},
	{"tank-too-small", "just enough", pumped + `
set F-1 hold_up_L=10
set P-1 hold_up_L=2
set T-1 working_volume_L=550`},
	{"tank-too-small", "a long circuit", pumped + `
note 300 m instead of 5 m of 1.9635 L/m. Lines 1 + 300 + 6 m: 602.8 L, pump 2 L, object 10 L: 614.8 L; x 1.3 = 799.2 L.
set F-1 hold_up_L=10
set P-1 hold_up_L=2 rated_head_m=40
run r2 P-1.b F-1.a DN50 300/0.5
set T-1 working_volume_L=798
want T-1 tank-too-small "its circuit holds 615 L in lines and 0 L in puddles, with the margin 799 L are needed"`},
	{"tank-too-small", "that circuit with a larger tank", pumped + `
set F-1 hold_up_L=10
set P-1 hold_up_L=2 rated_head_m=40
run r2 P-1.b F-1.a DN50 300/0.5
set T-1 working_volume_L=800`},
	{"tank-too-small", "less flow in the step", pumped + `
note 5 m³/h for 3 min: 250 L.
set F-1 hold_up_L=10
set P-1 hold_up_L=2
set T-1 working_volume_L=300
set s1 flow_m3h=5`},
	{"tank-too-small", "sent away", pumped + `
note What is sent to the sewer does not come back.
set T-1 working_volume_L=300
part X-9 sewer-drain size=DN50
run r3 F-1.b X-9.a DN50 5/-1
step s1 final-rinse from=T-1 to=X-9 cleans=F-1 flow_m3h=11 running=P-1 temperature_C=80`},
	{"tank-too-small", "unknown", pumped + `
want-not-assessed T-1 tank-too-small "working volume of T-1"`},
	{"tank-too-small", "hold-up unknown", pumped + `
set T-1 working_volume_L=5000
set F-1 hold_up_L=
want-not-assessed T-1 tank-too-small "hold-up of"`},

	{"recovery-overflows", "bad", recovering + `
note Flat, 1.2 m wide: 1.131 m² x 0.5 m = 565 L; 11 m³/h for 6 min are 1100 L: 1665 of 1500 L.
want T-3 recovery-overflows "fix: T-3 comes to 166. L in step final-rinse and holds 1500 L: 16. L run over"`},
	{"recovery-overflows", "shorter", recovering + `
note 5 min: 917 L, 1482 L in all.
set s1 time_min=5`},
	{"recovery-overflows", "just too long", recovering + `
note 5.1 min are exactly 935 L: 1500.5 L.
set s1 time_min=5.1
want T-3 recovery-overflows "1500 L|1501 L"`},
	{"recovery-overflows", "end by volume", recovering + `
note The step ends after 900 L.
set s1 end_volume_L=900`},
	{"recovery-overflows", "a step before draws from it", recovering + `
note 550 L are drawn first: 15 L are left.
step s0 first-rinse from=T-3 to=X-9 flow_m3h=11 time_min=3
step s1 final-rinse from=T-1 to=T-3 flow_m3h=11 time_min=6`},
	{"recovery-overflows", "emptied before", recovering + `
step s0 drain from=T-3 to=X-9
step s1 final-rinse from=T-1 to=T-3 flow_m3h=11 time_min=6`},
	{"recovery-overflows", "circulation adds nothing", recovering + `
step s1 final-rinse from=T-3 to=T-3 flow_m3h=11 time_min=60`},
	{"recovery-overflows", "level unknown", recovering + `
set T-3 level_m=
want-not-assessed T-3 recovery-overflows "liquid level of T-3"`},
	{"recovery-overflows", "time unknown", recovering + `
set s1 time_min=
want-not-assessed T-3 recovery-overflows "time of step"`},
}

// recovering sends a rinse to a tank for recovered water that is a third full.
const recovering = `
part T-1 water-tank size=DN50 inlet_size=DN50
part T-3 recovered-tank size=DN50 inlet_size=DN50 diameter_m=1.2 height_m=1.8 bottom=flat top=flat level_m=0.5 working_volume_L=1500
part X-9 sewer-drain size=DN50
run r1 T-1.outlet T-3.return DN50 5/-1
run r2 T-3.outlet X-9.a DN50 5/-1
step s1 final-rinse from=T-1 to=T-3 flow_m3h=11 time_min=6
`
