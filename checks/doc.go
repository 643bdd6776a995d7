// Package checks judges a circuit: what will not get clean, will not drain,
// cannot be proved or could hurt someone.
//
// A [Rule] is a value with a name, its documentation and one function. [Run]
// applies rules to a snapshot of a circuit and gives a [Result]: findings, and
// separately what could not be assessed because a property was never entered.
// Rules share [Fact] values (the plant, its routes, its dead legs ...), each
// computed once, and read their limits from a [Profile], which is data.
//
// The package knows no screen. Computations of what is live under model; this
// package says what ought to be, and on whose word.
//
// To add a rule: write one file rule_NAME.go with one Rule, add it to the list
// in rules.go, name its limits in every profile under assets/profiles, and put
// at least four cases into testdata/NAME.
package checks
