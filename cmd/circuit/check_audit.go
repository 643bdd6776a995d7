package main

import (
	"fmt"
	"io"

	"rinsewright/checks"
	"rinsewright/model"
)

// acceptedWords is what follows the counts; empty where nothing was accepted.
func acceptedWords(r *checks.Result) string {
	if r.Counts.Accepted == 0 {
		return ""
	}
	return fmt.Sprintf(", %d accepted", r.Counts.Accepted)
}

// writeChangedLimits tells which limits the circuit changes, and why.
func writeChangedLimits(w io.Writer, r *checks.Result, opt checkOptions) {
	for _, l := range r.Limits {
		if l.Refused == "" {
			fmt.Fprintf(w, "  limit %s changed from %s to %s: %s (%s, %s)\n",
				l.Name, l.Was.Text(opt.system), l.Is.Text(opt.system), l.Reason, l.By, l.Date)
		}
	}
}

// writeAccepted lists the accepted findings, which do not count.
func writeAccepted(w io.Writer, c *model.Circuit, r *checks.Result, opt checkOptions) {
	if len(r.Accepted) == 0 {
		return
	}
	fmt.Fprintln(w, "  accepted, not counted:")
	for i := range r.Accepted {
		f := &r.Accepted[i]
		writeFinding(w, c, f, f.Severity.String(), opt)
		if opt.brief {
			continue
		}
		a := f.Accepted
		until := "without expiry"
		if a.Expires != "" {
			until = "until " + string(a.Expires)
		}
		reference := ""
		if a.Reference != "" {
			reference = " [" + a.Reference + "]"
		}
		fmt.Fprintf(w, "        accepted by %s on %s, %s: %s%s\n", a.By, a.Date, until, a.Reason, reference)
	}
}
