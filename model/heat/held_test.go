package heat_test

import (
	"errors"
	"math"
	"testing"

	"rinsewright/model/heat"
	. "rinsewright/model/quantity"
	"rinsewright/model/thermal"
)

// A controller holds what leaves the heater at the temperature asked for. Worked by hand:
// 1014 L with C = 4226 kJ/K pumped round at 10 m³/h, 11.6 kW/K, by 200 kW: up to
// 75 − 200/11.6 = 57.8 °C the heater gives all, C·45.8 K/200 kW = 968 s; then the content
// follows as 75 − 17.2·exp(−t·11.6/4226), to half a kelvin short in
// 4226/11.6·ln(17.2/0.5) = 1289 s. With all it gives it would be warm in
// C·63 K/200 kW = 1331 s, and 75 + 17.2 = 92.2 °C leave the heater at the end.
func TestHeldOutlet(t *testing.T) {
	const c, rate = 4226e3, 11.6e3
	can := heat.Capability{Duty: 200e3}
	from, to := Celsius(12), Celsius(75)
	full, err := can.WarmUp(c, rate, from, to, thermal.Loss{})
	if err != nil || math.Abs(float64(full)-1331) > 1 {
		t.Errorf("with all it gives %.0f s, %v", float64(full), err)
	}
	held, err := can.WarmUpHeld(c, rate, from, to, thermal.Loss{})
	if err != nil || math.Abs(float64(held)-(968+1289)) > 3 {
		t.Errorf("held %.0f s, %v", float64(held), err)
	}
	hot, err := can.Hottest(rate, from, to)
	if err != nil || math.Abs(hot.Celsius()-92.2) > 0.1 {
		t.Errorf("leaves at %.1f °C, %v", hot.Celsius(), err)
	}
}

// With steam behind a surface, a duty and a loss: against the midpoint rule on
// C·dT/dt = min(duty, ua·(Ts − T), Ċ·(T_asked − T)) − k·(T − T_air).
func TestHeldOutletOfSteam(t *testing.T) {
	const c, rate, surface, k = 8.4e6, 11600, 12000, 60
	steam, air := Celsius(143.61), Celsius(20)
	ua := rate * (1 - math.Exp(-float64(surface)/rate))
	for _, duty := range []float64{math.Inf(1), 900e3, 300e3} {
		for _, from := range []Temperature{Celsius(12), Celsius(60), Celsius(74)} {
			to := Celsius(75)
			loss := thermal.Loss{Conductance: k, Air: air}
			goal := to - heat.SteadyShort
			const steps = 400000
			want, hottest := 0.0, float64(from)
			for i := range steps {
				T := float64(from) + (float64(i)+0.5)*float64(goal-from)/steps
				all := math.Min(duty, ua*(float64(steam)-T))
				want += c * float64(goal-from) / steps / (math.Min(all, rate*(float64(to)-T)) - k*(T-float64(air)))
			}
			for i := range steps {
				T := float64(from) + float64(i)*float64(to-from)/(steps-1)
				hottest = math.Max(hottest, T+math.Min(duty, ua*(float64(steam)-T))/rate)
			}
			can := heat.Capability{Duty: duty, Surface: surface, Steam: steam}
			got, err := can.WarmUpHeld(c, rate, from, to, loss)
			if err != nil || math.Abs(float64(got)-want) > 1e-4*want {
				t.Errorf("%.0f kW from %.0f °C: %.2f s, want %.2f: %v", duty/1e3, from.Celsius(), float64(got), want, err)
			}
			hot, err := can.Hottest(rate, from, to)
			if err != nil || math.Abs(float64(hot)-hottest) > 1e-3 {
				t.Errorf("%.0f kW from %.0f °C: leaves at %.3f, want %.3f: %v", duty/1e3, from.Celsius(), float64(hot), hottest, err)
			}
		}
	}
	// A loss that holds the content more than half a kelvin below what warms it.
	var bad *heat.NeverError
	if _, err := (heat.Capability{Duty: 200e3}).WarmUpHeld(c, rate, Celsius(12), Celsius(75), thermal.Loss{Conductance: 400, Air: air}); err == nil || errors.As(err, &bad) {
		t.Errorf("a content that never comes there: %v", err)
	}
}
