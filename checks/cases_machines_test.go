package checks_test

// heated is the loop with an electric heater behind the pump. It holds 1500 L in the
// tank and, in 12 m of 50 mm, P-1, E-1 and F-1, 23.56 + 2 + 5 + 8 = 38.6 L.
const heated = pumped + `
set T-1 working_volume_L=1500
part E-1 electric-heater size=DN50 duty_kW=130 hold_up_L=5 pressure_drop_bar=0.1 rated_flow_m3h=11
set P-1 rated_head_m=4
run r2 P-1.b E-1.a DN50 1/0
run r4 E-1.b F-1.a DN50 4/0.5
`

// steamed has a plate heater with a whole steam set.
const steamed = pumped + `
set T-1 working_volume_L=1500
part E-1 plate-heater size=DN50 service_size=DN25 duty_kW=200 hold_up_L=5 pressure_drop_bar=0.1 rated_flow_m3h=11
set P-1 rated_head_m=4
run r2 P-1.b E-1.a DN50 1/0
run r4 E-1.b F-1.a DN50 4/0.5
part SS-1 steam-supply size=DN25 pressure_bar=3
part V-10 globe-valve size=DN25 normal=open
part ST-10 strainer size=DN25
part V-11 steam-control-valve size=DN25
part TE-10 tee size=DN25 second_size=DN25
part VB-10 vacuum-relief-valve size=DN25
part TR-10 steam-trap size=DN25
part CV-10 check-valve size=DN25
part CR-10 condensate-return size=DN25
run q1 SS-1.a V-10.a DN25 1/0
run q2 V-10.b ST-10.a DN25 face
run q3 ST-10.b V-11.a DN25 face
run q4 V-11.b TE-10.a DN25 face
run q5 TE-10.branch VB-10.a DN25 face
run q6 TE-10.b E-1.s DN25 1/-1
run q7 E-1.k TR-10.a DN25 1/-0.3
run q8 TR-10.b CV-10.a DN25 face
run q9 CV-10.b CR-10.a DN25 1/0
`

