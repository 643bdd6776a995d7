// Package wash runs a wash programme in time, on the flow that is solved for each
// of its steps: which liquid is where, how warm, how strong; what is used.
//
// It says what happens. Whether that cleans is for the checks to say.
//
// # Transport
//
// The flow of a step is steady. In tubes liquid moves as a plug; neighbours mix by
// [Dispersion]. Vessels, and parts with a hold-up and no length of their own, mix at
// once. A vessel on the way holds a film on its wall and the puddle of the solved
// flow; nothing leaves it until both have formed. Air in drained tubes is pushed out
// at the same rate as liquid; priming of pumps is not followed.
//
// Volumes do not change with temperature (2.4 % from 20 to 75 °C are neglected);
// masses, chemicals and heat are conserved to rounding, and [Record.Balance] tells by
// how much they are not.
//
// # Heat
//
// The steel of runs and of vessels on the way warms up with the liquid. Bare runs
// lose heat to still air; tanks and vessels do not. A heater in the way is on in a
// step whose line-up lets steam into it, or that gives a temperature if it is an
// electric one. It brings what comes in to the step's temperature as far as its duty
// and its surface allow.
//
// # Tanks
//
// A tank stands at its told level. It holds what the first step that draws from it
// asks for, at strength, unless a step prepares it; it is as warm as the supply joined
// to it, else as the air, unless [Options.Hot] or [Options.Tanks] say otherwise.
//
// # Unknown is not zero
//
// A step that cannot be simulated says why in [Step.Why] and names in [Step.Missing]
// what was never entered; the others go on with what is in the pipes. What is
// assumed is listed with its standing.
package wash
