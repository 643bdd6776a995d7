package checks_test

// The port P-1.b of the loop is open once run r2 is dropped: the finding
// open-end@p-1:b, of severity fix. Days are far past or far ahead of any on which
// the tests run.
var casesAudit = []ruleCase{
	{"deviation-unmatched", "bad", loop + `
deviation d1 open-end@p-1:b reason=closed_on_site by=A._Reviewer date=2020-01-31
want d1 deviation-unmatched "note: accepted by A. Reviewer on 2020-01-31, but the rule finds nothing there any more"`},
	{"deviation-unmatched", "the part is gone", loop + `
drop r2
deviation d1 open-end@p-9:b reason=closed_on_site by=A._Reviewer date=2020-01-31
want d1 deviation-unmatched "what it was of is not in the circuit"`},
	{"deviation-unmatched", "no such rule", loop + `
deviation d1 open-ends@p-1:b reason=closed_on_site by=A._Reviewer date=2020-01-31
want d1 deviation-unmatched "there is no rule open-ends"`},
	{"deviation-unmatched", "nobody named", loop + `
deviation d1 open-end@p-1:b reason=closed_on_site
want d1 deviation-unmatched "accepted by nobody named on a day not told, but"`},
	{"deviation-unmatched", "an expired one that matches nothing is told once", loop + `
deviation d1 open-end@p-1:b reason=closed_on_site by=A._Reviewer date=2020-01-31 expires=2021-01-31
want d1 deviation-unmatched "finds nothing there"`},
	{"deviation-unmatched", "the audit itself cannot be accepted", loop + `
deviation d1 open-end@p-1:b reason=closed_on_site by=A._Reviewer date=2020-01-31
deviation d2 deviation-unmatched@d1 reason=known by=A._Reviewer date=2020-01-31
want d1 deviation-unmatched "finds nothing there"
want d2 deviation-unmatched "what rule deviation-unmatched finds cannot be accepted"`},
	{"deviation-unmatched", "not assessed is not gone", `
note Whether the drain stands free of the sewer cannot be judged without its air gap.
part X-1 sewer-drain size=DN50
deviation d1 sewer-joined@x-1 reason=gap_seen_on_site by=A._Reviewer date=2020-01-31`},
	{"deviation-unmatched", "good", loop + `
drop r2
deviation d1 open-end@p-1:b reason=closed_on_site by=A._Reviewer date=2020-01-31`},

	{"deviation-expired", "bad", loop + `
drop r2
deviation d1 open-end@p-1:b reason=closed_on_site by=A._Reviewer date=2020-01-31 expires=2021-01-31
want d1 deviation-expired "fix: accepted by A. Reviewer on 2020-01-31, but it expired on 2021-01-31; the finding counts"`},
	{"deviation-expired", "no reason", loop + `
drop r2
deviation d1 open-end@p-1:b by=A._Reviewer date=2020-01-31
want d1 deviation-expired "it lacks a reason;"`},
	{"deviation-expired", "nothing told", loop + `
drop r2
deviation d1 open-end@p-1:b
want d1 deviation-expired "accepted by nobody named on a day not told, but it lacks a reason, a name and a date"`},
	{"deviation-expired", "graver than accepted", loop + `
drop r2
deviation d1 open-end@p-1:b reason=closed_on_site by=A._Reviewer date=2020-01-31 gravest=note
want d1 deviation-expired "it accepts note at most, the finding is now fix"`},
	{"deviation-expired", "in more steps than accepted", loop + `
note An open end does not depend on the step; accepted for one step it is not covered.
drop r2
deviation d1 open-end@p-1:b reason=closed_on_site by=A._Reviewer date=2020-01-31 steps=s1
want d1 deviation-expired "the finding holds in more steps than were accepted"`},
	{"deviation-expired", "good", loop + `
drop r2
deviation d1 open-end@p-1:b reason=closed_on_site by=A._Reviewer date=2020-01-31 expires=2999-12-31 gravest=fix`},
}
