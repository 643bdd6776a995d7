package checks_test

var casesFlow = []ruleCase{
	{"slow-run", "bad", loop + `
note 11 m³/h in 66 mm: 11 / 3600 / 0.0034212 = 0.893 m/s. DN50 gives 1.556.
set r2 size=DN65
want r2 slow-run "fix: run from P-1 to F-1: 11 m³/h in a bore of 66 mm is 0.893 m/s, slower than 1.5 m/s"`},
	{"slow-run", "good", loop},
	{"slow-run", "just at the limit", loop + `
note 1.5 m/s in 50 mm are 1.5 x 0.00196350 x 3600 = 10.6029 m³/h.
set s1 flow_m3h=10.603`},
	{"slow-run", "just below", loop + `
set s1 flow_m3h=10.602
want r1 slow-run "1.5 m/s"
want r2 slow-run "1.5 m/s"
want r3 slow-run "1.5 m/s"
want F-1 slow-run "widest bore"`},
	{"slow-run", "the slower of two steps counts", loop + `
note 5.3 m³/h: 0.75 m/s; the runs are told once, with both steps.
set s1 flow_m3h=8
step s2 acid-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=5.3 running=P-1
want r1 slow-run "5.3 m³/h in a bore of 50 mm is 0.75 m/s"
want r2 slow-run "0.75 m/s"
want r3 slow-run "0.75 m/s"
want F-1 slow-run "0.75 m/s"`},
	{"slow-run", "wide inside of an object", loop + `
note 11 m³/h in 80 mm: 0.608 m/s.
set F-1 largest_bore_mm=80
want F-1 slow-run "F-1: 11 m³/h in its widest bore of 80 mm is 0.608 m/s"`},
	{"slow-run", "draining may be slow", loop + `
step s1 drain from=T-1 to=T-1 flow_m3h=2`},
	{"slow-run", "unknown", loop + `
set r2 size=
set F-1 largest_bore_mm=
step s2 acid-wash from=T-1 to=T-1 cleans=F-1 running=P-1
want-not-assessed r2 slow-run "tube size"
want-not-assessed F-1 slow-run "of F-1"
want-not-assessed s2 slow-run "flow of step acid-wash"`},

	{"fast-run", "bad", loop + `
note 11 m³/h in 32 mm: 11 / 3600 / 0.00080425 = 3.799 m/s; in DN40 2.69.
set r2 size=DN32
want r2 fast-run "note: run from P-1 to F-1: 11 m³/h in a bore of 32 mm is 3.8 m/s, faster than 3 m/s"`},
	{"fast-run", "good", loop},
	{"fast-run", "just at the limit", loop + `
note 3 m/s in 50 mm are 21.2058 m³/h.
set s1 flow_m3h=21.205`},
	{"fast-run", "just above", loop + `
set s1 flow_m3h=21.207
want r1 fast-run "3 m/s"
want r2 fast-run "3 m/s"
want r3 fast-run "3 m/s"`},
	{"fast-run", "in another step only", loop + `
set r2 size=DN32
set s1 flow_m3h=5
step s2 acid-wash from=T-1 to=T-1 cleans=F-1 flow_m3h=11 running=P-1
want r2 fast-run "3.8 m/s"`},
	{"fast-run", "unknown", loop + `
set r2 size=
want-not-assessed r2 fast-run "tube size"`},

	{"bore-mix", "bad", loop + `
note 50, 66 and 81 mm. 1.5 m/s in 81 mm are 27.83 m³/h; in 50 mm 1.5 x (81/50)² = 3.94 m/s.
set r2 size=DN65
set r3 size=DN80
want F-1 bore-mix "note: the route to F-1 has 3 bores, from 50 mm to 81 mm; 27.8 m³/h that the widest needs for 1.5 m/s run at 3.94 m/s in the narrowest"`},
	{"bore-mix", "one bore", loop},
	{"bore-mix", "two bores are the limit", loop + `
set r2 size=DN65`},
	{"bore-mix", "bores that hardly differ count as one", loop + `
note ASME BPE 2 1/2 in has 60.2 mm, ISO 2037 63.5 has 60.3 mm: with DN50 two bores, not three.
set r2 size=2_1/2in
set r3 size=ISO_2037_63.5`},
	{"bore-mix", "a run that no flow passes does not count", loop + `
part TE-1 tee size=DN50 second_size=DN80
part V-2 butterfly-valve size=DN80
run r2 P-1.b TE-1.a DN65 5/0.5
run r4 TE-1.b F-1.a DN50 face
run r5 TE-1.branch V-2.a DN80 1/0`},
	{"bore-mix", "in another step", loop + `
note In the second step the wide branch is the way.
part TE-1 tee size=DN50 second_size=DN80
part V-2 butterfly-valve size=DN80
part X-1 sewer-drain size=DN80
run r2 P-1.b TE-1.a DN65 5/0.5
run r4 TE-1.b F-1.a DN50 face
run r5 TE-1.branch V-2.a DN80 1/0
run r6 V-2.b X-1.a DN80 1/0
part V-3 butterfly-valve size=DN50
run r4 TE-1.b V-3.a DN50 face
run r7 V-3.b F-1.a DN50 face
set s1 V-3=open
step s2 final-rinse from=T-1 to=X-1 flow_m3h=11 V-2=open
want X-1 bore-mix "3 bores, from 50 mm to 81 mm"`},
	{"bore-mix", "unknown", loop + `
set r2 size=
want-not-assessed F-1 bore-mix "tube size"`},

	{"split-flow", "bad", loop + `
part TE-1 tee size=DN50 second_size=DN50
part TE-2 tee size=DN50 second_size=DN50
part V-2 butterfly-valve size=DN50
run r2 P-1.b TE-1.a DN50 5/0.5
run r4 TE-1.b TE-2.a DN50 20/0
run r5 TE-2.b F-1.a DN50 1/0
run r6 TE-1.branch V-2.a DN50 20/0
run r7 V-2.b TE-2.branch DN50 20/0
set s1 V-2=open
want TE-1 split-flow "fix: the flow divides at TE-1 into 2 open ways; how it divides cannot be told yet"
want-not-assessed TE-1 split-flow "rated head of P-1"`},
	{"split-flow", "shut", loop + `
part TE-1 tee size=DN50 second_size=DN50
part TE-2 tee size=DN50 second_size=DN50
part V-2 butterfly-valve size=DN50
run r2 P-1.b TE-1.a DN50 5/0.5
run r4 TE-1.b TE-2.a DN50 20/0
run r5 TE-2.b F-1.a DN50 1/0
run r6 TE-1.branch V-2.a DN50 20/0
run r7 V-2.b TE-2.branch DN50 20/0`},
	{"split-flow", "a valve whose position nobody told", loop + `
note Open, V-2 would divide the flow; shut, it would not. V-3 stands open in the step, so it is known.
part TE-1 tee size=DN50 second_size=DN50
part TE-2 tee size=DN50 second_size=DN50
part V-2 divert-valve size=DN50
part V-3 butterfly-valve size=DN50
part CA-1 cap size=DN50
run r2 P-1.b TE-1.a DN50 5/0.5
run r4 TE-1.b TE-2.a DN50 20/0
run r5 TE-2.b V-3.a DN50 1/0
run r8 V-3.b F-1.a DN50 1/0
run r6 TE-1.branch V-2.c DN50 20/0
run r7 V-2.a TE-2.branch DN50 20/0
run r9 V-2.b CA-1.a DN50 1/0
set V-2 normal=
set s1 V-3=open
want-not-assessed TE-1 split-flow "normal position of V-2"`},
	{"split-flow", "in one of two steps", loop + `
part TE-1 tee size=DN50 second_size=DN50
part TE-2 tee size=DN50 second_size=DN50
part V-2 butterfly-valve size=DN50
run r2 P-1.b TE-1.a DN50 5/0.5
run r4 TE-1.b TE-2.a DN50 20/0
run r5 TE-2.b F-1.a DN50 1/0
run r6 TE-1.branch V-2.a DN50 20/0
run r7 V-2.b TE-2.branch DN50 20/0
step s2 acid-wash from=T-1 to=T-1 flow_m3h=11 V-2=open
want TE-1 split-flow "2 open ways"
want-not-assessed TE-1 split-flow "strength of step acid-wash"`},
	{"split-flow", "a branch that leads nowhere is no way", branch},
	{"split-flow", "two spray devices of one vessel", sprayed + `
note Meant to work together: a note.
part TE-1 tee size=DN50 second_size=DN50
part S-2 spray-ball size=DN40
run r3 ST-1.b TE-1.a DN50 0.5/0
run r7 TE-1.b S-1.a DN50 0.5/0
run r8 TE-1.branch S-2.a DN50 0.5/0
run r9 S-2.out T-2.spray2 face
want TE-1 split-flow "note: the flow divides at TE-1 into 2 open ways"
want-not-assessed TE-1 split-flow "rated head"`},

	{"undersized-branch", "too narrow", loop + `
note 11 m³/h in 26 mm: 5.755 m/s. In 32 mm 3.80, in 38 mm 2.69: DN40 is the smallest within 3 m/s.
set r2 size=DN25
want r2 undersized-branch "fix: run from P-1 to F-1 is too narrow for F-1: the 11 m³/h that it needs run at 5.76 m/s, the limit is 3 m/s; EN 10357-A DN40 would do"`},
	{"undersized-branch", "good", loop},
	{"undersized-branch", "too wide", loop + `
note 11 m³/h in 66 mm: 0.893 m/s.
set r2 size=DN65
want r2 undersized-branch "too wide for F-1: .* 0.893 m/s, the limit is 1.5 m/s; EN 10357-A DN40 would do"`},
	{"undersized-branch", "just at the limit", loop + `
note 3 m/s in 50 mm are 21.2058 m³/h.
set F-1 needs_flow_m3h=21.205`},
	{"undersized-branch", "just beyond", loop + `
set F-1 needs_flow_m3h=21.207
want r1 undersized-branch "too narrow"
want r2 undersized-branch "too narrow"`},
	{"undersized-branch", "the return is not the branch", loop + `
set r3 size=DN65`},
	{"undersized-branch", "vessel by its circumference", sprayed + `
note 2 m: pi x 2 x 31 L/min = 194.8 L/min = 11.69 m³/h; in 32 mm 4.04 m/s, in 38 mm 2.86.
set T-2 diameter_m=2
set S-1 rated_flow_m3h=
set r3 size=DN32
want r3 undersized-branch "too narrow for T-2: the 11.7 m³/h that it needs run at 4.04 m/s, .* DN40 would do"`},
	{"undersized-branch", "dairy accepts less for a plain vessel", sprayed + `
note 2 m: pi x 2 x 25 L/min = 157.1 L/min = 9.425 m³/h; in 32 mm 3.26 m/s, in 38 mm 2.31. With 31 L/min it were 11.7 m³/h.
profile dairy
set T-2 diameter_m=2 agitated=no
set S-1 rated_flow_m3h=
set r3 size=DN32
want r1 undersized-branch "too wide for T-2: the 9.42 m³/h that it needs run at 1.33 m/s"
want r2 undersized-branch "too wide"
want r3 undersized-branch "too narrow for T-2: the 9.42 m³/h that it needs run at 3.26 m/s, .* DN40 would do"`},
	{"undersized-branch", "dairy with an agitator", sprayed + `
note pi x 2 x 31 L/min = 11.69 m³/h; in 50 mm 1.65 m/s, in 32 mm 4.04.
profile dairy
set T-2 diameter_m=2 agitated=yes
set S-1 rated_flow_m3h=
set r3 size=DN32
want r3 undersized-branch "too narrow for T-2: the 11.7 m³/h"`},
	{"undersized-branch", "food asks the full figure of a plain vessel", sprayed + `
set T-2 diameter_m=2 agitated=no
set S-1 rated_flow_m3h=
set r3 size=DN32
want r3 undersized-branch "too narrow for T-2: the 11.7 m³/h"`},
	{"undersized-branch", "vessel by its spray device", sprayed + `
note The rated 18 m³/h in 50 mm: 2.55 m/s, whatever the circumference.
set T-2 diameter_m=10
set S-1 rated_flow_m3h=18`},
	{"undersized-branch", "a line for two objects", loop + `
note r1 and r2 feed both and are sized for the more demanding; r5 feeds F-2 alone: 4 m³/h in 50 mm, 0.566 m/s.
part TE-1 tee size=DN50 second_size=DN50
part TE-2 tee size=DN50 second_size=DN50
part V-1 butterfly-valve size=DN50
part V-2 butterfly-valve size=DN50
part F-2 filler-line size=DN50 needs_flow_m3h=4
run r2 P-1.b TE-1.a DN50 5/0.5
run r4 TE-1.b V-1.a DN50 1/0
run r6 V-1.b F-1.a DN50 face
run r3 F-1.b TE-2.a DN50 6/1.62
run r7 TE-2.b T-1.return DN50 face
run r5 TE-1.branch V-2.a DN50 3/0
run r8 V-2.b F-2.a DN50 face
run r9 F-2.b TE-2.branch DN50 3/0
set s1 V-1=open
step s2 alkali-wash from=T-1 to=T-1 cleans=F-2 flow_m3h=11 running=P-1 V-2=open
want r5 undersized-branch "too wide for F-2: the 4 m³/h that it needs run at 0.566 m/s"`},
	{"undersized-branch", "unknown", loop + `
set F-1 needs_flow_m3h=
want-not-assessed F-1 undersized-branch "of F-1"`},
}
