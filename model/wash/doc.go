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
// The steel of runs, of vessels on the way and of tanks that tell their wall or their
// insulation warms up with the liquid. Runs lose heat to still air, bare where they tell
// no insulation; vessels do where they tell it. A heater in the way is on in a
// step whose line-up lets steam into it, or that gives a temperature if it is an
// electric one. It brings what comes in to the step's temperature as far as its duty
// and its surface allow.
//
// # Tanks
//
// A tank stands at its told level. It holds what the first step that draws from it
// asks for, at strength, unless a step prepares it; it is as warm as the supply joined
// to it, else as the air, unless it tells its temperature at the start, or
// [Options.Tanks] or [Options.Hot] do. Below its low level nothing is drawn and the step
// ends. A water tank is kept at its level by the supply joined to it, as fast as that
// gives at most.
//
// # When a step is over
//
// All that a step tells must be met at once: its time since the timer started, the
// conductivity and the temperature of the return, the volume sent. What ended it, or
// what was lacking when its longest time was up, stands in [Step.Endings] and in
// [Step.Why]. The conductivity is that at 25 °C, as a meter shows it; it is read at the
// last instrument for it behind what is cleaned, else at the last point, which is then
// an assumption.
//
// # Unknown is not zero
//
// A step that cannot be simulated says why in [Step.Why] and names in [Step.Missing]
// what was never entered; the others go on with what is in the pipes. What is
// assumed is listed with its standing.
package wash
