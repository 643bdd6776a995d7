package checks_test

// soiled is the loop washed with caustic of 1 % at 75 °C; the filler line is told to
// be soiled with starch and made of 1.4404. The table has 0.5 to 2 % at 60 to 85 °C.
const soiled = loop + `
set F-1 soil=starch material=steel-1.4404
set P-1 seal=EPDM
set s1 strength_pct=1 temperature_C=75
`

var casesChemistry = []ruleCase{
	{"strength-out-of-band", "bad", soiled + `
note 5 % is above twice 2 %.
set s1 strength_pct=5
want s1 strength-out-of-band "fix: 5 % of sodium hydroxide in step alkali-wash is above the band of 0.5 % to 2 % for soil starch"`},
	{"strength-out-of-band", "good", soiled},
	{"strength-out-of-band", "just at the upper end", soiled + `
set s1 strength_pct=2`},
	{"strength-out-of-band", "just above", soiled + `
set s1 strength_pct=2.05
want s1 strength-out-of-band "note: 2.05 %.*above the band"`},
	{"strength-out-of-band", "too weak", soiled + `
note 0.2 % is below half of 0.5 %.
set s1 strength_pct=0.2
want s1 strength-out-of-band "fix: .*below the band"`},
	{"strength-out-of-band", "another soil", soiled + `
note Fermenters are washed with 1 to 3 %.
set F-1 soil=yeast-hops
set s1 strength_pct=2.5`},
	{"strength-out-of-band", "soil not told", soiled + `
note Any soil: 0.5 to 2.5 %.
set F-1 soil=
set s1 strength_pct=2.6
want s1 strength-out-of-band "2.6 %.*0.5 % to 2.5 % for any soil"`},
	{"strength-out-of-band", "aluminium", soiled + `
set F-1 material=aluminium
want s1 strength-out-of-band "fix: 1 % of sodium hydroxide in step alkali-wash is more than aluminium of F-1 stands, 0 %: alkali dissolves it"`},
	{"strength-out-of-band", "hypochlorite", soiled + `
note 150 mg/L are 0.015 %.
step s1 disinfection from=T-1 to=T-1 cleans=F-1 flow_m3h=11 chemical=sodium-hypochlorite strength_pct=0.015 temperature_C=15`},
	{"strength-out-of-band", "strength unknown", soiled + `
set s1 strength_pct=
want-not-assessed s1 strength-out-of-band "strength of step"`},
	{"strength-out-of-band", "disinfectant not named", soiled + `
step s1 disinfection from=T-1 to=T-1 cleans=F-1 flow_m3h=11 strength_pct=0.02 temperature_C=20
want-not-assessed s1 strength-out-of-band "chemical of step|agent"`},

	{"temperature-out-of-band", "bad", soiled + `
note 40 °C are 20 K below 60, more than 15 K.
set s1 temperature_C=40
want s1 temperature-out-of-band "fix: sodium hydroxide at 40 °C in step alkali-wash is below the band of 60 °C to 85 °C for soil starch"`},
	{"temperature-out-of-band", "good", soiled},
	{"temperature-out-of-band", "just at the lower end", soiled + `
set s1 temperature_C=60`},
	{"temperature-out-of-band", "just below", soiled + `
set s1 temperature_C=59.5
want s1 temperature-out-of-band "note: .*at 59.5 °C.*below the band"`},
	{"temperature-out-of-band", "hot first rinse", soiled + `
note Starch and protein: 40 °C.
step s1 first-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 temperature_C=45
want s1 temperature-out-of-band "fix: water at 45 °C in step first-rinse is above the band of 0 °C to 40 °C for soil starch"`},
	{"temperature-out-of-band", "first rinse of another soil", soiled + `
set F-1 soil=sugar
step s1 first-rinse from=T-1 to=T-1 cleans=F-1 flow_m3h=11 temperature_C=45`},
	{"temperature-out-of-band", "a warm rinse between is none of it", soiled + `
step s1 rinse-between from=T-1 to=T-1 cleans=F-1 flow_m3h=11 temperature_C=70`},
	{"temperature-out-of-band", "hot water disinfects from 77", soiled + `
step s1 disinfection from=T-1 to=T-1 cleans=F-1 flow_m3h=11 medium=water temperature_C=76
want s1 temperature-out-of-band "note: water at 76 °C in step disinfection is below the band of 77 °C"`},
	{"temperature-out-of-band", "warm hypochlorite on steel", soiled + `
step s1 disinfection from=T-1 to=T-1 cleans=F-1 flow_m3h=11 chemical=sodium-hypochlorite strength_pct=0.015 temperature_C=40
want s1 temperature-out-of-band "fix: sodium hypochlorite at 40 °C in step disinfection is hotter than steel-1.4404 of F-1 stands, 25 °C"`},
	{"temperature-out-of-band", "unknown", soiled + `
set s1 temperature_C=
want-not-assessed s1 temperature-out-of-band "temperature of step"`},

	{"seal-attacked", "bad", soiled + `
note FKM stands 2 % at 60 °C.
set P-1 seal=FKM
want P-1 seal-attacked "fix: the FKM seal of P-1 gets 1 % of sodium hydroxide at 75 °C in step alkali-wash; it stands 2 % at 60 °C"`},
	{"seal-attacked", "good", soiled},
	{"seal-attacked", "just at the limit", soiled + `
set P-1 seal=FKM
set s1 strength_pct=2 temperature_C=60`},
	{"seal-attacked", "just above", soiled + `
set P-1 seal=FKM
set s1 strength_pct=2 temperature_C=60.5
want P-1 seal-attacked "the FKM seal of P-1 gets 2 % of sodium hydroxide at 60.5 °C"`},
	{"seal-attacked", "written small", soiled + `
set P-1 seal=nbr
set s1 temperature_C=85
want P-1 seal-attacked "the nbr seal of P-1"`},
	{"seal-attacked", "another step attacks it", soiled + `
note NBR stands 2 % caustic at 80 °C, but 0.5 % nitric acid at 40 °C only.
set P-1 seal=NBR
step s2 acid-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=11 strength_pct=0.8 temperature_C=60
want P-1 seal-attacked "0.8 % of nitric acid at 60 °C in step acid-wash; it stands 0.5 % at 40 °C"`},
	{"seal-attacked", "phosphoric acid instead", soiled + `
note NBR stands 2 % phosphoric acid at 60 °C.
set P-1 seal=NBR
step s2 acid-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=11 strength_pct=0.8 temperature_C=60 chemical=phosphoric-acid`},
	{"seal-attacked", "hot water", soiled + `
set P-1 seal=NBR
step s2 disinfection from=T-1 to=T-1 cleans=F-1 flow_m3h=11 medium=water temperature_C=98
want P-1 seal-attacked "gets water of 98 °C in step disinfection; it stands 95 °C"`},
	{"seal-attacked", "no liquid comes to it", soiled + `
note V-9 stands behind a shut valve.
part TE-9 tee size=DN50 second_size=DN50
part V-8 butterfly-valve size=DN50 seal=EPDM
part V-9 butterfly-valve size=DN50 seal=FKM
run r2 P-1.b TE-9.a DN50 2/0.2
run r8 TE-9.b F-1.a DN50 3/0.3
run r9 TE-9.branch V-8.a DN50 face
run r10 V-8.b V-9.a DN50 1/0`},
	{"seal-attacked", "not in the table", soiled + `
set P-1 seal=leather
want-not-assessed P-1 seal-attacked "the seal material leather is not in the table"`},
	{"seal-attacked", "unknown", soiled + `
set P-1 seal=
want-not-assessed P-1 seal-attacked "seal material of P-1"`},
	{"seal-attacked", "disinfectant not named", soiled + `
step s2 disinfection from=T-1 to=T-1 cleans=F-1 flow_m3h=11 strength_pct=0.02 temperature_C=20
want-not-assessed s2 seal-attacked "of step disinfection"`},
}