var casesMachines = []ruleCase{
	{"suction-upset", "good", pumped},
	{"suction-upset", "bad", pumped + `
note 0.2 m in 50 mm: 4 D.
run r1 T-1.outlet P-1.a DN50 1/-0.5 0.2/0
want P-1 suction-upset "note: 200 mm of straight tube before P-1, 4 D; 5 D are wanted"`},
	{"suction-upset", "just at the limit", pumped + `
run r1 T-1.outlet P-1.a DN50 1/-0.5 0.25/0`},
	{"suction-upset", "just below", pumped + `
run r1 T-1.outlet P-1.a DN50 1/-0.5 0.249/0
want P-1 suction-upset "4.98 D"`},
	{"suction-upset", "high point", pumped + `
note From the outlet at 1 m up to 1.3 m and down to the pump at 0.5 m.
run r1 T-1.outlet P-1.a DN50 1/0.3 1/-0.8
want P-1 suction-upset "the suction of P-1 has a high point at .*, 0.3 m above what comes before and after"`},
	{"suction-upset", "the pump does not run in this step", pumped + `
run r1 T-1.outlet P-1.a DN50 1/-0.5 0.2/0
set s1 running=`},
	{"suction-upset", "unknown", pumped + `
run r1 T-1.outlet P-1.a DN50 1/-0.5 ?/0
want-not-assessed P-1 suction-upset "of run from T-1 to P-1"`},

	{"heater-too-small", "good", heated},
	{"heater-too-small", "bad", heated + `
note 1.5386 m³ x 999.7 kg/m³ x 4.184 kJ/kgK x 70 K = 450.5 MJ from the 10 °C of the limits; at 60 kW 7508 s = 125 min.
set E-1 duty_kW=60
want E-1 heater-too-small "fix: E-1 takes 125 min to bring the 1539 L of T-1 and the circuit from 10 °C to 80 °C, longer than 60 min"`},
	{"heater-too-small", "just at the limit", heated + `
note 450.5 MJ in 3600 s are 125.1 kW.
set E-1 duty_kW=126`},
	{"heater-too-small", "just too long", heated + `
set E-1 duty_kW=124.5
want E-1 heater-too-small "longer than 60 min"`},
	{"heater-too-small", "only in the hotter step", heated + `
note To 40 °C the 30 K take 193 MJ, 54 min at 60 kW.
set E-1 duty_kW=60
set s1 temperature_C=40
step s2 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1 temperature_C=80
want E-1 heater-too-small "from 10 °C to 80 °C"`},
	{"heater-too-small", "once through from a supply", heated + `
note 1.161 kW per m³/h and kelvin: 11 m³/h by 40 K take some 510 kW (998.2 x 11/3600 x 4.180 x 40 = 510.0).
part W-1 water-supply size=DN50 pressure_bar=1 temperature_C=20 elevation_m=1
part X-1 sewer-drain size=DN50 elevation_m=0.2
run r1 W-1.a P-1.a DN50 1/-0.5
run r3 F-1.b X-1.a DN50 2/-0.8
step s1 final-rinse from=W-1 to=X-1 cleans=F-1 flow_m3h=11 running=P-1 temperature_C=60
set E-1 duty_kW=505
want E-1 heater-too-small "fix: E-1 gives 505 kW; to bring 11 m³/h from 20 °C to 60 °C in one pass takes 510 kW"`},
	{"heater-too-small", "once through and large enough", heated + `
part W-1 water-supply size=DN50 pressure_bar=1 temperature_C=20 elevation_m=1
part X-1 sewer-drain size=DN50 elevation_m=0.2
run r1 W-1.a P-1.a DN50 1/-0.5
run r3 F-1.b X-1.a DN50 2/-0.8
step s1 final-rinse from=W-1 to=X-1 cleans=F-1 flow_m3h=11 running=P-1 temperature_C=60
set E-1 duty_kW=515`},
	{"heater-too-small", "surface too small", steamed + `
note 0.5 m² x 1000 W/m²K = 500 W/K, steam of 4 bar absolute at 143.6 °C: C ln((143.6 - 10) / (143.6 - 80)) / 500, C = 6.436 MJ/K: 9550 s = 159 min; pumped round at 12.6 kW/K some 2 % longer.
set E-1 area_m2=0.5 coefficient_Wm2K=1000
want E-1 heater-too-small "E-1 takes 16[0-9] min"`},
	{"heater-too-small", "surface large enough", steamed + `
set E-1 area_m2=2 coefficient_Wm2K=2000`},
	{"heater-too-small", "steam too cool", steamed + `
note Steam of 0.2 bar gauge condenses at 104.9 °C.
set SS-1 pressure_bar=0.2
set E-1 area_m2=2 coefficient_Wm2K=2000
set s1 temperature_C=110
want E-1 heater-too-small "cannot bring T-1 to 110 °C: its steam condenses at 105 °C"`},
	{"heater-too-small", "unknown", heated + `
set E-1 duty_kW=
want-not-assessed E-1 heater-too-small "duty of E-1"`},
	{"heater-too-small", "steam pressure unknown", steamed + `
set SS-1 pressure_bar=
set E-1 area_m2=2 coefficient_Wm2K=2000
want-not-assessed E-1 heater-too-small "pressure of SS-1"`},

	{"steam-set-incomplete", "good", steamed},
	{"steam-set-incomplete", "no trap", steamed + `
drop TR-10
drop q8
run q7 E-1.k CV-10.a DN25 1/-0.3
want E-1 steam-set-incomplete "fix: the steam set of E-1 lacks a steam trap"`},
	{"steam-set-incomplete", "bare", steamed + `
drop ST-10
drop V-10
drop q2
drop q3
drop VB-10
drop q5
drop CV-10
drop q9
run q1 SS-1.a V-11.a DN25 1/0
run q8 TR-10.b CR-10.a DN25 1/0
want E-1 steam-set-incomplete "lacks a block valve, a strainer, a vacuum breaker and a check valve behind the trap"`},
	{"steam-set-incomplete", "bypass of the control valve stands shut", steamed + `
part TE-11 tee size=DN25 second_size=DN25
part TE-12 tee size=DN25 second_size=DN25
part V-12 globe-valve size=DN25 normal=closed
run q3 ST-10.b TE-11.a DN25 face
run p1 TE-11.b V-11.a DN25 face
run q4 V-11.b TE-12.a DN25 face
run p2 TE-12.b TE-10.a DN25 face
run p3 TE-11.branch V-12.a DN25 face
run p4 V-12.b TE-12.branch DN25 face`},
	{"steam-set-incomplete", "bypass of the control valve stands open", steamed + `
part TE-11 tee size=DN25 second_size=DN25
part TE-12 tee size=DN25 second_size=DN25
part V-12 globe-valve size=DN25 normal=open
run q3 ST-10.b TE-11.a DN25 face
run p1 TE-11.b V-11.a DN25 face
run q4 V-11.b TE-12.a DN25 face
run p2 TE-12.b TE-10.a DN25 face
run p3 TE-11.branch V-12.a DN25 face
run p4 V-12.b TE-12.branch DN25 face
want E-1 steam-set-incomplete "lacks a control valve"`},
	{"steam-set-incomplete", "vacuum breaker before the control valve", steamed + `
note Shut, the control valve parts it from the heater.
drop q5
drop TE-10
run q4 V-11.b E-1.s DN25 1/-1
drop q6
part TE-10 tee size=DN25 second_size=DN25
run q3 ST-10.b TE-10.a DN25 face
run q6 TE-10.b V-11.a DN25 face
run q5 TE-10.branch VB-10.a DN25 face
want E-1 steam-set-incomplete "lacks a vacuum breaker"`},
	{"steam-set-incomplete", "an electric heater needs none", heated},
	{"steam-set-incomplete", "nothing drawn", steamed + `
drop SS-1
drop q1
drop CR-10
drop q9
want-not-assessed E-1 steam-set-incomplete "no steam supply is drawn"
want-not-assessed E-1 steam-set-incomplete "no condensate return is drawn"`},

	{"valve-slams", "good", pumped + `
part V-1 butterfly-valve size=DN50 actuation=pneumatic
run r3 F-1.b V-1.a DN50 6/1.62
run r4 V-1.b T-1.return DN50 face
set s1 V-1=open temperature_C=20`},
	{"valve-slams", "bad", pumped + `
note 1 + 5 + 4 + 80 = 90 m; in 53 x 1.5 the wave runs 1268 m/s and is back after 0.142 s, before 0.2 s are over: 2 x 998.2 x 90 x 1.556 / 0.2 = 13.98 bar, on what stands before the valve.
part V-1 butterfly-valve size=DN50 actuation=pneumatic
set P-1 rated_head_m=8
run r3 F-1.b V-1.a DN50 80/1.62
run r4 V-1.b T-1.return DN50 face
set s1 V-1=open temperature_C=20
want V-1 valve-slams "note: when V-1 stops 90 m of liquid at 1.56 m/s, the pressure before it rises by 14 bar to 14 bar, above the 10 bar that is the usual rating"`},
	{"valve-slams", "just at the limit", pumped + `
note 0.15534 bar a metre: 64 m give 9.94 bar, and some 0.02 bar stand before the valve.
part V-1 butterfly-valve size=DN50 actuation=pneumatic
set P-1 rated_head_m=8
run r3 F-1.b V-1.a DN50 54/1.62
run r4 V-1.b T-1.return DN50 face
set s1 V-1=open temperature_C=20`},
	{"valve-slams", "just beyond", pumped + `
note 65 m give 10.1 bar.
part V-1 butterfly-valve size=DN50 actuation=pneumatic
set P-1 rated_head_m=8
run r3 F-1.b V-1.a DN50 55/1.62
run r4 V-1.b T-1.return DN50 face
set s1 V-1=open temperature_C=20
want V-1 valve-slams "10.1 bar"`},
	{"valve-slams", "a part on the column stands less", heated + `
part V-1 butterfly-valve size=DN50 actuation=pneumatic
set P-1 rated_head_m=8
set E-1 rated_pressure_bar=6
run r3 F-1.b V-1.a DN50 40/1.62
run r5 V-1.b T-1.return DN50 face
set s1 V-1=open temperature_C=20
want V-1 valve-slams "above the 6 bar that is what E-1 is rated for"`},
	{"valve-slams", "by hand", pumped + `
part V-1 butterfly-valve size=DN50 actuation=manual
set P-1 rated_head_m=8
run r3 F-1.b V-1.a DN50 80/1.62
run r4 V-1.b T-1.return DN50 face
set s1 V-1=open temperature_C=20`},
	{"valve-slams", "only the faster step", pumped + `
note Half the velocity, half the rise: 7 bar.
part V-1 butterfly-valve size=DN50 actuation=pneumatic
set P-1 rated_head_m=8
run r3 F-1.b V-1.a DN50 80/1.62
run r4 V-1.b T-1.return DN50 face
set s1 V-1=open temperature_C=20 flow_m3h=5.5
step s2 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1 temperature_C=20 V-1=open
want V-1 valve-slams "14 bar"`},

	{"tube-stretches", "good", pumped},
	{"tube-stretches", "bad", pumped + `
note 16 µm/mK x 20 m x 60 K = 19.2 mm.
run r3 F-1.b T-1.return DN50 20/1.62
want r3 tube-stretches "note: .*: 20 m of straight tube grow by 19.2 mm from 20 °C to 80 °C, more than 10 mm"`},
	{"tube-stretches", "just at the limit", pumped + `
note 0.96 mm a metre: 10 mm are 10.417 m.
run r3 F-1.b T-1.return DN50 10.41/1.62`},
	{"tube-stretches", "just beyond", pumped + `
run r3 F-1.b T-1.return DN50 10.42/1.62
want r3 tube-stretches "10 mm"`},
	{"tube-stretches", "a bend takes it up", pumped + `
run r3 F-1.b T-1.return DN50 10/0.1 10/1.52`},
	{"tube-stretches", "cold", pumped + `
run r3 F-1.b T-1.return DN50 20/1.62
set s1 temperature_C=20`},
	{"tube-stretches", "only the hotter step", pumped + `
run r3 F-1.b T-1.return DN50 20/1.62
set s1 temperature_C=20
step s2 final-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1 temperature_C=60
want r3 tube-stretches "12.8 mm"`},
	{"tube-stretches", "unknown", pumped + `
run r3 F-1.b T-1.return DN50 20/1.62
step s1 alkali-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1
want-not-assessed r3 tube-stretches "temperature"`},
}
