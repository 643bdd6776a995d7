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
