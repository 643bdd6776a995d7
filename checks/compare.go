package checks

// slack is the relative difference within which two computed numbers are the
// same, so that a circuit drawn exactly at a limit passes whatever the rounding
// of the computation.
const slack = 1e-9

// above says whether x is more than limit.
func above(x, limit float64) bool { return x > limit+slack*max(limit, -limit, 1e-6) }

// below says whether x is less than limit.
func below(x, limit float64) bool { return above(-x, -limit) }
