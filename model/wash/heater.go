package wash

import (
	"math"

	"rinsewright/model"
)

// heater is an exchanger that heats in this step.
type heater struct {
	id       model.ID
	set      float64 // °C
	duty     float64 // W, the most it gives; +Inf where only its surface limits it
	ua       float64 // W/K; +Inf where only its duty limits it
	steam    float64 // °C; +Inf for an electric one
	electric bool
	latent   float64 // J/kg of its steam; 0 unknown
	given    float64 // J in this step
}

// warm heats amounts that pass in a time dt in s:
//
//	q = min(C·(t_set − t), C·(1 − exp(−UA/C))·(t_steam − t), duty)
func (h *heater) warm(in []amount, dt float64) {
	total := 0.0
	for i := range in {
		total += in[i].capacity()
	}
	if total <= 1e-9 {
		return
	}
	effect := 1.0
	if !math.IsInf(h.ua, 1) {
		effect = -math.Expm1(-h.ua * dt / total)
	}
	left := h.duty * dt
	for i := range in {
		a := &in[i]
		c := a.capacity()
		if c <= 1e-9 {
			continue
		}
		t := a[heat] / c
		q := c * (h.set - t)
		if !math.IsInf(h.steam, 1) {
			q = min(q, c*effect*(h.steam-t))
		}
		q = min(q, left)
		if q > 0 {
			a[heat] += q
			left -= q
			h.given += q
		}
	}
}
